#include "report/board.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "say/wrap.h"

#define DECIMALS_MOST 15
#define A_LINE 5          /* numbers of a total */
#define FACTOR_FIGURES 10 /* of a conversion: more than any number has that it is put to */

void er_board_init(struct er_board *board, enum er_system system, struct er_text *out)
{
    *board = (struct er_board){.out = out, .system = system};
    er_text_init(&board->sum);
}

void er_board_release(struct er_board *board) { er_text_release(&board->sum); }

int er_board_decimals(double size, int figures)
{
    if (!isfinite(size) || fabs(size) < 1e-12) {
        return figures - 1;
    }
    double decimals = figures - 1 - floor(log10(fabs(size)) + 1e-12);
    return (int)fmax(0.0, fmin(DECIMALS_MOST, decimals));
}

static double as_shown(double value, int decimals)
{
    double scale = pow(10.0, decimals);
    return floor(value * scale + 0.5) / scale;
}

/* With so many figures at most, and no zeros behind the last that counts. */
static void append_trimmed(struct er_text *out, double value, int figures)
{
    struct er_text number;
    er_text_init(&number);
    er_text_appendf(&number, "%.*f", er_board_decimals(value, figures), value + 0.0);
    const char *text = er_text_string(&number);
    size_t length = strlen(text);
    if (strchr(text, '.') != NULL) {
        while (text[length - 1] == '0') {
            length--;
        }
        length -= text[length - 1] == '.';
    }
    bool is_zero = strspn(text, "-0") >= length;
    er_text_append_bytes(out, is_zero ? "0" : text, is_zero ? 1 : length);
    out->out_of_memory = out->out_of_memory || number.out_of_memory;
    er_text_release(&number);
}

/* The same as a number. */
static double as_trimmed(double value, int figures)
{
    return as_shown(value, er_board_decimals(value, figures));
}

static void append_unit(struct er_text *out, const char *unit)
{
    er_text_append(out, unit[0] == '\0' ? "" : " ");
    er_text_append(out, unit);
}

/* Ends the line that is being put together with what its number is, and writes it. */
static void finish(struct er_board *board, const char *indent, const char *words)
{
    er_text_append(&board->sum, words[0] == '\0' ? "" : ", ");
    er_text_append(&board->sum, words);
    er_paragraph(board->out, indent, "        ", er_text_string(&board->sum));
    board->under_heading = false;
    board->out->out_of_memory = board->out->out_of_memory || board->sum.out_of_memory;
    er_text_clear(&board->sum);
}

void er_board_heading(struct er_board *board, const char *heading, const char *of)
{
    er_text_append(&board->sum, heading);
    if (of != NULL) {
        er_text_append(&board->sum, of);
    }
    er_text_append(board->out, "\n");
    er_paragraph(board->out, "", "", er_text_string(&board->sum));
    er_text_append(board->out, "\n");
    er_text_clear(&board->sum);
    board->under_heading = true;
}

void er_board_note(struct er_board *board, const char *text)
{
    er_text_append(board->out, board->under_heading ? "" : "\n");
    board->under_heading = false;
    er_paragraph(board->out, "  ", "  ", text);
}

void er_board_formula(struct er_board *board, const char *symbol, const char *expression)
{
    er_text_appendf(&board->sum, "%s = %s", symbol, expression);
    finish(board, "  ", "");
}

void er_board_number(struct er_board *board, const char *symbol, double value, const char *unit,
                     const char *words)
{
    er_text_appendf(&board->sum, "%s = ", symbol);
    append_trimmed(&board->sum, value, ER_BOARD_IN);
    append_unit(&board->sum, unit);
    finish(board, "    ", words);
}

void er_board_quantity(struct er_board *board, const char *symbol, enum er_quantity quantity,
                       double value, const char *words)
{
    er_board_number(board, symbol, er_from_si(quantity, board->system, value),
                    er_unit_name(quantity, board->system), words);
}

static double factor_of(enum er_quantity quantity, enum er_system system)
{
    return er_to_si(quantity, system, 1.0) - er_to_si(quantity, system, 0.0);
}

void er_board_converted(struct er_board *board, const char *symbol, enum er_quantity quantity,
                        double value, const char *si, const char *words)
{
    const char *unit = er_unit_name(quantity, board->system);
    if (strcmp(unit, si) == 0) {
        er_board_number(board, symbol, value, si, words);
        return;
    }
    double own = as_trimmed(er_from_si(quantity, board->system, value), ER_BOARD_IN);
    double factor = factor_of(quantity, board->system);
    er_text_appendf(&board->sum, "%s = ", symbol);
    append_trimmed(&board->sum, own, ER_BOARD_IN);
    er_text_appendf(&board->sum, " %s * ", unit);
    append_trimmed(&board->sum, factor, FACTOR_FIGURES);
    er_text_append(&board->sum, " = ");
    append_trimmed(&board->sum, own * factor, ER_BOARD_IN);
    append_unit(&board->sum, si);
    finish(board, "    ", words);
}

double er_board_result(struct er_board *board, const char *symbol, double value, double scale,
                       const char *unit, const char *words)
{
    int decimals = er_board_decimals(scale, ER_BOARD_OUT);
    er_text_appendf(&board->sum, "%s = %.*f", symbol, decimals, as_shown(value, decimals));
    append_unit(&board->sum, unit);
    finish(board, "    ", words);
    return as_shown(value, decimals);
}

double er_board_back(struct er_board *board, const char *symbol, double shown,
                     enum er_quantity quantity, const char *si, const char *words)
{
    const char *unit = er_unit_name(quantity, board->system);
    if (strcmp(unit, si) == 0) {
        return shown;
    }
    double factor = 1.0 / factor_of(quantity, board->system);
    int decimals = er_board_decimals(shown * factor, ER_BOARD_OUT - 1);
    er_text_appendf(&board->sum, "%s = ", symbol);
    append_trimmed(&board->sum, shown, ER_BOARD_OUT);
    er_text_appendf(&board->sum, " %s * ", si);
    append_trimmed(&board->sum, factor, FACTOR_FIGURES);
    er_text_appendf(&board->sum, " = %.*f %s", decimals, as_shown(shown * factor, decimals), unit);
    finish(board, "    ", words);
    return as_shown(shown * factor, decimals);
}

void er_board_put(struct er_board *board, double value)
{
    append_trimmed(&board->sum, value, ER_BOARD_IN);
}

void er_board_sign(struct er_board *board, const char *sign) { er_text_append(&board->sum, sign); }

void er_board_add(struct er_board *board, double value)
{
    er_text_append(&board->sum, value < 0.0 ? " - " : " + ");
    append_trimmed(&board->sum, fabs(value), ER_BOARD_IN);
}

void er_board_put_shown(struct er_board *board, double value, int decimals)
{
    er_text_appendf(&board->sum, "%.*f", decimals, value);
}

double er_board_sum(struct er_board *board, const char *symbol, double value, int decimals,
                    const char *unit, const char *words)
{
    struct er_text result;
    struct er_text sum = board->sum;
    er_text_init(&board->sum);
    er_text_init(&result);
    er_text_appendf(&result, " = %.*f", decimals, as_shown(value, decimals));
    append_unit(&result, unit);
    er_text_appendf(&board->sum, "%s = %s", symbol, er_text_string(&sum));
    board->sum.out_of_memory =
        board->sum.out_of_memory || sum.out_of_memory || result.out_of_memory;
    if (2 + board->sum.length + result.length > ER_PAGE) {
        finish(board, "  ", "");
        er_text_append(&board->sum, er_text_string(&result) + 1);
        finish(board, "    ", words);
    } else {
        er_text_append(&board->sum, er_text_string(&result));
        finish(board, "  ", words);
    }
    er_text_release(&sum);
    er_text_release(&result);
    return as_shown(value, decimals);
}

double er_board_total(struct er_board *board, const char *symbol, const double *values,
                      size_t count, int decimals, const char *unit, const char *words)
{
    double total = 0.0;
    for (size_t i = 0; i < count;) {
        size_t first = i;
        double sum = total;
        if (first > 0) {
            er_board_put_shown(board, total, decimals);
        }
        for (; i < count && i < first + A_LINE; i++) {
            er_board_sign(board, i > 0 ? " + " : "");
            er_board_put(board, values[i]);
            sum += values[i];
        }
        total = er_board_sum(board, symbol, sum, decimals, unit, i < count ? "so far" : words);
    }
    return total;
}
