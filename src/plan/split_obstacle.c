/* What stands in the way of every division. */
#include <math.h>

#include "plan/splitter.h"

/* Finds the first bed that is in no segment that passes, and counts such beds. */
static enum er_status find_lone_beds(struct er_splitter *splitter, size_t *first, size_t *beds)
{
    struct er_segments *segments = &splitter->segments;
    size_t covered = 0; /* every bed before it is in one, or has been counted */
    enum er_status status = ER_OK;
    *beds = 0;
    for (size_t from = 0; status == ER_OK && from < segments->beds; from++) {
        status = er_segments_fill(segments, from);
        const struct er_segment_row *row = &segments->rows[from];
        for (size_t length = row->count; status == ER_OK && length > 0; length--) {
            if (er_segment_passes(segments, &row->segments[length - 1])) {
                covered = from + length > covered ? from + length : covered;
                break;
            }
        }
        if (covered <= from) {
            *first = *beds == 0 ? from : *first;
            covered = from + 1;
            (*beds)++;
        }
    }
    return status;
}

/* What the bed fails by when it is a zone of its own. */
static enum er_status explain_bed(struct er_splitter *splitter, size_t bed)
{
    const struct er_split_ask *ask = splitter->ask;
    struct er_split_obstacle *obstacle = &splitter->split->obstacle;
    struct er_field alone;
    struct er_result result;
    struct er_failure failure;
    obstacle->kind = ER_OBSTACLE_BED;
    obstacle->bed = er_segment_piece(&splitter->segments, bed, 1);
    obstacle->code = ER_FINDING_COUNT;
    enum er_status status = er_piece_alone(ask->field, &obstacle->bed, &ask->layout, &alone);
    if (status != ER_OK) {
        return status;
    }
    status = er_check(&alone, ask->speaks, &result, &failure);
    if (status == ER_OK) {
        obstacle->bed_flow = result.zones[0].flow;
        obstacle->code = result.findings[0].code;
        obstacle->text = er_arena_text(&splitter->split->arena, result.findings[0].text);
        status = obstacle->text != NULL ? ER_OK : ER_NO_MEMORY;
        er_result_release(&result);
    }
    er_field_release(&alone);
    return status == ER_NOT_CLOSED ? ER_OK : status;
}

/* The least of hours or volume with which a division is left, the other being free: by halves
 * from `*most`, which is enough, down to `low`, which is not. Three figures of it are told: found
 * within a hundredth instead of a ten-thousandth, they come out otherwise. */
static enum er_status find_least(struct er_splitter *splitter, double low, double *most, bool hours)
{
    struct er_division_limits limits = {(double)INFINITY, (double)INFINITY, 0.0, (double)INFINITY};
    enum er_status status = ER_OK;
    while (status == ER_OK && *most - low > 1e-4 * *most) {
        size_t count;
        double tried = 0.5 * (low + *most);
        *(hours ? &limits.hours : &limits.volume) = tried;
        status = er_division_find(&splitter->segments, &limits, splitter->fewest, splitter->most,
                                  splitter->pieces, &count);
        *(count > 0 ? most : &low) = tried;
    }
    return status;
}

/* Sums what a day of the first `count` pieces takes. */
static struct er_division_limits sum_day(const struct er_splitter *splitter, size_t count)
{
    const struct er_segments *segments = &splitter->segments;
    struct er_division_limits day = {0.0, 0.0, 0.0, 0.0};
    for (size_t p = 0; p < count; p++) {
        const struct er_piece *piece = &splitter->pieces[p];
        size_t from = segments->zone_starts[piece->zone] + piece->first_bed;
        const struct er_segment *segment = &segments->rows[from].segments[piece->bed_count - 1];
        day.hours += segment->hours;
        day.volume += segment->volume;
    }
    return day;
}

/* Zones pass that cover all beds: their day is too long, or takes too much. */
static enum er_status explain_day(struct er_splitter *splitter, size_t count)
{
    struct er_split_obstacle *obstacle = &splitter->split->obstacle;
    struct er_division_limits least = sum_day(splitter, count);
    enum er_status status = ER_OK;
    if (isfinite(splitter->limits.hours)) {
        status = find_least(splitter, 0.0, &least.hours, true);
    }
    if (status == ER_OK && isfinite(splitter->limits.volume)) {
        status = find_least(splitter, 0.0, &least.volume, false);
    }
    obstacle->kind = ER_OBSTACLE_DAY;
    if (least.hours > splitter->limits.hours) {
        obstacle->kind = ER_OBSTACLE_HOURS;
        obstacle->needed = least.hours;
        obstacle->available = splitter->limits.hours;
    } else if (least.volume > splitter->limits.volume) {
        obstacle->kind = ER_OBSTACLE_STORAGE;
        obstacle->needed = least.volume;
        obstacle->available = splitter->limits.volume;
    } else if (status == ER_OK) { /* a division within both was refused by its runs alone */
        status = er_division_find(&splitter->segments, &splitter->limits, splitter->fewest,
                                  splitter->most, splitter->pieces, &count);
        obstacle->kind = count > 0 ? ER_OBSTACLE_RUNS : ER_OBSTACLE_DAY;
    }
    return status;
}

enum er_status er_splitter_explain(struct er_splitter *splitter)
{
    struct er_division_limits any = {(double)INFINITY, (double)INFINITY, 0.0, (double)INFINITY};
    size_t first = 0, count;
    struct er_split_obstacle *obstacle = &splitter->split->obstacle;
    enum er_status status = find_lone_beds(splitter, &first, &obstacle->beds);
    if (status != ER_OK) {
        return status;
    }
    if (obstacle->beds > 0) {
        return explain_bed(splitter, first);
    }
    obstacle->kind = ER_OBSTACLE_FIT;
    status = er_division_find(&splitter->segments, &any, splitter->fewest, splitter->most,
                              splitter->pieces, &count);
    return status == ER_OK && count > 0 ? explain_day(splitter, count) : status;
}
