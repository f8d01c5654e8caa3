/* The formulas of pipe, part, emitter and source, written apart from the program's. */
#include "reference_laws.h"

#include <math.h>

double reference_resistance(double length, double diameter, double c)
{
    return 10.67 * length / (pow(c, 1.852) * pow(diameter, 4.8704));
}

struct reference_value reference_friction(double resistance, double flow)
{
    double power = pow(fabs(flow), 0.852);
    return (struct reference_value){resistance * flow * power, 1.852 * resistance * power};
}

struct reference_value reference_part_loss(const struct er_part *part, double flow)
{
    if (!er_given(part->at_flow)) {
        return (struct reference_value){part->loss, 0};
    }
    double per_square = part->loss / (part->at_flow * part->at_flow);
    return (struct reference_value){per_square * flow * fabs(flow), 2 * per_square * fabs(flow)};
}

/* Straight between points, level before the first, the last segment going on. */
static struct reference_value curve_at(const struct er_point *curve, size_t count, double flow)
{
    if (flow <= curve[0].at) {
        return (struct reference_value){curve[0].value, 0};
    }
    size_t end = 1;
    while (end + 1 < count && flow > curve[end].at) {
        end++;
    }
    const struct er_point *from = &curve[end - 1], *to = &curve[end];
    double slope = (to->value - from->value) / (to->at - from->at);
    return (struct reference_value){from->value + slope * (flow - from->at), slope};
}

static struct reference_value test_at(const struct er_source *source, double flow)
{
    double drop = source->static_pressure - source->test_pressure;
    double per_square = drop / (source->test_flow * source->test_flow);
    return (struct reference_value){source->static_pressure - per_square * flow * fabs(flow),
                                    -2 * per_square * fabs(flow)};
}

static struct reference_value pump_at(const struct er_source *source, double flow)
{
    struct reference_value outlet = curve_at(source->curve, source->curve_count, flow);
    outlet.value -= source->lift;
    if (source->suction.given && source->suction.pipe) {
        const struct er_pipe *pipe = source->suction.pipe;
        double resistance =
            reference_resistance(source->suction.length, pipe->inside_diameter, pipe->c);
        struct reference_value friction = reference_friction(resistance, flow);
        outlet.value -= friction.value;
        outlet.slope -= friction.slope;
    }
    return outlet;
}

struct reference_value reference_source(const struct er_source *source, double flow)
{
    switch (source->kind) {
    case ER_SOURCE_CURVE:
        return curve_at(source->curve, source->curve_count, flow);
    case ER_SOURCE_TEST:
        return test_at(source, flow);
    case ER_SOURCE_PUMP:
        return pump_at(source, flow);
    case ER_SOURCE_PRESSURE:
        break;
    }
    return (struct reference_value){source->pressure, 0};
}

/* A point of an emitter's curve, pressure over its scale and flow over nominal, with the
 * curve's steepness d pressure / d flow there. */
struct curve_point {
    double pressure, flow, steepness;
};

/* The root flow of flow + flow^power = position, power >= 1. The left side is convex, so that
 * Newton's method comes down to the root from any start above it. */
static double root_of_sum(double position, double power)
{
    double flow = position < 1 ? position : pow(position, 1 / power);
    for (int pass = 0; pass < 200; pass++) {
        double step = (flow + pow(flow, power) - position) / (1 + power * pow(flow, power - 1));
        if (step <= 1e-16 * flow) {
            break;
        }
        flow -= step;
    }
    return flow;
}

/* flow = pressure^exponent. Whichever of the two is the better known from the sum gives the
 * other, so that the law between them holds to the last digit. */
static struct curve_point ordinary_at(double exponent, double position)
{
    struct curve_point point;
    point.flow = root_of_sum(position, 1 / exponent);
    if (position > 2) {
        point.pressure = position - point.flow;
        point.flow = pow(point.pressure, exponent);
    } else {
        point.pressure = pow(point.flow, 1 / exponent);
    }
    point.steepness = point.pressure / (exponent * point.flow);
    return point;
}

/* flow = (pressure / whole)^0.5, the root of flow + whole flow^2 = position. */
static struct curve_point root_law_at(double whole, double position)
{
    struct curve_point point;
    point.flow = 2 * position / (1 + sqrt(1 + 4 * whole * position));
    point.pressure = whole * point.flow * point.flow;
    point.steepness = 2 * whole * point.flow;
    return point;
}

/* Pressures over holds_from: up to 1 by the root law, level to `ceiling`, then by the root law
 * that starts from there. */
static struct curve_point compensating_at(double ceiling, double position)
{
    if (position < 2) {
        return root_law_at(1, position);
    }
    if (position <= 1 + ceiling) {
        return (struct curve_point){position - 1, 1, ER_ENDLESS};
    }
    return root_law_at(ceiling, position);
}

struct reference_emitter reference_emitter_at(const struct er_tape *tape, double position)
{
    bool compensating = er_given(tape->holds_from);
    double scale = compensating ? tape->holds_from : tape->at_pressure;
    if (position <= 0) {
        return (struct reference_emitter){{scale * position, scale}, {0, 0}};
    }
    struct curve_point point = compensating ? compensating_at(tape->holds_to / scale, position)
                                            : ordinary_at(tape->exponent, position);
    double flow_slope = 1 / (1 + point.steepness);
    return (struct reference_emitter){
        {scale * point.pressure, scale * (1 - flow_slope)},
        {tape->emitter_flow * point.flow, tape->emitter_flow * flow_slope},
    };
}
