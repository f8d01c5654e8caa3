/* The junctions of one set of zones and what joins them, as a tree from the source. */
#ifndef REFERENCE_NETWORK_H
#define REFERENCE_NETWORK_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/field.h"

enum reference_link { REFERENCE_SOURCE, REFERENCE_PIPE, REFERENCE_PART };

/* A junction, with the one link that brings its water from its parent. The root is the
 * source's outlet. A junction with a tape is an emitter of that tape. */
struct reference_node {
    size_t parent; /* always a lower place; the root's is its own */
    enum reference_link link;
    double resistance; /* of a pipe */
    double rise;       /* m, of a pipe: this junction above its parent */
    const struct er_part *part;
    double times; /* how many such links leave the parent: a bed's tapes are all alike */
    const struct er_tape *tape;
    double nominal_flow; /* m3/s through the link if all emitters gave their nominal flow */
};

/* One tape: its emitters are `count` nodes in a row from `first`; where its end is open to the air,
 * that is the node behind them. */
struct reference_run {
    size_t zone, inlet, first, count, tapes;
    bool open_end;
    size_t bed; /* from 0 along the header */
    bool second_side;
    double length; /* m */
    const struct er_ground *ground;
};

/* A stretch of lead or header, the velocity in which counts. */
struct reference_span {
    size_t zone, node;
    double smallest_diameter; /* m; ER_ENDLESS for a stretch without length */
};

struct reference_network {
    const struct er_field *field;
    size_t node_count, node_room;
    struct reference_node *nodes;
    size_t run_count, run_room;
    struct reference_run *runs;
    size_t span_count, span_room;
    struct reference_span *spans;
    size_t headworks_outlet;
    size_t *section_end; /* node at each mainline section's end */
    size_t *zone_join;   /* of the field's zones; only those of the set are filled in */
    size_t *zone_valve_outlet;
    size_t *zone_inlet;
    const size_t *open; /* while it is built: see reference_network_build_open */
};

/* Room for `count` objects of `size` bytes, all zero. Ends the program without memory. */
void *reference_room(size_t count, size_t size);

void reference_network_build(struct reference_network *network, const struct er_field *field,
                             const struct er_set *set);

/* The same, with tape ends open to the air: of bed b (along the header, from 0) open[2 b] tapes on
 * the first side, open[2 b + 1] on the second. For a set of one zone. */
void reference_network_build_open(struct reference_network *network, const struct er_field *field,
                                  const struct er_set *set, const size_t *open);

/* Elevation above a line's start, `distance` m along it. */
double reference_elevation(const struct er_ground *ground, double distance);

/* For changes to a network: adds a junction behind those that are there; sums up the nominal
 * flows once all are there. */
size_t reference_network_add(struct reference_network *network, struct reference_node node);
void reference_network_sum_flows(struct reference_network *network);

void reference_network_release(struct reference_network *network);

#endif
