#include <stdbool.h>
#include <string.h>

#include "report/figures.h"
#include "report/report.h"
#include "say/json.h"

/* What every part of the report is built from. */
struct builder {
    const struct er_result *result;
    struct er_json json;
};

static const struct er_json_unit units[] = {{"length", ER_LENGTH},
                                            {"pressure", ER_PRESSURE},
                                            {"flow", ER_FLOW},
                                            {"emitter_flow", ER_EMITTER_FLOW},
                                            {"depth", ER_DEPTH},
                                            {"volume", ER_VOLUME},
                                            {"volume_per_length", ER_VOLUME_PER_LENGTH},
                                            {"velocity", ER_VELOCITY},
                                            {"area", ER_AREA}};

static void add_units(struct builder *b, cJSON *root)
{
    er_json_units(&b->json, er_json_object(&b->json, root, "units"), units,
                  sizeof units / sizeof units[0]);
}

static void add_sets(struct builder *b, cJSON *root)
{
    const struct er_field *field = b->result->field;
    cJSON *array = er_json_array(&b->json, root, "sets");
    for (size_t s = 0; s < field->set_count; s++) {
        const struct er_set_result *set = &b->result->sets[s];
        cJSON *object = er_json_object(&b->json, array, NULL);
        cJSON *zones = er_json_array(&b->json, object, "zones");
        for (size_t i = 0; i < field->sets[s].zone_count; i++) {
            er_json_text(&b->json, zones, NULL, field->zones[field->sets[s].zones[i]].name);
        }
        er_json_quantity(&b->json, object, "flow", ER_FLOW, set->flow);
        er_json_quantity(&b->json, object, "source_pressure", ER_PRESSURE, set->source_pressure);
        er_json_quantity(&b->json, object, "headworks_pressure", ER_PRESSURE, set->after_headworks);
        er_json_quantity(&b->json, object, "source_limit", ER_FLOW, set->source_limit);
        er_json_quantity(&b->json, object, "hours", ER_TIME, set->run_time);
    }
}

static void add_zone(struct builder *b, cJSON *array, size_t z)
{
    const struct er_zone_result *zone = &b->result->zones[z];
    cJSON *object = er_json_object(&b->json, array, NULL);
    er_json_text(&b->json, object, "name", b->result->field->zones[z].name);
    er_json_number(&b->json, object, "set", (double)zone->set + 1.0);

    size_t count;
    const struct er_figure *figures = er_figures(&count);
    cJSON *parts = NULL;
    for (size_t i = 0; i < count; i++) {
        double value = er_figure_value(&figures[i], zone, b->json.system);
        if (figures[i].part == NULL) {
            er_json_number(&b->json, object, figures[i].key, value);
            continue;
        }
        if (figures[i - 1].part == NULL || strcmp(figures[i - 1].key, figures[i].key) != 0) {
            parts = er_json_object(&b->json, object, figures[i].key);
        }
        er_json_number(&b->json, parts, figures[i].part, value);
    }
}

static void add_mainline(struct builder *b, cJSON *root)
{
    const struct er_field *field = b->result->field;
    cJSON *array = er_json_array(&b->json, root, "mainline");
    for (size_t i = 0; i < field->section_count; i++) {
        const struct er_section_result *section = &b->result->sections[i];
        cJSON *object = er_json_object(&b->json, array, NULL);
        er_json_text(&b->json, object, "name", field->mainline[i].name);
        er_json_quantity(&b->json, object, "flow", ER_FLOW, section->flow);
        er_json_quantity(&b->json, object, "velocity", ER_VELOCITY, section->velocity);
        er_json_quantity(&b->json, object, "end_pressure", ER_PRESSURE, section->end_pressure);
    }
}

static void add_suction(struct builder *b, cJSON *root)
{
    const struct er_suction_result *suction = &b->result->suction;
    if (!suction->judged) {
        er_json_null(&b->json, root, "suction");
        return;
    }
    cJSON *object = er_json_object(&b->json, root, "suction");
    er_json_quantity(&b->json, object, "lift", ER_HEAD, suction->height);
    er_json_quantity(&b->json, object, "friction", ER_HEAD, suction->friction);
    er_json_quantity(&b->json, object, "npsh_available", ER_HEAD, suction->npsh_available);
    er_json_quantity(&b->json, object, "npsh_required", ER_HEAD,
                     b->result->field->source.suction.npsh_required);
}

static void add_day(struct builder *b, cJSON *root)
{
    const struct er_day_result *day = &b->result->day;
    cJSON *object = er_json_object(&b->json, root, "day");
    er_json_quantity(&b->json, object, "hours_needed", ER_TIME, day->hours_needed);
    er_json_quantity(&b->json, object, "hours_available", ER_TIME, day->hours_available);
    er_json_quantity(&b->json, object, "volume", ER_VOLUME, day->volume);
    er_json_number(&b->json, object, "days_of_supply", day->days_of_supply);
}

static void add_assumed(struct builder *b, cJSON *root)
{
    cJSON *array = er_json_array(&b->json, root, "assumed");
    for (size_t i = 0; i < b->result->assumption_count; i++) {
        const struct er_assumption *assumption = &b->result->assumptions[i];
        bool plain = assumption->quantity == ER_QUANTITY_COUNT;
        const char *unit = plain || assumption->unit != NULL
                               ? assumption->unit
                               : er_unit_name(assumption->quantity, b->json.system);
        cJSON *object = er_json_object(&b->json, array, NULL);
        er_json_text(&b->json, object, "path", assumption->pointer);
        er_json_number(&b->json, object, "value",
                       plain ? assumption->value
                             : er_from_si(assumption->quantity, b->json.system, assumption->value));
        er_json_text(&b->json, object, "unit", unit != NULL && unit[0] != '\0' ? unit : NULL);
        er_json_text(&b->json, object, "text", assumption->text);
    }
}

enum er_status er_report_check_json(const struct er_result *result, enum er_system system,
                                    struct er_text *out)
{
    struct builder b = {.result = result, .json = {.system = system}};
    cJSON *root = er_json_root(&b.json, result->field->title);
    er_json_text(&b.json, root, "verdict", er_verdict_name(result->verdict));
    add_units(&b, root);
    add_sets(&b, root);
    cJSON *zones = er_json_array(&b.json, root, "zones");
    for (size_t z = 0; z < result->field->zone_count; z++) {
        add_zone(&b, zones, z);
    }
    add_mainline(&b, root);
    add_suction(&b, root);
    add_day(&b, root);
    add_assumed(&b, root);
    er_json_findings(&b.json, root, result);
    return er_json_end(&b.json, root, out);
}
