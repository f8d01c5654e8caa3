/* Why no source can give a place what it needs, and what the regulator before it would have to
 * hold. */
#include <math.h>

#include "plan/demand_search.h"

/* The zone in the network that has this place in the field. */
static size_t zone_in_network(const struct er_network *network, size_t zone)
{
    size_t z = 0;
    while ((size_t)(network->zones[z].zone - network->field->zones) != zone) {
        z++;
    }
    return z;
}

/* Height of a place above the headworks; `node` is where an inlet or a connector stands. */
static double height_of(const struct er_field *field, const struct er_demand_place *place,
                        const struct er_node *node)
{
    if (place->kind == ER_DEMAND_HEADWORKS) {
        return 0.0;
    }
    const struct er_zone *zone = &field->zones[place->zone];
    double height = 0.0;
    for (size_t s = zone->on; s != ER_HEADWORKS; s = field->mainline[s].from) {
        height += field->mainline[s].rise;
    }
    bool at_header = place->kind == ER_DEMAND_INLET || place->kind == ER_DEMAND_CONNECTOR;
    if (at_header || (place->kind == ER_DEMAND_REGULATOR && zone->regulator_at_header)) {
        height += zone->rise;
    }
    return at_header ? height + node->rise : height;
}

/* The field with one part of it letting all pressure through. */
struct freed {
    struct er_arena arena;
    struct er_field field;
};

/* A copy of `part` that holds nothing; NULL if memory ran out. */
static const struct er_part *free_part(struct freed *freed, const struct er_part *part)
{
    struct er_part *copy = er_arena_array(&freed->arena, 1, sizeof *copy);
    if (copy) {
        *copy = *part;
        copy->holds = ER_NONE;
    }
    return copy;
}

static enum er_status free_headworks(struct freed *freed, size_t part)
{
    struct er_field *field = &freed->field;
    struct er_part *parts = er_arena_array(&freed->arena, field->headworks_count, sizeof *parts);
    if (!parts) {
        return ER_NO_MEMORY;
    }
    for (size_t p = 0; p < field->headworks_count; p++) {
        parts[p] = field->headworks[p];
    }
    parts[part].holds = ER_NONE;
    field->headworks = parts;
    return ER_OK;
}

static enum er_status free_zone(struct freed *freed, const struct er_demand_place *holder)
{
    struct er_field *field = &freed->field;
    struct er_zone *zones = er_arena_array(&freed->arena, field->zone_count, sizeof *zones);
    if (!zones) {
        return ER_NO_MEMORY;
    }
    for (size_t z = 0; z < field->zone_count; z++) {
        zones[z] = field->zones[z];
    }
    struct er_zone *zone = &zones[holder->zone];
    const struct er_part **part = holder->kind == ER_DEMAND_VALVE ? &zone->valve : &zone->regulator;
    *part = free_part(freed, *part);
    field->zones = zones;
    return *part ? ER_OK : ER_NO_MEMORY;
}

/* Pressure just behind a part of the solved network. */
static double pressure_behind(const struct er_network *network,
                              const struct er_demand_place *holder)
{
    if (holder->kind == ER_DEMAND_HEADWORKS) {
        return holder->part + 1 < network->field->headworks_count
                   ? network->part_inlets[holder->part + 1]
                   : network->headworks_pressure;
    }
    size_t z = zone_in_network(network, holder->zone);
    const struct er_way *way = &network->zones[z].way;
    const struct er_zone *zone = network->zones[z].zone;
    if (holder->kind == ER_DEMAND_VALVE) {
        return zone->regulator_at_header ? way->lead_start : way->regulator_inlet;
    }
    return zone->regulator_at_header ? way->left : way->lead_start;
}

/* What the part lets through once it is freed and the obstacle's place has just what it needs. A
 * set of its own is made of the network's zones. */
static enum er_status find_needed_hold(const struct er_demand_search *search,
                                       struct er_demand_obstacle *obstacle)
{
    struct freed freed = {.field = search->field};
    const struct er_network *network = &search->network;
    size_t *zones = er_arena_array(&freed.arena, network->zone_count, sizeof *zones);
    struct er_set set = {.zone_count = network->zone_count, .zones = zones};
    enum er_status status = zones ? ER_OK : ER_NO_MEMORY;
    for (size_t z = 0; zones && z < set.zone_count; z++) {
        zones[z] = (size_t)(network->zones[z].zone - network->field->zones);
    }
    if (status == ER_OK) {
        status = obstacle->by.kind == ER_DEMAND_HEADWORKS
                     ? free_headworks(&freed, obstacle->by.part)
                     : free_zone(&freed, &obstacle->by);
    }
    if (status == ER_OK) {
        struct er_demand_search without;
        status = er_demand_search_open(&without, &freed.field, &set, search->inlet_pressure);
        bool found = false;
        if (status == ER_OK) {
            status = er_demand_search_place(&without, network->dirty, &obstacle->at, &found);
        }
        if (found) {
            obstacle->needed_hold = pressure_behind(&without.network, &obstacle->by);
        }
        er_demand_search_close(&without);
    }
    er_arena_release(&freed.arena);
    return status;
}

enum er_status er_demand_obstacle_describe(const struct er_demand_search *search,
                                           const struct er_margin *margin,
                                           struct er_demand_obstacle *obstacle)
{
    *obstacle = (struct er_demand_obstacle){.at = margin->place,
                                            .wanted = margin->wanted,
                                            .pressure = margin->pressure,
                                            .rise = ER_NONE,
                                            .friction = ER_NONE,
                                            .needed_hold = ER_NONE};
    obstacle->by = er_margin_holder(&search->network, margin, &obstacle->holds);
    if (obstacle->by.kind == ER_DEMAND_NOWHERE) {
        return ER_OK;
    }
    obstacle->rise = height_of(&search->field, &obstacle->at, margin->node) -
                     height_of(&search->field, &obstacle->by, margin->node);
    obstacle->friction = obstacle->holds - obstacle->rise - obstacle->pressure;
    if (obstacle->by.kind == ER_DEMAND_CONNECTOR) {
        obstacle->needed_hold = obstacle->wanted;
        return ER_OK;
    }
    return find_needed_hold(search, obstacle);
}
