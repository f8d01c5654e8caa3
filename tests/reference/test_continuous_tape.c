/* The limit of a tape whose emitters come ever closer, their flow per metre held: a pipe that
 * leaks all along. There the walk from emitter to emitter becomes two differential equations,
 *
 *   dQ/dx = -q(p),   dp/dx = -g Q^1.852 - slope,   Q(L) = 0,   p(0) = inlet pressure,
 *
 * which GSL integrates from the end, where it looks for the pressure that gives the inlet's.
 * The program's figures at ever closer spacing must come to the same, and so must those of the
 * second opinion (reference.h) that the program is held against elsewhere. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <gsl/gsl_roots.h>

#include <cmocka.h>

#include "../trust/trust.h"
#include "evenrow/check.h"
#include "reference.h"

static const double AGREEMENT = 1e-7; /* relative */
static const double C = 140;          /* Hazen-Williams */
static const double SECONDS_PER_HOUR = 3600;
enum { SPACINGS = 8 };                     /* each half of the one before */
static const size_t FEWEST_EMITTERS = 100; /* at the widest spacing */

/* A tape, told without its emitters. */
struct line {
    const char *what;
    double flow_per_length; /* L/h per m at nominal pressure */
    double at_pressure;     /* m */
    double exponent;        /* ER_NONE: compensating from at_pressure to holds_to */
    double holds_to;        /* m */
    double slope;           /* m per m */
    double inside_diameter; /* m */
    double length;          /* m */
    double inlet_pressure;  /* m */
};

static const struct line LINES[] = {
    {"level, exponent 0.5", 2, 7, 0.5, ER_NONE, 0, 0.0161, 200, 8},
    {"uphill, exponent 0.5", 2, 7, 0.5, ER_NONE, 0.01, 0.0161, 200, 10},
    {"downhill, exponent 0.5", 2, 7, 0.5, ER_NONE, -0.02, 0.0161, 200, 7},
    {"level, exponent 0.8", 3, 5.6, 0.8, ER_NONE, 0, 0.0161, 150, 9},
    {"uphill, exponent 1", 1, 7, 1, ER_NONE, 0.005, 0.0161, 200, 9},
    {"level, exponent 0.1", 3, 7, 0.1, ER_NONE, 0, 0.0161, 180, 12},
    {"level, steep loss", 2, 7, 0.5, ER_NONE, 0, 0.0161, 330, 14},
    {"level, compensating", 3, 4, ER_NONE, 30, 0, 0.0161, 150, 14},
};
enum { LINE_COUNT = sizeof(LINES) / sizeof(LINES[0]) };

struct line_figures {
    double flow;         /* m3/s into the line */
    double end_pressure; /* m, at the line's very end */
};

/* L/h per m to m2/s. */
static double nominal_per_length(const struct line *line)
{
    return line->flow_per_length * 1e-3 / SECONDS_PER_HOUR;
}

static double flow_per_length_at(const struct line *line, double pressure)
{
    if (pressure <= 0) {
        return 0;
    }
    double exponent = isnan(line->exponent) ? 0 : line->exponent;
    return nominal_per_length(line) * pow(pressure / line->at_pressure, exponent);
}

/* y: flow and pressure at the distance x from the far end, so that both signs turn. */
static int line_equations(double x, const double y[], double dy[], void *context)
{
    (void)x;
    const struct line *line = context;
    double gradient = 10.67 / (pow(C, 1.852) * pow(line->inside_diameter, 4.8704));
    dy[0] = flow_per_length_at(line, y[1]);
    dy[1] = gradient * pow(fmax(0, y[0]), 1.852) + line->slope;
    return GSL_SUCCESS;
}

/* Flow and pressure at the inlet for a pressure at the end. */
static void integrate(const struct line *line, double end_pressure, double at_inlet[2])
{
    struct line copy = *line;
    gsl_odeiv2_system system = {line_equations, NULL, 2, &copy};
    const double scales[2] = {nominal_per_length(line) * line->length, line->at_pressure};
    gsl_odeiv2_driver *driver = gsl_odeiv2_driver_alloc_scaled_new(
        &system, gsl_odeiv2_step_rk8pd, 1e-3, 1e-14, 1e-13, 1, 0, scales);
    assert_non_null(driver);
    double x = 0;
    at_inlet[0] = 0;
    at_inlet[1] = end_pressure;
    assert_int_equal(gsl_odeiv2_driver_apply(driver, &x, line->length, at_inlet), GSL_SUCCESS);
    gsl_odeiv2_driver_free(driver);
}

static double inlet_missed_by(double end_pressure, void *context)
{
    const struct line *line = context;
    double at_inlet[2];
    integrate(line, end_pressure, at_inlet);
    return at_inlet[1] - line->inlet_pressure;
}

/* The end's pressure lies above 0 in every line here, and not above the inlet's and the fall. */
static struct line_figures continuous(const struct line *line)
{
    struct line copy = *line;
    gsl_function missed = {inlet_missed_by, &copy};
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    assert_non_null(solver);
    double highest = line->inlet_pressure + fmax(0, -line->slope * line->length);
    assert_int_equal(gsl_root_fsolver_set(solver, &missed, 1e-3, highest), GSL_SUCCESS);
    int status = GSL_CONTINUE;
    for (int pass = 0; pass < 200 && status == GSL_CONTINUE; pass++) {
        assert_int_equal(gsl_root_fsolver_iterate(solver), GSL_SUCCESS);
        status = gsl_root_test_interval(gsl_root_fsolver_x_lower(solver),
                                        gsl_root_fsolver_x_upper(solver), 0, 1e-13);
    }
    assert_int_equal(status, GSL_SUCCESS);
    double at_inlet[2], end = gsl_root_fsolver_root(solver);
    integrate(line, end, at_inlet);
    gsl_root_fsolver_free(solver);
    return (struct line_figures){at_inlet[0], end};
}

static struct er_tape tape_of(const struct line *line, double spacing)
{
    bool compensating = isnan(line->exponent);
    return (struct er_tape){
        .name = "tape",
        .emitter_flow = nominal_per_length(line) * spacing,
        .at_pressure = compensating ? ER_NONE : line->at_pressure,
        .exponent = line->exponent,
        .holds_from = compensating ? line->at_pressure : ER_NONE,
        .holds_to = line->holds_to,
        .emitter_spacing = spacing,
        .inside_diameter = line->inside_diameter,
        .c = C,
        .cv = 0.03,
        .min_pressure = 1,
        .max_pressure = 50,
        .wall = ER_NONE,
        .roll_length = ER_NONE,
        .roll_price = ER_NONE,
    };
}

/* A solver of fields: the flow and the far end's pressure of the field's only zone. */
typedef struct line_figures solver_of(const struct er_field *field, size_t emitters);

static struct line_figures by_program(const struct er_field *field, size_t emitters)
{
    struct er_result result;
    struct er_failure failure;
    assert_int_equal(er_check(field, ER_METRIC, &result, &failure), ER_OK);
    assert_true(result.zones[0].emitters == (double)emitters);
    struct line_figures figures = {result.zones[0].flow, result.zones[0].far_end_pressure};
    er_result_release(&result);
    return figures;
}

/* The second opinion is judged here in its turn. */
static struct line_figures by_reference(const struct er_field *field, size_t emitters)
{
    struct reference reference;
    assert_true(reference_solve(field, &reference));
    assert_int_equal(reference.zones[0].emitter_count, emitters);
    struct line_figures figures = {reference.zones[0].flow, reference.zones[0].far_end_pressure};
    reference_release(&reference);
    return figures;
}

/* The line's figures with `emitters` emitters: one bed at the feed point, so that nothing lies
 * between source and tape. */
static struct line_figures with_emitters(const struct line *line, size_t emitters,
                                         solver_of *solver)
{
    double spacing = line->length / (double)emitters;
    const struct er_tape tape = tape_of(line, spacing);
    const struct er_pipe pipe = {.name = "pipe",
                                 .inside_diameter = 0.05,
                                 .c = 150,
                                 .max_pressure = ER_NONE,
                                 .price = ER_NONE};
    const struct er_header_piece piece = {&pipe, ER_ENDLESS};
    const struct er_bed_group group = {.count = 1,
                                       .length = line->length,
                                       .last_length = line->length,
                                       .other_length = line->length,
                                       .spacing = 1.5,
                                       .tape = &tape,
                                       .tapes = 1,
                                       .rows = 1,
                                       .ground = {.slope = line->slope},
                                       .bed_width = 0.76,
                                       .plant_spacing = ER_NONE};
    const struct er_zone zone = {
        .name = "1",
        .on = ER_HEADWORKS,
        .header = {.piece_count = 1, .pieces = &piece},
        .group_count = 1,
        .groups = &group,
        .water = {.efficiency = ER_NONE, .every = 1, .wetted_width = ER_NONE}};
    const size_t first = 0;
    const struct er_set set = {1, &first};
    const struct er_field field = {
        .system = ER_METRIC,
        .source = {.pressure = line->inlet_pressure, .flow_limit = ER_NONE, .storage = ER_NONE},
        .zone_count = 1,
        .zones = &zone,
        .set_count = 1,
        .sets = &set,
        .hours = 20 * 3600,
        .limits = {0.85, 0.2, 1.5, 0.3}};
    struct line_figures figures = solver(&field, emitters);
    /* Behind the last emitter nothing flows: half a spacing of slope is all there is. */
    figures.end_pressure -= line->slope * spacing / 2;
    return figures;
}

/* The limit of values at steps that halve, of which the error falls as step^2, then as step^2.852
 * (where the flow at the end comes to 0) and step^3.852: each pass takes one away. */
static double extrapolated(const double *values, size_t count)
{
    static const double ORDERS[] = {2, 2.852, 3.852};
    double left[SPACINGS];
    for (size_t i = 0; i < count; i++) {
        left[i] = values[i];
    }
    for (size_t pass = 0; pass < sizeof(ORDERS) / sizeof(ORDERS[0]); pass++) {
        double gain = pow(2, ORDERS[pass]);
        for (size_t i = 0; i + 1 < count - pass; i++) {
            left[i] = (gain * left[i + 1] - left[i]) / (gain - 1);
        }
    }
    return left[count - 1 - sizeof(ORDERS) / sizeof(ORDERS[0])];
}

/* The error is second order: at half the spacing a fourth, until rounding is all that is left. */
static void assert_falls(const struct line *line, const char *figure, const double *values,
                         double limit)
{
    for (size_t i = 0; i + 1 < SPACINGS; i++) {
        double wide = fabs(values[i] / limit - 1), close = fabs(values[i + 1] / limit - 1);
        if (wide > 1e-8 && close > wide / 3) {
            fail_msg("%s: %s is off by %.3e, at half the spacing by %.3e", line->what, figure, wide,
                     close);
        }
    }
}

/* Returns how far the figures come to be off at spacing zero. */
static double assert_limit(const struct line *line, const char *figure, const double *values,
                           double limit)
{
    double reached = extrapolated(values, SPACINGS);
    print_message("%-24s %-12s widest %.2e, closest %.2e, extrapolated %.2e\n", line->what, figure,
                  values[0] / limit - 1, values[SPACINGS - 1] / limit - 1, reached / limit - 1);
    assert_falls(line, figure, values, limit);
    assert_true(fabs(reached / limit - 1) <= AGREEMENT);
    return fabs(reached / limit - 1);
}

/* *worst: the largest deviations so far. */
static void assert_line(const struct line *line, solver_of *solver, struct line_figures *worst)
{
    struct line_figures limit = continuous(line);
    double flows[SPACINGS], pressures[SPACINGS];
    assert_true(limit.end_pressure > 0.01 && limit.end_pressure < 100);
    for (size_t i = 0; i < SPACINGS; i++) {
        struct line_figures figures = with_emitters(line, FEWEST_EMITTERS << i, solver);
        flows[i] = figures.flow;
        pressures[i] = figures.end_pressure;
    }
    worst->flow = fmax(worst->flow, assert_limit(line, "flow", flows, limit.flow));
    worst->end_pressure = fmax(worst->end_pressure,
                               assert_limit(line, "end pressure", pressures, limit.end_pressure));
}

static void print_check(const char *name, double largest)
{
    struct trust_check check = {.set = "reference",
                                .subject = "Tape whose emitters come ever closer",
                                .name = name,
                                .kind = "computed",
                                .source = "differential equations of a pipe that leaks all along, "
                                          "integrated by the GNU Scientific Library "
                                          "(gsl_odeiv2, Prince-Dormand 8,9)",
                                .rows = LINE_COUNT,
                                .largest = largest,
                                .tolerance = AGREEMENT};
    trust_print(&check);
}

static void program_at_spacing_zero(void **state)
{
    struct line_figures worst = {0, 0};
    (void)state;
    for (size_t l = 0; l < LINE_COUNT; l++) {
        assert_line(&LINES[l], by_program, &worst);
    }
    print_check("flow into the tape", worst.flow);
    print_check("pressure at its end", worst.end_pressure);
}

static void reference_at_spacing_zero(void **state)
{
    struct line_figures worst = {0, 0};
    (void)state;
    for (size_t l = 0; l < LINE_COUNT; l++) {
        assert_line(&LINES[l], by_reference, &worst);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(program_at_spacing_zero),
        cmocka_unit_test(reference_at_spacing_zero),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
