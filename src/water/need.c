#include "water/need.h"

#include <math.h>

#define EFFICIENCY_MOST 0.9 /* of water applied by drip, where the file gives none */
#define PULSES_MOST 1e6

struct er_zone_ground er_zone_ground_measure(const struct er_zone *zone)
{
    struct er_zone_ground ground = {0};
    for (size_t g = 0; g < zone->group_count; g++) {
        const struct er_bed_group *group = &zone->groups[g];
        double length = 0.0;
        for (size_t index = 0; index < group->count; index++) {
            length += er_bed_length(group, index, false);
            if (group->both_sides)
                length += er_bed_length(group, index, true);
        }
        double wetted =
            er_given(zone->water.wetted_width) ? zone->water.wetted_width : group->bed_width;
        ground.bed_length += length;
        ground.area += length * group->spacing;
        ground.bed_area += length * group->bed_width;
        ground.wetted_area += length * wetted;
    }
    return ground;
}

static double efficiency_of(const struct er_water *water, double emission_uniformity)
{
    if (er_given(water->efficiency))
        return water->efficiency;
    return er_given(emission_uniformity) ? fmin(EFFICIENCY_MOST, emission_uniformity) : 0.0;
}

/* Runs that one irrigation of `volume` must be split into so that none passes `holding`. */
static size_t pulses_for(double volume, double holding)
{
    if (!(volume > holding * (1.0 + 1e-9)))
        return 1;
    return (size_t)fmin(PULSES_MOST, ceil(volume / holding * (1.0 - 1e-9)));
}

struct er_irrigation er_irrigation_plan(const struct er_zone *zone,
                                        const struct er_zone_ground *ground, double flow,
                                        double emission_uniformity)
{
    const struct er_water *water = &zone->water;
    struct er_irrigation plan = {ER_NONE, ER_NONE, ER_NONE, ER_NONE, ER_NONE, ER_NONE, 1};
    if (water->need_kind == ER_NEED_NONE)
        return plan;
    plan.efficiency = efficiency_of(water, emission_uniformity);
    if (water->soil)
        plan.holding = water->soil->available_water * water->root_depth * water->allowed_depletion *
                       ground->wetted_area;
    if (!(plan.efficiency > 0.0) || !(flow > 0.0))
        return plan;
    double covered = water->area_is_bed ? ground->bed_area : ground->area;
    double net = water->need_kind == ER_NEED_PER_LENGTH ? water->need * ground->bed_length
                                                        : water->need * covered;
    plan.volume = net * water->every / plan.efficiency / (1.0 - water->leaching);
    plan.gross_depth = plan.volume / covered;
    plan.run_time = plan.volume / flow;
    plan.gross_per_length = plan.volume / ground->bed_length;
    if (er_given(plan.holding))
        plan.pulses = pulses_for(plan.volume, plan.holding);
    return plan;
}
