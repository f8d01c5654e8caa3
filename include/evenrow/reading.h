/* From the field file to a field.
 *
 * A field file is read in three steps: er_document_open reads the text strictly
 * (RFC 8259) into a tree that remembers its places; overrides change the tree;
 * er_field_read turns the tree into SI data, or tells every problem with its place.
 * The keys and their units are told in the README, in the chapter on the field file. */
#ifndef EVENROW_READING_H
#define EVENROW_READING_H

#include <stddef.h>

#include "evenrow/field.h"
#include "evenrow/problems.h"
#include "evenrow/status.h"

#ifdef __cplusplus
extern "C" {
#endif

struct er_document; /* a field file's text, its tree, and the overrides made to it */

/* Reads `length` bytes of JSON. `name` is the file's name for messages. On ER_OK the caller
 * releases *document; on ER_BAD_INPUT `problems` says why; also ER_NO_MEMORY. */
enum er_status er_document_open(const char *name, const char *text, size_t length,
                                struct er_document **document, struct er_problems *problems);

/* --set: `assignment` is POINTER=VALUE; VALUE is JSON if it reads as JSON, else a string.
 * The parent of the pointer must exist; "-" appends to an array (RFC 6901). */
enum er_status er_document_set(struct er_document *document, const char *assignment,
                               struct er_problems *problems);

/* --patch: merges a JSON merge patch (RFC 7396) of `length` bytes. */
enum er_status er_document_patch(struct er_document *document, const char *name, const char *text,
                                 size_t length, struct er_problems *problems);

/* Fills *field, which the caller releases. On ER_BAD_INPUT every problem is in `problems`
 * and the field is empty. The document may be released before the field. */
enum er_status er_field_read(const struct er_document *document, struct er_field *field,
                             struct er_problems *problems);

/* Frees a document. Safe on NULL. */
void er_document_release(struct er_document *document);

/* The JSON Schema (draft 2020-12) of the field file, as text that the caller frees;
 * NULL if memory ran out. Made from the tables that the reader reads by. */
char *er_schema_text(void);

#ifdef __cplusplus
}
#endif

#endif
