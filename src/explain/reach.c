/* The arithmetic of a reach: the last row that keeps the limits, and the first that does not. */
#include <math.h>

#include "evenrow/hydraulics.h"
#include "explain/explain.h"
#include "names/names.h"

#define TOLERANCE 1e-12 /* of the inlet's pressure, as the search has it */

/* One tape's rows on one ground with one pressure. */
struct rows {
    struct er_board *board;
    const struct er_reach_answer *answer;
    const struct er_reach_table *table;
    double slope, inlet;
};

/* What the row breaks. */
static const char *bound_words(const struct rows *rows, enum er_reach_bound bound)
{
    const struct er_tape *tape = rows->table->tape;
    struct er_pen *pen = rows->board->pen;
    switch (bound) {
    case ER_REACH_ROW_DRY:
        return "It is too long: an emitter gets no water.";
    case ER_REACH_PRESSURE_LOW:
        return er_pen_text(pen,
                           "It is too long: an emitter has less than %s, the least that the tape "
                           "is rated for.",
                           er_pen_figure(pen, ER_PRESSURE, tape->min_pressure));
    case ER_REACH_PRESSURE_HIGH:
        return er_pen_text(pen,
                           "It does not do: inlet or emitter have more than %s, the most that the "
                           "tape is rated for.",
                           er_pen_figure(pen, ER_PRESSURE, tape->max_pressure));
    case ER_REACH_UNIFORMITY_LOW:
        return er_pen_text(pen, "It is too long: EU is to be no less than %s %%.",
                           er_pen_number(pen, 100.0 * rows->answer->uniformity));
    case ER_REACH_FLOW_UNEVEN:
        return er_pen_text(pen, "It is too long: flow is to vary by no more than %s %%.",
                           er_pen_number(pen, 100.0 * rows->answer->flow_variation));
    case ER_REACH_LONGEST:
    case ER_REACH_BOUND_COUNT:
        break;
    }
    return "It keeps every limit.";
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
    er_page_note(rows->board->page, "%s", bound_words(rows, judged->bound));
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

static void write_heading(const struct rows *rows)
{
    const char *name = rows->table->tape->name;
    struct er_pen *pen = rows->board->pen;
    er_page_heading(rows->board->page, "The longest row with %s at its inlet, on %s%s%s",
                    er_pen_figure(pen, ER_PRESSURE, rows->inlet), er_ground_words(pen, rows->slope),
                    name == NULL ? "" : ": ", name == NULL ? "" : name);
}

static enum er_status explain_rows(const struct rows *rows, const struct er_reach *cell)
{
    struct er_reach judged;
    enum er_status status = ER_OK;
    write_heading(rows);
    if (cell->emitters > 0) {
        status = judge(rows, cell->emitters, &judged);
        if (status == ER_OK) {
            status = explain_row(rows, &judged);
        }
    }
    if (status == ER_OK && cell->bound == ER_REACH_LONGEST) {
        er_page_note(rows->board->page, "Rows longer than %s were not tried.",
                     er_pen_figure(rows->board->pen, ER_LENGTH, rows->answer->longest));
    } else if (status == ER_OK) {
        er_page_heading(rows->board->page, "The row with one emitter more");
        status = judge(rows, cell->emitters + 1, &judged);
        if (status == ER_OK) {
            status = explain_row(rows, &judged);
        }
    }
    return status;
}

enum er_status er_explain_reach(const void *result, struct er_page *page)
{
    const struct er_reach_answer *answer = result;
    struct er_board board = er_board_on(page);
    enum er_status status = ER_OK;
    size_t slope = er_reach_levelest(answer);
    er_explain_opening(&board);
    for (size_t t = 0; status == ER_OK && t < answer->table_count; t++) {
        const struct er_reach_table *table = &answer->tables[t];
        size_t inlet = er_reach_usual_inlet(table);
        const struct rows rows = {&board, answer, table, answer->slopes[slope],
                                  table->inlets[inlet]};
        status = explain_rows(&rows, &table->cells[inlet * answer->slope_count + slope]);
    }
    return status;
}
