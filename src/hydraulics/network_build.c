/* From the field's zones to a network: beds become nodes and outlets along two arms. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "hydraulics/network.h"

/* m; two places nearer than this are one. A place is a sum of spacings: over a kilometer their
 * rounding comes to some 1e-11 m, and nobody lays beds nearer than this. */
#define SAME_PLACE 1e-9

struct builder {
    struct er_network *network;
    struct er_zone_network *zone;
    double feed_elevation;
};

static size_t count_beds(const struct er_zone *zone)
{
    size_t beds = 0;
    for (size_t g = 0; g < zone->group_count; g++) {
        beds += zone->groups[g].count;
    }
    return beds;
}

static size_t count_outlets(const struct er_zone *zone)
{
    size_t outlets = 0;
    for (size_t g = 0; g < zone->group_count; g++) {
        outlets += zone->groups[g].count * (zone->groups[g].both_sides ? 2 : 1);
    }
    return outlets;
}

static enum er_status add_outlet(struct builder *builder, struct er_node *node,
                                 const struct er_bed_group *group, size_t index, size_t bed,
                                 bool second_side)
{
    const struct er_ground *ground = second_side ? &group->other_ground : &group->ground;
    double length = er_bed_length(group, index, second_side);
    struct er_run run = er_run_make(group->tape, length, ground);
    struct er_zone_network *zone = builder->zone;
    struct er_outlet *outlet = &zone->outlets[zone->outlet_count++];
    enum er_status status =
        er_response_pool_find(builder->network->pool, &run, false, &outlet->response);
    if (status != ER_OK) {
        return status;
    }
    builder->network->pool->responses[outlet->response].users++;
    outlet->connector = group->tape->connector;
    outlet->tapes = (double)group->tapes;
    outlet->length = length;
    outlet->group = group;
    outlet->bed = bed;
    outlet->second_side = second_side;
    node->outlet_count++;
    return ER_OK;
}

static void add_resistance(void *context, const struct er_pipe *pipe, double from, double to)
{
    struct er_node *node = context;
    node->resistance += (to - from) * er_friction_gradient(pipe->c, pipe->inside_diameter);
}

/* A bed at `distance` from the first bed: a node at the outer end of its arm. */
static enum er_status add_bed(struct builder *builder, const struct er_bed_group *group,
                              size_t index, size_t bed, double distance)
{
    const struct er_zone *zone = builder->zone->zone;
    bool toward_last = distance >= builder->zone->feed_at - SAME_PLACE;
    struct er_arm *arm = &builder->zone->arms[toward_last];
    struct er_node *node = &arm->nodes[arm->node_count++];
    node->rise = er_ground_elevation(&zone->header.ground, distance) - builder->feed_elevation;
    node->distance = fabs(distance - builder->zone->feed_at);
    node->first_outlet = builder->zone->outlet_count;
    enum er_status status = add_outlet(builder, node, group, index, bed, false);
    if (status == ER_OK && group->both_sides) {
        status = add_outlet(builder, node, group, index, bed, true);
    }
    return status;
}

static void reverse_nodes(struct er_arm *arm)
{
    for (size_t low = 0, high = arm->node_count; low + 1 < high; low++) {
        struct er_node kept = arm->nodes[low];
        arm->nodes[low] = arm->nodes[--high];
        arm->nodes[high] = kept;
    }
}

/* Nothing flows in the arm until the feed point's pressure lifts water over some outlet. */
static double arm_dry_pressure(const struct builder *builder, const struct er_arm *arm)
{
    double lowest = ER_ENDLESS;
    for (size_t n = 0; n < arm->node_count; n++) {
        const struct er_node *node = &arm->nodes[n];
        for (size_t o = 0; o < node->outlet_count; o++) {
            const struct er_outlet *outlet = &builder->zone->outlets[node->first_outlet + o];
            double slope;
            double loss =
                outlet->connector ? er_part_loss(outlet->connector, 0.0, false, &slope) : 0.0;
            lowest =
                fmin(lowest, node->rise + loss +
                                 builder->network->pool->responses[outlet->response].dry_pressure);
        }
    }
    return lowest;
}

static void lay_arm(struct builder *builder, struct er_arm *arm)
{
    double from = 0.0;
    double rise = 0.0;
    for (size_t n = 0; n < arm->node_count; n++) {
        struct er_node *node = &arm->nodes[n];
        er_header_pieces(&builder->zone->zone->header, from, node->distance, add_resistance, node);
        node->reach_rise = node->rise - rise;
        from = node->distance;
        rise = node->rise;
    }
    arm->dry_pressure = arm_dry_pressure(builder, arm);
}

static enum er_status build_zone(struct builder *builder, const struct er_zone *zone)
{
    struct er_zone_network *built = builder->zone;
    struct er_arena *arena = &builder->network->arena;
    size_t beds = count_beds(zone);
    built->zone = zone;
    built->outlets = er_arena_array(arena, count_outlets(zone), sizeof *built->outlets);
    built->arms[0].nodes = er_arena_array(arena, beds, sizeof(struct er_node));
    built->arms[1].nodes = er_arena_array(arena, beds, sizeof(struct er_node));
    if (!built->outlets || !built->arms[0].nodes || !built->arms[1].nodes) {
        return ER_NO_MEMORY;
    }

    builder->zone->feed_at = er_feed_distance(zone);
    builder->feed_elevation = er_ground_elevation(&zone->header.ground, builder->zone->feed_at);
    double start = 0.0;
    size_t bed = 0;
    enum er_status status = ER_OK;
    for (size_t g = 0; g < zone->group_count; g++) {
        const struct er_bed_group *group = &zone->groups[g];
        if (g > 0) {
            start += er_group_step(zone, g);
        }
        for (size_t index = 0; status == ER_OK && index < group->count; index++) {
            status = add_bed(builder, group, index, bed++, start + (double)index * group->spacing);
        }
    }
    if (status != ER_OK) {
        return status;
    }
    reverse_nodes(&built->arms[0]);
    lay_arm(builder, &built->arms[0]);
    lay_arm(builder, &built->arms[1]);
    return ER_OK;
}

static enum er_status reserve(struct er_network *network)
{
    const struct er_field *field = network->field;
    struct er_arena *arena = &network->arena;
    size_t zones = network->zone_count;
    network->zones = er_arena_array(arena, zones, sizeof *network->zones);
    network->sections = er_arena_array(arena, field->section_count, sizeof *network->sections);
    network->part_inlets = er_arena_array(arena, field->headworks_count, sizeof(double));
    network->scratch = er_arena_array(arena, zones * (zones + 3), sizeof(double));
    return network->zones && network->sections && network->part_inlets && network->scratch
               ? ER_OK
               : ER_NO_MEMORY;
}

enum er_status er_network_open(const struct er_field *field, const struct er_set *set,
                               struct er_response_pool *pool, struct er_network *network)
{
    *network = (struct er_network){.field = field, .zone_count = set->zone_count, .pool = pool};
    if (!pool) {
        network->pool = &network->own_pool;
    }
    struct builder builder = {.network = network};
    enum er_status status = reserve(network);
    for (size_t z = 0; status == ER_OK && z < set->zone_count; z++) {
        builder.zone = &network->zones[z];
        status = build_zone(&builder, &field->zones[set->zones[z]]);
    }
    network->failure.in_row = status == ER_NOT_CLOSED;
    return status;
}

void er_network_release(struct er_network *network)
{
    er_response_pool_release(&network->own_pool);
    er_arena_release(&network->arena);
    memset(network, 0, sizeof *network);
}
