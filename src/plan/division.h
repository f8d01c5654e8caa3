/* Which segments to put together: all ways to divide the beds at once.
 *
 * Layer by layer: what is known of the first k zones is, for each boundary between beds, the
 * least that they can take of what a day gives. Of two ways to the same boundary the one that
 * takes more of everything is forgotten. */
#ifndef ER_PLAN_DIVISION_H
#define ER_PLAN_DIVISION_H

#include "plan/segments.h"

/* What a division may take. */
struct er_division_limits {
    double hours;                    /* s a day, all zones one after another; INFINITY: any */
    double volume;                   /* m3 a day; INFINITY: any */
    double least_flow, largest_flow; /* m3/s, of each zone */
};

/* The division of the fewest zones, from `fewest` to `most`, whose segments all pass, within the
 * limits; of those with that number one with the least hours. `pieces` has room for as many as
 * there are beds. *count gets their number; 0: there is no such division. ER_OK or
 * ER_NO_MEMORY. */
enum er_status er_division_find(struct er_segments *segments,
                                const struct er_division_limits *limits, size_t fewest, size_t most,
                                struct er_piece *pieces, size_t *count);

/* Of all divisions into `count` zones, of which there is one, that with the most even flows: the
 * largest as small as can be, then the smallest as large as can be, then the least sum of
 * squares. Flows that differ by a part in ten million count as equal. ER_OK or ER_NO_MEMORY. */
enum er_status er_division_even(struct er_segments *segments,
                                const struct er_division_limits *limits, size_t count,
                                struct er_piece *pieces);

#endif
