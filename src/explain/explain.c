/* The pieces of arithmetic that several pages show. */
#include "explain/explain.h"

#include <math.h>

static double own(const struct er_board *board, enum er_quantity quantity, double value)
{
    return er_from_si(quantity, board->system, value);
}

void er_explain_opening(struct er_board *board)
{
    er_page_heading(board->page, "How the figures come about");
    er_page_paragraph(board->page,
                      "Work any line again with a pocket calculator: from the numbers that it "
                      "shows comes the result that it shows, but for one in its last digit. * is "
                      "times, ^ is to the power of. Figures go into a line with more digits than "
                      "they are told with elsewhere.");
}

double er_explain_friction(struct er_board *board, const struct er_stretch *stretch)
{
    er_board_formula(board, "h", "10.67 * L * Q^1.852 / (C^1.852 * D^4.8704)");
    er_board_converted(board, "L", stretch->measure, stretch->length, "m", stretch->length_words);
    er_board_converted(board, "Q", ER_FLOW, stretch->flow, "m3/s", stretch->flow_words);
    er_board_number(board, "C", stretch->c, "", "smoothness of the pipe");
    er_board_converted(board, "D", ER_SMALL_LENGTH, stretch->diameter, "m", "inside diameter");
    double head = er_friction_head(stretch->flow, stretch->length, stretch->c, stretch->diameter);
    double shown = er_board_result(board, "h", head, head, "m", "of water, lost to friction");
    return er_board_back(board, "h", shown, ER_PRESSURE, "m", "");
}

double er_explain_rise(struct er_board *board, double rise)
{
    if (!(fabs(rise) > 0.0)) {
        return 0.0;
    }
    double factor = own(board, ER_PRESSURE, er_to_si(ER_LENGTH, board->system, 1.0));
    double shown = own(board, ER_PRESSURE, rise);
    er_board_put(board, own(board, ER_LENGTH, rise));
    er_board_sign(board, " * ");
    er_board_put(board, factor);
    const char *words[2][2] = {{"the rise in ft as a pressure", "the fall in ft as a pressure"},
                               {"the rise in m as a pressure", "the fall in m as a pressure"}};
    return er_board_sum(board, "r", shown, er_board_decimals(shown, ER_BOARD_OUT),
                        er_unit_name(ER_PRESSURE, board->system), words[board->system][rise < 0.0]);
}

/* What an emitter of the tape gives at a pressure. */
static void explain_emitter(struct er_board *board, const struct er_tape *tape, double pressure,
                            double flow, const char *where)
{
    bool holds = er_given(tape->holds_from);
    if (!(pressure > 0.0)) {
        er_board_quantity(board, "p", ER_PRESSURE, pressure, where);
        er_page_note(board->page, "Without pressure it gives nothing.");
        return;
    }
    if (holds && pressure >= tape->holds_from && pressure <= tape->holds_to) {
        er_board_quantity(board, "p", ER_PRESSURE, pressure, where);
        er_board_quantity(board, "q", ER_EMITTER_FLOW, flow,
                          "what a compensating emitter gives at any pressure in its range");
        return;
    }
    double edge = holds && pressure > tape->holds_to ? tape->holds_to : tape->holds_from;
    er_board_formula(board, "q", "qn * (p / pn)^x");
    er_board_quantity(board, "qn", ER_EMITTER_FLOW, tape->emitter_flow, "nominal flow");
    er_board_quantity(board, "pn", ER_PRESSURE, holds ? edge : tape->at_pressure,
                      "pressure at which it gives that");
    er_board_number(board, "x", holds ? 0.5 : tape->exponent, "", "the emitter's exponent");
    er_board_quantity(board, "p", ER_PRESSURE, pressure, where);
    double shown = own(board, ER_EMITTER_FLOW, flow);
    (void)er_board_result(board, "q", shown, shown, er_unit_name(ER_EMITTER_FLOW, board->system),
                          "from one emitter");
}

/* Friction and rise from the inlet to the first emitter. */
static void explain_first_reach(struct er_board *board, const struct er_worked_row *row)
{
    const struct er_tape *tape = row->run.tape;
    double length = row->run.first_reach + tape->emitter_loss;
    if (tape->emitter_loss > 0.0) {
        double shown = own(board, ER_SMALL_LENGTH, length);
        er_board_put(board, own(board, ER_SMALL_LENGTH, row->run.first_reach));
        er_board_add(board, own(board, ER_SMALL_LENGTH, tape->emitter_loss));
        (void)er_board_sum(board, "L", shown, er_board_decimals(shown, ER_BOARD_OUT),
                           er_unit_name(ER_SMALL_LENGTH, board->system),
                           "to the first emitter, and as much tape as an emitter takes friction");
    }
    const struct er_stretch reach = {.length = length,
                                     .flow = row->flow,
                                     .c = tape->c,
                                     .diameter = tape->inside_diameter,
                                     .measure = ER_SMALL_LENGTH,
                                     .length_words = tape->emitter_loss > 0.0
                                                         ? "as above"
                                                         : "from the inlet to the first emitter",
                                     .flow_words = "all that the row takes"};
    double friction = er_explain_friction(board, &reach);
    double rise =
        er_explain_rise(board, er_ground_elevation(&row->run.ground, row->run.first_reach));
    double inlet = own(board, ER_PRESSURE, row->inlet_pressure);
    er_board_put(board, inlet);
    er_board_add(board, -friction);
    if (fabs(rise) > 0.0) {
        er_board_add(board, -rise);
    }
    (void)er_board_sum(board, "p", inlet - friction - rise, er_board_decimals(inlet, ER_BOARD_OUT),
                       er_unit_name(ER_PRESSURE, board->system), "at the first emitter");
}

void er_explain_row(struct er_board *board, const struct er_worked_row *row)
{
    er_page_note(board->page,
                 "Friction in its first reach (Hazen-Williams in SI units, from memory). "
                 "The reaches that follow are worked in the same way, each with what "
                 "flow is left.");
    if (row->flow > 0.0) {
        explain_first_reach(board, row);
    }
    er_page_note(board->page,
                 "The emitters at its two ends (Keller and Karmeli 1974, from memory).");
    explain_emitter(board, row->run.tape, row->first_pressure, row->first_flow,
                    "at the first emitter");
    explain_emitter(board, row->run.tape, row->last_pressure, row->last_flow,
                    "at the last emitter");
}

static void put_flow(struct er_board *board, const struct er_even_shown *even, const char *symbol,
                     double flow, const char *words)
{
    if (even->relative) {
        er_board_number(board, symbol, flow, "", words);
    } else {
        er_board_quantity(board, symbol, ER_EMITTER_FLOW, flow, words);
    }
}

static void explain_mean(struct er_board *board, const struct er_even_shown *even)
{
    bool us = board->system == ER_US;
    er_page_note(board->page, "The mean of all emitters.");
    er_board_formula(board, "qm", us ? "60 * Q / n" : "1000 * Q / n");
    er_board_quantity(board, "Q", ER_FLOW, even->flow, "flow of all emitters");
    er_board_number(board, "n", even->emitters, "", "emitters");
    double shown = own(board, ER_EMITTER_FLOW, even->mean);
    (void)er_board_result(board, "qm", shown, shown, er_unit_name(ER_EMITTER_FLOW, board->system),
                          "from an emitter on average");
}

void er_explain_evenness(struct er_board *board, const struct er_even_shown *even)
{
    if (!er_given(even->uniformity)) {
        er_page_note(board->page, "No emitter gets water: there is no evenness to work out.");
        return;
    }
    if (even->relative) {
        er_page_note(board->page, "The tapes are unlike: every emitter's flow counts by its tape's "
                                  "nominal flow.");
    } else {
        explain_mean(board, even);
    }
    er_page_note(board->page, "Emission uniformity (Keller and Karmeli 1974; ASAE EP405.1).");
    er_board_formula(board, "EU", "100 * (1 - 1.27 * cv / sqrt(e)) * qmin / qm");
    er_board_number(board, "cv", even->cv, "", "the tape's variation of manufacture");
    er_board_number(board, "e", even->emitters_per_plant, "", "emitters to a plant");
    put_flow(board, even, "qmin", even->lowest, "the least that an emitter gives");
    put_flow(board, even, "qm", even->mean, "the mean");
    double uniformity = 100.0 * even->uniformity;
    (void)er_board_result(board, "EU", uniformity, uniformity, "%", "");
    er_page_note(board->page, "Flow variation.");
    er_board_formula(board, "V", "100 * (qmax - qmin) / qmax");
    put_flow(board, even, "qmax", even->highest, "the most that an emitter gives");
    put_flow(board, even, "qmin", even->lowest, "the least");
    (void)er_board_result(board, "V", 100.0 * even->variation, 100.0, "%", "");
}
