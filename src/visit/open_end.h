/* A tape whose end is open to the air, behind its connector. */
#ifndef ER_VISIT_OPEN_END_H
#define ER_VISIT_OPEN_END_H

#include "evenrow/hydraulics.h"

/* What a tape takes at `header_pressure` before its connector (NULL: none). */
struct er_tape_intake {
    double inlet_pressure; /* m, after the connector */
    double flow;           /* m3/s */
    double end_flow; /* m3/s out of the end; 0: it is closed, or the water does not reach it */
};

struct er_tape_intake er_tape_intake_find(const struct er_run *run, const struct er_part *connector,
                                          double header_pressure, bool open);

#endif
