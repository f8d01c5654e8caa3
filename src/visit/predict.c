/* What gauges, meter and cups show in a field with a fault in it. */
#include <math.h>
#include <stdint.h>

#include "evenrow/divide.h"
#include "evenrow/hydraulics.h"
#include "hydraulics/network.h"
#include "visit/fault.h"

/* A solved zone to be read from. */
struct reading_from {
    struct er_network *network;
    const struct er_zone_network *zone;
    const struct er_fault *fault;
    size_t extra_bed;
};

static const struct er_outlet *find_outlet(const struct reading_from *from, size_t bed, bool second)
{
    size_t position = bed >= from->extra_bed ? bed + 1 : bed;
    for (size_t o = 0; o < from->zone->outlet_count; o++) {
        const struct er_outlet *outlet = &from->zone->outlets[o];
        if (outlet->bed == position && outlet->second_side == second) {
            return outlet;
        }
    }
    return NULL;
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

/* With its end open, the pressure falls nearly straight to that of the air. */
static double read_open_tape(const struct er_run *run, const struct er_outlet *outlet,
                             const struct er_visit_reading *reading)
{
    double last = run->first_reach + (double)(run->emitters - 1) * run->tape->emitter_spacing;
    double at = reading->kind == ER_READ_BED_FAR_END ? last : reading->at;
    double pressure = outlet->inlet_pressure * fmax(0.0, 1.0 - at / run->length);
    return reading->kind == ER_READ_EMITTER ? er_emitter_flow(run->tape, pressure, NULL) : pressure;
}

static double read_tape(const struct reading_from *from, const struct er_visit_reading *reading)
{
    const struct er_outlet *outlet = find_outlet(from, reading->bed, reading->second_side);
    if (outlet == NULL) {
        return ER_NONE;
    }
    if (reading->kind == ER_READ_BED_INLET) {
        return outlet->inlet_pressure;
    }
    const struct er_run *run = &from->network->pool->responses[outlet->response].run;
    if (from->fault->kind == ER_FAULT_OPEN_END && reading->bed == from->fault->bed &&
        !reading->second_side) {
        return read_open_tape(run, outlet, reading);
    }
    if (reading->kind == ER_READ_BED_FAR_END) {
        return er_run_far_end_pressure(run, &outlet->state);
    }
    struct emitter_wanted wanted = {.emitter = emitter_near(run, reading->at)};
    er_run_visit(run, &outlet->state, look_at_emitter, &wanted);
    /* Of those that are not plugged each gives what the pressure makes. */
    double whole = from->fault->kind == ER_FAULT_PLUGGED ? 1.0 - from->fault->value : 1.0;
    return wanted.flow / whole;
}

static double read_after_valve(const struct er_zone_network *zone)
{
    const struct er_part *valve = zone->zone->valve;
    double slope;
    double loss = valve == NULL ? 0.0 : er_part_loss(valve, zone->flow, false, &slope);
    return zone->way.valve_inlet - loss;
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

enum er_status er_predictor_run(struct er_predictor *predictor, const struct er_fault *fault,
                                const struct er_visit_reading *readings, size_t count,
                                double *predicted)
{
    const struct er_fault_site *site = &predictor->site;
    struct er_field field;
    struct er_network network = {0};
    struct reading_from from = {.network = &network, .fault = fault};
    enum er_status status = er_fault_apply(site, fault, &predictor->arena, &field, &from.extra_bed);
    if (status != ER_OK) {
        return status;
    }
    const struct er_set *set = &field.sets[site->set];
    status = er_network_open(&field, set, &predictor->pool, &network);
    if (status == ER_OK) {
        status = er_network_solve(&network, false);
    }
    if (status == ER_OK) {
        from.zone = &network.zones[place_in_set(set, site->zone)];
        for (size_t r = 0; r < count; r++) {
            predicted[r] = read_one(&from, &readings[r]);
        }
        predictor->zone_flow = from.zone->flow;
    }
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
