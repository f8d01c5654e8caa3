/* How long to run for what the crop needs: worked by hand, and at the soil's limit. */
#include "water/need.h"

#include <math.h>

#include "trial.h"

#define FIELD                                                                                      \
    "{'units': 'us', 'source': {'pressure': 12}, 'tapes': {'t': {'flow': 0.45, 'at_pressure': 8,"  \
    " 'emitter_spacing': 12, 'inside_diameter': 0.625}}, %s 'zones': [{'name': '1', 'header':"     \
    " {'pipe': {'inside_diameter': 2}}, 'beds': [%s]}]}"
#define TEN_BEDS "{'count': 10, 'length': 100, 'spacing': 6, 'tape': 't'}"

/* The irrigation of a field's only zone when it gives `gpm`. */
static struct er_irrigation plan(const char *water, const char *beds, double gpm, double uniformity)
{
    struct er_field field;
    field_open(&field, FIELD, water, beds);
    struct er_zone_ground ground = er_zone_ground_measure(&field.zones[0]);
    struct er_irrigation result =
        er_irrigation_plan(&field.zones[0], &ground, er_to_si(ER_FLOW, ER_US, gpm), uniformity);
    er_field_release(&field);
    return result;
}

static double inches(double depth) { return depth / ER_INCH; }
static double gallons(double volume) { return volume / ER_GALLON; }
static double minutes(double time) { return time / 60.0; }

/* Ten beds of 100 ft, 6 ft apart, are 6,000 ft2. 0.25 in / 0.9 = 0.2778 in on them are
 * 6,000 x 144 x 0.2778 / 231 = 1,038.96 gal: 103.896 min at 10 gpm; on 1,000 ft of bed
 * 103.896 gal for each 100 ft. */
static void test_depth_by_hand(void **state)
{
    (void)state;
    struct er_irrigation at =
        plan("'water': {'need': 0.25, 'efficiency': 90},", TEN_BEDS, 10.0, 0.5);
    assert_close(at.efficiency, 0.9, 1e-14);
    assert_close(inches(at.gross_depth), 0.25 / 0.9, 1e-12);
    assert_close(gallons(at.volume), 1038.961, 1e-6);
    assert_close(minutes(at.run_time), 103.8961, 1e-6);
    assert_close(er_from_si(ER_VOLUME_PER_LENGTH, ER_US, at.gross_per_length), 103.8961, 1e-6);
    assert_true(isnan(at.holding));
    assert_int_equal(at.pulses, 1);
}

static void test_default_efficiency(void **state)
{
    (void)state;
    assert_close(plan("'water': {'need': 0.2},", TEN_BEDS, 10.0, 0.95).efficiency, 0.9, 1e-14);
    assert_close(plan("'water': {'need': 0.2},", TEN_BEDS, 10.0, 0.83).efficiency, 0.83, 1e-14);
    assert_close(inches(plan("'water': {'need': 0.2},", TEN_BEDS, 10.0, 0.8).gross_depth), 0.25,
                 1e-12);
}

static void test_leaching_and_every(void **state)
{
    (void)state;
    /* 0.2 x 3 / 0.8 / 0.9 = 0.8333 in. */
    struct er_irrigation at =
        plan("'water': {'need': 0.2, 'efficiency': 80, 'leaching': 10, 'every': 3},", TEN_BEDS,
             10.0, 0.95);
    assert_close(inches(at.gross_depth), 0.6 / 0.72, 1e-12);
    /* Half a day between irrigations halves each of them. */
    at = plan("'water': {'need': 0.2, 'efficiency': 80, 'every': 0.5},", TEN_BEDS, 10.0, 0.95);
    assert_close(inches(at.gross_depth), 0.125, 1e-12);
}

static void test_kc_and_mulch(void **state)
{
    (void)state;
    struct er_irrigation at =
        plan("'water': {'eto': 0.25, 'kc': 1.15, 'mulch_factor': 0.8, 'efficiency': 100},",
             TEN_BEDS, 10.0, 0.95);
    assert_close(inches(at.gross_depth), 0.23, 1e-12);
}

/* The depth on a bed of 30 in is water on 2.5 ft of the 6 ft. */
static void test_area_is_bed(void **state)
{
    (void)state;
    struct er_irrigation at =
        plan("'water': {'need': 0.25, 'efficiency': 90, 'area': 'bed'},", TEN_BEDS, 10.0, 0.9);
    assert_close(inches(at.gross_depth), 0.25 / 0.9, 1e-12);
    assert_close(minutes(at.run_time), 103.8961 * 2.5 / 6.0, 1e-6);
}

/* 60 gal for each of ten 100 ft: 600 gal, 750 with 80 percent: 75 min. As a depth over the
 * 6,000 ft2: 750 x 231 / (6,000 x 144) = 0.2005 in. */
static void test_need_per_length(void **state)
{
    (void)state;
    struct er_irrigation at =
        plan("'water': {'need_per_length': 60, 'efficiency': 80},", TEN_BEDS, 10.0, 0.9);
    assert_close(minutes(at.run_time), 75.0, 1e-12);
    assert_close(inches(at.gross_depth), 0.2005208, 1e-6);
    assert_close(er_from_si(ER_VOLUME_PER_LENGTH, ER_US, at.gross_per_length), 75.0, 1e-12);
}

static void test_metric(void **state)
{
    (void)state;
    struct er_field field;
    field_open(&field,
               "{'units': 'metric', 'source': {'pressure': 100}, 'tapes': {'t': {'flow': 5,"
               " 'at_pressure': 60, 'emitter_spacing': 300, 'inside_diameter': 16}},"
               "'water': {'need': 6, 'efficiency': 80}, 'zones': [{'name': '1', 'header': {'pipe':"
               " {'inside_diameter': 50}}, 'beds': [{'count': 10, 'length': 50, 'spacing': 1.5,"
               " 'tape': 't'}]}]}");
    /* 7.5 mm on 750 m2 are 5.625 m3: 2 h 15 min at 2.5 m3/h. */
    struct er_zone_ground ground = er_zone_ground_measure(&field.zones[0]);
    struct er_irrigation at =
        er_irrigation_plan(&field.zones[0], &ground, er_to_si(ER_FLOW, ER_METRIC, 2.5), 0.9);
    assert_close(ground.area, 750.0, 1e-12);
    assert_close(ground.bed_area, 500.0 * 0.76, 1e-12);
    assert_close(at.gross_depth, 0.0075, 1e-12);
    assert_close(at.volume, 5.625, 1e-12);
    assert_close(at.run_time, 8100.0, 1e-12);
    er_field_release(&field);
}

/* Both sides count, tapering groups too; tapes on one bed do not. */
static void test_ground(void **state)
{
    (void)state;
    struct er_field field;
    field_open(&field, FIELD, "",
               "{'count': 3, 'length': 300, 'last_length': 100, 'spacing': 6, 'tape': 't',"
               " 'sides': 'both', 'other_length': 150, 'tapes': 2, 'bed_width': 36},"
               "{'count': 2, 'length': 80, 'spacing': 5, 'tape': 't'}");
    struct er_zone_ground ground = er_zone_ground_measure(&field.zones[0]);
    double foot2 = ER_FOOT * ER_FOOT;
    /* 300 + 200 + 100 on the one side, 150 + 100 + 50 on the other. */
    assert_close(ground.bed_length, (600.0 + 300.0 + 160.0) * ER_FOOT, 1e-12);
    assert_close(ground.area, (900.0 * 6.0 + 160.0 * 5.0) * foot2, 1e-12);
    assert_close(ground.bed_area, (900.0 * 3.0 + 160.0 * 2.5) * foot2, 1e-12);
    assert_close(ground.wetted_area, ground.bed_area, 1e-14);
    er_field_release(&field);
}

/* Sandy loam of the catalogue holds 0.13 of its depth; a foot of it, half of that used, under
 * 1,000 ft of 30 in: 0.13 x 0.5 x 1 x 2.5 x 1,000 = 162.5 ft3. */
static void test_soil(void **state)
{
    (void)state;
    const double holding = 162.5 * ER_FOOT * ER_FOOT * ER_FOOT;
    struct er_irrigation at =
        plan("'water': {'need_per_length': 100, 'efficiency': 100, 'soil': 'sandy loam'},",
             TEN_BEDS, 10.0, 0.9);
    assert_close(at.holding, holding, 1e-12);
    assert_close(gallons(at.holding), 1215.58, 1e-5); /* 162.5 x 1,728 / 231 */
    assert_int_equal(at.pulses, 1);                   /* 1,000 gal */
    at = plan("'water': {'need_per_length': 100, 'efficiency': 100, 'soil': 'sandy loam',"
              " 'every': 2},",
              TEN_BEDS, 10.0, 0.9);
    assert_int_equal(at.pulses, 2);
    at = plan("'water': {'need_per_length': 100, 'efficiency': 100, 'soil': 'sandy loam',"
              " 'every': 6},",
              TEN_BEDS, 10.0, 0.9);
    assert_int_equal(at.pulses, 5); /* 6,000 / 1,215.6 = 4.94 */
    at = plan("'water': {'need_per_length': 100, 'efficiency': 100, 'soil': 'sandy loam',"
              " 'wetted_width': 15, 'root_depth': 24, 'allowed_depletion': 25},",
              TEN_BEDS, 10.0, 0.9);
    assert_close(at.holding, 0.5 * holding, 1e-12);
    assert_int_equal(at.pulses, 2);
}

/* Just what the soil holds, and whole multiples of it, need no further run. */
static void test_pulses_at_the_limit(void **state)
{
    (void)state;
    struct er_field field;
    field_open(&field, FIELD,
               "'water': {'need_per_length': 100, 'efficiency': 100, 'soil': 'sandy loam'},",
               TEN_BEDS);
    struct er_zone zone = field.zones[0];
    struct er_zone_ground ground = er_zone_ground_measure(&zone);
    double holding = 162.5 * ER_FOOT * ER_FOOT * ER_FOOT;
    for (size_t times = 1; times < 40; times++) {
        zone.water.need = (double)times * holding / ground.bed_length;
        assert_int_equal(er_irrigation_plan(&zone, &ground, 1e-3, 0.9).pulses, times);
        zone.water.need *= 1.0 + 1e-6;
        assert_int_equal(er_irrigation_plan(&zone, &ground, 1e-3, 0.9).pulses, times + 1);
    }
    er_field_release(&field);
}

static void test_nothing_to_work_out(void **state)
{
    (void)state;
    struct er_irrigation at = plan("", TEN_BEDS, 10.0, 0.9);
    assert_true(isnan(at.run_time) && isnan(at.gross_depth) && isnan(at.efficiency));
    at = plan("'water': {'need': 0.2},", TEN_BEDS, 0.0, (double)NAN);
    assert_true(isnan(at.run_time) && isnan(at.gross_depth) && isnan(at.gross_per_length));
    at = plan("'water': {'need': 0.2},", TEN_BEDS, 10.0, 0.0);
    assert_true(isnan(at.run_time));
    at = plan("'water': {'need': 0, 'efficiency': 90},", TEN_BEDS, 10.0, 0.9);
    assert_true(at.run_time >= 0.0 && at.run_time <= 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_depth_by_hand),
        cmocka_unit_test(test_default_efficiency),
        cmocka_unit_test(test_leaching_and_every),
        cmocka_unit_test(test_kc_and_mulch),
        cmocka_unit_test(test_area_is_bed),
        cmocka_unit_test(test_need_per_length),
        cmocka_unit_test(test_metric),
        cmocka_unit_test(test_ground),
        cmocka_unit_test(test_soil),
        cmocka_unit_test(test_pulses_at_the_limit),
        cmocka_unit_test(test_nothing_to_work_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
