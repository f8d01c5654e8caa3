/* Laterals whose first emitter stands a whole spacing from the inlet. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "evenrow/hydraulics.h"
#include "published.h"

static struct er_tape tape_common(const struct published_row *row)
{
    return (struct er_tape){.emitter_flow = row_number(row, "nominal_m3_s"),
                            .at_pressure = (double)NAN,
                            .exponent = (double)NAN,
                            .holds_from = (double)NAN,
                            .holds_to = (double)NAN,
                            .emitter_spacing = row_number(row, "spacing_m"),
                            .inside_diameter = row_number(row, "diameter_m"),
                            .c = row_number(row, "c")};
}

static struct er_tape tape_ordinary(const struct published_row *row)
{
    struct er_tape tape = tape_common(row);
    tape.at_pressure = row_number(row, "at_pressure_m");
    tape.exponent = row_number(row, "exponent");
    return tape;
}

static struct er_tape tape_compensating(const struct published_row *row)
{
    struct er_tape tape = tape_common(row);
    tape.holds_from = 1.0; /* m: under all pressures of the row */
    tape.holds_to = (double)INFINITY;
    return tape;
}

struct flows {
    double least, most, sum;
};

static void take_flow(void *context, size_t emitter, double pressure, double flow)
{
    struct flows *flows = context;
    (void)emitter;
    (void)pressure;
    flows->least = fmin(flows->least, flow);
    flows->most = fmax(flows->most, flow);
    flows->sum += flow;
}

/* A row's figure out of the tape solver alone. */
static double run_figure(const struct published_row *row, const char *figure,
                         const struct er_tape *tape)
{
    size_t emitters = (size_t)row_number(row, "emitters");
    struct er_run run = {.tape = tape,
                         .emitters = emitters,
                         .first_reach = tape->emitter_spacing,
                         .length = tape->emitter_spacing * (double)emitters,
                         .ground.slope = row_number(row, "slope")};
    double inlet = row_number(row, "inlet_m");
    struct er_run_state state = {0};
    assert_int_equal(er_run_solve(&run, inlet, 1e-12, &state), ER_OK);
    struct flows flows = {.least = (double)INFINITY, .most = 0.0, .sum = 0.0};
    er_run_visit(&run, &state, take_flow, &flows);
    double end_head = er_run_far_end_pressure(&run, &state);
    if (strcmp(figure, "end_head") == 0) {
        return end_head;
    }
    if (strcmp(figure, "lost") == 0) {
        return inlet - end_head;
    }
    if (strcmp(figure, "inflow") == 0) {
        return state.inlet_flow;
    }
    assert_string_equal(figure, "ratio");
    return flows.least / (flows.sum / (double)emitters);
}

static double ordinary(const struct published_row *row, const char *figure)
{
    struct er_tape tape = tape_ordinary(row);
    return run_figure(row, figure, &tape);
}

/* What the lateral would lose if its inflow left by equal outlets. */
static double lost_if_even(const struct published_row *row, const char *figure)
{
    struct er_tape even = tape_compensating(row);
    (void)figure;
    even.emitter_flow = ordinary(row, "inflow") / row_number(row, "emitters");
    return run_figure(row, "lost", &even);
}

static double error_of_even(const struct published_row *row, const char *figure)
{
    return (lost_if_even(row, figure) / ordinary(row, "lost") - 1.0) * 100.0;
}

static double ordinary_gpm(const struct published_row *row, const char *figure)
{
    return er_from_si(ER_FLOW, ER_US, ordinary(row, figure));
}

static double compensating(const struct published_row *row, const char *figure)
{
    struct er_tape tape = tape_compensating(row);
    return run_figure(row, figure, &tape);
}

static double compensating_litres(const struct published_row *row, const char *figure)
{
    return er_from_si(ER_EMITTER_FLOW, ER_METRIC, compensating(row, figure));
}

/* The same lateral as a whole field. There the first emitter stands at half a spacing; a lead
 * of the tape's own bore and slope, half a spacing long, makes the other half. */
static double field_figure(const struct published_row *row, const char *figure,
                           const char *pressures)
{
    double spacing = row_number(row, "spacing_m");
    double slope = row_number(row, "slope");
    double diameter = row_number(row, "diameter_m") * 1e3;
    double c = row_number(row, "c");
    struct plan plan;
    plan_read(&plan,
              "{\"units\": \"metric\", \"source\": {\"pressure\": \"%.15g m\"},"
              " \"tapes\": {\"t\": {\"emitter_flow\": %.15g, %s, \"emitter_spacing\": %.15g,"
              "  \"inside_diameter\": %.15g, \"c\": %.15g, \"cv\": 0.03}},"
              " \"zones\": [{\"name\": \"1\", \"rise\": %.15g,"
              "  \"header\": {\"pipe\": {\"inside_diameter\": %.15g, \"c\": %.15g},"
              "   \"lead\": %.15g},"
              "  \"beds\": [{\"count\": 1, \"length\": %.15g, \"spacing\": 1, \"tape\": \"t\","
              "   \"slope\": %.15g}]}]}",
              row_number(row, "inlet_m"), row_number(row, "nominal_m3_s") * 3.6e6, pressures,
              spacing * 1e3, diameter, c, slope * spacing / 2.0, diameter, c, spacing / 2.0,
              spacing * row_number(row, "emitters"), slope * 100.0);
    const struct er_zone_result *zone = plan_solve(&plan);
    double found =
        strcmp(figure, "uniformity") == 0 ? zone->emission_uniformity : zone->flow_variation;
    plan_release(&plan);
    return found * 100.0;
}

static double field_ordinary(const struct published_row *row, const char *figure)
{
    char pressures[128];
    int length =
        snprintf(pressures, sizeof pressures, "\"at_pressure\": \"%.15g m\", \"exponent\": %.15g",
                 row_number(row, "at_pressure_m"), row_number(row, "exponent"));
    assert_in_range(length, 1, sizeof pressures - 1);
    return field_figure(row, figure, pressures);
}

static double field_compensating(const struct published_row *row, const char *figure)
{
    return field_figure(row, figure, "\"holds_from\": \"1 m\"");
}

int main(void)
{
    static const struct published_group groups[] = {
        {"end head", 3, ordinary},
        {"head lost", 2, ordinary},
        {"inflow", 3, ordinary_gpm},
        {"lowest over mean flow", 3, ordinary},
        {"flow variation", 3, field_ordinary},
        {"emission uniformity", 3, field_ordinary},
        {"end head, compensating", 1, compensating},
        {"head lost, compensating", 1, compensating},
        {"inflow, compensating", 1, compensating_litres},
        {"lowest over mean flow, compensating", 1, compensating},
        {"flow variation, compensating", 1, field_compensating},
        {"emission uniformity, compensating", 1, field_compensating},
        {"head lost by an even outflow", 2, lost_if_even},
        {"even outflow against the real one", 2, error_of_even},
    };
    return published_main("laterals.json", groups, sizeof groups / sizeof *groups);
}
