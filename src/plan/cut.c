/* Groups, ground, pieces of header and way to the mainline of a piece that is cut out. */
#include "plan/cut.h"

#include <math.h>

/* m; two places nearer than this are one: more than sums of spacings are off, less than is laid. */
#define SAME_PLACE 1e-9

size_t er_zone_beds(const struct er_zone *zone)
{
    size_t beds = 0;
    for (size_t g = 0; g < zone->group_count; g++) {
        beds += zone->groups[g].count;
    }
    return beds;
}

double er_bed_distance(const struct er_zone *zone, size_t bed)
{
    double start = 0.0;
    size_t g = 0;
    while (bed >= zone->groups[g].count) {
        bed -= zone->groups[g].count;
        g++;
        start += er_group_step(zone, g);
    }
    return start + (double)bed * zone->groups[g].spacing;
}

bool er_piece_is_zone(const struct er_field *field, const struct er_piece *piece)
{
    return piece->bed_count == er_zone_beds(&field->zones[piece->zone]);
}

/* `count` beds of a group from its bed `first` on. */
static struct er_bed_group cut_group(const struct er_bed_group *old, size_t first, size_t count)
{
    struct er_bed_group cut = *old;
    if (count == old->count) {
        return cut;
    }
    cut.count = count;
    cut.length = er_bed_length(old, first, false);
    cut.last_length = er_bed_length(old, first + count - 1, false);
    if (old->both_sides) {
        cut.other_length = er_bed_length(old, first, true);
    }
    if (first > 0) {
        cut.gap = 0.0; /* it was before the old group's first bed */
    }
    return cut;
}

static enum er_status cut_groups(const struct er_zone *old, const struct er_piece *piece,
                                 struct er_arena *arena, struct er_zone *cut)
{
    struct er_bed_group *groups = er_arena_array(arena, old->group_count, sizeof *groups);
    if (groups == NULL) {
        return ER_NO_MEMORY;
    }
    size_t end = piece->first_bed + piece->bed_count;
    size_t start = 0; /* the group's first bed */
    cut->group_count = 0;
    for (size_t g = 0; g < old->group_count; g++) {
        size_t next = start + old->groups[g].count;
        size_t low = start > piece->first_bed ? start : piece->first_bed;
        size_t high = next < end ? next : end;
        if (low < high) {
            groups[cut->group_count++] = cut_group(&old->groups[g], low - start, high - low);
        }
        start = next;
    }
    groups[0].gap = 0.0; /* nothing is before it any more */
    cut->groups = groups;
    return ER_OK;
}

/* A length as it would stand in a file: what sums leave behind the ninth decimal of a foot or a
 * metre is dropped, so that no more digits are written than were measured. */
static double as_written(enum er_system system, double length)
{
    double told = round(er_from_si(ER_LENGTH, system, length) * 1e9) / 1e9;
    return er_to_si(ER_LENGTH, system, told);
}

/* The last two points of a profile again, from `start` on: its last segment goes on there. */
static void go_on(const struct er_ground *old, double start, struct er_point *points)
{
    const struct er_point *to = &old->points[old->count - 1];
    const struct er_point *from = to - 1;
    points[0] = (struct er_point){0.0, old->points[0].value + er_ground_elevation(old, start)};
    points[1] = (struct er_point){to->at - from->at, points[0].value + to->value - from->value};
}

/* The stretch of ground of length `span` that begins at `start`. A profile keeps its heights. */
static enum er_status cut_ground(enum er_system system, const struct er_ground *old, double start,
                                 double span, struct er_arena *arena, struct er_ground *cut)
{
    *cut = *old;
    if (old->count == 0) {
        return ER_OK;
    }
    struct er_point *points = er_arena_array(arena, old->count + 2, sizeof *points);
    if (points == NULL) {
        return ER_NO_MEMORY;
    }
    points[0] = (struct er_point){0.0, old->points[0].value + er_ground_elevation(old, start)};
    size_t count = 1;
    for (size_t p = 0; p < old->count && points[count - 1].at <= span; p++) {
        if (old->points[p].at > start + SAME_PLACE) {
            points[count++] = (struct er_point){as_written(system, old->points[p].at - start),
                                                old->points[p].value};
        }
    }
    if (count == 1) {
        go_on(old, start, points);
        count = 2;
    }
    cut->points = points;
    cut->count = count;
    return ER_OK;
}

static enum er_feed new_feed(const struct er_zone *old, const struct er_zone_layout *layout)
{
    if (layout->feed >= 0) {
        return (enum er_feed)layout->feed;
    }
    return old->header.feed == ER_FEED_AT ? ER_FEED_MIDDLE : old->header.feed;
}

enum er_status er_zone_cut(const struct er_field *field, const struct er_piece *piece,
                           const struct er_zone_layout *layout, struct er_arena *arena,
                           struct er_zone *cut, double *feed_at)
{
    const struct er_zone *old = &field->zones[piece->zone];
    *cut = *old;
    *feed_at = er_feed_distance(old);
    if (er_piece_is_zone(field, piece)) {
        if (layout->whole_zones) {
            cut->header.feed = new_feed(old, layout);
            cut->header.feed_distance = 0.0;
            *feed_at = er_feed_distance(cut);
        }
        return ER_OK;
    }
    double start = er_bed_distance(old, piece->first_bed);
    enum er_status status = cut_groups(old, piece, arena, cut);
    if (status == ER_OK) {
        status = cut_ground(field->system, &old->header.ground, start, er_header_span(cut), arena,
                            &cut->header.ground);
    }
    cut->header.feed = new_feed(old, layout);
    cut->header.feed_distance = 0.0;
    if (status == ER_OK) {
        *feed_at = start + er_feed_distance(cut);
    }
    return status;
}

bool er_feed_stays(const struct er_zone *old, double feed_at)
{
    return fabs(feed_at - er_feed_distance(old)) <= SAME_PLACE;
}

struct er_section er_section_onward(const struct er_field *field, const struct er_zone *old,
                                    const struct er_zone_layout *layout, double from_feed,
                                    double feed_at)
{
    const struct er_ground *ground = &old->header.ground;
    struct er_section onward = {.pipe = layout->pipe, .from = old->on};
    if (old->on != ER_HEADWORKS) {
        onward.fittings = field->mainline[old->on].fittings;
    }
    if (onward.pipe == NULL) {
        onward.pipe =
            old->on != ER_HEADWORKS ? field->mainline[old->on].pipe : old->header.pieces[0].pipe;
    }
    onward.length = fabs(feed_at - from_feed);
    onward.rise = er_ground_elevation(ground, feed_at) - er_ground_elevation(ground, from_feed);
    if (er_feed_stays(old, from_feed)) {
        onward.length += old->header.lead;
        onward.rise += old->rise;
    }
    onward.length = as_written(field->system, onward.length);
    onward.rise = as_written(field->system, onward.rise);
    return onward;
}

void er_zone_join(struct er_zone *zone, size_t section)
{
    zone->on = section;
    zone->rise = 0.0;
    zone->header.lead = 0.0;
}
