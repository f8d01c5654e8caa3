/* The pipes of a header, stretch by stretch, outward from the feed point. */
#include <math.h>

#include "hydraulics/network.h"

/* m. Where a piece ends at a bed the sums that lead there differ in their last digits: what lies
 * between is no pipe, and would be drawn and counted as one. */
#define NO_STRETCH 1e-9

void er_header_pieces(const struct er_header *header, double from, double to, er_piece_visit *visit,
                      void *context)
{
    double piece_start = 0.0;
    for (size_t p = 0; p < header->piece_count; p++) {
        bool last = p + 1 == header->piece_count;
        double piece_end = piece_start + header->pieces[p].length;
        double start = fmax(from, piece_start);
        double end = last ? to : fmin(to, piece_end);
        if (end - start > NO_STRETCH) {
            visit(context, header->pieces[p].pipe, start, end);
        }
        piece_start = piece_end;
    }
}

struct stretch {
    const struct er_zone_network *zone;
    double direction; /* 1 toward the last bed, -1 toward the first */
    double flow;
    double pressure, elevation; /* where the stretches passed so far end */
    er_pipe_visit *visit;
    void *context;
};

static void pass_stretch(void *context, const struct er_pipe *pipe, double from, double to)
{
    struct stretch *at = context;
    const struct er_ground *ground = &at->zone->zone->header.ground;
    double elevation =
        er_ground_elevation(ground, fmax(0.0, at->zone->feed_at + at->direction * to));
    double end_pressure = at->pressure - (elevation - at->elevation) -
                          er_friction_head(at->flow, to - from, pipe->c, pipe->inside_diameter);
    at->visit(at->context, pipe, at->flow, at->pressure, end_pressure);
    at->pressure = end_pressure;
    at->elevation = elevation;
}

static void visit_arm(const struct er_zone_network *zone, const struct er_arm *arm,
                      struct stretch *at)
{
    double from = 0.0;
    at->pressure = zone->inlet_pressure;
    at->elevation = er_ground_elevation(&zone->zone->header.ground, zone->feed_at);
    for (size_t n = 0; n < arm->node_count && arm->nodes[n].reach_flow > 0.0; n++) {
        at->flow = arm->nodes[n].reach_flow;
        er_header_pieces(&zone->zone->header, from, arm->nodes[n].distance, pass_stretch, at);
        from = arm->nodes[n].distance;
    }
}

void er_zone_pipes(const struct er_zone_network *zone, er_pipe_visit *visit, void *context)
{
    const struct er_header *header = &zone->zone->header;
    if (!(zone->flow > 0.0)) {
        return;
    }
    if (header->lead > 0.0) {
        visit(context, header->pieces[0].pipe, zone->flow, zone->way.lead_start,
              zone->way.lead_end);
    }
    struct stretch at = {.zone = zone, .visit = visit, .context = context};
    at.direction = -1.0;
    visit_arm(zone, &zone->arms[0], &at);
    at.direction = 1.0;
    visit_arm(zone, &zone->arms[1], &at);
}
