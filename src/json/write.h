/* Trees of JSON: built without asking at each step, and written for people. */
#ifndef ER_JSON_WRITE_H
#define ER_JSON_WRITE_H

#include <stdbool.h>
#include <stddef.h>

#include <cjson/cJSON.h>

#include "base/text.h"

/* Members of an object, for a tree that is built without asking at each step: where memory
 * runs out they set *failed, and once it is set they do nothing. */

/* null for NULL. */
void er_build_string(cJSON *object, const char *key, const char *text, bool *failed);

/* `item` becomes a member of `object`, or with a NULL key an element of that array. It is freed
 * if that fails. Returns it, or NULL. */
cJSON *er_build_add(cJSON *object, const char *key, cJSON *item, bool *failed);

/* How a tree is laid out: indented by two blanks, and what fits on a line stands on one. */
struct er_layout {
    size_t columns; /* of a line */
    bool fills;     /* where a list or object of plain values does not fit on one line, lines are
                       filled, instead of a line for each value */
};

/* Appends an object or array that is not empty, with a newline at its end. Numbers have just the
 * digits that it takes to read them back. Control characters that JSON allows as they are (DEL,
 * C1) are escaped too. */
void er_json_write(const cJSON *tree, const struct er_layout *layout, struct er_text *out);

#endif
