/* Which price counts: the file's, the thing's own, or the placeholder. */
#include <string.h>

#include "evenrow/bill.h"

static const struct er_price no_price = {(double)NAN, false};

struct er_prices er_prices_over(const struct er_prices *given, const struct er_prices *list)
{
    struct er_prices prices = {.film = {ER_NONE, ER_NONE, ER_NONE, ER_NONE}};
    for (size_t i = 0; i < ER_GOOD_COUNT; i++) {
        prices.each[i] = ER_NONE;
    }
    prices = given != NULL ? *given : prices;
    prices.placeholders = prices.placeholders == NULL ? list : prices.placeholders;
    return prices;
}

static const struct er_pipe_price *find_pipe(const struct er_prices *prices, const char *name)
{
    for (size_t i = 0; name != NULL && i < prices->pipe_count; i++) {
        if (strcmp(prices->pipes[i].name, name) == 0) {
            return &prices->pipes[i];
        }
    }
    return NULL;
}

static const struct er_tape_price *find_tape(const struct er_prices *prices, const char *name)
{
    for (size_t i = 0; name != NULL && i < prices->tape_count; i++) {
        if (strcmp(prices->tapes[i].name, name) == 0) {
            return &prices->tapes[i];
        }
    }
    return NULL;
}

/* The first size that is wide enough, or the last; NULL if there is none. */
static const struct er_size_price *find_size(const struct er_size_price *sizes, size_t count,
                                             double inside_diameter)
{
    size_t i = 0;
    while (i + 1 < count && sizes[i].up_to < inside_diameter) {
        i++;
    }
    return count > 0 ? &sizes[i] : NULL;
}

/* The built-in list's figures for a pipe. */
static struct er_pipe_price pipe_placeholder(const struct er_prices *prices,
                                             const struct er_pipe *pipe)
{
    const struct er_prices *list = prices->placeholders;
    const struct er_pipe_price *named = list == NULL ? NULL : find_pipe(list, pipe->name);
    const struct er_size_price *size =
        list == NULL ? NULL
                     : find_size(list->pipe_sizes, list->pipe_size_count, pipe->inside_diameter);
    if (named != NULL) {
        return *named;
    }
    return size == NULL ? (struct er_pipe_price){.price = (double)NAN, .length = (double)NAN}
                        : (struct er_pipe_price){.price = size->price, .length = size->length};
}

static struct er_price placeholder(double amount) { return (struct er_price){amount, true}; }

static struct er_price own_price(double amount) { return (struct er_price){amount, false}; }

struct er_price er_pipe_price(const struct er_prices *prices, const struct er_pipe *pipe)
{
    const struct er_pipe_price *given = find_pipe(prices, pipe->name);
    if (given != NULL && er_given(given->price)) {
        return own_price(given->price);
    }
    return er_given(pipe->price) ? own_price(pipe->price)
                                 : placeholder(pipe_placeholder(prices, pipe).price);
}

struct er_price er_pipe_piece(const struct er_prices *prices, const struct er_pipe *pipe)
{
    const struct er_pipe_price *given = find_pipe(prices, pipe->name);
    return given != NULL && er_given(given->length)
               ? own_price(given->length)
               : placeholder(pipe_placeholder(prices, pipe).length);
}

/* The built-in list's roll that is most like the tape's; NULL if there is none. */
static const struct er_size_price *tape_placeholder(const struct er_prices *prices,
                                                    const struct er_tape *tape)
{
    const struct er_prices *list = prices->placeholders;
    return list == NULL ? NULL
                        : find_size(list->tape_sizes, list->tape_size_count, tape->inside_diameter);
}

struct er_price er_tape_short_roll_length(const struct er_prices *prices,
                                          const struct er_tape *tape)
{
    const struct er_size_price *size = tape_placeholder(prices, tape);
    return size == NULL ? no_price : placeholder(size->short_length);
}

struct er_price er_tape_short_roll_price(const struct er_prices *prices, const struct er_tape *tape)
{
    const struct er_size_price *size = tape_placeholder(prices, tape);
    return size == NULL ? no_price : placeholder(size->short_price);
}

struct er_price er_tape_roll_length(const struct er_prices *prices, const struct er_tape *tape)
{
    const struct er_tape_price *given = find_tape(prices, tape->name);
    if (given != NULL && er_given(given->roll_length)) {
        return own_price(given->roll_length);
    }
    if (er_given(tape->roll_length)) {
        return own_price(tape->roll_length);
    }
    const struct er_size_price *size = tape_placeholder(prices, tape);
    return size == NULL ? no_price : placeholder(size->length);
}

struct er_price er_tape_roll_price(const struct er_prices *prices, const struct er_tape *tape)
{
    const struct er_tape_price *given = find_tape(prices, tape->name);
    if (given != NULL && er_given(given->roll_price)) {
        return own_price(given->roll_price);
    }
    if (er_given(tape->roll_price)) {
        return own_price(tape->roll_price);
    }
    const struct er_size_price *size = tape_placeholder(prices, tape);
    return size == NULL
               ? no_price
               : placeholder(size->price / size->length * er_tape_roll_length(prices, tape).amount);
}

/* What the file itself says: its prices first, then what `of_mulch` is of its mulch's film. */
static double own_film_figure(double priced, double of_mulch)
{
    return er_given(priced) ? priced : of_mulch;
}

struct er_price er_film_roll_length(const struct er_prices *prices, const struct er_mulch *mulch)
{
    const double length = own_film_figure(prices->film.roll_length,
                                          mulch == NULL ? ER_NONE : mulch->film.roll_length);
    if (er_given(length)) {
        return own_price(length);
    }
    return prices->placeholders == NULL ? no_price
                                        : placeholder(prices->placeholders->film.roll_length);
}

struct er_price er_film_roll_price(const struct er_prices *prices, const struct er_mulch *mulch)
{
    const double price =
        own_film_figure(prices->film.roll_price, mulch == NULL ? ER_NONE : mulch->film.roll_price);
    if (er_given(price)) {
        return own_price(price);
    }
    if (prices->placeholders == NULL) {
        return no_price;
    }
    const struct er_film *film = &prices->placeholders->film;
    return placeholder(film->roll_price / film->roll_length *
                       er_film_roll_length(prices, mulch).amount);
}

struct er_price er_good_price(const struct er_prices *prices, enum er_good good)
{
    if (er_given(prices->each[good])) {
        return own_price(prices->each[good]);
    }
    return prices->placeholders == NULL ? no_price : placeholder(prices->placeholders->each[good]);
}
