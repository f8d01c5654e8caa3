/* One assignment, POINTER=VALUE, made to a tree. */
#ifndef ER_JSON_SET_H
#define ER_JSON_SET_H

#include "base/text.h"
#include "json/tree.h"

/* Appends what problems of an assignment are told by: "--set POINTER=VALUE", not too long. */
void er_set_origin(const char *assignment, struct er_text *origin);

/* Makes the assignment that is the source's text. The value that is put in place gets `mark`
 * as its valueint. ER_BAD_INPUT or ER_NO_MEMORY leave the tree as it was. */
enum er_status er_set_apply(const struct er_source_text *source, cJSON **root, int mark,
                            er_when_set *when_set, struct er_problems *problems);

#endif
