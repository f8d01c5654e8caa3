#include "report/inject_report.h"
#include "report/inject_words.h"
#include "say/csv.h"

/* A figure of a zone or of its set, told in the unit of `quantity`. */
struct column {
    const char *key;
    enum er_quantity quantity;
    size_t offset;
};

#define ZONE(member) offsetof(struct er_zone_injection, member)
#define SET(member) offsetof(struct er_set_injection, member)

static const struct column zone_columns[] = {
    {"wanted", ER_MASS, ZONE(wanted)},
    {"gets", ER_MASS, ZONE(given)},
    {"product", ER_MASS, ZONE(product)},
    {"first_emitter", ER_TIME, ZONE(travel.earliest)},
    {"last_emitter", ER_TIME, ZONE(travel.latest)},
};

static const struct column set_columns[] = {
    {"set_flow", ER_FLOW, SET(flow)},
    {"set_product", ER_MASS, SET(product)},
    {"set_product", ER_SMALL_VOLUME, SET(product_volume)},
    {"stock", ER_SMALL_VOLUME, SET(stock.volume)},
    {"strength", ER_DENSITY, SET(stock.strength)},
    {"injection_rate", ER_EMITTER_FLOW, SET(stock.flow)},
    {"concentration", ER_CONCENTRATION, SET(concentration)},
    {"conductivity", ER_CONDUCTIVITY, SET(conductivity)},
    {"filled", ER_TIME, SET(fill)},
    {"start", ER_TIME, SET(start)},
    {"stop", ER_TIME, SET(stop)},
    {"end", ER_TIME, SET(end)},
    {"run", ER_TIME, SET(run)},
    {"needed", ER_TIME, SET(needed)},
};

#define COUNT(columns) (sizeof(columns) / sizeof(columns)[0])

static void append_heads(struct er_text *out, enum er_system system, const struct column *columns,
                         size_t count)
{
    for (size_t i = 0; i < count; i++) {
        er_text_appendf(out, ",%s_", columns[i].key);
        er_csv_unit(out, er_unit_name(columns[i].quantity, system));
    }
}

static void append_figures(struct er_text *out, enum er_system system, const struct column *columns,
                           size_t count, const void *of)
{
    for (size_t i = 0; i < count; i++) {
        double figure = er_csv_figure(of, columns[i].offset);
        er_csv_number(out, false, er_from_si(columns[i].quantity, system, figure));
    }
}

enum er_status er_report_inject_csv(const struct er_injection *injection, enum er_system system,
                                    struct er_text *out)
{
    const struct er_field *field = injection->field;
    er_text_append(out, "zone,set");
    append_heads(out, system, zone_columns, COUNT(zone_columns));
    append_heads(out, system, set_columns, COUNT(set_columns));
    er_text_append(out, ",ratio\n");
    for (size_t z = 0; z < field->zone_count; z++) {
        const struct er_zone_injection *zone = &injection->zones[z];
        const struct er_set_injection *set = &injection->sets[zone->set];
        er_csv_text(out, true, field->zones[z].name);
        er_csv_number(out, false, (double)zone->set + 1.0);
        append_figures(out, system, zone_columns, COUNT(zone_columns), zone);
        append_figures(out, system, set_columns, COUNT(set_columns), set);
        er_csv_number(out, false, set->stock.ratio);
        er_text_append(out, "\n");
    }
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
