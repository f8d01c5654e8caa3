/* The hand that writes a report.
 *
 * A figure, a name or a piece of a sentence is asked for as a text that lives as long as the pen,
 * so that a sentence is one format, whole. Each call gives a text, "" where memory ran out; the pen
 * remembers that, and who owns it asks once, at the end. */
#ifndef ER_SAY_PEN_H
#define ER_SAY_PEN_H

#include <stdarg.h>
#include <stdbool.h>

#include "base/text.h"
#include "evenrow/arena.h"
#include "evenrow/units.h"

#if defined(__GNUC__)
#define ER_FORMAT(at, first) __attribute__((format(printf, at, first)))
#else
#define ER_FORMAT(at, first)
#endif

/* An array and how many it holds, as two arguments. */
#define ER_ALL(array) (array), sizeof(array) / sizeof((array)[0])

struct er_pen {
    enum er_system system; /* of the figures */
    struct er_arena arena;
    bool out_of_memory;
};

void er_pen_release(struct er_pen *pen);

/* Room that lives as long as the pen, zeroed: for rows or columns that are only known now. NULL if
 * memory ran out. */
void *er_pen_room(struct er_pen *pen, size_t count, size_t size);

/* As printf makes it; the decimal sign is a point in every locale. */
const char *er_pen_text(struct er_pen *pen, const char *format, ...) ER_FORMAT(2, 3);
const char *er_pen_vtext(struct er_pen *pen, const char *format, va_list arguments) ER_FORMAT(2, 0);

/* With what could play tricks on a terminal as visible escapes (er_text_append_visible). */
const char *er_pen_visible(struct er_pen *pen, const char *text);

/* The first `most` bytes and "...", where there are more; no character is cut. */
const char *er_pen_short(struct er_pen *pen, const char *text, size_t most);

/* By the one rule (base/figure.h): "12.5"; beside its limit; as it was given in a list; whole. "-"
 * for NAN. */
const char *er_pen_number(struct er_pen *pen, double number);
const char *er_pen_beside(struct er_pen *pen, double number, double limit);
const char *er_pen_given(struct er_pen *pen, double number);
const char *er_pen_whole(struct er_pen *pen, double number);

/* A quantity (SI) with its unit: "12.5 gpm"; and without, where the unit stands elsewhere. */
const char *er_pen_figure(struct er_pen *pen, enum er_quantity quantity, double value);
const char *er_pen_bare(struct er_pen *pen, enum er_quantity quantity, double value);

/* A fraction: "85 %". */
const char *er_pen_percent(struct er_pen *pen, double fraction);

/* Seconds as hours and minutes: "3:51"; "-" for NAN. */
const char *er_pen_clock(struct er_pen *pen, double seconds);

/* An amount of money, whole ("$1,235", "1,235 EUR"), and from zero up with its cents. `currency`
 * may be NULL. */
const char *er_pen_money(struct er_pen *pen, const char *currency, double amount);
const char *er_pen_cents(struct er_pen *pen, const char *currency, double amount);

/* How many of something: "1 roll", "3 rolls". */
const char *er_pen_counted(struct er_pen *pen, double count, const char *one, const char *more);

/* `sentence`, out of a table, with `text` where its "%s" stands. */
const char *er_pen_filled(struct er_pen *pen, const char *sentence, const char *text);

/* The first sentence of `text`, without its stop. A stop inside a figure has no blank behind it. */
const char *er_pen_sentence(struct er_pen *pen, const char *text);

/* One more of a list that is told so far: "a", then "a, b". `so_far` is "" at first. */
const char *er_pen_joined(struct er_pen *pen, const char *so_far, const char *between,
                          const char *one);

/* What was put together elsewhere; the text is released. */
const char *er_pen_keep(struct er_pen *pen, struct er_text *text);

#endif
