/* What a pump's suction may ask: the lift in practice, and net positive suction head. Printed
 * tables of air and vapour pressure: published/pump.json. */
#include <math.h>

#include "evenrow/hydraulics.h"
#include "trial.h"

#define FOOT ER_FOOT

/* Printed: Engineering ToolBox, suction lift and altitude for water pumps. */
static void test_practical_lift(void **state)
{
    (void)state;
    const double rows[][2] = {{0, 22},    {1320, 21}, {2640, 20}, {3960, 18},
                              {5280, 17}, {6600, 16}, {7920, 15}, {10560, 14}};
    size_t count = sizeof rows / sizeof rows[0];
    for (size_t r = 0; r < count; r++)
        assert_close(er_practical_suction_lift(rows[r][0] * FOOT), rows[r][1] * FOOT, 1e-12);
    assert_int_equal(count, 8);
    assert_close(er_practical_suction_lift(-1000.0 * FOOT), 22.0 * FOOT, 1e-12);
    assert_close(er_practical_suction_lift(20000.0 * FOOT), 14.0 * FOOT, 1e-12);
    assert_close(er_practical_suction_lift(3300.0 * FOOT), 19.0 * FOOT, 1e-12);
    assert_close(er_practical_suction_lift(9240.0 * FOOT), 14.5 * FOOT, 1e-12);
}

/* Printed: Bachus and Custodio, the same book: NPSH available of a pump 6 ft below the water at
 * 70 F, 2 + 2 ft lost on the way: 33.9 + 6.0 - 0.839 - 2 - 2 = 35.061 ft. */
static void test_npsh_example(void **state)
{
    (void)state;
    double available = er_barometric_head(0.0) / FOOT + 6.0 -
                       er_vapour_head((70.0 - 32.0) / 1.8) / FOOT - 2.0 - 2.0;
    assert_within(available, 35.061, 0.12); /* our water weighs 0.2 percent less: 0.07 ft */
}

/* The same case through a whole check; the pipe's 4 ft are left out of the field. */
static void test_npsh_of_a_field(void **state)
{
    (void)state;
    struct trial trial;
    trial_open(&trial,
               "{'units': 'us', 'source': {'pump': {'curve': [[0, 60], [40, 40]], 'lift': -6},"
               " 'suction': {'temperature': 70, 'npsh_required': 10}},"
               "'tapes': {'t': {'flow': 0.45, 'at_pressure': 8, 'emitter_spacing': 12,"
               " 'inside_diameter': 0.625}},"
               "'zones': [{'name': '1', 'header': {'pipe': {'inside_diameter': 2}},"
               " 'beds': [{'count': 4, 'length': 200, 'spacing': 6, 'tape': 't'}]}]}");
    const struct er_suction_result *suction = &trial.result.suction;
    assert_true(suction->judged);
    assert_close(suction->height, -6.0 * FOOT, 1e-12);
    assert_true(suction->friction <= 0.0);
    assert_within(suction->npsh_available / FOOT, 39.061, 0.12);
    assert_close(suction->flow, trial.result.sets[0].flow, 1e-15);
    assert_null(trial_finding(&trial, ER_SUCTION_HIGH));
    trial_close(&trial);
}

/* With a suction pipe its friction at the set's flow is taken off, too. */
static void test_npsh_with_friction(void **state)
{
    (void)state;
    struct trial trial;
    trial_open(&trial,
               "{'units': 'metric', 'source': {'pump': {'curve': [[0, 20], [9, 10]], 'lift': 3},"
               " 'suction': {'pipe': {'inside_diameter': 40}, 'length': 30, 'altitude': 900}},"
               "'tapes': {'t': {'emitter_flow': 1, 'at_pressure': 60, 'emitter_spacing': 300,"
               " 'inside_diameter': 16}}, 'zones': [{'name': '1', 'header': {'pipe':"
               " {'inside_diameter': 50}}, 'beds': [{'count': 40, 'length': 50, 'spacing': 1,"
               " 'tape': 't'}]}]}");
    const struct er_suction_result *suction = &trial.result.suction;
    double friction = er_friction_head(trial.result.sets[0].flow, 30.0, 150.0, 0.04);
    assert_true(friction > 0.1);
    assert_close(suction->friction, friction, 1e-12);
    assert_close(suction->npsh_available,
                 er_barometric_head(900.0) - er_vapour_head(20.0) - 3.0 - friction, 1e-12);
    trial_close(&trial);
}

/* Of several sets the one that draws most counts, here the first. */
static void test_largest_set(void **state)
{
    (void)state;
    struct trial trial;
    trial_open(&trial,
               "{'units': 'metric', 'source': {'pump': {'curve': [[0, 20], [9, 10]], 'lift': 3},"
               " 'suction': {'pipe': {'inside_diameter': 40}, 'length': 30}},"
               "'tapes': {'t': {'emitter_flow': 1, 'at_pressure': 60, 'emitter_spacing': 300,"
               " 'inside_diameter': 16}}, 'zones': [{'name': '1', 'header': {'pipe':"
               " {'inside_diameter': 50}}, 'beds': [{'count': 40, 'length': 50, 'spacing': 1,"
               " 'tape': 't'}]}, {'name': '2', 'header': {'pipe': {'inside_diameter': 50}},"
               " 'beds': [{'count': 10, 'length': 50, 'spacing': 1, 'tape': 't'}]}]}");
    assert_true(trial.result.sets[0].flow > 2.0 * trial.result.sets[1].flow);
    assert_close(trial.result.suction.flow, trial.result.sets[0].flow, 1e-15);
    trial_close(&trial);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_practical_lift),  cmocka_unit_test(test_npsh_example),
        cmocka_unit_test(test_npsh_of_a_field), cmocka_unit_test(test_npsh_with_friction),
        cmocka_unit_test(test_largest_set),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
