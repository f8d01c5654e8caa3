/* A strict reader of JSON text (RFC 8259), token by token.
 *
 * It keeps no tree and calls itself nowhere, so that neither size nor depth of a
 * text can hurt it. The first fault ends it. */
#ifndef ER_JSON_SCAN_H
#define ER_JSON_SCAN_H

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"

#define ER_JSON_DEPTH 100 /* most objects and arrays inside each other */

enum er_json_kind {
    ER_JSON_OBJECT,     /* { */
    ER_JSON_OBJECT_END, /* } */
    ER_JSON_ARRAY,      /* [ */
    ER_JSON_ARRAY_END,  /* ] */
    ER_JSON_KEY,
    ER_JSON_STRING,
    ER_JSON_NUMBER,
    ER_JSON_TRUE,
    ER_JSON_FALSE,
    ER_JSON_NULL,
    ER_JSON_END,  /* the one value is complete and nothing follows it */
    ER_JSON_FAULT /* the scanner's fault says what is wrong and where */
};

struct er_json_token {
    enum er_json_kind kind;
    size_t start, end; /* bytes of the text; of a key or string with its quotes */
    double number;     /* of ER_JSON_NUMBER only */
};

struct er_json_scanner {
    const char *text; /* text[length] is NUL */
    size_t length, at;
    size_t depth;                 /* objects and arrays open */
    size_t opened[ER_JSON_DEPTH]; /* where their brackets stand */
    int expected;                 /* private: what may come next */
    size_t comma;                 /* private: where the last comma stood */
    struct er_text fault;         /* the message, empty while there is no fault */
    size_t fault_at;              /* the byte that it is about */
};

/* Begins to read `length` bytes, which must be followed by a NUL and outlive the scanner.
 * A byte-order mark at the start is skipped. */
void er_json_begin(struct er_json_scanner *scanner, const char *text, size_t length);

/* The next token. After ER_JSON_END or ER_JSON_FAULT the same again.
 * The colon after a key and the commas are checked and left out. */
struct er_json_token er_json_next(struct er_json_scanner *scanner);

/* Reads on to the end of the value that `token` begins; returns false at a fault. */
bool er_json_skip(struct er_json_scanner *scanner, const struct er_json_token *token);

/* Frees the scanner's message. */
void er_json_finish(struct er_json_scanner *scanner);

/* Appends what a key or string token of `text` stands for, as UTF-8. */
void er_json_decode(const char *text, const struct er_json_token *token, struct er_text *decoded);

/* The line and the column, in characters, both from 1, of a byte of a text. Lines end with
 * \n, \r\n or \r; a byte-order mark at the start is not counted. */
void er_json_place(const char *text, size_t length, size_t offset, size_t *line, size_t *column);

/* For the files of the scanner only: */

/* Records a fault at `offset`, unless there is one already. */
void er_json_fault(struct er_json_scanner *scanner, size_t offset, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 3, 4)))
#endif
    ;

/* Records the fault of a byte that cannot be part of any JSON text (a NUL, text that is not
 * UTF-8) and returns true; false if a valid character stands at `offset`. */
bool er_json_fault_of_byte(struct er_json_scanner *scanner, size_t offset);

/* Reads the string whose opening quote is at scanner->at. Returns false at a fault. */
bool er_json_read_string(struct er_json_scanner *scanner);

/* Reads the number at scanner->at. Returns false at a fault. */
bool er_json_read_number(struct er_json_scanner *scanner, double *number);

/* Records what is wrong with the thing at scanner->at, where a value should begin. */
void er_json_fault_of_value(struct er_json_scanner *scanner);

/* Records what is wrong with the thing at scanner->at, where a key should begin. */
void er_json_fault_of_key(struct er_json_scanner *scanner);

/* Records what is wrong with the thing at scanner->at, where a comma or a closing
 * bracket should stand. */
void er_json_fault_after_value(struct er_json_scanner *scanner);

#endif
