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

static double assumed(const struct trial *trial, const char *pointer)
{
    for (size_t a = 0; a < trial->result.assumption_count; a++)
        if (strcmp(trial->result.assumptions[a].pointer, pointer) == 0)
            return trial->result.assumptions[a].value;
    fail_msg("nothing is assumed for %s", pointer);
    return (double)NAN;
}

#define EVEN "{'count': 10, 'length': 30, 'spacing': 1.5, 'tape': 'pc'}"
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_tape_length),
        cmocka_unit_test(test_slowest_flushing),
        cmocka_unit_test(test_day_of_a_set),
        cmocka_unit_test(test_assumed_efficiency),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
