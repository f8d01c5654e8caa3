/* How long to run for what the crop needs: worked by hand, and at the soil's limit. */
#include "water/need.h"

#include <math.h>
#include <stdio.h>

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
    /* By next to no evenness nobody waters: no run time of years. */
    assert_close(plan("'water': {'need': 0.2},", TEN_BEDS, 10.0, 0.011).efficiency, 0.011, 1e-14);
    assert_true(isnan(plan("'water': {'need': 0.2},", TEN_BEDS, 10.0, 0.009).run_time));
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
    assert_true(isnan(ground.soil));
    er_field_release(&field);
}

/* Half circles, cut off where the roots end; never more than the bed. A whole one of 10 in radius
 * is 50 pi in2. Cut off at half its radius R: R2 (asin(1/2) + 1/2 sqrt(3/4)) = R2 0.956612. */
static void test_section(void **state)
{
    (void)state;
    const double half = 50.0 * 3.14159265358979;
    assert_close(er_wetted_section(20.0, 12.0, 1, 30.0), half, 1e-13);
    assert_close(er_wetted_section(20.0, 10.0, 1, 30.0), half, 1e-13);
    assert_close(er_wetted_section(20.0, 5.0, 1, 30.0), 95.6612, 1e-6);
    assert_close(er_wetted_section(20.0, 12.0, 2, 30.0), 2.0 * half, 1e-13);
    assert_close(er_wetted_section(20.0, 12.0, 3, 30.0), 360.0, 1e-13);
    assert_close(er_wetted_section(2000.0, 12.0, 1, 30.0), 360.0, 1e-13);
}

/* Sandy loam of the catalogue holds 0.13 of its depth, and tape wets 16 in of it: 1,000 ft of half
 * circles of 8 in, half of the water used, are 32 pi / 144 x 0.13 x 0.5 x 1,000 = 45.3786 ft3. */
static void test_soil(void **state)
{
    (void)state;
    const double holding = 32.0 * 3.14159265358979 / 144.0 * 65.0 * ER_FOOT * ER_FOOT * ER_FOOT;
    struct er_irrigation at =
        plan("'water': {'need_per_length': 30, 'efficiency': 100, 'soil': 'sandy loam'},", TEN_BEDS,
             10.0, 0.9);
    assert_close(at.holding, holding, 1e-12);
    assert_close(gallons(at.holding), 339.456, 1e-5); /* x 1,728 / 231 */
    assert_int_equal(at.pulses, 1);                   /* 300 gal */
    at = plan("'water': {'need_per_length': 30, 'efficiency': 100, 'soil': 'sandy loam',"
              " 'every': 6},",
              TEN_BEDS, 10.0, 0.9);
    assert_int_equal(at.pulses, 6); /* 1,800 / 339.5 = 5.3 */
    /* Twice the radius four times the soil. */
    at = plan("'water': {'need_per_length': 30, 'efficiency': 100, 'soil': 'sandy loam',"
              " 'wetted_width': 32, 'root_depth': 24, 'allowed_depletion': 25},",
              TEN_BEDS, 10.0, 0.9);
    assert_close(at.holding, 2.0 * holding, 1e-12);
    /* Its own figures, of the catalogue what is not given. */
    at = plan("'water': {'need_per_length': 30, 'soil': {'name': 'sandy loam', 'available_water':"
              " 0.26}},",
              TEN_BEDS, 10.0, 0.9);
    assert_close(at.holding, 2.0 * holding, 1e-12);
    at = plan("'water': {'need_per_length': 30, 'soil': {'available_water': 0.13, 'spread': 8}},",
              TEN_BEDS, 10.0, 0.9);
    assert_close(at.holding, 0.25 * holding, 1e-12);
}

/* FAO-56, table 22 (printed copy): tomato roots 0.7 to 1.5 m and may use 40 percent, lettuce 0.3 to
 * 0.5 m and 30 percent. What the file gives counts before. */
static void test_roots(void **state)
{
    (void)state;
    static const struct {
        const char *water;
        double depth, depletion; /* in, a fraction */
    } cases[] = {
        {"'need': 0.2", 12.0, 0.5},
        {"'eto': 0.2, 'crop': 'tomato', 'stage': 'mid'", 700.0 / 25.4, 0.4},
        {"'eto': 0.2, 'crop': 'lettuce', 'stage': 'mid'", 300.0 / 25.4, 0.3},
        {"'eto': 0.2, 'crop': 'lettuce', 'stage': 'mid', 'root_depth': 9", 9.0, 0.3},
        {"'eto': 0.2, 'crop': 'lettuce', 'stage': 'mid', 'allowed_depletion': 20", 300.0 / 25.4,
         0.2},
        {"'need': 0.2, 'season': {'planting': '2026-05-01', 'crop': 'lettuce'}", 300.0 / 25.4, 0.3},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char water[200];
        struct er_field field;
        snprintf(water, sizeof water, "'water': {'soil': 'sand', %s},", cases[i].water);
        field_open(&field, FIELD, water, TEN_BEDS);
        assert_close(inches(field.zones[0].water.root_depth), cases[i].depth, 1e-12);
        assert_close(field.zones[0].water.allowed_depletion, cases[i].depletion, 1e-12);
        er_field_release(&field);
    }
}

/* What helps where the root zone does not take an irrigation, put into the file, passes; and a day
 * or a run less does not. */
static void test_room(void **state)
{
    (void)state;
    static const double needs[] = {3, 8, 20, 33.9, 34, 60, 250};
    for (size_t i = 0; i < sizeof needs / sizeof *needs; i++) {
        for (double every = 1.0; every <= 9.0; every += 4.0) {
            char water[160];
            const char *form = "'water': {'need_per_length': %.17g, 'efficiency': 100, 'soil':"
                               " 'sandy loam', 'every': %.17g},";
            snprintf(water, sizeof water, form, needs[i], every);
            struct er_irrigation at = plan(water, TEN_BEDS, 10.0, 0.9);
            if (at.pulses == 1) {
                continue;
            }
            struct er_room room = er_room_for(at.volume, every, at.run_time, at.holding);
            assert_true(room.every >= 1.0 && room.every < every + 1e-9);
            assert_true(room.runs == 1 || room.every <= 1.0);
            snprintf(water, sizeof water, form, needs[i], room.every / (double)room.runs);
            struct er_irrigation better = plan(water, TEN_BEDS, 10.0, 0.9);
            assert_int_equal(better.pulses, 1);
            assert_close(better.run_time, room.run_time, 1e-12);
            double seldomer = room.runs > 1 ? 1.0 / (double)(room.runs - 1) : room.every + 1.0;
            snprintf(water, sizeof water, form, needs[i], seldomer);
            assert_true(plan(water, TEN_BEDS, 10.0, 0.9).pulses > 1);
        }
    }
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
    double holding = ground.soil * 0.13 * 0.5;
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

/* 70 m3 every 7 days are 10 a day: soil that holds 35 has room for 3 whole days of it. */
static void test_room_of_days(void **state)
{
    (void)state;
    struct er_room room = er_room_for(70.0, 7.0, 7.0 * 3600.0, 35.0);
    assert_close(room.every, 3.0, 1e-14);
    assert_int_equal(room.runs, 1);
    assert_close(room.run_time, 3.0 * 3600.0, 1e-14);
    room = er_room_for(70.0, 7.0, 7.0 * 3600.0, 40.0); /* just four days' */
    assert_close(room.every, 4.0, 1e-14);
    room = er_room_for(20.0, 2.0, 2.0 * 3600.0, 100.0); /* no more often than it is */
    assert_close(room.every, 2.0, 1e-14);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_room_of_days),
        cmocka_unit_test(test_depth_by_hand),
        cmocka_unit_test(test_default_efficiency),
        cmocka_unit_test(test_leaching_and_every),
        cmocka_unit_test(test_kc_and_mulch),
        cmocka_unit_test(test_area_is_bed),
        cmocka_unit_test(test_need_per_length),
        cmocka_unit_test(test_metric),
        cmocka_unit_test(test_ground),
        cmocka_unit_test(test_section),
        cmocka_unit_test(test_soil),
        cmocka_unit_test(test_roots),
        cmocka_unit_test(test_room),
        cmocka_unit_test(test_pulses_at_the_limit),
        cmocka_unit_test(test_nothing_to_work_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
