/* A text that grows.
 *
 * The calls that append return nothing: when memory runs out the text keeps what it
 * has, remembers that, and takes no more. Whoever builds a text asks once, at the end. */
#ifndef ER_BASE_TEXT_H
#define ER_BASE_TEXT_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

struct er_text {
    char *data;    /* NUL-terminated; NULL while empty */
    size_t length; /* bytes, without the NUL */
    size_t room;   /* bytes allocated */
    bool out_of_memory;
};

void er_text_init(struct er_text *text);

/* Frees the text and leaves it empty, as er_text_init does. */
void er_text_release(struct er_text *text);

/* Empties the text but keeps its memory. Does not forget that memory ran out. */
void er_text_clear(struct er_text *text);

/* The text so far, never NULL. Valid until the next call that changes it. */
const char *er_text_string(const struct er_text *text);

/* Hands the text to the caller, who frees it, and leaves this one empty.
 * NULL if memory ran out at any time. */
char *er_text_take(struct er_text *text);

void er_text_append(struct er_text *text, const char *string);
void er_text_append_bytes(struct er_text *text, const char *bytes, size_t count);

/* As printf makes it; the decimal sign is a point in every locale. */
void er_text_appendf(struct er_text *text, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 2, 3)))
#endif
    ;
void er_text_vappendf(struct er_text *text, const char *format, va_list arguments)
#if defined(__GNUC__)
    __attribute__((format(printf, 2, 0)))
#endif
    ;

/* A time (s) as hours and minutes: "24:34"; "-" where there is none. */
void er_text_append_clock(struct er_text *text, double seconds);

/* Appends a text that came from outside so that it cannot play tricks on a terminal:
 * control characters (C0, DEL, C1), line separators and characters that turn the direction
 * of writing are shown as \n, \x1b, \u202e; a byte that is not valid UTF-8 as \xff. */
void er_text_append_visible(struct er_text *text, const char *string);
void er_text_append_visible_bytes(struct er_text *text, const char *bytes, size_t count);

/* Appends `count` bytes of UTF-8, or the first `most` and "..." if there are more;
 * no character is cut in two. */
void er_text_append_short(struct er_text *text, const char *bytes, size_t count, size_t most);

/* The length in bytes (1 to 4) of the valid UTF-8 character (RFC 3629) at the start of
 * `count` bytes, and the character itself; 0 if there is no valid one. `count` > 0. */
size_t er_utf8_character(const char *bytes, size_t count, unsigned long *character);

/* Columns that `text`, or its first bytes, take: its characters. `text` is valid UTF-8 without
 * controls. */
size_t er_columns(const char *text);
size_t er_columns_in(const char *text, size_t bytes);

/* A letter from A to Z made small, any other left alone, whatever the locale. */
char er_lower(char letter);

#endif
