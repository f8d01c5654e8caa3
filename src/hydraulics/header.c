/* The header of a zone: two arms from the feed point, each a pipe with outlets that is found
 * from its far end, just as a run of tape is (run.c). */
#include <math.h>

#include "hydraulics/closure.h"
#include "hydraulics/network.h"

/* Of the pressure. A connector closes within a walk along the arm, and the arm within the balance
 * of the set, whose tolerance is 1e-12: what closes inside must not be coarser than what asks it,
 * or the outer search meets steps instead of a slope. With 1e-9 for either, random fields of the
 * tests fail. */
#define ARM_TOLERANCE 1e-12
#define CONNECTOR_TOLERANCE 1e-13

struct connector_flow {
    const struct er_network *network;
    const struct er_outlet *outlet;
    double flow, flow_slope;
};

/* The pressure that a connector needs at its inlet for `pressure` behind it, not held. */
static double connector_inlet(void *context, double pressure, double *slope)
{
    struct connector_flow *at = context;
    const struct er_response *response = &at->network->pool->responses[at->outlet->response];
    double loss_slope;
    at->flow = er_response_flow(response, pressure, &at->flow_slope);
    double loss = er_part_loss(at->outlet->connector, at->flow, at->network->dirty, &loss_slope);
    *slope = 1.0 + loss_slope * at->flow_slope;
    return pressure + loss;
}

/* What one tape takes through its connector from `pressure` in the header. */
static double connected_flow(const struct er_network *network, struct er_outlet *outlet,
                             double pressure, double *flow_slope)
{
    const struct er_response *response = &network->pool->responses[outlet->response];
    struct connector_flow at = {.network = network, .outlet = outlet};
    double holds = outlet->connector->holds;
    double slope;
    if (er_given(holds) && connector_inlet(&at, holds, &slope) <= pressure) {
        outlet->inlet_pressure = holds;
        *flow_slope = 0.0;
        return at.flow;
    }
    double still_slope;
    double loss = er_part_loss(outlet->connector, 0.0, network->dirty, &still_slope);
    if (!(pressure - loss > response->dry_pressure)) {
        outlet->inlet_pressure = pressure - loss;
        *flow_slope = 0.0;
        return 0.0;
    }
    struct er_closure closure = {
        .function = connector_inlet,
        .context = &at,
        .wanted = pressure,
        .low = response->dry_pressure,
        .high = nextafter(pressure - loss, ER_ENDLESS),
        .guess = outlet->inlet_pressure,
        .tolerance = er_pressure_tolerance(CONNECTOR_TOLERANCE, pressure, response->dry_pressure)};
    (void)er_close(&closure, &outlet->inlet_pressure, NULL);
    (void)connector_inlet(&at, outlet->inlet_pressure, &slope);
    *flow_slope = at.flow_slope / slope;
    return at.flow;
}

double er_outlet_gap(const struct er_network *network, const struct er_outlet *outlet,
                     double node_pressure)
{
    if (!outlet->connector) {
        return outlet->inlet_pressure - node_pressure;
    }
    double slope;
    double behind =
        node_pressure - er_part_loss(outlet->connector, outlet->flow, network->dirty, &slope);
    if (er_given(outlet->connector->holds)) {
        behind = fmin(behind, outlet->connector->holds);
    }
    return outlet->inlet_pressure - behind;
}

/* Sets the outlets of a node for its pressure; returns what they take and its derivative. */
static double node_take(const struct er_network *network, struct er_zone_network *zone,
                        const struct er_node *node, double *slope)
{
    double flow = 0.0;
    *slope = 0.0;
    for (size_t o = 0; o < node->outlet_count; o++) {
        struct er_outlet *outlet = &zone->outlets[node->first_outlet + o];
        double outlet_slope;
        if (!(outlet->tapes > 0.0)) {
            continue;
        }
        if (outlet->connector) {
            outlet->flow = connected_flow(network, outlet, node->pressure, &outlet_slope);
        } else {
            outlet->inlet_pressure = node->pressure;
            outlet->flow = er_response_flow(&network->pool->responses[outlet->response],
                                            node->pressure, &outlet_slope);
        }
        flow += outlet->tapes * outlet->flow;
        *slope += outlet->tapes * outlet_slope;
    }
    return flow;
}

struct arm_walk {
    const struct er_network *network;
    struct er_zone_network *zone;
    struct er_arm *arm;
};

/* The feed point's pressure for a pressure at the arm's last bed: one walk along the header. */
static double feed_pressure(void *context, double far_pressure, double *slope)
{
    struct arm_walk *walk = context;
    double pressure = far_pressure;
    double pressure_slope = 1.0;
    double flow = 0.0;
    double flow_slope = 0.0;
    for (size_t n = walk->arm->reached; n-- > 0;) {
        struct er_node *node = &walk->arm->nodes[n];
        double take_slope;
        node->pressure = pressure;
        flow += node_take(walk->network, walk->zone, node, &take_slope);
        flow_slope += take_slope * pressure_slope;
        node->reach_flow = flow;
        if (flow > 0.0) {
            double loss = node->resistance * pow(flow, ER_FRICTION_EXPONENT);
            pressure += loss;
            pressure_slope += ER_FRICTION_EXPONENT * loss / flow * flow_slope;
        }
        pressure += node->reach_rise;
    }
    walk->arm->flow = flow;
    walk->arm->flow_slope = flow_slope / pressure_slope;
    *slope = pressure_slope;
    return pressure;
}

/* What the outermost reached node is left with is found as a number; below this it is none, as in a
 * run of tape. */
#define NO_PRESSURE 1e-280 /* m */

/* A header many times too long leaves its last beds less than any number: cuts the arm to
 * the nodes that `inlet_pressure` does reach, by halving. */
static void cut_arm(struct arm_walk *walk, double inlet_pressure)
{
    struct er_arm *arm = walk->arm;
    size_t enough = 1;
    size_t too_many = arm->node_count;
    while (too_many - enough > 1) {
        double slope;
        arm->reached = enough + (too_many - enough) / 2;
        if (feed_pressure(walk, NO_PRESSURE, &slope) <= inlet_pressure) {
            enough = arm->reached;
        } else {
            too_many = arm->reached;
        }
    }
    arm->reached = enough;
}

/* Beyond the nodes that water reaches it would stand level. */
static void set_beyond(const struct arm_walk *walk)
{
    struct er_arm *arm = walk->arm;
    const struct er_node *last = &arm->nodes[arm->reached - 1];
    for (size_t n = arm->reached; n < arm->node_count; n++) {
        double slope;
        arm->nodes[n].pressure = last->pressure + last->rise - arm->nodes[n].rise;
        arm->nodes[n].reach_flow = 0.0;
        (void)node_take(walk->network, walk->zone, &arm->nodes[n], &slope);
    }
}

static bool close_arm(struct arm_walk *walk, double inlet_pressure)
{
    const struct er_arm *arm = walk->arm;
    const struct er_node *last = &arm->nodes[arm->reached - 1];
    double far_pressure = inlet_pressure - last->rise;
    struct er_closure closure = {
        .function = feed_pressure,
        .context = walk,
        .wanted = inlet_pressure,
        .low = arm->dry_pressure - last->rise,
        .high = nextafter(far_pressure, ER_ENDLESS),
        .guess = last->pressure,
        .tolerance = er_pressure_tolerance(ARM_TOLERANCE, inlet_pressure, arm->dry_pressure)};
    return er_close(&closure, &far_pressure, NULL) == ER_OK || fabs(far_pressure) > NO_PRESSURE;
}

static void arm_respond(struct er_network *network, struct er_zone_network *zone,
                        struct er_arm *arm, double inlet_pressure)
{
    arm->flow = 0.0;
    arm->flow_slope = 0.0;
    if (arm->node_count == 0) {
        return;
    }
    struct arm_walk walk = {.network = network, .zone = zone, .arm = arm};
    arm->reached = arm->node_count;
    if (!(inlet_pressure > arm->dry_pressure)) {
        double slope;
        (void)feed_pressure(&walk, inlet_pressure - arm->nodes[arm->node_count - 1].rise, &slope);
    } else if (!close_arm(&walk, inlet_pressure)) {
        cut_arm(&walk, inlet_pressure);
        (void)close_arm(&walk, inlet_pressure);
        set_beyond(&walk);
    }
}

void er_zone_respond(struct er_network *network, struct er_zone_network *zone,
                     double inlet_pressure)
{
    zone->inlet_pressure = inlet_pressure;
    arm_respond(network, zone, &zone->arms[0], inlet_pressure);
    arm_respond(network, zone, &zone->arms[1], inlet_pressure);
    zone->flow = zone->arms[0].flow + zone->arms[1].flow;
    zone->flow_slope = zone->arms[0].flow_slope + zone->arms[1].flow_slope;
}
