/* Whether opened tapes flush, learnt once for all plans that have such rows. */
#ifndef ER_CHECK_FLUSHED_H
#define ER_CHECK_FLUSHED_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/hydraulics.h"

/* The more pressure at a row's inlet, the faster it flushes: what has been tried below and above
 * says most of what is asked. */
struct er_flushed_run {
    struct er_run run;
    double too_low; /* m; the highest pressure that was too low */
    double enough;  /* m; the lowest that was enough */
};

/* The rows of one tape; those of another take their place. All zeros knows nothing. */
struct er_flushed {
    size_t count, room, next; /* next: where the row asked for next is likely to be */
    struct er_flushed_run *runs;
};

/* Whether all of a zone's tapes, opened one by one with `inlet_pressure` m at their inlets, flush
 * at `velocity` m/s or more; the same velocity in all calls. *close_call is set where that is too
 * close to tell. ER_OK, or ER_NO_MEMORY. */
enum er_status er_flushed_zone(struct er_flushed *flushed, const struct er_zone *zone,
                               double inlet_pressure, double velocity, bool *flushes,
                               bool *close_call);

void er_flushed_release(struct er_flushed *flushed);

#endif
