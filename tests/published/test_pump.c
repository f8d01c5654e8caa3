/* Air pressure, vapour pressure, suction lift, and the head at a pump's inlet. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "evenrow/hydraulics.h"
#include "published.h"

static double barometric_feet(const struct published_row *row, const char *figure)
{
    double altitude = er_to_si(ER_LENGTH, ER_US, row_number(row, "altitude_ft"));
    (void)figure;
    return er_from_si(ER_HEAD, ER_US, er_barometric_head(altitude));
}

static double barometric_metres(const struct published_row *row, const char *figure)
{
    (void)figure;
    return er_barometric_head(row_number(row, "altitude_m"));
}

static double air_pressure(const struct published_row *row, const char *figure)
{
    return er_from_si(ER_PRESSURE, ER_METRIC, barometric_metres(row, figure));
}

static double vapour(const struct published_row *row)
{
    return er_vapour_head(er_to_si(ER_TEMPERATURE, ER_US, row_number(row, "temperature_f")));
}

static double vapour_pressure(const struct published_row *row, const char *figure)
{
    (void)figure;
    return er_from_si(ER_PRESSURE, ER_US, vapour(row));
}

static double vapour_feet(const struct published_row *row, const char *figure)
{
    (void)figure;
    return er_from_si(ER_HEAD, ER_US, vapour(row));
}

static double mean_saturation(const struct published_row *row, const char *figure)
{
    double warmest = er_vapour_head(row_number(row, "warmest_c"));
    double coolest = er_vapour_head(row_number(row, "coolest_c"));
    (void)figure;
    return er_from_si(ER_PRESSURE, ER_METRIC, (warmest + coolest) / 2.0);
}

static double suction_lift(const struct published_row *row, const char *figure)
{
    double altitude = er_to_si(ER_LENGTH, ER_US, row_number(row, "altitude_ft"));
    (void)figure;
    return er_from_si(ER_HEAD, ER_US, er_practical_suction_lift(altitude));
}

/* A pump below the water, with as much suction pipe as loses the row's friction at the flow of
 * 100 ft of compensating tape. */
static double inlet_head(const struct published_row *row, const char *figure)
{
    const double inches = 1.0, c = 150.0, gpm = 0.5;
    double friction = er_to_si(ER_HEAD, ER_US, row_number(row, "friction_ft"));
    double flow = er_to_si(ER_FLOW, ER_US, gpm);
    double diameter = er_to_si(ER_SMALL_LENGTH, ER_US, inches);
    double length = friction / er_friction_head(flow, 1.0, c, diameter);
    struct plan plan;
    (void)figure;
    plan_read(&plan,
              "{\"units\": \"us\", \"source\": {\"pump\": {\"curve\": [[0, 60], [5, 50]]},"
              "  \"suction\": {\"pipe\": {\"inside_diameter\": %.15g, \"c\": %.15g},"
              "   \"length\": %.15g, \"height\": %.15g, \"altitude\": %.15g,"
              "   \"temperature\": %.15g}},"
              " \"tapes\": {\"t\": {\"flow\": %.15g, \"holds_from\": 1, \"emitter_spacing\": 12,"
              "  \"inside_diameter\": 0.625}},"
              " \"zones\": [{\"name\": \"1\", \"header\": {\"pipe\": \"pvc40-1in\"},"
              "  \"beds\": [{\"count\": 1, \"length\": 100, \"spacing\": 6, \"tape\": \"t\"}]}]}",
              inches, c, er_from_si(ER_LENGTH, ER_US, length), -row_number(row, "flooded_ft"),
              row_number(row, "altitude_ft"), row_number(row, "temperature_f"), gpm);
    (void)plan_solve(&plan);
    double head = plan.result.suction.npsh_available;
    plan_release(&plan);
    return er_from_si(ER_HEAD, ER_US, head);
}

int main(void)
{
    static const struct published_group groups[] = {
        {"barometric head in feet", 10, barometric_feet},
        {"air pressure", 8, air_pressure},
        {"barometric head in metres", 7, barometric_metres},
        {"vapour pressure", 7, vapour_pressure},
        {"vapour head", 8, vapour_feet},
        {"mean saturation pressure", 1, mean_saturation},
        {"practical suction lift", 8, suction_lift},
        {"head at the inlet", 1, inlet_head},
    };
    return published_main("pump.json", groups, sizeof groups / sizeof *groups);
}
