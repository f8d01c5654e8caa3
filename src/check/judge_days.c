/* The finding about the days of an interval: whether the sets' runs, each whole, go into them. */
#include <math.h>

#include "check/judge.h"

#define NEAR 1e-6           /* relative: as far as estimates of run times may be off */
#define LONGEST_TRIED 366.0 /* days between irrigations */

/* An estimate's answer that would be another one with runs a hair longer or shorter. */
static enum er_status watch(struct er_judge *judge, double hours, struct er_days_plan *plan)
{
    enum er_days_answer other;
    double tried = hours * (plan->answer == ER_DAYS_FIT ? 1.0 - NEAR : 1.0 + NEAR);
    if (!plan->runs) {
        return ER_OK;
    }
    enum er_status status =
        er_days_pack(judge->arena, plan->runs, plan->run_count, plan->days, tried, &other);
    judge->close_call = judge->close_call || (status == ER_OK && other != plan->answer);
    return status;
}

/* The most days between irrigations, fewer than now, at which the runs fit, each as much shorter;
 * 0: none. */
static enum er_status find_interval(struct er_judge *judge, const struct er_days_plan *plan,
                                    size_t *every)
{
    enum er_days_answer answer = ER_DAYS_SHORT;
    enum er_status status = ER_OK;
    struct er_day_run *runs = er_arena_array(judge->arena, plan->run_count, sizeof *runs);
    *every = plan->every > 1.0 ? (size_t)fmin(ceil(plan->every), LONGEST_TRIED) : 1;
    while (runs && status == ER_OK && answer != ER_DAYS_FIT && --*every > 0) {
        size_t days = *every < plan->run_count ? *every : plan->run_count;
        for (size_t r = 0; r < plan->run_count; r++) {
            runs[r] = plan->runs[r];
            runs[r].run_time *= (double)*every / plan->every;
            runs[r].first = 0;
            runs[r].after = days;
        }
        status =
            er_days_pack(judge->arena, runs, plan->run_count, days, judge->field->hours, &answer);
    }
    return runs ? status : ER_NO_MEMORY;
}

/* What does not go into what. */
static void append_reason(struct er_text *text, const struct er_result *result,
                          const struct er_days_plan *plan, const struct er_day_run *longest)
{
    double hours = result->field->hours;
    if (longest->run_time > hours) {
        er_text_appendf(text, "set %zu runs ", longest->set + 1);
        er_text_append_clock(text, longest->run_time);
        er_text_append(text, " (h:min) each time, a day has only ");
        er_text_append_clock(text, hours);
        er_text_append(text, " for it");
    } else if (plan->days == 1 && er_given(result->day.irrigation)) {
        er_text_append(text, "the sets run ");
        er_text_append_clock(text, result->day.irrigation);
        er_text_append(text, " (h:min) one after another, a day has only ");
        er_text_append_clock(text, hours);
        er_text_append(text, " for them");
    } else {
        er_text_append(text, plan->answer == ER_DAYS_SHORT
                                 ? "the sets' runs, the longest of "
                                 : "no way was found, though not every one was tried, in which the "
                                   "sets' runs, the longest of ");
        er_text_append_clock(text, longest->run_time);
        er_text_appendf(text, " (h:min), %s whole into %zu day%s of ",
                        plan->answer == ER_DAYS_SHORT ? "do not go" : "go", plan->days,
                        plan->days == 1 ? "" : "s");
        er_text_append_clock(text, hours);
    }
}

static enum er_status judge_long(struct er_judge *judge, const struct er_result *result,
                                 const struct er_days_plan *plan)
{
    const struct er_day_run *longest = &plan->runs[0];
    struct er_text text;
    size_t every;
    enum er_status status = find_interval(judge, plan, &every);
    for (size_t r = 1; r < plan->run_count; r++) {
        longest = plan->runs[r].run_time > longest->run_time ? &plan->runs[r] : longest;
    }
    er_text_init(&text);
    append_reason(&text, result, plan, longest);
    if (every > 0) {
        er_text_append(&text, ". Water every ");
        if (every > 1) {
            er_text_appendf(&text, "%zu days", every);
        } else {
            er_text_append(&text, "day");
        }
        er_text_append(&text, ": the longest run is then ");
        er_text_append_clock(&text, longest->run_time * (double)every / plan->every);
    } else {
        er_text_append(&text, ". Allow more hours, run more zones at a time if the source allows, "
                              "or take a tape with more flow");
    }
    er_judge_add(judge, ER_IRRIGATION_LONG, ER_PLACE_DAY, 0, 1.0, "%s", er_text_string(&text));
    judge->out_of_memory = judge->out_of_memory || text.out_of_memory;
    er_text_release(&text);
    return status;
}

enum er_status er_judge_days(struct er_judge *judge, const struct er_result *result,
                             struct er_days_plan *plan)
{
    enum er_status status = ER_OK;
    if (plan->answer != ER_DAYS_FIT) {
        status = judge_long(judge, result, plan);
    }
    return status == ER_OK ? watch(judge, judge->field->hours, plan) : status;
}
