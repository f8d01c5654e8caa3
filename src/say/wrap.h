/* Text fitted to a page of ER_PAGE columns. A column is one character of UTF-8. */
#ifndef ER_SAY_WRAP_H
#define ER_SAY_WRAP_H

#include <stddef.h>

#include "base/text.h"

#define ER_PAGE 80 /* columns of a terminal, and of a printed page in a plain fixed type */

/* The bytes of `text` that go on a line of `columns` (> 0) columns: up to the last blank
 * that fits; where a word is longer than the line, up to its last hyphen that fits, or else
 * as many characters as fit. */
size_t er_line_bytes(const char *text, size_t columns);

/* `text` without the blanks at its start. */
const char *er_skip_blanks(const char *text);

/* Appends `text` as lines of at most ER_PAGE columns. The first line begins with `first`, the
 * others with `rest`; both are shorter than half a page. Control characters are shown as
 * visible escapes. */
void er_paragraph(struct er_text *out, const char *first, const char *rest, const char *text);

#endif
