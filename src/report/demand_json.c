#include "report/demand_report.h"
#include "report/demand_words.h"
#include "report/json_build.h"
#include "report/report.h"

struct builder {
    const struct er_demand *demand;
    const struct er_field *field;
    enum er_system system;
    bool failed; /* memory ran out */
};

static void add_quantity(struct builder *b, cJSON *object, const char *key,
                         enum er_quantity quantity, double value)
{
    er_build_number(object, key, er_from_si(quantity, b->system, value), &b->failed);
}

static cJSON *add_array(struct builder *b, cJSON *parent, const char *key)
{
    return er_build_add(parent, key, cJSON_CreateArray(), &b->failed);
}

static cJSON *add_object(struct builder *b, cJSON *parent, const char *key)
{
    return er_build_add(parent, key, cJSON_CreateObject(), &b->failed);
}

static void add_null(struct builder *b, cJSON *parent, const char *key)
{
    er_build_add(parent, key, cJSON_CreateNull(), &b->failed);
}

static void add_bool(struct builder *b, cJSON *parent, const char *key, bool value)
{
    er_build_add(parent, key, cJSON_CreateBool(value), &b->failed);
}

static void add_units(struct builder *b, cJSON *root)
{
    static const struct {
        const char *key;
        enum er_quantity quantity;
    } units[] = {
        {"pressure", ER_PRESSURE}, {"flow", ER_FLOW}, {"head", ER_HEAD}, {"power", ER_POWER}};
    cJSON *object = add_object(b, root, "units");
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        er_build_string(object, units[i].key, er_unit_name(units[i].quantity, b->system),
                        &b->failed);
    }
}

/* What was asked for. */
static void add_request(struct builder *b, cJSON *root)
{
    cJSON *object = add_object(b, root, "wanted");
    add_quantity(b, object, "inlet_pressure", ER_PRESSURE, b->demand->request.inlet_pressure);
    er_build_number(object, "efficiency", 100.0 * b->demand->request.efficiency, &b->failed);
}

/* The source that -o writes. */
static void add_source(struct builder *b, cJSON *root)
{
    if (!b->demand->reachable) {
        add_null(b, root, "source");
        return;
    }
    cJSON *object = add_object(b, root, "source");
    add_quantity(b, object, "pressure", ER_PRESSURE, b->demand->proposed->source.pressure);
    add_quantity(b, object, "flow_limit", ER_FLOW, b->demand->proposed->source.flow_limit);
}

static void add_governs(struct builder *b, cJSON *root)
{
    const struct er_demand *demand = b->demand;
    if (!demand->reachable) {
        add_null(b, root, "governs");
        return;
    }
    cJSON *object = add_object(b, root, "governs");
    er_build_number(object, "pressure", (double)demand->pressure_set + 1.0, &b->failed);
    er_build_number(object, "flow", (double)demand->flow_set + 1.0, &b->failed);
    er_build_number(object, "power", (double)demand->power_set + 1.0, &b->failed);
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
        add_null(b, parent, key);
        return;
    }
    bool headworks = place->kind == ER_DEMAND_HEADWORKS;
    cJSON *object = add_object(b, parent, key);
    er_build_string(object, "kind", er_demand_kind_name(place->kind), &b->failed);
    er_build_string(object, "part", headworks ? b->field->headworks[place->part].name : NULL,
                    &b->failed);
    er_build_string(object, "zone", headworks ? NULL : b->field->zones[place->zone].name,
                    &b->failed);
    er_build_number(object, "bed", is_on_a_bed(place) ? (double)place->bed + 1.0 : ER_NONE,
                    &b->failed);
}

static void add_duty(struct builder *b, cJSON *set, const char *key, const struct er_duty *duty)
{
    cJSON *object = add_object(b, set, key);
    add_quantity(b, object, "flow", ER_FLOW, duty->flow);
    add_quantity(b, object, "pressure", ER_PRESSURE, duty->pressure);
    add_place(b, object, "set_by", &duty->set_by);
}

static void add_set(struct builder *b, cJSON *array, size_t s)
{
    const struct er_set_demand *set = &b->demand->sets[s];
    cJSON *object = add_object(b, array, NULL);
    cJSON *zones = add_array(b, object, "zones");
    for (size_t z = 0; z < b->field->sets[s].zone_count; z++) {
        er_build_string(zones, NULL, b->field->zones[b->field->sets[s].zones[z]].name, &b->failed);
    }
    add_bool(b, object, "reachable", set->reachable);
    add_duty(b, object, "clean", &set->clean);
    add_duty(b, object, "dirty", &set->dirty);
    cJSON *head = add_object(b, object, "head");
    add_quantity(b, head, "pressure", ER_HEAD, set->dirty.pressure);
    add_quantity(b, head, "lift", ER_HEAD, set->lift);
    add_quantity(b, head, "suction_friction", ER_HEAD, set->suction_friction);
    add_quantity(b, head, "total", ER_HEAD, set->head);
    cJSON *power = add_object(b, object, "power");
    add_quantity(b, power, "water", ER_POWER, set->water_power);
    add_quantity(b, power, "shaft", ER_POWER, set->brake_power);
    cJSON *own = add_object(b, object, "own_source");
    add_quantity(b, own, "pressure", ER_PRESSURE, set->own_pressure);
    add_quantity(b, own, "surplus", ER_PRESSURE, set->surplus);
    add_quantity(b, own, "flow_left", ER_FLOW, set->own_flow_left);
    add_bool(b, own, "measured", !set->beyond_curve);
}

static void add_suction(struct builder *b, cJSON *root)
{
    const struct er_suction_result *suction = &b->demand->suction;
    if (!suction->judged) {
        add_null(b, root, "suction");
        return;
    }
    cJSON *object = add_object(b, root, "suction");
    add_quantity(b, object, "flow", ER_FLOW, suction->flow);
    add_quantity(b, object, "lift", ER_HEAD, suction->height + suction->friction);
    add_quantity(b, object, "practical_lift", ER_HEAD, suction->practical_lift);
    add_quantity(b, object, "npsh_available", ER_HEAD, suction->npsh_available);
    add_quantity(b, object, "npsh_required", ER_HEAD, b->field->source.suction.npsh_required);
}

static void add_obstacle(struct builder *b, cJSON *array, const struct er_obstacle *obstacle)
{
    struct er_text text;
    er_text_init(&text);
    er_append_obstacle(&text, b->demand, b->system, obstacle);
    cJSON *object = add_object(b, array, NULL);
    er_build_number(object, "set", (double)obstacle->set + 1.0, &b->failed);
    add_place(b, object, "at", &obstacle->at);
    add_bool(b, object, "dirty", obstacle->dirty);
    add_quantity(b, object, "wanted", ER_PRESSURE, obstacle->wanted);
    add_quantity(b, object, "pressure", ER_PRESSURE, obstacle->pressure);
    add_place(b, object, "by", &obstacle->by);
    add_quantity(b, object, "holds", ER_PRESSURE, obstacle->holds);
    add_quantity(b, object, "rise", ER_PRESSURE, obstacle->rise);
    add_quantity(b, object, "friction", ER_PRESSURE, obstacle->friction);
    add_quantity(b, object, "needed_hold", ER_PRESSURE, obstacle->needed_hold);
    er_build_string(object, "text", er_text_string(&text), &b->failed);
    b->failed = b->failed || text.out_of_memory;
    er_text_release(&text);
}

/* The verdict on the plan with the source that -o writes, and its findings. */
static void add_checked(struct builder *b, cJSON *root)
{
    const struct er_result *checked = &b->demand->checked;
    er_build_string(root, "verdict",
                    b->demand->reachable ? er_verdict_name(checked->verdict) : NULL, &b->failed);
    er_build_findings(root, checked, &b->failed);
}

enum er_status er_report_demand_json(const struct er_demand *demand, enum er_system system,
                                     struct er_text *out)
{
    struct builder b = {demand, demand->field, system, false};
    cJSON *root = cJSON_CreateObject();
    if (root == NULL) {
        return ER_NO_MEMORY;
    }
    er_build_string(root, "evenrow", EVENROW_VERSION, &b.failed);
    er_build_string(root, "title", b.field->title, &b.failed);
    add_bool(&b, root, "reachable", demand->reachable);
    add_units(&b, root);
    add_request(&b, root);
    add_source(&b, root);
    add_governs(&b, root);
    cJSON *sets = add_array(&b, root, "sets");
    for (size_t s = 0; s < b.field->set_count; s++) {
        add_set(&b, sets, s);
    }
    add_suction(&b, root);
    cJSON *obstacles = add_array(&b, root, "obstacles");
    for (size_t o = 0; o < demand->obstacle_count; o++) {
        add_obstacle(&b, obstacles, &demand->obstacles[o]);
    }
    add_checked(&b, root);
    if (!b.failed) {
        er_build_write(root, out);
    }
    cJSON_Delete(root);
    return b.failed || out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
