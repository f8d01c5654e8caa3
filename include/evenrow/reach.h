/* How long may a row be?
 *
 * One row of a tape, its inlet held at one pressure: the longest that keeps all
 * limits, found by the solver to one emitter. */
#ifndef EVENROW_REACH_H
#define EVENROW_REACH_H

#include <stddef.h>

#include "evenrow/check.h"
#include "evenrow/field.h"
#include "evenrow/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* What a row one emitter longer would break: the first of these where it is several. */
enum er_reach_bound {
    ER_REACH_ROW_DRY,       /* an emitter gets no water */
    ER_REACH_PRESSURE_LOW,  /* an emitter is under the tape's min_pressure */
    ER_REACH_PRESSURE_HIGH, /* the inlet or an emitter is over its max_pressure */
    ER_REACH_UNIFORMITY_LOW,
    ER_REACH_FLOW_UNEVEN,
    ER_REACH_LONGEST, /* none of them: rows longer than that were not tried */
    ER_REACH_BOUND_COUNT
};

/* "row-dry", "pressure-low", ...: what a check would call it (er_finding_kind); "longest".
 * Never NULL for a bound of the list. */
const char *er_reach_bound_name(enum er_reach_bound bound);

struct er_reach_limits {
    double uniformity;         /* least emission uniformity, a fraction; NAN: not judged */
    double flow_variation;     /* most, a fraction; NAN: not judged */
    double emitters_per_plant; /* 1 or more, not rounded; for the emission uniformity */
    double longest;            /* m; longer rows are not tried. One emitter spacing or more */
};

/* The longest row and how it stands. Where not even one emitter keeps the limits, `emitters`
 * and `length` are 0 and all other figures NAN. */
struct er_reach {
    size_t emitters;
    double length; /* m: emitters x emitter_spacing */
    enum er_reach_bound bound;
    double flow;                      /* m3/s into the row */
    double far_end_pressure;          /* m, at the last emitter */
    struct er_range emitter_pressure; /* m */
    double emission_uniformity;       /* fractions, as a check tells them of a zone of one row */
    double flow_variation;
};

/* Finds the longest row of `tape` on even ground: `slope` (m per m, -1 to 1, rising away from
 * the inlet), `inlet_pressure` (m, above 0) in the tape behind its connector. It is the last
 * number of emitters that keeps every limit while all lower numbers keep them, too. On falling
 * ground neither uniformity nor flow variation follows the length one way: a longer row may
 * keep the limits again, and is not meant. A limit is broken where it is passed by more than
 * 1e-9 of it, as in a check.
 *
 * ER_OK; ER_NOT_CLOSED where a row that had to be solved could not be. No memory is allocated.
 * Source of the emission uniformity: Keller and Karmeli 1974; ASAE EP405.1 (from memory). */
enum er_status er_reach_find(const struct er_tape *tape, double slope, double inlet_pressure,
                             const struct er_reach_limits *limits, struct er_reach *reach);

/* The same on ground that may have a profile, from the inlet away. */
enum er_status er_reach_find_on(const struct er_tape *tape, const struct er_ground *ground,
                                double inlet_pressure, const struct er_reach_limits *limits,
                                struct er_reach *reach);

/* Judges the row of just so many `emitters` (1 or more) as er_reach_find does, and fills *reach
 * with its figures. `bound`: the first limit that it breaks, ER_REACH_LONGEST for none.
 * ER_OK; ER_NOT_CLOSED. */
enum er_status er_reach_judge(const struct er_tape *tape, double slope, double inlet_pressure,
                              const struct er_reach_limits *limits, size_t emitters,
                              struct er_reach *reach);

#ifdef __cplusplus
}
#endif

#endif
