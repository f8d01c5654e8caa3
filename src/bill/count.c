/* A walk over the pipes, the rows and the fittings of a field, zone by zone. */
#include "bill/count.h"

#include "hydraulics/network.h"

static void count_pipe(const struct er_counter *counter, const struct er_pipe *pipe, double length,
                       enum er_stretch stretch)
{
    if (counter->pipe != NULL && length > 0.0) {
        counter->pipe(counter->context, pipe, length, stretch);
    }
}

static void count_goods(const struct er_counter *counter, enum er_good good, double count)
{
    if (counter->goods != NULL) {
        counter->goods(counter->context, good, count);
    }
}

static void count_header_pipe(void *context, const struct er_pipe *pipe, double from, double to)
{
    count_pipe(context, pipe, to - from, ER_STRETCH_HEADER);
}

static void count_header(const struct er_counter *counter, const struct er_zone *zone)
{
    const double feed = er_feed_distance(zone);
    struct er_counter own = *counter; /* for a visitor that may change what it is given */
    er_header_pieces(&zone->header, 0.0, feed, count_header_pipe, &own);
    er_header_pieces(&zone->header, 0.0, er_header_span(zone) - feed, count_header_pipe, &own);
    count_pipe(counter, zone->header.pieces[0].pipe, zone->header.lead, ER_STRETCH_LEAD);
}

double er_rows_length(const struct er_bed_group *group, bool second_side)
{
    /* The lengths run evenly from the first bed to the last. */
    const double first = er_bed_length(group, 0, second_side);
    const double last = er_bed_length(group, group->count - 1, second_side);
    return (double)group->count * (double)group->tapes * 0.5 * (first + last);
}

static void count_group(const struct er_counter *counter, const struct er_bed_group *group)
{
    const double rows = (double)group->count * (double)group->tapes;
    if (counter->rows != NULL) {
        counter->rows(counter->context, group, false, rows);
        if (group->both_sides) {
            counter->rows(counter->context, group, true, rows);
        }
    }
    count_goods(counter, ER_TAPE_FITTING, group->both_sides ? 2.0 * rows : rows);
    count_goods(counter, ER_TAPE_END, group->both_sides ? 2.0 * rows : rows);
}

static void count_zone(const struct er_counter *counter, const struct er_zone *zone)
{
    count_header(counter, zone);
    for (size_t i = 0; i < zone->group_count; i++) {
        count_group(counter, &zone->groups[i]);
    }
    count_goods(counter, ER_VALVE, 1.0);
    if (zone->regulator != NULL) {
        count_goods(counter, ER_REGULATOR, 1.0);
    }
}

void er_count_field(const struct er_field *field, const struct er_counter *counter)
{
    for (size_t i = 0; i < field->section_count; i++) {
        count_pipe(counter, field->mainline[i].pipe, field->mainline[i].length,
                   ER_STRETCH_MAINLINE);
    }
    for (size_t i = 0; i < field->zone_count; i++) {
        count_zone(counter, &field->zones[i]);
    }
}
