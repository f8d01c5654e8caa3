/* Pieces of sentences that live as long as the page they are for. */
#include "say/pen.h"

#include <math.h>
#include <string.h>

#include "base/figure.h"

void er_pen_release(struct er_pen *pen) { er_arena_release(&pen->arena); }

void *er_pen_room(struct er_pen *pen, size_t count, size_t size)
{
    void *room = er_arena_array(&pen->arena, count, size);
    pen->out_of_memory = pen->out_of_memory || room == NULL;
    return room;
}

const char *er_pen_keep(struct er_pen *pen, struct er_text *text)
{
    const char *kept = er_arena_text(&pen->arena, er_text_string(text));
    pen->out_of_memory = pen->out_of_memory || text->out_of_memory || kept == NULL;
    er_text_release(text);
    return kept != NULL ? kept : "";
}

const char *er_pen_vtext(struct er_pen *pen, const char *format, va_list arguments)
{
    struct er_text text;
    er_text_init(&text);
    er_text_vappendf(&text, format, arguments);
    return er_pen_keep(pen, &text);
}

const char *er_pen_text(struct er_pen *pen, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    const char *text = er_pen_vtext(pen, format, arguments);
    va_end(arguments);
    return text;
}

const char *er_pen_visible(struct er_pen *pen, const char *text)
{
    struct er_text visible;
    er_text_init(&visible);
    er_text_append_visible(&visible, text);
    return er_pen_keep(pen, &visible);
}

const char *er_pen_short(struct er_pen *pen, const char *text, size_t most)
{
    struct er_text kept;
    er_text_init(&kept);
    er_text_append_short(&kept, text, strlen(text), most);
    return er_pen_keep(pen, &kept);
}

const char *er_pen_number(struct er_pen *pen, double number)
{
    return er_pen_beside(pen, number, (double)NAN); /* there is no limit */
}

const char *er_pen_beside(struct er_pen *pen, double number, double limit)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append_beside(&text, number, limit);
    return er_pen_keep(pen, &text);
}

const char *er_pen_given(struct er_pen *pen, double number)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append_given(&text, number);
    return er_pen_keep(pen, &text);
}

const char *er_pen_whole(struct er_pen *pen, double number)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append_whole(&text, number);
    return er_pen_keep(pen, &text);
}

const char *er_pen_figure(struct er_pen *pen, enum er_quantity quantity, double value)
{
    return er_pen_text(pen, "%s %s", er_pen_bare(pen, quantity, value),
                       er_unit_name(quantity, pen->system));
}

const char *er_pen_bare(struct er_pen *pen, enum er_quantity quantity, double value)
{
    return er_pen_number(pen, er_from_si(quantity, pen->system, value));
}

const char *er_pen_percent(struct er_pen *pen, double fraction)
{
    return er_pen_text(pen, "%s %%", er_pen_number(pen, 100.0 * fraction));
}

const char *er_pen_clock(struct er_pen *pen, double seconds)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append_clock(&text, seconds);
    return er_pen_keep(pen, &text);
}

static const char *whole_amount(struct er_pen *pen, double amount)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append_amount(&text, amount);
    return er_pen_keep(pen, &text);
}

/* A currency's letters stand behind the amount, its sign before it. */
static const char *with_currency(struct er_pen *pen, const char *currency, const char *amount)
{
    if (currency == NULL) {
        return amount;
    }
    const char first = er_lower(currency[0]);
    const char *shown = er_pen_visible(pen, currency);
    return first >= 'a' && first <= 'z' ? er_pen_text(pen, "%s %s", amount, shown)
                                        : er_pen_text(pen, "%s%s", shown, amount);
}

const char *er_pen_money(struct er_pen *pen, const char *currency, double amount)
{
    return with_currency(pen, currency, isfinite(amount) ? whole_amount(pen, amount) : "-");
}

const char *er_pen_cents(struct er_pen *pen, const char *currency, double amount)
{
    const double cents = floor(100.0 * amount + 0.5);
    return with_currency(pen, currency,
                         isfinite(amount) ? er_pen_text(pen, "%s.%02.0f",
                                                        whole_amount(pen, floor(cents / 100.0)),
                                                        fmod(cents, 100.0))
                                          : "-");
}

const char *er_pen_counted(struct er_pen *pen, double count, const char *one, const char *more)
{
    return er_pen_text(pen, "%s %s", er_pen_whole(pen, count), count > 1.0 ? more : one);
}

const char *er_pen_filled(struct er_pen *pen, const char *sentence, const char *text)
{
    const char *at = strstr(sentence, "%s");
    return at == NULL ? sentence
                      : er_pen_text(pen, "%.*s%s%s", (int)(at - sentence), sentence, text, at + 2);
}

const char *er_pen_sentence(struct er_pen *pen, const char *text)
{
    const char *stop = strstr(text, ". ");
    return er_pen_text(pen, "%.*s", (int)(stop != NULL ? (size_t)(stop - text) : strlen(text)),
                       text);
}

const char *er_pen_joined(struct er_pen *pen, const char *so_far, const char *between,
                          const char *one)
{
    return so_far[0] == '\0' ? er_pen_text(pen, "%s", one)
                             : er_pen_text(pen, "%s%s%s", so_far, between, one);
}
