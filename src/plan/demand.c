/* What a plan asks of its source: each set's duty, its power, and a source that would do. */
#include "evenrow/demand.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "check/figures.h"
#include "plan/demand_search.h"

#define SAME 1e-9    /* relative: a figure that is no larger than that does not count as larger */
#define DIGITS 1e-10 /* relative: what rounding up lets pass, a tenth of what a check does */

struct finding {
    struct er_demand *demand;
    struct er_failure *failure;
    struct er_demand_obstacle *obstacles;
    size_t set;
    bool dirty;
};

double er_water_power(double flow, double head)
{
    return ER_WATER_DENSITY * ER_GRAVITY * flow * fmax(0.0, head);
}

double er_rounded_up(enum er_quantity quantity, enum er_system system, double value)
{
    double told = er_from_si(quantity, system, value);
    if (!(told > 0.0)) {
        return value;
    }
    /* Steps to the unit are whole numbers, so that 41.5 is told as 41.5. */
    double steps = pow(10.0, fmax(1.0, 2.0 - floor(log10(told))));
    return er_to_si(quantity, system, ceil(told * steps * (1.0 - DIGITS)) / steps);
}

static enum er_status take_obstacle(void *context, const struct er_demand_search *search,
                                    const struct er_margin *margin)
{
    struct finding *finding = context;
    struct er_demand_obstacle *obstacle = &finding->obstacles[finding->demand->obstacle_count++];
    enum er_status status = er_demand_obstacle_describe(search, margin, obstacle);
    obstacle->set = finding->set;
    obstacle->dirty = finding->dirty;
    return status;
}

static void fail_at(struct finding *finding, const struct er_network *network, size_t set)
{
    *finding->failure = network->failure;
    snprintf(finding->failure->what, sizeof finding->failure->what, "set %zu", set + 1);
}

/* The duties with clean filters and, where some get dirty, with filters due for cleaning. */
static enum er_status find_duties(struct finding *finding, size_t set)
{
    struct er_demand *demand = finding->demand;
    struct er_set_demand *at = &demand->sets[set];
    struct er_demand_search search;
    const struct er_set *plan = &demand->field->sets[set];
    bool gets_dirty = er_set_gets_dirty(demand->field, plan);
    finding->set = set;
    finding->dirty = false;
    enum er_status status =
        er_demand_search_open(&search, demand->field, plan, demand->request.inlet_pressure);
    if (status == ER_OK) {
        status = er_demand_search_run(&search, false, take_obstacle, finding, &at->clean);
    }
    at->dirty = at->clean;
    if (status == ER_OK && gets_dirty && er_given(at->clean.pressure)) {
        finding->dirty = true;
        status = er_demand_search_run(&search, true, take_obstacle, finding, &at->dirty);
    }
    if (status == ER_NOT_CLOSED) {
        fail_at(finding, &search.network, set);
    }
    at->reachable = er_given(at->dirty.pressure);
    demand->reachable = demand->reachable && at->reachable;
    demand->gets_dirty = demand->gets_dirty || gets_dirty;
    er_demand_search_close(&search);
    return status;
}

/* Head and power of a duty, and how the field's own source compares. NAN where it has none. */
static void figure_set(const struct er_demand *demand, struct er_set_demand *at)
{
    const struct er_source *source = &demand->field->source;
    const struct er_duty *duty = &at->dirty;
    double slope;
    at->lift = at->suction_friction = ER_NONE;
    at->head = duty->pressure;
    if (source->kind == ER_SOURCE_PUMP && at->reachable) {
        at->lift = source->lift;
        at->suction_friction = er_suction_friction(&source->suction, duty->flow, &slope);
        at->head += at->lift + at->suction_friction;
    }
    at->water_power = at->reachable ? er_water_power(duty->flow, at->head) : ER_NONE;
    at->brake_power = at->water_power / demand->request.efficiency;
    at->own_pressure = at->reachable ? er_source_pressure(source, duty->flow, &slope) : ER_NONE;
    at->surplus = at->own_pressure - duty->pressure;
    at->own_flow_left = source->flow_limit - duty->flow;
    at->beyond_curve = duty->flow > er_source_last_flow(source) * (1.0 + SAME) ||
                       duty->flow < er_source_first_flow(source) * (1.0 - SAME);
}

static bool is_more(double value, double most) { return value > most + SAME * fabs(most); }

static void find_governing(struct er_demand *demand)
{
    const struct er_set_demand *sets = demand->sets;
    for (size_t s = 1; s < demand->field->set_count; s++) {
        if (is_more(sets[s].dirty.pressure, sets[demand->pressure_set].dirty.pressure)) {
            demand->pressure_set = s;
        }
        if (is_more(sets[s].dirty.flow, sets[demand->flow_set].dirty.flow)) {
            demand->flow_set = s;
        }
        if (is_more(sets[s].brake_power, sets[demand->power_set].brake_power)) {
            demand->power_set = s;
        }
    }
    if (demand->field->source.suction.given) {
        er_work_out_suction(&demand->field->source.suction, sets[demand->flow_set].dirty.flow,
                            &demand->suction);
    }
}

/* The most that any set of the proposed field draws, its filters clean. */
static enum er_status find_largest_flow(struct finding *finding, double *largest)
{
    const struct er_field *field = finding->demand->proposed;
    enum er_status status = ER_OK;
    *largest = 0.0;
    for (size_t s = 0; status == ER_OK && s < field->set_count; s++) {
        struct er_network network;
        status = er_network_open(field, &field->sets[s], NULL, &network);
        if (status == ER_OK) {
            status = er_network_solve(&network, false);
        }
        if (status == ER_NOT_CLOSED) {
            fail_at(finding, &network, s);
        }
        *largest = fmax(*largest, network.flow);
        er_network_release(&network);
    }
    return status;
}

static enum er_status propose(struct finding *finding)
{
    struct er_demand *demand = finding->demand;
    const struct er_field *field = demand->field;
    double pressure = demand->sets[demand->pressure_set].dirty.pressure;
    struct er_field *proposed = er_arena_array(&demand->arena, 1, sizeof *proposed);
    if (!proposed) {
        return ER_NO_MEMORY;
    }
    *proposed = *field;
    proposed->arena = (struct er_arena){NULL};
    proposed->source =
        (struct er_source){.kind = ER_SOURCE_PRESSURE,
                           .pressure = er_rounded_up(ER_PRESSURE, field->system, pressure),
                           .shutoff = ER_NONE,
                           .flow_limit = ER_NONE,
                           .storage = field->source.storage,
                           .refill = field->source.refill};
    demand->proposed = proposed;
    double largest;
    enum er_status status = find_largest_flow(finding, &largest);
    if (status != ER_OK) {
        return status;
    }
    proposed->source.flow_limit = er_rounded_up(ER_FLOW, field->system, largest);
    return er_check(proposed, demand->speaks, &demand->checked, finding->failure);
}

static enum er_status find_demand(struct finding *finding)
{
    struct er_demand *demand = finding->demand;
    const struct er_field *field = demand->field;
    demand->sets = er_arena_array(&demand->arena, field->set_count, sizeof *demand->sets);
    /* Every zone is in one set, the headworks are in all. */
    size_t room = er_place_count(field) + field->set_count * field->headworks_count;
    finding->obstacles = er_arena_array(&demand->arena, room, sizeof *finding->obstacles);
    demand->obstacles = finding->obstacles;
    if (!demand->sets || !finding->obstacles) {
        return ER_NO_MEMORY;
    }
    for (size_t s = 0; s < field->set_count; s++) {
        enum er_status status = find_duties(finding, s);
        if (status != ER_OK) {
            return status;
        }
        figure_set(demand, &demand->sets[s]);
    }
    if (!demand->reachable) {
        return ER_OK;
    }
    find_governing(demand);
    return propose(finding);
}

enum er_status er_demand_find(const struct er_field *field, const struct er_demand_request *request,
                              enum er_system speaks, struct er_demand *demand,
                              struct er_failure *failure)
{
    memset(demand, 0, sizeof *demand);
    memset(failure, 0, sizeof *failure);
    demand->field = field;
    demand->request = *request;
    demand->speaks = speaks;
    demand->reachable = true;
    struct finding finding = {.demand = demand, .failure = failure};
    enum er_status status = find_demand(&finding);
    if (status != ER_OK) {
        er_demand_release(demand);
    }
    return status;
}

void er_demand_release(struct er_demand *demand)
{
    er_result_release(&demand->checked);
    er_arena_release(&demand->arena);
    memset(demand, 0, sizeof *demand);
}
