/* Water and pressure are neither made nor lost: what a set takes in comes out of its emitters,
 * and between two places the pressure falls by friction and rise and what parts take, and by
 * nothing else. The pressures and the emitters' flows are the program's; friction, elevations,
 * the places along header and tape and every sum of flows are worked out here once more. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <cmocka.h>

#include "laws.h"
#include "places.h"

enum { MOST_EMITTERS = 64 }; /* on one tape, twice what random fields have */

/* Hazen-Williams in SI (from memory; the published tests hold it against a printed table). */
static double friction(double flow, double length, const struct er_pipe *pipe)
{
    return 10.67 * length * pow(flow / pipe->c, 1.852) / pow(pipe->inside_diameter, 4.8704);
}

/* Above the ground's start. */
static double elevation(const struct er_ground *ground, double at)
{
    if (ground->count == 0) {
        return ground->slope * at;
    }
    const struct er_point *end = ground->points + 1;
    while (end < ground->points + ground->count - 1 && at > end->at) {
        end++;
    }
    const struct er_point *start = end - 1;
    double slope = (end->value - start->value) / (end->at - start->at);
    return end->value + slope * (at - end->at) - ground->points[0].value;
}

static double after_part(const struct er_part *part, double pressure, double flow)
{
    double share = isnan(part->at_flow) ? 1 : flow / part->at_flow;
    double left = pressure - part->loss * share * share;
    return isnan(part->holds) ? left : fmin(left, part->holds);
}

/* One tape as the program tells it, and the sums of what its emitters give. */
struct tape {
    size_t count;
    double pressure[MOST_EMITTERS], flow[MOST_EMITTERS];
};

static void take_emitter(void *context, size_t emitter, double pressure, double flow)
{
    struct tape *tape = context;
    assert_true(emitter < MOST_EMITTERS);
    tape->count = emitter >= tape->count ? emitter + 1 : tape->count;
    tape->pressure[emitter] = pressure;
    tape->flow[emitter] = flow;
}

static struct tape visit_tape(const struct er_network *network, const struct er_outlet *outlet)
{
    struct tape tape = {0};
    law_visit_tape(network, outlet, take_emitter, &tape);
    return tape;
}

static double tape_flow(const struct er_network *network, const struct er_outlet *outlet)
{
    struct tape tape = visit_tape(network, outlet);
    double sum = 0;
    for (size_t i = 0; i < tape.count; i++) {
        sum += tape.flow[i];
    }
    return sum;
}

static double node_flow(const struct er_network *network, const struct er_zone_network *zone,
                        const struct er_node *node)
{
    double sum = 0;
    for (size_t o = node->first_outlet; o < node->first_outlet + node->outlet_count; o++) {
        sum += (double)zone->outlets[o].group->tapes * tape_flow(network, &zone->outlets[o]);
    }
    return sum;
}

static double arm_flow(const struct er_network *network, const struct er_zone_network *zone,
                       const struct er_arm *arm, size_t from)
{
    double sum = 0;
    for (size_t n = from; n < arm->node_count; n++) {
        sum += node_flow(network, zone, &arm->nodes[n]);
    }
    return sum;
}

static double zone_flow(const struct er_network *network, const struct er_zone_network *zone)
{
    return arm_flow(network, zone, &zone->arms[0], 0) + arm_flow(network, zone, &zone->arms[1], 0);
}

/* Length of the outlet's tape: from the group's first bed evenly to its last. */
static double tape_length(const struct er_outlet *outlet, size_t index)
{
    const struct er_bed_group *group = outlet->group;
    double taper = group->last_length / group->length;
    double along = group->count > 1 ? (double)index / (double)(group->count - 1) : 0;
    return (outlet->second_side ? group->other_length : group->length) * (1 + (taper - 1) * along);
}

static void walk_tape(struct law *law, const struct er_network *network,
                      const struct er_outlet *outlet, size_t index)
{
    const struct er_tape *of = outlet->group->tape;
    const struct er_ground *ground =
        outlet->second_side ? &outlet->group->other_ground : &outlet->group->ground;
    const struct er_pipe pipe = {.inside_diameter = of->inside_diameter, .c = of->c};
    struct tape tape = visit_tape(network, outlet);
    double pressure = outlet->inlet_pressure, at = 0, flow = tape_flow(network, outlet);
    double emitters = floor(tape_length(outlet, index) / of->emitter_spacing + 1e-9);
    law_true(law, "emitters of a tape", (double)tape.count == emitters);
    for (size_t i = 0; i < tape.count; i++) {
        double next = ((double)i + 0.5) * of->emitter_spacing;
        pressure -= friction(fmax(flow, 0), next - at + of->emitter_loss, &pipe);
        pressure -= elevation(ground, next) - elevation(ground, at);
        law_same(law, "pressure at an emitter", tape.pressure[i], pressure, LEAST_PRESSURE);
        pressure = tape.pressure[i];
        flow = i + 1 < tape.count ? flow - tape.flow[i] : 0;
        at = next;
    }
}

/* Friction between two distances from the feed point, piece by piece. */
static double header_friction(const struct er_header *header, double from, double to, double flow)
{
    double loss = 0, start = 0;
    for (size_t p = 0; p < header->piece_count; p++) {
        bool last = p + 1 == header->piece_count;
        double end = last ? ER_ENDLESS : start + header->pieces[p].length;
        double length = fmin(to, end) - fmax(from, start);
        loss += length > 0 ? friction(flow, length, header->pieces[p].pipe) : 0;
        start = end;
    }
    return loss;
}

static void walk_arm(struct law *law, const struct er_network *network,
                     const struct er_zone_network *zone, const struct er_arm *arm)
{
    const struct er_header *header = &zone->zone->header;
    double feed = feed_place(zone->zone), at = feed, pressure = zone->inlet_pressure;
    for (size_t n = 0; n < arm->node_count; n++) {
        const struct er_node *node = &arm->nodes[n];
        struct bed_place bed = place_of_bed(zone->zone, zone->outlets[node->first_outlet].bed);
        double flow = arm_flow(network, zone, arm, n);
        pressure -= header_friction(header, fabs(at - feed), fabs(bed.at - feed), flow);
        pressure -= elevation(&header->ground, bed.at) - elevation(&header->ground, at);
        law_same(law, "pressure in the header", node->pressure, pressure, LEAST_PRESSURE);
        pressure = node->pressure;
        at = bed.at;
        for (size_t o = node->first_outlet; o < node->first_outlet + node->outlet_count; o++) {
            const struct er_outlet *outlet = &zone->outlets[o];
            const struct er_part *connector = outlet->group->tape->connector;
            double inlet =
                connector ? after_part(connector, pressure, tape_flow(network, outlet)) : pressure;
            law_same(law, "a tape's inlet", outlet->inlet_pressure, inlet, LEAST_PRESSURE);
            walk_tape(law, network, outlet, bed.index);
        }
    }
}

static void walk_to_feed(struct law *law, const struct er_network *network,
                         const struct er_zone_network *zone)
{
    const struct er_zone *plan = zone->zone;
    double flow = zone_flow(network, zone);
    double pressure = plan->on == ER_HEADWORKS ? network->headworks_pressure
                                               : network->sections[plan->on].end_pressure;
    law_same(law, "join pressure", zone->way.join_pressure, pressure, LEAST_PRESSURE);
    if (plan->valve) {
        pressure = after_part(plan->valve, pressure, flow);
    }
    if (plan->regulator && !plan->regulator_at_header) {
        pressure = after_part(plan->regulator, pressure, flow);
    }
    pressure -= friction(flow, plan->header.lead, plan->header.pieces[0].pipe) + plan->rise;
    if (plan->regulator && plan->regulator_at_header) {
        pressure = after_part(plan->regulator, pressure, flow);
    }
    law_same(law, "pressure at the feed point", zone->inlet_pressure, pressure, LEAST_PRESSURE);
}

static void walk_sections(struct law *law, const struct er_network *network)
{
    const struct er_field *field = network->field;
    for (size_t s = 0; s < field->section_count; s++) {
        const struct er_section *section = &field->mainline[s];
        double pressure = section->from == ER_HEADWORKS
                              ? network->headworks_pressure
                              : network->sections[section->from].end_pressure;
        double flow = 0;
        for (size_t z = 0; z < network->zone_count; z++) {
            size_t on = network->zones[z].zone->on;
            while (on != s && on != ER_HEADWORKS) {
                on = field->mainline[on].from;
            }
            flow += on == s ? zone_flow(network, &network->zones[z]) : 0;
        }
        pressure -= friction(flow, section->length * (1 + section->fittings), section->pipe);
        law_same(law, "pressure at a section's end", network->sections[s].end_pressure,
                 pressure - section->rise, LEAST_PRESSURE);
    }
}

static double set_flow(const struct er_network *network)
{
    double sum = 0;
    for (size_t z = 0; z < network->zone_count; z++) {
        sum += zone_flow(network, &network->zones[z]);
    }
    return sum;
}

static void pressure_falls_by_friction_and_rise(struct law *law, const struct er_network *network)
{
    const struct er_field *field = network->field;
    double flow = set_flow(network), pressure = network->source_pressure;
    for (size_t p = 0; p < field->headworks_count; p++) {
        pressure = after_part(&field->headworks[p], pressure, flow);
    }
    law_same(law, "after headworks", network->headworks_pressure, pressure, LEAST_PRESSURE);
    walk_sections(law, network);
    for (size_t z = 0; z < network->zone_count; z++) {
        const struct er_zone_network *zone = &network->zones[z];
        walk_to_feed(law, network, zone);
        walk_arm(law, network, zone, &zone->arms[0]);
        walk_arm(law, network, zone, &zone->arms[1]);
    }
}

static void inflow_is_sum_of_emitters(struct law *law, const struct er_network *network,
                                      const struct er_result *result, size_t set)
{
    const struct er_set *plan = &network->field->sets[set];
    double zones = 0;
    law_same(law, "set flow", result->sets[set].flow, set_flow(network), LEAST_FLOW);
    for (size_t z = 0; z < network->zone_count; z++) {
        const struct er_zone_result *told = &result->zones[plan->zones[z]];
        double sum = zone_flow(network, &network->zones[z]);
        law_same(law, "zone flow", told->flow, sum, LEAST_FLOW);
        law_same(law, "emitters' mean", told->mean_emitter_flow * told->emitters, sum, LEAST_FLOW);
        zones += told->flow;
    }
    law_same(law, "sum of zones", result->sets[set].flow, zones, LEAST_FLOW);
}

typedef void law_on_set(struct law *law, const struct er_network *network,
                        const struct er_result *result, size_t set);

static enum law_outcome hold_on_sets(struct law *law, const struct er_field *field,
                                     law_on_set *hold)
{
    struct er_result result;
    struct er_failure failure;
    bool solved = true;
    if (er_check(field, ER_METRIC, &result, &failure) != ER_OK) {
        return LAW_REFUSED;
    }
    for (size_t set = 0; set < field->set_count && solved; set++) {
        struct er_network network;
        solved = law_solve_set(law, field, set, &network);
        if (solved) {
            hold(law, &network, &result, set);
        }
        er_network_release(&network);
    }
    er_result_release(&result);
    return solved ? LAW_HELD_ON : LAW_REFUSED;
}

static void walk_set(struct law *law, const struct er_network *network,
                     const struct er_result *result, size_t set)
{
    (void)result;
    (void)set;
    pressure_falls_by_friction_and_rise(law, network);
}

static enum law_outcome hold_inflow(struct law *law, const struct er_field *field,
                                    struct dice *dice)
{
    (void)dice;
    return hold_on_sets(law, field, inflow_is_sum_of_emitters);
}

static enum law_outcome hold_pressures(struct law *law, const struct er_field *field,
                                       struct dice *dice)
{
    (void)dice;
    return hold_on_sets(law, field, walk_set);
}

static void what_flows_in_comes_out(void **state)
{
    (void)state;
    struct law law = {.name = "a set's inflow and the sum of its emitters",
                      .allowed = 1e-9,
                      .first_seed = 220000,
                      .wanted = 500};
    law_sweep(&law, hold_inflow);
}

static void pressure_falls_by_nothing_else(void **state)
{
    (void)state;
    struct law law = {.name = "pressure falls by friction, rise and parts",
                      .allowed = 1e-9,
                      .first_seed = 230000,
                      .wanted = 500};
    law_sweep(&law, hold_pressures);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(what_flows_in_comes_out),
                                       cmocka_unit_test(pressure_falls_by_nothing_else)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
