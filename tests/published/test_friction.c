/* Friction and velocity in pipes. */
#include <math.h>

#include "evenrow/hydraulics.h"
#include "evenrow/units.h"
#include "published.h"

#define C_OF_PVC 150.0

static double velocity(const struct published_row *row, const char *figure)
{
    double flow = er_to_si(ER_FLOW, ER_US, row_number(row, "gpm"));
    double diameter = er_to_si(ER_SMALL_LENGTH, ER_US, row_number(row, "inside_diameter_in"));
    (void)figure;
    return er_from_si(ER_VELOCITY, ER_US, flow / er_pipe_area(diameter));
}

static double loss(const struct published_row *row, const char *figure)
{
    double flow = er_to_si(ER_FLOW, ER_US, row_number(row, "gpm"));
    double diameter = er_to_si(ER_SMALL_LENGTH, ER_US, row_number(row, "inside_diameter_in"));
    double length = er_to_si(ER_LENGTH, ER_US, 100.0);
    (void)figure;
    return er_from_si(ER_PRESSURE, ER_US, er_friction_head(flow, length, C_OF_PVC, diameter));
}

static double head(const struct published_row *row, const char *figure)
{
    (void)figure;
    return er_from_si(ER_HEAD, ER_US, er_to_si(ER_PRESSURE, ER_US, row_number(row, "psi")));
}

static double valve_loss(const struct published_row *row, const char *figure)
{
    struct er_part valve = {.loss = er_to_si(ER_PRESSURE, ER_US, 1.0),
                            .at_flow = er_to_si(ER_FLOW, ER_US, row_number(row, "valve_cv")),
                            .holds = (double)NAN,
                            .min_flow = (double)NAN,
                            .max_flow = (double)NAN,
                            .max_pressure = (double)NAN};
    double flow = er_to_si(ER_FLOW, ER_US, row_number(row, "gpm"));
    double slope;
    (void)figure;
    return er_from_si(ER_PRESSURE, ER_US, er_part_loss(&valve, flow, false, &slope));
}

int main(void)
{
    static const struct published_group groups[] = {
        {"velocity", 31, velocity},          {"velocity over 10 ft/s", 1, velocity},
        {"velocity in 1/2 in", 8, velocity}, {"loss of 0.3 psi or more", 25, loss},
        {"loss under 0.3 psi", 11, loss},    {"row of equal friction", 5, loss},
        {"head of one psi", 1, head},        {"loss of a valve of known Cv", 5, valve_loss},
    };
    return published_main("friction.json", groups, sizeof groups / sizeof *groups);
}
