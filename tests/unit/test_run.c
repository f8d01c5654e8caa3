/* One run of tape: found by hand, marched the other way, flushed, and far too long. */
#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "evenrow/hydraulics.h"
#include "hydraulics/closure.h"
#include "trial.h"

#define TOLERANCE 1e-11

static struct er_tape tape_of(double exponent)
{
    return (struct er_tape){.emitter_flow = 2.8e-7,
                            .at_pressure = 5.6,
                            .exponent = exponent,
                            .holds_from = (double)NAN,
                            .holds_to = (double)INFINITY,
                            .emitter_spacing = 0.3,
                            .inside_diameter = 0.016,
                            .c = 140.0};
}

static struct er_tape compensating_tape(void)
{
    struct er_tape tape = tape_of((double)NAN);
    tape.at_pressure = (double)NAN;
    tape.holds_from = 3.0;
    tape.holds_to = 25.0;
    return tape;
}

/* The loss of one reach written out, not taken from the library. */
static double loss(double flow, double length, const struct er_tape *tape)
{
    return 10.67 * length * pow(flow, 1.852) /
           (pow(tape->c, 1.852) * pow(tape->inside_diameter, 4.8704));
}

static double emitter(const struct er_tape *tape, double pressure)
{
    return er_emitter_flow(tape, pressure, NULL);
}

static void test_one_emitter(void **state)
{
    (void)state;
    struct er_tape tape = tape_of(0.5);
    tape.emitter_loss = 0.2;
    struct er_ground uphill = {.slope = 0.04};
    struct er_run run = er_run_make(&tape, 0.3, &uphill);
    assert_int_equal(run.emitters, 1);
    assert_close(run.first_reach, 0.15, 1e-15);
    double flow = 2.8e-7 * sqrt(4.0 / 5.6);
    struct er_run_state at = er_run_walk(&run, 0, 4.0, (double)INFINITY);
    assert_close(at.inlet_flow, flow, 1e-14);
    assert_close(at.inlet_pressure, 4.0 + loss(flow, 0.15 + 0.2, &tape) + 0.04 * 0.15, 1e-14);
}

static void test_two_emitters(void **state)
{
    (void)state;
    struct er_tape tape = tape_of(0.6);
    struct er_ground downhill = {.slope = -0.1};
    struct er_run run = er_run_make(&tape, 0.7, &downhill);
    assert_int_equal(run.emitters, 2);
    double far = 2.8e-7 * pow(3.0 / 5.6, 0.6);
    double near_pressure = 3.0 + loss(far, 0.3, &tape) - 0.03;
    double both = far + 2.8e-7 * pow(near_pressure / 5.6, 0.6);
    struct er_run_state at = er_run_walk(&run, 1, 3.0, (double)INFINITY);
    assert_close(at.inlet_flow, both, 1e-14);
    assert_close(at.inlet_pressure, near_pressure + loss(both, 0.15, &tape) - 0.015, 1e-14);
}

/* What a visit showed, by emitter. */
struct seen {
    size_t emitters, next;
    double *pressure, *flow;
};

static void look(void *context, size_t place, double pressure, double flow)
{
    struct seen *seen = context;
    assert_true(seen->next > 0);
    assert_int_equal(place, --seen->next); /* from the last to the first */
    seen->pressure[place] = pressure;
    seen->flow[place] = flow;
}

static struct seen see(const struct er_run *run, const struct er_run_state *state)
{
    struct seen seen = {.emitters = run->emitters, .next = run->emitters};
    seen.pressure = malloc(run->emitters * sizeof(double));
    seen.flow = malloc(run->emitters * sizeof(double));
    assert_non_null(seen.pressure);
    assert_non_null(seen.flow);
    er_run_visit(run, state, look, &seen);
    assert_int_equal(seen.next, 0);
    return seen;
}

static void forget(struct seen *seen)
{
    free(seen->pressure);
    free(seen->flow);
}

static double height(const struct er_run *run, size_t place)
{
    return er_ground_elevation(&run->ground,
                               run->first_reach + (double)place * run->tape->emitter_spacing);
}

/* At a restart the flow lies between those of two walks that cannot be told apart below it. */
static bool is_restarted(const struct er_run_state *state, size_t place)
{
    for (size_t r = 0; r < state->restart_count; r++)
        if (state->restarts[r].emitter == place)
            return true;
    return false;
}

/* Marches down a solved run from its inlet, the other way than the library walks: every
 * emitter's flow follows from its pressure, every pressure from the one before, and nothing is
 * left to flow at the end. */
static void march(const struct er_run *run, const struct er_run_state *state)
{
    struct seen seen = see(run, state);
    const struct er_tape *tape = run->tape;
    double beyond = 0.0;
    for (size_t e = run->emitters; e-- > 0;) {
        if (!is_restarted(state, e))
            assert_close(seen.flow[e], emitter(tape, seen.pressure[e]), 1e-12);
        beyond += seen.flow[e];
        double reach = (e == 0 ? run->first_reach : tape->emitter_spacing) + tape->emitter_loss;
        double upstream = e == 0 ? state->inlet_pressure : seen.pressure[e - 1];
        double rise = height(run, e) - (e == 0 ? 0.0 : height(run, e - 1));
        double scale = fmax(1.0, fabs(state->inlet_pressure));
        assert_within(upstream - loss(beyond, reach, tape) - rise, seen.pressure[e], 1e-11 * scale);
    }
    assert_close(state->inlet_flow, beyond, 1e-12);
    assert_within(er_run_far_end_pressure(run, state), seen.pressure[run->emitters - 1], 1e-12);
    forget(&seen);
}

static struct er_run_state solved(const struct er_run *run, double inlet_pressure)
{
    struct er_run_state state;
    memset(&state, 0, sizeof state);
    assert_int_equal(er_run_solve(run, inlet_pressure, TOLERANCE, &state), ER_OK);
    assert_within(state.inlet_pressure, inlet_pressure,
                  TOLERANCE * fmax(1.0, fabs(inlet_pressure)));
    return state;
}

static void test_dip_and_rise(void **state)
{
    (void)state;
    struct er_tape tape = tape_of(0.5);
    tape.emitter_loss = 0.08;
    const struct er_point points[] = {{0.0, 7.0}, {20.0, 5.5}, {45.0, 5.5}, {60.0, 8.5}};
    struct er_ground ground = {.count = 4, .points = points};
    struct er_run run = er_run_make(&tape, 80.0, &ground);
    struct er_run_state at = solved(&run, 9.0);
    assert_int_equal(at.last_wet, run.emitters - 1);
    march(&run, &at);
    /* The first point's 7 m do not count; the last segment goes on: 20 cm up every metre. */
    assert_close(er_run_dry_pressure(&run), -1.5, 1e-12);
    assert_close(height(&run, run.emitters - 1), 1.5 + 0.2 * (0.15 + 265 * 0.3 - 60.0), 1e-12);
}

/* On ground that rises 5 m the far end stays dry at 3 m; the near part does not. */
static void test_far_end_dry(void **state)
{
    (void)state;
    struct er_tape tape = tape_of(0.5);
    struct er_ground uphill = {.slope = 0.05};
    struct er_run run = er_run_make(&tape, 100.0, &uphill);
    struct er_run_state at = solved(&run, 3.0);
    march(&run, &at);
    struct seen seen = see(&run, &at);
    assert_true(seen.flow[0] > 0.0);
    assert_true(seen.flow[run.emitters - 1] <= 0.0);
    size_t wet = 0;
    for (size_t e = 0; e < run.emitters; e++)
        wet += seen.flow[e] > 0.0;
    assert_true(wet > 100 && wet < 200); /* without friction the first 60 m: 200 emitters */
    assert_true(er_run_far_end_pressure(&run, &at) < 0.0);
    forget(&seen);
}

/* A walk from an emitter in the middle: all beyond it are dry. */
static void test_last_wet(void **state)
{
    (void)state;
    struct er_tape tape = tape_of(0.5);
    struct er_ground uphill = {.slope = 0.05};
    struct er_run run = er_run_make(&tape, 30.0, &uphill);
    struct er_run_state at = er_run_walk(&run, 40, 0.01, (double)INFINITY);
    assert_int_equal(at.last_wet, 40);
    march(&run, &at);
    assert_close(er_run_far_end_pressure(&run, &at), 0.01 - 0.05 * 59 * 0.3, 1e-12);
}

static void test_dry_run(void **state)
{
    (void)state;
    struct er_tape tape = tape_of(0.5);
    struct er_ground uphill = {.slope = 0.05};
    struct er_ground downhill = {.slope = -0.05};
    struct er_run up = er_run_make(&tape, 30.0, &uphill);
    struct er_run down = er_run_make(&tape, 30.0, &downhill);
    assert_close(er_run_dry_pressure(&up), 0.05 * 0.15, 1e-12);
    assert_close(er_run_dry_pressure(&down), -0.05 * 29.85, 1e-12);
    struct er_run_state at = solved(&up, 0.05 * 0.15);
    assert_true(at.inlet_flow <= 0.0);
    assert_close(er_run_far_end_pressure(&up, &at), 0.05 * (0.15 - 29.85), 1e-12);
    at = solved(&down, -1.0); /* the low end still gets water */
    assert_true(at.inlet_flow > 0.0);
    march(&down, &at);
}

/* 20,000 ft of level tape, far beyond use: the end has next to nothing, and it still closes. */
static void test_very_long(void **state)
{
    (void)state;
    const double exponents[] = {0.1, 0.5, 1.0};
    struct er_ground level = {.slope = 0.0};
    for (size_t x = 0; x < 3; x++) {
        struct er_tape tape = tape_of(exponents[x]);
        tape.emitter_spacing = ER_FOOT;
        struct er_run run = er_run_make(&tape, 20000.0 * ER_FOOT, &level);
        assert_int_equal(run.emitters, 20000);
        struct er_run_state at = solved(&run, 7.0);
        assert_true(at.inlet_flow > 0.0);
        assert_true(er_run_far_end_pressure(&run, &at) < 0.01);
        march(&run, &at);
    }
}

/* Long rows on falling ground: half way down the pressure nearly vanishes, and neighbouring
 * far pressures lead to quite different inlets. */
static void test_long_fall(void **state)
{
    (void)state;
    const struct {
        double slope, length;
    } rows[] = {{-0.05, 745.0}, {-0.02, 1000.0}, {-0.03, 850.0}, {-0.01, 1200.0}};
    size_t restarts = 0;
    for (size_t row = 0; row < sizeof rows / sizeof rows[0]; row++) {
        struct er_tape tape = tape_of(0.5);
        struct er_ground ground = {.slope = rows[row].slope};
        struct er_run run = er_run_make(&tape, rows[row].length, &ground);
        struct er_run_state at = solved(&run, 7.0);
        restarts += at.restart_count;
        march(&run, &at);
    }
    assert_true(restarts > 0);
}

static struct er_tape random_tape(uint64_t *seed)
{
    struct er_tape tape = next_number(seed, 0.0, 1.0) < 0.3 ? compensating_tape()
                                                            : tape_of(next_number(seed, 0.1, 1));
    tape.emitter_flow = 2.8e-7 * exp(next_number(seed, -1.0, 1.5));
    tape.emitter_spacing = next_number(seed, 0.1, 0.6);
    tape.emitter_loss = next_number(seed, 0.0, 1.0) < 0.5 ? 0.0 : next_number(seed, 0.0, 0.3);
    return tape;
}

static void test_solve_undoes_walk(void **state)
{
    (void)state;
    uint64_t seed = 20240611;
    size_t tried = 0;
    for (size_t round = 0; round < 600; round++) {
        struct er_tape tape = random_tape(&seed);
        struct er_ground ground = {.slope = next_number(&seed, -0.05, 0.05)};
        struct er_run run = er_run_make(&tape, next_number(&seed, 0.7, 150.0), &ground);
        double far_pressure = exp(next_number(&seed, log(0.2), log(40.0)));
        struct er_run_state walked =
            er_run_walk(&run, run.emitters - 1, far_pressure, (double)INFINITY);
        if (!(walked.inlet_pressure < 500.0))
            continue;
        struct er_run_state at = solved(&run, walked.inlet_pressure);
        double room = 2.0 * TOLERANCE * fmax(1.0, fabs(walked.inlet_pressure));
        assert_within(at.far_pressure, far_pressure, room * walked.far_slope + 1e-12);
        assert_within(at.inlet_flow, walked.inlet_flow,
                      room * walked.flow_slope + 1e-9 * walked.inlet_flow);
        march(&run, &at);
        tried++;
    }
    print_message("%zu random runs solved\n", tried);
    assert_true(tried > 500);
}

static void test_slopes(void **state)
{
    (void)state;
    uint64_t seed = 7;
    for (size_t round = 0; round < 100; round++) {
        struct er_tape tape = tape_of(next_number(&seed, 0.1, 1.0));
        struct er_ground ground = {.slope = next_number(&seed, -0.02, 0.02)};
        struct er_run run = er_run_make(&tape, next_number(&seed, 1.0, 100.0), &ground);
        double far = next_number(&seed, 2.0, 10.0);
        size_t last = run.emitters - 1;
        struct er_run_state here = er_run_walk(&run, last, far, (double)INFINITY);
        struct er_run_state below = er_run_walk(&run, last, far - 1e-5, (double)INFINITY);
        struct er_run_state above = er_run_walk(&run, last, far + 1e-5, (double)INFINITY);
        double inlet = above.inlet_pressure - below.inlet_pressure;
        assert_close(here.far_slope, 2e-5 / inlet, 1e-6);
        assert_close(here.flow_slope, (above.inlet_flow - below.inlet_flow) / inlet, 1e-6);
    }
}

static void test_ceiling(void **state)
{
    (void)state;
    struct er_tape tape = tape_of(0.5);
    struct er_ground level = {.slope = 0.0};
    struct er_run run = er_run_make(&tape, 300.0, &level);
    struct er_run_state free_walk = er_run_walk(&run, run.emitters - 1, 5.0, (double)INFINITY);
    struct er_run_state cut = er_run_walk(&run, run.emitters - 1, 5.0, 5.5);
    assert_true(free_walk.inlet_pressure > 5.5);
    assert_true(isinf(cut.inlet_pressure));
}

/* A tape whose emitters give next to nothing is a bare pipe: Q = (H / r L)^(1/1.852). */
static void test_flush_bare_pipe(void **state)
{
    (void)state;
    struct er_tape tape = tape_of(0.5);
    tape.emitter_flow = 1e-20;
    struct er_ground uphill = {.slope = 0.02};
    struct er_run run = er_run_make(&tape, 100.1, &uphill);
    double resistance = loss(1.0, 100.1, &tape);
    double end_flow = 0.0;
    assert_int_equal(er_run_flush(&run, 6.0, &end_flow), ER_OK);
    assert_close(end_flow, pow((6.0 - 2.002) / resistance, 1.0 / 1.852), 1e-9);
    tape.emitter_loss = 0.1; /* once for each of 333 emitters, and not behind the last */
    assert_int_equal(er_run_flush(&run, 6.0, &end_flow), ER_OK);
    resistance = loss(1.0, 100.1 + 333 * 0.1, &tape);
    assert_close(end_flow, pow((6.0 - 2.002) / resistance, 1.0 / 1.852), 1e-9);
}

static void test_flush_one_emitter(void **state)
{
    (void)state;
    struct er_tape tape = tape_of(0.5);
    tape.emitter_flow = 2e-4; /* as much as the end itself */
    struct er_ground level = {.slope = 0.0};
    struct er_run run = {
        .tape = &tape, .emitters = 1, .first_reach = 10.0, .length = 25.0, .ground = level};
    double end_flow = 0.0;
    assert_int_equal(er_run_flush(&run, 5.0, &end_flow), ER_OK);
    double at_emitter = loss(end_flow, 15.0, &tape);
    double inlet = at_emitter + loss(end_flow + emitter(&tape, at_emitter), 10.0, &tape);
    assert_true(end_flow > 1e-5);
    assert_close(inlet, 5.0, 1e-9);
}

static void test_flush_out_of_reach(void **state)
{
    (void)state;
    struct er_tape tape = tape_of(0.5);
    struct er_ground uphill = {.slope = 0.1};
    struct er_ground downhill = {.slope = -0.1};
    struct er_run run = er_run_make(&tape, 60.0, &uphill);
    double end_flow = 1.0;
    assert_int_equal(er_run_flush(&run, 5.9, &end_flow), ER_OK);
    assert_true(end_flow >= 0.0 && end_flow <= 0.0);
    assert_int_equal(er_run_flush(&run, -3.0, &end_flow), ER_OK);
    assert_true(end_flow >= 0.0 && end_flow <= 0.0);
    run = er_run_make(&tape, 60.0, &downhill);
    assert_int_equal(er_run_flush(&run, 0.5, &end_flow), ER_OK);
    assert_true(end_flow > 0.0);
    /* On level ground emitters that take all there is leave nothing for the end. */
    tape.emitter_flow = 1e-5;
    struct er_ground level = {.slope = 0.0};
    run = er_run_make(&tape, 3000.0, &level);
    assert_int_equal(er_run_flush(&run, 5.0, &end_flow), ER_OK);
    assert_true(end_flow >= 0.0 && end_flow < 1e-9);
}

/* A search that ended with no answer is not taken for one: there is no flow for a pressure that is
 * no number; and for one beyond any pump's the flow is still that of the bare pipe. */
static void test_flush_without_answer(void **state)
{
    (void)state;
    struct er_tape tape = tape_of(0.5);
    struct er_ground level = {.slope = 0.0};
    struct er_run run = er_run_make(&tape, 60.0, &level);
    double end_flow = 0.0;
    assert_int_equal(er_run_flush(&run, ER_NONE, &end_flow), ER_NOT_CLOSED);
    tape.emitter_flow = 1e-20;
    assert_int_equal(er_run_flush(&run, 3e9, &end_flow), ER_OK);
    assert_close(end_flow, pow(3e9 / loss(1.0, 60.0, &tape), 1.0 / 1.852), 1e-9);
}

/* A step from 0 to 1 just above `context`'s number; it passes what lies between there alone. */
static double step_above(void *context, double x, double *slope)
{
    *slope = 0.0;
    return x > *(double *)context ? 1.0 : 0.0;
}

static void test_straddles(void **state)
{
    (void)state;
    double edge = 3.0;
    struct er_closure closure = {.function = step_above, .context = &edge, .wanted = 0.5};
    assert_true(er_close_straddles(&closure, 3.0));
    assert_true(er_close_straddles(&closure, nextafter(3.0, 4.0)));
    assert_false(er_close_straddles(&closure, 3.0 + 1e-12));
    assert_false(er_close_straddles(&closure, 3.0 - 1e-12));
    assert_false(er_close_straddles(&closure, ER_NONE));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_one_emitter),
        cmocka_unit_test(test_two_emitters),
        cmocka_unit_test(test_dip_and_rise),
        cmocka_unit_test(test_far_end_dry),
        cmocka_unit_test(test_last_wet),
        cmocka_unit_test(test_dry_run),
        cmocka_unit_test(test_very_long),
        cmocka_unit_test(test_long_fall),
        cmocka_unit_test(test_solve_undoes_walk),
        cmocka_unit_test(test_slopes),
        cmocka_unit_test(test_ceiling),
        cmocka_unit_test(test_flush_bare_pipe),
        cmocka_unit_test(test_flush_one_emitter),
        cmocka_unit_test(test_flush_out_of_reach),
        cmocka_unit_test(test_flush_without_answer),
        cmocka_unit_test(test_straddles),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
