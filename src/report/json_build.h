/* JSON as evenrow's reports have it. */
#ifndef ER_REPORT_JSON_BUILD_H
#define ER_REPORT_JSON_BUILD_H

#include "base/json_tree.h"
#include "evenrow/check.h"

/* `number` rounded to 12 significant digits; null for NAN and infinities. A member as
 * er_build_string makes one. */
void er_build_number(cJSON *object, const char *key, double number, bool *failed);

/* The findings of a check as an array, the member "findings" of `object`. */
void er_build_findings(cJSON *object, const struct er_result *result, bool *failed);

/* Appends an object or array that is not empty, indented by two blanks, with a newline at its
 * end. What fits on a line of ER_PAGE columns stands on one. */
void er_build_write(const cJSON *tree, struct er_text *out);

#endif
