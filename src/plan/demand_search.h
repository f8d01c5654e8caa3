/* The search for the pressure at the source that one set asks for. */
#ifndef ER_PLAN_DEMAND_SEARCH_H
#define ER_PLAN_DEMAND_SEARCH_H

#include "evenrow/demand.h"
#include "hydraulics/network.h"

/* Pressure (m) wanted at the inlet of `tape`; `inlet_pressure` is what the user asks for all
 * tapes, or NAN. */
double er_demand_wanted(const struct er_tape *tape, double inlet_pressure);

/* demand_margin.c: how a solved network stands. */

/* A place of a solved network that needs a pressure. */
struct er_margin {
    double pressure, wanted; /* m; a regulator's: its inlet's less its loss, and what it holds */
    double surplus;          /* m, the one less the other; INFINITY: there is no such place */
    struct er_demand_place place;
    const struct er_node *node; /* of an inlet or a connector, as is the next */
    const struct er_outlet *outlet;
};

/* Places that have no say, by er_place_index. */
size_t er_place_count(const struct er_field *field);
size_t er_place_index(const struct er_field *field, const struct er_demand_place *place);

/* The place that has the least over what it needs, of those that are not left out. */
struct er_margin er_margin_least(const struct er_network *network, double inlet_pressure,
                                 const bool *left_out);

/* The last part on the way to a place that has more pressure than it holds, so that nothing
 * behind it hangs on the source; *holds is what it holds. ER_DEMAND_NOWHERE if there is none. */
struct er_demand_place er_margin_holder(const struct er_network *network,
                                        const struct er_margin *margin, double *holds);

/* demand_search.c */

/* One set of a field, with a source that holds whatever pressure is tried. Never moved. */
struct er_demand_search {
    struct er_field field; /* shares all but its source with the field it was made from */
    const struct er_set *set;
    double inlet_pressure;
    struct er_network network;
    struct er_arena arena;
    bool *left_out;         /* places that have no say */
    struct er_margin least; /* the worst of the last solution */
    enum er_status status;  /* of the last solution */
    double last_pressure, last_surplus;
};

/* ER_OK, ER_NO_MEMORY or ER_NOT_CLOSED. To be closed in any case. */
enum er_status er_demand_search_open(struct er_demand_search *search, const struct er_field *field,
                                     const struct er_set *set, double inlet_pressure);
void er_demand_search_close(struct er_demand_search *search);

/* Is told of a place that no source can satisfy, in the network as it is solved at that moment;
 * it is left out from then on. */
typedef enum er_status er_demand_blocked(void *context, const struct er_demand_search *search,
                                         const struct er_margin *margin);

/* Finds the least pressure at which the worst place has just what it needs, and leaves the
 * network solved there; where a place was left out on the way, *duty is all NAN.
 * ER_OK; ER_NO_MEMORY; ER_NOT_CLOSED. */
enum er_status er_demand_search_run(struct er_demand_search *search, bool dirty,
                                    er_demand_blocked *blocked, void *context,
                                    struct er_duty *duty);

/* The same for one place alone, whatever the others have, and also with a pressure below zero;
 * *found: the network is solved there. */
enum er_status er_demand_search_place(struct er_demand_search *search, bool dirty,
                                      const struct er_demand_place *place, bool *found);

/* demand_obstacle.c: fills *obstacle but for its set and dirt. As above. */
enum er_status er_demand_obstacle_describe(const struct er_demand_search *search,
                                           const struct er_margin *margin,
                                           struct er_demand_obstacle *obstacle);

#endif
