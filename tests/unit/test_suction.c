/* The air that pushes water to a pump, the vapour that holds it back, the lift in practice. */
#include <math.h>

#include "evenrow/hydraulics.h"
#include "field_text.h"

#define FOOT ER_FOOT

/* Printed: pump-maker's technical table of barometric head in feet of water, altitudes 0 to
 * 10,000 ft; recalculated it is off by -0.3 to +0.4 percent, and the water of the table is
 * colder than ours by 0.2. */
static void test_barometric_head_in_feet(void **state)
{
    (void)state;
    const double rows[][2] = {{0, 33.9},    {1000, 32.8}, {2000, 31.5}, {3000, 30.4},
                              {4000, 29.2}, {5000, 28.2}, {6000, 27.2}, {7000, 26.2},
                              {8000, 25.2}, {10000, 23.4}};
    size_t count = sizeof rows / sizeof rows[0];
    for (size_t r = 0; r < count; r++)
        assert_close(er_barometric_head(rows[r][0] * FOOT) / FOOT, rows[r][1], 0.0065);
    assert_int_equal(count, 10);
}

/* Printed: Davis, Water and Wastewater Engineering, Table 3-7, from the U.S. Standard
 * Atmosphere 1976 (kPa, within 0.02 percent). */
static void test_air_pressure(void **state)
{
    (void)state;
    const double rows[][2] = {{-500, 107.5}, {0, 101.3},    {500, 95.46},  {1000, 89.88},
                              {1500, 84.56}, {2000, 79.50}, {2500, 74.69}, {3000, 70.12}};
    size_t count = sizeof rows / sizeof rows[0];
    for (size_t r = 0; r < count; r++) {
        double kpa = er_from_si(ER_PRESSURE, ER_METRIC, er_barometric_head(rows[r][0]));
        /* Half the last printed digit is 0.05 percent in the first two rows. */
        assert_close(kpa, rows[r][1], 0.0005);
    }
    assert_int_equal(count, 8);
}

/* Printed: Bachus and Custodio, Know and Understand Centrifugal Pumps, "Properties of water II":
 * temperature F, vapour pressure psi (70 F is misprinted there as 0.6331). */
static void test_vapour_head(void **state)
{
    (void)state;
    const double rows[][3] = {{32, .0885, .204},  {40, .1217, .281},  {50, .1781, .411},
                              {60, .2563, .591},  {70, .3631, .839},  {80, .5069, 1.172},
                              {90, .6982, 1.617}, {100, .9492, 2.203}};
    size_t count = sizeof rows / sizeof rows[0];
    for (size_t r = 0; r < count; r++) {
        double head = er_vapour_head((rows[r][0] - 32.0) / 1.8);
        assert_close(er_from_si(ER_PRESSURE, ER_US, head), rows[r][1], 0.0015);
        /* The book's feet are of water at its own temperature, ours of water at 68 F. */
        assert_close(head / FOOT, rows[r][2], 0.008);
    }
    assert_int_equal(count, 8);
}

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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_barometric_head_in_feet),
        cmocka_unit_test(test_air_pressure),
        cmocka_unit_test(test_vapour_head),
        cmocka_unit_test(test_practical_lift),
        cmocka_unit_test(test_npsh_example),
        cmocka_unit_test(test_npsh_of_a_field),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
