/* Findings about one zone: its pressures, its evenness, its water. */
#include "check/judge.h"

#include <math.h>
#include <stdio.h>

#include "check/judge_part.h"
#include "water/need.h"

/* m: of pressures nearer to each other none is worse, so that it is not rounding that chooses. */
#define AS_BAD 1e-6

/* The outlets of a zone that are furthest from what their tapes are rated for; of several that are
 * as bad the first. */
struct worst_outlets {
    const struct er_outlet *low, *high, *dry;
    double low_by, high_by; /* m beyond the rating */
};

static double highest_pressure(const struct er_outlet *outlet)
{
    return fmax(outlet->inlet_pressure, outlet->emitter_pressure.max);
}

static struct worst_outlets find_worst(struct er_judge *judge, const struct er_zone_network *zone)
{
    struct worst_outlets worst = {.low_by = -ER_ENDLESS, .high_by = -ER_ENDLESS};
    double driest = ER_ENDLESS;
    for (size_t o = 0; o < zone->outlet_count; o++) {
        const struct er_outlet *outlet = &zone->outlets[o];
        const struct er_tape *tape = outlet->group->tape;
        double low_by = tape->min_pressure - outlet->emitter_pressure.min;
        double high_by = highest_pressure(outlet) - tape->max_pressure;
        if (er_under(judge, outlet->emitter_pressure.min, tape->min_pressure) &&
            low_by > worst.low_by + AS_BAD) {
            worst.low = outlet;
            worst.low_by = low_by;
        }
        if (er_over(judge, highest_pressure(outlet), tape->max_pressure) &&
            high_by > worst.high_by + AS_BAD) {
            worst.high = outlet;
            worst.high_by = high_by;
        }
        er_judge_watch(judge, outlet->emitter_pressure.min, 0.0);
        if (!(outlet->emitter_pressure.min > 0.0) &&
            outlet->emitter_pressure.min < driest - AS_BAD) {
            worst.dry = outlet;
            driest = outlet->emitter_pressure.min;
        }
    }
    return worst;
}

static void judge_rows(struct er_judge *judge, const struct er_zone_network *zone,
                       const struct er_zone_result *result)
{
    struct worst_outlets worst = find_worst(judge, zone);
    const char *name = er_say_name(judge, zone->zone->name);
    if (worst.dry) {
        er_judge_add(judge, ER_ROW_DRY, ER_PLACE_ZONE, result->zone, (double)result->dry_rows,
                     "in zone %s %zu of %zu bed rows have emitters that get no water; the worst "
                     "is bed %zu. Shorten the rows, feed them from the high end, take a tape "
                     "with less flow or a wider bore, or bring more pressure",
                     name, result->dry_rows, result->beds, worst.dry->bed + 1);
    }
    if (worst.low) {
        er_judge_add(judge, ER_PRESSURE_LOW, ER_PLACE_ZONE, result->zone, worst.low_by,
                     "in zone %s the lowest emitter, on bed %zu, has %s, its tape is rated from "
                     "%s. Bring more pressure, shorten the rows, or take a wider header or tape",
                     name, worst.low->bed + 1,
                     er_say_beside(judge, ER_PRESSURE, worst.low->emitter_pressure.min,
                                   worst.low->group->tape->min_pressure),
                     er_say(judge, ER_PRESSURE, worst.low->group->tape->min_pressure));
    }
    if (worst.high) {
        er_judge_add(judge, ER_PRESSURE_HIGH, ER_PLACE_ZONE, result->zone, worst.high_by,
                     "in zone %s the tape on bed %zu gets %s, it is rated for %s: it may burst. "
                     "Put in a regulator, or set the one there lower",
                     name, worst.high->bed + 1,
                     er_say_beside(judge, ER_PRESSURE, highest_pressure(worst.high),
                                   worst.high->group->tape->max_pressure),
                     er_say(judge, ER_PRESSURE, worst.high->group->tape->max_pressure));
    }
}

/* To feed the middle helps only a header that is fed from an end. */
static const char *middle_advice(const struct er_zone *zone)
{
    bool from_end = zone->header.feed == ER_FEED_FIRST || zone->header.feed == ER_FEED_LAST;
    return from_end ? ", or feed the header in the middle" : "";
}

struct pipe_judging {
    struct er_judge *judge;
    const char *zone_name;
    const char *header; /* for er_judge_surge */
    size_t zone;
};

static void judge_pipe(void *context, const struct er_pipe *pipe, double flow,
                       double start_pressure, double end_pressure)
{
    struct pipe_judging *at = context;
    double highest = fmax(start_pressure, end_pressure);
    er_judge_surge(at->judge, ER_PLACE_ZONE, at->zone, pipe, highest, at->header);
    (void)flow;
    if (er_given(pipe->max_pressure) && er_over(at->judge, highest, pipe->max_pressure)) {
        er_judge_add(
            at->judge, ER_PRESSURE_HIGH, ER_PLACE_ZONE, at->zone, highest - pipe->max_pressure,
            "in zone %s the header runs at %s, its pipe is rated for %s. Take a stronger "
            "pipe, or a regulator before it",
            at->zone_name, er_say_beside(at->judge, ER_PRESSURE, highest, pipe->max_pressure),
            er_say(at->judge, ER_PRESSURE, pipe->max_pressure));
    }
}

static void judge_header(struct er_judge *judge, const struct er_zone_network *zone,
                         const struct er_zone_result *result)
{
    struct pipe_judging at = {
        .judge = judge, .zone_name = er_say_name(judge, zone->zone->name), .zone = result->zone};
    at.header = er_say_text(judge, "in zone %s the header runs", at.zone_name);
    er_zone_pipes(zone, judge_pipe, &at);
    if (er_over(judge, result->header_velocity, judge->field->limits.velocity)) {
        er_judge_add(judge, ER_VELOCITY_HIGH, ER_PLACE_ZONE, result->zone, result->header_velocity,
                     "in zone %s water runs at %s in the header, the limit is %s. Take a wider "
                     "header, or make the zone smaller%s",
                     at.zone_name,
                     er_say_beside(judge, ER_VELOCITY, result->header_velocity,
                                   judge->field->limits.velocity),
                     er_say(judge, ER_VELOCITY, judge->field->limits.velocity),
                     middle_advice(zone->zone));
    }
    if (er_below_zero(zone->inlet_pressure)) {
        er_judge_add(judge, ER_MAIN_VACUUM, ER_PLACE_ZONE, result->zone, 1.0,
                     "the feed point of zone %s stands at %s: the pipe to it draws air. Bring "
                     "more pressure, or take a wider pipe to it",
                     at.zone_name, er_say(judge, ER_PRESSURE, zone->inlet_pressure));
    }
}

static void judge_connectors(struct er_judge *judge, const struct er_network *network,
                             const struct er_zone_network *zone, size_t index)
{
    for (int side = 0; side < 2; side++) {
        const struct er_arm *arm = &zone->arms[side];
        for (size_t n = 0; n < arm->node_count; n++) {
            const struct er_node *node = &arm->nodes[n];
            for (size_t o = 0; o < node->outlet_count; o++) {
                const struct er_outlet *outlet = &zone->outlets[node->first_outlet + o];
                if (outlet->connector) {
                    er_judge_part(judge, ER_PLACE_ZONE, index, outlet->connector, node->pressure,
                                  outlet->flow, network->dirty);
                }
            }
        }
    }
}

void er_judge_zone(struct er_judge *judge, const struct er_network *network,
                   const struct er_zone_network *zone, const struct er_zone_result *result)
{
    const struct er_zone *plan = zone->zone;
    judge_rows(judge, zone, result);
    judge_header(judge, zone, result);
    if (plan->valve) {
        er_judge_part(judge, ER_PLACE_ZONE, result->zone, plan->valve, zone->way.valve_inlet,
                      zone->flow, network->dirty);
    }
    if (plan->regulator) {
        er_judge_part(judge, ER_PLACE_ZONE, result->zone, plan->regulator,
                      zone->way.regulator_inlet, zone->flow, network->dirty);
    }
    judge_connectors(judge, network, zone, result->zone);
}

void er_judge_evenness(struct er_judge *judge, const struct er_zone_result *result)
{
    const struct er_limits *limits = &judge->field->limits;
    const struct er_zone *zone = &judge->field->zones[result->zone];
    const char *name = er_say_name(judge, zone->name);
    if (er_given(result->emission_uniformity) &&
        er_under(judge, result->emission_uniformity, limits->uniformity)) {
        er_judge_add(
            judge, ER_UNIFORMITY_LOW, ER_PLACE_ZONE, result->zone,
            limits->uniformity - result->emission_uniformity,
            "zone %s has an emission uniformity of %s percent, the limit is %s. "
            "Shorten the rows, or take a wider header or tape%s",
            name,
            er_say_number(judge, 100.0 * result->emission_uniformity, 100.0 * limits->uniformity),
            er_say_number(judge, 100.0 * limits->uniformity, ER_NONE), middle_advice(zone));
    }
    if (er_given(result->flow_variation) &&
        er_over(judge, result->flow_variation, limits->flow_variation)) {
        er_judge_add(
            judge, ER_FLOW_UNEVEN, ER_PLACE_ZONE, result->zone,
            result->flow_variation - limits->flow_variation,
            "in zone %s the weakest emitter gives %s percent less than the strongest, "
            "the limit is %s. Shorten the rows, take a wider header or tape, or one "
            "regulator for beds that lie at one height",
            name,
            er_say_number(judge, 100.0 * result->flow_variation, 100.0 * limits->flow_variation),
            er_say_number(judge, 100.0 * limits->flow_variation, ER_NONE));
    }
}

static double widest_spacing(const struct er_zone *zone)
{
    double widest = 0.0;
    for (size_t g = 0; g < zone->group_count; g++) {
        widest = fmax(widest, zone->groups[g].tape->emitter_spacing);
    }
    return widest;
}

/* What helps: a rest between runs makes no room, only what the crop drinks meanwhile. */
static void judge_soil(struct er_judge *judge, const struct er_zone_result *result)
{
    const struct er_zone *zone = &judge->field->zones[result->zone];
    double volume = result->flow * result->run_time;
    struct er_room room = er_room_for(volume, zone->water.every, result->run_time, result->holding);
    char often[40] = "every day", runs[60] = "";
    if (room.every > 1.0) {
        snprintf(often, sizeof often, "every %.0f days", room.every);
    }
    if (room.runs > 1) {
        snprintf(runs, sizeof runs, "in %zu runs spread evenly over the day, ", room.runs);
    }
    er_judge_add(judge, ER_SOIL_OVER, ER_PLACE_ZONE, result->zone, 1.0,
                 "one irrigation of zone %s gives %s, the root zone in %s holds %s: the rest runs "
                 "past the roots. Water %s, %s%s each%s. A rest between runs makes no room, only "
                 "what the crop drinks does",
                 er_say_name(judge, zone->name), er_say(judge, ER_VOLUME, volume),
                 zone->water.soil->name, er_say(judge, ER_VOLUME, result->holding), often, runs,
                 er_say(judge, ER_TIME, room.run_time), room.runs > 1 ? "" : " time");
}

void er_judge_water(struct er_judge *judge, const struct er_zone_result *result)
{
    const struct er_zone *zone = &judge->field->zones[result->zone];
    const struct er_soil *soil = zone->water.soil;
    const char *name = er_say_name(judge, zone->name);
    double flush_limit = judge->field->limits.flush_velocity;
    if (er_given(result->flush_velocity) && er_under(judge, result->flush_velocity, flush_limit)) {
        er_judge_add(judge, ER_FLUSH_WEAK, ER_PLACE_ZONE, result->zone, 1.0,
                     "in zone %s an opened tape end flushes at %s, %s is wanted to carry dirt "
                     "out. Open fewer ends at a time, raise the pressure for flushing, or shorten "
                     "the rows",
                     name, er_say_beside(judge, ER_VELOCITY, result->flush_velocity, flush_limit),
                     er_say(judge, ER_VELOCITY, flush_limit));
    }
    if (!soil) {
        return;
    }
    if (result->pulses > 1) {
        judge_soil(judge, result);
    }
    if (er_over(judge, widest_spacing(zone), soil->spread)) {
        er_judge_add(judge, ER_SPACING_WIDE, ER_PLACE_ZONE, result->zone, 1.0,
                     "zone %s has emitters %s apart, tape wets %s %s wide, so dry soil is left "
                     "between them. Take a tape with closer emitters",
                     name, er_say(judge, ER_SMALL_LENGTH, widest_spacing(zone)), soil->name,
                     er_say(judge, ER_SMALL_LENGTH, soil->spread));
    }
}
