/* Findings about the source, the headworks, the mainline and the day. */
#include "check/judge.h"

#include <math.h>

#include "check/judge_part.h"

#define TIGHT 0.9        /* of a limit */
#define STARVED 0.8      /* of the nominal flow, below which a set's tapes count as starved */
#define STORED_DAYS 14.0 /* of supply, below which the storage counts as low */

/* What the network's emitters would take at their nominal flow. */
static double nominal_flow(const struct er_network *network)
{
    double flow = 0.0;
    for (size_t z = 0; z < network->zone_count; z++) {
        const struct er_zone_network *zone = &network->zones[z];
        for (size_t o = 0; o < zone->outlet_count; o++) {
            const struct er_run *run = &network->pool->responses[zone->outlets[o].response].run;
            flow += zone->outlets[o].tapes * (double)run->emitters * run->tape->emitter_flow;
        }
    }
    return flow;
}

/* A set that gets too little pressure takes too little flow; the source must give more yet. */
static const char *say_starved(struct er_judge *judge, const struct er_network *network)
{
    double nominal = nominal_flow(network);
    if (!(network->flow < STARVED * nominal)) {
        return "";
    }
    return er_say_text(judge, " (and %s at its tapes' nominal flow)",
                       er_say(judge, ER_FLOW, nominal));
}

static void judge_source_flow(struct er_judge *judge, const struct er_network *network, size_t set)
{
    double limit = judge->field->source.flow_limit;
    double flow = network->flow;
    if (!er_given(limit)) {
        return;
    }
    if (er_over(judge, flow, limit)) {
        er_judge_add(judge, ER_SOURCE_FLOW, ER_PLACE_SET, set, flow,
                     "set %zu needs %s%s, the source may give %s: %s too much. Run fewer beds at "
                     "a time (more zones or sets), or take a tape with less flow",
                     set + 1, er_say_beside(judge, ER_FLOW, flow, limit),
                     say_starved(judge, network), er_say(judge, ER_FLOW, limit),
                     er_say(judge, ER_FLOW, flow - limit));
    }
    if (er_over(judge, flow, TIGHT * limit)) {
        er_judge_add(judge, ER_SOURCE_TIGHT, ER_PLACE_SET, set, flow,
                     "set %zu takes %.0f percent of the %s that the source may give. Leave some "
                     "for a dry year, leaks and flushing: make the set smaller",
                     set + 1, 100.0 * flow / limit, er_say(judge, ER_FLOW, limit));
    }
}

void er_judge_supply(struct er_judge *judge, const struct er_network *network, size_t set)
{
    const struct er_field *field = judge->field;
    double first_flow = er_source_first_flow(&field->source);
    double last_flow = er_source_last_flow(&field->source);
    judge_source_flow(judge, network, set);
    if (er_over(judge, network->flow, last_flow)) {
        er_judge_add(judge, ER_CURVE_END, ER_PLACE_SET, set, network->flow,
                     "set %zu draws %s, the source was measured up to %s: what it does beyond is "
                     "a guess. Measure it at a higher flow, or make the set smaller",
                     set + 1, er_say_beside(judge, ER_FLOW, network->flow, last_flow),
                     er_say(judge, ER_FLOW, last_flow));
    }
    if (er_under(judge, network->flow, first_flow)) {
        er_judge_add(judge, ER_CURVE_START, ER_PLACE_SET, set, first_flow - network->flow,
                     "set %zu draws %s, the source's curve starts at %s: the pressure below that "
                     "was taken as level, and is higher, most of all with the valves shut. Read "
                     "the gauge with every valve shut, or ask the pump's maker for its head at no "
                     "flow, and put that in as %s",
                     set + 1, er_say_beside(judge, ER_FLOW, network->flow, first_flow),
                     er_say(judge, ER_FLOW, first_flow),
                     field->source.kind == ER_SOURCE_PUMP ? "source/pump/shutoff"
                                                          : "source/shutoff");
    }
    if (er_below_zero(network->source_pressure)) {
        er_judge_add(judge, ER_MAIN_VACUUM, ER_PLACE_DAY, 0, -network->source_pressure,
                     "the source's outlet stands at %s in set %zu: it is asked for more than it "
                     "gives. Make the set smaller, or find a stronger source",
                     er_say(judge, ER_PRESSURE, network->source_pressure), set + 1);
    }
    for (size_t p = 0; p < field->headworks_count; p++) {
        const struct er_part *part = &field->headworks[p];
        double outlet = p + 1 < field->headworks_count ? network->part_inlets[p + 1]
                                                       : network->headworks_pressure;
        er_judge_part(judge, ER_PLACE_HEADWORKS, p, part, network->part_inlets[p], network->flow,
                      network->dirty);
        if (er_below_zero(outlet)) {
            er_judge_add(judge, ER_MAIN_VACUUM, ER_PLACE_HEADWORKS, p, -outlet,
                         "behind %s in the headworks the pressure is %s. Clean it or take a "
                         "larger one, or find a stronger source",
                         er_say_name(judge, part->name), er_say(judge, ER_PRESSURE, outlet));
        }
    }
}

static void judge_section(struct er_judge *judge, const struct er_network *network, size_t s)
{
    const struct er_section *section = &judge->field->mainline[s];
    const struct er_section_flow *at = &network->sections[s];
    double velocity = at->flow / er_pipe_area(section->pipe->inside_diameter);
    double highest = fmax(at->start_pressure, at->end_pressure);
    if (er_given(section->pipe->max_pressure) &&
        er_over(judge, highest, section->pipe->max_pressure)) {
        er_judge_add(judge, ER_PRESSURE_HIGH, ER_PLACE_SECTION, s, highest,
                     "mainline section %s runs at %s, its pipe is rated for %s. Take a stronger "
                     "pipe, or a regulator before it",
                     er_say_name(judge, section->name),
                     er_say_beside(judge, ER_PRESSURE, highest, section->pipe->max_pressure),
                     er_say(judge, ER_PRESSURE, section->pipe->max_pressure));
    }
    if (er_below_zero(at->end_pressure)) {
        er_judge_add(judge, ER_MAIN_VACUUM, ER_PLACE_SECTION, s, -at->end_pressure,
                     "at the end of mainline section %s the pressure is %s: the pipe draws air. "
                     "Take a wider pipe, a smaller set, or more pressure",
                     er_say_name(judge, section->name),
                     er_say(judge, ER_PRESSURE, at->end_pressure));
    }
    if (er_over(judge, velocity, judge->field->limits.velocity)) {
        er_judge_add(judge, ER_VELOCITY_HIGH, ER_PLACE_SECTION, s, velocity,
                     "water runs at %s in mainline section %s, the limit is %s: it wears the pipe "
                     "and hammers when a valve shuts. Take a wider pipe, or a smaller set",
                     er_say_beside(judge, ER_VELOCITY, velocity, judge->field->limits.velocity),
                     er_say_name(judge, section->name),
                     er_say(judge, ER_VELOCITY, judge->field->limits.velocity));
    }
}

void er_judge_mainline(struct er_judge *judge, const struct er_network *network)
{
    for (size_t s = 0; s < judge->field->section_count; s++) {
        if (network->sections[s].flow > 0.0) {
            judge_section(judge, network, s);
        }
    }
}

static void judge_static_section(struct er_judge *judge, size_t s, double highest)
{
    const struct er_section *section = &judge->field->mainline[s];
    /* No section runs at more than it stands at. */
    const char *what = er_say_text(judge,
                                   "with every valve shut, mainline section %s "
                                   "stands",
                                   er_say_name(judge, section->name));
    er_judge_surge(judge, ER_PLACE_SECTION, s, section->pipe, highest, what);
    if (!er_given(section->pipe->max_pressure) ||
        !er_over(judge, highest, section->pipe->max_pressure)) {
        return;
    }
    er_judge_add(judge, ER_STATIC_HIGH, ER_PLACE_SECTION, s, highest,
                 "with every valve shut, mainline section %s stands at %s, its pipe is rated for "
                 "%s. Take a stronger pipe, or a regulator or relief valve before it",
                 er_say_name(judge, section->name),
                 er_say_beside(judge, ER_PRESSURE, highest, section->pipe->max_pressure),
                 er_say(judge, ER_PRESSURE, section->pipe->max_pressure));
}

void er_judge_static(struct er_judge *judge)
{
    const struct er_field *field = judge->field;
    double slope;
    double pressure = er_source_pressure(&field->source, 0.0, &slope);
    for (size_t p = 0; p < field->headworks_count; p++) {
        const struct er_part *part = &field->headworks[p];
        if (er_given(part->max_pressure) && er_over(judge, pressure, part->max_pressure)) {
            er_judge_add(judge, ER_STATIC_HIGH, ER_PLACE_HEADWORKS, p, pressure,
                         "with every valve shut, %s in the headworks stands at %s, it is rated "
                         "for %s. Take one that is rated higher, or a relief valve before it",
                         er_say_name(judge, part->name),
                         er_say_beside(judge, ER_PRESSURE, pressure, part->max_pressure),
                         er_say(judge, ER_PRESSURE, part->max_pressure));
        }
        if (er_given(part->holds)) {
            pressure = fmin(pressure, part->holds);
        }
    }
    for (size_t s = 0; s < field->section_count; s++) {
        double below = 0.0; /* the start's elevation above the headworks */
        for (size_t up = field->mainline[s].from; up != ER_HEADWORKS;
             up = field->mainline[up].from) {
            below += field->mainline[up].rise;
        }
        double start = pressure - below;
        judge_static_section(judge, s, fmax(start, start - field->mainline[s].rise));
    }
}

static void judge_hours(struct er_judge *judge, const struct er_day_result *day)
{
    double needed = day->hours_needed;
    double available = day->hours_available;
    if (!er_given(needed)) {
        return;
    }
    if (er_over(judge, needed, available)) {
        er_judge_add(judge, ER_HOURS_SHORT, ER_PLACE_DAY, 0, needed,
                     "watering needs %s a day, only %s are allowed. Run more zones at a time if "
                     "the source allows, take a tape with more flow, or water fewer beds",
                     er_say_beside(judge, ER_TIME, needed, available),
                     er_say(judge, ER_TIME, available));
    }
    if (er_over(judge, needed, TIGHT * available)) {
        er_judge_add(judge, ER_HOURS_TIGHT, ER_PLACE_DAY, 0, needed,
                     "watering needs %s a day of the %s allowed: nothing is left for a "
                     "breakdown or a hot week. Leave a tenth of the hours free",
                     er_say_beside(judge, ER_TIME, needed, available),
                     er_say(judge, ER_TIME, available));
    }
}

void er_judge_day(struct er_judge *judge, const struct er_result *result)
{
    const struct er_source *source = &judge->field->source;
    const struct er_day_result *day = &result->day;
    judge_hours(judge, day);
    if (source->kind == ER_SOURCE_PRESSURE && !er_given(source->flow_limit)) {
        er_judge_add(judge, ER_SOURCE_ASSUMED, ER_PLACE_DAY, 0, 1.0,
                     "nobody has measured what flow the source gives at %s. Time how long it "
                     "takes to fill a bucket, read the gauge, and put both in as source/test",
                     er_say(judge, ER_PRESSURE, source->pressure));
    }
    if (!er_given(day->volume)) {
        return;
    }
    double stored = er_given(source->storage) ? source->storage : 0.0;
    double refilled = er_given(source->refill) ? source->refill * ER_DAY : 0.0;
    bool judged = er_given(source->storage) || er_given(source->refill);
    if (judged && er_over(judge, day->volume, stored + refilled)) {
        er_judge_add(judge, ER_STORAGE_SHORT, ER_PLACE_DAY, 0, day->volume,
                     "a day's watering takes %s, storage and a day's refill give %s. Store more, "
                     "water fewer beds, or find a second source",
                     er_say_beside(judge, ER_VOLUME, day->volume, stored + refilled),
                     er_say(judge, ER_VOLUME, stored + refilled));
    }
    if (er_given(day->days_of_supply) && er_under(judge, day->days_of_supply, STORED_DAYS)) {
        er_judge_add(judge, ER_STORAGE_LOW, ER_PLACE_DAY, 0, 1.0,
                     "the storage lasts %s days at the peak need, 14 are wanted for a dry "
                     "spell. Store more, or plan for a second source",
                     er_say_number(judge, day->days_of_supply, STORED_DAYS));
    }
}

void er_judge_suction(struct er_judge *judge, const struct er_result *result)
{
    const struct er_suction_result *suction = &result->suction;
    double required = judge->field->source.suction.npsh_required;
    if (!suction->judged) {
        return;
    }
    if (er_given(required)) {
        if (er_under(judge, suction->npsh_available, required)) {
            er_judge_add(judge, ER_SUCTION_HIGH, ER_PLACE_DAY, 0, 1.0,
                         "the pump has %s of net positive suction head and needs %s: it may "
                         "cavitate. Set it lower, nearer the water, or widen its suction pipe",
                         er_say_beside(judge, ER_HEAD, suction->npsh_available, required),
                         er_say(judge, ER_HEAD, required));
        }
    } else if (er_over(judge, suction->height + suction->friction, suction->practical_lift)) {
        er_judge_add(judge, ER_SUCTION_HIGH, ER_PLACE_DAY, 0, 1.0,
                     "the suction lift with its friction is %s, at this altitude %s is practical. "
                     "Set the pump lower, nearer the water, or widen its suction pipe",
                     er_say_beside(judge, ER_HEAD, suction->height + suction->friction,
                                   suction->practical_lift),
                     er_say(judge, ER_HEAD, suction->practical_lift));
    }
}
