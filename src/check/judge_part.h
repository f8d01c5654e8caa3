/* Findings about one part, wherever it stands. */
#ifndef ER_CHECK_JUDGE_PART_H
#define ER_CHECK_JUDGE_PART_H

#include "check/judge.h"

void er_judge_part(struct er_judge *judge, enum er_place_kind place, size_t index,
                   const struct er_part *part, double inlet_pressure, double flow, bool dirty);

#endif
