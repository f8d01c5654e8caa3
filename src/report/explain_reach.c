/* The arithmetic of a reach: the last row that keeps the limits, and the first that does not. */
#include <math.h>

#include "evenrow/hydraulics.h"
#include "report/explain.h"
#include "say/say.h"

#define TOLERANCE 1e-12 /* of the inlet's pressure, as the search has it */

/* One tape's rows on one ground with one pressure. */
struct rows {
    struct er_board *board;
    const struct er_reach_answer *answer;
    const struct er_reach_table *table;
    double slope, inlet;
};

/* A sentence that ends with a figure. */
static void note(struct er_board *board, const char *before, enum er_quantity quantity,
                 double value, const char *after)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, before);
    er_append_quantity(&text, board->system, quantity, value);
    er_text_append(&text, after);
    er_board_note(board, er_text_string(&text));
    board->out->out_of_memory = board->out->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

static void note_percent(struct er_board *board, const char *before, double fraction)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, before);
    er_append_number(&text, 100.0 * fraction);
    er_text_append(&text, " %.");
    er_board_note(board, er_text_string(&text));
    board->out->out_of_memory = board->out->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

/* What the row breaks. */
static void explain_bound(const struct rows *rows, enum er_reach_bound bound)
{
    const struct er_tape *tape = rows->table->tape;
    switch (bound) {
    case ER_REACH_ROW_DRY:
        er_board_note(rows->board, "It is too long: an emitter gets no water.");
        break;
    case ER_REACH_PRESSURE_LOW:
        note(rows->board, "It is too long: an emitter has less than ", ER_PRESSURE,
             tape->min_pressure, ", the least that the tape is rated for.");
        break;
    case ER_REACH_PRESSURE_HIGH:
        note(rows->board, "It does not do: inlet or emitter have more than ", ER_PRESSURE,
             tape->max_pressure, ", the most that the tape is rated for.");
        break;
    case ER_REACH_UNIFORMITY_LOW:
        note_percent(rows->board, "It is too long: EU is to be no less than ",
                     rows->answer->uniformity);
        break;
    case ER_REACH_FLOW_UNEVEN:
        note_percent(rows->board, "It is too long: flow is to vary by no more than ",
                     rows->answer->flow_variation);
        break;
    case ER_REACH_LONGEST:
    case ER_REACH_BOUND_COUNT:
        er_board_note(rows->board, "It keeps every limit.");
        break;
    }
}

static void explain_length(const struct rows *rows, size_t emitters)
{
    struct er_board *board = rows->board;
    double spacing = er_from_si(ER_LENGTH, board->system, rows->table->tape->emitter_spacing);
    double length = (double)emitters * spacing;
    er_board_put(board, (double)emitters);
    er_board_sign(board, " * ");
    er_board_put(board, spacing);
    (void)er_board_sum(board, "L", length, er_board_decimals(length, ER_BOARD_OUT),
                       er_unit_name(ER_LENGTH, board->system), "emitters times their spacing");
}

/* All of one row, as it was judged. */
static enum er_status explain_row(const struct rows *rows, const struct er_reach *judged)
{
    const struct er_tape *tape = rows->table->tape;
    const struct er_ground ground = {.slope = rows->slope};
    struct er_run run = er_run_make(tape, judged->length, &ground);
    struct er_run_state state = {0};
    run.emitters = judged->emitters;
    enum er_status status = er_run_solve(&run, rows->inlet, TOLERANCE, &state);
    if (status != ER_OK) {
        return status;
    }
    struct er_worked_row row = er_worked_row_make(&run, &state);
    const struct er_even_shown even = {.lowest = row.emitter_flow.min,
                                       .highest = row.emitter_flow.max,
                                       .mean = judged->flow / (double)judged->emitters,
                                       .flow = judged->flow,
                                       .emitters = (double)judged->emitters,
                                       .cv = tape->cv,
                                       .emitters_per_plant = rows->table->emitters_per_plant,
                                       .uniformity = judged->emission_uniformity,
                                       .variation = judged->flow_variation};
    explain_length(rows, judged->emitters);
    er_explain_row(rows->board, &row);
    er_explain_evenness(rows->board, &even);
    explain_bound(rows, judged->bound);
    return ER_OK;
}

static enum er_status judge(const struct rows *rows, size_t emitters, struct er_reach *judged)
{
    const struct er_reach_limits limits = {.uniformity = rows->answer->uniformity,
                                           .flow_variation = rows->answer->flow_variation,
                                           .emitters_per_plant = rows->table->emitters_per_plant,
                                           .longest = rows->answer->longest};
    return er_reach_judge(rows->table->tape, rows->slope, rows->inlet, &limits, emitters, judged);
}

static void append_headings(const struct rows *rows)
{
    const char *name = rows->table->tape->name;
    struct er_pen pen = {.system = rows->board->system};
    er_board_heading(rows->board, "The longest row with ",
                     er_pen_text(&pen, "%s at its inlet, on %s%s%s",
                                 er_pen_figure(&pen, ER_PRESSURE, rows->inlet),
                                 er_reach_ground(&pen, rows->slope), name == NULL ? "" : ": ",
                                 name == NULL ? "" : name));
    rows->board->out->out_of_memory = rows->board->out->out_of_memory || pen.out_of_memory;
    er_pen_release(&pen);
}

static enum er_status explain_rows(const struct rows *rows, const struct er_reach *cell)
{
    struct er_reach judged;
    enum er_status status = ER_OK;
    append_headings(rows);
    if (cell->emitters > 0) {
        status = judge(rows, cell->emitters, &judged);
        if (status == ER_OK) {
            status = explain_row(rows, &judged);
        }
    }
    if (status == ER_OK && cell->bound == ER_REACH_LONGEST) {
        note(rows->board, "Rows longer than ", ER_LENGTH, rows->answer->longest,
             " were not tried.");
    } else if (status == ER_OK) {
        er_board_heading(rows->board, "The row with one emitter more", NULL);
        status = judge(rows, cell->emitters + 1, &judged);
        if (status == ER_OK) {
            status = explain_row(rows, &judged);
        }
    }
    return status;
}

enum er_status er_explain_reach(const struct er_reach_answer *answer, struct er_text *out)
{
    struct er_board board;
    enum er_status status = ER_OK;
    size_t slope = er_reach_levelest(answer);
    er_board_init(&board, answer->system, out);
    er_explain_opening(&board);
    for (size_t t = 0; status == ER_OK && t < answer->table_count; t++) {
        const struct er_reach_table *table = &answer->tables[t];
        size_t inlet = er_reach_usual_inlet(table);
        const struct rows rows = {&board, answer, table, answer->slopes[slope],
                                  table->inlets[inlet]};
        status = explain_rows(&rows, &table->cells[inlet * answer->slope_count + slope]);
    }
    er_board_release(&board);
    return status == ER_OK && out->out_of_memory ? ER_NO_MEMORY : status;
}
