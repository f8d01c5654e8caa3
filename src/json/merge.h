/* JSON Merge Patch (RFC 7396). */
#ifndef ER_JSON_MERGE_H
#define ER_JSON_MERGE_H

#include <cjson/cJSON.h>

/* Merges the object `patch` into the object `target`: a member that is null takes the
 * target's away, an object is merged into the target's, anything else takes its place.
 * The members of `patch` move into `target`, so that no memory is needed and none can run
 * out; the caller still deletes `patch`. Each value that is put in place gets `mark` as its
 * valueint (see er_document). */
void er_merge(cJSON *target, cJSON *patch, int mark);

/* Puts `replacement` in the place of `old`, a child of `parent`, under the same key, and
 * deletes `old`. Needs no memory. */
void er_replace_child(cJSON *parent, cJSON *old, cJSON *replacement);

#endif
