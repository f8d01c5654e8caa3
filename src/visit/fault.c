/* Faults, each put into a copy of the field. */
#include "visit/fault.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "evenrow/divide.h"
#include "evenrow/hydraulics.h"
#include "visit/open_end.h"

/* A hole beside a bed is a tape of one emitter, wide enough to lose nothing itself. */
#define HOLE_LENGTH 1.0   /* m */
#define HOLE_DIAMETER 0.3 /* m */
#define HOLE_C 150.0
#define HOLE_EXPONENT 0.5 /* of an orifice */
#define NEARBY 0.9        /* of a pressure: where an open end's exponent is looked at */
#define LEAST_HEADER 1e-3 /* m */

size_t er_set_of_zone(const struct er_field *field, size_t zone)
{
    for (size_t s = 0; s < field->set_count; s++) {
        for (size_t z = 0; z < field->sets[s].zone_count; z++) {
            if (field->sets[s].zones[z] == zone) {
                return s;
            }
        }
    }
    return 0;
}

static size_t filter_place(const struct er_field *field)
{
    size_t place = 0;
    for (size_t p = 0; p < field->headworks_count; p++) {
        if (field->headworks[p].dirty_loss > field->headworks[place].dirty_loss) {
            place = p;
        }
    }
    return place;
}

bool er_fault_possible(const struct er_field *field, size_t zone, enum er_fault_kind kind)
{
    const struct er_zone *at = &field->zones[zone];
    switch (kind) {
    case ER_FAULT_FILTER:
        return field->headworks_count > 0 && field->headworks[filter_place(field)].dirty_loss > 0.0;
    case ER_FAULT_VALVE:
        return at->valve != NULL;
    case ER_FAULT_REGULATOR:
        return at->regulator != NULL;
    default:
        return kind < ER_FAULT_KINDS;
    }
}

/* What a copy is made with. */
struct copying {
    const struct er_fault_site *site;
    const struct er_fault *fault;
    struct er_arena *arena;
    struct er_field *copy;
    struct er_zone *zone;
};

static void *copy_of(struct copying *c, const void *from, size_t count, size_t size)
{
    void *to = er_arena_array(c->arena, count, size);
    if (to != NULL && count > 0) {
        memcpy(to, from, count * size);
    }
    return to;
}

/* The flow at which a loss is told. Where the plan lets none through, the loss takes nothing. */
static double flow_of_loss(double flow) { return flow > 0.0 ? flow : 1.0; }

static bool clog_filter(struct copying *c)
{
    size_t count = c->copy->headworks_count;
    size_t at = filter_place(c->copy) + 1;
    struct er_part *parts = er_arena_array(c->arena, count + 1, sizeof *parts);
    if (parts == NULL) {
        return false;
    }
    memcpy(parts, c->copy->headworks, at * sizeof *parts);
    memcpy(parts + at + 1, c->copy->headworks + at, (count - at) * sizeof *parts);
    parts[at] = (struct er_part){.loss = c->fault->value,
                                 .at_flow = flow_of_loss(c->site->set_flow),
                                 .holds = ER_NONE,
                                 .min_flow = ER_NONE,
                                 .max_flow = ER_NONE,
                                 .max_pressure = ER_NONE};
    c->copy->headworks = parts;
    c->copy->headworks_count = count + 1;
    return true;
}

static bool wear_pump(struct copying *c)
{
    struct er_source *source = &c->copy->source;
    double left = c->fault->value;
    source->shutoff *= left;
    source->pressure *= left;
    source->static_pressure *= left;
    source->test_pressure *= left;
    if (source->curve_count == 0) {
        return true;
    }
    struct er_point *curve = copy_of(c, source->curve, source->curve_count, sizeof *curve);
    for (size_t i = 0; curve != NULL && i < source->curve_count; i++) {
        curve[i].value *= left;
    }
    source->curve = curve;
    return curve != NULL;
}

static bool close_valve(struct copying *c)
{
    if (!(c->site->zone_flow > 0.0)) {
        return true; /* nothing flows, and a loss that hangs on flow takes nothing */
    }
    struct er_part *valve = copy_of(c, c->zone->valve, 1, sizeof *valve);
    if (valve == NULL) {
        return false;
    }
    double slope;
    valve->loss = er_part_loss(valve, c->site->zone_flow, false, &slope) + c->fault->value;
    valve->at_flow = c->site->zone_flow;
    c->zone->valve = valve;
    return true;
}

static bool set_regulator(struct copying *c)
{
    struct er_part *regulator = copy_of(c, c->zone->regulator, 1, sizeof *regulator);
    if (regulator == NULL) {
        return false;
    }
    regulator->holds = c->fault->value;
    c->zone->regulator = regulator;
    return true;
}

static bool narrow_header(struct copying *c)
{
    struct er_header *header = &c->zone->header;
    struct er_header_piece *pieces =
        copy_of(c, header->pieces, header->piece_count, sizeof *pieces);
    struct er_pipe *pipes = er_arena_array(c->arena, header->piece_count, sizeof *pipes);
    if (pieces == NULL || pipes == NULL) {
        return false;
    }
    for (size_t p = 0; p < header->piece_count; p++) {
        pipes[p] = *pieces[p].pipe;
        pipes[p].inside_diameter *= c->fault->value;
        pieces[p].pipe = &pipes[p];
    }
    header->pieces = pieces;
    return true;
}

/* Every emitter's flow times `factor`. Groups that share a tape go on sharing one. */
static bool scale_tapes(struct copying *c, double factor)
{
    size_t count = c->zone->group_count;
    struct er_bed_group *groups = copy_of(c, c->zone->groups, count, sizeof *groups);
    struct er_tape *tapes = er_arena_array(c->arena, count, sizeof *tapes);
    if (groups == NULL || tapes == NULL) {
        return false;
    }
    for (size_t g = 0; g < count; g++) {
        size_t same = 0;
        while (c->zone->groups[same].tape != c->zone->groups[g].tape) {
            same++;
        }
        tapes[g] = *c->zone->groups[g].tape;
        tapes[g].emitter_flow *= factor;
        groups[g].tape = &tapes[same];
    }
    c->zone->groups = groups;
    return true;
}

static struct er_bed_group part_of_group(const struct er_bed_group *old, size_t first, size_t count)
{
    struct er_bed_group part = *old;
    part.count = count;
    part.length = er_bed_length(old, first, false);
    part.last_length = er_bed_length(old, first + count - 1, false);
    part.other_length = er_bed_length(old, first, true);
    part.gap = first > 0 ? 0.0 : old->gap;
    return part;
}

/* A bed that is a hole alone, at the same place as the bed before it. */
static struct er_bed_group hole_beside(const struct er_bed_group *group, const struct er_tape *hole)
{
    struct er_bed_group beside = *group;
    beside.count = 1;
    beside.length = HOLE_LENGTH;
    beside.last_length = HOLE_LENGTH;
    beside.both_sides = false;
    beside.tapes = 1;
    beside.tape = hole;
    beside.ground = (struct er_ground){.slope = 0.0};
    beside.gap = -group->spacing;
    return beside;
}

/* A tape of one emitter that gives `flow` at `pressure`. */
static struct er_tape *make_hole(struct copying *c, double flow, double pressure, double exponent)
{
    struct er_tape *hole = er_arena_array(c->arena, 1, sizeof *hole);
    if (hole != NULL) {
        *hole = (struct er_tape){.name = "hole",
                                 .emitter_flow = flow,
                                 .at_pressure = pressure,
                                 .exponent = exponent,
                                 .holds_from = ER_NONE,
                                 .holds_to = ER_NONE,
                                 .emitter_spacing = HOLE_LENGTH,
                                 .inside_diameter = HOLE_DIAMETER,
                                 .c = HOLE_C,
                                 .min_pressure = 0.0,
                                 .max_pressure = ER_ENDLESS,
                                 .wall = ER_NONE,
                                 .roll_length = ER_NONE,
                                 .roll_price = ER_NONE};
    }
    return hole;
}

/* Where a bed stands among the zone's groups. */
struct bed_place {
    size_t group, index;
};

static struct bed_place find_bed(const struct er_zone *zone, size_t bed)
{
    struct bed_place place = {0, bed};
    while (place.index >= zone->groups[place.group].count) {
        place.index -= zone->groups[place.group].count;
        place.group++;
    }
    return place;
}

/* Puts `inserted` behind the bed at `place`, and parts its group there. */
static bool insert_behind(struct copying *c, struct bed_place place,
                          const struct er_bed_group *inserted)
{
    const struct er_zone *zone = c->zone;
    const struct er_bed_group *old = &zone->groups[place.group];
    struct er_bed_group *groups = er_arena_array(c->arena, zone->group_count + 2, sizeof *groups);
    if (groups == NULL) {
        return false;
    }
    size_t count = 0;
    for (size_t g = 0; g < place.group; g++) {
        groups[count++] = zone->groups[g];
    }
    groups[count++] = part_of_group(old, 0, place.index + 1);
    groups[count++] = *inserted;
    if (place.index + 1 < old->count) {
        groups[count++] = part_of_group(old, place.index + 1, old->count - place.index - 1);
    }
    for (size_t g = place.group + 1; g < zone->group_count; g++) {
        groups[count++] = zone->groups[g];
    }
    c->zone->groups = groups;
    c->zone->group_count = count;
    return true;
}

static bool make_leak(struct copying *c)
{
    double pressure = fmax(0.1, c->site->bed_pressures[c->fault->bed]);
    struct bed_place place = find_bed(c->zone, c->fault->bed);
    const struct er_tape *hole = make_hole(c, c->fault->value, pressure, HOLE_EXPONENT);
    if (hole == NULL) {
        return false;
    }
    struct er_bed_group leak = hole_beside(&c->zone->groups[place.group], hole);
    return insert_behind(c, place, &leak);
}

/* What an open end takes beyond the closed tape, at `pressure` at the header. */
static double flow_by_open_end(const struct er_bed_group *group, const struct er_run *run,
                               double pressure)
{
    const struct er_part *connector = group->tape->connector;
    return er_tape_intake_find(run, connector, pressure, true).flow -
           er_tape_intake_find(run, connector, pressure, false).flow;
}

/* A hole beside the bed, which takes just what the open end does at the site's open_pressure, and
 * near it nearly so. */
static bool open_end(struct copying *c)
{
    double pressure = fmax(LEAST_HEADER, c->site->open_pressure);
    struct bed_place place = find_bed(c->zone, c->fault->bed);
    const struct er_bed_group *group = &c->zone->groups[place.group];
    struct er_run run =
        er_run_make(group->tape, er_bed_length(group, place.index, false), &group->ground);
    double flow = fmax(1e-12, flow_by_open_end(group, &run, pressure));
    double less = fmax(1e-12, flow_by_open_end(group, &run, NEARBY * pressure));
    double exponent = log(flow / less) / -log(NEARBY);
    const struct er_tape *hole = make_hole(c, flow, pressure, fmin(1.0, fmax(0.1, exponent)));
    if (hole == NULL) {
        return false;
    }
    struct er_bed_group leak = hole_beside(group, hole);
    leak.tapes = group->tapes;
    return insert_behind(c, place, &leak);
}

static bool put_in(struct copying *c)
{
    switch (c->fault->kind) {
    case ER_FAULT_FILTER:
        return clog_filter(c);
    case ER_FAULT_PUMP:
        return wear_pump(c);
    case ER_FAULT_VALVE:
        return close_valve(c);
    case ER_FAULT_REGULATOR:
        return set_regulator(c);
    case ER_FAULT_HEADER:
        return narrow_header(c);
    case ER_FAULT_LEAK:
        return make_leak(c);
    case ER_FAULT_OPEN_END:
        return open_end(c);
    case ER_FAULT_PLUGGED:
        return scale_tapes(c, 1.0 - c->fault->value);
    case ER_FAULT_TAPE:
        return scale_tapes(c, c->fault->value);
    case ER_FAULT_NONE:
    case ER_FAULT_KINDS:
        break;
    }
    return true;
}

enum er_status er_fault_apply(const struct er_fault_site *site, const struct er_fault *fault,
                              struct er_arena *arena, struct er_field *copy, size_t *extra_bed)
{
    bool adds = fault->kind == ER_FAULT_LEAK || fault->kind == ER_FAULT_OPEN_END;
    *copy = *site->field;
    *extra_bed = adds ? fault->bed + 1 : SIZE_MAX;
    struct copying copying = {site, fault, arena, copy, NULL};
    struct er_zone *zones = copy_of(&copying, copy->zones, copy->zone_count, sizeof *zones);
    if (zones == NULL) {
        return ER_NO_MEMORY;
    }
    copying.zone = &zones[site->zone];
    copy->zones = zones;
    return put_in(&copying) ? ER_OK : ER_NO_MEMORY;
}
