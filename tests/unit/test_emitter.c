/* One emitter: its power law, the kinks of a compensating one, its slope. */
#include <math.h>

#include "evenrow/hydraulics.h"
#include "trial.h"

#define NOMINAL 2.5e-7 /* m3/s, about 1 L/h */

static struct er_tape ordinary(double exponent)
{
    return (struct er_tape){.emitter_flow = NOMINAL,
                            .at_pressure = 6.0,
                            .exponent = exponent,
                            .holds_from = (double)NAN,
                            .holds_to = (double)INFINITY};
}

static struct er_tape compensating(double from, double to)
{
    return (struct er_tape){.emitter_flow = NOMINAL,
                            .at_pressure = (double)NAN,
                            .exponent = (double)NAN,
                            .holds_from = from,
                            .holds_to = to};
}

static void test_power_law(void **state)
{
    (void)state;
    const double exponents[] = {0.05, 0.1, 0.4, 0.5, 0.57, 0.8, 1.0};
    for (size_t e = 0; e < sizeof exponents / sizeof exponents[0]; e++) {
        struct er_tape tape = ordinary(exponents[e]);
        assert_close(er_emitter_flow(&tape, 6.0, NULL), NOMINAL, 1e-14);
        assert_close(er_emitter_flow(&tape, 12.0, NULL), NOMINAL * exp2(exponents[e]), 1e-14);
        assert_close(er_emitter_flow(&tape, 0.6, NULL), NOMINAL * pow(10.0, -exponents[e]), 1e-13);
    }
}

/* Flow variation for a fifth less pressure, as every handbook has it (rule from memory, figures
 * recalculated): x = 0.5 10.56 percent, x = 0.6 12.53, x = 0.8 16.35, x = 1 20. */
static void test_fifth_less_pressure(void **state)
{
    (void)state;
    const double rows[][2] = {{0.5, 10.56}, {0.6, 12.53}, {0.8, 16.35}, {1.0, 20.0}};
    for (size_t r = 0; r < 4; r++) {
        struct er_tape tape = ordinary(rows[r][0]);
        double less = 1.0 - er_emitter_flow(&tape, 4.8, NULL) / er_emitter_flow(&tape, 6.0, NULL);
        assert_within(100.0 * less, rows[r][1], 0.005);
    }
}

static void test_nothing_at_or_below_zero(void **state)
{
    (void)state;
    struct er_tape tapes[] = {ordinary(0.5), ordinary(0.1), ordinary(1.0), compensating(4.0, 30.0),
                              compensating(4.0, (double)INFINITY)};
    const double pressures[] = {0.0, -0.0, -1e-300, -1.0, -1e9, (double)NAN};
    for (size_t t = 0; t < 5; t++)
        for (size_t p = 0; p < 6; p++) {
            double slope = 7.0;
            double flow = er_emitter_flow(&tapes[t], pressures[p], &slope);
            assert_true(flow >= 0.0 && flow <= 0.0);
            assert_true(slope >= 0.0 && slope <= 0.0);
        }
    assert_true(er_emitter_flow(&tapes[0], 1e-12, NULL) > 0.0);
}

static void test_compensating(void **state)
{
    (void)state;
    struct er_tape tape = compensating(4.0, 30.0);
    double slope;
    assert_close(er_emitter_flow(&tape, 4.0, NULL), NOMINAL, 1e-15);
    assert_close(er_emitter_flow(&tape, 17.0, &slope), NOMINAL, 1e-15);
    assert_true(slope <= 0.0 && slope >= 0.0);
    assert_close(er_emitter_flow(&tape, 30.0, NULL), NOMINAL, 1e-15);
    assert_close(er_emitter_flow(&tape, 1.0, NULL), 0.5 * NOMINAL, 1e-14);
    assert_close(er_emitter_flow(&tape, 120.0, NULL), 2.0 * NOMINAL, 1e-14);
    struct er_tape open = compensating(4.0, (double)INFINITY);
    assert_close(er_emitter_flow(&open, 1e6, NULL), NOMINAL, 1e-15);
}

/* No leap at either kink: a millionth of the pressure moves the flow by half of that at most. */
static void test_kinks_are_joined(void **state)
{
    (void)state;
    struct er_tape tape = compensating(4.0, 30.0);
    assert_close(er_emitter_flow(&tape, 4.0 * (1.0 - 1e-9), NULL), NOMINAL, 1e-9);
    assert_close(er_emitter_flow(&tape, 30.0 * (1.0 + 1e-9), NULL), NOMINAL, 1e-9);
    assert_true(er_emitter_flow(&tape, 4.0 * (1.0 - 1e-6), NULL) < NOMINAL);
    assert_true(er_emitter_flow(&tape, 30.0 * (1.0 + 1e-6), NULL) > NOMINAL);
}

static void test_slope(void **state)
{
    (void)state;
    struct er_tape tapes[] = {ordinary(0.1), ordinary(0.5), ordinary(0.7), ordinary(1.0),
                              compensating(4.0, 30.0)};
    const double pressures[] = {0.01, 1.0, 3.0, 5.0, 20.0, 29.0, 31.0, 100.0};
    for (size_t t = 0; t < 5; t++)
        for (size_t p = 0; p < 8; p++) {
            double slope;
            double step = 1e-6 * pressures[p];
            (void)er_emitter_flow(&tapes[t], pressures[p], &slope);
            double rise = er_emitter_flow(&tapes[t], pressures[p] + step, NULL) -
                          er_emitter_flow(&tapes[t], pressures[p] - step, NULL);
            assert_within(slope, rise / (2.0 * step), 1e-7 * NOMINAL / pressures[p]);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_power_law),
        cmocka_unit_test(test_fifth_less_pressure),
        cmocka_unit_test(test_nothing_at_or_below_zero),
        cmocka_unit_test(test_compensating),
        cmocka_unit_test(test_kinks_are_joined),
        cmocka_unit_test(test_slope),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
