/* Figures of a result that no finding tells. The tape compensates, so that flows are known by
 * hand: 1,000 emitters of 1 L/h are 1 m3/h. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "evenrow/hydraulics.h"
#include "trial.h"

#define PLAN                                                                                       \
    "{'units': 'metric', 'source': {'curve': [[0, '12 m'], [40, '12 m']]},"                        \
    "'tapes': {'pc': {'emitter_flow': 1, 'holds_from': '4 m', 'emitter_spacing': 300,"             \
    " 'inside_diameter': 16, 'cv': 0},"                                                            \
    " 't': {'emitter_flow': 1, 'at_pressure': '8 m', 'emitter_spacing': 300,"                      \
    " 'inside_diameter': 16, 'cv': 0}}, %s 'zones': [%s]}"
#define ZONE(name, pipe, beds)                                                                     \
    "{'name': '" name "', 'header': {'pipe': {'inside_diameter': " pipe "}}, 'beds': [" beds "]}"

/* 60 + 45 + 30 m on the one side, 20 + 15 + 10 m on the other, two tapes on each bed. */
static void test_tape_length(void **state)
{
    (void)state;
    struct trial trial;
    trial_open(&trial, PLAN, "",
               ZONE("1", "60",
                    "{'count': 3, 'length': 60, 'last_length': 30, 'spacing': 2, 'tape': 'pc',"
                    " 'sides': 'both', 'other_length': 20, 'tapes': 2}"));
    assert_close(trial.result.zones[0].tape_length, 360.0, 1e-12);
    trial_close(&trial);
}

/* Of a taper the longest tape flushes slowest, first or last; each is tried at the lowest inlet
 * pressure of the zone, which in a thin header is well under the highest. */
static void flushes_as_its_longest(const char *lengths)
{
    struct trial trial;
    char zone[400];
    snprintf(zone, sizeof zone,
             ZONE("1", "16", "{'count': 8, %s, 'spacing': 2, 'tape': 'pc', 'slope': 0}"), lengths);
    trial_open(&trial, PLAN, "", zone);
    const struct er_zone_result *result = &trial.result.zones[0];
    const struct er_bed_group *group = &trial.field.zones[0].groups[0];
    struct er_run longest = er_run_make(group->tape, 90.0, &group->ground);
    double flow = 0.0;
    assert_true(result->tape_inlet_pressure.min < 0.9 * result->tape_inlet_pressure.max);
    assert_int_equal(er_run_flush(&longest, result->tape_inlet_pressure.min, &flow), ER_OK);
    assert_close(result->flush_velocity, flow / er_pipe_area(0.016), 1e-8);
    trial_close(&trial);
}

static void test_slowest_flushing(void **state)
{
    (void)state;
    flushes_as_its_longest("'length': 90, 'last_length': 50");
    flushes_as_its_longest("'length': 50, 'last_length': 90");
}

#define EVEN "{'count': 10, 'length': 30, 'spacing': 1.5, 'tape': 'pc'}"

/* 4 mm with 90 percent on 450 m2 are 2 m3: 2 h. On half as much ground they are 1 m3: 1 h. The
 * two run together, so that the day needs the longer of the two, and the water of both. */
static void test_day_of_a_set(void **state)
{
    (void)state;
    struct trial trial;
    trial_open(
        &trial, PLAN, "'water': {'need': 4, 'efficiency': 90}, 'sets': [['1', '2']],",
        ZONE("1", "60", "{'count': 10, 'length': 30, 'spacing': 1.5, 'tape': 'pc'}") ", " ZONE(
            "2", "60", "{'count': 10, 'length': 30, 'spacing': 0.75, 'tape': 'pc'}"));
    assert_close(trial.result.zones[0].run_time, 2.0 * 3600.0, 1e-9);
    assert_close(trial.result.zones[1].run_time, 3600.0, 1e-9);
    assert_close(trial.result.sets[0].run_time, 2.0 * 3600.0, 1e-9);
    assert_close(trial.result.day.hours_needed, 2.0 * 3600.0, 1e-9);
    assert_close(trial.result.day.volume, 3.0, 1e-9);
    trial_close(&trial);
}

/* 2 m3 on 450 m2 every two days are 15.56 mm a week; on 300 m of beds 0.5 m wide, 46.67 mm. */
static void test_depth_of_a_week(void **state)
{
    (void)state;
    struct trial trial;
    trial_open(&trial, PLAN, "'water': {'need': 2, 'efficiency': 90, 'every': 2},",
               ZONE("1", "60",
                    "{'count': 10, 'length': 30, 'spacing': 1.5, 'tape': 'pc',"
                    " 'bed_width': 500}"));
    assert_close(trial.result.zones[0].weekly_depth_spacing, 2.0 / 450.0 * 3.5, 1e-9);
    assert_close(trial.result.zones[0].weekly_depth_bed, 2.0 / 150.0 * 3.5, 1e-9);
    trial_close(&trial);
}

/* What a source may give is its limit; without one the last flow that was measured. A pressure
 * alone tells none. */
static void test_source_limit(void **state)
{
    (void)state;
    const struct {
        const char *source;
        double limit; /* m3/h */
    } cases[] = {{"'curve': [[0, '12 m'], [40, '11 m']]", 40.0},
                 {"'curve': [[0, '12 m'], [40, '11 m']], 'flow_limit': 30", 30.0},
                 {"'test': {'static': '14 m', 'flow': 25, 'pressure': '9 m'}", 25.0},
                 {"'pump': {'curve': [[0, '14 m'], [35, '9 m']]}", 35.0},
                 {"'pressure': '12 m', 'flow_limit': 20", 20.0},
                 {"'pressure': '12 m'", 0.0}};
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        struct trial trial;
        trial_open(&trial,
                   "{'units': 'metric', 'source': {%s}, 'tapes': {'pc': {'emitter_flow': 1,"
                   " 'holds_from': '4 m', 'emitter_spacing': 300, 'inside_diameter': 16}},"
                   " 'zones': [%s]}",
                   cases[c].source, ZONE("1", "60", EVEN));
        if (cases[c].limit > 0.0) {
            assert_close(trial.result.sets[0].source_limit, cases[c].limit / 3600.0, 1e-12);
        } else {
            assert_true(isnan(trial.result.sets[0].source_limit));
        }
        trial_close(&trial);
    }
}

/* A zone without a need has no run time, and so its set and its day have none, whichever of the
 * set's zones it is. */
static void test_day_with_a_zone_unwatered(void **state)
{
    (void)state;
    const char *const needs[2][2] = {{"{'need': 4}", "{}"}, {"{}", "{'need': 4}"}};
    for (size_t n = 0; n < 2; n++) {
        struct trial trial;
        char zones[800];
        snprintf(zones, sizeof zones,
                 "{'name': '1', 'header': {'pipe': {'inside_diameter': 60}}, 'water': %s, 'beds':"
                 " [" EVEN "]}, {'name': '2', 'header': {'pipe': {'inside_diameter': 60}},"
                 " 'water': %s, 'beds': [" EVEN "]}",
                 needs[n][0], needs[n][1]);
        trial_open(&trial, PLAN, "'sets': [['1', '2']],", zones);
        assert_true(trial.result.zones[n].run_time > 0.0);
        assert_true(isnan(trial.result.zones[1 - n].run_time));
        assert_true(isnan(trial.result.sets[0].run_time));
        assert_true(isnan(trial.result.day.hours_needed));
        assert_true(isnan(trial.result.day.volume));
        trial_close(&trial);
    }
}

/* The lowest far end is that of the bed on the header's hump, on the side that rises. */
static void test_lowest_bed(void **state)
{
    (void)state;
    struct trial trial;
    const char *zone = "{'name': '1', 'header': {'pipe': {'inside_diameter': 60}, 'profile':"
                       " [[0, 0], [4, 1], [8, 0]]}, 'beds': [{'count': 5, 'length': 30, 'spacing':"
                       " 2, 'tape': 'pc', 'sides': 'both', 'slope': %d, 'other_slope': %d}]}";
    for (int side = 0; side < 2; side++) {
        char text[400];
        snprintf(text, sizeof text, zone, side ? 0 : 2, side ? 2 : 0);
        trial_open(&trial, PLAN, "", text);
        assert_int_equal(trial.result.zones[0].lowest_bed, 2);
        assert_int_equal(trial.result.zones[0].lowest_second_side, side);
        trial_close(&trial);
    }
}

/* What was assumed for a pointer; NAN if nothing was. */
static double assumed(const struct trial *trial, const char *pointer)
{
    for (size_t a = 0; a < trial->result.assumption_count; a++) {
        if (strcmp(trial->result.assumptions[a].pointer, pointer) == 0) {
            return trial->result.assumptions[a].value;
        }
    }
    return (double)NAN;
}

#define UNEVEN "{'count': 10, 'length': 30, 'spacing': 1.5, 'tape': 't', 'slope': 15}"

/* Where the file gives no efficiency it is the smaller of 90 percent and a zone's emission
 * uniformity; told is the lowest of all zones. */
static void test_assumed_efficiency(void **state)
{
    (void)state;
    struct trial trial;
    trial_open(&trial, PLAN, "'water': {'need': 4},",
               ZONE("1", "60", EVEN) ", " ZONE("2", "60", UNEVEN) ", " ZONE("3", "60", EVEN));
    assert_close(trial.result.zones[0].efficiency, 0.9, 1e-12);
    assert_true(trial.result.zones[1].emission_uniformity < 0.89);
    assert_close(assumed(&trial, "/water/efficiency"),
                 100.0 * trial.result.zones[1].emission_uniformity, 1e-12);
    trial_close(&trial);
    trial_open(&trial, PLAN, "'water': {'need': 4},", ZONE("1", "60", EVEN));
    assert_close(assumed(&trial, "/water/efficiency"), 90.0, 1e-12);
    trial_close(&trial);
}

/* Defaults of tapes that no bed has do not matter, and are not told. */
static void test_assumed_of_tapes(void **state)
{
    (void)state;
    struct trial trial;
    trial_open(&trial, PLAN, "", ZONE("1", "60", EVEN));
    assert_close(assumed(&trial, "/tapes/pc/c"), 140.0, 1e-15);
    assert_true(isnan(assumed(&trial, "/tapes/t/c")));
    trial_close(&trial);
    trial_open(&trial, PLAN, "", ZONE("1", "60", UNEVEN));
    assert_close(assumed(&trial, "/tapes/t/c"), 140.0, 1e-15);
    assert_true(isnan(assumed(&trial, "/tapes/pc/c")));
    trial_close(&trial);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_tape_length),      cmocka_unit_test(test_slowest_flushing),
        cmocka_unit_test(test_day_of_a_set),     cmocka_unit_test(test_day_with_a_zone_unwatered),
        cmocka_unit_test(test_lowest_bed),       cmocka_unit_test(test_assumed_efficiency),
        cmocka_unit_test(test_assumed_of_tapes), cmocka_unit_test(test_depth_of_a_week),
        cmocka_unit_test(test_source_limit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
