/* From the source down to the feed points: all pressures for given flows of the zones. */
#include <math.h>

#include "hydraulics/network.h"

/* A pressure on its way down, and its derivatives: by the flow through the parts passed so
 * far, and by the pressure that it started from. A regulator that holds cuts both. */
struct way {
    double pressure;
    double slope;
    double pass;
};

static void hold(struct way *way, double holds)
{
    if (er_given(holds) && way->pressure > holds) {
        *way = (struct way){.pressure = holds};
    }
}

static void pass_part(struct way *way, const struct er_part *part, double flow, bool dirty)
{
    double slope;
    way->pressure -= er_part_loss(part, flow, dirty, &slope);
    way->slope -= slope;
    hold(way, part->holds);
}

static void pass_pipe(struct way *way, const struct er_pipe *pipe, double length, double flow)
{
    if (!(length > 0.0) || !(flow > 0.0)) {
        return;
    }
    double loss = er_friction_head(flow, length, pipe->c, pipe->inside_diameter);
    way->pressure -= loss;
    way->slope -= ER_FRICTION_EXPONENT * loss / flow;
}

static void update_headworks(struct er_network *network)
{
    const struct er_field *field = network->field;
    struct way way = {.pass = 1.0};
    way.pressure = er_source_pressure(&field->source, network->flow, &way.slope);
    network->source_pressure = way.pressure;
    for (size_t p = 0; p < field->headworks_count; p++) {
        network->part_inlets[p] = way.pressure;
        pass_part(&way, &field->headworks[p], network->flow, network->dirty);
    }
    network->headworks_pressure = way.pressure;
    network->headworks_slope = way.slope;
}

static void update_sections(struct er_network *network)
{
    const struct er_field *field = network->field;
    for (size_t s = 0; s < field->section_count; s++) {
        network->sections[s].flow = 0.0;
    }
    for (size_t z = 0; z < network->zone_count; z++) {
        const struct er_zone_network *zone = &network->zones[z];
        for (size_t s = zone->zone->on; s != ER_HEADWORKS; s = field->mainline[s].from) {
            network->sections[s].flow += zone->flow;
        }
    }
    for (size_t s = 0; s < field->section_count; s++) {
        const struct er_section *section = &field->mainline[s];
        struct er_section_flow *at = &network->sections[s];
        struct way way = {.pressure = section->from == ER_HEADWORKS
                                          ? network->headworks_pressure
                                          : network->sections[section->from].end_pressure};
        at->start_pressure = way.pressure;
        pass_pipe(&way, section->pipe, section->length * (1.0 + section->fittings), at->flow);
        at->slope = way.slope;
        at->end_pressure = way.pressure - section->rise;
    }
}

static void update_way(const struct er_network *network, struct er_zone_network *zone)
{
    const struct er_zone *plan = zone->zone;
    struct er_way *at = &zone->way;
    struct way way = {.pass = 1.0,
                      .pressure = plan->on == ER_HEADWORKS
                                      ? network->headworks_pressure
                                      : network->sections[plan->on].end_pressure};
    at->join_pressure = way.pressure;
    at->valve_inlet = way.pressure;
    if (plan->valve) {
        pass_part(&way, plan->valve, zone->flow, network->dirty);
    }
    at->regulator_inlet = way.pressure;
    if (plan->regulator && !plan->regulator_at_header) {
        pass_part(&way, plan->regulator, zone->flow, network->dirty);
    }
    at->lead_start = way.pressure;
    pass_pipe(&way, plan->header.pieces[0].pipe, plan->header.lead, zone->flow);
    way.pressure -= plan->rise;
    at->lead_end = way.pressure;
    if (plan->regulator && plan->regulator_at_header) {
        at->regulator_inlet = way.pressure;
        pass_part(&way, plan->regulator, zone->flow, network->dirty);
    }
    at->left = way.pressure;
    at->slope = way.slope;
    at->pass = way.pass;
}

void er_supply_update(struct er_network *network)
{
    network->flow = 0.0;
    for (size_t z = 0; z < network->zone_count; z++) {
        network->flow += network->zones[z].flow;
    }
    update_headworks(network);
    update_sections(network);
    for (size_t z = 0; z < network->zone_count; z++) {
        update_way(network, &network->zones[z]);
    }
}

/* Two zones share the sections upstream of where their ways part. Since a section comes after
 * the one it starts from, climbing from the later of two always finds that place. */
double er_supply_slope(const struct er_network *network, size_t a, size_t b)
{
    const struct er_section *mainline = network->field->mainline;
    size_t above = network->zones[a].zone->on;
    size_t other = network->zones[b].zone->on;
    while (above != other) {
        if (other == ER_HEADWORKS || (above != ER_HEADWORKS && above > other)) {
            above = mainline[above].from;
        } else {
            other = mainline[other].from;
        }
    }
    double shared = network->headworks_slope;
    for (size_t s = above; s != ER_HEADWORKS; s = mainline[s].from) {
        shared += network->sections[s].slope;
    }
    const struct er_way *way = &network->zones[a].way;
    return way->pass * shared + (a == b ? way->slope : 0.0);
}
