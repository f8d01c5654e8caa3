/* What each row of a field gets, against the check of the same field and against single runs. */
#include <math.h>

#include "check/rows.h"
#include "evenrow/hydraulics.h"
#include "trial.h"

static const char *const two_sides =
    "{'version': 1, 'units': 'us', 'source': {'curve': [[0, 40], [60, 30]]},"
    " 'tapes': {'t': {'flow': 0.45, 'at_pressure': 8, 'exponent': 0.5, 'emitter_spacing': 12,"
    "  'inside_diameter': '5/8 in', 'cv': 0.03, 'min_pressure': 4, 'max_pressure': 15},"
    "  'u': {'flow': 0.3, 'at_pressure': 8, 'exponent': 0.6, 'emitter_spacing': 8,"
    "  'inside_diameter': '5/8 in', 'cv': 0.03, 'min_pressure': 4, 'max_pressure': 15}},"
    " 'zones': [{'name': 'a', 'regulator': {'part': 'r', 'holds': 10, 'loss': 1, 'at_flow': 40},"
    "  'header': {'pipe': 'layflat-2in', 'feed': 'middle', 'slope': 1},"
    "  'beds': [{'count': 5, 'length': 250, 'last_length': 150, 'spacing': 6, 'tape': 't',"
    "    'slope': 0.8, 'sides': 'both', 'other_length': 100, 'other_slope': -1},"
    "   {'count': 4, 'length': %s, 'spacing': 5, 'gap': 10, 'tape': 'u', 'tapes': 2}]},"
    "  {'name': 'b', 'header': {'pipe': 'layflat-2in'},"
    "   'beds': [{'count': 3, 'length': 12, 'spacing': 4, 'tape': 't'}]}]}";

/* A checked field and its rows. */
struct measured {
    struct trial trial;
    struct er_rows rows;
};

static void measure(struct measured *measured, const char *length)
{
    struct er_failure failure;
    trial_open(&measured->trial, two_sides, length);
    assert_int_equal(er_rows_measure(&measured->trial.field, &measured->rows, &failure), ER_OK);
}

static void release(struct measured *measured)
{
    er_rows_release(&measured->rows);
    trial_close(&measured->trial);
}

static void rows_lie_in_order(void **state)
{
    (void)state;
    struct measured measured;
    measure(&measured, "200");
    const struct er_zone_rows *zone = &measured.rows.zones[0];
    assert_int_equal(zone->row_count, 5 * 2 + 4);
    for (size_t i = 0; i < 10; i++) {
        assert_int_equal(zone->rows[i].bed, i / 2);
        assert_int_equal(zone->rows[i].second_side, i % 2 == 1);
        assert_within(zone->rows[i].at, 6.0 * ER_FOOT * (double)(i / 2), 1e-9);
    }
    /* 250 ft falling evenly to 150 ft, and the second side likewise or not at all. */
    assert_close(zone->rows[0].length, 250.0 * ER_FOOT, 1e-12);
    assert_close(zone->rows[4].length, 200.0 * ER_FOOT, 1e-12);
    assert_close(zone->rows[8].length, 150.0 * ER_FOOT, 1e-12);
    /* Half of both spacings and the gap lie between the groups: 4 x 6 + 3 + 2.5 + 10 ft. */
    assert_int_equal(zone->rows[10].bed, 5);
    assert_false(zone->rows[10].second_side);
    assert_close(zone->rows[10].at, 39.5 * ER_FOOT, 1e-9);
    assert_close(zone->rows[13].at, 54.5 * ER_FOOT, 1e-9);
    assert_int_equal(zone->rows[13].emitters, 300); /* 200 ft, one every 8 in */
    release(&measured);
}

/* Extremes over all rows are those of the check. */
static void extremes_are_the_check_s(void **state)
{
    (void)state;
    struct measured measured;
    measure(&measured, "200");
    for (size_t z = 0; z < 2; z++) {
        const struct er_zone_rows *zone = &measured.rows.zones[z];
        const struct er_zone_result *checked = &measured.trial.result.zones[z];
        double lowest = ER_ENDLESS, highest = 0.0;
        struct er_range inlets = {ER_ENDLESS, 0.0};
        for (size_t i = 0; i < zone->row_count; i++) {
            lowest = fmin(lowest, zone->rows[i].pressure.min);
            highest = fmax(highest, zone->rows[i].pressure.max);
            inlets.min = fmin(inlets.min, zone->rows[i].inlet_pressure);
            inlets.max = fmax(inlets.max, zone->rows[i].inlet_pressure);
        }
        assert_close(lowest, checked->emitter_pressure.min, 1e-12);
        assert_close(highest, checked->emitter_pressure.max, 1e-12);
        assert_close(inlets.min, checked->tape_inlet_pressure.min, 1e-12);
        assert_close(inlets.max, checked->tape_inlet_pressure.max, 1e-12);
        assert_close(zone->lowest.row->pressure.min, lowest, 1e-15);
        assert_close(zone->highest.row->pressure.max, highest, 1e-15);
    }
    release(&measured);
}

/* All parts, each weighed with its emitters, are 1 on average; no part's driest is above its mean.
 */
static void parts_are_1_on_average(void **state)
{
    (void)state;
    struct measured measured;
    measure(&measured, "200");
    const struct er_zone_rows *zone = &measured.rows.zones[0];
    double sum = 0.0, emitters = 0.0;
    for (size_t i = 0; i < zone->row_count; i++) {
        const struct er_row *row = &zone->rows[i];
        size_t counts[ER_ROW_PARTS] = {0};
        for (size_t e = 0; e < row->emitters; e++) {
            counts[e * row->part_count / row->emitters]++;
        }
        for (size_t p = 0; p < row->part_count; p++) {
            sum += (double)(row->group->tapes * counts[p]) * row->parts[p];
            emitters += (double)(row->group->tapes * counts[p]);
            assert_true(row->driest[p] <= row->parts[p] * (1.0 + 1e-12));
            assert_true(row->driest[p] > 0.0);
        }
    }
    assert_close(emitters, measured.trial.result.zones[0].emitters, 1e-12);
    assert_close(sum / emitters, 1.0, 1e-12);
    release(&measured);
}

/* A row's profile is that of a run solved by itself at the same inlet pressure. */
static void profile_is_the_run_s(void **state)
{
    (void)state;
    struct measured measured;
    measure(&measured, "200");
    for (size_t z = 0; z < 2; z++) {
        const struct er_row_profile *profile = &measured.rows.zones[z].lowest;
        const struct er_bed_group *group = profile->row->group;
        struct er_run run =
            er_run_make(group->tape, profile->row->length,
                        profile->row->second_side ? &group->other_ground : &group->ground);
        struct er_run_state solved = {0};
        assert_int_equal(er_run_solve(&run, profile->row->inlet_pressure, 1e-12, &solved), ER_OK);
        assert_int_equal(profile->count, run.emitters + 1);
        assert_within(profile->points[0].at, 0.0, 0.0);
        assert_close(profile->points[0].value, profile->row->inlet_pressure, 1e-15);
        assert_within(profile->points[1].at, run.first_reach, 1e-12);
        assert_close(profile->points[profile->count - 1].value,
                     er_run_far_end_pressure(&run, &solved), 1e-9);
        for (size_t i = 1; i < profile->count; i++) {
            assert_true(profile->points[i].at > profile->points[i - 1].at);
        }
    }
    release(&measured);
}

/* More emitters than points: evenly fewer, and the last one still there. */
static void long_rows_are_thinned(void **state)
{
    (void)state;
    struct measured measured;
    measure(&measured, "1500"); /* 2250 emitters */
    const struct er_row_profile *profile = &measured.rows.zones[0].lowest;
    const struct er_row *row = profile->row;
    assert_int_equal(row->emitters, 2250);
    /* Every third of the first 2249, with the inlet and the last. */
    assert_int_equal(profile->count, 752);
    double spacing = row->group->tape->emitter_spacing;
    assert_close(profile->points[2].at - profile->points[1].at, 3.0 * spacing, 1e-9);
    assert_close(profile->points[751].at, (2249 + 0.5) * spacing, 1e-9);
    assert_close(profile->points[750].at, (2247 + 0.5) * spacing, 1e-9);
    release(&measured);
}

/* Where water does not reach, it is told. */
static void dry_parts_are_dry(void **state)
{
    (void)state;
    struct trial trial;
    struct er_rows rows;
    struct er_failure failure;
    trial_open(&trial, "{'version': 1, 'units': 'us', 'source': {'pressure': 3},"
                       " 'tapes': {'t': {'flow': 0.45, 'at_pressure': 8, 'exponent': 0.5,"
                       "  'emitter_spacing': 12, 'inside_diameter': '5/8 in', 'cv': 0.03,"
                       "  'min_pressure': 4, 'max_pressure': 15}},"
                       " 'zones': [{'name': 'a', 'header': {'pipe': 'layflat-2in'}, 'beds': [{"
                       "  'count': 2, 'length': 200, 'spacing': 6, 'tape': 't', 'slope': 5}]}]}");
    assert_int_equal(er_rows_measure(&trial.field, &rows, &failure), ER_OK);
    const struct er_row *row = &rows.zones[0].rows[0];
    assert_int_equal(trial.result.zones[0].dry_rows, 2);
    assert_true(row->driest[0] > 0.0);
    assert_within(row->driest[ER_ROW_PARTS - 1], 0.0, 0.0);
    er_rows_release(&rows);
    trial_close(&trial);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_lie_in_order),      cmocka_unit_test(extremes_are_the_check_s),
        cmocka_unit_test(parts_are_1_on_average), cmocka_unit_test(profile_is_the_run_s),
        cmocka_unit_test(long_rows_are_thinned),  cmocka_unit_test(dry_parts_are_dry),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
