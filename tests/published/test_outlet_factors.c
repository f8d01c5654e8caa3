/* Multiple-outlet factors, through the tape solver with emitters that hold their flow. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "evenrow/hydraulics.h"
#include "published.h"

#define SPACING 0.3     /* m */
#define SHARE_POINTS 10 /* a row asks for tenths of the length */
#define WHOLE_LOSS 8.0  /* m of head that all the flow would lose over all the length */

/* A tape whose emitters hold their flow: so large a flow that the head lost has as many digits
 * as the inlet's. */
static struct er_tape tape_for(size_t outlets, double length)
{
    struct er_tape tape = {.at_pressure = (double)NAN,
                           .exponent = (double)NAN,
                           .holds_from = 1e-3,
                           .holds_to = (double)INFINITY,
                           .emitter_spacing = SPACING,
                           .inside_diameter = 0.016,
                           .c = 150.0};
    double gradient = er_friction_gradient(tape.c, tape.inside_diameter);
    double flow = pow(WHOLE_LOSS / (gradient * length), 1.0 / ER_FRICTION_EXPONENT);
    tape.emitter_flow = flow / (double)outlets;
    return tape;
}

static struct er_run_state solve(const struct er_run *run)
{
    struct er_run_state state = {0};
    assert_int_equal(er_run_solve(run, 20.0, 1e-12, &state), ER_OK);
    return state;
}

static double factor(size_t outlets, double first_reach)
{
    double length = first_reach + SPACING * (double)(outlets - 1);
    struct er_tape tape = tape_for(outlets, length);
    struct er_run run = {
        .tape = &tape, .emitters = outlets, .first_reach = first_reach, .length = length};
    struct er_run_state state = solve(&run);
    double lost = state.inlet_pressure - er_run_far_end_pressure(&run, &state);
    return lost / er_friction_head(tape.emitter_flow * (double)outlets, length, tape.c,
                                   tape.inside_diameter);
}

static double whole_spacing(const struct published_row *row, const char *figure)
{
    (void)figure;
    return factor((size_t)row_number(row, "outlets"), SPACING);
}

static double half_spacing(const struct published_row *row, const char *figure)
{
    (void)figure;
    return factor((size_t)row_number(row, "outlets"), SPACING / 2.0);
}

struct pressures {
    size_t wanted; /* the pressure midway between this emitter and the one before is kept */
    double at_wanted, sum;
};

static void take_pressure(void *context, size_t emitter, double pressure, double flow)
{
    struct pressures *pressures = context;
    (void)flow;
    pressures->sum += pressure;
    if (emitter == pressures->wanted || emitter + 1 == pressures->wanted)
        pressures->at_wanted += pressure / 2.0;
}

/* The share of a level tape's loss that is spent before emitter `wanted`, or up to the mean head.
 */
static double spent(size_t outlets, size_t wanted, bool mean)
{
    double length = SPACING * (double)outlets;
    struct er_ground level = {0};
    struct er_tape tape = tape_for(outlets, length);
    struct er_run run = er_run_make(&tape, length, &level);
    struct er_run_state state = solve(&run);
    struct pressures found = {.wanted = wanted, .at_wanted = 0.0, .sum = 0.0};
    er_run_visit(&run, &state, take_pressure, &found);
    double at = mean ? found.sum / (double)outlets : found.at_wanted;
    return (state.inlet_pressure - at) /
           (state.inlet_pressure - er_run_far_end_pressure(&run, &state));
}

static double energy_line(const struct published_row *row, const char *figure)
{
    const size_t outlets = 20000; /* as good as an even outflow all along */
    double tenths = round(row_number(row, "share_of_length") * SHARE_POINTS);
    (void)figure;
    return spent(outlets, (size_t)tenths * (outlets / SHARE_POINTS), false);
}

static double mean_head(const struct published_row *row, const char *figure)
{
    (void)figure;
    return spent((size_t)row_number(row, "outlets"), 0, true);
}

int main(void)
{
    static const struct published_group groups[] = {
        {"exact sum, whole first spacing", 17, whole_spacing},
        {"exact sum, half first spacing", 17, half_spacing},
        {"Christiansen", 15, whole_spacing},
        {"Christiansen, one and two outlets", 2, whole_spacing},
        {"half spacing", 15, half_spacing},
        {"half spacing, one and two outlets", 2, half_spacing},
        {"handbook at 1.85", 5, whole_spacing},
        {"energy line", 9, energy_line},
        {"mean head", 1, mean_head},
    };
    return published_main("outlet-factors.json", groups, sizeof groups / sizeof *groups);
}
