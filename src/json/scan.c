/* JSON text, token by token, and where its tokens and its faults stand. */
#include "json/scan.h"

#include <string.h>

#define BYTE_ORDER_MARK "\xef\xbb\xbf"

enum expected {
    A_VALUE,        /* at the start, after a colon, after a comma in an array */
    A_VALUE_OR_END, /* after [ */
    A_KEY,          /* after a comma in an object */
    A_KEY_OR_END,   /* after { */
    A_COMMA_OR_END, /* after a value in an object or array */
    NOTHING         /* after the one value */
};

static size_t mark_length(const char *text, size_t length)
{
    return length >= 3 && memcmp(text, BYTE_ORDER_MARK, 3) == 0 ? 3 : 0;
}

void er_json_begin(struct er_json_scanner *scanner, const char *text, size_t length)
{
    scanner->text = text;
    scanner->length = length;
    scanner->at = mark_length(text, length);
    scanner->depth = 0;
    scanner->expected = A_VALUE;
    scanner->comma = 0;
    er_text_init(&scanner->fault);
    scanner->fault_at = 0;
}

void er_json_finish(struct er_json_scanner *scanner) { er_text_release(&scanner->fault); }

static bool has_fault(const struct er_json_scanner *scanner)
{
    return scanner->fault.length > 0 || scanner->fault.out_of_memory;
}

void er_json_fault(struct er_json_scanner *scanner, size_t offset, const char *format, ...)
{
    if (has_fault(scanner)) {
        return;
    }
    scanner->fault_at = offset;
    va_list arguments;
    va_start(arguments, format);
    er_text_vappendf(&scanner->fault, format, arguments);
    va_end(arguments);
}

static void skip_white_space(struct er_json_scanner *scanner)
{
    const char *text = scanner->text;
    size_t at = scanner->at;
    while (text[at] == ' ' || text[at] == '\n' || text[at] == '\r' || text[at] == '\t') {
        at++;
    }
    scanner->at = at;
}

static bool inside_object(const struct er_json_scanner *scanner)
{
    return scanner->text[scanner->opened[scanner->depth - 1]] == '{';
}

/* What may follow a complete value. */
static void value_done(struct er_json_scanner *scanner)
{
    scanner->expected = scanner->depth == 0 ? NOTHING : A_COMMA_OR_END;
}

static bool open_bracket(struct er_json_scanner *scanner, struct er_json_token *token)
{
    if (scanner->depth == ER_JSON_DEPTH) {
        er_json_fault(scanner, scanner->at,
                      "more than %d objects and arrays inside each other: nothing in evenrow is "
                      "nested so deep",
                      ER_JSON_DEPTH);
        return false;
    }
    bool object = scanner->text[scanner->at] == '{';
    token->kind = object ? ER_JSON_OBJECT : ER_JSON_ARRAY;
    scanner->opened[scanner->depth++] = scanner->at++;
    scanner->expected = object ? A_KEY_OR_END : A_VALUE_OR_END;
    return true;
}

static void close_bracket(struct er_json_scanner *scanner, struct er_json_token *token)
{
    token->kind = inside_object(scanner) ? ER_JSON_OBJECT_END : ER_JSON_ARRAY_END;
    scanner->depth--;
    scanner->at++;
    value_done(scanner);
}

/* Reads true, false or null; returns false if none of them stands here. */
static bool read_word(struct er_json_scanner *scanner, struct er_json_token *token)
{
    static const struct {
        const char *word;
        enum er_json_kind kind;
    } words[] = {{"true", ER_JSON_TRUE}, {"false", ER_JSON_FALSE}, {"null", ER_JSON_NULL}};

    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        size_t length = strlen(words[i].word);
        if (strncmp(scanner->text + scanner->at, words[i].word, length) == 0) {
            scanner->at += length;
            token->kind = words[i].kind;
            return true;
        }
    }
    return false;
}

/* Reads a value, or the opening bracket of one. Returns false at a fault. */
static bool read_value(struct er_json_scanner *scanner, struct er_json_token *token)
{
    char first = scanner->text[scanner->at];
    if (first == '{' || first == '[') {
        return open_bracket(scanner, token);
    }
    if (first == '"') {
        token->kind = ER_JSON_STRING;
        if (!er_json_read_string(scanner)) {
            return false;
        }
    } else if (first == '-' || (first >= '0' && first <= '9')) {
        token->kind = ER_JSON_NUMBER;
        if (!er_json_read_number(scanner, &token->number)) {
            return false;
        }
    } else if (!read_word(scanner, token)) {
        er_json_fault_of_value(scanner);
        return false;
    }
    value_done(scanner);
    return true;
}

/* Reads a key and its colon. Returns false at a fault. */
static bool read_key(struct er_json_scanner *scanner, struct er_json_token *token)
{
    if (scanner->text[scanner->at] != '"') {
        er_json_fault_of_key(scanner);
        return false;
    }
    token->kind = ER_JSON_KEY;
    if (!er_json_read_string(scanner)) {
        return false;
    }
    token->end = scanner->at;
    skip_white_space(scanner);
    if (scanner->text[scanner->at] != ':') {
        er_json_fault(scanner, scanner->at, "a colon is missing here, between a key and its value");
        return false;
    }
    scanner->at++;
    scanner->expected = A_VALUE;
    return true;
}

/* Takes the comma between two values, or leaves a closing bracket to be read.
 * Returns false at a fault. */
static bool read_comma(struct er_json_scanner *scanner)
{
    char found = scanner->text[scanner->at];
    bool object = inside_object(scanner);
    if (found == ',') {
        scanner->comma = scanner->at++;
        scanner->expected = object ? A_KEY : A_VALUE;
        skip_white_space(scanner);
        return true;
    }
    if (found == (object ? '}' : ']')) {
        return true;
    }
    er_json_fault_after_value(scanner);
    return false;
}

/* Reads the token at scanner->at. Returns false at a fault. */
static bool read_token(struct er_json_scanner *scanner, struct er_json_token *token)
{
    if (scanner->expected == A_COMMA_OR_END && !read_comma(scanner)) {
        return false;
    }
    token->start = scanner->at;
    token->end = 0;
    char found = scanner->text[scanner->at];
    switch ((enum expected)scanner->expected) {
    case A_COMMA_OR_END:
        close_bracket(scanner, token);
        return true;
    case A_VALUE_OR_END:
        if (found == ']') {
            close_bracket(scanner, token);
            return true;
        }
        return read_value(scanner, token);
    case A_KEY_OR_END:
        if (found == '}') {
            close_bracket(scanner, token);
            return true;
        }
        return read_key(scanner, token);
    case A_VALUE:
        return read_value(scanner, token);
    case A_KEY:
        return read_key(scanner, token);
    case NOTHING:
        break;
    }
    token->kind = ER_JSON_END;
    if (scanner->at < scanner->length) {
        er_json_fault_after_value(scanner);
    }
    return scanner->at == scanner->length;
}

struct er_json_token er_json_next(struct er_json_scanner *scanner)
{
    struct er_json_token token = {.kind = ER_JSON_FAULT};
    if (has_fault(scanner)) {
        return token;
    }
    skip_white_space(scanner);
    if (!read_token(scanner, &token)) {
        token.kind = ER_JSON_FAULT;
    } else if (token.end == 0) {
        token.end = scanner->at;
    }
    return token;
}

bool er_json_skip(struct er_json_scanner *scanner, const struct er_json_token *token)
{
    if (token->kind != ER_JSON_OBJECT && token->kind != ER_JSON_ARRAY) {
        return token->kind != ER_JSON_FAULT;
    }
    size_t outside = scanner->depth - 1;
    while (scanner->depth > outside) {
        if (er_json_next(scanner).kind == ER_JSON_FAULT) {
            return false;
        }
    }
    return true;
}

void er_json_place(const char *text, size_t length, size_t offset, size_t *line, size_t *column)
{
    *line = 1;
    *column = 1;
    for (size_t i = mark_length(text, length); i < offset && i < length; i++) {
        unsigned char byte = (unsigned char)text[i];
        if (byte == '\n' || (byte == '\r' && text[i + 1] != '\n')) {
            ++*line;
            *column = 1;
        } else if ((byte & 0xc0) != 0x80) { /* not the inside of a longer character */
            ++*column;
        }
    }
}
