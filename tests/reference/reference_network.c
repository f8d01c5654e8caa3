/* Lays a set's zones out as a tree of junctions: supply, leads, headers, tapes. */
#include "reference_network.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "reference_laws.h"

void *reference_room(size_t count, size_t size)
{
    void *room = calloc(count ? count : 1, size);
    if (!room) {
        fputs("no memory for the reference solution\n", stderr);
        abort();
    }
    return room;
}

/* Room for one more of an array of `count` objects; returns the array. */
static void *grown(void *array, size_t count, size_t *room, size_t size)
{
    if (count < *room) {
        return array;
    }
    *room = *room ? 2 * *room : 64;
    array = realloc(array, *room * size);
    if (!array) {
        fputs("no memory for the reference solution\n", stderr);
        abort();
    }
    return array;
}

size_t reference_network_add(struct reference_network *network, struct reference_node node)
{
    network->nodes = grown(network->nodes, network->node_count, &network->node_room, sizeof(node));
    network->nodes[network->node_count] = node;
    return network->node_count++;
}

static size_t add_pipe(struct reference_network *network, size_t parent, double resistance,
                       double rise)
{
    return reference_network_add(network, (struct reference_node){.parent = parent,
                                                                  .link = REFERENCE_PIPE,
                                                                  .resistance = resistance,
                                                                  .rise = rise,
                                                                  .times = 1});
}

/* The junction behind a part; without the part its own inlet. */
static size_t add_part(struct reference_network *network, size_t parent, const struct er_part *part)
{
    if (!part) {
        return parent;
    }
    return reference_network_add(
        network, (struct reference_node){
                     .parent = parent, .link = REFERENCE_PART, .part = part, .times = 1});
}

static void add_run(struct reference_network *network, struct reference_run run)
{
    network->runs = grown(network->runs, network->run_count, &network->run_room, sizeof(run));
    network->runs[network->run_count++] = run;
}

static void add_span(struct reference_network *network, struct reference_span span)
{
    network->spans = grown(network->spans, network->span_count, &network->span_room, sizeof(span));
    network->spans[network->span_count++] = span;
}

static double pipe_resistance(const struct er_pipe *pipe, double length)
{
    return reference_resistance(length, pipe->inside_diameter, pipe->c);
}

double reference_elevation(const struct er_ground *ground, double distance)
{
    if (ground->count == 0) {
        return ground->slope * distance;
    }
    size_t end = 1;
    while (end + 1 < ground->count && distance > ground->points[end].at) {
        end++;
    }
    const struct er_point *from = &ground->points[end - 1], *to = &ground->points[end];
    double along = (distance - from->at) / (to->at - from->at);
    return from->value + along * (to->value - from->value) - ground->points[0].value;
}

struct bed {
    double distance; /* m from the first bed */
    const struct er_bed_group *group;
    size_t index; /* in its group */
    size_t place; /* along the header */
};

/* The air behind an open end, as an emitter that lets everything pass with hardly a pressure: 1e-8
 * m at 0.1 L/s. */
static const struct er_tape AIR = {.emitter_flow = 1e-4,
                                   .at_pressure = 1e-8,
                                   .exponent = 0.5,
                                   .holds_from = ER_NONE,
                                   .holds_to = ER_NONE};

/* One tape of `length` m that leaves the header at `node`, as are `tapes` of the bed. */
static void add_alike(struct reference_network *network, size_t zone, size_t node,
                      const struct bed *bed, double length, bool second_side, size_t tapes,
                      bool open_end)
{
    if (tapes == 0) {
        return;
    }
    const struct er_bed_group *group = bed->group;
    const struct er_ground *ground = second_side ? &group->other_ground : &group->ground;
    const struct er_tape *tape = group->tape;
    double spacing = tape->emitter_spacing;
    size_t count = (size_t)floor(length / spacing + 1e-9);
    size_t inlet =
        tape->connector ? add_part(network, node, tape->connector) : add_pipe(network, node, 0, 0);
    network->nodes[inlet].times = (double)tapes;
    size_t last = inlet;
    double height = 0;
    for (size_t emitter = 0; emitter < count; emitter++) {
        double reach = (emitter == 0 ? 0.5 * spacing : spacing) + tape->emitter_loss;
        double here = reference_elevation(ground, ((double)emitter + 0.5) * spacing);
        double resistance = reference_resistance(reach, tape->inside_diameter, tape->c);
        last = add_pipe(network, last, resistance, here - height);
        network->nodes[last].tape = tape;
        height = here;
    }
    if (open_end) {
        double rest = length - ((double)count - 0.5) * spacing;
        double resistance = reference_resistance(rest, tape->inside_diameter, tape->c);
        last = add_pipe(network, last, resistance, reference_elevation(ground, length) - height);
        network->nodes[last].tape = &AIR;
    }
    add_run(network, (struct reference_run){.zone = zone,
                                            .inlet = inlet,
                                            .first = inlet + 1,
                                            .count = count,
                                            .tapes = tapes,
                                            .open_end = open_end,
                                            .bed = bed->place,
                                            .second_side = second_side,
                                            .length = length,
                                            .ground = ground});
}

/* A bed's tapes on one side of the header, `open` of them with their ends open. */
static void add_tape(struct reference_network *network, size_t zone, size_t node,
                     const struct bed *bed, double length, bool second_side, size_t open)
{
    add_alike(network, zone, node, bed, length, second_side, bed->group->tapes - open, false);
    add_alike(network, zone, node, bed, length, second_side, open, true);
}

static double bed_length(const struct er_bed_group *group, size_t index)
{
    if (group->count == 1) {
        return group->length;
    }
    double along = (double)index / (double)(group->count - 1);
    return group->length + along * (group->last_length - group->length);
}

static void add_bed(struct reference_network *network, size_t zone, size_t node,
                    const struct bed *bed)
{
    double length = bed_length(bed->group, bed->index);
    const size_t *open = network->open ? &network->open[2 * bed->place] : (const size_t[]){0, 0};
    add_tape(network, zone, node, bed, length, false, open[0]);
    if (bed->group->both_sides) {
        double other = bed->group->other_length * (length / bed->group->length);
        add_tape(network, zone, node, bed, other, true, open[1]);
    }
}

/* The zone's beds in order along the header; the caller frees them. */
static struct bed *place_beds(const struct er_zone *zone, size_t *count)
{
    *count = 0;
    for (size_t g = 0; g < zone->group_count; g++) {
        *count += zone->groups[g].count;
    }
    struct bed *beds = reference_room(*count, sizeof(*beds));
    size_t place = 0;
    double start = 0;
    for (size_t g = 0; g < zone->group_count; g++) {
        const struct er_bed_group *group = &zone->groups[g];
        if (g > 0) {
            const struct er_bed_group *before = &zone->groups[g - 1];
            start += (double)(before->count - 1) * before->spacing +
                     0.5 * (before->spacing + group->spacing) + group->gap;
        }
        for (size_t index = 0; index < group->count; index++) {
            beds[place] = (struct bed){start + (double)index * group->spacing, group, index, place};
            place++;
        }
    }
    return beds;
}

static double feed_distance(const struct er_header *header, double last)
{
    switch (header->feed) {
    case ER_FEED_FIRST:
        return 0;
    case ER_FEED_LAST:
        return last;
    case ER_FEED_MIDDLE:
        return 0.5 * last;
    case ER_FEED_AT:
        break;
    }
    return header->feed_distance;
}

/* The stretch of header from `near` to `far`, both counted outward from the feed point. A
 * sliver of pipe that rounding has left over has a friction, but its velocity is nobody's. */
static size_t add_stretch(struct reference_network *network, size_t zone, size_t parent,
                          const struct er_header *header, double near, double far, double rise)
{
    double resistance = 0, start = 0, smallest = ER_ENDLESS;
    for (size_t piece = 0; piece < header->piece_count; piece++) {
        const struct er_pipe *pipe = header->pieces[piece].pipe;
        double end = piece + 1 < header->piece_count ? start + header->pieces[piece].length : far;
        double length = fmin(far, end) - fmax(near, start);
        if (length > 0) {
            resistance += pipe_resistance(pipe, length);
        }
        if (length > 1e-9) {
            smallest = fmin(smallest, pipe->inside_diameter);
        }
        start = end;
    }
    size_t node = add_pipe(network, parent, resistance, rise);
    add_span(network, (struct reference_span){zone, node, smallest});
    return node;
}

/* Beds on one side of the feed point, from it outward: `step` +1 goes toward the last bed. */
static void add_side(struct reference_network *network, size_t zone, size_t inlet, double feed,
                     const struct bed *beds, size_t count, int step)
{
    const struct er_header *header = &network->field->zones[zone].header;
    size_t node = inlet;
    double near = 0, height = reference_elevation(&header->ground, feed);
    for (size_t i = 0; i < count; i++) {
        const struct bed *bed = step > 0 ? &beds[i] : &beds[count - 1 - i];
        bool mine = step > 0 ? bed->distance >= feed : bed->distance < feed;
        if (!mine) {
            continue;
        }
        double far = fabs(bed->distance - feed);
        double here = reference_elevation(&header->ground, bed->distance);
        node = add_stretch(network, zone, node, header, near, far, here - height);
        add_bed(network, zone, node, bed);
        near = far;
        height = here;
    }
}

static void add_header(struct reference_network *network, size_t zone_index)
{
    const struct er_zone *zone = &network->field->zones[zone_index];
    size_t count = 0;
    struct bed *beds = place_beds(zone, &count);
    double feed = feed_distance(&zone->header, beds[count - 1].distance);
    size_t inlet = network->zone_inlet[zone_index];
    add_side(network, zone_index, inlet, feed, beds, count, +1);
    add_side(network, zone_index, inlet, feed, beds, count, -1);
    free(beds);
}

/* Lead and rise, from the join to the feed point. */
static size_t add_lead(struct reference_network *network, size_t zone_index, size_t parent)
{
    const struct er_zone *zone = &network->field->zones[zone_index];
    const struct er_pipe *pipe = zone->header.pieces[0].pipe;
    double lead = zone->header.lead;
    size_t node = add_pipe(network, parent, pipe_resistance(pipe, lead), zone->rise);
    if (lead > 0) {
        add_span(network, (struct reference_span){zone_index, node, pipe->inside_diameter});
    }
    return node;
}

static void add_zone(struct reference_network *network, size_t zone_index)
{
    const struct er_zone *zone = &network->field->zones[zone_index];
    size_t node =
        zone->on == ER_HEADWORKS ? network->headworks_outlet : network->section_end[zone->on];
    network->zone_join[zone_index] = node;
    node = add_part(network, node, zone->valve);
    network->zone_valve_outlet[zone_index] = node;
    if (!zone->regulator_at_header) {
        node = add_part(network, node, zone->regulator);
    }
    node = add_lead(network, zone_index, node);
    if (zone->regulator_at_header) {
        node = add_part(network, node, zone->regulator);
    }
    network->zone_inlet[zone_index] = node;
    add_header(network, zone_index);
}

/* Source, headworks and the whole mainline, also branches that lead to no zone of the set. */
static void add_supply(struct reference_network *network)
{
    const struct er_field *field = network->field;
    size_t node = reference_network_add(
        network, (struct reference_node){.link = REFERENCE_SOURCE, .times = 1});
    for (size_t part = 0; part < field->headworks_count; part++) {
        node = add_part(network, node, &field->headworks[part]);
    }
    network->headworks_outlet = node;
    for (size_t s = 0; s < field->section_count; s++) {
        const struct er_section *section = &field->mainline[s];
        size_t parent = section->from == ER_HEADWORKS ? network->headworks_outlet
                                                      : network->section_end[section->from];
        double length = section->length * (1 + section->fittings);
        network->section_end[s] =
            add_pipe(network, parent, pipe_resistance(section->pipe, length), section->rise);
    }
}

/* Each link's flow if every emitter gave its nominal flow: parents stand before children. */
void reference_network_sum_flows(struct reference_network *network)
{
    for (size_t place = 0; place < network->node_count; place++) {
        network->nodes[place].nominal_flow = 0;
    }
    for (size_t place = network->node_count; place-- > 0;) {
        struct reference_node *node = &network->nodes[place];
        if (node->tape) {
            node->nominal_flow += node->tape->emitter_flow;
        }
        if (place > 0) {
            network->nodes[node->parent].nominal_flow += node->times * node->nominal_flow;
        }
    }
}

void reference_network_build(struct reference_network *network, const struct er_field *field,
                             const struct er_set *set)
{
    reference_network_build_open(network, field, set, NULL);
}

void reference_network_build_open(struct reference_network *network, const struct er_field *field,
                                  const struct er_set *set, const size_t *open)
{
    *network = (struct reference_network){.field = field, .open = open};
    network->section_end = reference_room(field->section_count, sizeof(size_t));
    network->zone_join = reference_room(field->zone_count, sizeof(size_t));
    network->zone_valve_outlet = reference_room(field->zone_count, sizeof(size_t));
    network->zone_inlet = reference_room(field->zone_count, sizeof(size_t));
    add_supply(network);
    for (size_t z = 0; z < set->zone_count; z++) {
        add_zone(network, set->zones[z]);
    }
    reference_network_sum_flows(network);
}

void reference_network_release(struct reference_network *network)
{
    free(network->nodes);
    free(network->runs);
    free(network->spans);
    free(network->section_end);
    free(network->zone_join);
    free(network->zone_valve_outlet);
    free(network->zone_inlet);
    *network = (struct reference_network){0};
}
