/* JSON as evenrow writes it. */
#ifndef ER_REPORT_JSON_BUILD_H
#define ER_REPORT_JSON_BUILD_H

#include <stdbool.h>

#include <cjson/cJSON.h>

#include "base/text.h"

/* Members of an object, for a tree that is built without asking at each step: where memory
 * runs out they set *failed, and once it is set they do nothing. */

/* `number` rounded to 12 significant digits; null for NAN and infinities. */
void er_build_number(cJSON *object, const char *key, double number, bool *failed);

/* null for NULL. */
void er_build_string(cJSON *object, const char *key, const char *text, bool *failed);

/* `item` becomes a member of `object`, or with a NULL key an element of that array. It is freed
 * if that fails. Returns it, or NULL. */
cJSON *er_build_add(cJSON *object, const char *key, cJSON *item, bool *failed);

/* Appends an object or array that is not empty, indented by two blanks, with a newline at its
 * end. What fits on a line of ER_PAGE columns stands on one. Control characters that
 * JSON allows as they are (DEL, C1) are escaped too. */
void er_build_write(const cJSON *tree, struct er_text *out);

#endif
