/* Emission uniformity, flow variation, and the spread of flows along a level line. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "evenrow/hydraulics.h"
#include "evenrow/visit.h"
#include "published.h"

#define INLET 10.0 /* m */

/* Two tapes of one emitter each on pipes so wide that nothing is lost, the second tape so much
 * higher that its pressure is `share` of the first's 10 m. */
static void two_emitters(struct plan *plan, const char *emitter, double share, double cv,
                         double emitters_per_plant)
{
    plan_read(plan,
              "{\"units\": \"metric\", \"source\": {\"pressure\": \"%.15g m\"},"
              " \"tapes\": {\"t\": {\"emitter_flow\": 1, %s, \"emitter_spacing\": 300,"
              "  \"inside_diameter\": 200, \"cv\": %.15g}},"
              " \"zones\": [{\"name\": \"1\","
              "  \"header\": {\"pipe\": {\"inside_diameter\": 500}, \"slope\": %.15g},"
              "  \"beds\": [{\"count\": 2, \"length\": 0.3, \"spacing\": 10, \"tape\": \"t\","
              "   \"plant_spacing\": %.15g}]}]}",
              INLET, emitter, cv, (1.0 - share) * INLET / 10.0 * 100.0, 300.0 * emitters_per_plant);
}

/* With x = 1 flows are as pressures are: lowest over mean is 2 s / (1 + s) for a share s. */
static double emission_uniformity(const struct published_row *row, const char *figure)
{
    double ratio = row_number(row, "lowest_over_mean");
    struct plan plan;
    (void)figure;
    two_emitters(&plan, "\"at_pressure\": 70, \"exponent\": 1", ratio / (2.0 - ratio),
                 row_number(row, "cv"), row_number(row, "emitters_per_plant"));
    double found = plan_solve(&plan)->emission_uniformity;
    plan_release(&plan);
    return found * 100.0;
}

static double variation_of(const struct published_row *row, const char *emitter)
{
    struct plan plan;
    two_emitters(&plan, emitter, 1.0 - row_number(row, "pressure_variation") / 100.0, 0.03, 1.0);
    double found = plan_solve(&plan)->flow_variation;
    plan_release(&plan);
    return found * 100.0;
}

static double flow_variation(const struct published_row *row, const char *figure)
{
    char emitter[64];
    (void)figure;
    int length = snprintf(emitter, sizeof emitter, "\"at_pressure\": 70, \"exponent\": %.15g",
                          row_number(row, "exponent"));
    assert_in_range(length, 1, sizeof emitter - 1);
    return variation_of(row, emitter);
}

static double compensating_variation(const struct published_row *row, const char *figure)
{
    (void)figure;
    return variation_of(row, "\"holds_from\": \"1 m\"");
}

struct line {
    double head_drop, flow_variation, variation, christiansen, lowest_over_mean;
};

/* A level line of 500 emitters with x = 0.5, without variation of manufacture. */
static struct line solve_line(double diameter)
{
    struct plan plan;
    plan_read(&plan,
              "{\"units\": \"metric\", \"source\": {\"pressure\": \"%.15g m\"},"
              " \"tapes\": {\"t\": {\"emitter_flow\": 1, \"at_pressure\": 70,"
              "  \"emitter_spacing\": 300, \"inside_diameter\": %.15g, \"cv\": 0}},"
              " \"zones\": [{\"name\": \"1\", \"header\": {\"pipe\": {\"inside_diameter\": 50}},"
              "  \"beds\": [{\"count\": 1, \"length\": 150, \"spacing\": 1, \"tape\": \"t\"}]}]}",
              INLET, diameter);
    const struct er_zone_result *zone = plan_solve(&plan);
    struct line line = {.head_drop = 1.0 - zone->far_end_pressure / INLET,
                        .flow_variation = zone->flow_variation,
                        .variation = 1.0 - zone->statistical_uniformity,
                        .christiansen = zone->christiansen,
                        .lowest_over_mean = zone->emitter_flow.min / zone->mean_emitter_flow};
    plan_release(&plan);
    return line;
}

/* The line whose head drop, or else flow variation, is `wanted`: found by the tape's bore. */
static struct line find_line(double wanted, bool by_head_drop)
{
    double narrow = 5.0, wide = 50.0; /* mm */
    struct line line = {0};
    for (int halving = 0; halving < 50; halving++) {
        double middle = (narrow + wide) / 2.0;
        line = solve_line(middle);
        if ((by_head_drop ? line.head_drop : line.flow_variation) > wanted) {
            narrow = middle;
        } else {
            wide = middle;
        }
    }
    assert_true(fabs((by_head_drop ? line.head_drop : line.flow_variation) - wanted) < 1e-9);
    return line;
}

static double line_figure(const struct line *line, const char *figure)
{
    if (strcmp(figure, "flow_variation") == 0) {
        return line->flow_variation * 100.0;
    }
    if (strcmp(figure, "variation") == 0) {
        return line->variation * 100.0;
    }
    if (strcmp(figure, "christiansen") == 0) {
        return line->christiansen * 100.0;
    }
    assert_string_equal(figure, "lowest_over_mean");
    return line->lowest_over_mean;
}

static double by_head_drop(const struct published_row *row, const char *figure)
{
    struct line line = find_line(row_number(row, "head_drop_percent") / 100.0, true);
    return line_figure(&line, figure);
}

static double by_flow_variation(const struct published_row *row, const char *figure)
{
    struct line line = find_line(row_number(row, "flow_variation") / 100.0, false);
    return line_figure(&line, figure);
}

#define MOST_TIMES 64
#define CONTAINER 1e-4 /* m3; any will do */

/* Evaluates the row's fill times. */
static double evaluated(const struct published_row *row, const char *figure)
{
    double times[MOST_TIMES];
    double flows[MOST_TIMES];
    size_t count = 0;
    char *end;
    for (const char *at = row_text(row, "times"); count < MOST_TIMES; at = end) {
        times[count] = strtod(at, &end);
        if (end == at) {
            break;
        }
        flows[count] = CONTAINER / times[count];
        count++;
    }
    struct er_catch catch;
    assert_int_equal(er_catch_evaluate(flows, times, count, &catch), ER_OK);
    if (strcmp(figure, "mean_time") == 0) {
        return catch.mean_time;
    }
    if (strcmp(figure, "sixth_low") == 0) {
        return catch.sixth_low;
    }
    if (strcmp(figure, "sixth_high") == 0) {
        return catch.sixth_high;
    }
    if (strcmp(figure, "statistical") == 0) {
        return 100.0 * catch.statistical;
    }
    return 100.0 *
           (strcmp(figure, "low_quarter") == 0 ? catch.low_quarter : catch.statistical_of_sixths);
}

int main(void)
{
    static const struct published_group groups[] = {
        {"emission uniformity", 6, emission_uniformity},
        {"flow variation for a pressure variation", 12, flow_variation},
        {"pressure variation for 10 percent", 4, flow_variation},
        {"flow variation of compensating emitters", 3, compensating_variation},
        {"level line", 6, by_head_drop},
        {"level line, energy line of even outflow", 6, by_head_drop},
        {"level line, lowest over mean flow", 1, by_head_drop},
        {"coefficient of variation of a level line", 2, by_flow_variation},
        {"Christiansen coefficient of a level line", 2, by_flow_variation},
        {"field evaluation, sums of times", 3, evaluated},
        {"field evaluation, uniformity", 3, evaluated},
    };
    return published_main("uniformity.json", groups, sizeof groups / sizeof *groups);
}
