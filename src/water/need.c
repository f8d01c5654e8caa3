/* The area, soil and losses of a zone, and from them its run time, in one run or several. */
#include "water/need.h"

#include <math.h>

/* Of water applied by drip, where the file gives none (tests/published/run-time.json tells the
 * source). */
#define EFFICIENCY_MOST 0.9
#define LEAST_EFFICIENCY 0.01 /* by its evenness; a zone under that waters nobody */
/* Where a soil holds next to nothing the number of runs must still go into a whole number. */
#define PULSES_MOST 1e6

double er_wetted_width(const struct er_water *water)
{
    return er_given(water->wetted_width) ? water->wetted_width : water->soil->spread;
}

double er_wetted_section(double width, double root_depth, size_t tapes, double bed_width)
{
    double radius = 0.5 * width;
    double depth = fmin(root_depth, radius);
    double one =
        radius * radius * asin(depth / radius) + depth * sqrt(radius * radius - depth * depth);
    return fmin((double)tapes * one, bed_width * root_depth);
}

struct er_zone_ground er_zone_ground_measure(const struct er_zone *zone)
{
    const struct er_water *water = &zone->water;
    struct er_zone_ground ground = {.soil = water->soil ? 0.0 : ER_NONE};
    for (size_t g = 0; g < zone->group_count; g++) {
        const struct er_bed_group *group = &zone->groups[g];
        double length = 0.0;
        for (size_t index = 0; index < group->count; index++) {
            length += er_bed_length(group, index, false);
            if (group->both_sides) {
                length += er_bed_length(group, index, true);
            }
        }
        ground.bed_length += length;
        ground.area += length * group->spacing;
        ground.bed_area += length * group->bed_width;
        if (water->soil) {
            ground.soil += length * er_wetted_section(er_wetted_width(water), water->root_depth,
                                                      group->tapes, group->bed_width);
        }
    }
    return ground;
}

static double efficiency_of(const struct er_water *water, double emission_uniformity)
{
    if (er_given(water->efficiency)) {
        return water->efficiency;
    }
    if (!(emission_uniformity >= LEAST_EFFICIENCY)) { /* NAN too */
        return 0.0;
    }
    return fmin(EFFICIENCY_MOST, emission_uniformity);
}

/* Runs that one irrigation of `volume` must be split into so that none passes `holding`. */
static size_t pulses_for(double volume, double holding)
{
    /* Within rounding of a whole number of runs it is that number. */
    if (!(volume > holding * (1.0 + 1e-9))) {
        return 1;
    }
    return (size_t)fmin(PULSES_MOST, ceil(volume / holding * (1.0 - 1e-9)));
}

struct er_irrigation er_irrigation_plan(const struct er_zone *zone,
                                        const struct er_zone_ground *ground, double flow,
                                        double emission_uniformity)
{
    const struct er_water *water = &zone->water;
    struct er_irrigation plan = {ER_NONE, ER_NONE, ER_NONE, ER_NONE, ER_NONE, ER_NONE, 1};
    if (water->need_kind == ER_NEED_NONE) {
        return plan;
    }
    plan.efficiency = efficiency_of(water, emission_uniformity);
    if (water->soil) {
        plan.holding = water->soil->available_water * water->allowed_depletion * ground->soil;
    }
    if (!(plan.efficiency > 0.0) || !(flow > 0.0)) {
        return plan;
    }
    double covered = water->area_is_bed ? ground->bed_area : ground->area;
    double net = water->need_kind == ER_NEED_PER_LENGTH ? water->need * ground->bed_length
                                                        : water->need * covered;
    plan.volume = net * water->every / plan.efficiency / (1.0 - water->leaching);
    plan.gross_depth = plan.volume / covered;
    plan.run_time = plan.volume / flow;
    plan.gross_per_length = plan.volume / ground->bed_length;
    if (er_given(plan.holding)) {
        plan.pulses = pulses_for(plan.volume, plan.holding);
    }
    return plan;
}

struct er_room er_room_for(double volume, double every, double run_time, double holding)
{
    double a_day = volume / every;
    double days = floor(fmin(every, holding / a_day * (1.0 + 1e-9)));
    struct er_room room = {.every = fmax(1.0, days), .runs = 1};
    if (days < 1.0) {
        room.runs = pulses_for(a_day, holding);
    }
    room.run_time = run_time / every * room.every / (double)room.runs;
    return room;
}
