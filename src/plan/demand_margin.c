/* How a solved network stands: what its inlets and its regulators have over what they need. */
#include <math.h>

#include "plan/demand_search.h"

double er_demand_wanted(const struct er_tape *tape, double inlet_pressure)
{
    if (er_given(inlet_pressure))
        return inlet_pressure;
    return er_given(tape->at_pressure) ? tape->at_pressure : tape->holds_from;
}

/* Calls `visit` for every outlet of a zone. */
typedef void outlet_visit(void *context, const struct er_node *node,
                          const struct er_outlet *outlet);

static void visit_outlets(const struct er_zone_network *zone, outlet_visit *visit, void *context)
{
    for (int side = 0; side < 2; side++) {
        const struct er_arm *arm = &zone->arms[side];
        for (size_t n = 0; n < arm->node_count; n++)
            for (size_t o = 0; o < arm->nodes[n].outlet_count; o++)
                visit(context, &arm->nodes[n], &zone->outlets[arm->nodes[n].first_outlet + o]);
    }
}

struct inlets {
    struct er_margin least;
    double inlet_pressure;
    size_t zone;
};

static void take_inlet(void *context, const struct er_node *node, const struct er_outlet *outlet)
{
    struct inlets *inlets = context;
    double wanted = er_demand_wanted(outlet->group->tape, inlets->inlet_pressure);
    double surplus = outlet->inlet_pressure - wanted;
    if (surplus < inlets->least.surplus)
        inlets->least = (struct er_margin){.surplus = surplus,
                                           .place = {ER_DEMAND_INLET, 0, inlets->zone, outlet->bed},
                                           .node = node,
                                           .outlet = outlet};
}

struct er_margin er_margin_of_inlets(const struct er_network *network, size_t zone,
                                     double inlet_pressure)
{
    const struct er_zone_network *at = &network->zones[zone];
    struct inlets inlets = {.least = {.surplus = ER_ENDLESS},
                            .inlet_pressure = inlet_pressure,
                            .zone = (size_t)(at->zone - network->field->zones)};
    visit_outlets(at, take_inlet, &inlets);
    return inlets.least;
}

/* A part that may hold a pressure, as it stands in the network. */
struct regulator {
    const struct er_part *part; /* NULL: none there */
    double inlet, flow;
    struct er_margin margin;
};

/* Sets the margin of a regulator that has its place. False where nothing holds a pressure. */
static bool weigh(const struct er_network *network, struct regulator *regulator)
{
    if (!regulator->part || !er_given(regulator->part->holds))
        return false;
    double slope;
    double loss = er_part_loss(regulator->part, regulator->flow, network->dirty, &slope);
    regulator->margin.surplus = regulator->inlet - loss - regulator->part->holds;
    return true;
}

static struct regulator headworks_part(const struct er_network *network, size_t part)
{
    return (struct regulator){.part = &network->field->headworks[part],
                              .inlet = network->part_inlets[part],
                              .flow = network->flow,
                              .margin.place = {ER_DEMAND_HEADWORKS, part, 0, 0}};
}

static struct regulator zone_valve(const struct er_zone_network *zone, size_t index)
{
    return (struct regulator){.part = zone->zone->valve,
                              .inlet = zone->way.valve_inlet,
                              .flow = zone->flow,
                              .margin.place = {ER_DEMAND_VALVE, 0, index, 0}};
}

static struct regulator zone_regulator(const struct er_zone_network *zone, size_t index)
{
    return (struct regulator){.part = zone->zone->regulator,
                              .inlet = zone->way.regulator_inlet,
                              .flow = zone->flow,
                              .margin.place = {ER_DEMAND_REGULATOR, 0, index, 0}};
}

static struct regulator connector(const struct er_node *node, const struct er_outlet *outlet,
                                  size_t index)
{
    return (struct regulator){.part = outlet->connector,
                              .inlet = node->pressure,
                              .flow = outlet->flow,
                              .margin = {.place = {ER_DEMAND_CONNECTOR, 0, index, outlet->bed},
                                         .node = node,
                                         .outlet = outlet}};
}

struct regulators {
    const struct er_network *network;
    struct er_margin least;
    size_t zone;
};

static void take_regulator(struct regulators *all, struct regulator regulator)
{
    if (weigh(all->network, &regulator) && regulator.margin.surplus < all->least.surplus)
        all->least = regulator.margin;
}

static void take_connector(void *context, const struct er_node *node,
                           const struct er_outlet *outlet)
{
    struct regulators *all = context;
    take_regulator(all, connector(node, outlet, all->zone));
}

struct er_margin er_margin_of_regulators(const struct er_network *network)
{
    struct regulators all = {.network = network, .least = {.surplus = ER_ENDLESS}};
    for (size_t p = 0; p < network->field->headworks_count; p++)
        take_regulator(&all, headworks_part(network, p));
    for (size_t z = 0; z < network->zone_count; z++) {
        const struct er_zone_network *zone = &network->zones[z];
        all.zone = (size_t)(zone->zone - network->field->zones);
        take_regulator(&all, zone_valve(zone, all.zone));
        take_regulator(&all, zone_regulator(zone, all.zone));
        visit_outlets(zone, take_connector, &all);
    }
    return all.least;
}

/* Takes a regulator that holds for the last that does. */
static void follow(const struct er_network *network, struct regulator regulator,
                   struct er_demand_place *last, double *holds)
{
    if (!weigh(network, &regulator) || !(regulator.margin.surplus > 0.0))
        return;
    *last = regulator.margin.place;
    *holds = regulator.part->holds;
}

struct er_demand_place er_margin_holder(const struct er_network *network,
                                        const struct er_margin *inlet, double *holds)
{
    struct er_demand_place last = {ER_DEMAND_NOWHERE, 0, 0, 0};
    *holds = ER_NONE;
    for (size_t p = 0; p < network->field->headworks_count; p++)
        follow(network, headworks_part(network, p), &last, holds);
    for (size_t z = 0; z < network->zone_count; z++) {
        const struct er_zone_network *zone = &network->zones[z];
        size_t index = (size_t)(zone->zone - network->field->zones);
        if (index != inlet->place.zone)
            continue;
        follow(network, zone_valve(zone, index), &last, holds);
        follow(network, zone_regulator(zone, index), &last, holds);
        follow(network, connector(inlet->node, inlet->outlet, index), &last, holds);
    }
    return last;
}
