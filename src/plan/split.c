/* How many zones, and which beds go where (evenrow/split.h). */
#include "evenrow/split.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "plan/splitter.h"

#define DAY_SLACK 1e-6 /* relative: how far the estimates of a day may be off together */
/* Numbers of zones, for sets of two: for each of them every two zones are screened as a set.
 * Chosen; with three the tests of split come out the same. */
#define MOST_SETS_TRIED 12
#define MOST_REFUSED                                                                               \
    4 /* divisions that pass but for runs that do not go into the days: more                       \
         zones have as long runs, and more of them */

struct er_division_limits er_day_limits(const struct er_field *field)
{
    struct er_division_limits limits = {(double)INFINITY, (double)INFINITY, 0.0, (double)INFINITY};
    for (size_t z = 0; z < field->zone_count; z++) {
        if (field->zones[z].water.need_kind == ER_NEED_NONE) {
            return limits; /* the day's hours are not known then, and not judged */
        }
    }
    double stored = er_given(field->source.storage) ? field->source.storage : 0.0;
    double refilled = er_given(field->source.refill) ? field->source.refill * ER_DAY : 0.0;
    limits.hours = field->hours;
    if (er_given(field->source.storage) || er_given(field->source.refill)) {
        limits.volume = stored + refilled;
    }
    return limits;
}

static struct er_range flows_of(const struct er_result *result)
{
    struct er_range flow = {result->zones[0].flow, result->zones[0].flow};
    for (size_t z = 1; z < result->field->zone_count; z++) {
        flow.min = fmin(flow.min, result->zones[z].flow);
        flow.max = fmax(flow.max, result->zones[z].flow);
    }
    return flow;
}

/* Fills a row by a division's result. */
static enum er_status describe(struct er_splitter *splitter, struct er_split_try *row,
                               const struct er_result *result)
{
    row->flow = flows_of(result);
    row->passes = result->verdict != ER_FAILS;
    row->text = NULL;
    if (row->passes) {
        return ER_OK;
    }
    row->code = result->findings[0].code;
    row->text = er_arena_text(&splitter->split->arena, result->findings[0].text);
    return row->text != NULL ? ER_OK : ER_NO_MEMORY;
}

static struct er_split_try *add_row(struct er_splitter *splitter, size_t zones)
{
    struct er_split_try *row = &splitter->tries[splitter->split->try_count++];
    *row = (struct er_split_try){
        .zones = zones, .flow = {(double)NAN, (double)NAN}, .code = ER_FINDING_COUNT};
    return row;
}

/* Makes a division that passes the answer. It takes `divided` and `result`. */
static enum er_status keep_answer(struct er_splitter *splitter, size_t count,
                                  const struct er_field *divided, const struct er_result *result)
{
    struct er_split *split = splitter->split;
    er_result_release(&split->result);
    er_field_release(&split->field);
    split->field = *divided;
    split->result = *result;
    split->result.field = &split->field;
    struct er_piece *pieces = er_arena_array(&split->arena, count, sizeof *pieces);
    size_t *origins = er_arena_array(&split->arena, count, sizeof *origins);
    if (pieces == NULL || origins == NULL) {
        return ER_NO_MEMORY;
    }
    memcpy(pieces, splitter->pieces, count * sizeof *pieces);
    memcpy(origins, splitter->origins, count * sizeof *origins);
    split->pieces = pieces;
    split->origins = origins;
    split->zone_count = count;
    split->answer = split->field.set_count < count ? ER_SPLIT_SETS : ER_SPLIT_FOUND;
    return ER_OK;
}

enum er_status er_splitter_conclude(struct er_splitter *splitter, size_t count, bool in_pairs,
                                    bool *passes)
{
    const struct er_split_ask *ask = splitter->ask;
    struct er_field divided;
    struct er_result result;
    struct er_failure failure;
    *passes = false;
    enum er_status status = er_field_divide(ask->field, splitter->pieces, count, &ask->layout,
                                            &divided, splitter->origins);
    if (status != ER_OK) {
        return status;
    }
    if (in_pairs) {
        status = er_pair_zones(&splitter->screen, &divided);
    }
    if (status == ER_OK) {
        status = er_check(&divided, ask->speaks, &result, &failure);
    }
    if (status == ER_OK && result.verdict != ER_FAILS) {
        *passes = true;
        return keep_answer(splitter, count, &divided, &result);
    }
    if (status == ER_OK) {
        er_result_release(&result);
    }
    er_field_release(&divided);
    return status == ER_NOT_CLOSED ? ER_OK : status;
}

/* The row of a number of zones of which no division passes: its most even one, estimated. Where
 * that was too close to call, and does pass, it is the answer. */
static enum er_status try_evenly(struct er_splitter *splitter, size_t count, bool *passes)
{
    const struct er_split_ask *ask = splitter->ask;
    struct er_field divided;
    struct er_result result;
    bool close_call;
    struct er_split_try *row = add_row(splitter, count);
    enum er_status status = er_field_part_evenly(ask->field, count, splitter->pieces);
    if (status == ER_OK) {
        status = er_field_divide(ask->field, splitter->pieces, count, &ask->layout, &divided,
                                 splitter->origins);
    }
    if (status != ER_OK) {
        return status;
    }
    status = er_screen_check(&splitter->screen, &divided, ask->speaks, &result, &close_call);
    if (status == ER_OK) {
        status = describe(splitter, row, &result);
        er_result_release(&result);
    }
    er_field_release(&divided);
    if (status == ER_OK && row->passes) {
        status = er_splitter_conclude(splitter, count, false, passes);
        row->passes = *passes;
    }
    return status == ER_NOT_CLOSED ? ER_OK : status;
}

/* The least number for which some division passes, and its most even one. */
static enum er_status search(struct er_splitter *splitter, bool *passes)
{
    size_t fewest = splitter->fewest, count;
    struct er_division_limits limits = splitter->limits;
    bool tightened = false;
    enum er_status status = ER_OK;
    for (size_t refused = 0; status == ER_OK && !*passes && refused < MOST_REFUSED; refused++) {
        status = er_division_find(&splitter->segments, &limits, fewest, splitter->most,
                                  splitter->pieces, &count);
        if (status != ER_OK || count == 0) {
            break;
        }
        status = er_division_even(&splitter->segments, &limits, count, splitter->pieces);
        if (status == ER_OK) {
            status = er_splitter_conclude(splitter, count, false, passes);
        }
        /* Refused here, it failed by a hair: the estimates made the day too short. */
        fewest = tightened ? count + 1 : count;
        limits.hours *= 1.0 - DAY_SLACK;
        limits.volume *= 1.0 - DAY_SLACK;
        tightened = true;
    }
    return status;
}

/* Where the zones pass but take too long one after another: two at a time. */
static enum er_status search_sets(struct er_splitter *splitter, bool *passes)
{
    struct er_division_limits any_hours = splitter->limits;
    any_hours.hours = (double)INFINITY;
    enum er_status status = ER_OK;
    size_t count, fewest = splitter->fewest;
    for (size_t tried = 0; status == ER_OK && !*passes && tried < MOST_SETS_TRIED; tried++) {
        status = er_division_find(&splitter->segments, &any_hours, fewest, splitter->most,
                                  splitter->pieces, &count);
        if (status != ER_OK || count == 0) {
            break;
        }
        status = er_division_even(&splitter->segments, &any_hours, count, splitter->pieces);
        if (status == ER_OK) {
            status = er_splitter_conclude(splitter, count, true, passes);
        }
        fewest = count + 1;
    }
    return status;
}

/* The rows of all numbers of zones below the answer's, and the answer's own. */
static enum er_status list_tries(struct er_splitter *splitter, bool *passes)
{
    enum er_status status = ER_OK;
    size_t end = *passes ? splitter->split->zone_count : splitter->most + 1;
    bool sooner = false;
    for (size_t k = splitter->fewest; status == ER_OK && !sooner && k < end; k++) {
        status = try_evenly(splitter, k, &sooner);
    }
    if (status == ER_OK && *passes && !sooner) {
        status = describe(splitter, add_row(splitter, end), &splitter->split->result);
    }
    *passes = *passes || sooner;
    return status;
}

static enum er_status divide(struct er_splitter *splitter)
{
    bool passes = false;
    enum er_status status = search(splitter, &passes);
    if (status == ER_OK && !passes && isfinite(splitter->limits.hours)) {
        status = search_sets(splitter, &passes);
    }
    if (status == ER_OK) {
        status = list_tries(splitter, &passes);
    }
    if (status == ER_OK && !passes) {
        splitter->split->answer = ER_SPLIT_NONE;
        status = er_splitter_explain(splitter);
    }
    /* Where runs do not go into the days the obstacle itself says what to do. */
    bool asked = !passes && splitter->split->obstacle.kind != ER_OBSTACLE_RUNS;
    return status == ER_OK && asked ? er_splitter_find_remedies(splitter) : status;
}

/* The field as it is, with its own zones and sets. It can be the answer where another number of
 * zones is not asked for. */
static enum er_status judge_as_it_is(struct er_splitter *splitter, bool *passes)
{
    const struct er_field *field = splitter->ask->field;
    struct er_failure failure;
    struct er_result result;
    *passes = false;
    enum er_status status = er_check(field, splitter->ask->speaks, &result, &failure);
    if (status != ER_OK) {
        return status == ER_NOT_CLOSED ? ER_OK : status;
    }
    splitter->split->is_checked = true;
    splitter->split->check_verdict = result.verdict;
    if (result.verdict == ER_FAILS || splitter->fewest != field->zone_count) {
        er_result_release(&result);
        return ER_OK;
    }
    *passes = true;
    struct er_field same = *field;
    same.arena = (struct er_arena){0};
    for (size_t z = 0; z < field->zone_count; z++) {
        splitter->pieces[z] = (struct er_piece){z, 0, er_zone_beds(&field->zones[z])};
        splitter->origins[z] = z;
    }
    status = keep_answer(splitter, field->zone_count, &same, &result);
    splitter->split->answer = ER_SPLIT_PASSES;
    return status == ER_OK
               ? describe(splitter, add_row(splitter, field->zone_count), &splitter->split->result)
               : status;
}

static enum er_status open_splitter(struct er_splitter *splitter)
{
    const struct er_split_ask *ask = splitter->ask;
    struct er_arena *arena = &splitter->split->arena;
    enum er_status status =
        er_segments_open(&splitter->segments, ask->field, &ask->layout, &splitter->screen);
    if (status != ER_OK) {
        return status;
    }
    size_t beds = splitter->segments.beds;
    splitter->limits = er_day_limits(ask->field);
    splitter->fewest = ask->zones > 0 ? ask->zones : ask->field->zone_count;
    splitter->most = ask->zones > 0 ? ask->zones : beds;
    splitter->pieces = er_arena_array(arena, beds, sizeof *splitter->pieces);
    splitter->origins = er_arena_array(arena, beds, sizeof *splitter->origins);
    splitter->tries = er_arena_array(arena, beds, sizeof *splitter->tries);
    splitter->split->tries = splitter->tries;
    return splitter->pieces != NULL && splitter->origins != NULL && splitter->tries != NULL
               ? ER_OK
               : ER_NO_MEMORY;
}

enum er_status er_field_split(const struct er_split_ask *ask, struct er_split *split)
{
    memset(split, 0, sizeof *split);
    struct er_splitter splitter = {.ask = ask, .split = split};
    bool passes = false;
    enum er_status status = open_splitter(&splitter);
    if (status == ER_OK) {
        status = judge_as_it_is(&splitter, &passes);
    }
    if (status == ER_OK && !passes) {
        status = divide(&splitter);
    }
    if (status == ER_OK && split->answer != ER_SPLIT_NONE) {
        status = er_splitter_find_pairs(&splitter);
    }
    er_segments_release(&splitter.segments);
    er_screen_release(&splitter.screen);
    if (status != ER_OK) {
        er_split_release(split);
    }
    return status;
}

void er_split_release(struct er_split *split)
{
    er_result_release(&split->result);
    er_field_release(&split->field);
    er_arena_release(&split->arena);
    memset(split, 0, sizeof *split);
}
