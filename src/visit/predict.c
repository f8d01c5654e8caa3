/* What gauges, meter and cups show in a field with a fault in it. */
#include <math.h>
#include <stdint.h>

#include "evenrow/divide.h"
#include "evenrow/hydraulics.h"
#include "hydraulics/network.h"
#include "hydraulics/run.h"
#include "visit/fault.h"
#include "visit/open_end.h"
#include "visit/places.h"

#define OPEN_AGAIN 30
#define OPEN_BY_SOLVED 8 /* tries; then the bracket is halved */
#define OPEN_CLOSE 1e-4  /* m */

/* A solved zone to be read from. */
struct reading_from {
    struct er_network *network;
    const struct er_zone_network *zone;
    const struct er_zone *plan; /* without the fault */
    const struct er_fault *fault;
    size_t extra_bed;
};

static const struct er_outlet *outlet_at(const struct reading_from *from, size_t position,
                                         bool second)
{
    for (size_t o = 0; o < from->zone->outlet_count; o++) {
        const struct er_outlet *outlet = &from->zone->outlets[o];
        if (outlet->bed == position && outlet->second_side == second) {
            return outlet;
        }
    }
    return NULL;
}

static const struct er_outlet *find_outlet(const struct reading_from *from, size_t bed, bool second)
{
    return outlet_at(from, bed >= from->extra_bed ? bed + 1 : bed, second);
}

struct emitter_wanted {
    size_t emitter;
    double pressure, flow;
};

static void look_at_emitter(void *context, size_t emitter, double pressure, double flow)
{
    struct emitter_wanted *wanted = context;
    if (emitter == wanted->emitter) {
        wanted->pressure = pressure;
        wanted->flow = flow;
    }
}

/* The emitter nearest to `at` m from the inlet. */
static size_t emitter_near(const struct er_run *run, double at)
{
    double place = round((at - run->first_reach) / run->tape->emitter_spacing);
    return (size_t)fmin((double)(run->emitters - 1), fmax(0.0, place));
}

/* Looks into the tape whose end is open, as the hole that stands for the end finds the header.
 * Returns the pressure at its inlet. The run of a response may be another bed's, which differs
 * beyond the last emitter. */
static double look_into_open_tape(const struct reading_from *from, const struct er_outlet *outlet,
                                  struct emitter_wanted *wanted)
{
    const struct er_outlet *hole = outlet_at(from, from->extra_bed, false);
    struct er_run run;
    er_bed_run(from->plan, from->fault->bed, false, &run);
    struct er_tape_intake intake =
        er_tape_intake_find(&run, outlet->connector, hole->inlet_pressure, true);
    if (intake.end_flow > 0.0) {
        er_run_visit_open(&run, intake.end_flow, look_at_emitter, wanted);
    } else {
        er_run_visit(&run, &outlet->state, look_at_emitter, wanted);
    }
    return intake.inlet_pressure;
}

static double read_tape(const struct reading_from *from, const struct er_visit_reading *reading)
{
    const struct er_outlet *outlet = find_outlet(from, reading->bed, reading->second_side);
    if (outlet == NULL) {
        return ER_NONE;
    }
    const struct er_run *run = &from->network->pool->responses[outlet->response].run;
    bool far_end = reading->kind == ER_READ_BED_FAR_END;
    struct emitter_wanted wanted = {.emitter = far_end ? run->emitters - 1
                                                       : emitter_near(run, reading->at)};
    double inlet_pressure = outlet->inlet_pressure;
    if (from->fault->kind == ER_FAULT_OPEN_END && reading->bed == from->fault->bed &&
        !reading->second_side) {
        inlet_pressure = look_into_open_tape(from, outlet, &wanted);
    } else {
        er_run_visit(run, &outlet->state, look_at_emitter, &wanted);
    }
    if (reading->kind != ER_READ_EMITTER) {
        return far_end ? wanted.pressure : inlet_pressure;
    }
    /* Of those that are not plugged each gives what the pressure makes. */
    double whole = from->fault->kind == ER_FAULT_PLUGGED ? 1.0 - from->fault->value : 1.0;
    return wanted.flow / whole;
}

static double read_after_valve(const struct er_zone_network *zone)
{
    const struct er_part *valve = zone->zone->valve;
    double slope;
    if (valve == NULL) {
        return zone->way.valve_inlet;
    }
    double outlet = zone->way.valve_inlet - er_part_loss(valve, zone->flow, false, &slope);
    return er_given(valve->holds) ? fmin(outlet, valve->holds) : outlet;
}

static double read_one(const struct reading_from *from, const struct er_visit_reading *reading)
{
    switch (reading->kind) {
    case ER_READ_SOURCE:
        return from->network->source_pressure;
    case ER_READ_AFTER_PARTS:
        return from->network->headworks_pressure;
    case ER_READ_AFTER_VALVE:
        return read_after_valve(from->zone);
    case ER_READ_HEADER:
        return from->zone->inlet_pressure;
    case ER_READ_METER:
        return from->network->flow;
    case ER_READ_BED_INLET:
    case ER_READ_BED_FAR_END:
    case ER_READ_EMITTER:
        return read_tape(from, reading);
    case ER_READ_KINDS:
        break;
    }
    return ER_NONE;
}

static size_t place_in_set(const struct er_set *set, size_t zone)
{
    size_t place = 0;
    while (set->zones[place] != zone) {
        place++;
    }
    return place;
}

/* Solves the field with the fault in it once. */
static enum er_status solve_once(struct er_predictor *predictor, struct er_field *field,
                                 struct reading_from *from)
{
    const struct er_fault_site *site = &predictor->site;
    struct er_network *network = from->network;
    enum er_status status =
        er_fault_apply(site, from->fault, &predictor->arena, field, &from->extra_bed);
    if (status != ER_OK) {
        return status;
    }
    const struct er_set *set = &field->sets[site->set];
    status = er_network_open(field, set, &predictor->pool, network);
    if (status == ER_OK) {
        status = er_network_solve(network, false);
    }
    if (status == ER_OK) {
        from->zone = &network->zones[place_in_set(set, site->zone)];
    }
    return status;
}

/* The higher the pressure at which the hole for an open end takes its flow from the tape, the
 * lower the header's: where both are the same lies between what was tried. */
struct open_search {
    double low, high; /* m */
    int tried;
};

/* Whether they are the same; else the pressure for the next try is set. */
static bool open_end_holds(struct er_predictor *predictor, const struct reading_from *from,
                           struct open_search *search)
{
    if (from->fault->kind != ER_FAULT_OPEN_END) {
        return true;
    }
    double *at = &predictor->site.open_pressure;
    double solved = outlet_at(from, from->extra_bed, false)->inlet_pressure;
    if (fabs(solved - *at) <= OPEN_CLOSE) {
        return true;
    }
    *(solved < *at ? &search->high : &search->low) = *at;
    bool inside = solved > search->low && solved < search->high;
    *at = inside && ++search->tried < OPEN_BY_SOLVED ? solved : 0.5 * (search->low + search->high);
    return false;
}

enum er_status er_predictor_run(struct er_predictor *predictor, const struct er_fault *fault,
                                const struct er_visit_reading *readings, size_t count,
                                double *predicted)
{
    struct er_field field;
    struct er_network network = {0};
    struct reading_from from = {.network = &network,
                                .plan = &predictor->site.field->zones[predictor->site.zone],
                                .fault = fault};
    struct open_search search = {.high = 2.0 * predictor->source_pressure};
    predictor->site.open_pressure = predictor->site.bed_pressures[fault->bed];
    enum er_status status = solve_once(predictor, &field, &from);
    for (int again = 0; status == ER_OK && !open_end_holds(predictor, &from, &search); again++) {
        if (again == OPEN_AGAIN) {
            status = ER_NOT_CLOSED;
            break;
        }
        er_network_release(&network);
        network = (struct er_network){0};
        status = solve_once(predictor, &field, &from);
    }
    for (size_t r = 0; status == ER_OK && r < count; r++) {
        predicted[r] = read_one(&from, &readings[r]);
    }
    predictor->zone_flow = status == ER_OK ? from.zone->flow : predictor->zone_flow;
    er_network_release(&network);
    return status;
}

/* What the plan gives where faults are put. */
static enum er_status survey(struct er_predictor *predictor)
{
    struct er_fault_site *site = &predictor->site;
    size_t beds = er_zone_beds(&site->field->zones[site->zone]);
    size_t count = beds + 2;
    struct er_visit_reading *readings = er_arena_array(&predictor->arena, count, sizeof *readings);
    double *shown = er_arena_array(&predictor->arena, count, sizeof *shown);
    site->bed_pressures = shown;
    if (readings == NULL || shown == NULL) {
        return ER_NO_MEMORY;
    }
    for (size_t b = 0; b < beds; b++) {
        readings[b] = (struct er_visit_reading){.kind = ER_READ_BED_INLET, .bed = b};
    }
    readings[beds] = (struct er_visit_reading){.kind = ER_READ_METER};
    readings[beds + 1] = (struct er_visit_reading){.kind = ER_READ_SOURCE};
    const struct er_fault none = {.kind = ER_FAULT_NONE};
    enum er_status status = er_predictor_run(predictor, &none, readings, count, shown);
    if (status == ER_OK) {
        site->set_flow = shown[beds];
        site->zone_flow = predictor->zone_flow;
        predictor->source_pressure = shown[beds + 1];
    }
    return status;
}

enum er_status er_predictor_open(const struct er_field *field, size_t zone,
                                 struct er_predictor *predictor)
{
    *predictor = (struct er_predictor){
        .site = {.field = field, .zone = zone, .set = er_set_of_zone(field, zone)}};
    return survey(predictor);
}

void er_predictor_release(struct er_predictor *predictor)
{
    er_response_pool_release(&predictor->pool);
    er_arena_release(&predictor->arena);
    *predictor = (struct er_predictor){.site = {.field = NULL}};
}

enum er_status er_visit_predict(const struct er_field *field, size_t zone,
                                const struct er_fault *fault,
                                const struct er_visit_reading *readings, size_t count,
                                double *predicted)
{
    struct er_predictor predictor;
    enum er_status status = er_predictor_open(field, zone, &predictor);
    if (status == ER_OK) {
        status = er_predictor_run(&predictor, fault, readings, count, predicted);
    }
    er_predictor_release(&predictor);
    return status;
}
