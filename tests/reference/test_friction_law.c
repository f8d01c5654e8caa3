/* How far Hazen-Williams, which the program uses at every flow, is off the friction of water in
 * smooth pipe: h = f L V^2 / (2 g D) of Darcy and Weisbach, with
 *
 *   f = 64 / Re          laminar, under Re 2000: G. Hagen 1839 and J. Poiseuille 1840
 *   f = 0.3164 Re^-0.25  turbulent in smooth pipe, Re 4000 to 100,000: H. Blasius, Das
 *                        Aehnlichkeitsgesetz bei Reibungsvorgaengen in Fluessigkeiten,
 *                        Mitteilungen ueber Forschungsarbeiten 131, VDI, Berlin 1913
 *
 * (both from memory), and straight between them where the flow may be either. Whole rows are
 * solved again with that friction by a walk of this test's own, whose far pressure GSL finds.
 * The tables that are printed stand in the README, as they are printed here. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <gsl/gsl_const_mksa.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_roots.h>

#include <cmocka.h>

#include "../trust/trust.h"
#include "evenrow/hydraulics.h"

static const char SOURCE[] =
    "Darcy-Weisbach with the friction factors of Hagen and Poiseuille (laminar) and of H. Blasius, "
    "VDI Mitteilungen ueber Forschungsarbeiten 131, 1913 (smooth, turbulent)";

static const double LAMINAR_MOST = 2000.0;    /* Re */
static const double TURBULENT_LEAST = 4000.0; /* Re */
static const double BLASIUS_MOST = 1e5;       /* Re */
static const double CV = 0.03;                /* of manufacture */
static const double INLET = 10.0;             /* psi */

/* Kinematic viscosity, m2/s: handbook values, as the IAPWS formulation gives them (from memory). */
struct water {
    const char *name;
    double viscosity;
};
static const struct water WATERS[] = {{"68 F", 1.004e-6}, {"50 F", 1.307e-6}}; /* 20 C and 10 C */
enum { WATER_COUNT = sizeof WATERS / sizeof WATERS[0] };

/* Level lines with an outlet at half a spacing, one and a half, and so on. */
struct line {
    const char *name;
    bool header;    /* of rows that take the same; else a tape with x = 0.5 and 8 psi */
    double inches;  /* inside diameter */
    double c;       /* Hazen-Williams, the catalogue's */
    double feet;    /* length */
    double spacing; /* ft, of outlets */
    double flow;    /* gpm: of 100 ft of tape, of the whole header */
};
static const struct line LINES[] = {
    {"5/8 in tape, 300 ft", false, 0.625, 140, 300, 1, 0.45},
    {"5/8 in tape, 600 ft", false, 0.625, 140, 600, 1, 0.45},
    {"7/8 in tape, 600 ft", false, 0.875, 140, 600, 1, 0.45},
    {"7/8 in tape, 1000 ft", false, 0.875, 140, 1000, 1, 0.45},
    {"2 in header, 40 gpm, 180 ft", true, 2, 140, 180, 6, 40},
};
enum { LINE_COUNT = sizeof LINES / sizeof LINES[0] };

static double friction_factor(double reynolds)
{
    double laminar = 64.0 / fmin(reynolds, LAMINAR_MOST);
    double turbulent = 0.3164 * pow(fmax(reynolds, TURBULENT_LEAST), -0.25);
    double share = (reynolds - LAMINAR_MOST) / (TURBULENT_LEAST - LAMINAR_MOST);
    share = fmin(1.0, fmax(0.0, share));
    return (1.0 - share) * laminar + share * turbulent;
}

/* Head lost (m) by `flow` (m3/s) over `length` (m), in water of `viscosity`; by Hazen-Williams in
 * SI, written out once more, where that is 0. */
static double loss(const struct er_tape *pipe, double viscosity, double flow, double length)
{
    double d = pipe->inside_diameter;
    if (!(flow > 0.0)) {
        return 0.0;
    }
    if (viscosity <= 0.0) {
        return 10.67 * length * pow(flow / pipe->c, 1.852) / pow(d, 4.8704);
    }
    double velocity = flow / (M_PI / 4.0 * d * d);
    double reynolds = velocity * d / viscosity;
    assert_true(reynolds <= BLASIUS_MOST);
    return friction_factor(reynolds) * length / d * velocity * velocity /
           (2.0 * GSL_CONST_MKSA_GRAV_ACCEL);
}

static struct er_tape tape_of(const struct line *line)
{
    double outlets = line->feet / line->spacing;
    double spacing = er_to_si(ER_LENGTH, ER_US, line->spacing);
    double each = line->header ? er_to_si(ER_FLOW, ER_US, line->flow) / outlets
                               : er_to_si(ER_TAPE_FLOW, ER_US, line->flow) * spacing;
    return (struct er_tape){.emitter_flow = each,
                            .at_pressure =
                                line->header ? ER_NONE : er_to_si(ER_PRESSURE, ER_US, 8.0),
                            .exponent = line->header ? ER_NONE : 0.5,
                            .holds_from = line->header ? 1e-3 : ER_NONE,
                            .holds_to = ER_ENDLESS,
                            .emitter_spacing = spacing,
                            .inside_diameter = er_to_si(ER_SMALL_LENGTH, ER_US, line->inches),
                            .c = line->c};
}

struct figures {
    double lost;       /* m of head, inlet to last outlet */
    double uniformity; /* EU, as a fraction */
};

/* A walk from the far end, and what it met. */
struct walk {
    const struct er_tape *tape;
    size_t outlets;
    double viscosity, inlet;
    double least, sum; /* flows, m3/s */
};

static double outflow(const struct er_tape *tape, double pressure)
{
    if (isnan(tape->exponent)) {
        return tape->emitter_flow;
    }
    return tape->emitter_flow * pow(pressure / tape->at_pressure, tape->exponent);
}

/* The pressure at the inlet over the wanted one. */
static double walk_up(double far_pressure, void *context)
{
    struct walk *walk = context;
    double pressure = far_pressure;
    walk->sum = 0.0;
    walk->least = ER_ENDLESS;
    for (size_t left = walk->outlets; left > 0; left--) {
        double flow = outflow(walk->tape, pressure);
        double reach = walk->tape->emitter_spacing / (left > 1 ? 1.0 : 2.0);
        walk->sum += flow;
        walk->least = fmin(walk->least, flow);
        pressure += loss(walk->tape, walk->viscosity, walk->sum, reach);
    }
    return pressure - walk->inlet;
}

static struct figures solve_again(const struct line *line, double viscosity)
{
    struct er_tape tape = tape_of(line);
    struct walk walk = {.tape = &tape,
                        .outlets = (size_t)lround(line->feet / line->spacing),
                        .viscosity = viscosity,
                        .inlet = er_to_si(ER_PRESSURE, ER_US, INLET)};
    gsl_function missed = {walk_up, &walk};
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    int status = GSL_CONTINUE;
    assert_non_null(solver);
    assert_int_equal(gsl_root_fsolver_set(solver, &missed, 1e-3, walk.inlet), GSL_SUCCESS);
    for (int pass = 0; pass < 200 && status == GSL_CONTINUE; pass++) {
        assert_int_equal(gsl_root_fsolver_iterate(solver), GSL_SUCCESS);
        status = gsl_root_test_interval(gsl_root_fsolver_x_lower(solver),
                                        gsl_root_fsolver_x_upper(solver), 0, 1e-13);
    }
    assert_int_equal(status, GSL_SUCCESS);
    double far_pressure = gsl_root_fsolver_root(solver);
    gsl_root_fsolver_free(solver);
    (void)walk_up(far_pressure, &walk);
    double mean = walk.sum / (double)walk.outlets;
    return (struct figures){walk.inlet - far_pressure, (1.0 - 1.27 * CV) * walk.least / mean};
}

static void take_least(void *context, size_t emitter, double pressure, double flow)
{
    double *least = context;
    (void)emitter;
    (void)pressure;
    *least = fmin(*least, flow);
}

static struct figures by_program(const struct line *line)
{
    struct er_tape tape = tape_of(line);
    struct er_ground level = {0};
    struct er_run run = er_run_make(&tape, er_to_si(ER_LENGTH, ER_US, line->feet), &level);
    struct er_run_state state = {0};
    double inlet = er_to_si(ER_PRESSURE, ER_US, INLET), least = ER_ENDLESS;
    assert_int_equal(er_run_solve(&run, inlet, 1e-13, &state), ER_OK);
    er_run_visit(&run, &state, take_least, &least);
    double mean = state.inlet_flow / (double)run.emitters;
    return (struct figures){inlet - er_run_far_end_pressure(&run, &state),
                            (1.0 - 1.27 * CV) * least / mean};
}

/* The worst deviation of the lines, told as a check that may be `tolerance` off. */
struct worst {
    const char *name, *source, *unit;
    size_t rows;
    double largest, tolerance;
};

static void take(struct worst *worst, double deviation)
{
    worst->rows++;
    if (!(fabs(deviation) <= worst->largest)) { /* also for NaN */
        worst->largest = fabs(deviation);
    }
}

static void hold(const struct worst *worst)
{
    struct trust_check check = {.set = "reference",
                                .subject = "Friction in small bores and in cold water",
                                .name = worst->name,
                                .kind = "computed",
                                .source = worst->source,
                                .unit = worst->unit,
                                .rows = worst->rows,
                                .largest = worst->largest,
                                .tolerance = worst->tolerance};
    trust_print(&check);
    assert_true(worst->largest <= worst->tolerance);
}

/* Both factors are the published ones, and meet the transition on both sides. */
static void factors_are_the_published_ones(void **state)
{
    (void)state;
    assert_float_equal(friction_factor(1000), 0.064, 1e-12);
    assert_float_equal(friction_factor(LAMINAR_MOST), 0.032, 1e-12);
    /* 0.0178 at Re = 100,000 in any chart of the friction of smooth pipe (from memory) */
    assert_float_equal(friction_factor(1e5), 0.0178, 0.00005);
    assert_float_equal(friction_factor(TURBULENT_LEAST), 0.0398, 0.00005);
    assert_float_equal(friction_factor(3000), (0.032 + friction_factor(4000)) / 2, 1e-12);
}

/* The walk of this test is sound: with Hazen-Williams it comes to what the program says. */
static void walk_agrees_with_program(void **state)
{
    struct worst worst = {.name = "rows walked again, the same friction",
                          .source = "a walk apart from the program's, its far pressure found by "
                                    "the GNU Scientific Library",
                          .tolerance = 1e-9};
    (void)state;
    for (size_t l = 0; l < LINE_COUNT; l++) {
        struct figures program = by_program(&LINES[l]), again = solve_again(&LINES[l], 0.0);
        take(&worst, again.lost / program.lost - 1.0);
        take(&worst, again.uniformity - program.uniformity);
    }
    hold(&worst);
}

/* Friction per foot along a line, by Darcy-Weisbach over Hazen-Williams. */
static void print_friction_along_lines(void **state)
{
    static const double SHARES[] = {1.0, 0.5, 0.2, 0.1, 0.05, 0.02};
    enum { SHARE_COUNT = sizeof SHARES / sizeof SHARES[0] };
    (void)state;
    printf("friction-along\t%-29s%-7s%s\n", "", "", "where the flow is so much of the inlet's:");
    printf("friction-along\t%-29s%-7s", "line", "water");
    for (size_t s = 0; s < SHARE_COUNT; s++) {
        printf("%5.0f %%", SHARES[s] * 100.0);
    }
    printf("\n");
    for (size_t l = 0; l < LINE_COUNT; l++) {
        struct er_tape tape = tape_of(&LINES[l]);
        double inlet = tape.emitter_flow * LINES[l].feet / LINES[l].spacing;
        for (size_t w = 0; w < WATER_COUNT; w++) {
            printf("friction-along\t%-29s%-7s", w == 0 ? LINES[l].name : "", WATERS[w].name);
            for (size_t s = 0; s < SHARE_COUNT; s++) {
                double flow = inlet * SHARES[s];
                double ratio = loss(&tape, WATERS[w].viscosity, flow, 1.0) /
                               er_friction_head(flow, 1.0, tape.c, tape.inside_diameter);
                assert_true(ratio > 0.8 && ratio < 20.0); /* also not NaN */
                assert_true(s > 0 || ratio < 1.3);
                printf("%7.2f", ratio);
            }
            printf("\n");
        }
    }
}

static void print_row(const struct line *line, const struct water *water, struct figures program,
                      struct figures again)
{
    double lost = er_from_si(ER_PRESSURE, ER_US, program.lost);
    printf("friction-rows\t%-29s%-7s%6.2f%8.2f%+8.0f %%", line->name, water->name, lost,
           er_from_si(ER_PRESSURE, ER_US, again.lost), (again.lost / program.lost - 1.0) * 100.0);
    if (line->header) {
        printf("%8s%7s\n", "-", "-");
    } else {
        printf("%8.1f%7.1f\n", program.uniformity * 100.0, again.uniformity * 100.0);
    }
}

/* What it does to whole rows: the head they lose, and how even they are. The README says how much
 * is usual: an eighth of the loss and a point of EU; more would be news. */
static void rows_by_the_other_friction(void **state)
{
    struct worst lost = {
        .name = "head lost by a line, other friction", .source = SOURCE, .tolerance = 0.15};
    struct worst uniformity = {.name = "EU of a row, other friction",
                               .source = SOURCE,
                               .unit = "percent",
                               .tolerance = 1.5};
    (void)state;
    printf("friction-rows\t%-36s%-24s%15s\n", "", "  head lost, psi", "EU, %");
    printf("friction-rows\t%-29s%-7s%6s%8s%10s%8s%7s\n", "line", "water", "H-W", "D-W", "change",
           "H-W", "D-W");
    for (size_t l = 0; l < LINE_COUNT; l++) {
        struct figures program = by_program(&LINES[l]);
        for (size_t w = 0; w < WATER_COUNT; w++) {
            struct figures again = solve_again(&LINES[l], WATERS[w].viscosity);
            print_row(&LINES[l], &WATERS[w], program, again);
            take(&lost, again.lost / program.lost - 1.0);
            if (!LINES[l].header) {
                take(&uniformity, (again.uniformity - program.uniformity) * 100.0);
            }
        }
    }
    hold(&lost);
    hold(&uniformity);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(factors_are_the_published_ones),
        cmocka_unit_test(walk_agrees_with_program),
        cmocka_unit_test(print_friction_along_lines),
        cmocka_unit_test(rows_by_the_other_friction),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
