#include "report/demand_report.h"
#include "report/demand_words.h"
#include "say/csv.h"

/* The figures of a set, told in the unit of `quantity`. */
static const struct {
    const char *key;
    enum er_quantity quantity;
    size_t offset; /* in struct er_set_demand */
} columns[] = {
    {"flow_clean", ER_FLOW, offsetof(struct er_set_demand, clean.flow)},
    {"pressure_clean", ER_PRESSURE, offsetof(struct er_set_demand, clean.pressure)},
    {"flow_dirty", ER_FLOW, offsetof(struct er_set_demand, dirty.flow)},
    {"pressure_dirty", ER_PRESSURE, offsetof(struct er_set_demand, dirty.pressure)},
    {"lift", ER_HEAD, offsetof(struct er_set_demand, lift)},
    {"suction_friction", ER_HEAD, offsetof(struct er_set_demand, suction_friction)},
    {"total_head", ER_HEAD, offsetof(struct er_set_demand, head)},
    {"water_power", ER_POWER, offsetof(struct er_set_demand, water_power)},
    {"shaft_power", ER_POWER, offsetof(struct er_set_demand, brake_power)},
    {"own_pressure", ER_PRESSURE, offsetof(struct er_set_demand, own_pressure)},
    {"own_surplus", ER_PRESSURE, offsetof(struct er_set_demand, surplus)},
    {"own_flow_left", ER_FLOW, offsetof(struct er_set_demand, own_flow_left)},
};

#define COLUMN_COUNT (sizeof columns / sizeof columns[0])

static void append_head(struct er_text *out, enum er_system system)
{
    er_text_append(out, "set,zones,reachable");
    for (size_t i = 0; i < COLUMN_COUNT; i++) {
        er_text_appendf(out, ",%s_", columns[i].key);
        er_csv_unit(out, er_unit_name(columns[i].quantity, system));
    }
    er_text_append(out, ",set_by\n");
}

/* A cell with a text made by the caller, who gives it as it stands in `text`; releases it. */
static void append_text(struct er_text *out, struct er_text *text)
{
    er_csv_text(out, false, er_text_string(text));
    out->out_of_memory = out->out_of_memory || text->out_of_memory;
    er_text_release(text);
}

static void append_zones(struct er_text *out, const struct er_field *field, size_t set)
{
    struct er_text names;
    er_text_init(&names);
    for (size_t z = 0; z < field->sets[set].zone_count; z++) {
        er_text_append(&names, z > 0 ? " + " : "");
        er_text_append(&names, field->zones[field->sets[set].zones[z]].name);
    }
    append_text(out, &names);
}

enum er_status er_report_demand_csv(const struct er_demand *demand, enum er_system system,
                                    struct er_text *out)
{
    append_head(out, system);
    for (size_t s = 0; s < demand->field->set_count; s++) {
        const struct er_set_demand *set = &demand->sets[s];
        er_csv_number(out, true, (double)s + 1.0);
        append_zones(out, demand->field, s);
        er_csv_text(out, false, set->reachable ? "yes" : "no");
        for (size_t i = 0; i < COLUMN_COUNT; i++) {
            er_csv_number(
                out, false,
                er_from_si(columns[i].quantity, system, er_csv_figure(set, columns[i].offset)));
        }
        struct er_text place;
        er_text_init(&place);
        if (set->reachable) {
            er_append_place_short(&place, demand->field, &set->dirty.set_by);
        }
        append_text(out, &place);
        er_text_append(out, "\n");
    }
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
