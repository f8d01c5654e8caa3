/* Newton's steps for the pressure behind a tape's connector, its end open or closed. */
#include "visit/open_end.h"

#include <math.h>

#include "hydraulics/run.h"

#define STEPS 30
#define CLOSE 1e-9 /* m */

/* Sets flows for the inlet's pressure; returns d flow / d inlet pressure. */
static double take_at(const struct er_run *run, bool open, struct er_tape_intake *at)
{
    struct er_run_state state = {0};
    at->flow = 0.0;
    at->end_flow = 0.0;
    if (!(at->inlet_pressure > 0.0)) {
        return 0.0;
    }
    if (open) {
        (void)er_run_flush(run, at->inlet_pressure, &at->end_flow);
    }
    if (at->end_flow > 0.0) {
        state = er_run_walk_open(run, at->end_flow);
    } else if (er_run_solve(run, at->inlet_pressure, CLOSE, &state) != ER_OK) {
        return 0.0;
    }
    at->flow = state.inlet_flow;
    return state.flow_slope;
}

/* Newton's steps on the pressure behind the connector: the more passes it, the more it loses. */
struct er_tape_intake er_tape_intake_find(const struct er_run *run, const struct er_part *connector,
                                          double header_pressure, bool open)
{
    struct er_tape_intake at = {.inlet_pressure = header_pressure};
    double high = header_pressure;
    double low = 0.0;
    double slope = take_at(run, open, &at);
    for (int step = 0; connector != NULL && step < STEPS; step++) {
        double loss_slope;
        double left = header_pressure - er_part_loss(connector, at.flow, false, &loss_slope);
        bool held = er_given(connector->holds) && left > connector->holds;
        double off = at.inlet_pressure - (held ? connector->holds : left);
        if (fabs(off) <= CLOSE) {
            break;
        }
        *(off > 0.0 ? &high : &low) = at.inlet_pressure;
        double next = at.inlet_pressure - off / (1.0 + (held ? 0.0 : loss_slope * slope));
        at.inlet_pressure = next > low && next < high ? next : 0.5 * (low + high);
        slope = take_at(run, open, &at);
    }
    return at;
}
