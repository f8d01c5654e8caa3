/* Whether runs go whole into days. Against all ways to place them, tried by counting. */
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "evenrow/units.h"
#include "trial.h"
#include "water/run_days.h"

#define MOST 8

static enum er_days_answer pack(const double *runs, size_t count, size_t days, double hours)
{
    struct er_arena arena = {0};
    struct er_day_run list[100];
    enum er_days_answer answer;
    for (size_t r = 0; r < count; r++) {
        list[r] = (struct er_day_run){.set = r, .run_time = runs[r], .after = days};
    }
    assert_int_equal(er_days_pack(&arena, list, count, days, hours, &answer), ER_OK);
    double used[100] = {0};
    for (size_t r = 0; answer == ER_DAYS_FIT && r < count; r++) {
        assert_true(list[r].day < days);
        used[list[r].day] += list[r].run_time;
        assert_true(used[list[r].day] <= hours * (1.0 + 2e-9));
    }
    er_arena_release(&arena);
    return answer;
}

/* Computed: every one of days^count ways. */
static bool fits_by_counting(const double *runs, size_t count, size_t days, double hours)
{
    size_t ways = 1;
    for (size_t r = 0; r < count; r++) {
        ways *= days;
    }
    for (size_t way = 0; way < ways; way++) {
        double used[MOST] = {0};
        bool fits = true;
        size_t left = way;
        for (size_t r = 0; r < count; r++, left /= days) {
            used[left % days] += runs[r];
            fits = fits && used[left % days] <= hours;
        }
        if (fits) {
            return true;
        }
    }
    return false;
}

static uint32_t draw(uint32_t *seed)
{
    *seed = *seed * 1664525U + 1013904223U;
    return *seed >> 16;
}

/* Whole hours, so that rounding decides nothing; many are near the edge. */
static void test_all_ways(void **state)
{
    (void)state;
    uint32_t seed = 7;
    size_t fit = 0, close = 0, trials = 3000;
    for (size_t t = 0; t < trials; t++) {
        double runs[MOST], sum = 0.0;
        size_t count = 1 + draw(&seed) % MOST, days = 1 + draw(&seed) % 3;
        double hours = 9.0 + draw(&seed) % 8;
        for (size_t r = 0; r < count; r++) {
            sum += runs[r] = 2.0 + draw(&seed) % 8;
        }
        bool wanted = fits_by_counting(runs, count, days, hours);
        assert_int_equal(pack(runs, count, days, hours), wanted ? ER_DAYS_FIT : ER_DAYS_SHORT);
        fit += wanted;
        close += !wanted && sum <= (double)days * hours;
    }
    assert_true(fit > trials / 4 && fit < trials * 3 / 4);
    assert_true(close > 30); /* where the sum alone would have said yes */
}

/* Computed by hand. */
static void test_ways_that_first_fit_misses(void **state)
{
    (void)state;
    const double runs[] = {6, 5, 5, 4, 4, 3, 3}; /* 6 + 5 + 4 and 5 + 4 + 3 + 3: two days of 15 */
    assert_int_equal(pack(runs, 7, 2, 15.0), ER_DAYS_FIT);
    const double eleven[] = {11, 11, 11};
    assert_int_equal(pack(eleven, 3, 2, 20.0), ER_DAYS_SHORT);
    assert_int_equal(pack(eleven, 3, 2, 22.0), ER_DAYS_FIT);
    assert_int_equal(pack(eleven, 1, 1, 10.0), ER_DAYS_SHORT);
}

/* A proof by bounds, where there are far too many ways to try: of 40 unlike runs over half a day
 * none shares its day. */
static void test_bounds(void **state)
{
    (void)state;
    double runs[100];
    for (size_t r = 0; r < 80; r++) {
        runs[r] = r < 40 ? 10.5 + 0.01 * (double)r : 0.1;
    }
    assert_int_equal(pack(runs, 80, 39, 20.0), ER_DAYS_SHORT);
    assert_int_equal(pack(runs, 80, 40, 20.0), ER_DAYS_FIT);
    /* 20 of 12 h leave room for one of 5 each; the other 20 of 5 want 5 days */
    for (size_t r = 0; r < 60; r++) {
        runs[r] = r < 20 ? 12.0 : 5.0;
    }
    assert_int_equal(pack(runs, 60, 24, 20.0), ER_DAYS_SHORT);
    assert_int_equal(pack(runs, 60, 25, 20.0), ER_DAYS_FIT);
}

#define FIELD                                                                                      \
    "{'units': 'metric', 'source': {'curve': [[0, '12 m'], [40, '12 m']]},"                        \
    "'tapes': {'pc': {'emitter_flow': 1, 'holds_from': '4 m', 'emitter_spacing': 300,"             \
    " 'inside_diameter': 16, 'cv': 0}},"                                                           \
    " 'water': {'need': 4.5, 'efficiency': 90, 'hours': %s, 'every': %s}, 'zones': [%s]}"
/* 300 m of tape, 1,000 emitters, 1 m3/h; 5 mm on 450 m2 are 2.25 m3 a day: 2.25 h */
#define ZONE(name, more)                                                                           \
    "{'name': '" name "', 'header': {'pipe': {'inside_diameter': 60}}, " more "'beds':"            \
    " [{'count': 10, 'length': 30, 'spacing': 1.5, 'tape': 'pc'}]}"

static bool is_long(const char *hours, const char *every, const char *zones, const char *says)
{
    struct trial trial;
    trial_open(&trial, FIELD, hours, every, zones);
    const struct er_finding *finding = trial_finding(&trial, ER_IRRIGATION_LONG);
    if (finding && says) {
        assert_non_null(strstr(finding->text, says));
    }
    trial_close(&trial);
    return finding != NULL;
}

static void test_fields(void **state)
{
    (void)state;
    const char *one = ZONE("1", "");
    const char *three = ZONE("1", "") ", " ZONE("2", "") ", " ZONE("3", "");
    assert_true(is_long("10", "7", one, "runs 15:45 (h:min) each time, a day has only 10:00"));
    assert_true(is_long("10", "7", one, "Water every 4 days: the longest run is then 9:00"));
    assert_false(is_long("15.75", "7", one, NULL));
    /* three runs of 4:30 into two days of 8 h: 13.5 h of 16, but only one goes into a day */
    assert_true(is_long("8", "2", three, "do not go whole into 2 days of 8:00"));
    assert_true(is_long("8", "2", three, "Water every day: the longest run is then 2:15"));
    assert_false(is_long("9", "2", three, NULL));
    assert_true(is_long("6.7", "1", three, "run 6:45 (h:min) one after another"));
    assert_false(is_long("6.75", "1", three, NULL));
    /* half days between: two runs of 1:07:30 on one day */
    assert_false(is_long("2.26", "0.5", one, NULL));
    assert_true(is_long("2.24", "0.5", one, NULL));
    /* every 1.5 days, 3.375 h each: two sets in three days run four times, two on one of them */
    const char *two = ZONE("1", "") ", " ZONE("2", "");
    assert_true(is_long("5", "1.5", two, NULL));
    assert_false(is_long("6.8", "1.5", two, NULL));
}

/* One set every day, 2.25 h, the other every other day, 4.5 h: 6.75 h on one of two days. */
static void test_unlike_intervals(void **state)
{
    (void)state;
    const char *zones = ZONE("1", "") ", " ZONE("2", "'water': {'every': 2}, ");
    assert_true(is_long("6.7", "1", zones, NULL));
    assert_false(is_long("6.8", "1", zones, NULL));
}

/* The days that sets are told to run on hold them. */
static void test_run_day(void **state)
{
    (void)state;
    struct trial trial;
    trial_open(&trial, FIELD, "9", "2", ZONE("1", "") ", " ZONE("2", "") ", " ZONE("3", ""));
    size_t on[3] = {0};
    for (size_t s = 0; s < 3; s++) {
        assert_in_range(trial.result.sets[s].run_day, 1, 2);
        on[trial.result.sets[s].run_day]++;
    }
    assert_true(on[1] <= 2 && on[2] <= 2);
    assert_close(trial.result.day.irrigation, 3.0 * 4.5 * 3600.0, 1e-9);
    assert_close(trial.result.day.every, 2.0, 1e-15);
    trial_close(&trial);
}

/* In one set a zone of every day, 1 h, and one of every other day, 3 h, which joins each second
 * run alone. */
static void test_zone_that_joins(void **state)
{
    (void)state;
    const struct er_zone zones[2] = {{.water = {.every = 1.0}}, {.water = {.every = 2.0}}};
    const size_t places[2] = {0, 1};
    const struct er_set set = {2, places};
    const struct er_field field = {
        .zone_count = 2, .zones = zones, .set_count = 1, .sets = &set, .hours = 12.0 * 3600.0};
    const double run_times[2] = {3600.0, 3.0 * 3600.0};
    struct er_arena arena = {0};
    struct er_days_plan plan;
    assert_int_equal(er_days_plan_make(&field, run_times, field.hours, &arena, &plan), ER_OK);
    assert_int_equal(plan.run_count, 2);
    const double both = fmax(plan.runs[0].run_time, plan.runs[1].run_time);
    const double alone = fmin(plan.runs[0].run_time, plan.runs[1].run_time);
    assert_close(both, 3.0 * 3600.0, 1e-14);
    assert_close(alone, 3600.0, 1e-14);
    er_arena_release(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_zone_that_joins),
        cmocka_unit_test(test_all_ways),
        cmocka_unit_test(test_ways_that_first_fit_misses),
        cmocka_unit_test(test_bounds),
        cmocka_unit_test(test_fields),
        cmocka_unit_test(test_unlike_intervals),
        cmocka_unit_test(test_run_day),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
