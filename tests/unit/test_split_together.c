/* Which zones split says may run together, against er_check of the field with each two in one set.
 */
#include <math.h>
#include <stdio.h>

#include "evenrow/split.h"
#include "trial.h"

/* Emitters that give 1 gph at any pressure: zones of 200, 400 and 500 of them, 200 + 400 = 600 gph
 * = 10 gpm. What is left of the day is their own. */
static const char farm[] =
    "{'units': 'us', 'source': {'pressure': 40, 'flow_limit': %g}, 'tapes': {'t': {'emitter_flow':"
    " 1, 'holds_from': 4, 'emitter_spacing': 12, 'inside_diameter': 0.63, 'max_pressure': 50}},"
    "'zones': [{'name': 'a', 'header': {'pipe': 'pvc160-2in'}, 'beds': [{'count': 2, 'length': 100,"
    "  'spacing': 6, 'tape': 't'}]}, {'name': 'b', 'header': {'pipe': 'pvc160-2in'}, 'beds':"
    "  [{'count': 4, 'length': 100, 'spacing': 6, 'tape': 't'}]}, {'name': 'c', 'header': {'pipe':"
    "  'pvc160-2in'}, 'beds': [{'count': 5, 'length': 100, 'spacing': 6, 'tape': 't'}]}],"
    " 'water': {'need_per_length': 20, 'efficiency': 90, 'hours': 20} %s}";

#define GPM (3.785411784e-3 / 60.0) /* 231 in3 a minute */

static void split_farm(struct er_field *field, struct er_split *split, double limit,
                       const char *more)
{
    field_open(field, farm, limit, more);
    const struct er_split_ask ask = {.field = field, .layout = {.feed = -1}, .speaks = ER_US};
    assert_int_equal(er_field_split(&ask, split), ER_OK);
}

static void drop(struct er_field *field, struct er_split *split)
{
    er_split_release(split);
    er_field_release(field);
}

/* Whether the field holds with two of its zones in one set. */
static bool holds(double limit, const char *sets)
{
    struct trial trial;
    char more[100];
    snprintf(more, sizeof more, ", 'sets': %s", sets);
    trial_open(&trial, farm, limit, more);
    const bool held = trial.result.verdict != ER_FAILS;
    trial_close(&trial);
    return held;
}

static bool may(const struct er_split *split, size_t a, size_t b)
{
    for (size_t p = 0; p < split->pair_count; p++) {
        if (split->pairs[p].zones[0] == a && split->pairs[p].zones[1] == b) {
            return true;
        }
    }
    return false;
}

static void pairs_are_those_that_check_lets_pass(void **state)
{
    static const struct {
        double limit; /* gpm */
        size_t pairs;
    } cases[] = {{9.99, 0}, {10.01, 1}, {11.6, 1}, {11.7, 2}, {14.9, 2}, {15.1, 3}};
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct er_field field;
        struct er_split split;
        const double limit = cases[i].limit;
        split_farm(&field, &split, limit, "");
        assert_int_equal(split.answer, ER_SPLIT_PASSES);
        assert_true(split.pairs_tried);
        assert_int_equal(split.pair_count, cases[i].pairs);
        assert_int_equal(may(&split, 0, 1), holds(limit, "[['a', 'b'], ['c']]"));
        assert_int_equal(may(&split, 0, 2), holds(limit, "[['a', 'c'], ['b']]"));
        assert_int_equal(may(&split, 1, 2), holds(limit, "[['b', 'c'], ['a']]"));
        drop(&field, &split);
    }
}

/* 600 gph together; every zone runs as long as the others, for all have the same beds. */
static void a_pair_tells_its_flow_and_what_it_saves(void **state)
{
    struct er_field field;
    struct er_split split;
    (void)state;
    split_farm(&field, &split, 10.01, "");
    assert_within(split.pairs[0].flow, 10.0 * GPM, 1e-9 * GPM);
    assert_close(split.pairs[0].hours_saved, split.result.zones[0].run_time, 1e-9);
    assert_close(split.result.day.hours_needed, 3.0 * split.pairs[0].hours_saved, 1e-9);
    drop(&field, &split);
}

static void where_none_may_the_least_two_say_why(void **state)
{
    struct er_field field;
    struct er_split split;
    (void)state;
    split_farm(&field, &split, 9.0, "");
    assert_int_equal(split.pair_count, 0);
    assert_int_equal(split.nearest.zones[0], 0);
    assert_int_equal(split.nearest.zones[1], 1);
    assert_int_equal(split.nearest.code, ER_SOURCE_FLOW);
    drop(&field, &split);
}

/* The file's own sets pass: the answer keeps them. */
static void the_files_own_sets_stay(void **state)
{
    struct er_field field;
    struct er_split split;
    (void)state;
    split_farm(&field, &split, 12.0, ", 'sets': [['a', 'b'], ['c']]");
    assert_int_equal(split.answer, ER_SPLIT_PASSES);
    assert_int_equal(split.field.set_count, 2);
    assert_int_equal(split.pair_count, 2);
    drop(&field, &split);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pairs_are_those_that_check_lets_pass),
        cmocka_unit_test(a_pair_tells_its_flow_and_what_it_saves),
        cmocka_unit_test(where_none_may_the_least_two_say_why),
        cmocka_unit_test(the_files_own_sets_stay),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
