/* The longest row, against rows tried one by one. */
#include <math.h>

#include "evenrow/hydraulics.h"
#include "evenrow/reach.h"
#include "trial.h"

#define PSI 0.70307 /* m of water; near enough to make cases with */

static struct er_tape make_tape(void)
{
    return (struct er_tape){.name = "t",
                            .emitter_flow = 2.8e-7, /* 0.45 gpm per 100 ft, 12 in apart */
                            .at_pressure = 8.0 * PSI,
                            .exponent = 0.5,
                            .holds_from = ER_NONE,
                            .holds_to = ER_NONE,
                            .emitter_spacing = 0.3048,
                            .inside_diameter = 0.015875,
                            .c = 140.0,
                            .cv = 0.03,
                            .min_pressure = 4.0 * PSI,
                            .max_pressure = 15.0 * PSI};
}

/* One row, summed up from the visit of each emitter. */
struct tally {
    const struct er_tape *tape;
    double flow;
    double low_r, high_r;
    double low_pressure, high_pressure;
};

static void count_emitter(void *context, size_t emitter, double pressure, double flow)
{
    struct tally *tally = context;
    (void)emitter;
    tally->flow += flow;
    tally->low_r = fmin(tally->low_r, flow / tally->tape->emitter_flow);
    tally->high_r = fmax(tally->high_r, flow / tally->tape->emitter_flow);
    tally->low_pressure = fmin(tally->low_pressure, pressure);
    tally->high_pressure = fmax(tally->high_pressure, pressure);
}

/* The ground of all rows, where it is not even. */
static struct er_ground profile;

/* Solves a row of so many emitters. False where it does not close. */
static bool tally_row(const struct er_tape *tape, double slope, double inlet, size_t emitters,
                      struct tally *tally)
{
    const struct er_ground even = {.slope = slope};
    const struct er_ground ground = profile.count > 0 ? profile : even;
    struct er_run run = er_run_make(tape, (double)emitters * tape->emitter_spacing, &ground);
    struct er_run_state state = {0};
    assert_int_equal(run.emitters, emitters);
    if (er_run_solve(&run, inlet, 1e-12, &state) != ER_OK) {
        return false;
    }
    *tally = (struct tally){.tape = tape,
                            .low_r = ER_ENDLESS,
                            .high_r = -ER_ENDLESS,
                            .low_pressure = ER_ENDLESS,
                            .high_pressure = -ER_ENDLESS};
    er_run_visit(&run, &state, count_emitter, tally);
    return true;
}

static double uniformity_of(const struct tally *tally, size_t emitters, double per_plant)
{
    double mean = tally->flow / tally->tape->emitter_flow / (double)emitters;
    return (1.0 - 1.27 * tally->tape->cv / sqrt(per_plant)) * tally->low_r / mean;
}

static double variation_of(const struct tally *tally)
{
    return (tally->high_r - tally->low_r) / tally->high_r;
}

static bool under(double value, double limit) { return value < limit - 1e-9 * fabs(limit); }
static bool over(double value, double limit) { return value > limit + 1e-9 * fabs(limit); }

static enum er_reach_bound judge_row(const struct tally *tally, double inlet, size_t emitters,
                                     const struct er_reach_limits *limits)
{
    if (!(tally->low_pressure > 0.0)) {
        return ER_REACH_ROW_DRY;
    }
    if (under(tally->low_pressure, tally->tape->min_pressure)) {
        return ER_REACH_PRESSURE_LOW;
    }
    if (over(fmax(inlet, tally->high_pressure), tally->tape->max_pressure)) {
        return ER_REACH_PRESSURE_HIGH;
    }
    if (er_given(limits->uniformity) &&
        under(uniformity_of(tally, emitters, limits->emitters_per_plant), limits->uniformity)) {
        return ER_REACH_UNIFORMITY_LOW;
    }
    if (er_given(limits->flow_variation) && over(variation_of(tally), limits->flow_variation)) {
        return ER_REACH_FLOW_UNEVEN;
    }
    return ER_REACH_LONGEST;
}

/* The first number of emitters, from `first` to `most`, that passes or that does not; most + 1
 * if there is none. *bound: what it breaks. */
static size_t scan(const struct er_tape *tape, double slope, double inlet,
                   const struct er_reach_limits *limits, size_t first, size_t most, bool passing,
                   enum er_reach_bound *bound)
{
    for (size_t emitters = first; emitters <= most; emitters++) {
        struct tally tally;
        assert_true(tally_row(tape, slope, inlet, emitters, &tally));
        *bound = judge_row(&tally, inlet, emitters, limits);
        if ((*bound == ER_REACH_LONGEST) == passing) {
            return emitters;
        }
    }
    *bound = ER_REACH_LONGEST;
    return most + 1;
}

/* What is told of the row that was found, against its emitters summed up. */
static void check_figures(const struct er_tape *tape, double slope, double inlet,
                          const struct er_reach_limits *limits, const struct er_reach *reach)
{
    struct tally tally;
    assert_close(reach->length, (double)reach->emitters * tape->emitter_spacing, 1e-15);
    if (reach->emitters == 0) {
        assert_true(isnan(reach->flow) && isnan(reach->far_end_pressure));
        assert_true(isnan(reach->emitter_pressure.min) && isnan(reach->emitter_pressure.max));
        assert_true(isnan(reach->emission_uniformity) && isnan(reach->flow_variation));
        return;
    }
    assert_true(tally_row(tape, slope, inlet, reach->emitters, &tally));
    assert_close(reach->flow, tally.flow, 1e-9);
    assert_within(reach->emitter_pressure.min, tally.low_pressure, 1e-9);
    assert_within(reach->emitter_pressure.max, tally.high_pressure, 1e-9);
    assert_true(reach->far_end_pressure >= reach->emitter_pressure.min);
    assert_true(reach->far_end_pressure <= reach->emitter_pressure.max);
    assert_within(reach->emission_uniformity,
                  uniformity_of(&tally, reach->emitters, limits->emitters_per_plant), 1e-8);
    assert_within(reach->flow_variation, variation_of(&tally), 1e-8);
}

/* The row that was found and the one that broke a limit, judged by themselves. */
static void judge_both(const struct er_tape *tape, double slope, double inlet,
                       const struct er_reach_limits *limits, const struct er_reach *reach)
{
    struct er_reach judged;
    if (reach->emitters > 0) {
        assert_int_equal(er_reach_judge(tape, slope, inlet, limits, reach->emitters, &judged),
                         ER_OK);
        assert_int_equal(judged.bound, ER_REACH_LONGEST);
        check_figures(tape, slope, inlet, limits, &judged);
    }
    if (reach->bound != ER_REACH_LONGEST) {
        assert_int_equal(er_reach_judge(tape, slope, inlet, limits, reach->emitters + 1, &judged),
                         ER_OK);
        assert_int_equal(judged.bound, reach->bound);
        assert_int_equal(judged.emitters, reach->emitters + 1);
    }
}

/* The answer against the scan. Returns it. */
static struct er_reach compare(const struct er_tape *tape, double slope, double inlet,
                               const struct er_reach_limits *limits)
{
    size_t most = er_tape_emitters(tape, limits->longest);
    enum er_reach_bound bound;
    size_t first = scan(tape, slope, inlet, limits, 1, most, false, &bound);
    struct er_reach reach;
    assert_int_equal(profile.count > 0 ? er_reach_find_on(tape, &profile, inlet, limits, &reach)
                                       : er_reach_find(tape, slope, inlet, limits, &reach),
                     ER_OK);
    if (reach.emitters != first - 1 || reach.bound != bound) {
        fail_msg("slope %.17g, inlet %.17g m: %zu emitters, %s; one by one %zu, %s", slope, inlet,
                 reach.emitters, er_reach_bound_name(reach.bound), first - 1,
                 er_reach_bound_name(bound));
    }
    check_figures(tape, slope, inlet, limits, &reach);
    if (profile.count == 0) {
        judge_both(tape, slope, inlet, limits, &reach);
    }
    return reach;
}

/* Thin or closely set tape, so that rows of some hundred emitters meet every limit. */
static struct er_tape random_tape(uint64_t *seed)
{
    struct er_tape tape = make_tape();
    tape.emitter_spacing = next_number(seed, 0.1, 1.5);
    tape.emitter_flow = next_number(seed, 2e-7, 3e-6);
    tape.inside_diameter = next_number(seed, 0.008, 0.018);
    tape.exponent = next_number(seed, 0.05, 1.0);
    tape.cv = next_number(seed, 0.0, 0.07);
    if (next_number(seed, 0.0, 1.0) < 0.4) {
        tape.emitter_loss = next_number(seed, 0.0, 1.0);
    }
    if (next_number(seed, 0.0, 1.0) < 0.5) {
        tape.min_pressure = 0.0;
    }
    if (next_number(seed, 0.0, 1.0) < 0.3) {
        tape.max_pressure = next_number(seed, 6.0, 40.0);
    }
    if (next_number(seed, 0.0, 1.0) < 0.35) {
        tape.exponent = ER_NONE;
        tape.at_pressure = ER_NONE;
        tape.holds_from = next_number(seed, 2.0, 7.0);
        bool ends = next_number(seed, 0.0, 1.0) < 0.5;
        tape.holds_to = ends ? tape.holds_from + next_number(seed, 0.0, 5.0) : ER_ENDLESS;
    }
    return tape;
}

static struct er_reach_limits random_limits(uint64_t *seed, const struct er_tape *tape)
{
    struct er_reach_limits limits = {.uniformity = next_number(seed, 0.6, 0.97),
                                     .flow_variation = next_number(seed, 0.03, 0.4),
                                     .emitters_per_plant = next_number(seed, 1.0, 4.0),
                                     .longest = tape->emitter_spacing * next_number(seed, 1, 250)};
    double judged = next_number(seed, 0.0, 1.0);
    if (judged < 0.25 || judged > 0.75) {
        limits.uniformity = ER_NONE;
    }
    if (judged > 0.6) {
        limits.flow_variation = ER_NONE;
    }
    return limits;
}

static void test_as_tried_one_by_one(void **state)
{
    (void)state;
    uint64_t seed = 20240607;
    size_t bounds[ER_REACH_BOUND_COUNT] = {0};
    size_t none = 0, compensating = 0, longest = 0;
    for (int k = 0; k < 1000; k++) {
        struct er_tape tape = random_tape(&seed);
        struct er_reach_limits limits = random_limits(&seed, &tape);
        double slope = next_number(&seed, -0.05, 0.05);
        struct er_reach reach = compare(&tape, slope, next_number(&seed, 1.0, 14.0), &limits);
        bounds[reach.bound]++;
        none += reach.emitters == 0;
        compensating += er_given(tape.holds_from) && reach.emitters > 10;
        longest = reach.emitters > longest ? reach.emitters : longest;
    }
    print_message("%zu dry, %zu low, %zu high, %zu uniformity, %zu variation, %zu not tried; "
                  "%zu none, %zu compensating, up to %zu emitters\n",
                  bounds[0], bounds[1], bounds[2], bounds[3], bounds[4], bounds[5], none,
                  compensating, longest);
    for (size_t b = 0; b < ER_REACH_BOUND_COUNT; b++) {
        assert_true(bounds[b] >= 10);
    }
    assert_true(none >= 10 && none <= 500);
    assert_true(compensating >= 30);
    assert_true(longest > 200);
}

/* The same on ground of hills and hollows, also where a hollow lies between two rows that are
 * compared. */
static void test_profiles_as_tried_one_by_one(void **state)
{
    (void)state;
    uint64_t seed = 20261127;
    size_t bounds[ER_REACH_BOUND_COUNT] = {0}, longest = 0;
    for (int k = 0; k < 250; k++) {
        struct er_tape tape = random_tape(&seed);
        struct er_reach_limits limits = random_limits(&seed, &tape);
        struct er_point points[6] = {{0.0, 0.0}};
        profile.points = points;
        profile.count = 6;
        for (size_t p = 1; p < profile.count; p++) {
            points[p].at = points[p - 1].at + next_number(&seed, 0.05, 0.3) * limits.longest;
            points[p].value = next_number(&seed, -2.5, 1.5);
        }
        struct er_reach reach = compare(&tape, 0.0, next_number(&seed, 3.0, 14.0), &limits);
        bounds[reach.bound]++;
        longest = reach.emitters > longest ? reach.emitters : longest;
    }
    profile.count = 0;
    for (size_t b = 0; b < ER_REACH_BOUND_COUNT; b++) {
        print_message("%s: %zu\n", er_reach_bound_name((enum er_reach_bound)b), bounds[b]);
        assert_true(bounds[b] >= 3);
    }
    assert_true(longest > 150);
}

/* Downhill the lowest pressure is first at the inlet, later at the end, and in between the row
 * is most even: rows pass, fail, and pass again when they are longer. */
static void test_longer_row_passes_again(void **state)
{
    (void)state;
    struct er_tape tape = make_tape();
    const struct er_reach_limits limits = {
        .uniformity = 0.90, .flow_variation = ER_NONE, .emitters_per_plant = 1, .longest = 300};
    tape.emitter_flow = er_to_si(ER_TAPE_FLOW, ER_US, 0.45) * tape.emitter_spacing;
    tape.at_pressure = er_to_si(ER_PRESSURE, ER_US, 8.0);
    const double slope = -0.03, inlet = tape.at_pressure;
    struct er_reach reach = compare(&tape, slope, inlet, &limits);
    assert_int_equal(reach.bound, ER_REACH_UNIFORMITY_LOW);
    size_t most = er_tape_emitters(&tape, limits.longest);
    enum er_reach_bound bound;
    size_t again = scan(&tape, slope, inlet, &limits, reach.emitters + 1, most, true, &bound);
    size_t last = scan(&tape, slope, inlet, &limits, again, most, false, &bound) - 1;
    assert_int_equal(reach.emitters, 236); /* regression; quoted in the README */
    assert_int_equal(again, 331);
    assert_int_equal(last, 614);
}

/* The same for flow variation: a compensating tape gives more than it should only where the
 * pressure passes what it holds to, downhill at the end of rows that are neither short nor long. */
static void test_variation_passes_again(void **state)
{
    (void)state;
    struct er_tape tape = make_tape();
    tape.exponent = tape.at_pressure = ER_NONE;
    tape.holds_from = 5.0 * PSI;
    tape.holds_to = 9.0 * PSI;
    const struct er_reach_limits limits = {
        .uniformity = ER_NONE, .flow_variation = 0.05, .emitters_per_plant = 1, .longest = 250};
    const double slope = -0.03, inlet = 8.0 * PSI;
    struct er_reach reach = compare(&tape, slope, inlet, &limits);
    assert_int_equal(reach.bound, ER_REACH_FLOW_UNEVEN);
    enum er_reach_bound bound;
    size_t most = er_tape_emitters(&tape, limits.longest);
    size_t again = scan(&tape, slope, inlet, &limits, reach.emitters + 1, most, true, &bound);
    assert_true(again > reach.emitters + 10 && again < most);
    print_message("passes to %zu emitters, again from %zu on\n", reach.emitters, again);
}

/* Every kind of bound, made to order. */
static void test_each_bound(void **state)
{
    (void)state;
    struct er_tape tape = make_tape();
    const struct er_reach_limits none = {ER_NONE, ER_NONE, 1.0, 300.0};
    struct er_reach reach = compare(&tape, 0.0, 6.0 * PSI, &none);
    assert_int_equal(reach.bound, ER_REACH_PRESSURE_LOW);
    assert_true(reach.emitter_pressure.min < tape.min_pressure * 1.001);

    reach = compare(&tape, -0.05, 14.0 * PSI, &none);
    assert_int_equal(reach.bound, ER_REACH_PRESSURE_HIGH);
    assert_true(reach.emitters > 0);

    struct er_tape unrated = make_tape();
    unrated.min_pressure = 0.0;
    reach = compare(&unrated, 0.05, 5.0 * PSI, &none);
    assert_int_equal(reach.bound, ER_REACH_ROW_DRY);
    assert_true(reach.far_end_pressure > 0.0);

    const struct er_reach_limits short_ones = {0.85, 0.2, 1.0, 30.0};
    reach = compare(&tape, 0.0, 8.0 * PSI, &short_ones);
    assert_int_equal(reach.bound, ER_REACH_LONGEST);
    assert_close(reach.length, 98.0 * 0.3048, 1e-12); /* 30 m hold 98 emitters */
}

/* Where the first emitter breaks a limit there is no row. */
static void test_no_row(void **state)
{
    (void)state;
    const struct er_reach_limits limits = {0.85, 0.2, 1.0, 100.0};
    struct er_tape tape = make_tape();
    assert_int_equal(compare(&tape, 0.0, 15.1 * PSI, &limits).bound, ER_REACH_PRESSURE_HIGH);
    assert_int_equal(compare(&tape, 0.0, 3.9 * PSI, &limits).bound, ER_REACH_PRESSURE_LOW);
    assert_int_equal(compare(&tape, 1.0, 0.1, &limits).bound, ER_REACH_ROW_DRY);
    tape.cv = 0.2; /* 1 - 1.27 x 0.2 is 0.746 */
    struct er_reach reach = compare(&tape, 0.0, 8.0 * PSI, &limits);
    assert_int_equal(reach.bound, ER_REACH_UNIFORMITY_LOW);
    assert_int_equal(reach.emitters, 0);
    assert_true(er_reach_find(&tape, 0.0, 8.0 * PSI, &(struct er_reach_limits){0.7, 0.2, 1.0, 100},
                              &reach) == ER_OK);
    assert_true(reach.emitters > 0);
}

/* A compensating tape at a limit that its rows just meet: no bound may be shy of rounding, else
 * thousands of rows would be solved. A tape that varies by nothing meets 100 percent. */
static void test_limit_just_met(void **state)
{
    (void)state;
    struct er_tape tape = make_tape();
    tape.exponent = tape.at_pressure = ER_NONE;
    tape.holds_from = 4.0 * PSI;
    tape.holds_to = ER_ENDLESS;
    tape.cv = 0.0;
    struct er_reach reach;
    const struct er_reach_limits limits = {1.0, 0.0, 1.0, 3000.0};
    assert_int_equal(er_reach_find(&tape, 0.0, 10.0 * PSI, &limits, &reach), ER_OK);
    assert_int_equal(reach.bound, ER_REACH_PRESSURE_LOW);
    assert_close(reach.emission_uniformity, 1.0, 1e-12);
    assert_within(reach.emitter_pressure.min, tape.min_pressure, 0.02);
}

/* A row that the answer names passes the check of a whole field, one emitter more does not. */
static void test_check_agrees(void **state)
{
    (void)state;
    struct er_reach reach;
    struct trial trial;
    for (size_t more = 0; more < 2; more++) {
        for (int slope = -2; slope <= 2; slope++) {
            const char *format =
                "{'units': 'us', 'source': {'pressure': 8, 'flow_limit': 1000},"
                " 'tapes': {'t': {'flow': 0.45, 'at_pressure': 8, 'emitter_spacing': 12,"
                "  'inside_diameter': '5/8 in', 'cv': 0.05}}, 'limits': {'flow_variation': 15},"
                " 'zones': [{'name': '1', 'header': {'pipe': {'inside_diameter': 100}},"
                "  'beds': [{'count': 1, 'length': %.17g, 'spacing': 5, 'tape': 't', 'tapes': 2,"
                "   'slope': %d, 'plant_spacing': 18}]}]}";
            struct er_field field;
            field_open(&field, format, 100.0, slope);
            const struct er_reach_limits limits = {.uniformity = field.limits.uniformity,
                                                   .flow_variation = field.limits.flow_variation,
                                                   .emitters_per_plant = 3.0,
                                                   .longest = 1000.0};
            assert_int_equal(er_reach_find(field.zones[0].groups[0].tape, slope / 100.0,
                                           field.source.pressure, &limits, &reach),
                             ER_OK);
            er_field_release(&field);
            trial_open(&trial, format, er_from_si(ER_LENGTH, ER_US, reach.length) + (double)more,
                       slope);
            assert_int_equal(trial_count(&trial, ER_FLOW_UNEVEN) +
                                 trial_count(&trial, ER_UNIFORMITY_LOW) +
                                 trial_count(&trial, ER_PRESSURE_LOW),
                             more);
            if (more == 0) {
                assert_close(trial.result.zones[0].emission_uniformity, reach.emission_uniformity,
                             1e-7);
            }
            trial_close(&trial);
        }
    }
}

static void test_names(void **state)
{
    (void)state;
    const char *const names[ER_REACH_BOUND_COUNT] = {
        "row-dry", "pressure-low", "pressure-high", "uniformity-low", "flow-uneven", "longest"};
    for (size_t b = 0; b < ER_REACH_BOUND_COUNT; b++) {
        assert_string_equal(er_reach_bound_name((enum er_reach_bound)b), names[b]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_as_tried_one_by_one),
        cmocka_unit_test(test_profiles_as_tried_one_by_one),
        cmocka_unit_test(test_longer_row_passes_again),
        cmocka_unit_test(test_variation_passes_again),
        cmocka_unit_test(test_each_bound),
        cmocka_unit_test(test_no_row),
        cmocka_unit_test(test_limit_just_met),
        cmocka_unit_test(test_check_agrees),
        cmocka_unit_test(test_names),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
