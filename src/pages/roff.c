/* Text as the source of a manual page. */
#include <string.h>

#include "pages/pages.h"

#define LONG_LINE 54 /* bytes after which a blank ends the line */

/* What is written for a character that roff or a terminal would change. */
static const char *escape(char character)
{
    switch (character) {
    case '\\':
        return "\\(rs";
    case '-':
        return "\\-"; /* may be copied into a shell */
    case '\'':
        return "\\(aq";
    case '"':
        return "\\(dq";
    case '`':
        return "\\(ga";
    case '^':
        return "\\(ha";
    case '~':
        return "\\(ti";
    default:
        return NULL;
    }
}

static size_t line_length(const struct er_text *out)
{
    size_t length = 0;
    while (length < out->length && out->data[out->length - 1 - length] != '\n') {
        length++;
    }
    return length;
}

static void append_character(struct er_text *out, char character)
{
    const char *escaped = escape(character);
    if (escaped != NULL) {
        er_text_append(out, escaped);
        return;
    }
    if (character == '.' && line_length(out) == 0) {
        er_text_append(out, "\\&"); /* no request */
    }
    er_text_append_bytes(out, &character, 1);
}

void er_roff_append_bytes(struct er_text *out, const char *text, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        bool sentence_ends = i > 0 && strchr(".?!", text[i - 1]) != NULL;
        if (text[i] == ' ' && (sentence_ends || line_length(out) > LONG_LINE)) {
            er_text_append(out, "\n");
        } else {
            append_character(out, text[i]);
        }
    }
}

void er_roff_append(struct er_text *out, const char *text)
{
    er_roff_append_bytes(out, text, strlen(text));
}

void er_roff_append_in(struct er_text *out, char font, const char *text)
{
    er_text_appendf(out, "\\f%c", font);
    er_roff_append(out, text);
    er_text_append(out, "\\fR");
}

void er_roff_append_paragraphs(struct er_text *out, const char *text, const char *macro)
{
    for (;;) {
        size_t bytes = strcspn(text, "\n");
        er_roff_append_bytes(out, text, bytes);
        er_text_append(out, "\n");
        if (text[bytes] == '\0') {
            return;
        }
        er_text_appendf(out, "%s\n", macro);
        text += bytes + 1;
    }
}
