/* One set of zones with all that feeds it, solved together.
 *
 * A header is a pipe with outlets, as a tape is: from the feed point one arm goes toward the
 * first bed and one toward the last, and each is found from its far end. A zone then stands
 * where the pressure that its header wants at the feed point is the pressure that the supply
 * has left for it. */
#ifndef ER_HYDRAULICS_NETWORK_H
#define ER_HYDRAULICS_NETWORK_H

#include "evenrow/field.h"
#include "evenrow/status.h"
#include "hydraulics/response_pool.h"

/* Tapes of one bed on one side of the header. They are alike; figures are one tape's. */
struct er_outlet {
    size_t response;
    const struct er_part *connector; /* NULL: none */
    double tapes;                    /* 0: none at the moment */
    double length;                   /* m */
    const struct er_bed_group *group;
    size_t bed; /* position along the header, from 0 */
    bool second_side;
    double inlet_pressure; /* after the connector */
    double flow;
    struct er_run_state state;
    struct er_range emitter_pressure; /* filled by er_evenness_measure */
};

/* A bed's place on the header. */
struct er_node {
    double rise;       /* m above the feed point */
    double reach_rise; /* m above the node before it, or the feed point */
    double distance;   /* m from the feed point */
    double resistance; /* of the reach to here, at 1 m3/s */
    size_t first_outlet, outlet_count;
    double pressure;
    double reach_flow;
};

/* The header on one side of the feed point, outward. */
struct er_arm {
    size_t node_count;
    struct er_node *nodes;
    size_t reached;      /* nodes that water reaches; all, but in a header far too long */
    double dry_pressure; /* at the feed point, at or below it nothing flows */
    double flow, flow_slope;
};

/* What a zone's supply does on its way from the join to the feed point. */
struct er_way {
    double join_pressure;
    double valve_inlet, regulator_inlet;
    double lead_start, lead_end;
    double left;  /* pressure left at the feed point */
    double slope; /* d left / d the zone's own flow, by its own parts */
    double pass;  /* d left / d join_pressure */
};

struct er_zone_network {
    const struct er_zone *zone;
    struct er_arm arms[2]; /* toward the first bed, toward the last */
    size_t outlet_count;
    struct er_outlet *outlets;
    double inlet_pressure; /* at the feed point */
    double flow, flow_slope;
    struct er_way way;
    double feed_at; /* m from the first bed */
};

struct er_section_flow {
    double flow, slope; /* slope: d loss / d flow */
    double start_pressure, end_pressure;
};

struct er_network {
    const struct er_field *field;
    bool dirty; /* filters as they are when due for cleaning */
    struct er_arena arena;
    size_t zone_count;
    struct er_zone_network *zones;
    struct er_response_pool *pool;    /* what the outlets' responses are found in */
    struct er_response_pool own_pool; /* empty where another is shared */
    struct er_section_flow *sections; /* one for each of the field's sections */
    double flow;
    double source_pressure;
    double *part_inlets; /* one for each part of the headworks */
    double headworks_pressure, headworks_slope;
    double *scratch; /* for Newton's steps */
    struct er_failure failure;
};

/* Makes ready to solve the zones of `set`. `pool` is shared with other networks; NULL: it has
 * its own. ER_OK, ER_NO_MEMORY, or ER_NOT_CLOSED. Release in any case, and never move it. */
enum er_status er_network_open(const struct er_field *field, const struct er_set *set,
                               struct er_response_pool *pool, struct er_network *network);

/* Solves for all pressures and flows. ER_OK; ER_NO_MEMORY; ER_NOT_CLOSED with
 * network->failure filled but for its name. May be called again with another `dirty`. */
enum er_status er_network_solve(struct er_network *network, bool dirty);

/* The same by the pool's responses alone, without a walk for each outlet: flows and pressures
 * are right within some 1e-7, and no outlet has a state. ER_NOT_CLOSED also where a
 * response can't be learnt well enough. For plans by the thousand; er_network_solve has the
 * last word. */
enum er_status er_network_estimate(struct er_network *network, bool dirty);

void er_network_release(struct er_network *network);

/* The steps that er_network_solve is made of. */

/* Sets the flows of a zone's outlets and nodes for `inlet_pressure` at its feed point. */
void er_zone_respond(struct er_network *network, struct er_zone_network *zone,
                     double inlet_pressure);

/* Sets everything upstream of the feed points from the zones' flows. */
void er_supply_update(struct er_network *network);

/* d left of zone a / d flow of zone b, as er_supply_update left them. */
double er_supply_slope(const struct er_network *network, size_t a, size_t b);

/* Closes supply and zones on each other, with the responses as they are. */
void er_balance(struct er_network *network);

/* Calls `visit` for each stretch of one pipe between two distances from the feed point.
 * Stretches too short to be meant (1e-9 m: two places that are one) do not exist. */
typedef void er_piece_visit(void *context, const struct er_pipe *pipe, double from, double to);
void er_header_pieces(const struct er_header *header, double from, double to, er_piece_visit *visit,
                      void *context);

/* Calls `visit` for every pipe of a solved zone that carries water, lead and header, with its
 * flow and the pressures at its ends. */
typedef void er_pipe_visit(void *context, const struct er_pipe *pipe, double flow,
                           double start_pressure, double end_pressure);
void er_zone_pipes(const struct er_zone_network *zone, er_pipe_visit *visit, void *context);

/* How far an outlet's inlet pressure and its node's, put through the connector, are apart. */
double er_outlet_gap(const struct er_network *network, const struct er_outlet *outlet,
                     double node_pressure);

#endif
