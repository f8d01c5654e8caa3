/* Arithmetic as one would write it on a board: the formula, the numbers put in, what comes out.
 *
 * Whoever works a line again from the numbers that it shows comes to the result that it shows,
 * but for one in the last digit. Numbers put in are shown with ER_BOARD_IN figures at most, a
 * result with ER_BOARD_OUT. Two columns begin a formula or a sum, four what belongs to it:
 *
 *     h = 10.67 * L * Q^1.852 / (C^1.852 * D^4.8704)
 *       L = 6 in * 0.0254 = 0.1524 m, to the first emitter
 *       ...
 *       h = 0.0023451 m, friction
 *     p = 12.0000 - 0.0033 = 11.9967 psi, at the first emitter
 */
#ifndef ER_EXPLAIN_BOARD_H
#define ER_EXPLAIN_BOARD_H

#include <stdbool.h>

#include "say/page.h"

#define ER_BOARD_IN 7
#define ER_BOARD_OUT 5

struct er_board {
    struct er_page *page;
    struct er_pen *pen; /* the page's */
    enum er_system system;
    const char *sum; /* being put together */
};

struct er_board er_board_on(struct er_page *page);

/* A formula by its symbols, with * / ^ ( ), sqrt, asin, min and max. */
void er_board_formula(struct er_board *board, const char *symbol, const char *expression);

/* A number that is put in, in `unit` ("": none). */
void er_board_number(struct er_board *board, const char *symbol, double value, const char *unit,
                     const char *words);

/* A quantity (SI) that is put in, in the reader's unit. */
void er_board_quantity(struct er_board *board, const char *symbol, enum er_quantity quantity,
                       double value, const char *words);

/* The same for a formula in SI: in the reader's unit, and converted. `si` names the SI unit. */
void er_board_converted(struct er_board *board, const char *symbol, enum er_quantity quantity,
                        double value, const char *si, const char *words);

/* What a formula comes to. `scale`: where it is a difference, how large its largest number is;
 * else the value itself. Returns the value as it is shown. */
double er_board_result(struct er_board *board, const char *symbol, double value, double scale,
                       const char *unit, const char *words);

/* A shown SI value in the reader's unit. Returns it (in that unit) as it is shown. */
double er_board_back(struct er_board *board, const char *symbol, double si_value,
                     enum er_quantity quantity, const char *si, const char *words);

/* A sum of numbers: er_board_put and er_board_sign append to it, er_board_sum writes it, with its
 * value. Returns the value as it is shown. */
void er_board_put(struct er_board *board, double value);
void er_board_sign(struct er_board *board, const char *sign);

/* " + 3" or " - 3". */
void er_board_add(struct er_board *board, double value);

/* A number with so many decimals, as er_board_sum showed it. */
void er_board_put_shown(struct er_board *board, double value, int decimals);
double er_board_sum(struct er_board *board, const char *symbol, double value, int decimals,
                    const char *unit, const char *words);

/* Adds up many numbers, a few to a line. Returns the sum as it is shown. */
double er_board_total(struct er_board *board, const char *symbol, const double *values,
                      size_t count, int decimals, const char *unit, const char *words);

/* Decimals that show a number of this size with so many figures. */
int er_board_decimals(double size, int figures);

#endif
