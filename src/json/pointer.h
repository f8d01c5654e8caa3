/* JSON Pointer (RFC 6901): "/zones/0/beds" names a place in a tree. */
#ifndef ER_JSON_POINTER_H
#define ER_JSON_POINTER_H

#include <stdbool.h>
#include <stddef.h>

#include <cjson/cJSON.h>

#include "base/text.h"

/* One step of a pointer, the part between two slashes, as it is written there. */
struct er_pointer_step {
    const char *start;
    size_t length;
};

/* Takes the next step off *rest, which is "" or begins with a slash. Returns false at the end. */
bool er_pointer_next(const char **rest, struct er_pointer_step *step);

/* NULL if `pointer` is well formed, else what is wrong with it. */
const char *er_pointer_fault(const char *pointer);

/* Appends the key that the step stands for (~1 is a slash, ~0 a tilde). */
void er_pointer_decode(const struct er_pointer_step *step, struct er_text *key);

/* Whether the step stands for `key`. */
bool er_pointer_is_key(const struct er_pointer_step *step, const char *key);

/* Whether the step is a place in an array: digits without a needless zero. */
bool er_pointer_is_index(const struct er_pointer_step *step, size_t *index);

/* The member or element that the step leads to; NULL if there is none. */
cJSON *er_pointer_child(const cJSON *parent, const struct er_pointer_step *step);

/* Appends a slash and `key`, escaped, to a pointer. */
void er_pointer_append_key(struct er_text *pointer, const char *key);

#endif
