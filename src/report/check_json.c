#include <stdbool.h>
#include <string.h>

#include "report/figures.h"
#include "report/json_build.h"
#include "report/report.h"

/* What every part of the report is built from. */
struct builder {
    const struct er_result *result;
    enum er_system system;
    bool failed; /* memory ran out */
};

static void add_quantity(struct builder *b, cJSON *object, const char *key,
                         enum er_quantity quantity, double value)
{
    er_build_number(object, key, er_from_si(quantity, b->system, value), &b->failed);
}

static cJSON *add_object(struct builder *b, cJSON *parent, const char *key)
{
    return er_build_add(parent, key, cJSON_CreateObject(), &b->failed);
}

static cJSON *add_array(struct builder *b, cJSON *parent, const char *key)
{
    return er_build_add(parent, key, cJSON_CreateArray(), &b->failed);
}

static void add_units(struct builder *b, cJSON *root)
{
    static const struct {
        const char *key;
        enum er_quantity quantity;
    } units[] = {{"length", ER_LENGTH},
                 {"pressure", ER_PRESSURE},
                 {"flow", ER_FLOW},
                 {"emitter_flow", ER_EMITTER_FLOW},
                 {"depth", ER_DEPTH},
                 {"volume", ER_VOLUME},
                 {"volume_per_length", ER_VOLUME_PER_LENGTH},
                 {"velocity", ER_VELOCITY},
                 {"area", ER_AREA}};
    cJSON *object = add_object(b, root, "units");
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        er_build_string(object, units[i].key, er_unit_name(units[i].quantity, b->system),
                        &b->failed);
    }
}

static void add_sets(struct builder *b, cJSON *root)
{
    const struct er_field *field = b->result->field;
    cJSON *array = add_array(b, root, "sets");
    for (size_t s = 0; s < field->set_count; s++) {
        const struct er_set_result *set = &b->result->sets[s];
        cJSON *object = add_object(b, array, NULL);
        cJSON *zones = add_array(b, object, "zones");
        for (size_t i = 0; i < field->sets[s].zone_count; i++) {
            er_build_string(zones, NULL, field->zones[field->sets[s].zones[i]].name, &b->failed);
        }
        add_quantity(b, object, "flow", ER_FLOW, set->flow);
        add_quantity(b, object, "source_pressure", ER_PRESSURE, set->source_pressure);
        add_quantity(b, object, "hours", ER_TIME, set->run_time);
    }
}

static void add_zone(struct builder *b, cJSON *array, size_t z)
{
    const struct er_zone_result *zone = &b->result->zones[z];
    cJSON *object = add_object(b, array, NULL);
    er_build_string(object, "name", b->result->field->zones[z].name, &b->failed);
    er_build_number(object, "set", (double)zone->set + 1.0, &b->failed);

    size_t count;
    const struct er_figure *figures = er_figures(&count);
    cJSON *parts = NULL;
    for (size_t i = 0; i < count; i++) {
        double value = er_figure_value(&figures[i], zone, b->system);
        if (figures[i].part == NULL) {
            er_build_number(object, figures[i].key, value, &b->failed);
            continue;
        }
        if (figures[i - 1].part == NULL || strcmp(figures[i - 1].key, figures[i].key) != 0) {
            parts = add_object(b, object, figures[i].key);
        }
        er_build_number(parts, figures[i].part, value, &b->failed);
    }
}

static void add_mainline(struct builder *b, cJSON *root)
{
    const struct er_field *field = b->result->field;
    cJSON *array = add_array(b, root, "mainline");
    for (size_t i = 0; i < field->section_count; i++) {
        const struct er_section_result *section = &b->result->sections[i];
        cJSON *object = add_object(b, array, NULL);
        er_build_string(object, "name", field->mainline[i].name, &b->failed);
        add_quantity(b, object, "flow", ER_FLOW, section->flow);
        add_quantity(b, object, "velocity", ER_VELOCITY, section->velocity);
        add_quantity(b, object, "end_pressure", ER_PRESSURE, section->end_pressure);
    }
}

static void add_day(struct builder *b, cJSON *root)
{
    const struct er_day_result *day = &b->result->day;
    cJSON *object = add_object(b, root, "day");
    add_quantity(b, object, "hours_needed", ER_TIME, day->hours_needed);
    add_quantity(b, object, "hours_available", ER_TIME, day->hours_available);
    add_quantity(b, object, "volume", ER_VOLUME, day->volume);
    er_build_number(object, "days_of_supply", day->days_of_supply, &b->failed);
}

static void add_assumed(struct builder *b, cJSON *root)
{
    cJSON *array = add_array(b, root, "assumed");
    for (size_t i = 0; i < b->result->assumption_count; i++) {
        const struct er_assumption *assumption = &b->result->assumptions[i];
        bool plain = assumption->quantity == ER_QUANTITY_COUNT;
        const char *unit = plain || assumption->unit != NULL
                               ? assumption->unit
                               : er_unit_name(assumption->quantity, b->system);
        cJSON *object = add_object(b, array, NULL);
        er_build_string(object, "path", assumption->pointer, &b->failed);
        er_build_number(object, "value",
                        plain ? assumption->value
                              : er_from_si(assumption->quantity, b->system, assumption->value),
                        &b->failed);
        er_build_string(object, "unit", unit != NULL && unit[0] != '\0' ? unit : NULL, &b->failed);
        er_build_string(object, "text", assumption->text, &b->failed);
    }
}

enum er_status er_report_check_json(const struct er_result *result, enum er_system system,
                                    struct er_text *out)
{
    struct builder b = {result, system, false};
    cJSON *root = cJSON_CreateObject();
    if (root == NULL) {
        return ER_NO_MEMORY;
    }
    er_build_string(root, "evenrow", EVENROW_VERSION, &b.failed);
    er_build_string(root, "title", result->field->title, &b.failed);
    er_build_string(root, "verdict", er_verdict_name(result->verdict), &b.failed);
    add_units(&b, root);
    add_sets(&b, root);
    cJSON *zones = add_array(&b, root, "zones");
    for (size_t z = 0; z < result->field->zone_count; z++) {
        add_zone(&b, zones, z);
    }
    add_mainline(&b, root);
    add_day(&b, root);
    add_assumed(&b, root);
    er_build_findings(root, result, &b.failed);
    if (!b.failed) {
        er_build_write(root, out);
    }
    cJSON_Delete(root);
    return b.failed || out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
