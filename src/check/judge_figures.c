/* Figures that are possible but look like slips: the reader found them, here they are told. */
#include "check/judge.h"

#include <math.h>

static const char *say_odd(struct er_judge *judge, const struct er_odd_figure *odd, double value,
                           double limit)
{
    if (odd->quantity != ER_QUANTITY_COUNT) {
        return er_say_beside(judge, odd->quantity, value, limit);
    }
    return er_say_text(judge, "%s%s", er_say_number(judge, value, limit), odd->unit);
}

static void judge_figure(struct er_judge *judge, size_t index)
{
    const struct er_odd_figure *odd = &judge->field->odd_figures[index];
    const bool from_zero = !(odd->from < 0.0) && !(odd->from > 0.0);
    const char *usual = from_zero ? "up" : say_odd(judge, odd, odd->from, ER_NONE);
    const char *more =
        odd->more > 0 ? er_say_text(judge, "More like it in this file: %zu. ", odd->more) : "";
    er_judge_add(judge, ER_ODD_FIGURE, ER_PLACE_DAY, index, 1.0,
                 "%s: %s? Usual is %s to %s; %s. %sCorrect it if it is a slip", odd->pointer,
                 say_odd(judge, odd, odd->value, odd->value < odd->from ? odd->from : odd->to),
                 usual, say_odd(judge, odd, odd->to, ER_NONE), odd->meant, more);
}

void er_judge_figures(struct er_judge *judge)
{
    for (size_t i = 0; i < judge->field->odd_count; i++) {
        judge_figure(judge, i);
    }
}
