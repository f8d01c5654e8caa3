/* Power that lifts water, and what a plan asks of the shaft of its pump. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "evenrow/demand.h"
#include "published.h"

static double water_horsepower(const struct published_row *row, const char *figure)
{
    double flow = er_to_si(ER_FLOW, ER_US, row_number(row, "gpm"));
    double head = er_to_si(ER_HEAD, ER_US, row_number(row, "feet"));
    (void)figure;
    return er_from_si(ER_POWER, ER_US, er_water_power(flow, head));
}

static double water_kilowatts(const struct published_row *row, const char *figure)
{
    double flow = 1e-3 * row_number(row, "litres_per_second");
    (void)figure;
    return er_from_si(ER_POWER, ER_METRIC, er_water_power(flow, row_number(row, "metres")));
}

/* Beds of compensating tape, each 1/2 gpm at any pressure, on a header so wide that it loses
 * nothing: the source has to give what the inlets are to have. */
static double brake_horsepower(const struct published_row *row, const char *figure)
{
    struct plan plan = {0};
    struct er_demand demand;
    struct er_failure failure;
    const struct er_demand_request request = {.inlet_pressure =
                                                  er_to_si(ER_HEAD, ER_US, row_number(row, "feet")),
                                              .efficiency = row_number(row, "efficiency")};
    (void)figure;
    plan_read(&plan,
              "{\"units\": \"us\", \"source\": {\"pressure\": 1},"
              " \"tapes\": {\"t\": {\"flow\": 0.5, \"holds_from\": 1, \"emitter_spacing\": 12,"
              "  \"inside_diameter\": 2}},"
              " \"zones\": [{\"name\": \"1\", \"header\": {\"pipe\": {\"inside_diameter\": 400}},"
              "  \"beds\": [{\"count\": %.0f, \"length\": 100, \"spacing\": 6,"
              "  \"tape\": \"t\"}]}]}",
              2.0 * row_number(row, "gpm"));
    assert_int_equal(er_demand_find(&plan.field, &request, ER_US, &demand, &failure), ER_OK);
    double power = demand.sets[0].brake_power;
    er_demand_release(&demand);
    plan_release(&plan);
    return er_from_si(ER_POWER, ER_US, power);
}

int main(void)
{
    static const struct published_group groups[] = {
        {"water horsepower", 5, water_horsepower},
        {"water horsepower, heavier water", 2, water_horsepower},
        {"water power in kilowatts", 3, water_kilowatts},
        {"brake horsepower of a plan", 3, brake_horsepower},
    };
    return published_main("power.json", groups, sizeof groups / sizeof *groups);
}
