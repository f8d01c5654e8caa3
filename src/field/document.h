/* What the field reader needs to know of a document (see evenrow/reading.h):
 * its tree, and where in the text a place of the tree stands. */
#ifndef ER_FIELD_DOCUMENT_H
#define ER_FIELD_DOCUMENT_H

#include <cjson/cJSON.h>

#include "evenrow/reading.h"

/* The tree, with all overrides made so far. Lives as long as the document.
 * A number is in its valuedouble; valueint is the document's own.
 * No object in it has a key twice, and every text in it is valid UTF-8 without NUL. */
const cJSON *er_document_root(const struct er_document *document);

/* Which end of a member a problem is about. */
enum er_spot { ER_AT_VALUE, ER_AT_KEY };

/* Adds a problem with the origin, line and column of the place `pointer` (RFC 6901):
 * of the field file itself, or of the override that put the place there.
 * A place that is nowhere in the text (a missing key) is told by its nearest parent's. */
void er_document_problem(const struct er_document *document, struct er_problems *problems,
                         const char *pointer, enum er_spot spot, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 5, 6)))
#endif
    ;

#endif
