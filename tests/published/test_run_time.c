/* Run times, volumes and lengths to the acre, flow of tape: all of level compensating tape on
 * pipes so wide that every emitter gives its nominal flow. */
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

struct bed {
    double length, spacing; /* ft */
    double width;           /* in */
    double tapes;
    double emitter_spacing; /* in */
    const char *flow;       /* of the tape, JSON */
    const char *water;      /* JSON */
};

static void plan_bed(struct plan *plan, const struct bed *bed)
{
    plan_read(plan,
              "{\"units\": \"us\", \"source\": {\"pressure\": 10}, \"water\": %s,"
              " \"tapes\": {\"t\": {\"flow\": %s, \"holds_from\": 1, \"emitter_spacing\": %.15g,"
              "  \"inside_diameter\": 4, \"cv\": 0.03}},"
              " \"zones\": [{\"name\": \"1\", \"header\": {\"pipe\": {\"inside_diameter\": 20}},"
              "  \"beds\": [{\"count\": 1, \"length\": %.15g, \"spacing\": %.15g, \"tape\": \"t\","
              "   \"tapes\": %.15g, \"bed_width\": %.15g}]}]}",
              bed->water, bed->flow, bed->emitter_spacing, bed->length, bed->spacing, bed->tapes,
              bed->width);
}

static const struct bed hundred_feet = {.length = 100.0,
                                        .spacing = 6.0,
                                        .width = 30.0,
                                        .tapes = 1.0,
                                        .emitter_spacing = 12.0,
                                        .flow = "0.5",
                                        .water = "{\"need\": 0.2}"};

/* One zone of the bed, solved; its figures outlive the plan. */
static struct er_zone_result solve_bed(const struct bed *bed)
{
    struct plan plan;
    plan_bed(&plan, bed);
    struct er_zone_result zone = *plan_solve(&plan);
    plan_release(&plan);
    return zone;
}

static double hours_per_inch(double seconds_per_metre)
{
    return er_from_si(ER_TIME, ER_US, seconds_per_metre * ER_INCH);
}

static double hours_on_bed(const struct published_row *row, const char *figure)
{
    char flow[64];
    struct bed bed = hundred_feet;
    (void)figure;
    snprintf(flow, sizeof flow, "\"%.15g gph/100ft\"", row_number(row, "gph_per_100ft"));
    bed.flow = flow;
    bed.emitter_spacing = row_number(row, "emitter_spacing_in");
    bed.width = row_number(row, "bed_width_in");
    return hours_per_inch(solve_bed(&bed).time_per_depth_bed);
}

static double hours_on_spacing(const struct published_row *row, const char *figure)
{
    char flow[64];
    struct bed bed = hundred_feet;
    (void)figure;
    snprintf(flow, sizeof flow, "%.15g", row_number(row, "gpm_per_100ft"));
    bed.flow = flow;
    bed.tapes = row_number(row, "tapes");
    bed.spacing = row_number(row, "spacing_ft");
    return hours_per_inch(solve_bed(&bed).time_per_depth_spacing);
}

static double gallons_in_unit(const struct published_row *row, const char *figure)
{
    char text[64];
    double volume;
    (void)figure;
    snprintf(text, sizeof text, "1 %s", row_text(row, "unit"));
    assert_int_equal(er_quantity_parse(text, ER_VOLUME, &volume), ER_QUANTITY_GOOD);
    return er_from_si(ER_VOLUME, ER_US, volume);
}

static double gpm_for_depth(const struct published_row *row, const char *figure)
{
    double area = er_to_si(ER_AREA, ER_US, row_number(row, "acres"));
    double depth = er_to_si(ER_DEPTH, ER_US, row_number(row, "inches"));
    double time = er_to_si(ER_TIME, ER_US, row_number(row, "hours"));
    (void)figure;
    return er_from_si(ER_FLOW, ER_US, area * depth / time);
}

static double gallons_on_area(const struct published_row *row, const char *figure)
{
    double foot = er_to_si(ER_LENGTH, ER_US, 1.0);
    double depth = er_to_si(ER_DEPTH, ER_US, row_number(row, "inches"));
    (void)figure;
    return er_from_si(ER_VOLUME, ER_US, row_number(row, "square_feet") * foot * foot * depth);
}

static double acres_under(double length, double spacing)
{
    struct bed bed = hundred_feet;
    bed.length = length;
    bed.spacing = spacing;
    return er_from_si(ER_AREA, ER_US, solve_bed(&bed).area);
}

static double feet_per_acre(const struct published_row *row, const char *figure)
{
    (void)figure;
    return 100.0 / acres_under(100.0, row_number(row, "spacing_ft"));
}

static double acres_of_film(const struct published_row *row, const char *figure)
{
    (void)figure;
    return acres_under(row_number(row, "roll_ft"), row_number(row, "spacing_ft"));
}

static double flow_of_tape(const struct published_row *row, const char *figure)
{
    char flow[64];
    struct bed bed = hundred_feet;
    (void)figure;
    snprintf(flow, sizeof flow, "%.15g", row_number(row, "gpm_per_100ft"));
    bed.flow = flow;
    bed.length = row_number(row, "feet");
    return er_from_si(ER_FLOW, ER_US, solve_bed(&bed).flow);
}

static double hours_a_day(const struct published_row *row, const char *figure)
{
    char water[128];
    struct bed bed = hundred_feet;
    (void)figure;
    snprintf(water, sizeof water,
             "{\"eto\": %.15g, \"kc\": 1, \"mulch_factor\": 0.8, \"efficiency\": 90}",
             row_number(row, "eto_in_per_day"));
    bed.water = water;
    return er_from_si(ER_TIME, ER_US, solve_bed(&bed).run_time);
}

/* A tape that gives the row's rate over its bed's spacing. */
static double minutes(const struct published_row *row, const char *figure)
{
    char flow[64], water[128];
    struct bed bed = hundred_feet;
    double rate = er_to_si(ER_DEPTH, ER_US, row_number(row, "inches_per_hour")) /
                  er_to_si(ER_TIME, ER_US, 1.0);
    double per_length = rate * er_to_si(ER_LENGTH, ER_US, bed.spacing);
    (void)figure;
    snprintf(flow, sizeof flow, "%.15g", er_from_si(ER_TAPE_FLOW, ER_US, per_length));
    snprintf(water, sizeof water, "{\"need\": %.15g, \"efficiency\": 100}",
             row_number(row, "inches"));
    bed.flow = flow;
    bed.water = water;
    return solve_bed(&bed).run_time / 60.0;
}

/* What the program takes where the plan names no efficiency and the tape is even enough. */
static double efficiency(const struct published_row *row, const char *figure)
{
    (void)row;
    (void)figure;
    return solve_bed(&hundred_feet).efficiency * 100.0;
}

int main(void)
{
    static const struct published_group groups[] = {
        {"hours for an inch on the bed", 7, hours_on_bed},
        {"hours for an inch over the spacing", 4, hours_on_spacing},
        {"gallons in an acre-inch", 1, gallons_in_unit},
        {"gallons in an acre-foot", 1, gallons_in_unit},
        {"flow of an acre-inch in an hour", 1, gpm_for_depth},
        {"gallons on a square foot", 1, gallons_on_area},
        {"bed feet per acre, as quoted", 2, feet_per_acre},
        {"bed feet per acre", 5, feet_per_acre},
        {"acres under a roll of film", 1, acres_of_film},
        {"flow of so much tape", 1, flow_of_tape},
        {"hours a day for half a gallon a minute", 5, hours_a_day},
        {"application efficiency", 1, efficiency},
        {"minutes for a depth", 1, minutes},
    };
    return published_main("run-time.json", groups, sizeof groups / sizeof *groups);
}
