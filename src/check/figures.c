/* How evenness, rows, velocities, flushing and water of a zone come out of its network. */
#include "check/figures.h"

#include <math.h>

#include "hydraulics/evenness.h"
#include "water/need.h"

/* 1.27 of a cv is where the lowest quarter of a normal lot of emitters has its mean. */
#define LOW_QUARTER_OF_NORMAL 1.27
#define WEEK 7.0 /* days */

double er_emitters_per_plant(const struct er_bed_group *group)
{
    if (!er_given(group->plant_spacing)) {
        return 1.0;
    }
    double along = group->plant_spacing / group->tape->emitter_spacing;
    return fmax(1.0, along * (double)group->tapes / (double)group->rows);
}

double er_manufacture_share(double cv, double emitters_per_plant)
{
    return 1.0 - LOW_QUARTER_OF_NORMAL * cv / sqrt(emitters_per_plant);
}

/* The lowest over the zone's bed groups. */
static double manufacture_share(const struct er_zone *zone)
{
    double lowest = ER_ENDLESS;
    for (size_t g = 0; g < zone->group_count; g++) {
        const struct er_bed_group *group = &zone->groups[g];
        double share = er_manufacture_share(group->tape->cv, er_emitters_per_plant(group));
        lowest = fmin(lowest, share);
    }
    return lowest;
}

static double largest_cv(const struct er_zone *zone)
{
    double largest = 0.0;
    for (size_t g = 0; g < zone->group_count; g++) {
        largest = fmax(largest, zone->groups[g].tape->cv);
    }
    return largest;
}

static void work_out_evenness(const struct er_zone_network *zone, const struct er_evenness *even,
                              struct er_zone_result *result)
{
    double cv = largest_cv(zone->zone);
    bool flows = even->mean_r > 0.0;
    result->emitters = even->emitters;
    result->emitter_pressure = even->pressure;
    result->emitter_flow = even->flow;
    result->mean_emitter_flow = even->mean_flow;
    result->emission_uniformity =
        flows ? manufacture_share(zone->zone) * even->min_r / even->mean_r : ER_NONE;
    result->flow_variation = flows ? (even->max_r - even->min_r) / even->max_r : ER_NONE;
    result->christiansen = 1.0 - even->mean_deviation;
    result->low_quarter = even->low_quarter;
    result->statistical_uniformity = 1.0 - sqrt(even->variation * even->variation + cv * cv);
}

/* The pressure at a row's last emitter; of an estimated row, read. */
static double far_end_of(const struct er_response *response, const struct er_outlet *outlet,
                         bool estimated)
{
    if (!estimated) {
        return er_run_far_end_pressure(&response->run, &outlet->state);
    }
    return er_response_guess(response, outlet->inlet_pressure).far_pressure;
}

static void work_out_rows(const struct er_network *network, const struct er_zone_network *zone,
                          bool estimated, struct er_zone_result *result)
{
    result->tape_inlet_pressure = (struct er_range){ER_ENDLESS, -ER_ENDLESS};
    result->far_end_pressure = ER_ENDLESS;
    result->beds = zone->outlet_count;
    for (size_t o = 0; o < zone->outlet_count; o++) {
        const struct er_outlet *outlet = &zone->outlets[o];
        const struct er_response *response = &network->pool->responses[outlet->response];
        struct er_range *inlet = &result->tape_inlet_pressure;
        double far_end = far_end_of(response, outlet, estimated);
        inlet->min = fmin(inlet->min, outlet->inlet_pressure);
        inlet->max = fmax(inlet->max, outlet->inlet_pressure);
        result->dry_rows += outlet->emitter_pressure.min > 0.0 ? 0 : 1;
        if (far_end < result->far_end_pressure) {
            result->far_end_pressure = far_end;
            result->lowest_bed = outlet->bed;
            result->lowest_second_side = outlet->second_side;
        }
    }
}

static double tape_length_of(const struct er_zone *zone)
{
    double length = 0.0;
    for (size_t g = 0; g < zone->group_count; g++) {
        const struct er_bed_group *group = &zone->groups[g];
        for (size_t index = 0; index < group->count; index++) {
            double bed = er_bed_length(group, index, false);
            if (group->both_sides) {
                bed += er_bed_length(group, index, true);
            }
            length += bed * (double)group->tapes;
        }
    }
    return length;
}

static void take_velocity(void *context, const struct er_pipe *pipe, double flow,
                          double start_pressure, double end_pressure)
{
    double *velocity = context;
    (void)start_pressure;
    (void)end_pressure;
    *velocity = fmax(*velocity, flow / er_pipe_area(pipe->inside_diameter));
}

/* Whether a bed's tape is the same as its neighbour's, so that flushing it again tells nothing. */
static bool like_the_one_before(const struct er_bed_group *group, size_t index)
{
    return index > 0 && !(group->length < group->last_length) &&
           !(group->length > group->last_length);
}

static enum er_status flush_run(const struct er_tape *tape, double length,
                                const struct er_ground *ground, double inlet_pressure,
                                double *slowest)
{
    struct er_run run = er_run_make(tape, length, ground);
    /* The slowest so far is as good a guess as any: most unlike tapes differ by little. */
    double end_flow = isfinite(*slowest) ? *slowest * er_pipe_area(tape->inside_diameter) : 0.0;
    enum er_status status = er_run_flush(&run, inlet_pressure, &end_flow);
    *slowest = fmin(*slowest, end_flow / er_pipe_area(tape->inside_diameter));
    return status;
}

/* The weakest flushing of the zone's unlike tapes, each opened alone, its inlet held at the
 * zone's lowest tape-inlet pressure. */
static enum er_status work_out_flushing(const struct er_zone *zone, struct er_zone_result *result)
{
    double slowest = ER_ENDLESS;
    double inlet_pressure = result->tape_inlet_pressure.min;
    enum er_status status = ER_OK;
    for (size_t g = 0; status == ER_OK && g < zone->group_count; g++) {
        const struct er_bed_group *group = &zone->groups[g];
        for (size_t index = 0; status == ER_OK && index < group->count; index++) {
            if (like_the_one_before(group, index)) {
                break;
            }
            status = flush_run(group->tape, er_bed_length(group, index, false), &group->ground,
                               inlet_pressure, &slowest);
            if (status == ER_OK && group->both_sides) {
                status = flush_run(group->tape, er_bed_length(group, index, true),
                                   &group->other_ground, inlet_pressure, &slowest);
            }
        }
    }
    result->flush_velocity = slowest;
    return status;
}

static void work_out_water(const struct er_zone *zone, struct er_zone_result *result)
{
    struct er_zone_ground ground = er_zone_ground_measure(zone);
    struct er_irrigation plan =
        er_irrigation_plan(zone, &ground, result->flow, result->emission_uniformity);
    bool flows = result->flow > 0.0;
    result->area = ground.area;
    result->bed_area = ground.bed_area;
    result->bed_length = ground.bed_length;
    result->efficiency = plan.efficiency;
    result->gross_depth = plan.gross_depth;
    result->run_time = plan.run_time;
    result->gross_per_length = plan.gross_per_length;
    result->holding = plan.holding;
    result->pulses = plan.pulses;
    result->time_per_depth_spacing = flows ? ground.area / result->flow : ER_NONE;
    result->time_per_depth_bed = flows ? ground.bed_area / result->flow : ER_NONE;
    result->weekly_depth_spacing = plan.volume / ground.area * WEEK / zone->water.every;
    result->weekly_depth_bed = plan.volume / ground.bed_area * WEEK / zone->water.every;
}

/* All but the flushing. */
static void work_out_zone(const struct er_network *network, const struct er_zone_network *zone,
                          const struct er_evenness *even, bool estimated,
                          struct er_zone_result *result)
{
    result->flow = zone->flow;
    result->join_pressure = zone->way.join_pressure;
    result->inlet_pressure = zone->inlet_pressure;
    result->tape_length = tape_length_of(zone->zone);
    work_out_evenness(zone, even, result);
    work_out_rows(network, zone, estimated, result);
    er_zone_pipes(zone, take_velocity, &result->header_velocity);
    work_out_water(zone->zone, result);
}

enum er_status er_work_out_zone(const struct er_network *network, struct er_zone_network *zone,
                                struct er_zone_result *result)
{
    struct er_evenness even;
    enum er_status status = er_evenness_measure(network, zone, &even);
    if (status != ER_OK) {
        return status;
    }
    work_out_zone(network, zone, &even, false, result);
    return work_out_flushing(zone->zone, result);
}

void er_work_out_estimated_zone(const struct er_network *network, struct er_zone_network *zone,
                                struct er_zone_result *result)
{
    struct er_evenness even;
    er_evenness_estimate(network, zone, &even);
    work_out_zone(network, zone, &even, true, result);
    result->flush_velocity = ER_NONE;
}

static bool part_gets_dirty(const struct er_part *part) { return part && part->dirty_loss > 0.0; }

bool er_set_gets_dirty(const struct er_field *field, const struct er_set *set)
{
    for (size_t p = 0; p < field->headworks_count; p++) {
        if (part_gets_dirty(&field->headworks[p])) {
            return true;
        }
    }
    for (size_t z = 0; z < set->zone_count; z++) {
        const struct er_zone *zone = &field->zones[set->zones[z]];
        if (part_gets_dirty(zone->valve) || part_gets_dirty(zone->regulator)) {
            return true;
        }
        for (size_t g = 0; g < zone->group_count; g++) {
            if (part_gets_dirty(zone->groups[g].tape->connector)) {
                return true;
            }
        }
    }
    return false;
}

void er_work_out_suction(const struct er_suction *suction, double flow,
                         struct er_suction_result *result)
{
    double slope;
    result->judged = true;
    result->flow = flow;
    result->height = suction->height;
    result->friction = er_suction_friction(suction, flow, &slope);
    result->barometric_head = er_barometric_head(suction->altitude);
    result->vapour_head = er_vapour_head(suction->temperature);
    result->npsh_available =
        result->barometric_head - result->vapour_head - result->height - result->friction;
    result->practical_lift = er_practical_suction_lift(suction->altitude);
}
