/* Travel times: the volume of every piece of pipe over the flow in it. */
#include "hydraulics/travel.h"

#include <math.h>

static double pipe_volume(const struct er_pipe *pipe, double length)
{
    return er_pipe_area(pipe->inside_diameter) * length;
}

struct run_walk {
    const struct er_run *run;
    double flow; /* in the reach that ends at the emitter that is visited */
    struct er_run_travel travel;
};

static void pass_emitter(void *context, size_t emitter, double pressure, double flow)
{
    struct run_walk *walk = context;
    const struct er_tape *tape = walk->run->tape;
    (void)pressure;
    walk->flow += flow;
    walk->travel.dry += !(flow > 0.0);
    if (!(walk->flow > 0.0)) {
        return; /* nothing moves so far out */
    }
    double length = emitter > 0 ? tape->emitter_spacing : walk->run->first_reach;
    double time = er_pipe_area(tape->inside_diameter) * length / walk->flow;
    walk->travel.last += time;
    if (emitter == 0) {
        walk->travel.first = time;
    }
}

struct er_run_travel er_run_travel_time(const struct er_run *run, const struct er_run_state *state)
{
    struct run_walk walk = {.run = run, .travel = {.first = ER_ENDLESS}};
    er_run_visit(run, state, pass_emitter, &walk);
    if (!(walk.flow > 0.0)) {
        walk.travel.last = ER_ENDLESS;
    }
    return walk.travel;
}

/* What the tapes of a group hold, to their ends. */
static double tapes_volume(const struct er_bed_group *group)
{
    double length = 0.0;
    for (size_t bed = 0; bed < group->count; bed++) {
        length += er_bed_length(group, bed, false);
        length += group->both_sides ? er_bed_length(group, bed, true) : 0.0;
    }
    return er_pipe_area(group->tape->inside_diameter) * length * (double)group->tapes;
}

/* Seconds in the mainline, from the headworks to where a zone joins. */
static double mainline_time(const struct er_network *network, const struct er_zone *zone)
{
    const struct er_section *sections = network->field->mainline;
    double time = 0.0;
    for (size_t s = zone->on; s != ER_HEADWORKS; s = sections[s].from) {
        time += pipe_volume(sections[s].pipe, sections[s].length) / network->sections[s].flow;
    }
    return time;
}

struct header_walk {
    double volume; /* of the reach between two rows */
};

static void add_volume(void *context, const struct er_pipe *pipe, double from, double to)
{
    struct header_walk *walk = context;
    walk->volume += pipe_volume(pipe, to - from);
}

/* A row that the water reaches `header` s after the zone's join. */
static void take_row(const struct er_network *network, const struct er_outlet *outlet,
                     double header, struct er_travel *travel)
{
    const struct er_run *run = &network->pool->responses[outlet->response].run;
    struct er_run_travel tape = er_run_travel_time(run, &outlet->state);
    travel->rows += outlet->tapes;
    if (tape.dry > 0) {
        travel->dry_rows += outlet->tapes;
        return;
    }
    double here = travel->mainline + header;
    travel->earliest = fmin(travel->earliest, here + tape.first);
    if (here + tape.last <= travel->latest) {
        return;
    }
    travel->latest = here + tape.last;
    travel->header = header;
    travel->tape = tape.last;
    travel->bed = outlet->bed;
    travel->second_side = outlet->second_side;
}

static void walk_arm(const struct er_network *network, const struct er_zone_network *zone,
                     const struct er_arm *arm, double lead, struct er_travel *travel)
{
    double from = 0.0;
    double time = lead;
    for (size_t n = 0; n < arm->node_count; n++) {
        const struct er_node *node = &arm->nodes[n];
        struct header_walk reach = {0.0};
        er_header_pieces(&zone->zone->header, from, node->distance, add_volume, &reach);
        from = node->distance;
        travel->volume += reach.volume;
        if (reach.volume > 0.0) {
            time += node->reach_flow > 0.0 ? reach.volume / node->reach_flow : ER_ENDLESS;
        }
        for (size_t o = 0; o < node->outlet_count; o++) {
            take_row(network, &zone->outlets[node->first_outlet + o], time, travel);
        }
    }
}

void er_travel_measure(const struct er_network *network, const struct er_zone_network *zone,
                       struct er_travel *travel)
{
    const struct er_header *header = &zone->zone->header;
    double lead = pipe_volume(header->pieces[0].pipe, header->lead);
    bool flows = zone->flow > 0.0;
    *travel = (struct er_travel){.earliest = ER_ENDLESS, .latest = -1.0, .volume = lead};
    for (size_t g = 0; g < zone->zone->group_count; g++) {
        travel->volume += tapes_volume(&zone->zone->groups[g]);
    }
    travel->mainline = flows ? mainline_time(network, zone->zone) : ER_ENDLESS;
    double lead_time = flows ? lead / zone->flow : ER_ENDLESS;
    walk_arm(network, zone, &zone->arms[0], lead_time, travel);
    walk_arm(network, zone, &zone->arms[1], lead_time, travel);
    if (travel->latest < 0.0) {
        travel->earliest = travel->latest = travel->mainline = travel->header = travel->tape =
            ER_NONE;
    }
}

double er_mainline_volume(const struct er_network *network)
{
    const struct er_section *sections = network->field->mainline;
    double volume = 0.0;
    for (size_t s = 0; s < network->field->section_count; s++) {
        if (network->sections[s].flow > 0.0) {
            volume += pipe_volume(sections[s].pipe, sections[s].length);
        }
    }
    return volume;
}
