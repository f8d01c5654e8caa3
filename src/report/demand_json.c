#include "report/demand_report.h"
#include "report/demand_words.h"
#include "report/report.h"
#include "say/json.h"

struct builder {
    const struct er_demand *demand;
    const struct er_field *field;
    struct er_json json;
};

static const struct er_json_unit units[] = {
    {"pressure", ER_PRESSURE}, {"flow", ER_FLOW}, {"head", ER_HEAD}, {"power", ER_POWER}};

static void add_units(struct builder *b, cJSON *root)
{
    er_json_units(&b->json, er_json_object(&b->json, root, "units"), units,
                  sizeof units / sizeof units[0]);
}

/* What was asked for. */
static void add_request(struct builder *b, cJSON *root)
{
    cJSON *object = er_json_object(&b->json, root, "wanted");
    er_json_quantity(&b->json, object, "inlet_pressure", ER_PRESSURE,
                     b->demand->request.inlet_pressure);
    er_json_number(&b->json, object, "efficiency", 100.0 * b->demand->request.efficiency);
}

/* The source that -o writes. */
static void add_source(struct builder *b, cJSON *root)
{
    if (!b->demand->reachable) {
        er_json_null(&b->json, root, "source");
        return;
    }
    cJSON *object = er_json_object(&b->json, root, "source");
    er_json_quantity(&b->json, object, "pressure", ER_PRESSURE,
                     b->demand->proposed->source.pressure);
    er_json_quantity(&b->json, object, "flow_limit", ER_FLOW,
                     b->demand->proposed->source.flow_limit);
}

static void add_governs(struct builder *b, cJSON *root)
{
    const struct er_demand *demand = b->demand;
    if (!demand->reachable) {
        er_json_null(&b->json, root, "governs");
        return;
    }
    cJSON *object = er_json_object(&b->json, root, "governs");
    er_json_number(&b->json, object, "pressure", (double)demand->pressure_set + 1.0);
    er_json_number(&b->json, object, "flow", (double)demand->flow_set + 1.0);
    er_json_number(&b->json, object, "power", (double)demand->power_set + 1.0);
}

static bool is_on_a_bed(const struct er_demand_place *place)
{
    return place->kind == ER_DEMAND_INLET || place->kind == ER_DEMAND_CONNECTOR;
}

/* A place, or null for none. */
static void add_place(struct builder *b, cJSON *parent, const char *key,
                      const struct er_demand_place *place)
{
    if (place->kind == ER_DEMAND_NOWHERE) {
        er_json_null(&b->json, parent, key);
        return;
    }
    bool headworks = place->kind == ER_DEMAND_HEADWORKS;
    cJSON *object = er_json_object(&b->json, parent, key);
    er_json_text(&b->json, object, "kind", er_demand_kind_name(place->kind));
    er_json_text(&b->json, object, "part",
                 headworks ? b->field->headworks[place->part].name : NULL);
    er_json_text(&b->json, object, "zone", headworks ? NULL : b->field->zones[place->zone].name);
    er_json_number(&b->json, object, "bed",
                   is_on_a_bed(place) ? (double)place->bed + 1.0 : ER_NONE);
}

static void add_duty(struct builder *b, cJSON *set, const char *key, const struct er_duty *duty)
{
    cJSON *object = er_json_object(&b->json, set, key);
    er_json_quantity(&b->json, object, "flow", ER_FLOW, duty->flow);
    er_json_quantity(&b->json, object, "pressure", ER_PRESSURE, duty->pressure);
    add_place(b, object, "set_by", &duty->set_by);
}

static void add_set(struct builder *b, cJSON *array, size_t s)
{
    const struct er_set_demand *set = &b->demand->sets[s];
    cJSON *object = er_json_object(&b->json, array, NULL);
    cJSON *zones = er_json_array(&b->json, object, "zones");
    for (size_t z = 0; z < b->field->sets[s].zone_count; z++) {
        er_json_text(&b->json, zones, NULL, b->field->zones[b->field->sets[s].zones[z]].name);
    }
    er_json_bool(&b->json, object, "reachable", set->reachable);
    add_duty(b, object, "clean", &set->clean);
    add_duty(b, object, "dirty", &set->dirty);
    cJSON *head = er_json_object(&b->json, object, "head");
    er_json_quantity(&b->json, head, "pressure", ER_HEAD, set->dirty.pressure);
    er_json_quantity(&b->json, head, "lift", ER_HEAD, set->lift);
    er_json_quantity(&b->json, head, "suction_friction", ER_HEAD, set->suction_friction);
    er_json_quantity(&b->json, head, "total", ER_HEAD, set->head);
    cJSON *power = er_json_object(&b->json, object, "power");
    er_json_quantity(&b->json, power, "water", ER_POWER, set->water_power);
    er_json_quantity(&b->json, power, "shaft", ER_POWER, set->brake_power);
    cJSON *own = er_json_object(&b->json, object, "own_source");
    er_json_quantity(&b->json, own, "pressure", ER_PRESSURE, set->own_pressure);
    er_json_quantity(&b->json, own, "surplus", ER_PRESSURE, set->surplus);
    er_json_quantity(&b->json, own, "flow_left", ER_FLOW, set->own_flow_left);
    er_json_bool(&b->json, own, "measured", !set->beyond_curve);
}

static void add_suction(struct builder *b, cJSON *root)
{
    const struct er_suction_result *suction = &b->demand->suction;
    if (!suction->judged) {
        er_json_null(&b->json, root, "suction");
        return;
    }
    cJSON *object = er_json_object(&b->json, root, "suction");
    er_json_quantity(&b->json, object, "flow", ER_FLOW, suction->flow);
    er_json_quantity(&b->json, object, "lift", ER_HEAD, suction->height);
    er_json_quantity(&b->json, object, "friction", ER_HEAD, suction->friction);
    er_json_quantity(&b->json, object, "practical_lift", ER_HEAD, suction->practical_lift);
    er_json_quantity(&b->json, object, "npsh_available", ER_HEAD, suction->npsh_available);
    er_json_quantity(&b->json, object, "npsh_required", ER_HEAD,
                     b->field->source.suction.npsh_required);
}

static void add_obstacle(struct builder *b, cJSON *array, const struct er_obstacle *obstacle)
{
    struct er_text text;
    er_text_init(&text);
    er_append_obstacle(&text, b->demand, b->json.system, obstacle);
    cJSON *object = er_json_object(&b->json, array, NULL);
    er_json_number(&b->json, object, "set", (double)obstacle->set + 1.0);
    add_place(b, object, "at", &obstacle->at);
    er_json_bool(&b->json, object, "dirty", obstacle->dirty);
    er_json_quantity(&b->json, object, "wanted", ER_PRESSURE, obstacle->wanted);
    er_json_quantity(&b->json, object, "pressure", ER_PRESSURE, obstacle->pressure);
    add_place(b, object, "by", &obstacle->by);
    er_json_quantity(&b->json, object, "holds", ER_PRESSURE, obstacle->holds);
    er_json_quantity(&b->json, object, "rise", ER_PRESSURE, obstacle->rise);
    er_json_quantity(&b->json, object, "friction", ER_PRESSURE, obstacle->friction);
    er_json_quantity(&b->json, object, "needed_hold", ER_PRESSURE, obstacle->needed_hold);
    er_json_text(&b->json, object, "text", er_text_string(&text));
    b->json.failed = b->json.failed || text.out_of_memory;
    er_text_release(&text);
}

/* The verdict on the plan with the source that -o writes, and its findings. */
static void add_checked(struct builder *b, cJSON *root)
{
    const struct er_result *checked = &b->demand->checked;
    er_json_text(&b->json, root, "verdict",
                 b->demand->reachable ? er_verdict_name(checked->verdict) : NULL);
    er_json_findings(&b->json, root, checked);
}

enum er_status er_report_demand_json(const struct er_demand *demand, enum er_system system,
                                     struct er_text *out)
{
    struct builder b = {.demand = demand, .field = demand->field, .json = {.system = system}};
    cJSON *root = er_json_root(&b.json, b.field->title);
    er_json_bool(&b.json, root, "reachable", demand->reachable);
    add_units(&b, root);
    add_request(&b, root);
    add_source(&b, root);
    add_governs(&b, root);
    cJSON *sets = er_json_array(&b.json, root, "sets");
    for (size_t s = 0; s < b.field->set_count; s++) {
        add_set(&b, sets, s);
    }
    add_suction(&b, root);
    cJSON *obstacles = er_json_array(&b.json, root, "obstacles");
    for (size_t o = 0; o < demand->obstacle_count; o++) {
        add_obstacle(&b, obstacles, &demand->obstacles[o]);
    }
    add_checked(&b, root);
    return er_json_end(&b.json, root, out);
}
