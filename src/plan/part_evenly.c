/* Beds parted into pieces as even as whole beds allow (evenrow/divide.h).
 *
 * Whether a run of beds may be a piece is told by two bounds on its flow. Take two ways to part
 * the same beds, one with more pieces than the other: laid side by side, some piece of the finer
 * lies within one of the coarser at every offset of their numbers, and the stretch from the
 * coarser piece's start to the finer one's end is itself within the bounds. So every number
 * between can be had as well: for each boundary the fewest and the most pieces before it say
 * all. */
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>

#include "evenrow/divide.h"

#define SAME_FLOW 1e-12 /* relative: sums of the same beds in another order */

struct counts {
    size_t fewest, most; /* pieces up to a boundary; most 0: cannot be had */
};

struct parting {
    const struct er_field *field;
    size_t beds;
    double *flow_up_to;    /* m3/s of all beds before each boundary, from 0 to `beds` */
    size_t *zone_start;    /* for each bed, its zone's first */
    struct counts *counts; /* for each boundary */
};

static double bed_flow(const struct er_bed_group *group, size_t index)
{
    size_t emitters = er_tape_emitters(group->tape, er_bed_length(group, index, false));
    if (group->both_sides) {
        emitters += er_tape_emitters(group->tape, er_bed_length(group, index, true));
    }
    return (double)emitters * (double)group->tapes * group->tape->emitter_flow;
}

static void list_beds(struct parting *parting)
{
    size_t bed = 0;
    parting->flow_up_to[0] = 0.0;
    for (size_t z = 0; z < parting->field->zone_count; z++) {
        const struct er_zone *zone = &parting->field->zones[z];
        size_t start = bed;
        for (size_t g = 0; g < zone->group_count; g++) {
            for (size_t i = 0; i < zone->groups[g].count; i++, bed++) {
                parting->zone_start[bed] = start;
                parting->flow_up_to[bed + 1] =
                    parting->flow_up_to[bed] + bed_flow(&zone->groups[g], i);
            }
        }
    }
}

static double flow_between(const struct parting *parting, size_t from, size_t to)
{
    return parting->flow_up_to[to] - parting->flow_up_to[from];
}

/* Counts the pieces up to the boundary `to`, those before it being counted. */
static struct counts count_up_to(const struct parting *parting, size_t to, double least,
                                 double largest)
{
    struct counts counts = {SIZE_MAX, 0};
    for (size_t from = to; from-- > parting->zone_start[to - 1];) {
        double flow = flow_between(parting, from, to);
        if (flow > largest) {
            break;
        }
        const struct counts *before = &parting->counts[from];
        if (flow < least || (from > 0 && before->most == 0)) {
            continue;
        }
        counts.fewest = before->fewest + 1 < counts.fewest ? before->fewest + 1 : counts.fewest;
        counts.most = before->most + 1 > counts.most ? before->most + 1 : counts.most;
    }
    return counts;
}

/* Whether the beds can be parted into `count` pieces with flows between the bounds. */
static bool can_part(struct parting *parting, size_t count, double least, double largest)
{
    parting->counts[0] = (struct counts){0, 0};
    for (size_t to = 1; to <= parting->beds; to++) {
        parting->counts[to] = count_up_to(parting, to, least, largest);
    }
    const struct counts *all = &parting->counts[parting->beds];
    return all->most > 0 && all->fewest <= count && count <= all->most;
}

/* Fills the pieces' first beds (counted through all zones), after can_part said yes. */
static void trace(const struct parting *parting, size_t count, double least,
                  struct er_piece *pieces)
{
    size_t to = parting->beds;
    for (size_t p = count; p-- > 0;) {
        size_t from = to - 1;
        while (flow_between(parting, from, to) < least || p < parting->counts[from].fewest ||
               p > parting->counts[from].most) {
            from--; /* there is one, and the first met is within the largest flow */
        }
        pieces[p] = (struct er_piece){0, from, to - from};
        to = from;
    }
}

/* From beds counted through all zones to each zone's own. */
static void place_in_zones(const struct er_field *field, struct er_piece *pieces, size_t count)
{
    size_t zone = 0, start = 0;
    for (size_t p = 0; p < count; p++) {
        while (pieces[p].first_bed >= start + er_zone_beds(&field->zones[zone])) {
            start += er_zone_beds(&field->zones[zone++]);
        }
        pieces[p].zone = zone;
        pieces[p].first_bed -= start;
    }
}

/* The smallest bound on the largest flow, a little loose for sums in another order. */
static double least_largest(struct parting *parting, size_t count)
{
    double all = parting->flow_up_to[parting->beds];
    double refused = 0.0, good = all;
    while (good - refused > SAME_FLOW * all) {
        double tried = 0.5 * (refused + good);
        if (can_part(parting, count, 0.0, tried)) {
            good = tried;
        } else {
            refused = tried;
        }
    }
    return good + SAME_FLOW * all;
}

static double largest_least(struct parting *parting, size_t count, double largest)
{
    double all = parting->flow_up_to[parting->beds];
    double good = 0.0, refused = largest + SAME_FLOW * all;
    while (refused - good > SAME_FLOW * all) {
        double tried = 0.5 * (good + refused);
        if (can_part(parting, count, tried, largest)) {
            good = tried;
        } else {
            refused = tried;
        }
    }
    return fmax(0.0, good - SAME_FLOW * all);
}

static enum er_status reserve(struct parting *parting)
{
    for (size_t z = 0; z < parting->field->zone_count; z++) {
        parting->beds += er_zone_beds(&parting->field->zones[z]);
    }
    parting->flow_up_to = calloc(parting->beds + 1, sizeof *parting->flow_up_to);
    parting->zone_start = calloc(parting->beds + 1, sizeof *parting->zone_start);
    parting->counts = calloc(parting->beds + 1, sizeof *parting->counts);
    return parting->flow_up_to && parting->zone_start && parting->counts ? ER_OK : ER_NO_MEMORY;
}

enum er_status er_field_part_evenly(const struct er_field *field, size_t count,
                                    struct er_piece *pieces)
{
    struct parting parting = {.field = field};
    enum er_status status = reserve(&parting);
    if (status == ER_OK) {
        list_beds(&parting);
        double largest = least_largest(&parting, count);
        double least = largest_least(&parting, count, largest);
        can_part(&parting, count, least, largest);
        trace(&parting, count, least, pieces);
        place_in_zones(field, pieces, count);
    }
    free(parting.flow_up_to);
    free(parting.zone_start);
    free(parting.counts);
    return status;
}
