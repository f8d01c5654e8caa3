/* What a source gives at a flow, and what a part on the way takes. */
#include "evenrow/hydraulics.h"

#include <math.h>

double er_part_loss(const struct er_part *part, double flow, bool dirty, double *slope)
{
    double loss = part->loss + (dirty ? part->dirty_loss : 0.0);
    if (!er_given(part->at_flow)) {
        *slope = 0.0;
        return loss;
    }
    double share = flow / part->at_flow;
    *slope = 2.0 * loss * share / part->at_flow;
    return loss * share * share;
}

/* A curve read at `flow`: before its first point straight from the head at no flow, or level
 * where that is not known; straight between points and on past the last along the last segment. */
static double curve_head(const struct er_source *source, double flow, double *slope)
{
    const struct er_point *points = source->curve;
    size_t count = source->curve_count;
    *slope = 0.0;
    if (flow < points[0].at) {
        if (er_source_first_flow(source) > 0.0) {
            return points[0].value;
        }
        *slope = (points[0].value - source->shutoff) / points[0].at;
        return source->shutoff + *slope * flow;
    }
    size_t end = 1;
    while (end + 1 < count && points[end].at < flow) {
        end++;
    }
    const struct er_point *from = &points[end - 1];
    const struct er_point *to = &points[end];
    *slope = (to->value - from->value) / (to->at - from->at);
    return from->value + *slope * (flow - from->at);
}

static double test_head(const struct er_source *source, double flow, double *slope)
{
    double fall = source->static_pressure - source->test_pressure;
    double share = flow / source->test_flow;
    *slope = -2.0 * fall * share / source->test_flow;
    return source->static_pressure - fall * share * share;
}

double er_suction_friction(const struct er_suction *suction, double flow, double *slope)
{
    *slope = 0.0;
    if (!suction->given || !suction->pipe || !(flow > 0.0)) {
        return 0.0;
    }
    double friction =
        er_friction_head(flow, suction->length, suction->pipe->c, suction->pipe->inside_diameter);
    *slope = ER_FRICTION_EXPONENT * friction / flow;
    return friction;
}

double er_source_pressure(const struct er_source *source, double flow, double *slope)
{
    double friction_slope;
    double head;
    switch (source->kind) {
    case ER_SOURCE_CURVE:
        return curve_head(source, flow, slope);
    case ER_SOURCE_TEST:
        return test_head(source, flow, slope);
    case ER_SOURCE_PUMP:
        head = curve_head(source, flow, slope) - source->lift -
               er_suction_friction(&source->suction, flow, &friction_slope);
        *slope -= friction_slope;
        return head;
    case ER_SOURCE_PRESSURE:
        break;
    }
    *slope = 0.0;
    return source->pressure;
}

double er_source_first_flow(const struct er_source *source)
{
    bool curve = source->kind == ER_SOURCE_CURVE || source->kind == ER_SOURCE_PUMP;
    /* A head at no flow under the first point's, such as 0, is not one. */
    return curve && !(source->shutoff >= source->curve[0].value) ? source->curve[0].at : 0.0;
}

double er_source_last_flow(const struct er_source *source)
{
    switch (source->kind) {
    case ER_SOURCE_CURVE:
    case ER_SOURCE_PUMP:
        return source->curve[source->curve_count - 1].at;
    case ER_SOURCE_TEST:
        return source->test_flow;
    case ER_SOURCE_PRESSURE:
        break;
    }
    return ER_ENDLESS;
}
