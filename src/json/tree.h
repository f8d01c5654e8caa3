/* From JSON text to a tree, and from a place in the tree back to the text. */
#ifndef ER_JSON_TREE_H
#define ER_JSON_TREE_H

#include <stdbool.h>
#include <stddef.h>

#include <cjson/cJSON.h>

#include "evenrow/problems.h"
#include "evenrow/status.h"
#include "json/document.h"

/* A text and what to call it. text[length] is NUL. */
struct er_source_text {
    const char *origin; /* the name of a file, or the override that it came with */
    bool has_lines;     /* a file, whose problems are told with line and column */
    const char *text;
    size_t length;
    const char *pointer; /* the place in the tree that the text's value is for; NULL: the top */
};

/* Reads a text strictly into a tree that the caller deletes, and counts how deep it is
 * (0: a number or string alone). ER_BAD_INPUT: `problems` says why, *is_json whether it
 * was JSON all the same, with a key given twice; also ER_NO_MEMORY. In both *tree is NULL. */
enum er_status er_tree_read(const struct er_source_text *source, cJSON **tree, size_t *depth,
                            bool *is_json, struct er_problems *problems);

/* Finds the byte where the place `pointer` begins in a text that er_tree_read found good:
 * its key or its value. Of a pointer that leads to nothing, the deepest place that there is.
 * Returns false if memory ran out. */
bool er_tree_find(const struct er_source_text *source, const char *pointer, enum er_spot spot,
                  size_t *offset);

/* Reports each key that an object has twice, in the order of the text. Returns ER_BAD_INPUT,
 * or ER_NO_MEMORY. `duplicates` tells, by their place in the text, which ones they are. */
struct er_duplicate {
    size_t first, second; /* bytes of the text where the two keys stand */
};
enum er_status er_tree_report_duplicates(const struct er_source_text *source,
                                         struct er_duplicate *duplicates, size_t count,
                                         struct er_problems *problems);

/* What a value is, for messages: "a number", "a list, [...]". Never NULL. */
const char *er_tree_kind_name(const cJSON *value);

#endif
