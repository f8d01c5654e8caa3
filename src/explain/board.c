/* Arithmetic, line by line. */
#include "explain/board.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#define DECIMALS_MOST 15
#define A_LINE 5          /* numbers of a total */
#define FACTOR_FIGURES 10 /* of a conversion: more than any number has that it is put to */

struct er_board er_board_on(struct er_page *page)
{
    return (struct er_board){page, &page->pen, page->pen.system, ""};
}

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
static const char *trimmed(const struct er_board *board, double value, int figures)
{
    const char *text = er_pen_text(board->pen, "%.*f", er_board_decimals(value, figures), value);
    size_t length = strlen(text);
    if (strchr(text, '.') != NULL) {
        while (text[length - 1] == '0') {
            length--;
        }
        length -= text[length - 1] == '.';
    }
    bool is_zero = strspn(text, "-0") >= length;
    return is_zero ? "0" : er_pen_text(board->pen, "%.*s", (int)length, text);
}

/* The same as a number. */
static double as_trimmed(double value, int figures)
{
    return as_shown(value, er_board_decimals(value, figures));
}

/* A number with its unit ("": none), and what it is. */
static const char *named(const struct er_board *board, const char *number, const char *unit,
                         const char *words)
{
    return er_pen_text(board->pen, "%s%s%s%s%s", number, unit[0] == '\0' ? "" : " ", unit,
                       words[0] == '\0' ? "" : ", ", words);
}

void er_board_formula(struct er_board *board, const char *symbol, const char *expression)
{
    er_page_sum(board->page, er_pen_text(board->pen, "%s = %s", symbol, expression), "");
}

void er_board_number(struct er_board *board, const char *symbol, double value, const char *unit,
                     const char *words)
{
    const char *number = trimmed(board, value, ER_BOARD_IN);
    er_page_step(board->page,
                 er_pen_text(board->pen, "%s = %s", symbol, named(board, number, unit, words)));
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
    er_page_step(board->page,
                 er_pen_text(board->pen, "%s = %s %s * %s = %s", symbol,
                             trimmed(board, own, ER_BOARD_IN), unit,
                             trimmed(board, factor, FACTOR_FIGURES),
                             named(board, trimmed(board, own * factor, ER_BOARD_IN), si, words)));
}

/* As er_board_sum shows it. */
static const char *shown(const struct er_board *board, double value, int decimals)
{
    return er_pen_text(board->pen, "%.*f", decimals, as_shown(value, decimals));
}

double er_board_result(struct er_board *board, const char *symbol, double value, double scale,
                       const char *unit, const char *words)
{
    int decimals = er_board_decimals(scale, ER_BOARD_OUT);
    const char *result = named(board, shown(board, value, decimals), unit, words);
    er_page_step(board->page, er_pen_text(board->pen, "%s = %s", symbol, result));
    return as_shown(value, decimals);
}

double er_board_back(struct er_board *board, const char *symbol, double si_value,
                     enum er_quantity quantity, const char *si, const char *words)
{
    const char *unit = er_unit_name(quantity, board->system);
    if (strcmp(unit, si) == 0) {
        return si_value;
    }
    double factor = 1.0 / factor_of(quantity, board->system);
    int decimals = er_board_decimals(si_value * factor, ER_BOARD_OUT - 1);
    er_page_step(board->page,
                 er_pen_text(board->pen, "%s = %s %s * %s = %s", symbol,
                             trimmed(board, si_value, ER_BOARD_OUT), si,
                             trimmed(board, factor, FACTOR_FIGURES),
                             named(board, shown(board, si_value * factor, decimals), unit, words)));
    return as_shown(si_value * factor, decimals);
}

void er_board_sign(struct er_board *board, const char *sign)
{
    board->sum = er_pen_text(board->pen, "%s%s", board->sum, sign);
}

void er_board_put(struct er_board *board, double value)
{
    er_board_sign(board, trimmed(board, value, ER_BOARD_IN));
}

void er_board_add(struct er_board *board, double value)
{
    er_board_sign(board, value < 0.0 ? " - " : " + ");
    er_board_put(board, fabs(value));
}

void er_board_put_shown(struct er_board *board, double value, int decimals)
{
    er_board_sign(board, er_pen_text(board->pen, "%.*f", decimals, value));
}

double er_board_sum(struct er_board *board, const char *symbol, double value, int decimals,
                    const char *unit, const char *words)
{
    er_page_sum(
        board->page, er_pen_text(board->pen, "%s = %s", symbol, board->sum),
        er_pen_text(board->pen, "= %s", named(board, shown(board, value, decimals), unit, words)));
    board->sum = "";
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
