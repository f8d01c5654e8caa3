/* Findings about one part, wherever it stands. */
#ifndef ER_CHECK_JUDGE_PART_H
#define ER_CHECK_JUDGE_PART_H

#include "check/judge.h"

/* PVC at so much pressure that a surge may burst it; `what` says where, and runs or stands. */
void er_judge_surge(struct er_judge *judge, enum er_place_kind place, size_t index,
                    const struct er_pipe *pipe, double pressure, const char *what);

void er_judge_part(struct er_judge *judge, enum er_place_kind place, size_t index,
                   const struct er_part *part, double inlet_pressure, double flow, bool dirty);

#endif
