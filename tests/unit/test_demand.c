/* What a plan asks of its source: held against sums made by hand, and against a bisection over
 * the source's pressure that asks er_check each time. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "evenrow/demand.h"
#include "report/supply/report.h"
#include "trial.h"

#define FOOT ER_FOOT

static double psi(double value) { return er_to_si(ER_PRESSURE, ER_US, value); }
static double gpm(double value) { return er_to_si(ER_FLOW, ER_US, value); }

static const struct er_demand_request own_pressures = {.inlet_pressure = ER_NONE,
                                                       .efficiency = 0.75};

static void find(const struct er_field *field, const struct er_demand_request *request,
                 struct er_demand *demand)
{
    struct er_failure failure;
    assert_int_equal(er_demand_find(field, request, field->system, demand, &failure), ER_OK);
}

/* ---- by hand ---- */

/* 20 beds of compensating tape take 20 x 300 emitters x 0.3 gph = 30 gpm at any pressure. The
 * header is so wide that it loses nothing, so that all beds have what the feed point has. */
#define COMPENSATING                                                                               \
    "'tapes': {'t': {'emitter_flow': 0.3, 'at_pressure': 9, 'holds_from': 4, 'holds_to': 40,"      \
    " 'emitter_spacing': 12, 'inside_diameter': 0.9}},"
#define WIDE_HEADER "'header': {'pipe': {'inside_diameter': 400}}"
#define BEDS "'beds': [{'count': 20, 'length': 300, 'spacing': 6, 'tape': 't'}]"

/* Computed by hand: 9 psi + 12 ft of rise + Hazen-Williams over 500 ft of 2 in pipe, C 150. */
static void test_one_pipe(void **state)
{
    (void)state;
    struct er_field field;
    struct er_demand demand;
    field_open(&field, "{'units': 'us', 'source': {'pressure': 3}, " COMPENSATING
                       "'mainline': [{'name': 'm', 'pipe': {'inside_diameter': 2, 'c': 150},"
                       " 'length': 500, 'rise': 12}],"
                       "'zones': [{'name': '1', " WIDE_HEADER ", " BEDS "}]}");
    find(&field, &own_pressures, &demand);
    double friction = 10.67 * 500.0 * FOOT * pow(gpm(30.0), 1.852) /
                      (pow(150.0, 1.852) * pow(2.0 * 0.0254, 4.8704));
    double wanted = psi(9.0) + 12.0 * FOOT + friction;
    assert_true(demand.reachable && !demand.gets_dirty);
    assert_close(demand.sets[0].clean.flow, gpm(30.0), 1e-9);
    assert_within(demand.sets[0].clean.pressure, wanted, 1e-6);
    assert_within(demand.sets[0].dirty.pressure, wanted, 1e-6);
    assert_int_equal(demand.sets[0].clean.set_by.kind, ER_DEMAND_INLET);
    assert_within(demand.sets[0].own_pressure, psi(3.0), 1e-9);
    assert_within(demand.sets[0].surplus, psi(3.0) - wanted, 1e-6);
    er_demand_release(&demand);
    er_field_release(&field);
}

/* Computed by hand: a filter that loses 2 psi at 30 gpm, and 4 more when it is dirty; behind it
 * a regulator of 20 psi that loses 3, and a lead without loss to the feed point 4 ft up. */
static void test_filter_and_regulator(void **state)
{
    (void)state;
    struct er_field field;
    struct er_demand demand;
    field_open(&field, "{'units': 'us', 'source': {'pressure': 3}, " COMPENSATING
                       "'headworks': [{'part': 'f', 'loss': 2, 'at_flow': 30, 'dirty_loss': 4}],"
                       "'zones': [{'name': '1', 'rise': 4,"
                       " 'regulator': {'holds': 20, 'loss': 3, 'at_flow': 30}, " WIDE_HEADER
                       ", " BEDS "}]}");
    find(&field, &own_pressures, &demand);
    assert_true(demand.gets_dirty);
    assert_within(demand.sets[0].clean.pressure, psi(25.0), 1e-6);
    assert_within(demand.sets[0].dirty.pressure, psi(29.0), 1e-6);
    assert_int_equal(demand.sets[0].dirty.set_by.kind, ER_DEMAND_REGULATOR);
    assert_int_equal(demand.sets[0].dirty.set_by.zone, 0);
    er_demand_release(&demand);
    er_field_release(&field);
}

/* Computed by hand: total dynamic head and power of a pump 7 ft over the water with 30 ft of 2 in
 * suction pipe, C 150: gpm x ft / 3960, over the efficiency. */
static void test_head_and_power(void **state)
{
    (void)state;
    struct er_field field;
    struct er_demand demand;
    field_open(&field,
               "{'units': 'us', 'source': {'pump': {'curve': [[0, 90], [20, 80], [28, 70]],"
               " 'lift': 7}, 'suction': {'pipe': {'inside_diameter': 2, 'c': 150}, 'length': 30,"
               " 'altitude': 1320}, 'flow_limit': 25}, " COMPENSATING
               "'zones': [{'name': '1', " WIDE_HEADER ", " BEDS "}]}");
    const struct er_demand_request request = {.inlet_pressure = psi(20.0), .efficiency = 0.6};
    find(&field, &request, &demand);
    const struct er_set_demand *set = &demand.sets[0];
    double friction = 10.67 * 30.0 * FOOT * pow(gpm(30.0), 1.852) /
                      (pow(150.0, 1.852) * pow(2.0 * 0.0254, 4.8704));
    assert_within(set->clean.pressure, psi(20.0), 1e-6);
    assert_close(set->lift, 7.0 * FOOT, 1e-12);
    assert_close(set->suction_friction, friction, 1e-9);
    assert_within(set->head, psi(20.0) + 7.0 * FOOT + friction, 1e-6);
    double horsepower = 30.0 * set->head / FOOT / 3960.0;
    assert_close(er_from_si(ER_POWER, ER_US, set->water_power), horsepower, 1e-3);
    assert_close(er_from_si(ER_POWER, ER_US, set->brake_power), horsepower / 0.6, 1e-3);
    /* On past its last point along the last segment: 70 - 2 x 10/8 = 67.5 ft at 30 gpm. */
    assert_true(set->beyond_curve);
    assert_within(set->own_pressure, (67.5 - 7.0) * FOOT - friction, 1e-6);
    assert_within(set->own_flow_left, gpm(-5.0), gpm(1e-6));
    /* Printed: Engineering ToolBox, 21 ft at 1,320 ft. */
    assert_true(demand.suction.judged);
    assert_close(demand.suction.practical_lift, 21.0 * FOOT, 1e-9);
    assert_close(demand.suction.height, 7.0 * FOOT, 1e-12);
    er_demand_release(&demand);
    er_field_release(&field);
}

/* Downhill from a pond 40 ft up no pressure is asked for at the outlet, and inlets have more. */
static void test_no_pressure_needed(void **state)
{
    (void)state;
    struct er_field field;
    struct er_demand demand;
    field_open(&field, "{'units': 'us', 'source': {'pressure': 3}, " COMPENSATING
                       "'mainline': [{'name': 'm', 'pipe': {'inside_diameter': 4, 'c': 150},"
                       " 'length': 500, 'rise': -40}],"
                       "'zones': [{'name': '1', " WIDE_HEADER ", " BEDS "}]}");
    find(&field, &own_pressures, &demand);
    assert_true(demand.reachable);
    assert_within(demand.sets[0].clean.pressure, 0.0, 0.0);
    assert_int_equal(demand.sets[0].clean.set_by.kind, ER_DEMAND_NOWHERE);
    assert_true(demand.checked.zones[0].tape_inlet_pressure.min > psi(9.0));
    assert_within(demand.proposed->source.pressure, 0.0, 0.0);
    er_demand_release(&demand);
    er_field_release(&field);
}

/* ---- by bisection ---- */

/* A set of two zones on falling and on rising ground, fed by one mainline, and one that runs
 * alone: a branch each. */
static const char two_sets[] =
    "{'units': 'us', 'source': {'curve': [[0, 60], [60, 40]]},"
    "'headworks': [{'part': 'f', 'loss': 2, 'at_flow': 30, 'dirty_loss': 4}],"
    "'mainline': [{'name': 'a', 'pipe': {'inside_diameter': 2.2}, 'length': 300, 'rise': 5},"
    " {'name': 'b', 'pipe': {'inside_diameter': 1.6}, 'length': 200, 'rise': -9}],"
    "'tapes': {'t': {'flow': 0.45, 'at_pressure': 8, 'emitter_spacing': 12,"
    " 'inside_diameter': 0.625}, 'u': {'flow': 0.3, 'at_pressure': 10, 'emitter_spacing': 16,"
    " 'inside_diameter': 0.625}},"
    "'zones': [{'name': 'up', 'on': 'a', 'header': {'pipe': {'inside_diameter': 2}, 'slope': 2,"
    "  'feed': 'middle'}, 'beds': [{'count': 9, 'length': 250, 'spacing': 6, 'tape': 't',"
    "  'slope': 1}]},"
    " {'name': 'down', 'on': 'b', 'header': {'pipe': {'inside_diameter': 1.5}, 'slope': -3},"
    "  'beds': [{'count': 7, 'length': 300, 'spacing': 6, 'tape': 'u', 'slope': -2}]},"
    " {'name': 'alone', 'on': 'b', 'header': {'pipe': {'inside_diameter': 1.5}},"
    "  'beds': [{'count': 12, 'length': 200, 'spacing': 5, 'tape': 't', 'sides': 'both'}]}],"
    "'sets': [['up', 'down'], ['alone']]}";

/* The least that a zone's inlets have over `wanted` of each, at a held source pressure. */
static double least_over(const struct er_field *field, const double *wanted, size_t set,
                         double pressure)
{
    struct er_field held = *field;
    struct er_result result;
    struct er_failure failure;
    held.source = (struct er_source){
        .pressure = pressure, .flow_limit = ER_NONE, .storage = ER_NONE, .refill = ER_NONE};
    assert_int_equal(er_check(&held, ER_US, &result, &failure), ER_OK);
    double least = ER_ENDLESS;
    for (size_t z = 0; z < field->sets[set].zone_count; z++) {
        size_t zone = field->sets[set].zones[z];
        least = fmin(least, result.zones[zone].tape_inlet_pressure.min - wanted[zone]);
    }
    er_result_release(&result);
    return least;
}

static double bisect(const struct er_field *field, const double *wanted, size_t set)
{
    double low = 0.0;
    double high = 200.0;
    while (high - low > 1e-9) {
        double middle = 0.5 * (low + high);
        if (least_over(field, wanted, set, middle) < 0.0) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return high;
}

static void test_two_sets_by_bisection(void **state)
{
    (void)state;
    struct er_field field;
    struct er_demand demand;
    field_open(&field, "%s", two_sets);
    find(&field, &own_pressures, &demand);
    const double wanted[] = {psi(8.0), psi(10.0), psi(8.0)};
    for (size_t s = 0; s < 2; s++) {
        assert_within(demand.sets[s].clean.pressure, bisect(&field, wanted, s), 1e-6);
        assert_int_equal(demand.sets[s].clean.set_by.kind, ER_DEMAND_INLET);
    }
    er_demand_release(&demand);
    const struct er_demand_request six = {.inlet_pressure = psi(6.0), .efficiency = 0.75};
    const double six_each[] = {psi(6.0), psi(6.0), psi(6.0)};
    find(&field, &six, &demand);
    for (size_t s = 0; s < 2; s++) {
        assert_within(demand.sets[s].clean.pressure, bisect(&field, six_each, s), 1e-6);
    }
    /* The same flow passes the filter, clean or dirty. */
    for (size_t s = 0; s < 2; s++) {
        const struct er_set_demand *set = &demand.sets[s];
        double share = set->clean.flow / gpm(30.0);
        assert_close(set->dirty.flow, set->clean.flow, 1e-7);
        assert_within(set->dirty.pressure - set->clean.pressure, psi(4.0) * share * share, 1e-5);
    }
    er_demand_release(&demand);
    er_field_release(&field);
}

/* The same farm in metric units asks for the same. */
static void test_metric(void **state)
{
    (void)state;
    struct er_field field;
    struct er_demand demand;
    field_open(&field, "{'units': 'metric', 'source': {'pressure': 100},"
                       "'mainline': [{'name': 'a', 'pipe': {'inside_diameter': 50}, 'length': 120,"
                       " 'rise': 3}],"
                       "'tapes': {'t': {'emitter_flow': 1, 'at_pressure': 70,"
                       " 'emitter_spacing': 300, 'inside_diameter': 16}},"
                       "'zones': [{'name': '1', 'header': {'pipe': {'inside_diameter': 40}},"
                       " 'beds': [{'count': 30, 'length': 60, 'spacing': 1.5, 'tape': 't'}]}]}");
    find(&field, &own_pressures, &demand);
    const double wanted[] = {er_to_si(ER_PRESSURE, ER_METRIC, 70.0)};
    assert_within(demand.sets[0].clean.pressure, bisect(&field, wanted, 0), 1e-6);
    /* Told up to a tenth, as the field's units have it. */
    double told = er_from_si(ER_PRESSURE, ER_METRIC, demand.proposed->source.pressure);
    double exact = er_from_si(ER_PRESSURE, ER_METRIC, demand.sets[0].clean.pressure);
    assert_within(told, ceil(10.0 * exact) / 10.0, 1e-9);
    er_demand_release(&demand);
    er_field_release(&field);
}

/* ---- what no source can do ---- */

/* A regulator of 12 psi with 3 ft of rise behind it, at the join or at the header. */
static const char held_back[] =
    "{'units': 'us', 'source': {'pressure': 60},"
    "'headworks': [{'part': 'r', 'holds': %g, 'loss': 1, 'at_flow': 20}],"
    "'tapes': {'t': {'flow': 0.45, 'at_pressure': 8, 'emitter_spacing': 12,"
    " 'inside_diameter': 0.625}},"
    "'zones': [{'name': '1', 'rise': 3, 'regulator': {'holds': %.12g%s},"
    " 'header': {'pipe': {'inside_diameter': 1.5}, 'slope': 1, 'lead': 40},"
    " 'beds': [{'count': 16, 'length': 250, 'spacing': 6, 'tape': 't'}]}]}";

static void holder_is_told(const char *place, double rise)
{
    struct er_field field;
    struct er_demand demand;
    const struct er_demand_request request = {.inlet_pressure = psi(12.0), .efficiency = 0.75};
    field_open(&field, held_back, 80.0, 12.0, place);
    find(&field, &request, &demand);
    assert_false(demand.reachable);
    assert_false(demand.sets[0].reachable);
    assert_int_equal(demand.obstacle_count, 1);
    struct er_demand_obstacle obstacle = demand.obstacles[0];
    assert_int_equal(obstacle.at.kind, ER_DEMAND_INLET);
    assert_int_equal(obstacle.at.bed, 15); /* the last, uphill and furthest from the feed */
    assert_int_equal(obstacle.by.kind, ER_DEMAND_REGULATOR);
    assert_close(obstacle.holds, psi(12.0), 1e-12);
    assert_close(obstacle.rise, rise, 1e-9);
    assert_true(obstacle.friction > 0.0);
    assert_within(obstacle.holds - obstacle.rise - obstacle.friction, obstacle.pressure, 1e-9);
    er_demand_release(&demand);
    er_field_release(&field);

    /* What it would have to hold is enough, and a thousandth less is not. */
    double needed = er_from_si(ER_PRESSURE, ER_US, obstacle.needed_hold);
    field_open(&field, held_back, 80.0, needed + 1e-6, place);
    find(&field, &request, &demand);
    assert_true(demand.reachable);
    er_demand_release(&demand);
    er_field_release(&field);
    field_open(&field, held_back, 80.0, 0.999 * needed, place);
    find(&field, &request, &demand);
    assert_false(demand.reachable);
    er_demand_release(&demand);
    er_field_release(&field);
}

static void test_held_back(void **state)
{
    (void)state;
    double header_rise = 15.0 * 6.0 * 0.01 * FOOT;
    holder_is_told("", 3.0 * FOOT + header_rise);
    holder_is_told(", 'place': 'header'", header_rise);
}

/* The headworks' regulator holds 10 psi, the zone's should hold 12: it never will, though the
 * tape has the 6 psi that are asked for. */
static void test_regulator_behind_regulator(void **state)
{
    (void)state;
    struct er_field field;
    struct er_demand demand;
    const struct er_demand_request request = {.inlet_pressure = psi(6.0), .efficiency = 0.75};
    field_open(&field, held_back, 10.0, 12.0, "");
    find(&field, &request, &demand);
    assert_int_equal(demand.obstacle_count, 1);
    const struct er_demand_obstacle *obstacle = &demand.obstacles[0];
    assert_int_equal(obstacle->at.kind, ER_DEMAND_REGULATOR);
    assert_int_equal(obstacle->by.kind, ER_DEMAND_HEADWORKS);
    assert_close(obstacle->wanted, psi(12.0), 1e-12);
    assert_within(obstacle->pressure, psi(10.0), 1e-6);
    assert_within(obstacle->needed_hold, psi(12.0), 1e-6);
    er_demand_release(&demand);
    er_field_release(&field);
}

/* Through 20,000 ft of quarter-inch pipe no source that exists pushes 30 gpm. */
static void test_too_much(void **state)
{
    (void)state;
    struct er_field field;
    struct er_demand demand;
    field_open(&field, "{'units': 'us', 'source': {'pressure': 3}, " COMPENSATING
                       "'mainline': [{'name': 'm', 'pipe': {'inside_diameter': 0.25},"
                       " 'length': 20000}],"
                       "'zones': [{'name': '1', " WIDE_HEADER ", " BEDS "}]}");
    find(&field, &own_pressures, &demand);
    assert_false(demand.reachable);
    assert_int_equal(demand.obstacle_count, 1);
    assert_int_equal(demand.obstacles[0].by.kind, ER_DEMAND_NOWHERE);
    assert_true(isnan(demand.obstacles[0].needed_hold));
    assert_true(demand.obstacles[0].pressure < psi(9.0));
    er_demand_release(&demand);
    er_field_release(&field);
}

/* ---- the source that is proposed ---- */

static const struct er_finding *finding_of(const struct er_result *result,
                                           enum er_finding_code code)
{
    for (size_t f = 0; f < result->finding_count; f++) {
        if (result->findings[f].code == code) {
            return &result->findings[f];
        }
    }
    return NULL;
}

static void test_proposed_source_is_just_enough(void **state)
{
    (void)state;
    struct er_field field;
    struct er_demand demand;
    struct er_result result;
    struct er_failure failure;
    field_open(&field, "%s", two_sets);
    find(&field, &own_pressures, &demand);
    assert_null(finding_of(&demand.checked, ER_SOURCE_FLOW));
    assert_null(finding_of(&demand.checked, ER_SOURCE_ASSUMED));
    assert_true(demand.checked.zones[0].tape_inlet_pressure.min >= psi(8.0));
    assert_true(demand.checked.zones[1].tape_inlet_pressure.min >= psi(10.0));

    struct er_field less = *demand.proposed;
    less.source.flow_limit *= 0.99;
    assert_int_equal(er_check(&less, ER_US, &result, &failure), ER_OK);
    assert_non_null(finding_of(&result, ER_SOURCE_FLOW));
    er_result_release(&result);
    er_demand_release(&demand);
    er_field_release(&field);
}

/* Without what filters lose, a hundredth less pressure leaves the lowest inlet short. */
static void test_proposed_pressure_is_just_enough(void **state)
{
    (void)state;
    struct er_field field;
    struct er_demand demand;
    struct er_part clean = {0};
    field_open(&field, "%s", two_sets);
    clean = field.headworks[0];
    clean.dirty_loss = 0.0;
    field.headworks = &clean;
    find(&field, &own_pressures, &demand);
    const double wanted[] = {psi(8.0), psi(10.0), psi(8.0)};
    double held = demand.proposed->source.pressure;
    assert_true(least_over(&field, wanted, demand.pressure_set, held) >= 0.0);
    assert_true(least_over(&field, wanted, demand.pressure_set, 0.99 * held) < 0.0);
    er_demand_release(&demand);
    er_field_release(&field);
}

static void test_rounding_up(void **state)
{
    (void)state;
    static const double cases[][2] = {{41.41, 41.5},   {41.5, 41.5},           {9.871, 9.88},
                                      {0.4561, 0.457}, {152.34, 152.4},        {1.0, 1.0},
                                      {0.0, 0.0},      {30.000000000001, 30.0}};
    for (size_t c = 0; c < sizeof cases / sizeof cases[0]; c++) {
        double rounded = er_rounded_up(ER_FLOW, ER_US, gpm(cases[c][0]));
        assert_within(er_from_si(ER_FLOW, ER_US, rounded), cases[c][1], 1e-9);
    }
    double kilopascal = er_to_si(ER_PRESSURE, ER_METRIC, 192.07);
    assert_within(
        er_from_si(ER_PRESSURE, ER_METRIC, er_rounded_up(ER_PRESSURE, ER_METRIC, kilopascal)),
        192.1, 1e-9);
}

static void test_power_is_never_negative(void **state)
{
    (void)state;
    assert_within(er_water_power(0.002, -3.0), 0.0, 0.0);
    assert_close(er_water_power(0.002, 10.0), 998.2 * 9.80665 * 0.02, 1e-12);
}

/* What is to be bought is rounded up, and 'at least'; a table's figures to the nearest. A pump
 * whose curve starts at more than the flow was not measured there. The suction's lift is the
 * height alone. */
static void test_what_is_told(void **state)
{
    (void)state;
    struct er_field field;
    struct er_demand demand;
    struct er_text text;
    char nearest[40], up[60];
    field_open(
        &field,
        "{'units': 'us', 'source': {'pump': {'curve': [[40, 80], [50, 70]], 'lift': 7},"
        " 'suction': {'pipe': {'inside_diameter': 2, 'c': 150}, 'length': 30}}, " COMPENSATING
        "'mainline': [{'name': 'm', 'pipe': {'inside_diameter': 2, 'c': 150},"
        " 'length': 500, 'rise': 12.22}],"
        "'zones': [{'name': '1', " WIDE_HEADER ", " BEDS "}]}");
    find(&field, &own_pressures, &demand);
    assert_true(demand.sets[0].beyond_curve);
    double pressure = er_from_si(ER_PRESSURE, ER_US, demand.sets[0].dirty.pressure);
    snprintf(nearest, sizeof nearest, "  %.1f", pressure);
    snprintf(up, sizeof up, "at least 30 gpm at %.3g psi", ceil(pressure * 10.0) / 10.0);
    assert_true(ceil(pressure * 10.0) > floor(pressure * 10.0 + 0.5)); /* they differ */
    er_text_init(&text);
    assert_int_equal(er_report_as(&er_demand_report, ER_AS_TEXT, &demand, ER_US, &text), ER_OK);
    assert_non_null(strstr(er_text_string(&text), up));
    assert_non_null(strstr(er_text_string(&text), nearest));
    er_text_release(&text);
    assert_int_equal(er_report_as(&er_demand_report, ER_AS_JSON, &demand, ER_US, &text), ER_OK);
    assert_non_null(strstr(er_text_string(&text), "\"lift\": 7,\n    \"friction\": 0."));
    assert_non_null(strstr(er_text_string(&text), "\"measured\": false"));
    er_text_release(&text);
    er_demand_release(&demand);
    er_field_release(&field);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_one_pipe),
        cmocka_unit_test(test_filter_and_regulator),
        cmocka_unit_test(test_head_and_power),
        cmocka_unit_test(test_what_is_told),
        cmocka_unit_test(test_no_pressure_needed),
        cmocka_unit_test(test_two_sets_by_bisection),
        cmocka_unit_test(test_metric),
        cmocka_unit_test(test_held_back),
        cmocka_unit_test(test_regulator_behind_regulator),
        cmocka_unit_test(test_too_much),
        cmocka_unit_test(test_proposed_source_is_just_enough),
        cmocka_unit_test(test_proposed_pressure_is_just_enough),
        cmocka_unit_test(test_rounding_up),
        cmocka_unit_test(test_power_is_never_negative),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
