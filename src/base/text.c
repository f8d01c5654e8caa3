/* Growing texts, and what UTF-8 takes to be counted, shortened and shown without harm. */
#include "base/text.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/c_locale.h"

void er_text_init(struct er_text *text)
{
    text->data = NULL;
    text->length = 0;
    text->room = 0;
    text->out_of_memory = false;
}

void er_text_release(struct er_text *text)
{
    free(text->data);
    er_text_init(text);
}

void er_text_clear(struct er_text *text)
{
    text->length = 0;
    if (text->data != NULL) {
        text->data[0] = '\0';
    }
}

const char *er_text_string(const struct er_text *text)
{
    return text->data != NULL ? text->data : "";
}

char *er_text_take(struct er_text *text)
{
    er_text_append(text, ""); /* so that an empty text, too, is one that can be freed */
    if (text->out_of_memory) {
        er_text_release(text);
        return NULL;
    }
    char *taken = text->data;
    er_text_init(text);
    return taken;
}

/* Makes room for `count` more bytes and the NUL. */
static bool make_room(struct er_text *text, size_t count)
{
    if (text->out_of_memory) {
        return false;
    }
    if (count < text->room - text->length) {
        return true;
    }
    if (count > SIZE_MAX / 2 - text->length - 1) {
        text->out_of_memory = true;
        return false;
    }
    size_t wanted = text->length + count + 1;
    size_t room = text->room < 64 ? 64 : text->room;
    while (room < wanted) {
        room *= 2;
    }
    char *data = realloc(text->data, room);
    if (data == NULL) {
        text->out_of_memory = true;
        return false;
    }
    text->data = data;
    text->room = room;
    return true;
}

void er_text_append_bytes(struct er_text *text, const char *bytes, size_t count)
{
    if (!make_room(text, count)) {
        return;
    }
    if (count > 0) {
        memcpy(text->data + text->length, bytes, count);
    }
    text->length += count;
    text->data[text->length] = '\0';
}

void er_text_append(struct er_text *text, const char *string)
{
    er_text_append_bytes(text, string, strlen(string));
}

void er_text_vappendf(struct er_text *text, const char *format, va_list arguments)
{
    va_list again;
    va_copy(again, arguments);
    if (make_room(text, 0)) {
        size_t room = text->room - text->length;
        int wanted = er_c_vsnprintf(text->data + text->length, room, format, arguments);
        if (wanted >= 0 && (size_t)wanted >= room && make_room(text, (size_t)wanted)) {
            room = text->room - text->length;
            wanted = er_c_vsnprintf(text->data + text->length, room, format, again);
        }
        if (wanted < 0) {
            text->out_of_memory = true;
        }
        if (text->out_of_memory) {
            text->data[text->length] = '\0';
        } else {
            text->length += (size_t)wanted;
        }
    }
    va_end(again);
}

void er_text_appendf(struct er_text *text, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    er_text_vappendf(text, format, arguments);
    va_end(arguments);
}

/* The length that the first byte of a UTF-8 character promises; 0 if none can begin so. */
static size_t promised_length(unsigned char first)
{
    if (first < 0x80) {
        return 1;
    }
    if (first >= 0xc2 && first <= 0xdf) {
        return 2;
    }
    if (first >= 0xe0 && first <= 0xef) {
        return 3;
    }
    return first >= 0xf0 && first <= 0xf4 ? 4 : 0;
}

size_t er_utf8_character(const char *bytes, size_t count, unsigned long *character)
{
    static const unsigned long smallest[] = {0, 0, 0x80, 0x800, 0x10000};
    static const unsigned char first_bits[] = {0, 0x7f, 0x1f, 0x0f, 0x07};
    unsigned char first = (unsigned char)bytes[0];
    size_t length = promised_length(first);
    if (length == 0 || length > count) {
        return 0;
    }
    unsigned long value = first & first_bits[length];
    for (size_t i = 1; i < length; i++) {
        unsigned char next = (unsigned char)bytes[i];
        if ((next & 0xc0) != 0x80) {
            return 0;
        }
        value = value << 6 | (next & 0x3fu);
    }
    bool surrogate = value >= 0xd800 && value <= 0xdfff;
    if (value < smallest[length] || surrogate || value > 0x10ffff) {
        return 0;
    }
    *character = value;
    return length;
}

/* Whether a character does something else than show itself. */
static bool is_invisible(unsigned long character)
{
    return character < 0x20 || (character >= 0x7f && character <= 0x9f) ||
           character == 0x61c ||                           /* Arabic letter mark */
           (character >= 0x200b && character <= 0x200f) || /* no width; direction marks */
           (character >= 0x2028 && character <= 0x202e) || /* separators, direction overrides */
           (character >= 0x2060 && character <= 0x206f) || /* joiners, direction isolates */
           character == 0xfeff ||                          /* byte-order mark */
           (character >= 0xfff9 && character <= 0xfffb) || /* interlinear marks */
           (character >= 0xe0000 && character <= 0xe0fff); /* tags */
}

static void append_escape(struct er_text *text, unsigned long character)
{
    switch (character) {
    case '\n':
        er_text_append(text, "\\n");
        break;
    case '\r':
        er_text_append(text, "\\r");
        break;
    case '\t':
        er_text_append(text, "\\t");
        break;
    default:
        er_text_appendf(text, character < 0x80 ? "\\x%02lx" : "\\u%04lx", character);
    }
}

void er_text_append_visible_bytes(struct er_text *text, const char *bytes, size_t count)
{
    size_t plain = 0; /* where the bytes not yet appended begin */
    for (size_t at = 0; at < count;) {
        unsigned long character = 0;
        size_t length = er_utf8_character(bytes + at, count - at, &character);
        if (length > 0 && !is_invisible(character)) {
            at += length;
            continue;
        }
        er_text_append_bytes(text, bytes + plain, at - plain);
        if (length == 0) {
            er_text_appendf(text, "\\x%02x", (unsigned)(unsigned char)bytes[at]);
            length = 1;
        } else {
            append_escape(text, character);
        }
        at += length;
        plain = at;
    }
    er_text_append_bytes(text, bytes + plain, count - plain);
}

void er_text_append_visible(struct er_text *text, const char *string)
{
    er_text_append_visible_bytes(text, string, strlen(string));
}

void er_text_append_short(struct er_text *text, const char *bytes, size_t count, size_t most)
{
    if (count <= most) {
        er_text_append_bytes(text, bytes, count);
        return;
    }
    while (most > 0 && ((unsigned char)bytes[most] & 0xc0) == 0x80) {
        most--;
    }
    er_text_append_bytes(text, bytes, most);
    er_text_append(text, "...");
}

size_t er_columns_in(const char *text, size_t bytes)
{
    size_t columns = 0;
    for (size_t i = 0; i < bytes; i++) {
        columns += ((unsigned char)text[i] & 0xc0) != 0x80; /* not one that goes on */
    }
    return columns;
}

size_t er_columns(const char *text) { return er_columns_in(text, strlen(text)); }

char er_lower(char letter)
{
    return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
}

void er_text_append_clock(struct er_text *text, double seconds)
{
    if (!isfinite(seconds) || seconds > 3.6e9) {
        er_text_append(text, "-");
        return;
    }
    double minutes = floor(seconds / 60.0 + 0.5);
    double hours = floor(minutes / 60.0);
    er_text_appendf(text, "%.0f:%02.0f", hours, minutes - 60.0 * hours);
}
