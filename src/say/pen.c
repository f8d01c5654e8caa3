/* Pieces of sentences that live as long as the page they are for. */
#include "say/pen.h"

#include <string.h>

#include "say/say.h"

void er_pen_release(struct er_pen *pen) { er_arena_release(&pen->arena); }

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
    struct er_text text;
    er_text_init(&text);
    er_append_number(&text, number);
    return er_pen_keep(pen, &text);
}

const char *er_pen_figure(struct er_pen *pen, enum er_quantity quantity, double value)
{
    struct er_text text;
    er_text_init(&text);
    er_append_quantity(&text, pen->system, quantity, value);
    return er_pen_keep(pen, &text);
}

const char *er_pen_clock(struct er_pen *pen, double seconds)
{
    struct er_text text;
    er_text_init(&text);
    er_append_clock(&text, seconds);
    return er_pen_keep(pen, &text);
}

const char *er_pen_money(struct er_pen *pen, const char *currency, double amount)
{
    struct er_text text;
    er_text_init(&text);
    er_append_money(&text, currency, amount);
    return er_pen_keep(pen, &text);
}

const char *er_pen_cents(struct er_pen *pen, const char *currency, double amount)
{
    struct er_text text;
    er_text_init(&text);
    er_append_cents(&text, currency, amount);
    return er_pen_keep(pen, &text);
}

const char *er_pen_counted(struct er_pen *pen, double count, const char *one, const char *more)
{
    return er_pen_text(pen, "%.0f %s", count, count > 1.0 ? more : one);
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
