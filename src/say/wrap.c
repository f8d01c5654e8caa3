/* Where lines break, and paragraphs of such lines. */
#include "say/wrap.h"

#include <string.h>

static int continues_character(char byte) { return ((unsigned char)byte & 0xC0U) == 0x80U; }

/* Bytes of the first `columns` characters of `text`, or of all of it. */
static size_t bytes_of_columns(const char *text, size_t columns)
{
    size_t at = 0;
    while (text[at] != '\0') {
        if (!continues_character(text[at])) {
            if (columns == 0) {
                break;
            }
            columns--;
        }
        at++;
    }
    return at;
}

/* The bytes up to the last hyphen of a word of `most` bytes and more; 0 if there is none but at
 * its start. */
static size_t bytes_to_hyphen(const char *word, size_t most)
{
    size_t at = most;
    while (at > 0 && word[at - 1] != '-') {
        at--;
    }
    return at > 1 ? at : 0;
}

size_t er_line_bytes(const char *text, size_t columns)
{
    size_t most = bytes_of_columns(text, columns);
    size_t at = most;
    if (text[most] != '\0' && text[most] != ' ') {
        while (at > 0 && text[at - 1] != ' ') {
            at--;
        }
    }
    while (at > 0 && text[at - 1] == ' ') {
        at--;
    }
    if (at == 0) {
        at = bytes_to_hyphen(text, most);
    }
    return at > 0 ? at : most;
}

const char *er_skip_blanks(const char *text) { return text + strspn(text, " "); }

void er_paragraph(struct er_text *out, const char *first, const char *rest, const char *text)
{
    struct er_text visible;
    er_text_init(&visible);
    er_text_append_visible(&visible, text);
    out->out_of_memory = out->out_of_memory || visible.out_of_memory;

    const char *at = er_skip_blanks(er_text_string(&visible));
    const char *prefix = first;
    do {
        size_t bytes = er_line_bytes(at, ER_PAGE - er_columns(prefix));
        er_text_append(out, prefix);
        er_text_append_bytes(out, at, bytes);
        er_text_append(out, "\n");
        at = er_skip_blanks(at + bytes);
        prefix = rest;
    } while (*at != '\0');
    er_text_release(&visible);
}
