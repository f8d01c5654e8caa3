/* Reads the figures of zones and supply out of a network's root. */
#include "reference.h"

#include <math.h>
#include <stdlib.h>

#include "reference_equations.h"
#include "reference_laws.h"
#include "reference_network.h"
#include "reference_solver.h"

/* Networks of up to so many junctions go to gsl_multiroot first. */
static const size_t SMALL_NETWORK = 24;

/* A solved network, and where its figures go. */
struct reading {
    const struct reference_network *network;
    const double *unknowns;
    struct reference *reference;
};

/* What the solver's tolerance may have left in a pipe without flow is told as none. */
static double flow_at(const struct reading *reading, size_t node)
{
    double relative = reading->unknowns[2 * node];
    if (fabs(relative) <= REFERENCE_TOLERANCE) {
        return 0;
    }
    return reference_flow(reading->network, node, reading->unknowns);
}

static double pressure_at(const struct reading *reading, size_t node)
{
    return reference_pressure(reading->network, node, reading->unknowns);
}

static void clear_zone(struct reference_zone *zone)
{
    *zone = (struct reference_zone){.tape_inlet_min = ER_ENDLESS,
                                    .tape_inlet_max = -ER_ENDLESS,
                                    .far_end_pressure = ER_ENDLESS,
                                    .pressure_min = ER_ENDLESS,
                                    .pressure_max = -ER_ENDLESS,
                                    .flow_min = ER_ENDLESS,
                                    .flow_max = -ER_ENDLESS};
}

static void count_emitters(const struct reading *reading)
{
    for (size_t r = 0; r < reading->network->run_count; r++) {
        const struct reference_run *run = &reading->network->runs[r];
        reading->reference->zones[run->zone].emitter_count += run->count * run->tapes;
    }
}

static void read_emitter(struct reference_zone *zone, size_t *next, const struct er_tape *tape,
                         struct reference_emitter emitter, size_t tapes)
{
    double pressure = emitter.pressure.value, flow = emitter.flow.value;
    zone->pressure_min = fmin(zone->pressure_min, pressure);
    zone->pressure_max = fmax(zone->pressure_max, pressure);
    if (flow < zone->flow_min) {
        zone->flow_min = flow;
        zone->lowest_tape = tape;
    }
    zone->flow_max = fmax(zone->flow_max, flow);
    zone->dry_emitters += pressure > 0 ? 0 : tapes;
    for (size_t i = 0; i < tapes; i++) {
        zone->emitter_flow[*next] = flow;
        zone->share[*next] = flow / tape->emitter_flow;
        zone->flow += flow;
        ++*next;
    }
}

static void read_run(const struct reading *reading, const struct reference_run *run, size_t *next)
{
    struct reference_zone *zone = &reading->reference->zones[run->zone];
    double inlet = pressure_at(reading, run->inlet);
    zone->tape_inlet_min = fmin(zone->tape_inlet_min, inlet);
    zone->tape_inlet_max = fmax(zone->tape_inlet_max, inlet);
    for (size_t node = run->first; node < run->first + run->count; node++) {
        const struct er_tape *tape = reading->network->nodes[node].tape;
        double position = reading->unknowns[2 * node + 1];
        read_emitter(zone, next, tape, reference_emitter_at(tape, position), run->tapes);
    }
    double far_end = pressure_at(reading, run->first + run->count - 1);
    zone->far_end_pressure = fmin(zone->far_end_pressure, far_end);
}

static void read_velocities(const struct reading *reading)
{
    for (size_t s = 0; s < reading->network->span_count; s++) {
        const struct reference_span *span = &reading->network->spans[s];
        struct reference_zone *zone = &reading->reference->zones[span->zone];
        double area = acos(-1.0) / 4 * span->smallest_diameter * span->smallest_diameter;
        zone->header_velocity = fmax(zone->header_velocity, flow_at(reading, span->node) / area);
    }
}

static void read_zones(const struct reading *reading, const struct er_set *set)
{
    count_emitters(reading);
    for (size_t z = 0; z < set->zone_count; z++) {
        struct reference_zone *zone = &reading->reference->zones[set->zones[z]];
        zone->join_pressure = pressure_at(reading, reading->network->zone_join[set->zones[z]]);
        zone->inlet_pressure = pressure_at(reading, reading->network->zone_inlet[set->zones[z]]);
        zone->emitter_flow = reference_room(zone->emitter_count, sizeof(double));
        zone->share = reference_room(zone->emitter_count, sizeof(double));
        size_t next = 0;
        for (size_t r = 0; r < reading->network->run_count; r++) {
            if (reading->network->runs[r].zone == set->zones[z]) {
                read_run(reading, &reading->network->runs[r], &next);
            }
        }
        zone->flow_mean = zone->flow / (double)zone->emitter_count;
    }
    read_velocities(reading);
}

static void read_supply(const struct reading *reading, struct reference_set *result)
{
    size_t sections = reading->reference->section_count;
    result->flow = flow_at(reading, 0);
    result->source_pressure = pressure_at(reading, 0);
    result->after_headworks = pressure_at(reading, reading->network->headworks_outlet);
    result->section_flow = reference_room(sections, sizeof(double));
    result->section_end_pressure = reference_room(sections, sizeof(double));
    for (size_t s = 0; s < sections; s++) {
        size_t node = reading->network->section_end[s];
        result->section_flow[s] = flow_at(reading, node);
        result->section_end_pressure[s] = pressure_at(reading, node);
    }
}

static void solve_set(const struct er_field *field, size_t set, struct reference *reference)
{
    struct reference_network network;
    reference_network_build(&network, field, &field->sets[set]);
    struct reference_root root = reference_solve_network(&network, SMALL_NETWORK);
    struct reference_set *result = &reference->sets[set];
    struct reading reading = {&network, root.unknowns, reference};
    read_supply(&reading, result);
    read_zones(&reading, &field->sets[set]);
    result->unknowns = reference_unknowns(&network);
    result->iterations = root.iterations;
    result->residual = root.residual;
    result->solved = root.residual <= REFERENCE_TOLERANCE;
    result->by_multiroot = root.by_multiroot;
    reference->solved = reference->solved && result->solved;
    free(root.unknowns);
    reference_network_release(&network);
}

bool reference_solve(const struct er_field *field, struct reference *reference)
{
    *reference = (struct reference){.set_count = field->set_count,
                                    .zone_count = field->zone_count,
                                    .section_count = field->section_count,
                                    .solved = true};
    reference->sets = reference_room(field->set_count, sizeof(*reference->sets));
    reference->zones = reference_room(field->zone_count, sizeof(*reference->zones));
    for (size_t z = 0; z < field->zone_count; z++) {
        clear_zone(&reference->zones[z]);
    }
    for (size_t set = 0; set < field->set_count; set++) {
        solve_set(field, set, reference);
    }
    return reference->solved;
}

void reference_release(struct reference *reference)
{
    for (size_t set = 0; set < reference->set_count; set++) {
        free(reference->sets[set].section_flow);
        free(reference->sets[set].section_end_pressure);
    }
    for (size_t z = 0; z < reference->zone_count; z++) {
        free(reference->zones[z].emitter_flow);
        free(reference->zones[z].share);
    }
    free(reference->sets);
    free(reference->zones);
    *reference = (struct reference){0};
}
