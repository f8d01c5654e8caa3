/* How long level rows may be. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "evenrow/reach.h"
#include "published.h"

/* A plan whose one bed has the tape of the row, with every default of a field file. */
static double longest_row(const struct published_row *row, const char *figure)
{
    struct plan plan = {0};
    struct er_reach reach;
    (void)figure;
    plan_read(&plan,
              "{\"units\": \"us\", \"source\": {\"pressure\": 10},"
              " \"tapes\": {\"t\": {\"flow\": %.15g, \"at_pressure\": 8,"
              "  \"emitter_spacing\": %.15g, \"inside_diameter\": %.15g}},"
              " \"zones\": [{\"name\": \"1\", \"header\": {\"pipe\": {\"inside_diameter\": 2}},"
              "  \"beds\": [{\"count\": 1, \"length\": 100, \"spacing\": 6, \"tape\": \"t\"}]}]}",
              row_number(row, "gpm_per_100ft"), row_number(row, "emitter_spacing_in"),
              row_number(row, "inside_diameter_in"));
    const struct er_reach_limits limits = {.uniformity = row_number(row, "uniformity") / 100.0,
                                           .flow_variation = ER_NONE,
                                           .emitters_per_plant = 1.0,
                                           .longest = er_to_si(ER_LENGTH, ER_US, 2500.0)};
    assert_int_equal(er_reach_find(plan.field.zones[0].groups[0].tape, 0.0,
                                   er_to_si(ER_PRESSURE, ER_US, row_number(row, "inlet_psi")),
                                   &limits, &reach),
                     ER_OK);
    assert_int_equal(reach.bound, ER_REACH_UNIFORMITY_LOW);
    plan_release(&plan);
    return er_from_si(ER_LENGTH, ER_US, reach.length);
}

int main(void)
{
    static const struct published_group groups[] = {
        {"level rows of usual tape", 6, longest_row},
    };
    return published_main("reach.json", groups, sizeof groups / sizeof *groups);
}
