/* What a plan's materials cost.
 *
 * A figure is looked for in the file's `prices`, then in the pipe or tape itself (`price`,
 * `roll_price`, `roll_length`), then in the built-in list, by name and then by size. The
 * built-in list's figures are placeholders, invented, to be replaced by the dealer's quote:
 * whoever shows an amount with one among them must say so.
 *
 * Nothing here allocates or keeps anything: all may be called from several threads at once. */
#ifndef EVENROW_BILL_H
#define EVENROW_BILL_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/field.h"
#include "evenrow/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The cost in the field's money of all that choosing among plans can change: tape, header,
 * lead and mainline pipe by length, a fitting and an end for every row of tape, and for every
 * zone a valve and, where it has one, its regulator. By length and piece, without rounding to
 * whole rolls; a header counts as far as the beds reach. NAN where the field has no prices
 * (field->prices is NULL) or nothing stands in for one that is missing (prices->placeholders is
 * NULL; er_field_read always sets it). *placeholders, where not NULL, tells whether some price
 * was not the field's own.
 *
 * Prices are the field's own by name: a field that is changed in memory to other pipes and tapes,
 * its own or the catalogue's, is priced as well. */
double er_field_cost(const struct er_field *field, bool *placeholders);

/* What prices are looked for in: the field's (NULL: it has none), and behind them the built-in
 * list. */
struct er_prices er_prices_over(const struct er_prices *given, const struct er_prices *list);

/* One figure of a price list. */
struct er_price {
    double amount;    /* NAN: there is none */
    bool placeholder; /* it is the built-in list's */
};

/* Money per m of pipe. */
struct er_price er_pipe_price(const struct er_prices *prices, const struct er_pipe *pipe);

/* m of one piece or coil of the pipe. */
struct er_price er_pipe_piece(const struct er_prices *prices, const struct er_pipe *pipe);

/* Money for one roll of the tape. A placeholder is in proportion to the roll's length. */
struct er_price er_tape_roll_price(const struct er_prices *prices, const struct er_tape *tape);

/* The built-in list's shortest roll of such tape: its m and money, as placeholders; NAN where there
 * is no list. */
struct er_price er_tape_short_roll_length(const struct er_prices *prices,
                                          const struct er_tape *tape);
struct er_price er_tape_short_roll_price(const struct er_prices *prices,
                                         const struct er_tape *tape);

/* m of one roll of the tape. */
struct er_price er_tape_roll_length(const struct er_prices *prices, const struct er_tape *tape);

/* Money for one roll of film, and m of one. `mulch` is the field's, NULL where it has none. */
struct er_price er_film_roll_price(const struct er_prices *prices, const struct er_mulch *mulch);
struct er_price er_film_roll_length(const struct er_prices *prices, const struct er_mulch *mulch);

/* Money for one of the goods. */
struct er_price er_good_price(const struct er_prices *prices, enum er_good good);

/* The key of the goods in the field file, and what they are, in a few words. */
const char *er_good_key(enum er_good good);
const char *er_good_about(enum er_good good);

#ifdef __cplusplus
}
#endif

#endif
