/* Trees changed with as little as can be of what somebody wrote by hand. */
#ifndef ER_JSON_CHANGE_H
#define ER_JSON_CHANGE_H

#include <stdbool.h>

#include <cjson/cJSON.h>

/* Whether two trees are the same, order of members and all. */
bool er_trees_agree(const cJSON *one, const cJSON *other);

/* Whether a member of what is changed stays where it is, whatever the new object has. */
typedef bool er_stays(const cJSON *member);

/* `kept` changed into `now`: a copy of it in which all that is as before stays as it was written.
 * `before` is what the writer makes of what `kept` says. NULL if memory ran out. */
cJSON *er_tree_change(const cJSON *kept, const cJSON *before, const cJSON *now, er_stays *stays);

#endif
