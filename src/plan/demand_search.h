/* The search for the pressure at the source that one set asks for. */
#ifndef ER_PLAN_DEMAND_SEARCH_H
#define ER_PLAN_DEMAND_SEARCH_H

#include "evenrow/demand.h"
#include "hydraulics/network.h"

/* How far the worst place of a solved set is from what it needs. */
struct er_margin {
    double surplus; /* m */
    struct er_demand_place place;
};

/* One set of a field, with a source that holds whatever pressure is tried. Never moved. */
struct er_demand_search {
    struct er_field field; /* shares all but its source with the field it was made from */
    const struct er_set *set;
    double inlet_pressure; /* wanted; NAN: each tape's own */
    struct er_network network;
    bool *blocked; /* for each zone of the set: its inlets are left out */
    bool dirty;
    struct er_margin least;
    enum er_status status; /* of the last solution */
    double last_pressure, last_surplus;
};

/* Pressure (m) wanted at the inlet of `tape`. */
double er_demand_wanted(const struct er_tape *tape, double inlet_pressure);

/* ER_OK, ER_NO_MEMORY or ER_NOT_CLOSED. Close it in any case. */
enum er_status er_demand_search_open(struct er_demand_search *search, const struct er_field *field,
                                     const struct er_set *set, double inlet_pressure);

/* Is told of a zone that can't have what is wanted, the network being solved, and how short its
 * worst inlet is (m); the zone is left out from then on. */
typedef enum er_status er_demand_blocked(void *context, struct er_demand_search *search,
                                         size_t zone, const struct er_margin *shortfall);

/* Finds the least pressure that will do, and leaves the network solved there. Zones that are
 * blocked already have no say. ER_OK; ER_NO_MEMORY; ER_NOT_CLOSED. */
enum er_status er_demand_search_run(struct er_demand_search *search, bool dirty,
                                    er_demand_blocked *blocked, void *context,
                                    struct er_duty *duty);

/* Whether the pressure at the place of a regulator is more than it holds, so that nothing behind
 * it hangs on the source. *behind: the pressure behind it, m. */
bool er_demand_held(const struct er_demand_search *search, size_t zone,
                    const struct er_demand_place *place);

void er_demand_search_close(struct er_demand_search *search);

#endif
