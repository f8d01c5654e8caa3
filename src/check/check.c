/* One field in, one result out. */
#include "evenrow/check.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "check/figures.h"
#include "check/judge.h"
#include "check/screen.h"
#include "hydraulics/network.h"

#define SAME_FLOW 1e-9 /* relative: sets whose flows differ by less are equally busy */
#define AS_BAD 1e-6    /* relative: of fails whose badness differs by less none is worse */

struct check {
    const struct er_field *field;
    struct er_screen *screen; /* for an estimate; NULL: each emitter counts */
    struct er_result *result;
    struct er_judge judge;
    struct er_failure *failure;
};

/* Every finding of a solved set but those of its water and of the whole day. */
static enum er_status judge_set(struct er_judge *judge, struct er_network *network, size_t set,
                                bool estimated, struct er_zone_result *zones)
{
    const struct er_set *plan = &judge->field->sets[set];
    er_judge_supply(judge, network, set);
    er_judge_mainline(judge, network);
    for (size_t z = 0; z < network->zone_count; z++) {
        struct er_zone_result *result = &zones[z];
        *result = (struct er_zone_result){.zone = plan->zones[z], .set = set};
        enum er_status status = ER_OK;
        if (estimated) {
            er_work_out_estimated_zone(network, &network->zones[z], result);
        } else {
            status = er_work_out_zone(network, &network->zones[z], result);
        }
        if (status != ER_OK) {
            return status;
        }
        er_judge_zone(judge, network, &network->zones[z], result);
        er_judge_evenness(judge, result);
    }
    return ER_OK;
}

static void record_sections(struct er_result *result, const struct er_network *network, size_t set)
{
    const struct er_field *field = result->field;
    for (size_t s = 0; s < field->section_count; s++) {
        struct er_section_result *section = &result->sections[s];
        const struct er_section_flow *at = &network->sections[s];
        if (set > 0 && !(at->flow > section->flow * (1.0 + SAME_FLOW))) {
            continue;
        }
        section->flow = at->flow;
        section->velocity = at->flow / er_pipe_area(field->mainline[s].pipe->inside_diameter);
        section->end_pressure = at->end_pressure;
        section->set = set;
    }
}

/* What the source may give; measured flows do not tell beyond the last. */
static double source_limit(const struct er_source *source)
{
    double measured = er_source_last_flow(source);
    double flow = er_given(source->flow_limit) ? source->flow_limit : measured;
    return isfinite(flow) ? flow : ER_NONE;
}

static void record_set(struct er_result *result, const struct er_network *network, size_t set)
{
    struct er_set_result *at = &result->sets[set];
    at->flow = network->flow;
    at->source_pressure = network->source_pressure;
    at->after_headworks = network->headworks_pressure;
    at->source_limit = source_limit(&result->field->source);
    at->run_time = 0.0;
    record_sections(result, network, set);
}

static void fail_at(struct er_failure *failure, const struct er_network *network, size_t set)
{
    *failure = network->failure;
    snprintf(failure->what, sizeof failure->what, "set %zu", set + 1);
}

/* The first kind of fail that the set shows with dirty filters and not with clean ones, where it is
 * worst: the file's order chooses only among places that are as bad. */
static const struct er_finding *fail_by_dirt(const struct er_judge *clean,
                                             const struct er_judge *dirty)
{
    const struct er_judged *worst = NULL;
    for (size_t f = 0; f < dirty->count; f++) {
        const struct er_judged *one = &dirty->judged[f];
        if (er_finding_kind(one->finding.code)->level != ER_FAIL ||
            er_judge_has(clean, &one->finding)) {
            continue;
        }
        if (!worst || (one->finding.code == worst->finding.code &&
                       one->finding.place == worst->finding.place &&
                       one->badness > worst->badness * (1.0 + AS_BAD))) {
            worst = one;
        }
    }
    return worst ? &worst->finding : NULL;
}

static enum er_status check_dirty(struct check *check, struct er_network *network, size_t set,
                                  struct er_judge *clean)
{
    struct er_judge dirty = {.arena = clean->arena, .field = clean->field, .speaks = clean->speaks};
    struct er_zone_result *zones =
        er_arena_array(&network->arena, network->zone_count, sizeof *zones);
    if (!zones) {
        return ER_NO_MEMORY;
    }
    enum er_status status =
        check->screen ? er_network_estimate(network, true) : er_network_solve(network, true);
    if (status == ER_OK) {
        status = judge_set(&dirty, network, set, check->screen != NULL, zones);
    }
    if (status == ER_NOT_CLOSED) {
        fail_at(check->failure, network, set);
    }
    clean->close_call = clean->close_call || dirty.close_call;
    er_judge_sort(&dirty);
    const struct er_finding *fail = fail_by_dirt(clean, &dirty);
    if (status == ER_OK && fail) {
        er_judge_add(clean, ER_FILTER_DIRTY, ER_PLACE_SET, set, 1.0,
                     "with filters due for cleaning, set %zu fails (%s): %s. Clean earlier, or "
                     "take a larger filter",
                     set + 1, er_finding_kind(fail->code)->code, fail->text);
    }
    if (dirty.out_of_memory) {
        status = ER_NO_MEMORY;
    }
    er_judge_release(&dirty);
    return status;
}

/* What a screening finds besides, where it has found nothing yet. */
static enum er_status screen_cautions(struct check *check, struct er_network *network, size_t set,
                                      struct er_judge *judge, const struct er_zone_result *zones)
{
    const struct er_field *field = check->field;
    enum er_status status = ER_OK;
    for (size_t z = 0; status == ER_OK && z < network->zone_count; z++) {
        bool flushes = true;
        status = er_flushed_zone(&check->screen->flushed, &field->zones[zones[z].zone],
                                 zones[z].tape_inlet_pressure.min, field->limits.flush_velocity,
                                 &flushes, &judge->close_call);
        if (!flushes) {
            er_judge_add(judge, ER_FLUSH_WEAK, ER_PLACE_ZONE, zones[z].zone, 1.0, "%s", "");
        }
    }
    if (status != ER_OK || judge->count > 0 || !er_set_gets_dirty(field, &field->sets[set])) {
        return status;
    }
    return check_dirty(check, network, set, judge);
}

static void merge_judged(struct er_judge *all, const struct er_judge *some)
{
    for (size_t f = 0; f < some->count; f++) {
        const struct er_judged *one = &some->judged[f];
        er_judge_add(all, one->finding.code, one->finding.place, one->finding.index, one->badness,
                     "%s", one->finding.text ? one->finding.text : "");
    }
    all->out_of_memory = all->out_of_memory || some->out_of_memory;
    all->close_call = all->close_call || some->close_call;
}

static enum er_status solve_and_judge(struct check *check, struct er_network *network, size_t set,
                                      struct er_judge *judge)
{
    const struct er_set *plan = &check->field->sets[set];
    struct er_zone_result *zones =
        er_arena_array(&network->arena, network->zone_count, sizeof *zones);
    bool estimated = check->screen != NULL;
    enum er_status status = ER_NO_MEMORY;
    if (zones) {
        status = estimated ? er_network_estimate(network, false) : er_network_solve(network, false);
    }
    if (status == ER_OK) {
        status = judge_set(judge, network, set, estimated, zones);
    }
    if (status == ER_NOT_CLOSED) {
        fail_at(check->failure, network, set);
    }
    if (status != ER_OK) {
        return status;
    }
    record_set(check->result, network, set);
    for (size_t z = 0; z < network->zone_count; z++) {
        struct er_set_result *at = &check->result->sets[set];
        check->result->zones[zones[z].zone] = zones[z];
        /* A zone without a run time leaves the set without one. */
        at->run_time = zones[z].run_time > at->run_time || isnan(zones[z].run_time)
                           ? zones[z].run_time
                           : at->run_time;
        er_judge_water(judge, &zones[z]);
    }
    if (estimated) {
        return check->screen->all_cautions && judge->count == 0
                   ? screen_cautions(check, network, set, judge, zones)
                   : ER_OK;
    }
    return er_set_gets_dirty(check->field, plan) ? check_dirty(check, network, set, judge) : ER_OK;
}

static enum er_status check_set(struct check *check, size_t set)
{
    struct er_network network;
    struct er_judge judge = {
        .arena = check->judge.arena, .field = check->field, .speaks = check->judge.speaks};
    enum er_status status = er_network_open(check->field, &check->field->sets[set],
                                            check->screen ? &check->screen->pool : NULL, &network);
    if (status == ER_OK) {
        status = solve_and_judge(check, &network, set, &judge);
    } else if (status == ER_NOT_CLOSED) {
        fail_at(check->failure, &network, set);
    }
    if (status == ER_OK) {
        merge_judged(&check->judge, &judge);
    }
    er_judge_release(&judge);
    er_network_release(&network);
    return status;
}

/* Hours and water of a day; NAN as soon as one zone's run time is. */
static void sum_day(struct er_result *result)
{
    const struct er_field *field = result->field;
    struct er_day_result *day = &result->day;
    day->hours_needed = 0.0;
    day->volume = 0.0;
    day->hours_available = field->hours;
    for (size_t s = 0; s < field->set_count; s++) {
        double longest = 0.0;
        for (size_t z = 0; z < field->sets[s].zone_count; z++) {
            size_t zone = field->sets[s].zones[z];
            const struct er_zone_result *at = &result->zones[zone];
            double a_day = at->run_time / field->zones[zone].water.every;
            longest = a_day > longest || isnan(a_day) ? a_day : longest;
            day->volume += at->flow * a_day;
        }
        day->hours_needed += longest;
    }
    double refilled = er_given(field->source.refill) ? field->source.refill * ER_DAY : 0.0;
    double drawn = day->volume - refilled;
    day->days_of_supply =
        er_given(field->source.storage) && drawn > 0.0 ? field->source.storage / drawn : ER_NONE;
}

/* Puts the sets' runs on the days of their interval, and judges by it. Without a need there is
 * nothing to put. */
static enum er_status plan_days(struct check *check)
{
    struct er_result *result = check->result;
    const struct er_field *field = check->field;
    struct er_day_result *day = &result->day;
    struct er_days_plan plan;
    day->every = day->irrigation = ER_NONE;
    if (!er_given(day->hours_needed)) {
        return ER_OK;
    }
    double *run_times = er_arena_array(&result->arena, field->zone_count, sizeof *run_times);
    if (!run_times) {
        return ER_NO_MEMORY;
    }
    for (size_t z = 0; z < field->zone_count; z++) {
        run_times[z] = result->zones[z].run_time;
    }
    enum er_status status =
        er_days_plan_make(field, run_times, field->hours, &result->arena, &plan);
    if (status != ER_OK) {
        return status;
    }
    day->every = plan.every;
    for (size_t s = 0; er_given(day->every) && s < field->set_count; s++) {
        day->irrigation = result->sets[s].run_time + (s > 0 ? day->irrigation : 0.0);
    }
    bool told = plan.run_count <= field->set_count && plan.answer == ER_DAYS_FIT;
    for (size_t r = 0; told && er_given(plan.every) && r < plan.run_count; r++) {
        result->sets[plan.runs[r].set].run_day = plan.runs[r].day + 1;
    }
    return er_judge_days(&check->judge, result, &plan);
}

static void figure_suction(struct er_result *result)
{
    const struct er_suction *suction = &result->field->source.suction;
    double flow = 0.0;
    for (size_t s = 0; s < result->field->set_count; s++) {
        flow = fmax(flow, result->sets[s].flow);
    }
    if (suction->given) {
        er_work_out_suction(suction, flow, &result->suction);
    }
}

static bool tape_is_used(const struct er_field *field, const void *of)
{
    for (size_t z = 0; z < field->zone_count; z++) {
        for (size_t g = 0; g < field->zones[z].group_count; g++) {
            if (field->zones[z].groups[g].tape == of) {
                return true;
            }
        }
    }
    return false;
}

static bool pipe_is_used(const struct er_field *field, const void *of)
{
    if (field->source.suction.pipe == of) {
        return true;
    }
    for (size_t s = 0; s < field->section_count; s++) {
        if (field->mainline[s].pipe == of) {
            return true;
        }
    }
    for (size_t z = 0; z < field->zone_count; z++) {
        for (size_t p = 0; p < field->zones[z].header.piece_count; p++) {
            if (field->zones[z].header.pieces[p].pipe == of) {
                return true;
            }
        }
    }
    return false;
}

/* In percent, as the assumption is. */
static double lowest_efficiency(const struct er_result *result, double otherwise)
{
    double lowest = otherwise;
    for (size_t z = 0; z < result->field->zone_count; z++) {
        if (100.0 * result->zones[z].efficiency < lowest) {
            lowest = 100.0 * result->zones[z].efficiency;
        }
    }
    return lowest;
}

/* Of a tape or pipe that nothing is made of, nothing is assumed. */
static bool matters(const struct er_field *field, const struct er_assumption *one)
{
    return !one->of || tape_is_used(field, one->of) || pipe_is_used(field, one->of);
}

/* Whether one of the first `count` of the list is about that place. */
static bool lists(const struct er_assumption *list, size_t count, const char *pointer)
{
    for (size_t a = 0; a < count; a++) {
        if (strcmp(list[a].pointer, pointer) == 0) {
            return true;
        }
    }
    return false;
}

/* The reader's defaults that this answer rests on, the efficiency as it came out; then what the
 * file calls a guess. */
static enum er_status list_assumptions(struct er_result *result)
{
    const struct er_field *field = result->field;
    struct er_assumption *list =
        er_arena_array(&result->arena, field->assumption_count + field->guess_count, sizeof *list);
    if (!list) {
        return ER_NO_MEMORY;
    }
    for (size_t a = 0; a < field->assumption_count; a++) {
        const struct er_assumption *one = &field->assumptions[a];
        if (!matters(field, one)) {
            continue;
        }
        list[result->assumption_count] = *one;
        if (one->lowered_by_eu) {
            list[result->assumption_count].value = lowest_efficiency(result, one->value);
        }
        result->assumption_count++;
    }
    const size_t defaults = result->assumption_count;
    for (size_t g = 0; g < field->guess_count; g++) {
        const struct er_assumption *one = &field->guesses[g];
        if (!matters(field, one)) {
            continue;
        }
        result->guess_count++;
        if (!lists(list, defaults, one->pointer)) {
            list[result->assumption_count++] = *one;
        }
    }
    result->assumptions = list;
    return ER_OK;
}

static enum er_status list_findings(struct check *check)
{
    struct er_result *result = check->result;
    struct er_judge *judge = &check->judge;
    er_judge_sort(judge);
    struct er_finding *list = er_arena_array(&result->arena, judge->count, sizeof *list);
    if (!list || judge->out_of_memory) {
        return ER_NO_MEMORY;
    }
    result->verdict = ER_HOLDS;
    for (size_t f = 0; f < judge->count; f++) {
        list[f] = judge->judged[f].finding;
        if (er_finding_kind(list[f].code)->level == ER_FAIL) {
            result->verdict = ER_FAILS;
        } else if (result->verdict == ER_HOLDS) {
            result->verdict = ER_WITH_CAUTION;
        }
    }
    result->findings = list;
    result->finding_count = judge->count;
    return ER_OK;
}

static enum er_status reserve(struct er_result *result)
{
    const struct er_field *field = result->field;
    result->sets = er_arena_array(&result->arena, field->set_count, sizeof *result->sets);
    result->zones = er_arena_array(&result->arena, field->zone_count, sizeof *result->zones);
    result->sections =
        er_arena_array(&result->arena, field->section_count, sizeof *result->sections);
    return result->sets && result->zones && result->sections ? ER_OK : ER_NO_MEMORY;
}

static enum er_status run_check(struct check *check)
{
    struct er_result *result = check->result;
    enum er_status status = reserve(result);
    for (size_t set = 0; status == ER_OK && set < check->field->set_count; set++) {
        status = check_set(check, set);
    }
    if (status != ER_OK) {
        return status;
    }
    sum_day(result);
    figure_suction(result);
    er_judge_static(&check->judge);
    er_judge_day(&check->judge, result);
    er_judge_suction(&check->judge, result);
    er_judge_figures(&check->judge);
    status = plan_days(check);
    if (status == ER_OK) {
        status = list_findings(check);
    }
    return status == ER_OK ? list_assumptions(result) : status;
}

static enum er_status begin_check(struct check *check, enum er_system speaks)
{
    struct er_result *result = check->result;
    memset(result, 0, sizeof *result);
    memset(check->failure, 0, sizeof *check->failure);
    result->field = check->field;
    result->speaks = speaks;
    check->judge =
        (struct er_judge){.arena = &result->arena, .field = check->field, .speaks = speaks};
    enum er_status status = run_check(check);
    er_judge_release(&check->judge);
    if (status != ER_OK) {
        er_result_release(result);
    }
    return status;
}

enum er_status er_check(const struct er_field *field, enum er_system speaks,
                        struct er_result *result, struct er_failure *failure)
{
    struct check check = {.field = field, .result = result, .failure = failure};
    return begin_check(&check, speaks);
}

enum er_status er_screen_check(struct er_screen *screen, const struct er_field *field,
                               enum er_system speaks, struct er_result *result, bool *close_call)
{
    struct er_failure failure;
    struct check check = {.field = field, .screen = screen, .result = result, .failure = &failure};
    enum er_status status = begin_check(&check, speaks);
    *close_call = check.judge.close_call;
    return status;
}

void er_screen_release(struct er_screen *screen)
{
    er_response_pool_release(&screen->pool);
    er_flushed_release(&screen->flushed);
}

void er_result_release(struct er_result *result)
{
    er_arena_release(&result->arena);
    memset(result, 0, sizeof *result);
}
