/* What a plan asks of its source, for programs. */
#include "names/names.h"
#include "report/report.h"
#include "report/supply/report.h"
#include "report/supply/words.h"
#include "say/record.h"

static const struct er_json_unit units[] = {
    {"pressure", ER_PRESSURE}, {"flow", ER_FLOW}, {"head", ER_HEAD}, {"power", ER_POWER}};

static const char *kind_of(struct er_teller *teller, const void *at)
{
    (void)teller;
    return er_demand_kind_name(((const struct er_demand_place *)at)->kind);
}

static const char *part_of(struct er_teller *teller, const void *at)
{
    const struct er_demand *demand = teller->result;
    const struct er_demand_place *place = at;
    return place->kind == ER_DEMAND_HEADWORKS ? demand->field->headworks[place->part].name : NULL;
}

static const char *zone_of(struct er_teller *teller, const void *at)
{
    const struct er_demand *demand = teller->result;
    const struct er_demand_place *place = at;
    return place->kind == ER_DEMAND_HEADWORKS ? NULL : demand->field->zones[place->zone].name;
}

static void add_bed(struct er_teller *teller, cJSON *parent, const char *key, const void *at)
{
    const struct er_demand_place *place = at;
    er_json_number(&teller->json, parent, key,
                   er_demand_on_a_bed(place) ? (double)place->bed + 1.0 : ER_NONE);
}

static const struct er_member place_members[] = {{"kind", ER_IS_WORDS, .words = kind_of},
                                                 {"part", ER_IS_WORDS, .words = part_of},
                                                 {"zone", ER_IS_WORDS, .words = zone_of},
                                                 ER_MADE_MEMBER("bed", add_bed),
                                                 ER_END_OF_MEMBERS};

static void add_place(struct er_teller *teller, cJSON *parent, const char *key, const void *at)
{
    const struct er_demand_place *place = at;
    er_tell_record(teller, parent, key, place_members,
                   place->kind == ER_DEMAND_NOWHERE ? NULL : place);
}

static void add_zones(struct er_teller *teller, cJSON *parent, const char *key, const void *at)
{
    const struct er_demand *result = teller->result;
    er_json_zone_names(&teller->json, parent, key, result->field,
                       (size_t)((const struct er_set_demand *)at - result->sets));
}

#define QUANTITY(name, unit, type, member) ER_QUANTITY_MEMBER(name, unit, struct type, member)
#define OF_SET(name, unit, member) QUANTITY(name, unit, er_set_demand, member)

static const struct er_member duty_members[] = {
    QUANTITY("flow", ER_FLOW, er_duty, flow),
    QUANTITY("pressure", ER_PRESSURE, er_duty, pressure),
    {"set_by", ER_IS_MADE, .offset = offsetof(struct er_duty, set_by), .make = add_place},
    ER_END_OF_MEMBERS};
static const struct er_member head_members[] = {
    OF_SET("pressure", ER_HEAD, dirty.pressure), OF_SET("lift", ER_HEAD, lift),
    OF_SET("suction_friction", ER_HEAD, suction_friction), OF_SET("total", ER_HEAD, head),
    ER_END_OF_MEMBERS};
static const struct er_member power_members[] = {OF_SET("water", ER_POWER, water_power),
                                                 OF_SET("shaft", ER_POWER, brake_power),
                                                 ER_END_OF_MEMBERS};
static const struct er_member own_members[] = {
    OF_SET("pressure", ER_PRESSURE, own_pressure), OF_SET("surplus", ER_PRESSURE, surplus),
    OF_SET("flow_left", ER_FLOW, own_flow_left),
    ER_MEMBER("measured", ER_IS_FALSE, struct er_set_demand, beyond_curve), ER_END_OF_MEMBERS};
static const struct er_member set_members[] = {
    ER_MADE_MEMBER("zones", add_zones),
    ER_MEMBER("reachable", ER_IS_TRUE, struct er_set_demand, reachable),
    {"clean", ER_IS_RECORD, .offset = offsetof(struct er_set_demand, clean),
     .members = duty_members},
    {"dirty", ER_IS_RECORD, .offset = offsetof(struct er_set_demand, dirty),
     .members = duty_members},
    ER_RECORD_MEMBER("head", head_members),
    ER_RECORD_MEMBER("power", power_members),
    ER_RECORD_MEMBER("own_source", own_members),
    ER_END_OF_MEMBERS};

static const char *obstacle_text(struct er_teller *teller, const void *at)
{
    return er_demand_obstacle_words(&teller->pen, teller->result, at);
}

#define OF_OBSTACLE(name, member) QUANTITY(name, ER_PRESSURE, er_demand_obstacle, member)

static const struct er_member obstacle_members[] = {
    ER_MEMBER("set", ER_IS_PLACE, struct er_demand_obstacle, set),
    {"at", ER_IS_MADE, .offset = offsetof(struct er_demand_obstacle, at), .make = add_place},
    ER_MEMBER("dirty", ER_IS_TRUE, struct er_demand_obstacle, dirty),
    OF_OBSTACLE("wanted", wanted),
    OF_OBSTACLE("pressure", pressure),
    {"by", ER_IS_MADE, .offset = offsetof(struct er_demand_obstacle, by), .make = add_place},
    OF_OBSTACLE("holds", holds),
    OF_OBSTACLE("rise", rise),
    OF_OBSTACLE("friction", friction),
    OF_OBSTACLE("needed_hold", needed_hold),
    {"text", ER_IS_WORDS, .words = obstacle_text},
    ER_END_OF_MEMBERS};

static const struct er_member wanted_members[] = {
    QUANTITY("inlet_pressure", ER_PRESSURE, er_demand, request.inlet_pressure),
    ER_MEMBER("efficiency", ER_IS_PERCENT, struct er_demand, request.efficiency),
    ER_END_OF_MEMBERS};
static const struct er_member source_members[] = {
    QUANTITY("pressure", ER_PRESSURE, er_source, pressure),
    QUANTITY("flow_limit", ER_FLOW, er_source, flow_limit), ER_END_OF_MEMBERS};
static const struct er_member governs_members[] = {
    ER_MEMBER("pressure", ER_IS_PLACE, struct er_demand, pressure_set),
    ER_MEMBER("flow", ER_IS_PLACE, struct er_demand, flow_set),
    ER_MEMBER("power", ER_IS_PLACE, struct er_demand, power_set), ER_END_OF_MEMBERS};

static void add_required(struct er_teller *teller, cJSON *parent, const char *key, const void *at)
{
    (void)at;
    const struct er_demand *demand = teller->result;
    er_json_quantity(&teller->json, parent, key, ER_HEAD,
                     demand->field->source.suction.npsh_required);
}

static const struct er_member suction_members[] = {
    QUANTITY("flow", ER_FLOW, er_suction_result, flow),
    QUANTITY("lift", ER_HEAD, er_suction_result, height),
    QUANTITY("friction", ER_HEAD, er_suction_result, friction),
    QUANTITY("practical_lift", ER_HEAD, er_suction_result, practical_lift),
    QUANTITY("npsh_available", ER_HEAD, er_suction_result, npsh_available),
    ER_MADE_MEMBER("npsh_required", add_required),
    ER_END_OF_MEMBERS};

static void write_json(struct er_teller *t, cJSON *root)
{
    const struct er_demand *demand = t->result;
    bool reached = demand->reachable;
    er_json_text(&t->json, root, "title", demand->field->title);
    er_json_bool(&t->json, root, "reachable", reached);
    er_json_units(&t->json, root, ER_ALL(units));
    er_tell_record(t, root, "wanted", wanted_members, demand);
    er_tell_record(t, root, "source", source_members, reached ? &demand->proposed->source : NULL);
    er_tell_record(t, root, "governs", governs_members, reached ? demand : NULL);
    er_tell_list(t, root, "sets", set_members, demand->sets, demand->field->set_count,
                 sizeof *demand->sets);
    er_tell_record(t, root, "suction", suction_members,
                   demand->suction.judged ? &demand->suction : NULL);
    er_tell_list(t, root, "obstacles", obstacle_members, demand->obstacles, demand->obstacle_count,
                 sizeof *demand->obstacles);
    er_json_text(&t->json, root, "verdict",
                 reached ? er_verdict_name(demand->checked.verdict) : NULL);
    er_json_findings(&t->json, root, &demand->checked);
}

static const char *set_number(struct er_teller *teller, const void *at)
{
    const struct er_demand *demand = teller->result;
    return er_pen_text(&teller->pen, "%td", (const struct er_set_demand *)at - demand->sets + 1);
}

static const char *set_zones(struct er_teller *teller, const void *at)
{
    const struct er_demand *demand = teller->result;
    return er_zone_names(&teller->pen, demand->field,
                         (size_t)((const struct er_set_demand *)at - demand->sets));
}

static const char *set_by(struct er_teller *teller, const void *at)
{
    const struct er_demand *demand = teller->result;
    const struct er_set_demand *set = at;
    return set->reachable ? er_place_short(&teller->pen, demand->field, &set->dirty.set_by) : "";
}

static const struct er_member columns[] = {
    {"set", ER_IS_WORDS, .words = set_number},
    {"zones", ER_IS_WORDS, .words = set_zones},
    ER_MEMBER("reachable", ER_IS_TRUE, struct er_set_demand, reachable),
    OF_SET("flow_clean", ER_FLOW, clean.flow),
    OF_SET("pressure_clean", ER_PRESSURE, clean.pressure),
    OF_SET("flow_dirty", ER_FLOW, dirty.flow),
    OF_SET("pressure_dirty", ER_PRESSURE, dirty.pressure),
    OF_SET("lift", ER_HEAD, lift),
    OF_SET("suction_friction", ER_HEAD, suction_friction),
    OF_SET("total_head", ER_HEAD, head),
    OF_SET("water_power", ER_POWER, water_power),
    OF_SET("shaft_power", ER_POWER, brake_power),
    OF_SET("own_pressure", ER_PRESSURE, own_pressure),
    OF_SET("own_surplus", ER_PRESSURE, surplus),
    OF_SET("own_flow_left", ER_FLOW, own_flow_left),
    {"set_by", ER_IS_WORDS, .words = set_by},
    ER_END_OF_MEMBERS};

static void write_csv(struct er_teller *t, struct er_text *out)
{
    const struct er_demand *demand = t->result;
    er_tell_csv(t, columns, demand->sets, demand->field->set_count, sizeof *demand->sets, out);
}

const struct er_report er_demand_report = {
    .page = er_demand_page, .json = write_json, .csv = write_csv};
