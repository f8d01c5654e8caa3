/* Why no source can give a zone what is wanted, and what its regulator would have to hold. */
#include <math.h>

#include "plan/demand_search.h"

/* The zone in the network that has this place in the field. */
static size_t zone_in_network(const struct er_network *network, size_t zone)
{
    size_t z = 0;
    while ((size_t)(network->zones[z].zone - network->field->zones) != zone)
        z++;
    return z;
}

/* Height of the inlet above the part that holds its pressure. */
static double rise_behind(const struct er_network *network, const struct er_margin *inlet,
                          const struct er_demand_place *holder)
{
    const struct er_zone *zone = &network->field->zones[inlet->place.zone];
    double rise = inlet->node->rise;
    if (holder->kind == ER_DEMAND_CONNECTOR)
        return 0.0;
    if (holder->kind == ER_DEMAND_REGULATOR && zone->regulator_at_header)
        return rise;
    rise += zone->rise;
    if (holder->kind == ER_DEMAND_HEADWORKS)
        for (size_t s = zone->on; s != ER_HEADWORKS; s = network->field->mainline[s].from)
            rise += network->field->mainline[s].rise;
    return rise;
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
    if (!parts)
        return ER_NO_MEMORY;
    for (size_t p = 0; p < field->headworks_count; p++)
        parts[p] = field->headworks[p];
    parts[part].holds = ER_NONE;
    field->headworks = parts;
    return ER_OK;
}

static enum er_status free_zone(struct freed *freed, const struct er_demand_place *holder)
{
    struct er_field *field = &freed->field;
    struct er_zone *zones = er_arena_array(&freed->arena, field->zone_count, sizeof *zones);
    if (!zones)
        return ER_NO_MEMORY;
    for (size_t z = 0; z < field->zone_count; z++)
        zones[z] = field->zones[z];
    struct er_zone *zone = &zones[holder->zone];
    const struct er_part **part = holder->kind == ER_DEMAND_VALVE ? &zone->valve : &zone->regulator;
    *part = free_part(freed, *part);
    field->zones = zones;
    return *part ? ER_OK : ER_NO_MEMORY;
}

/* Pressure just behind a part of the solved network. */
static double pressure_behind(const struct er_network *network, size_t z,
                              const struct er_demand_place *holder)
{
    const struct er_way *way = &network->zones[z].way;
    const struct er_zone *zone = network->zones[z].zone;
    if (holder->kind == ER_DEMAND_VALVE)
        return zone->regulator_at_header ? way->lead_start : way->regulator_inlet;
    if (holder->kind == ER_DEMAND_REGULATOR)
        return zone->regulator_at_header ? way->left : way->lead_start;
    return holder->part + 1 < network->field->headworks_count
               ? network->part_inlets[holder->part + 1]
               : network->headworks_pressure;
}

/* Nobody needs to hear of what else is in the way: then that part alone is not enough. */
static enum er_status tell_nobody(void *context, const struct er_demand_search *search,
                                  const struct er_margin *inlet)
{
    (void)context;
    (void)search;
    (void)inlet;
    return ER_OK;
}

/* What the freed part lets through when the zone alone has what is wanted. */
static enum er_status seek_hold(struct er_demand_search *search, size_t zone, bool dirty,
                                const struct er_demand_place *holder, double *needed)
{
    size_t z = zone_in_network(&search->network, zone);
    for (size_t other = 0; other < search->network.zone_count; other++)
        search->blocked[other] = other != z;
    search->blocked_count = search->network.zone_count - 1;
    struct er_duty duty;
    enum er_status status = er_demand_search_run(search, dirty, tell_nobody, NULL, &duty);
    if (status == ER_OK && er_given(duty.pressure))
        *needed = pressure_behind(&search->network, z, holder);
    return status;
}

/* Fills obstacle->needed_hold. A set of its own is made of the network's zones. */
static enum er_status find_needed_hold(const struct er_demand_search *search,
                                       struct er_obstacle *obstacle)
{
    struct freed freed = {.field = search->field};
    const struct er_network *network = &search->network;
    size_t *zones = er_arena_array(&freed.arena, network->zone_count, sizeof *zones);
    struct er_set set = {.zone_count = network->zone_count, .zones = zones};
    enum er_status status = zones ? ER_OK : ER_NO_MEMORY;
    for (size_t z = 0; zones && z < set.zone_count; z++)
        zones[z] = (size_t)(network->zones[z].zone - network->field->zones);
    if (status == ER_OK)
        status = obstacle->by.kind == ER_DEMAND_HEADWORKS
                     ? free_headworks(&freed, obstacle->by.part)
                     : free_zone(&freed, &obstacle->by);
    if (status == ER_OK) {
        struct er_demand_search without;
        status = er_demand_search_open(&without, &freed.field, &set, search->inlet_pressure);
        if (status == ER_OK)
            status = seek_hold(&without, obstacle->zone, network->dirty, &obstacle->by,
                               &obstacle->needed_hold);
        er_demand_search_close(&without);
    }
    er_arena_release(&freed.arena);
    return status;
}

enum er_status er_obstacle_describe(const struct er_demand_search *search,
                                    const struct er_margin *inlet, struct er_obstacle *obstacle)
{
    const struct er_network *network = &search->network;
    *obstacle = (struct er_obstacle){
        .zone = inlet->place.zone,
        .bed = inlet->place.bed,
        .wanted = er_demand_wanted(inlet->outlet->group->tape, search->inlet_pressure),
        .inlet_pressure = inlet->outlet->inlet_pressure,
        .rise = ER_NONE,
        .friction = ER_NONE,
        .needed_hold = ER_NONE};
    obstacle->by = er_margin_holder(network, inlet, &obstacle->holds);
    if (obstacle->by.kind == ER_DEMAND_NOWHERE)
        return ER_OK;
    obstacle->rise = rise_behind(network, inlet, &obstacle->by);
    obstacle->friction = obstacle->holds - obstacle->rise - obstacle->inlet_pressure;
    if (obstacle->by.kind == ER_DEMAND_CONNECTOR) {
        obstacle->needed_hold = obstacle->wanted;
        return ER_OK;
    }
    return find_needed_hold(search, obstacle);
}
