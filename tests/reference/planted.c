/* Changes a healthy field or network by a fault, solves it, and reads it as a visitor would. */
#include "planted.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reference.h"
#include "reference_equations.h"
#include "reference_laws.h"
#include "reference_solver.h"

/* A mouth into the air has next to no pressure: so little (m) at 1 m/s. */
static const double MOUTH_HEAD = 1e-6;

static void *arena_room(struct planted *planted, size_t count, size_t size)
{
    void *place = er_arena_array(&planted->arena, count, size);
    if (!place) {
        abort();
    }
    return place;
}

static void *own(struct planted *planted, const void *from, size_t count, size_t size)
{
    if (count == 0) {
        return NULL;
    }
    void *copy = arena_room(planted, count, size);
    memcpy(copy, from, count * size);
    return copy;
}

static double flow_at(const struct planted *planted, size_t node)
{
    return reference_flow(&planted->network, node, planted->unknowns);
}

static double pressure_at(const struct planted *planted, size_t node)
{
    return reference_pressure(&planted->network, node, planted->unknowns);
}

/* ---- faults that are other figures in the field ---- */

static struct er_part loss_of(double loss, double at_flow)
{
    return (struct er_part){.loss = loss,
                            .at_flow = at_flow,
                            .holds = ER_NONE,
                            .min_flow = ER_NONE,
                            .max_flow = ER_NONE,
                            .max_pressure = ER_NONE};
}

/* A loss of its own behind the dirtiest part. */
static void clog_filter(struct planted *planted, double loss, double flow)
{
    struct er_field *field = &planted->field;
    struct er_part *parts = arena_room(planted, field->headworks_count + 1, sizeof(*parts));
    size_t dirtiest = 0, count = 0;
    for (size_t p = 0; p < field->headworks_count; p++) {
        dirtiest =
            field->headworks[p].dirty_loss > field->headworks[dirtiest].dirty_loss ? p : dirtiest;
    }
    for (size_t p = 0; p < field->headworks_count; p++) {
        parts[count++] = field->headworks[p];
        if (p == dirtiest) {
            parts[count++] = loss_of(loss, flow);
        }
    }
    field->headworks = parts;
    field->headworks_count = count;
}

/* A pump that gives less head at each flow: the lift is still to be overcome. */
static void wear(struct planted *planted, double left)
{
    struct er_source *source = &planted->field.source;
    struct er_point *curve = own(planted, source->curve, source->curve_count, sizeof(*curve));
    for (size_t i = 0; i < source->curve_count; i++) {
        curve[i].value *= left;
    }
    source->curve = curve;
    source->pressure *= left;
    source->static_pressure *= left;
    source->test_pressure *= left;
}

static void narrow(struct planted *planted, struct er_header *header, double share)
{
    struct er_header_piece *pieces =
        own(planted, header->pieces, header->piece_count, sizeof(*pieces));
    for (size_t p = 0; p < header->piece_count; p++) {
        struct er_pipe *pipe = own(planted, pieces[p].pipe, 1, sizeof(*pipe));
        pipe->inside_diameter *= share;
        pieces[p].pipe = pipe;
    }
    header->pieces = pieces;
}

static void change_tapes(struct planted *planted, struct er_zone *zone, double share)
{
    struct er_bed_group *groups = own(planted, zone->groups, zone->group_count, sizeof(*groups));
    for (size_t g = 0; g < zone->group_count; g++) {
        struct er_tape *tape = own(planted, groups[g].tape, 1, sizeof(*tape));
        tape->emitter_flow *= share;
        groups[g].tape = tape;
    }
    zone->groups = groups;
}

static void set_regulator(struct planted *planted, struct er_zone *zone, double holds)
{
    struct er_part *part = own(planted, zone->regulator, 1, sizeof(*part));
    part->holds = holds;
    zone->regulator = part;
}

/* A valve's loss goes with the square of the flow: it has at_flow. */
static void close_valve(struct planted *planted, struct er_zone *zone, double loss, double flow)
{
    struct er_part *valve = own(planted, zone->valve, 1, sizeof(*valve));
    valve->loss += loss * (valve->at_flow / flow) * (valve->at_flow / flow);
    zone->valve = valve;
}

/* ---- faults that are other junctions ---- */

static struct er_tape *opening(struct planted *planted, double flow, double pressure)
{
    struct er_tape *hole = arena_room(planted, 1, sizeof(*hole));
    *hole = (struct er_tape){.emitter_flow = flow,
                             .at_pressure = pressure,
                             .exponent = 0.5,
                             .holds_from = ER_NONE,
                             .holds_to = ER_NONE};
    return hole;
}

/* A hole in the header beside a bed. */
static void leak(struct planted *planted, const struct planted *healthy, size_t bed, double flow)
{
    const struct reference_run *run = planted_run(healthy, bed, false);
    struct reference_node hole = {.parent = healthy->network.nodes[run->inlet].parent,
                                  .link = REFERENCE_PIPE,
                                  .times = 1,
                                  .tape = opening(planted, flow, pressure_at(healthy, run->inlet))};
    reference_network_add(&planted->network, hole);
}

/* The last reach of a tape, and its mouth. */
static void open_end(struct planted *planted, const struct er_tape *tape, size_t bed)
{
    const struct reference_run *run = planted_run(planted, bed, false);
    double area = acos(-1.0) / 4 * tape->inside_diameter * tape->inside_diameter;
    double last = ((double)run->count - 0.5) * tape->emitter_spacing;
    struct reference_node mouth = {
        .parent = run->first + run->count - 1,
        .link = REFERENCE_PIPE,
        .times = 1,
        .resistance = reference_resistance(run->length - last, tape->inside_diameter, tape->c),
        .rise =
            reference_elevation(run->ground, run->length) - reference_elevation(run->ground, last),
        .tape = opening(planted, area, MOUTH_HEAD)};
    reference_network_add(&planted->network, mouth);
}

static void plug(struct planted *planted, double share, struct dice *dice)
{
    size_t all = 0, plugged = 0;
    for (size_t r = 0; r < planted->network.run_count; r++) {
        const struct reference_run *run = &planted->network.runs[r];
        for (size_t e = 0; run->zone == planted->zone && e < run->count; e++) {
            all += run->tapes;
            if (dice_chance(dice, share)) {
                plugged += run->tapes;
                planted->network.nodes[run->first + e].tape = NULL;
            }
        }
    }
    planted->share_plugged = (double)plugged / (double)all;
}

/* ---- the two together ---- */

static const struct er_bed_group *group_of(const struct er_zone *zone, size_t bed)
{
    const struct er_bed_group *group = zone->groups;
    while (bed >= group->count) {
        bed -= group->count;
        group++;
    }
    return group;
}

static void change_field(struct planted *planted, const struct planted *healthy,
                         const struct er_fault *fault)
{
    struct er_zone *zones =
        own(planted, planted->field.zones, planted->field.zone_count, sizeof(*zones));
    struct er_zone *zone = &zones[planted->zone];
    planted->field.zones = zones;
    switch (fault->kind) {
    case ER_FAULT_FILTER:
        clog_filter(planted, fault->value, flow_at(healthy, 0));
        break;
    case ER_FAULT_PUMP:
        wear(planted, fault->value);
        break;
    case ER_FAULT_VALVE:
        close_valve(planted, zone, fault->value,
                    flow_at(healthy, healthy->network.zone_valve_outlet[planted->zone]));
        break;
    case ER_FAULT_REGULATOR:
        set_regulator(planted, zone, fault->value);
        break;
    case ER_FAULT_HEADER:
        narrow(planted, &zone->header, fault->value);
        break;
    case ER_FAULT_TAPE:
        change_tapes(planted, zone, fault->value);
        break;
    default:
        break;
    }
}

static void change_network(struct planted *planted, const struct planted *healthy,
                           const struct er_fault *fault, struct dice *dice)
{
    const struct er_zone *zone = &planted->field.zones[planted->zone];
    switch (fault->kind) {
    case ER_FAULT_LEAK:
        leak(planted, healthy, fault->bed, fault->value);
        break;
    case ER_FAULT_OPEN_END:
        open_end(planted, group_of(zone, fault->bed)->tape, fault->bed);
        break;
    case ER_FAULT_PLUGGED:
        plug(planted, fault->value, dice);
        break;
    default:
        break;
    }
    reference_network_sum_flows(&planted->network);
}

static void solve(struct planted *planted)
{
    struct reference_root root = reference_solve_network(&planted->network, 0);
    planted->unknowns = root.unknowns;
    planted->solved = root.residual <= REFERENCE_TOLERANCE;
}

void planted_healthy(const struct er_field *field, size_t zone, struct planted *planted)
{
    *planted = (struct planted){.field = *field, .zone = zone};
    for (size_t s = 0; s < field->set_count; s++) {
        for (size_t z = 0; z < field->sets[s].zone_count; z++) {
            planted->set = field->sets[s].zones[z] == zone ? field->sets[s] : planted->set;
        }
    }
    reference_network_build(&planted->network, &planted->field, &planted->set);
    solve(planted);
}

void planted_make(const struct planted *healthy, const struct er_fault *fault, struct dice *dice,
                  struct planted *planted)
{
    *planted =
        (struct planted){.field = healthy->field, .set = healthy->set, .zone = healthy->zone};
    change_field(planted, healthy, fault);
    reference_network_build(&planted->network, &planted->field, &planted->set);
    change_network(planted, healthy, fault, dice);
    solve(planted);
}

const struct reference_run *planted_run(const struct planted *planted, size_t bed, bool second_side)
{
    for (size_t r = 0; r < planted->network.run_count; r++) {
        const struct reference_run *run = &planted->network.runs[r];
        if (run->zone == planted->zone && run->bed == bed && run->second_side == second_side) {
            return run;
        }
    }
    return NULL;
}

static double read_emitter(const struct planted *planted, const struct reference_run *run,
                           double at)
{
    const struct er_tape *tape = group_of(&planted->field.zones[planted->zone], run->bed)->tape;
    size_t node = run->first + (size_t)lround(at / tape->emitter_spacing - 0.5);
    if (!planted->network.nodes[node].tape) {
        return 0;
    }
    return reference_emitter_at(tape, planted->unknowns[2 * node + 1]).flow.value;
}

double planted_read(const struct planted *planted, const struct er_visit_reading *reading)
{
    const struct reference_network *network = &planted->network;
    const struct reference_run *run = planted_run(planted, reading->bed, reading->second_side);
    switch (reading->kind) {
    case ER_READ_SOURCE:
        return pressure_at(planted, 0);
    case ER_READ_AFTER_PARTS:
        return pressure_at(planted, network->headworks_outlet);
    case ER_READ_AFTER_VALVE:
        return pressure_at(planted, network->zone_valve_outlet[planted->zone]);
    case ER_READ_HEADER:
        return pressure_at(planted, network->zone_inlet[planted->zone]);
    case ER_READ_METER:
        return flow_at(planted, 0);
    case ER_READ_BED_INLET:
        return pressure_at(planted, run->inlet);
    case ER_READ_BED_FAR_END:
        return pressure_at(planted, run->first + run->count - 1);
    case ER_READ_EMITTER:
        return read_emitter(planted, run, reading->at);
    case ER_READ_KINDS:
        break;
    }
    return ER_NONE;
}

double planted_flow(const struct planted *planted) { return flow_at(planted, 0); }

double planted_lowest(const struct planted *planted)
{
    double lowest = ER_ENDLESS;
    for (size_t r = 0; r < planted->network.run_count; r++) {
        const struct reference_run *run = &planted->network.runs[r];
        for (size_t e = 0; run->zone == planted->zone && e < run->count; e++) {
            lowest = fmin(lowest, pressure_at(planted, run->first + e));
        }
    }
    return lowest;
}

void planted_release(struct planted *planted)
{
    free(planted->unknowns);
    reference_network_release(&planted->network);
    er_arena_release(&planted->arena);
    *planted = (struct planted){.solved = false};
}
