/* The measures of evenness against plain arithmetic over all emitters, kept in one array. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "hydraulics/evenness.h"
#include "hydraulics/network.h"
#include "trial.h"

/* All emitters of a zone. */
struct lot {
    size_t count, room;
    double *r;
    double nominal;
    size_t tapes;
    double flow, lowest_flow, highest_flow;
};

static void take(void *context, size_t emitter, double pressure, double flow)
{
    struct lot *lot = context;
    (void)emitter;
    (void)pressure;
    for (size_t t = 0; t < lot->tapes; t++) {
        assert_true(lot->count < lot->room);
        lot->r[lot->count++] = flow / lot->nominal;
        lot->flow += flow;
    }
    lot->lowest_flow = fmin(lot->lowest_flow, flow);
    lot->highest_flow = fmax(lot->highest_flow, flow);
}

static struct lot collect(const struct er_network *network, const struct er_zone_network *zone)
{
    struct lot lot = {
        .room = 200000, .lowest_flow = (double)INFINITY, .highest_flow = -(double)INFINITY};
    lot.r = malloc(lot.room * sizeof(double));
    assert_non_null(lot.r);
    for (size_t o = 0; o < zone->outlet_count; o++) {
        const struct er_outlet *outlet = &zone->outlets[o];
        lot.nominal = outlet->group->tape->emitter_flow;
        lot.tapes = outlet->group->tapes;
        er_run_visit(&network->pool->responses[outlet->response].run, &outlet->state, take, &lot);
    }
    return lot;
}

static int by_size(const void *a, const void *b)
{
    double one = *(const double *)a;
    double two = *(const double *)b;
    return one < two ? -1 : one > two;
}

static double mean_of(const double *values, size_t count)
{
    double sum = 0.0;
    for (size_t v = 0; v < count; v++) {
        sum += values[v];
    }
    return sum / (double)count;
}

/* Holds every figure of `even` against what the whole lot says. */
static void compare(const struct er_evenness *even, struct lot *lot)
{
    double n = (double)lot->count;
    double mean = mean_of(lot->r, lot->count);
    double squares = 0.0;
    double deviations = 0.0;
    qsort(lot->r, lot->count, sizeof(double), by_size);
    for (size_t e = 0; e < lot->count; e++) {
        squares += (lot->r[e] - mean) * (lot->r[e] - mean);
        deviations += fabs(lot->r[e] - mean);
    }
    size_t quarter = lot->count / 4 > 0 ? lot->count / 4 : 1;
    assert_close(even->emitters, n, 0.0);
    assert_close(even->mean_r, mean, 1e-12);
    assert_close(even->min_r, lot->r[0], 0.0);
    assert_close(even->max_r, lot->r[lot->count - 1], 0.0);
    assert_within(even->variation, sqrt(squares / n) / mean, 1e-10);
    assert_within(even->mean_deviation, deviations / n / mean, 1e-12);
    assert_close(even->low_quarter, mean_of(lot->r, quarter) / mean, 1e-11);
    assert_close(even->mean_flow, lot->flow / n, 1e-12);
    assert_close(even->flow.min, lot->lowest_flow, 0.0);
    assert_close(even->flow.max, lot->highest_flow, 0.0);
}

#define FIELD                                                                                      \
    "{'units': 'metric', 'source': {'pressure': '%s m'},"                                          \
    " 'tapes': {'t': {'emitter_flow': 1, 'at_pressure': '5.6 m', 'emitter_spacing': 300,"          \
    " 'inside_diameter': 16}, 'u': {'emitter_flow': 2.2, 'at_pressure': '7 m', 'exponent': 0.7,"   \
    " 'emitter_spacing': 450, 'inside_diameter': 16}, 'pc': {'emitter_flow': 1.2, 'holds_from':"   \
    " '4 m', 'emitter_spacing': 400, 'inside_diameter': 16}}, 'zones': [{'name': '1',"             \
    " 'header': {'pipe': {'inside_diameter': 40} %s}, 'beds': [%s]}]}"

struct solved {
    struct er_field field;
    struct er_network network;
    struct er_evenness even;
    struct lot lot;
};

static void solve(struct solved *solved, const char *pressure, const char *header, const char *beds)
{
    field_open(&solved->field, FIELD, pressure, header, beds);
    assert_int_equal(
        er_network_open(&solved->field, &solved->field.sets[0], NULL, &solved->network), ER_OK);
    assert_int_equal(er_network_solve(&solved->network, false), ER_OK);
    assert_int_equal(
        er_evenness_measure(&solved->network, &solved->network.zones[0], &solved->even), ER_OK);
    solved->lot = collect(&solved->network, &solved->network.zones[0]);
}

static void forget(struct solved *solved)
{
    free(solved->lot.r);
    er_network_release(&solved->network);
    er_field_release(&solved->field);
}

static void try_zone(const char *pressure, const char *header, const char *beds, size_t emitters)
{
    struct solved solved;
    solve(&solved, pressure, header, beds);
    assert_int_equal(solved.lot.count, emitters);
    compare(&solved.even, &solved.lot);
    forget(&solved);
}

static void test_small_zones(void **state)
{
    (void)state;
    /* Numbers of emitters that do and do not fall into quarters, down to one. */
    try_zone("7", "", "{'count': 1, 'length': 0.3, 'spacing': 1, 'tape': 't'}", 1);
    try_zone("7", "", "{'count': 1, 'length': 0.9, 'spacing': 1, 'tape': 't'}", 3);
    try_zone("7", "", "{'count': 1, 'length': 1.2, 'spacing': 1, 'tape': 't', 'slope': 9}", 4);
    try_zone("7", "", "{'count': 3, 'length': 30, 'spacing': 1, 'tape': 't', 'slope': 3}", 300);
    try_zone("7", ", 'slope': 4", "{'count': 7, 'length': 33, 'spacing': 2, 'tape': 't'}", 770);
}

static void test_several_tapes(void **state)
{
    (void)state;
    try_zone("7", "", "{'count': 1, 'length': 0.9, 'spacing': 1, 'tape': 't', 'tapes': 3}", 9);
    try_zone("7", ", 'slope': 2",
             "{'count': 5, 'length': 33, 'spacing': 2, 'tape': 't', 'tapes': 2, 'slope': 1},"
             "{'count': 4, 'length': 45, 'spacing': 2, 'tape': 'u', 'tapes': 3, 'sides': 'both'},"
             "{'count': 3, 'length': 60, 'last_length': 20, 'spacing': 2, 'tape': 'pc'}",
             5 * 2 * 110 + 4 * 2 * 3 * 100 + 150 + 100 + 50);
}

static void test_partly_dry(void **state)
{
    (void)state;
    struct solved solved;
    solve(&solved, "2", ", 'slope': 5",
          "{'count': 12, 'length': 60, 'spacing': 5, 'tape': 't', 'slope': 2}");
    compare(&solved.even, &solved.lot);
    assert_true(solved.even.min_r <= 0.0);
    assert_true(solved.even.low_quarter <= 0.0); /* more than a quarter is dry */
    forget(&solved);
    solve(&solved, "3", "", "{'count': 12, 'length': 80, 'spacing': 5, 'tape': 't', 'slope': 3}");
    compare(&solved.even, &solved.lot);
    forget(&solved);
}

static void test_random_zones(void **state)
{
    (void)state;
    uint64_t seed = 5;
    for (size_t round = 0; round < 40; round++) {
        char beds[400];
        char pressure[40];
        snprintf(pressure, sizeof pressure, "%.3f", next_number(&seed, 3.0, 12.0));
        snprintf(beds, sizeof beds,
                 "{'count': %d, 'length': %.2f, 'last_length': %.2f, 'spacing': 1.5, 'tape': 't',"
                 " 'slope': %.2f, 'tapes': %d}, {'count': %d, 'length': %.2f, 'spacing': 2,"
                 " 'tape': 'u'}",
                 (int)next_number(&seed, 1, 12), next_number(&seed, 1, 120),
                 next_number(&seed, 1, 120), next_number(&seed, -4, 4),
                 (int)next_number(&seed, 1, 4), (int)next_number(&seed, 1, 12),
                 next_number(&seed, 1, 120));
        struct solved solved;
        solve(&solved, pressure, ", 'feed': 'middle', 'slope': 1.5", beds);
        compare(&solved.even, &solved.lot);
        forget(&solved);
    }
}

/* Compensating emitters are all equal: nothing varies, to the last digit. */
static void test_all_equal(void **state)
{
    (void)state;
    struct solved solved;
    solve(&solved, "15", "", "{'count': 9, 'length': 60, 'spacing': 2, 'tape': 'pc'}");
    assert_close(solved.even.mean_r, 1.0, 1e-15);
    assert_close(solved.even.low_quarter, 1.0, 1e-14);
    assert_true(solved.even.variation <= 0.0);
    assert_true(solved.even.mean_deviation <= 0.0);
    forget(&solved);
}

static void test_nothing_flows(void **state)
{
    (void)state;
    struct solved solved;
    solve(&solved, "1", "",
          "{'count': 3, 'length': 10, 'spacing': 2, 'tape': 't',"
          " 'profile': [[0, 0], [0.1, 5], [10, 5]]}");
    assert_true(solved.even.mean_r <= 0.0);
    assert_true(isnan(solved.even.low_quarter));
    assert_true(isnan(solved.even.variation));
    assert_true(isnan(solved.even.mean_deviation));
    forget(&solved);
}

/* The percents that a result shows: their definitions, from the figures above. EU by Keller and
 * Karmeli 1974 (from memory), samples worked by it: cv .03, one emitter a plant and
 * r_min / r_mean .90 give 86.57; cv .05 and four emitters a plant 87.14. */
static void test_percents(void **state)
{
    (void)state;
    assert_within(100.0 * (1.0 - 1.27 * 0.03) * 0.9, 86.57, 0.005);
    assert_within(100.0 * (1.0 - 1.27 * 0.05 / sqrt(4.0)) * 0.9, 87.14, 0.005);
    struct solved solved;
    struct trial trial;
    const char *beds = "{'count': 9, 'length': 90, 'spacing': 2, 'tape': 'u', 'plant_spacing': "
                       "900, 'tapes': 2}";
    solve(&solved, "9", ", 'slope': 2", beds);
    trial_open(&trial, FIELD, "9", ", 'slope': 2", beds);
    const struct er_zone_result *zone = &trial.result.zones[0];
    const struct er_evenness *even = &solved.even;
    /* 900 / 450 x 2 tapes / 1 row: four emitters a plant; cv is 0.03 where none is given. */
    assert_close(zone->emission_uniformity, (1.0 - 1.27 * 0.03 / 2.0) * even->min_r / even->mean_r,
                 1e-9);
    assert_close(zone->flow_variation, (even->max_r - even->min_r) / even->max_r, 1e-9);
    assert_close(zone->christiansen, 1.0 - even->mean_deviation, 1e-9);
    assert_close(zone->low_quarter, even->low_quarter, 1e-9);
    assert_close(zone->statistical_uniformity,
                 1.0 - sqrt(even->variation * even->variation + 0.03 * 0.03), 1e-9);
    trial_close(&trial);
    forget(&solved);
    /* Two rows of plants share them: 900 / 450 x 2 / 2 = 2. */
    trial_open(&trial, FIELD, "9", "",
               "{'count': 1, 'length': 0.45, 'spacing': 2, 'tape': 'u', 'plant_spacing': 900,"
               " 'tapes': 2, 'rows': 2}");
    assert_close(trial.result.zones[0].emission_uniformity, 1.0 - 1.27 * 0.03 / sqrt(2.0), 1e-9);
    trial_close(&trial);
    /* Closer plants than emitters share: fewer than one emitter a plant counts as one. */
    trial_open(&trial, FIELD, "15", "",
               "{'count': 2, 'length': 30, 'spacing': 2, 'tape': 'pc', 'plant_spacing': 100}");
    assert_close(trial.result.zones[0].emission_uniformity, 1.0 - 1.27 * 0.03, 1e-9);
    assert_close(trial.result.zones[0].statistical_uniformity, 0.97, 1e-9);
    trial_close(&trial);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_small_zones), cmocka_unit_test(test_several_tapes),
        cmocka_unit_test(test_partly_dry),  cmocka_unit_test(test_random_zones),
        cmocka_unit_test(test_all_equal),   cmocka_unit_test(test_nothing_flows),
        cmocka_unit_test(test_percents),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
