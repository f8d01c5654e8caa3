/* What a source gives at a flow, what a part takes from it, what a regulator lets through. */
#include <math.h>

#include "evenrow/hydraulics.h"
#include "trial.h"

/* The derivative that a source gives is what finite differences make of its pressures. */
static void slope_holds(const struct er_source *source, double flow)
{
    double slope, ignored;
    double step = 1e-7;
    (void)er_source_pressure(source, flow, &slope);
    double rise = er_source_pressure(source, flow + step, &ignored) -
                  er_source_pressure(source, flow - step, &ignored);
    assert_within(slope, rise / (2.0 * step), 1e-4 * fmax(1.0, fabs(slope)));
}

static const struct er_point points[] = {{0.001, 30.0}, {0.003, 24.0}, {0.004, 10.0}};

static void test_curve(void **state)
{
    (void)state;
    struct er_source source = {.kind = ER_SOURCE_CURVE, .curve_count = 3, .curve = points};
    double slope;
    assert_close(er_source_pressure(&source, 0.0, &slope), 30.0, 1e-15);
    assert_true(slope >= 0.0 && slope <= 0.0);
    assert_close(er_source_pressure(&source, 0.0005, &slope), 30.0, 1e-15);
    assert_close(er_source_pressure(&source, 0.001, &slope), 30.0, 1e-15);
    assert_close(er_source_pressure(&source, 0.002, &slope), 27.0, 1e-14);
    assert_close(slope, -3000.0, 1e-13);
    assert_close(er_source_pressure(&source, 0.003, &slope), 24.0, 1e-14);
    assert_close(er_source_pressure(&source, 0.0035, &slope), 17.0, 1e-14);
    assert_close(er_source_pressure(&source, 0.004, &slope), 10.0, 1e-14);
    assert_close(er_source_pressure(&source, 0.005, &slope), -4.0, 1e-13);
    assert_close(slope, -14000.0, 1e-13);
    assert_close(er_source_last_flow(&source), 0.004, 1e-15);
}

static void test_curve_of_two_points(void **state)
{
    (void)state;
    struct er_source source = {.kind = ER_SOURCE_CURVE, .curve_count = 2, .curve = points};
    double slope;
    assert_close(er_source_pressure(&source, 0.005, &slope), 18.0, 1e-14);
    assert_close(er_source_last_flow(&source), 0.003, 1e-15);
}

static void test_bucket(void **state)
{
    (void)state;
    struct er_source source = {
        .kind = ER_SOURCE_TEST, .static_pressure = 40.0, .test_flow = 0.002, .test_pressure = 24.0};
    double slope;
    assert_close(er_source_pressure(&source, 0.0, &slope), 40.0, 1e-15);
    assert_true(slope >= 0.0 && slope <= 0.0);
    assert_close(er_source_pressure(&source, 0.001, &slope), 36.0, 1e-15);
    assert_close(er_source_pressure(&source, 0.002, &slope), 24.0, 1e-15);
    assert_close(er_source_pressure(&source, 0.004, &slope), -24.0, 1e-14);
    slope_holds(&source, 0.0017);
    assert_close(er_source_last_flow(&source), 0.002, 1e-15);
}

static void test_bare_pressure(void **state)
{
    (void)state;
    struct er_source source = {.kind = ER_SOURCE_PRESSURE, .pressure = 21.0};
    double slope = 1.0;
    assert_close(er_source_pressure(&source, 9.0, &slope), 21.0, 1e-15);
    assert_true(slope >= 0.0 && slope <= 0.0);
    assert_true(isinf(er_source_last_flow(&source)));
}

static void test_pump(void **state)
{
    (void)state;
    struct er_pipe pipe = {.inside_diameter = 0.04, .c = 150.0};
    struct er_source source = {
        .kind = ER_SOURCE_PUMP, .curve_count = 3, .curve = points, .lift = 3.0};
    double slope, bare_slope;
    assert_close(er_source_pressure(&source, 0.002, &bare_slope), 24.0, 1e-14);
    source.lift = -2.0;
    assert_close(er_source_pressure(&source, 0.002, &bare_slope), 29.0, 1e-14);
    source.suction =
        (struct er_suction){.given = true, .height = 2.5, .npsh_required = (double)NAN};
    assert_close(er_source_pressure(&source, 0.002, &slope), 29.0, 1e-14);
    source.suction.pipe = &pipe;
    source.suction.length = 12.0;
    double friction = er_friction_head(0.002, 12.0, 150.0, 0.04);
    assert_close(er_source_pressure(&source, 0.002, &slope), 29.0 - friction, 1e-14);
    assert_close(slope, bare_slope - 1.852 * friction / 0.002, 1e-13);
    slope_holds(&source, 0.0023);
    assert_close(er_source_pressure(&source, 0.0, &slope), 32.0, 1e-14);
    assert_close(er_source_last_flow(&source), 0.004, 1e-15);
}

/* Straight from the head at no flow to the first point; level there where it is not known. */
static void test_shutoff(void **state)
{
    (void)state;
    struct er_source source = {.kind = ER_SOURCE_CURVE, .curve_count = 3, .curve = points};
    const double first = points[0].at, head = points[0].value;
    double slope;
    assert_true(first > 0.0);
    const double unknown[] = {(double)NAN, 0.0, 0.5 * head};
    for (size_t i = 0; i < 3; i++) {
        source.shutoff = unknown[i];
        assert_close(er_source_first_flow(&source), first, 1e-15);
        assert_close(er_source_pressure(&source, 0.0, &slope), head, 1e-15);
    }
    source.shutoff = head + 6.0;
    assert_true(!(er_source_first_flow(&source) > 0.0));
    assert_close(er_source_pressure(&source, 0.0, &slope), head + 6.0, 1e-15);
    assert_close(er_source_pressure(&source, first / 3.0, &slope), head + 4.0, 1e-14);
    slope_holds(&source, first / 3.0);
    assert_close(er_source_pressure(&source, first, &slope), head, 1e-14);
}

static void test_part_loss(void **state)
{
    (void)state;
    struct er_part filter = {
        .loss = 2.0, .at_flow = 0.002, .dirty_loss = 3.0, .holds = (double)NAN};
    double slope;
    assert_close(er_part_loss(&filter, 0.002, false, &slope), 2.0, 1e-15);
    assert_close(slope, 2000.0, 1e-14);
    assert_close(er_part_loss(&filter, 0.001, false, &slope), 0.5, 1e-15);
    assert_close(er_part_loss(&filter, 0.004, false, &slope), 8.0, 1e-15);
    assert_close(er_part_loss(&filter, 0.002, true, &slope), 5.0, 1e-15);
    assert_close(er_part_loss(&filter, 0.004, true, &slope), 20.0, 1e-15);
    assert_close(slope, 10000.0, 1e-14);
    assert_true(er_part_loss(&filter, 0.0, true, &slope) <= 0.0);
    struct er_part fixed = {.loss = 1.5, .at_flow = (double)NAN, .holds = (double)NAN};
    assert_close(er_part_loss(&fixed, 1e-9, false, &slope), 1.5, 1e-15);
    assert_close(er_part_loss(&fixed, 1.0, false, &slope), 1.5, 1e-15);
    assert_true(slope >= 0.0 && slope <= 0.0);
}

/* A zone of four short level beds behind `headworks`, `valve` and `regulator`. The header is so
 * wide that its friction is nothing. */
#define ZONE                                                                                       \
    "{'units': 'metric', 'source': {%s}, 'headworks': [%s],"                                       \
    "'pipes': {'wide': {'inside_diameter': '1 m'}},"                                               \
    "'tapes': {'t': {'emitter_flow': 1, 'at_pressure': '5 m', 'emitter_spacing': 300,"             \
    " 'inside_diameter': 16, 'min_pressure': 0, 'max_pressure': '50 m'}},"                         \
    "'zones': [{'name': '1', %s 'header': {'pipe': 'wide'},"                                       \
    " 'beds': [{'count': 4, 'length': 30, 'spacing': 2, 'tape': 't'}]}]}"

static void test_parts_in_a_row(void **state)
{
    (void)state;
    struct trial trial;
    trial_open(&trial, ZONE, "'pressure': '20 m'",
               "{'part': 'filter', 'loss': '2 m', 'at_flow': 0.4}, {'part': 'gate', 'loss': '1 m'}",
               "'rise': 1.5, 'valve': {'loss': '0.5 m'},");
    double flow = trial.result.sets[0].flow;
    double share = flow / er_to_si(ER_FLOW, ER_METRIC, 0.4);
    double filter = 2.0 * share * share;
    assert_close(trial.result.sets[0].source_pressure, 20.0, 1e-14);
    assert_close(trial.result.sets[0].after_headworks, 20.0 - filter - 1.0, 1e-9);
    assert_close(trial.result.zones[0].join_pressure, 20.0 - filter - 1.0, 1e-9);
    assert_close(trial.result.zones[0].inlet_pressure, 20.0 - filter - 1.0 - 0.5 - 1.5, 1e-9);
    trial_close(&trial);
}

static void test_source_is_met(void **state)
{
    (void)state;
    struct trial trial;
    trial_open(&trial, ZONE, "'test': {'static': '20 m', 'flow': 0.5, 'pressure': '8 m'}", "", "");
    double share = trial.result.sets[0].flow / er_to_si(ER_FLOW, ER_METRIC, 0.5);
    assert_true(share > 0.5 && share < 2.0);
    assert_close(trial.result.sets[0].source_pressure, 20.0 - 12.0 * share * share, 1e-9);
    assert_close(trial.result.zones[0].inlet_pressure, 20.0 - 12.0 * share * share, 1e-9);
    trial_close(&trial);
}

static double inlet_behind(const char *source, const char *headworks, const char *zone)
{
    struct trial trial;
    trial_open(&trial, ZONE, source, headworks, zone);
    double inlet = trial.result.zones[0].inlet_pressure;
    trial_close(&trial);
    return inlet;
}

static void test_regulators(void **state)
{
    (void)state;
    const char *high = "'pressure': '20 m'";
    const char *low = "'pressure': '7 m'";
    const char *at_join = "'rise': 1, 'regulator': {'holds': '8 m', 'loss': '0.5 m'},";
    const char *at_header =
        "'rise': 1, 'regulator': {'holds': '8 m', 'loss': '0.5 m', 'place': 'header'},";
    /* At the join it holds 8 m there, and the rise is taken off behind it. */
    assert_close(inlet_behind(high, "", at_join), 7.0, 1e-9);
    assert_close(inlet_behind(high, "", at_header), 8.0, 1e-9);
    /* With 7 m it holds nothing and only takes its loss. */
    assert_close(inlet_behind(low, "", at_join), 5.5, 1e-9);
    assert_close(inlet_behind(low, "", at_header), 5.5, 1e-9);
    /* Downhill, at the header it takes the fall, too. */
    assert_close(inlet_behind(high, "", "'rise': -3, 'regulator': {'holds': '8 m'},"), 11.0, 1e-9);
    assert_close(
        inlet_behind(high, "", "'rise': -3, 'regulator': {'holds': '8 m', 'place': 'header'},"),
        8.0, 1e-9);
    /* In the headworks; the loss is before the holding: 20 - 9 is still more than 10. */
    assert_close(inlet_behind(high, "{'part': 'r', 'holds': '10 m', 'loss': '9 m'}", ""), 10.0,
                 1e-9);
    assert_close(inlet_behind(high, "{'part': 'r', 'holds': '10 m', 'loss': '11 m'}", ""), 9.0,
                 1e-9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_curve),          cmocka_unit_test(test_curve_of_two_points),
        cmocka_unit_test(test_bucket),         cmocka_unit_test(test_bare_pressure),
        cmocka_unit_test(test_pump),           cmocka_unit_test(test_part_loss),
        cmocka_unit_test(test_parts_in_a_row), cmocka_unit_test(test_source_is_met),
        cmocka_unit_test(test_regulators),     cmocka_unit_test(test_shutoff),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
