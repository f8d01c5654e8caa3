/* Figures that are possible but look like slips: the reader found them, here they are told. */
#include "check/judge.h"

#include <math.h>

static void append_figure(struct er_judge *judge, struct er_text *text,
                          const struct er_odd_figure *odd, double value)
{
    if (odd->quantity == ER_QUANTITY_COUNT) {
        er_text_appendf(text, "%.6g%s", value, odd->unit);
    } else {
        const double told = er_from_si(odd->quantity, judge->speaks, value);
        er_text_appendf(text, fabs(told) < 100.0 ? "%.3g %s" : "%.0f %s", told,
                        er_unit_name(odd->quantity, judge->speaks));
    }
}

static void judge_figure(struct er_judge *judge, size_t index)
{
    const struct er_odd_figure *odd = &judge->field->odd_figures[index];
    struct er_text text;
    er_text_init(&text);
    er_text_appendf(&text, "%s: ", odd->pointer);
    append_figure(judge, &text, odd, odd->value);
    er_text_append(&text, "? Usual is ");
    if (odd->from < 0.0 || odd->from > 0.0) {
        append_figure(judge, &text, odd, odd->from);
    }
    er_text_append(&text, odd->from < 0.0 || odd->from > 0.0 ? " to " : "up to ");
    append_figure(judge, &text, odd, odd->to);
    er_text_appendf(&text, "; %s. ", odd->meant);
    if (odd->more > 0) {
        er_text_appendf(&text, "More like it in this file: %zu. ", odd->more);
    }
    er_text_append(&text, "Correct it if it is a slip");
    er_judge_add(judge, ER_ODD_FIGURE, ER_PLACE_DAY, index, 1.0, "%s", er_text_string(&text));
    judge->out_of_memory = judge->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

void er_judge_figures(struct er_judge *judge)
{
    for (size_t i = 0; i < judge->field->odd_count; i++) {
        judge_figure(judge, i);
    }
}
