/* A document (see evenrow/reading.h) as those need it who know what its keys mean: its tree, what
 * changes it, and where in the text a place of the tree stands. */
#ifndef ER_JSON_DOCUMENT_H
#define ER_JSON_DOCUMENT_H

#include <stdbool.h>

#include <cjson/cJSON.h>

#include "evenrow/reading.h"

/* The tree, with all overrides made so far. Lives as long as the document.
 * A number is in its valuedouble; valueint is the document's own.
 * No object in it has a key twice, and every text in it is valid UTF-8 without NUL. */
const cJSON *er_document_root(const struct er_document *document);

/* er_document_set and er_document_patch of evenrow/reading.h, but that they know of no key: what
 * else a change must change is done by a function that they call. */

/* The place `pointer` has just been given a value; never the whole tree. */
typedef void er_when_set(cJSON *root, const char *pointer);
enum er_status er_document_assign(struct er_document *document, const char *assignment,
                                  er_when_set *when_set, struct er_problems *problems);

/* `patch` is about to be merged into the tree. */
typedef void er_before_merge(cJSON *root, const cJSON *patch);
enum er_status er_document_merge(struct er_document *document, const char *name, const char *text,
                                 size_t length, er_before_merge *before_merge,
                                 struct er_problems *problems);

/* Which end of a member a problem is about. */
enum er_spot { ER_AT_VALUE, ER_AT_KEY };

/* Puts a changed copy of the tree in the place of the tree, which must not have been changed
 * since er_document_next_mark. What the copy has from elsewhere has that mark as its valueint, and
 * its problems are told without a line. Takes `root` over; false, and then not, if memory ran
 * out. */
int er_document_next_mark(const struct er_document *document);
bool er_document_replace(struct er_document *document, cJSON *root);

/* Adds a problem with the origin, line and column of the place `pointer` (RFC 6901):
 * of the file itself, or of the override that put the place there.
 * A place that is nowhere in the text (a missing key) is told by its nearest parent's. */
void er_document_problem(const struct er_document *document, struct er_problems *problems,
                         const char *pointer, enum er_spot spot, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 5, 6)))
#endif
    ;

#endif
