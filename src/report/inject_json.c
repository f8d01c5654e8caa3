#include "report/inject_report.h"
#include "report/inject_words.h"
#include "report/report.h"
#include "say/json.h"

struct builder {
    const struct er_injection *injection;
    const struct er_field *field;
    struct er_json json;
};

/* A figure in SI, and how it is told. */
struct figure {
    const char *key;
    enum er_quantity quantity;
    double value;
};

static void add_figures(struct builder *b, cJSON *object, const struct figure *figures,
                        size_t count)
{
    for (size_t i = 0; i < count; i++) {
        er_json_quantity(&b->json, object, figures[i].key, figures[i].quantity, figures[i].value);
    }
}

#define ADD(object, figures)                                                                       \
    add_figures(b, (object), (figures), sizeof(figures) / sizeof(figures)[0])

static const struct er_json_unit units[] = {{"flow", ER_FLOW},
                                            {"rate", ER_EMITTER_FLOW},
                                            {"mass", ER_MASS},
                                            {"volume", ER_SMALL_VOLUME},
                                            {"strength", ER_DENSITY},
                                            {"concentration", ER_CONCENTRATION},
                                            {"conductivity", ER_CONDUCTIVITY},
                                            {"per_area", ER_MASS_PER_AREA},
                                            {"per_length", ER_MASS_PER_LENGTH},
                                            {"area", ER_AREA},
                                            {"length", ER_LENGTH},
                                            {"time", ER_TIME}};

static void add_product(struct builder *b, cJSON *root)
{
    const struct er_product *product = &b->field->inject->product;
    cJSON *object = er_json_object(&b->json, root, "product");
    er_json_text(&b->json, object, "name", product->name);
    er_json_number(&b->json, object, "percent_of_nutrient", 100.0 * b->injection->share);
    const struct figure figures[] = {
        {"density", ER_DENSITY, product->density},
        {"solubility", ER_DENSITY, product->solubility},
        {"nutrient_in_volume", ER_DENSITY, product->density * b->injection->share},
    };
    ADD(object, figures);
}

static void add_times(struct builder *b, cJSON *parent, const struct er_set_injection *set)
{
    cJSON *object = er_json_object(&b->json, parent, "time");
    const struct figure figures[] = {
        {"travel", ER_TIME, set->travel}, {"fill", ER_TIME, set->fill},
        {"inject", ER_TIME, set->time},   {"flush", ER_TIME, set->flush},
        {"run", ER_TIME, set->run},       {"needed", ER_TIME, set->needed},
        {"start", ER_TIME, set->start},   {"stop", ER_TIME, set->stop},
        {"end", ER_TIME, set->end},
    };
    ADD(object, figures);
}

static void add_set(struct builder *b, cJSON *array, size_t s)
{
    const struct er_set_injection *set = &b->injection->sets[s];
    cJSON *object = er_json_object(&b->json, array, NULL);
    cJSON *zones = er_json_array(&b->json, object, "zones");
    for (size_t z = 0; z < b->field->sets[s].zone_count; z++) {
        er_json_text(&b->json, zones, NULL, b->field->zones[b->field->sets[s].zones[z]].name);
    }
    const struct figure figures[] = {
        {"flow", ER_FLOW, set->flow},
        {"nutrient", ER_MASS, set->nutrient},
        {"product", ER_MASS, set->product},
        {"product_volume", ER_SMALL_VOLUME, set->product_volume},
        {"concentration", ER_CONCENTRATION, set->concentration},
        {"conductivity", ER_CONDUCTIVITY, set->conductivity},
    };
    ADD(object, figures);
    cJSON *stock = er_json_object(&b->json, object, "stock");
    const struct figure stock_figures[] = {
        {"volume", ER_SMALL_VOLUME, set->stock.volume},
        {"strength", ER_DENSITY, set->stock.strength},
        {"rate", ER_EMITTER_FLOW, set->stock.flow},
    };
    ADD(stock, stock_figures);
    er_json_number(&b->json, stock, "ratio", set->stock.ratio);
    add_times(b, object, set);
}

/* What goes into all sets together. */
static void add_total(struct builder *b, cJSON *root)
{
    double nutrient = 0.0, product = 0.0;
    for (size_t s = 0; s < b->field->set_count; s++) {
        const struct er_set_injection *set = &b->injection->sets[s];
        nutrient += set->nutrient > 0.0 ? set->nutrient : 0.0;
        product += set->nutrient > 0.0 ? set->product : 0.0;
    }
    cJSON *object = er_json_object(&b->json, root, "total");
    const struct figure figures[] = {
        {"nutrient", ER_MASS, nutrient},
        {"product", ER_MASS, product},
        {"product_volume", ER_SMALL_VOLUME, product / b->field->inject->product.density},
    };
    ADD(object, figures);
}

static void add_zone(struct builder *b, cJSON *array, size_t z)
{
    const struct er_zone_injection *zone = &b->injection->zones[z];
    const struct er_zone_result *checked = &b->injection->checked.zones[z];
    const struct er_travel *travel = &zone->travel;
    cJSON *object = er_json_object(&b->json, array, NULL);
    er_json_text(&b->json, object, "name", b->field->zones[z].name);
    er_json_number(&b->json, object, "set", (double)zone->set + 1.0);
    const struct figure figures[] = {
        {"bed_length", ER_LENGTH, checked->bed_length},
        {"area", ER_AREA, checked->area},
        {"wanted", ER_MASS, zone->wanted},
        {"gets", ER_MASS, zone->given},
        {"gets_per_area", ER_MASS_PER_AREA, zone->given / checked->area},
        {"gets_per_length", ER_MASS_PER_LENGTH, zone->given / checked->bed_length},
        {"product", ER_MASS, zone->product},
    };
    ADD(object, figures);
    er_json_number(&b->json, object, "bed_length_per_area",
                   er_from_si(ER_LENGTH, b->json.system, checked->bed_length) /
                       er_from_si(ER_AREA, b->json.system, checked->area));
    cJSON *times = er_json_object(&b->json, object, "travel");
    const struct figure time_figures[] = {
        {"first_emitter", ER_TIME, travel->earliest},
        {"last_emitter", ER_TIME, travel->latest},
        {"mainline", ER_TIME, travel->mainline},
        {"header", ER_TIME, travel->header},
        {"tape", ER_TIME, travel->tape},
    };
    ADD(times, time_figures);
    er_json_number(&b->json, times, "last_bed",
                   er_given(travel->latest) ? (double)travel->bed + 1.0 : ER_NONE);
    er_json_number(&b->json, times, "rows", travel->rows);
    er_json_number(&b->json, times, "dry_rows", travel->dry_rows);
}

static void add_finding(struct builder *b, cJSON *array, const struct er_inject_finding *finding)
{
    struct er_text text;
    er_text_init(&text);
    er_append_inject_finding(&text, b->injection, b->json.system, finding);
    cJSON *object = er_json_object(&b->json, array, NULL);
    er_json_text(&b->json, object, "code", er_inject_code_name(finding->code));
    er_json_text(&b->json, object, "level", er_inject_fails(finding->code) ? "fail" : "caution");
    er_json_text(&b->json, object, "text", er_text_string(&text));
    b->json.failed = b->json.failed || text.out_of_memory;
    er_text_release(&text);
}

enum er_status er_report_inject_json(const struct er_injection *injection, enum er_system system,
                                     struct er_text *out)
{
    struct builder builder = {injection, injection->field, {.system = system}};
    struct builder *b = &builder;
    cJSON *root = er_json_root(&b->json, b->field->title);
    er_json_bool(&b->json, root, "goes", !injection->fails);
    er_json_text(&b->json, root, "check_verdict", er_verdict_name(injection->checked.verdict));
    er_json_units(&b->json, er_json_object(&b->json, root, "units"), units,
                  sizeof units / sizeof units[0]);
    er_json_text(&b->json, root, "nutrient", er_nutrient_name(b->field->inject->nutrient));
    add_product(b, root);
    cJSON *sets = er_json_array(&b->json, root, "sets");
    for (size_t s = 0; s < b->field->set_count; s++) {
        add_set(b, sets, s);
    }
    add_total(b, root);
    cJSON *zones = er_json_array(&b->json, root, "zones");
    for (size_t z = 0; z < b->field->zone_count; z++) {
        add_zone(b, zones, z);
    }
    cJSON *findings = er_json_array(&b->json, root, "findings");
    for (size_t f = 0; f < injection->finding_count; f++) {
        add_finding(b, findings, &injection->findings[f]);
    }
    return er_json_end(&b->json, root, out);
}
