/* Draws a random field piece by piece: parts, tapes, beds, headers, zones, sets, source. */
#include "random_field.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>

#include "dice.h"

/* What one field is drawn with. */
struct draw {
    struct dice *dice;
    struct er_arena *arena;
    enum { ONE_EMITTER, ONE_BED, WHOLE_FIELD } size;
    size_t tapes;        /* made so far */
    double nominal_flow; /* m3/s, of the zones made so far */
};

static const double LITRE_PER_HOUR = 1e-3 / 3600; /* m3/s */
static const size_t MOST_EMITTERS = 30;           /* on one tape */

static void *room(struct draw *draw, size_t count, size_t size)
{
    void *place = er_arena_array(draw->arena, count, size);
    if (!place) {
        fputs("no memory for a random field\n", stderr);
        abort();
    }
    return place;
}

static char *name(struct draw *draw, char kind, size_t place)
{
    char *text = room(draw, 32, 1);
    snprintf(text, 32, "%c%zu", kind, place + 1);
    return text;
}

static struct er_part *random_part(struct draw *draw, double flow)
{
    struct er_part *part = room(draw, 1, sizeof(*part));
    *part = (struct er_part){.name = "part",
                             .at_flow = ER_NONE,
                             .holds = ER_NONE,
                             .min_flow = ER_NONE,
                             .max_flow = ER_NONE,
                             .max_pressure = ER_NONE};
    part->loss = dice_between(draw->dice, 0, 2.5);
    if (dice_chance(draw->dice, 0.75)) {
        part->at_flow = flow * dice_scaled(draw->dice, 0.5, 3);
    }
    return part;
}

static struct er_part *random_regulator(struct draw *draw, double flow)
{
    struct er_part *part = random_part(draw, flow);
    part->holds = dice_between(draw->dice, 4, 16);
    return part;
}

static struct er_pipe *random_pipe(struct draw *draw, double smallest, double largest)
{
    struct er_pipe *pipe = room(draw, 1, sizeof(*pipe));
    *pipe = (struct er_pipe){.inside_diameter = dice_scaled(draw->dice, smallest, largest),
                             .c = dice_between(draw->dice, 110, 150),
                             .max_pressure = ER_NONE,
                             .price = ER_NONE};
    return pipe;
}

/* Even or broken ground along a line of about `length` m; a profile may end short of it or
 * beyond it, and need not start at elevation 0. */
static struct er_ground random_ground(struct draw *draw, double length)
{
    double steepest = dice_chance(draw->dice, 0.15) ? 0.25 : 0.03;
    if (dice_chance(draw->dice, 0.25)) {
        return (struct er_ground){0};
    }
    if (dice_chance(draw->dice, 0.6)) {
        return (struct er_ground){.slope = dice_between(draw->dice, -steepest, steepest)};
    }
    size_t count = dice_whole(draw->dice, 2, 5);
    struct er_point *points = room(draw, count, sizeof(*points));
    points[0].value = dice_between(draw->dice, -20, 300);
    for (size_t i = 1; i < count; i++) {
        double reach = length * dice_between(draw->dice, 0.1, 0.5);
        points[i].at = points[i - 1].at + reach;
        points[i].value =
            points[i - 1].value + reach * dice_between(draw->dice, -steepest, steepest);
    }
    return (struct er_ground){.count = count, .points = points};
}

static void give_ordinary_law(struct draw *draw, struct er_tape *tape)
{
    static const double EXPONENTS[] = {0.05, 0.5, 0.5, 1.0};
    tape->at_pressure = dice_between(draw->dice, 4, 12);
    tape->exponent = dice_chance(draw->dice, 0.5) ? EXPONENTS[dice_whole(draw->dice, 0, 3)]
                                                  : dice_between(draw->dice, 0.05, 1);
    tape->holds_from = ER_NONE;
    tape->holds_to = ER_NONE;
}

static void give_compensating_law(struct draw *draw, struct er_tape *tape)
{
    tape->exponent = ER_NONE;
    tape->holds_from = dice_between(draw->dice, 2, 8);
    tape->holds_to = dice_chance(draw->dice, 0.4)
                         ? ER_ENDLESS
                         : tape->holds_from * dice_scaled(draw->dice, 1.1, 4);
    tape->at_pressure = ER_NONE;
}

/* Tapes are thin for their lengths, so that a few emitters already lose some pressure. */
static struct er_tape *random_tape(struct draw *draw)
{
    struct er_tape *tape = room(draw, 1, sizeof(*tape));
    *tape = (struct er_tape){
        .name = name(draw, 't', draw->tapes++),
        .emitter_flow = dice_scaled(draw->dice, 0.4, 8) * LITRE_PER_HOUR,
        .emitter_spacing = dice_scaled(draw->dice, 0.1, 4),
        .inside_diameter = dice_scaled(draw->dice, 0.003, 0.02),
        .c = dice_between(draw->dice, 110, 150),
        .emitter_loss = dice_chance(draw->dice, 0.5) ? dice_between(draw->dice, 0, 0.3) : 0,
        .cv = dice_between(draw->dice, 0, 0.1),
        .min_pressure = 2.8,
        .max_pressure = 30,
        .wall = ER_NONE,
        .roll_length = ER_NONE,
        .roll_price = ER_NONE};
    if (dice_chance(draw->dice, 0.3)) {
        give_compensating_law(draw, tape);
    } else {
        give_ordinary_law(draw, tape);
    }
    return tape;
}

/* The part's flow is one tape's. Now and then it is a small regulator for each tape. */
static void give_connector(struct draw *draw, struct er_tape *tape, double tape_flow)
{
    if (dice_chance(draw->dice, 0.3)) {
        tape->connector = dice_chance(draw->dice, 0.2) ? random_regulator(draw, tape_flow)
                                                       : random_part(draw, tape_flow);
    }
}

/* The length of a tape of 1 to MOST_EMITTERS emitters, a whole number of spacings now and then. */
static double random_length(struct draw *draw, const struct er_tape *tape)
{
    size_t most = draw->size == ONE_EMITTER ? 1 : MOST_EMITTERS;
    double beyond = dice_chance(draw->dice, 0.3) ? 0 : dice_between(draw->dice, 0, 0.99);
    return tape->emitter_spacing * ((double)dice_whole(draw->dice, 1, most) + beyond);
}

/* A length that stays between one emitter and MOST_EMITTERS when the bed tapers by `taper`. */
static double within_taper(const struct er_tape *tape, double length, double taper)
{
    double shortest = tape->emitter_spacing * 1.01 / fmin(1, taper);
    double longest = tape->emitter_spacing * ((double)MOST_EMITTERS + 0.5) / fmax(1, taper);
    return fmin(fmax(length, shortest), longest);
}

static double tapering_length(struct draw *draw, const struct er_tape *tape, double taper)
{
    double length = random_length(draw, tape);
    return taper < 1 || taper > 1 ? within_taper(tape, length, taper) : length;
}

static void give_lengths(struct draw *draw, struct er_bed_group *group)
{
    double taper =
        group->count > 1 && dice_chance(draw->dice, 0.4) ? dice_between(draw->dice, 0.4, 1.6) : 1;
    group->length = tapering_length(draw, group->tape, taper);
    group->last_length = group->length * taper;
    group->other_length = group->length;
    if (group->both_sides && dice_chance(draw->dice, 0.6)) {
        group->other_length = tapering_length(draw, group->tape, taper);
    }
}

static void give_sides(struct draw *draw, struct er_bed_group *group)
{
    group->ground = random_ground(draw, group->length);
    if (!group->both_sides) {
        return;
    }
    group->other_ground = (struct er_ground){.slope = -group->ground.slope};
    if (group->ground.count > 0 || dice_chance(draw->dice, 0.5)) {
        group->other_ground = random_ground(draw, group->other_length);
    }
}

static struct er_bed_group random_group(struct draw *draw)
{
    struct er_tape *tape = random_tape(draw);
    struct er_bed_group group = {.count = 1, .tapes = 1, .tape = tape, .plant_spacing = ER_NONE};
    if (draw->size == WHOLE_FIELD) {
        group.count = dice_whole(draw->dice, 1, 3);
        group.both_sides = dice_chance(draw->dice, 0.35);
        group.gap = dice_chance(draw->dice, 0.4) ? dice_between(draw->dice, 0, 6) : 0;
    }
    if (draw->size != ONE_EMITTER) {
        group.tapes = dice_whole(draw->dice, 1, 3);
    }
    group.rows = dice_whole(draw->dice, 1, 3);
    group.spacing = dice_between(draw->dice, 0.8, 8);
    group.bed_width = 0.76;
    if (dice_chance(draw->dice, 0.5)) {
        group.plant_spacing = dice_scaled(draw->dice, 0.1, 5);
    }
    give_lengths(draw, &group);
    give_sides(draw, &group);
    give_connector(draw, tape, tape->emitter_flow * group.length / tape->emitter_spacing);
    return group;
}

/* Nominal flow of a group, near enough to size what feeds it. */
static double group_flow(const struct er_bed_group *group)
{
    double length = 0.5 * (group->length + group->last_length);
    length += group->both_sides ? group->other_length : 0;
    return (double)(group->count * group->tapes) * length / group->tape->emitter_spacing *
           group->tape->emitter_flow;
}

/* How far the last bed lies from the first. */
static double header_length(const struct er_zone *zone)
{
    double length = 0;
    for (size_t g = 0; g < zone->group_count; g++) {
        const struct er_bed_group *group = &zone->groups[g];
        length += (double)(group->count - 1) * group->spacing;
        if (g > 0) {
            length += 0.5 * (zone->groups[g - 1].spacing + group->spacing) + group->gap;
        }
    }
    return length;
}

/* Pieces of the header get thinner outward, as a telescoping header does, or come in any order;
 * some end exactly at a bed. */
static void give_pieces(struct draw *draw, struct er_header *header, double spacing)
{
    size_t count = dice_whole(draw->dice, 1, 3);
    struct er_header_piece *pieces = room(draw, count, sizeof(*pieces));
    for (size_t i = 0; i < count; i++) {
        double largest =
            i > 0 && dice_chance(draw->dice, 0.7) ? pieces[i - 1].pipe->inside_diameter : 0.03;
        pieces[i].pipe = random_pipe(draw, 0.5 * largest, largest);
        pieces[i].length = dice_chance(draw->dice, 0.3)
                               ? spacing * (double)dice_whole(draw->dice, 1, 2)
                               : dice_scaled(draw->dice, 0.3, 10);
    }
    pieces[count - 1].length = ER_ENDLESS;
    header->piece_count = count;
    header->pieces = pieces;
}

static void give_header(struct draw *draw, struct er_zone *zone)
{
    struct er_header *header = &zone->header;
    double length = header_length(zone);
    give_pieces(draw, header, zone->groups[0].spacing);
    header->feed = (enum er_feed)dice_whole(draw->dice, ER_FEED_FIRST, ER_FEED_AT);
    if (header->feed == ER_FEED_AT) {
        header->feed_distance = dice_between(draw->dice, 0, length);
        if (zone->groups[0].count > 1 && dice_chance(draw->dice, 0.3)) {
            header->feed_distance = zone->groups[0].spacing; /* at the second bed */
        }
    }
    header->ground = random_ground(draw, fmax(length, 1));
    header->lead = dice_chance(draw->dice, 0.5) ? dice_between(draw->dice, 0, 20) : 0;
}

static void give_zone_parts(struct draw *draw, struct er_zone *zone, double flow)
{
    if (dice_chance(draw->dice, 0.4)) {
        zone->valve =
            dice_chance(draw->dice, 0.1) ? random_regulator(draw, flow) : random_part(draw, flow);
    }
    if (dice_chance(draw->dice, 0.4)) {
        zone->regulator = random_regulator(draw, flow);
        zone->regulator_at_header = dice_chance(draw->dice, 0.5);
    }
}

/* No need for water: these fields are about flows and pressures. */
static const struct er_water NO_NEED = {.need_kind = ER_NEED_NONE,
                                        .efficiency = ER_NONE,
                                        .every = 1,
                                        .root_depth = 0.3,
                                        .allowed_depletion = 0.5,
                                        .wetted_width = ER_NONE};

static struct er_zone random_zone(struct draw *draw, size_t place, size_t sections)
{
    struct er_zone zone = {.name = name(draw, 'z', place), .on = ER_HEADWORKS, .water = NO_NEED};
    zone.group_count = draw->size == WHOLE_FIELD ? dice_whole(draw->dice, 1, 3) : 1;
    struct er_bed_group *groups = room(draw, zone.group_count, sizeof(*groups));
    double flow = 0;
    for (size_t g = 0; g < zone.group_count; g++) {
        groups[g] = random_group(draw);
        flow += group_flow(&groups[g]);
    }
    zone.groups = groups;
    if (sections > 0 && dice_chance(draw->dice, 0.85)) {
        zone.on = dice_whole(draw->dice, 0, sections - 1);
    }
    zone.rise = dice_chance(draw->dice, 0.5) ? dice_between(draw->dice, -3, 3) : 0;
    give_header(draw, &zone);
    give_zone_parts(draw, &zone, flow);
    draw->nominal_flow += flow;
    return zone;
}

static void give_zones(struct draw *draw, struct er_field *field)
{
    field->zone_count = draw->size == WHOLE_FIELD ? dice_whole(draw->dice, 1, 3) : 1;
    struct er_zone *zones = room(draw, field->zone_count, sizeof(*zones));
    for (size_t z = 0; z < field->zone_count; z++) {
        zones[z] = random_zone(draw, z, field->section_count);
    }
    field->zones = zones;
}

/* Zones go into sets in order, each with the one before it or into a new set. */
static void give_sets(struct draw *draw, struct er_field *field)
{
    struct er_set *sets = room(draw, field->zone_count, sizeof(*sets));
    size_t *places = room(draw, field->zone_count, sizeof(*places));
    for (size_t z = 0; z < field->zone_count; z++) {
        places[z] = z;
        if (z == 0 || dice_chance(draw->dice, 0.4)) {
            sets[field->set_count++].zones = &places[z];
        }
        sets[field->set_count - 1].zone_count++;
    }
    field->sets = sets;
}

static void give_mainline(struct draw *draw, struct er_field *field)
{
    field->section_count = dice_whole(draw->dice, 0, 4);
    struct er_section *sections = room(draw, field->section_count, sizeof(*sections));
    for (size_t s = 0; s < field->section_count; s++) {
        sections[s] = (struct er_section){.name = name(draw, 's', s),
                                          .pipe = random_pipe(draw, 0.012, 0.05),
                                          .length = dice_scaled(draw->dice, 1, 80),
                                          .rise = dice_between(draw->dice, -2, 2),
                                          .from = s == 0 ? ER_HEADWORKS : s - 1};
        if (dice_chance(draw->dice, 0.5)) {
            sections[s].fittings = dice_between(draw->dice, 0, 0.3);
        }
        if (s > 0 && dice_chance(draw->dice, 0.4)) {
            sections[s].from =
                dice_chance(draw->dice, 0.3) ? ER_HEADWORKS : dice_whole(draw->dice, 0, s - 1);
        }
    }
    field->mainline = sections;
}

static void give_headworks(struct draw *draw, struct er_field *field)
{
    field->headworks_count = dice_whole(draw->dice, 0, 3);
    struct er_part *parts = room(draw, field->headworks_count, sizeof(*parts));
    for (size_t i = 0; i < field->headworks_count; i++) {
        parts[i] = dice_chance(draw->dice, 0.2) ? *random_regulator(draw, draw->nominal_flow)
                                                : *random_part(draw, draw->nominal_flow);
    }
    field->headworks = parts;
}

/* Flows strictly rising, heads not rising, some stretches level. */
static void give_curve(struct draw *draw, struct er_source *source, double head)
{
    source->curve_count = dice_whole(draw->dice, 2, 5);
    struct er_point *curve = room(draw, source->curve_count, sizeof(*curve));
    double flow =
        dice_chance(draw->dice, 0.5) ? 0 : draw->nominal_flow * dice_between(draw->dice, 0, 0.8);
    for (size_t i = 0; i < source->curve_count; i++) {
        curve[i] = (struct er_point){flow, head};
        flow += draw->nominal_flow * dice_between(draw->dice, 0.1, 0.7);
        head *= dice_chance(draw->dice, 0.2) ? 1 : dice_between(draw->dice, 0.6, 0.99);
    }
    source->curve = curve;
}

static void give_test(struct draw *draw, struct er_source *source, double head)
{
    source->static_pressure = head;
    source->test_pressure =
        dice_chance(draw->dice, 0.4) ? 0 : head * dice_between(draw->dice, 0, 0.95);
    source->test_flow = draw->nominal_flow * dice_scaled(draw->dice, 0.7, 5);
}

static void give_pump(struct draw *draw, struct er_source *source, double head)
{
    give_curve(draw, source, head);
    source->lift = dice_between(draw->dice, -2, 4);
    source->suction.temperature = 20;
    source->suction.npsh_required = ER_NONE;
    source->suction.height = source->lift;
    source->suction.given = dice_chance(draw->dice, 0.6);
    if (source->suction.given && dice_chance(draw->dice, 0.8)) {
        source->suction.pipe = random_pipe(draw, 0.02, 0.05);
        source->suction.length = dice_between(draw->dice, 1, 10);
    }
}

static void give_source(struct draw *draw, struct er_field *field)
{
    struct er_source *source = &field->source;
    double head = dice_chance(draw->dice, 0.15) ? dice_between(draw->dice, 2, 8)
                                                : dice_between(draw->dice, 10, 45);
    *source = (struct er_source){
        .flow_limit = ER_NONE, .storage = ER_NONE, .refill = ER_NONE, .shutoff = ER_NONE};
    source->kind = (enum er_source_kind)dice_whole(draw->dice, ER_SOURCE_PRESSURE, ER_SOURCE_PUMP);
    switch (source->kind) {
    case ER_SOURCE_PRESSURE:
        source->pressure = head;
        break;
    case ER_SOURCE_CURVE:
        give_curve(draw, source, head);
        break;
    case ER_SOURCE_TEST:
        give_test(draw, source, head);
        break;
    case ER_SOURCE_PUMP:
        give_pump(draw, source, head);
        break;
    }
}

void random_field(uint64_t seed, struct er_field *field)
{
    *field = (struct er_field){.system = ER_METRIC, .hours = 20 * 3600};
    field->limits = (struct er_limits){0.85, 0.2, 1.5, 0.3};
    struct dice dice = {.counter = seed};
    struct draw draw = {.dice = &dice, .arena = &field->arena, .size = WHOLE_FIELD};
    if (seed % 8 == 0) {
        draw.size = ONE_EMITTER;
    } else if (seed % 8 == 1) {
        draw.size = ONE_BED;
    }
    give_mainline(&draw, field);
    give_zones(&draw, field);
    give_sets(&draw, field);
    give_headworks(&draw, field);
    give_source(&draw, field);
}
