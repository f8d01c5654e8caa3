/* A piece of a zone judged as a field of its own, and rows of such pieces for the search. */
#include "plan/segments.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "evenrow/hydraulics.h"
#include "plan/cut.h"

/* A segment that takes more than this many times what the source may give is not gone beyond.
 * More beds on the same header take more, but for what a new place of the feed point can save;
 * that is far less than half. */
#define BEYOND 2.0

#define LIMIT_TOLERANCE 1e-9 /* relative, as findings have it */

static const struct er_set first_zone_alone[1] = {{1, (const size_t[]){0}}};

/* The mainline with the section on which it goes on to the piece, if it has to. */
static enum er_status reach_piece(const struct er_field *field, const struct er_zone_layout *layout,
                                  const struct er_zone *old, double feed_at, struct er_zone *zone,
                                  struct er_field *alone)
{
    if (er_feed_stays(old, feed_at)) {
        return ER_OK;
    }
    struct er_section *sections =
        er_arena_array(&alone->arena, field->section_count + 1, sizeof *sections);
    if (sections == NULL) {
        return ER_NO_MEMORY;
    }
    for (size_t s = 0; s < field->section_count; s++) {
        sections[s] = field->mainline[s];
    }
    struct er_section *onward = &sections[field->section_count];
    *onward = er_section_onward(field, old, layout, er_feed_distance(old), feed_at);
    onward->name = "onward";
    er_zone_join(zone, field->section_count);
    alone->mainline = sections;
    alone->section_count = field->section_count + 1;
    return ER_OK;
}

enum er_status er_piece_alone(const struct er_field *field, const struct er_piece *piece,
                              const struct er_zone_layout *layout, struct er_field *alone)
{
    double feed_at;
    const struct er_zone *old = &field->zones[piece->zone];
    *alone = *field;
    alone->arena = (struct er_arena){0};
    alone->hours = (double)INFINITY;
    alone->source.storage = (double)NAN;
    alone->source.refill = (double)NAN;
    alone->assumption_count = 0;
    struct er_zone *zone = er_arena_array(&alone->arena, 1, sizeof *zone);
    enum er_status status = zone != NULL ? ER_OK : ER_NO_MEMORY;
    if (status == ER_OK) {
        status = er_zone_cut(field, piece, layout, &alone->arena, zone, &feed_at);
    }
    if (status == ER_OK) {
        status = reach_piece(field, layout, old, feed_at, zone, alone);
    }
    alone->zones = zone;
    alone->zone_count = 1;
    alone->sets = first_zone_alone;
    alone->set_count = 1;
    if (status != ER_OK) {
        er_field_release(alone);
    }
    return status;
}

static unsigned fails_of(const struct er_result *result)
{
    unsigned fails = 0;
    for (size_t f = 0; f < result->finding_count; f++) {
        enum er_finding_code code = result->findings[f].code;
        if (er_finding_kind(code)->level == ER_FAIL) {
            fails |= 1U << code;
        }
    }
    return fails;
}

static struct er_segment segment_of(const struct er_result *result)
{
    const struct er_zone_result *zone = &result->zones[0];
    struct er_segment segment = {.fails = fails_of(result),
                                 .flow = zone->flow,
                                 .hours = zone->run_time / result->field->zones[0].water.every};
    segment.volume = segment.flow * segment.hours;
    return segment;
}

/* By an estimate; emitter by emitter where that is too close to call. */
static enum er_status judge(struct er_segments *segments, const struct er_field *alone,
                            struct er_segment *segment)
{
    struct er_result result;
    struct er_failure failure;
    bool close_call;
    enum er_status status =
        er_screen_check(segments->screen, alone, alone->system, &result, &close_call);
    if (status == ER_NOT_CLOSED || (status == ER_OK && close_call)) {
        if (status == ER_OK) {
            er_result_release(&result);
        }
        status = er_check(alone, alone->system, &result, &failure);
    }
    if (status == ER_OK) {
        *segment = segment_of(&result);
        er_result_release(&result);
    } else if (status == ER_NOT_CLOSED) {
        *segment = (struct er_segment){
            .fails = ER_UNSOLVED, .flow = (double)NAN, .hours = (double)NAN, .volume = (double)NAN};
        status = ER_OK;
    }
    segments->judged++;
    return status;
}

static enum er_status make_room(struct er_segment_row *row)
{
    if (row->count < row->room) {
        return ER_OK;
    }
    size_t room = row->room ? 2 * row->room : 16;
    struct er_segment *grown = realloc(row->segments, room * sizeof *grown);
    if (grown == NULL) {
        return ER_NO_MEMORY;
    }
    row->segments = grown;
    row->room = room;
    return ER_OK;
}

struct er_piece er_segment_piece(const struct er_segments *segments, size_t from, size_t beds)
{
    size_t zone = segments->zones[from];
    return (struct er_piece){zone, from - segments->zone_starts[zone], beds};
}

/* Judges one bed more than the row has. */
static enum er_status lengthen(struct er_segments *segments, size_t from)
{
    struct er_segment_row *row = &segments->rows[from];
    struct er_piece piece = er_segment_piece(segments, from, row->count + 1);
    struct er_field alone;
    enum er_status status = make_room(row);
    if (status == ER_OK) {
        status = er_piece_alone(segments->field, &piece, segments->layout, &alone);
    }
    if (status == ER_OK) {
        status = judge(segments, &alone, &row->segments[row->count]);
        er_field_release(&alone);
    }
    row->count += status == ER_OK;
    return status;
}

enum er_status er_segments_fill(struct er_segments *segments, size_t from)
{
    const struct er_segment_row *row = &segments->rows[from];
    size_t end = segments->zone_starts[segments->zones[from] + 1];
    double beyond =
        BEYOND * fmin(segments->flow_limit, er_source_last_flow(&segments->field->source));
    enum er_status status = ER_OK;
    while (status == ER_OK && from + row->count < end &&
           (row->count == 0 || !(row->segments[row->count - 1].flow > beyond))) {
        status = lengthen(segments, from);
    }
    return status;
}

bool er_segment_passes(const struct er_segments *segments, const struct er_segment *segment)
{
    return (segment->fails & ~(1U << ER_SOURCE_FLOW)) == 0 &&
           (!(segment->fails & 1U << ER_SOURCE_FLOW) ||
            segments->flow_limit > segments->field->source.flow_limit) &&
           segment->flow <= segments->flow_limit * (1.0 + LIMIT_TOLERANCE);
}

static void list_beds(struct er_segments *segments)
{
    size_t bed = 0;
    for (size_t z = 0; z < segments->field->zone_count; z++) {
        segments->zone_starts[z] = bed;
        size_t end = bed + er_zone_beds(&segments->field->zones[z]);
        while (bed < end) {
            segments->zones[bed++] = z;
        }
    }
    segments->zone_starts[segments->field->zone_count] = bed;
}

enum er_status er_segments_open(struct er_segments *segments, const struct er_field *field,
                                const struct er_zone_layout *layout, struct er_screen *screen)
{
    *segments = (struct er_segments){.field = field, .layout = layout, .screen = screen};
    segments->flow_limit =
        er_given(field->source.flow_limit) ? field->source.flow_limit : (double)INFINITY;
    for (size_t z = 0; z < field->zone_count; z++) {
        segments->beds += er_zone_beds(&field->zones[z]);
    }
    /* One more, for calloc may give NULL for none. */
    segments->zones = calloc(segments->beds + 1, sizeof *segments->zones);
    segments->zone_starts = calloc(field->zone_count + 1, sizeof *segments->zone_starts);
    segments->rows = calloc(segments->beds + 1, sizeof *segments->rows);
    if (segments->zones == NULL || segments->zone_starts == NULL || segments->rows == NULL) {
        return ER_NO_MEMORY;
    }
    list_beds(segments);
    return ER_OK;
}

void er_segments_release(struct er_segments *segments)
{
    for (size_t b = 0; segments->rows != NULL && b < segments->beds; b++) {
        free(segments->rows[b].segments);
    }
    free(segments->rows);
    free(segments->zones);
    free(segments->zone_starts);
    memset(segments, 0, sizeof *segments);
}
