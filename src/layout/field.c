/* What a field can be asked about itself (evenrow/field.h). */
#include "evenrow/field.h"

#include <stdint.h>
#include <string.h>

#define PI 3.14159265358979323846

/* A length that is a whole number of spacings but for rounding counts in full. */
static const double WHOLE_SPACING_SLACK = 1e-9;

void er_field_release(struct er_field *field)
{
    er_arena_release(&field->arena);
    memset(field, 0, sizeof *field);
}

/* The last profile point, but never the very last of all, that is not beyond `distance`. */
static const struct er_point *point_before(const struct er_ground *ground, double distance)
{
    size_t low = 0;
    size_t high = ground->count - 1;
    while (high - low > 1) {
        const size_t middle = low + (high - low) / 2;
        if (ground->points[middle].at <= distance) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return &ground->points[low];
}

double er_ground_elevation(const struct er_ground *ground, double distance)
{
    if (ground->count < 2) {
        return ground->slope * distance;
    }
    const struct er_point *from = point_before(ground, distance);
    const struct er_point *to = from + 1;
    const double part = (distance - from->at) / (to->at - from->at);
    return from->value - ground->points[0].value + part * (to->value - from->value);
}

double er_group_step(const struct er_zone *zone, size_t group)
{
    const struct er_bed_group *before = &zone->groups[group - 1];
    const struct er_bed_group *here = &zone->groups[group];
    return (double)(before->count - 1) * before->spacing + 0.5 * before->spacing +
           0.5 * here->spacing + here->gap;
}

double er_header_span(const struct er_zone *zone)
{
    double span = 0.0;
    for (size_t g = 1; g < zone->group_count; g++) {
        span += er_group_step(zone, g);
    }
    const struct er_bed_group *last = &zone->groups[zone->group_count - 1];
    return span + (double)(last->count - 1) * last->spacing;
}

double er_feed_distance(const struct er_zone *zone)
{
    const double span = er_header_span(zone);
    switch (zone->header.feed) {
    case ER_FEED_LAST:
        return span;
    case ER_FEED_MIDDLE:
        return 0.5 * span;
    case ER_FEED_AT:
        return fmin(zone->header.feed_distance, span);
    case ER_FEED_FIRST:
        break;
    }
    return 0.0;
}

double er_bed_length(const struct er_bed_group *group, size_t index, bool second_side)
{
    const double first = second_side ? group->other_length : group->length;
    if (group->count < 2 || index == 0) {
        return first;
    }
    /* The second side tapers in the same proportion as the first. */
    const double last =
        second_side ? first * (group->last_length / group->length) : group->last_length;
    if (index >= group->count - 1) {
        return last;
    }
    return first + (last - first) * ((double)index / (double)(group->count - 1));
}

size_t er_tape_emitters(const struct er_tape *tape, double length)
{
    if (!(tape->emitter_spacing > 0.0)) { /* one that could not be read */
        return 0;
    }
    const double count = floor(length / tape->emitter_spacing + WHOLE_SPACING_SLACK);
    if (!(count >= 1.0)) { /* also when it is no number */
        return 0;
    }
    return count < (double)SIZE_MAX ? (size_t)count : SIZE_MAX;
}

double er_pipe_area(double diameter) { return PI / 4.0 * diameter * diameter; }
