/* Velocity at the end of a flushed tape. The tape is so long that, its emitters giving next to
 * nothing, the row's flow loses all of the inlet's pressure on the way to the open end. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "evenrow/hydraulics.h"
#include "published.h"

#define C_OF_TAPE 140.0
#define INLET 10.0 /* psi */

static double flush_velocity(const struct published_row *row, const char *figure)
{
    double inches = row_number(row, "inside_diameter_in");
    double flow = er_to_si(ER_FLOW, ER_US, row_number(row, "gpm"));
    double diameter = er_to_si(ER_SMALL_LENGTH, ER_US, inches);
    double length =
        er_to_si(ER_PRESSURE, ER_US, INLET) / er_friction_head(flow, 1.0, C_OF_TAPE, diameter);
    struct plan plan;
    (void)figure;
    plan_read(&plan,
              "{\"units\": \"us\", \"source\": {\"pressure\": %.15g},"
              " \"tapes\": {\"t\": {\"emitter_flow\": 2e-5, \"at_pressure\": 8, \"c\": %.15g,"
              "  \"emitter_spacing\": 3000, \"inside_diameter\": %.15g}},"
              " \"zones\": [{\"name\": \"1\", \"header\": {\"pipe\": {\"inside_diameter\": 20}},"
              "  \"beds\": [{\"count\": 1, \"length\": %.15g, \"spacing\": 6, \"tape\": \"t\"}]}]}",
              INLET, C_OF_TAPE, inches, er_from_si(ER_LENGTH, ER_US, length));
    double velocity = plan_solve(&plan)->flush_velocity;
    plan_release(&plan);
    return er_from_si(ER_VELOCITY, ER_US, velocity);
}

int main(void)
{
    static const struct published_group groups[] = {
        {"printed flow", 2, flush_velocity},
        {"exact flow", 2, flush_velocity},
    };
    return published_main("flushing.json", groups, sizeof groups / sizeof *groups);
}
