/* A zone solved once more and kept, for showing how its figures come about. */
#ifndef ER_CHECK_WORKED_H
#define ER_CHECK_WORKED_H

#include "evenrow/check.h"
#include "hydraulics/evenness.h"
#include "hydraulics/network.h"

/* A row of tape and what stands at its ends. */
struct er_worked_row {
    struct er_run run;
    double inlet_pressure, flow;
    double first_pressure, first_flow; /* at its first emitter */
    double last_pressure, last_flow;
    struct er_range emitter_flow; /* over all */
};

/* The row of a solved state. */
struct er_worked_row er_worked_row_make(const struct er_run *run, const struct er_run_state *state);

struct er_worked_zone {
    struct er_network network; /* of its set, with clean filters */
    const struct er_zone_network *zone;
    const struct er_zone_result *result;
    const struct er_outlet *outlet; /* the bed whose far end has the lowest pressure */
    const struct er_arm *arm;       /* it stands on this one, */
    size_t node;                    /* at this place */
    struct er_evenness even;
    struct er_worked_row row;
};

/* The zone with the lowest emission uniformity; where none has any, the first. */
size_t er_least_even_zone(const struct er_result *result);

/* Solves a zone of a checked field again, with its set. ER_OK; ER_NO_MEMORY; ER_NOT_CLOSED, which
 * a field that was checked does not come to. Release in any case, and never move it. */
enum er_status er_worked_zone_open(const struct er_result *result, size_t zone,
                                   struct er_worked_zone *worked);
void er_worked_zone_release(struct er_worked_zone *worked);

#endif
