/* A set solved: the responses are read to balance it, fresh walks are made at that answer,
 * and the two are brought together until they agree. */
#include "hydraulics/network.h"

#include <math.h>

#define PASSES_MAX 60 /* chosen: it ends what does not close, and nothing else */
/* Each a tenth of what it serves. CLOSED, of every pressure at the end, is what findings allow a
 * figure over its limit; AGREEMENT is of an outlet's flow, read against walked; WALK_TOLERANCE of
 * an inlet pressure, in the last pass. */
#define CLOSED 1e-9
#define AGREEMENT 1e-10
#define WALK_TOLERANCE 1e-11
#define FINER 0.1 /* times it, after a last pass that left a gap */
/* A response learns from few of the outlets that share it, while it is far off: from then on, or
 * from that pass on, every outlet is walked. Chosen for speed alone: what counts as solved they do
 * not touch, and with two samples, or no learning passes, the tests find the same. */
#define SAMPLES_A_PASS 6
#define LEARNING_PASSES 4
#define LEARNT 1e-3            /* disagreement from which on every outlet is walked */
#define NOTHING_TO_LEARN 1e-13 /* relative: no sum over a thousand emitters is known better */

struct pass {
    double tolerance; /* of the walks' inlet pressures */
    bool every_outlet;
    double disagreement; /* the worst, relative */
};

/* Walks one outlet's run at the inlet pressure that the balance gave it. */
static enum er_status walk_outlet(struct er_response *response, struct er_outlet *outlet,
                                  struct pass *pass)
{
    outlet->state = er_response_guess(response, outlet->inlet_pressure);
    enum er_status status =
        er_run_solve(&response->run, outlet->inlet_pressure, pass->tolerance, &outlet->state);
    if (status != ER_OK) {
        return status;
    }
    double slope;
    double read = er_response_flow(response, outlet->state.inlet_pressure, &slope);
    double walked = outlet->state.inlet_flow;
    /* A trickle's own digits hang on more than its flow matters: under a millionth of what the tape
     * is made for they are held against that. */
    double least = 1e-6 * (double)response->run.emitters * response->run.tape->emitter_flow;
    double scale = fmax(fmax(read, walked), least);
    double disagreement = scale > 0.0 ? fabs(read - walked) / scale : 0.0;
    pass->disagreement = fmax(pass->disagreement, disagreement);
    if (disagreement > NOTHING_TO_LEARN && walked > 0.0) {
        return er_response_learn(response, &outlet->state);
    }
    return ER_OK;
}

/* Whether this user of a response is among the few that are walked while it is learnt. */
static bool is_sampled(const struct er_response *response, size_t seen)
{
    size_t stride = (response->users + SAMPLES_A_PASS - 1) / SAMPLES_A_PASS;
    return seen % stride == 0 || seen + 1 == response->users;
}

static enum er_status walk_outlets(struct er_network *network, size_t *seen, struct pass *pass)
{
    pass->disagreement = 0.0;
    for (size_t r = 0; r < network->pool->count; r++) {
        seen[r] = 0;
    }
    for (size_t z = 0; z < network->zone_count; z++) {
        struct er_zone_network *zone = &network->zones[z];
        for (size_t o = 0; o < zone->outlet_count; o++) {
            struct er_outlet *outlet = &zone->outlets[o];
            struct er_response *response = &network->pool->responses[outlet->response];
            if (!pass->every_outlet && !is_sampled(response, seen[outlet->response]++)) {
                continue;
            }
            enum er_status status = walk_outlet(response, outlet, pass);
            if (status != ER_OK) {
                return status;
            }
        }
    }
    return ER_OK;
}

/* Takes the walked flows for the read ones and walks the headers once more with them: the
 * worst difference between a pressure and what friction and rise make of its neighbour's. */
static double arm_gap(const struct er_network *network, struct er_zone_network *zone,
                      struct er_arm *arm)
{
    double worst = 0.0;
    double pressure = arm->node_count ? arm->nodes[arm->node_count - 1].pressure : 0.0;
    arm->flow = 0.0;
    for (size_t n = arm->node_count; n-- > 0;) {
        struct er_node *node = &arm->nodes[n];
        worst = fmax(worst, fabs(node->pressure - pressure));
        for (size_t o = 0; o < node->outlet_count; o++) {
            struct er_outlet *outlet = &zone->outlets[node->first_outlet + o];
            outlet->flow = outlet->state.inlet_flow;
            worst = fmax(worst, fabs(er_outlet_gap(network, outlet, node->pressure)));
            arm->flow += outlet->tapes * outlet->flow;
        }
        node->reach_flow = arm->flow;
        pressure = node->pressure + node->reach_rise +
                   node->resistance * pow(arm->flow, ER_FRICTION_EXPONENT);
    }
    if (arm->node_count) {
        worst = fmax(worst, fabs(zone->inlet_pressure - pressure));
    }
    return worst;
}

static double closing_gap(struct er_network *network)
{
    double worst = 0.0;
    for (size_t z = 0; z < network->zone_count; z++) {
        struct er_zone_network *zone = &network->zones[z];
        double scale = fmax(1.0, fabs(zone->inlet_pressure));
        worst = fmax(worst, arm_gap(network, zone, &zone->arms[0]) / scale);
        worst = fmax(worst, arm_gap(network, zone, &zone->arms[1]) / scale);
        zone->flow = zone->arms[0].flow + zone->arms[1].flow;
    }
    er_supply_update(network);
    for (size_t z = 0; z < network->zone_count; z++) {
        const struct er_zone_network *zone = &network->zones[z];
        double scale = fmax(1.0, fabs(zone->inlet_pressure));
        worst = fmax(worst, fabs(zone->inlet_pressure - zone->way.left) / scale);
    }
    return worst;
}

static enum er_status solve_passes(struct er_network *network, size_t *seen)
{
    struct pass pass = {.disagreement = 1.0};
    double finest = WALK_TOLERANCE;
    for (size_t p = 1; p <= PASSES_MAX; p++) {
        pass.every_outlet = pass.every_outlet || pass.disagreement <= LEARNT || p > LEARNING_PASSES;
        /* Early walks only have to be finer than what they are to mend. */
        pass.tolerance = fmax(finest, 1e-2 * pass.disagreement);
        /* From here on one more pass as fine as it gets may be the last one. */
        if (pass.every_outlet && pass.disagreement < 1e-4) {
            pass.tolerance = finest;
        }
        er_balance(network);
        enum er_status status = walk_outlets(network, seen, &pass);
        network->failure.passes = p;
        network->failure.residual = pass.disagreement;
        network->failure.in_row = status == ER_NOT_CLOSED;
        if (status != ER_OK) {
            return status;
        }
        if (!pass.every_outlet || pass.disagreement > AGREEMENT || pass.tolerance > finest) {
            continue;
        }
        network->failure.residual = closing_gap(network);
        if (network->failure.residual <= CLOSED) {
            return ER_OK;
        }
        /* A source that falls off a cliff, or a part too small, turns a walk's last digits of
         * flow into thousands of times as much pressure. */
        finest *= FINER;
    }
    return ER_NOT_CLOSED;
}

enum er_status er_network_solve(struct er_network *network, bool dirty)
{
    network->dirty = dirty;
    size_t *seen = er_arena_array(&network->arena, network->pool->count, sizeof *seen);
    return seen ? solve_passes(network, seen) : ER_NO_MEMORY;
}
