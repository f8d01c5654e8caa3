/* What stands out among the longest rows of tapes. */
#include "plan/reach_answer.h"

#include <math.h>

size_t er_reach_levelest(const struct er_reach_answer *answer)
{
    size_t best = 0;
    for (size_t s = 1; s < answer->slope_count; s++) {
        if (fabs(answer->slopes[s]) < fabs(answer->slopes[best])) {
            best = s;
        }
    }
    return best;
}

size_t er_reach_usual_inlet(const struct er_reach_table *table)
{
    const struct er_tape *tape = table->tape;
    double usual = er_given(tape->at_pressure) ? tape->at_pressure : tape->holds_from;
    size_t best = 0;
    for (size_t i = 1; i < table->inlet_count; i++) {
        if (fabs(table->inlets[i] - usual) < fabs(table->inlets[best] - usual)) {
            best = i;
        }
    }
    return best;
}

const struct er_reach_own *er_reach_tightest(const struct er_reach_table *table)
{
    const struct er_reach_own *tightest = NULL;
    for (size_t i = 0; i < table->own_count; i++) {
        const struct er_reach_own *own = &table->own[i];
        if (tightest == NULL ||
            own->reach.length * tightest->row_length < tightest->reach.length * own->row_length) {
            tightest = own;
        }
    }
    return tightest;
}
