/* Draws what a random field is judged by. */
#include "random_needs.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double HOUR = 3600; /* s */

/* Soils of the catalogue, as it has them. */
static const struct er_soil SOILS[] = {
    {"sand", 0.08, ER_FOOT, "the catalogue", false},
    {"loam", 0.155, 20.0 * ER_INCH, "the catalogue", false},
};

/* A copy that is the field's own and may be changed. */
static void *own(struct er_field *field, const void *array, size_t count, size_t size)
{
    void *copy = er_arena_array(&field->arena, count, size);
    if (!copy) {
        fputs("no memory for a random field's needs\n", stderr);
        abort();
    }
    if (array && count > 0) {
        memcpy(copy, array, count * size);
    }
    return copy;
}

static double perhaps(struct dice *dice, double low, double high)
{
    return dice_chance(dice, 0.5) ? dice_scaled(dice, low, high) : ER_NONE;
}

/* Nominal flow of a zone's tapes, to size what is judged against it. */
static double nominal_flow(const struct er_zone *zone)
{
    double flow = 0;
    for (size_t g = 0; g < zone->group_count; g++) {
        const struct er_bed_group *group = &zone->groups[g];
        flow += (double)(group->count * group->tapes) * group->length /
                group->tape->emitter_spacing * group->tape->emitter_flow;
    }
    return flow;
}

static void rate_part(struct dice *dice, struct er_part *part, double flow)
{
    part->min_flow = perhaps(dice, flow * 0.1, flow * 2);
    part->max_flow = perhaps(dice, flow * 2, flow * 4);
    part->max_pressure = perhaps(dice, 10, 60);
    if (er_given(part->at_flow) && dice_chance(dice, 0.3)) {
        part->dirty_loss = dice_between(dice, 0, 3);
    }
}

static const struct er_part *rated(struct dice *dice, struct er_field *field,
                                   const struct er_part *part, double flow)
{
    if (!part) {
        return NULL;
    }
    struct er_part *copy = own(field, part, 1, sizeof(*copy));
    rate_part(dice, copy, flow);
    return copy;
}

static struct er_water random_water(struct dice *dice)
{
    struct er_water water = {.need_kind = ER_NEED_DEPTH,
                             .need = dice_between(dice, 1e-3, 9e-3),
                             .area_is_bed = dice_chance(dice, 0.3),
                             .efficiency = perhaps(dice, 0.5, 0.99),
                             .leaching = dice_chance(dice, 0.3) ? dice_between(dice, 0, 0.3) : 0,
                             .every = (double)dice_whole(dice, 1, 4),
                             .root_depth = 0.3,
                             .allowed_depletion = 0.5,
                             .wetted_width = ER_NONE};
    if (dice_chance(dice, 0.3)) {
        water.need_kind = ER_NEED_PER_LENGTH;
        water.need = dice_between(dice, 1e-3, 2e-2);
    }
    if (dice_chance(dice, 0.6)) {
        water.soil = &SOILS[dice_whole(dice, 0, sizeof(SOILS) / sizeof(SOILS[0]) - 1)];
        water.root_depth = dice_between(dice, 0.1, 0.6);
        water.allowed_depletion = dice_between(dice, 0.1, 0.8);
        water.wetted_width = perhaps(dice, 0.2, 1);
    }
    return water;
}

static void give_water(struct dice *dice, struct er_field *field, struct er_zone *zone)
{
    if (dice_chance(dice, 0.8)) {
        zone->water = random_water(dice);
        field->has_water = true;
    }
}

static void judge_source(struct dice *dice, struct er_field *field, double flow)
{
    field->source.flow_limit = perhaps(dice, flow * 0.3, flow * 6);
    if (field->source.suction.given) {
        field->source.suction.npsh_required = perhaps(dice, 2, 12);
    }
    field->source.storage = perhaps(dice, flow * HOUR, flow * 1e3 * HOUR);
    field->source.refill =
        er_given(field->source.storage) && dice_chance(dice, 0.5) ? flow * 0.05 : ER_NONE;
}

void random_needs(struct dice *dice, struct er_field *field)
{
    struct er_zone *zones = own(field, field->zones, field->zone_count, sizeof(*zones));
    double flow = 0;
    for (size_t z = 0; z < field->zone_count; z++) {
        double zone_flow = nominal_flow(&zones[z]);
        give_water(dice, field, &zones[z]);
        zones[z].valve = rated(dice, field, zones[z].valve, zone_flow);
        zones[z].regulator = rated(dice, field, zones[z].regulator, zone_flow);
        flow += zone_flow;
    }
    field->zones = zones;
    struct er_part *parts = own(field, field->headworks, field->headworks_count, sizeof(*parts));
    for (size_t p = 0; p < field->headworks_count; p++) {
        rate_part(dice, &parts[p], flow);
    }
    field->headworks = parts;
    judge_source(dice, field, flow);
    field->hours = field->has_water ? dice_between(dice, 1, 24) * HOUR : ER_NONE;
    field->limits = (struct er_limits){.uniformity = dice_between(dice, 0.5, 0.95),
                                       .flow_variation = dice_between(dice, 0.05, 0.5),
                                       .velocity = dice_scaled(dice, 0.1, 3),
                                       .flush_velocity = dice_scaled(dice, 0.05, 1)};
}
