/* Strings and numbers of JSON text. */
#include <math.h>
#include <string.h>

#include "base/c_locale.h"
#include "json/scan.h"

/* The value of four hexadecimal digits, or -1. */
static long four_digits(const char *text)
{
    long value = 0;
    for (int i = 0; i < 4; i++) {
        char digit = er_lower(text[i]);
        if (digit >= '0' && digit <= '9') {
            value = value * 16 + (digit - '0');
        } else if (digit >= 'a' && digit <= 'f') {
            value = value * 16 + (digit - 'a' + 10);
        } else {
            return -1;
        }
    }
    return value;
}

static bool is_high_half(long unit) { return unit >= 0xd800 && unit <= 0xdbff; }
static bool is_low_half(long unit) { return unit >= 0xdc00 && unit <= 0xdfff; }

/* The value of a second \u escape that makes a pair with the one before; -1 if none is there. */
static long second_half(const char *text)
{
    long low = text[0] == '\\' && text[1] == 'u' ? four_digits(text + 2) : -1;
    return is_low_half(low) ? low : -1;
}

/* Reads the \u escape at scanner->at, and its second half if it has one. */
static bool read_unicode_escape(struct er_json_scanner *scanner)
{
    size_t start = scanner->at;
    const char *escape = scanner->text + start;
    long unit = four_digits(escape + 2);
    if (unit < 0) {
        er_json_fault(scanner, start, "\\u must be followed by four hexadecimal digits");
        return false;
    }
    if (unit == 0) {
        er_json_fault(scanner, start, "\\u0000 cannot stand in a text: take it out");
        return false;
    }
    bool pair = is_high_half(unit) && second_half(escape + 6) >= 0;
    if (is_low_half(unit) || (is_high_half(unit) && !pair)) {
        er_json_fault(scanner, start, "\\u%04lx is half of a pair, and the other half is missing",
                      unit);
        return false;
    }
    scanner->at += pair ? 12 : 6;
    return true;
}

static bool read_escape(struct er_json_scanner *scanner)
{
    char escaped = scanner->text[scanner->at + 1];
    if (escaped == 'u') {
        return read_unicode_escape(scanner);
    }
    if (escaped != '\0' && strchr("\"\\/bfnrt", escaped) != NULL) {
        scanner->at += 2;
        return true;
    }
    er_json_fault(scanner, scanner->at,
                  "a backslash that JSON does not know; a backslash itself is written \\\\");
    return false;
}

/* Records the fault of a control character or of a byte that is none of UTF-8, inside
 * the string that started at `start`. */
static void fault_in_string(struct er_json_scanner *scanner, size_t start)
{
    size_t at = scanner->at;
    unsigned char found = (unsigned char)scanner->text[at];
    if (at == scanner->length || found == '\n' || found == '\r') {
        er_json_fault(scanner, start,
                      "the text that begins here is not closed: a double quote is missing at its "
                      "end");
    } else if (found == '\t') {
        er_json_fault(scanner, at, "a tab inside a text: put a blank instead, or \\t");
    } else if (!er_json_fault_of_byte(scanner, at)) {
        er_json_fault(scanner, at, "a control character (\\x%02x) inside a text: take it out",
                      (unsigned)found);
    }
}

bool er_json_read_string(struct er_json_scanner *scanner)
{
    size_t start = scanner->at++;
    for (;;) {
        unsigned char found = (unsigned char)scanner->text[scanner->at];
        unsigned long character = 0;
        size_t length = 1;
        if (found == '"') {
            scanner->at++;
            return true;
        }
        if (found >= 0x80) {
            length = er_utf8_character(scanner->text + scanner->at, scanner->length - scanner->at,
                                       &character);
        }
        if (found < 0x20 || length == 0) {
            fault_in_string(scanner, start);
            return false;
        }
        if (found != '\\') {
            scanner->at += length;
        } else if (!read_escape(scanner)) {
            return false;
        }
    }
}

static bool is_digit(char letter) { return letter >= '0' && letter <= '9'; }

/* Records why the number at scanner->at is none. */
static void fault_of_number(struct er_json_scanner *scanner)
{
    const char *start = scanner->text + scanner->at;
    const char *digits = *start == '-' ? start + 1 : start;
    if (!is_digit(*digits)) {
        er_json_fault(scanner, scanner->at,
                      strncmp(digits, "Inf", 3) == 0 || strncmp(digits, "inf", 3) == 0
                          ? "JSON has no infinity and no NaN: give a number"
                          : "a minus must be followed by a digit");
    } else if (*digits == '0' && is_digit(digits[1])) {
        er_json_fault(scanner, scanner->at, "a number cannot begin with a needless 0: take it off");
    } else {
        er_json_fault(scanner, scanner->at,
                      "digits are missing after the decimal point or the e of this number");
    }
}

bool er_json_read_number(struct er_json_scanner *scanner, double *number)
{
    const char *start = scanner->text + scanner->at;
    const char *end = er_number_end(start);
    if (end == NULL) {
        fault_of_number(scanner);
        return false;
    }
    *number = er_c_number(start);
    if (!isfinite(*number)) {
        er_json_fault(scanner, scanner->at, "this number is too large");
        return false;
    }
    scanner->at += (size_t)(end - start);
    return true;
}

static void append_character(struct er_text *text, unsigned long character)
{
    char bytes[4];
    size_t count = 0;
    if (character < 0x80) {
        bytes[count++] = (char)character;
    } else if (character < 0x800) {
        bytes[count++] = (char)(0xc0 | character >> 6);
        bytes[count++] = (char)(0x80 | (character & 0x3f));
    } else if (character < 0x10000) {
        bytes[count++] = (char)(0xe0 | character >> 12);
        bytes[count++] = (char)(0x80 | (character >> 6 & 0x3f));
        bytes[count++] = (char)(0x80 | (character & 0x3f));
    } else {
        bytes[count++] = (char)(0xf0 | character >> 18);
        bytes[count++] = (char)(0x80 | (character >> 12 & 0x3f));
        bytes[count++] = (char)(0x80 | (character >> 6 & 0x3f));
        bytes[count++] = (char)(0x80 | (character & 0x3f));
    }
    er_text_append_bytes(text, bytes, count);
}

/* Appends what the escape at `escape` stands for; returns its length. */
static size_t decode_escape(const char *escape, struct er_text *decoded)
{
    static const char letters[] = "bfnrt";
    static const char meant[] = "\b\f\n\r\t";
    if (escape[1] != 'u') {
        const char *letter = strchr(letters, escape[1]);
        er_text_append_bytes(decoded, letter != NULL ? meant + (letter - letters) : escape + 1, 1);
        return 2;
    }
    long unit = four_digits(escape + 2);
    if (!is_high_half(unit)) {
        append_character(decoded, (unsigned long)unit);
        return 6;
    }
    long low = second_half(escape + 6);
    append_character(decoded, 0x10000UL + ((unsigned long)(unit - 0xd800) << 10) +
                                  (unsigned long)(low - 0xdc00));
    return 12;
}

void er_json_decode(const char *text, const struct er_json_token *token, struct er_text *decoded)
{
    const char *at = text + token->start + 1;
    const char *end = text + token->end - 1;
    while (at < end) {
        const char *escape = memchr(at, '\\', (size_t)(end - at));
        const char *plain_end = escape != NULL ? escape : end;
        er_text_append_bytes(decoded, at, (size_t)(plain_end - at));
        at = plain_end;
        if (escape != NULL) {
            at += decode_escape(escape, decoded);
        }
    }
}
