/* Which beds each roll of tape serves. */
#include <math.h>

#include "report/buy_report.h"
#include "say/say.h"
#include "say/wrap.h"

/* Rolls of one tape that a page tells of; JSON has all. */
#define MOST_ROLLS 50

/* Beds of one zone that are listed as a range. */
struct range {
    size_t zone, first, last;
    bool part; /* a bed, not all of whose tape is from this roll */
};

static void append_range(struct er_text *out, const struct er_field *field,
                         const struct range *range, const struct range *before)
{
    const bool same_zone = before != NULL && before->zone == range->zone;
    if (before != NULL) {
        er_text_append(out, same_zone ? ", " : "; ");
    }
    if (!same_zone) {
        er_text_append_visible(out, field->zones[range->zone].name);
        er_text_append(out, ": ");
    }
    er_text_appendf(out, range->part ? "part of %zu" : "%zu", range->first + 1);
    if (range->last > range->first) {
        er_text_appendf(out, "-%zu", range->last + 1);
    }
}

/* The bed that the pieces from `at` on belong to; *next gets the place behind them. */
static struct range bed_at(const struct er_tape_plan *plan, size_t at, size_t *next)
{
    const struct er_roll_piece *pieces = plan->plan.pieces;
    const struct er_tape_row *row = &plan->rows[pieces[at].run];
    size_t whole = 0, i = at;
    for (; i < plan->plan.piece_count && pieces[i].roll == pieces[at].roll; i++) {
        const struct er_tape_row *other = &plan->rows[pieces[i].run];
        if (other->zone != row->zone || other->bed != row->bed) {
            break;
        }
        whole += pieces[i].whole;
    }
    *next = i;
    return (struct range){row->zone, row->bed, row->bed, whole < row->places};
}

/* The beds that one roll serves, its pieces from `at` on: "low: 1-22; middle: part of 3". Returns
 * the place behind them; *used gets the m cut. */
static size_t append_beds(struct er_text *out, const struct er_field *field,
                          const struct er_tape_plan *plan, size_t at, double *used)
{
    const size_t roll = plan->plan.pieces[at].roll;
    struct range range = {0}, before = {0};
    size_t ranges = 0, next = at;
    *used = 0.0;
    while (at < plan->plan.piece_count && plan->plan.pieces[at].roll == roll) {
        const struct range bed = bed_at(plan, at, &next);
        for (; at < next; at++) {
            *used += plan->plan.pieces[at].length;
        }
        if (ranges > 0 && bed.zone == range.zone && bed.first == range.last + 1 && !bed.part &&
            !range.part) {
            range.last = bed.last;
            continue;
        }
        if (ranges > 0) {
            append_range(out, field, &range, ranges > 1 ? &before : NULL);
            before = range;
        }
        range = bed;
        ranges++;
    }
    append_range(out, field, &range, ranges > 1 ? &before : NULL);
    return at;
}

static void append_plan(struct er_text *out, const struct er_field *field,
                        const struct er_tape_plan *plan, enum er_system system)
{
    static const struct er_column columns[] = {
        {"roll", ER_COLUMN_WHOLE, ER_NO_UNIT},
        {"beds", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"cut", ER_COLUMN_WHOLE, ER_LENGTH},
        {"left", ER_COLUMN_WHOLE, ER_LENGTH},
    };
    const size_t rolls = plan->plan.rolls < MOST_ROLLS ? (size_t)plan->plan.rolls : MOST_ROLLS;
    struct er_table table;
    er_table_init(&table, system, columns, sizeof columns / sizeof columns[0], rolls);
    size_t at = 0;
    for (size_t roll = 0; roll < rolls && at < plan->plan.piece_count; roll++) {
        struct er_text beds;
        double used = 0.0;
        er_text_init(&beds);
        at = append_beds(&beds, field, plan, at, &used);
        er_table_number(&table, roll, 0, (double)roll + 1.0);
        er_table_text(&table, roll, 1, er_text_string(&beds));
        er_table_number(&table, roll, 2, used);
        er_table_number(&table, roll, 3, fmax(0.0, plan->roll_length - used));
        table.out_of_memory = table.out_of_memory || beds.out_of_memory;
        er_text_release(&beds);
    }
    er_table_finish(&table, out);
    if (plan->plan.rolls > MOST_ROLLS) {
        er_text_appendf(out, "The other %.0f rolls are told by --format json.\n",
                        plan->plan.rolls - MOST_ROLLS);
    }
}

static void append_heading(struct er_text *out, const struct er_tape_plan *plan,
                           enum er_system system)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, "Which beds each roll serves: ");
    er_text_append_visible(&text, plan->tape->name);
    er_text_append(&text, ", ");
    er_append_quantity(&text, system, ER_LENGTH, plan->roll_length);
    er_text_append(&text, " to the roll");
    er_text_append(out, "\n");
    er_append_paragraph(out, &text);
    er_text_append(out, "\n");
    er_text_release(&text);
}

static bool has_part(const struct er_tape_plan *plan)
{
    for (size_t i = 0; i < plan->plan.piece_count; i++) {
        if (plan->rows[plan->plan.pieces[i].run].places > 1 || !plan->plan.pieces[i].whole) {
            return true;
        }
    }
    return false;
}

void er_append_rolls(struct er_text *out, const struct er_materials *materials,
                     enum er_system system)
{
    bool part = false;
    for (size_t i = 0; i < materials->tape_count; i++) {
        const struct er_tape_plan *plan = &materials->tapes[i];
        append_heading(out, plan, system);
        if (plan->plan.pieces == NULL) {
            er_paragraph(out, "", "",
                         "There are too many pieces for a plan: cut them one after "
                         "the other.");
            continue;
        }
        append_plan(out, materials->result->field, plan, system);
        part = part || has_part(plan);
    }
    er_text_append(out, "\n");
    er_paragraph(out, "", "",
                 materials->request.waste > 0.0
                     ? "Cut is with the waste share on each row; what is left over serves repairs."
                     : "What is left over serves repairs.");
    if (part) {
        er_paragraph(out, "", "",
                     "Part of a bed: a row that is joined to another roll's, or one row of "
                     "several. --format json has each piece.");
    }
}
