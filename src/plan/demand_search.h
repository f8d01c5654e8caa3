/* The search for the pressure at the source that one set asks for. */
#ifndef ER_PLAN_DEMAND_SEARCH_H
#define ER_PLAN_DEMAND_SEARCH_H

#include "evenrow/demand.h"
#include "hydraulics/network.h"

/* Pressure (m) wanted at the inlet of `tape`; `inlet_pressure` is what the user asks for all
 * tapes, or NAN. */
double er_demand_wanted(const struct er_tape *tape, double inlet_pressure);

/* demand_margin.c: how a solved network stands. */

/* A place of a solved network and how far its pressure is over what it needs. */
struct er_margin {
    double surplus; /* m; INFINITY: there is no such place */
    struct er_demand_place place;
    const struct er_node *node; /* of an inlet or a connector, as is the next */
    const struct er_outlet *outlet;
};

/* The inlet of a zone (by its place in the network) that has the least over what is wanted. */
struct er_margin er_margin_of_inlets(const struct er_network *network, size_t zone,
                                     double inlet_pressure);

/* The part that holds a pressure and has the least over it. */
struct er_margin er_margin_of_regulators(const struct er_network *network);

/* The last part on the way to an inlet that has more pressure than it holds, so that nothing
 * behind it hangs on the source; *holds is what it holds. ER_DEMAND_NOWHERE if there is none. */
struct er_demand_place er_margin_holder(const struct er_network *network,
                                        const struct er_margin *inlet, double *holds);

/* demand_search.c */

/* One set of a field, with a source that holds whatever pressure is tried. Never moved. */
struct er_demand_search {
    struct er_field field; /* shares all but its source with the field it was made from */
    double inlet_pressure;
    struct er_network network;
    bool *blocked; /* the zones of the network whose inlets have no say */
    size_t blocked_count;
    struct er_margin least; /* the worst of the last solution */
    enum er_status status;  /* of the last solution */
    double last_pressure, last_surplus;
};

/* ER_OK, ER_NO_MEMORY or ER_NOT_CLOSED. To be closed in any case. */
enum er_status er_demand_search_open(struct er_demand_search *search, const struct er_field *field,
                                     const struct er_set *set, double inlet_pressure);
void er_demand_search_close(struct er_demand_search *search);

/* Is told of a zone that no source can satisfy: its worst inlet, in the network as it is solved
 * at that moment. */
typedef enum er_status er_demand_blocked(void *context, const struct er_demand_search *search,
                                         const struct er_margin *inlet);

/* Finds the least pressure at which the worst place has just what it needs, and leaves the
 * network solved there. Zones that turn out to be blocked are told and left out; if there are
 * any, or all were blocked before, *duty is all NAN. ER_OK; ER_NO_MEMORY; ER_NOT_CLOSED. */
enum er_status er_demand_search_run(struct er_demand_search *search, bool dirty,
                                    er_demand_blocked *blocked, void *context,
                                    struct er_duty *duty);

/* demand_obstacle.c: fills *obstacle but for its set and dirt. As above. */
enum er_status er_obstacle_describe(const struct er_demand_search *search,
                                    const struct er_margin *inlet, struct er_obstacle *obstacle);

#endif
