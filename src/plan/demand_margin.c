/* How a solved network stands: what its inlets and its regulators have over what they need. */
#include <math.h>

#include "plan/demand_search.h"

double er_demand_wanted(const struct er_tape *tape, double inlet_pressure)
{
    if (er_given(inlet_pressure)) {
        return inlet_pressure;
    }
    return er_given(tape->at_pressure) ? tape->at_pressure : tape->holds_from;
}

/* Of headworks parts first, then of each zone an inlet, a valve, a regulator, a connector: its
 * outlets are left out all or none. */
#define KINDS_OF_A_ZONE 4

size_t er_place_count(const struct er_field *field)
{
    return field->headworks_count + KINDS_OF_A_ZONE * field->zone_count;
}

size_t er_place_index(const struct er_field *field, const struct er_demand_place *place)
{
    static const size_t within[] = {[ER_DEMAND_INLET] = 0,
                                    [ER_DEMAND_VALVE] = 1,
                                    [ER_DEMAND_REGULATOR] = 2,
                                    [ER_DEMAND_CONNECTOR] = 3};
    if (place->kind == ER_DEMAND_HEADWORKS) {
        return place->part;
    }
    return field->headworks_count + KINDS_OF_A_ZONE * place->zone + within[place->kind];
}

/* Where a zone of the network stands in the field. */
static size_t zone_index(const struct er_network *network, const struct er_zone_network *zone)
{
    return (size_t)(zone->zone - network->field->zones);
}

/* A part as it stands in the network, or none. */
struct stand {
    const struct er_part *part; /* NULL: none there */
    double inlet, flow;
    struct er_demand_place place;
};

static struct stand headworks_part(const struct er_network *network, size_t part)
{
    return (struct stand){.part = &network->field->headworks[part],
                          .inlet = network->part_inlets[part],
                          .flow = network->flow,
                          .place = {ER_DEMAND_HEADWORKS, part, 0, 0}};
}

static struct stand zone_valve(const struct er_zone_network *zone, size_t index)
{
    return (struct stand){.part = zone->zone->valve,
                          .inlet = zone->way.valve_inlet,
                          .flow = zone->flow,
                          .place = {ER_DEMAND_VALVE, 0, index, 0}};
}

static struct stand zone_regulator(const struct er_zone_network *zone, size_t index)
{
    return (struct stand){.part = zone->zone->regulator,
                          .inlet = zone->way.regulator_inlet,
                          .flow = zone->flow,
                          .place = {ER_DEMAND_REGULATOR, 0, index, 0}};
}

static struct stand connector(const struct er_node *node, const struct er_outlet *outlet,
                              size_t index)
{
    return (struct stand){.part = outlet->connector,
                          .inlet = node->pressure,
                          .flow = outlet->flow,
                          .place = {ER_DEMAND_CONNECTOR, 0, index, outlet->bed}};
}

/* The margin of a part that holds a pressure; endless where there is no such part. */
static struct er_margin regulator_margin(const struct er_network *network, struct stand stand)
{
    struct er_margin margin = {.surplus = ER_ENDLESS, .place = stand.place};
    if (!stand.part || !er_given(stand.part->holds)) {
        return margin;
    }
    double slope;
    margin.pressure = stand.inlet - er_part_loss(stand.part, stand.flow, network->dirty, &slope);
    margin.wanted = stand.part->holds;
    margin.surplus = margin.pressure - margin.wanted;
    return margin;
}

/* The least margin so far. */
struct least {
    const struct er_network *network;
    double inlet_pressure;
    const bool *left_out;
    struct er_margin margin;
};

static void take(struct least *least, struct er_margin margin)
{
    if (margin.surplus < least->margin.surplus &&
        !least->left_out[er_place_index(least->network->field, &margin.place)]) {
        least->margin = margin;
    }
}

static void take_outlet(struct least *least, size_t zone, const struct er_node *node,
                        const struct er_outlet *outlet)
{
    struct er_margin margin = regulator_margin(least->network, connector(node, outlet, zone));
    margin.node = node;
    margin.outlet = outlet;
    take(least, margin);
    margin.pressure = outlet->inlet_pressure;
    margin.wanted = er_demand_wanted(outlet->group->tape, least->inlet_pressure);
    margin.surplus = margin.pressure - margin.wanted;
    margin.place.kind = ER_DEMAND_INLET;
    take(least, margin);
}

static void take_outlets(struct least *least, const struct er_zone_network *zone)
{
    for (int side = 0; side < 2; side++) {
        const struct er_arm *arm = &zone->arms[side];
        for (size_t n = 0; n < arm->node_count; n++) {
            const struct er_node *node = &arm->nodes[n];
            for (size_t o = 0; o < node->outlet_count; o++) {
                take_outlet(least, zone_index(least->network, zone), node,
                            &zone->outlets[node->first_outlet + o]);
            }
        }
    }
}

struct er_margin er_margin_least(const struct er_network *network, double inlet_pressure,
                                 const bool *left_out)
{
    struct least least = {network, inlet_pressure, left_out, {.surplus = ER_ENDLESS}};
    for (size_t p = 0; p < network->field->headworks_count; p++) {
        take(&least, regulator_margin(network, headworks_part(network, p)));
    }
    for (size_t z = 0; z < network->zone_count; z++) {
        const struct er_zone_network *zone = &network->zones[z];
        size_t index = zone_index(network, zone);
        take(&least, regulator_margin(network, zone_valve(zone, index)));
        take(&least, regulator_margin(network, zone_regulator(zone, index)));
        take_outlets(&least, zone);
    }
    return least.margin;
}

/* The last regulator passed that has more than it holds. */
struct holder {
    const struct er_network *network;
    const struct er_margin *before; /* the place that the way leads to */
    bool arrived;
    struct er_demand_place place;
    double holds;
};

static void pass(struct holder *holder, struct stand stand)
{
    const struct er_demand_place *end = &holder->before->place;
    holder->arrived =
        holder->arrived || (stand.place.kind == end->kind &&
                            (end->kind != ER_DEMAND_HEADWORKS || stand.place.part == end->part));
    struct er_margin margin = regulator_margin(holder->network, stand);
    if (holder->arrived || !(margin.surplus > 0.0) || isinf(margin.surplus)) {
        return;
    }
    holder->place = stand.place;
    holder->holds = margin.wanted;
}

struct er_demand_place er_margin_holder(const struct er_network *network,
                                        const struct er_margin *margin, double *holds)
{
    struct holder holder = {.network = network, .before = margin, .holds = ER_NONE};
    for (size_t p = 0; p < network->field->headworks_count; p++) {
        pass(&holder, headworks_part(network, p));
    }
    for (size_t z = 0; z < network->zone_count && !holder.arrived; z++) {
        const struct er_zone_network *zone = &network->zones[z];
        if (zone_index(network, zone) != margin->place.zone) {
            continue;
        }
        pass(&holder, zone_valve(zone, margin->place.zone));
        pass(&holder, zone_regulator(zone, margin->place.zone));
        if (margin->place.kind == ER_DEMAND_INLET) {
            pass(&holder, connector(margin->node, margin->outlet, margin->place.zone));
        }
    }
    *holds = holder.holds;
    return holder.place;
}
