/* Trees changed with as little as can be of what somebody wrote by hand. */
#include "json/change.h"

#include <string.h>

#include "json/write.h"

/* These call themselves, but no deeper than a document is nested (ER_JSON_DEPTH). */

static bool texts_agree(const char *one, const char *other)
{
    return one == NULL || other == NULL ? one == other : strcmp(one, other) == 0;
}

bool er_trees_agree(const cJSON *one, const cJSON *other)
{
    if (one == NULL || other == NULL) {
        return one == other;
    }
    const bool numbers_agree = !cJSON_IsNumber(one) || (one->valuedouble <= other->valuedouble &&
                                                        one->valuedouble >= other->valuedouble);
    if ((one->type & 0xff) != (other->type & 0xff) || !numbers_agree ||
        !texts_agree(one->valuestring, other->valuestring)) {
        return false;
    }
    const cJSON *a = one->child;
    const cJSON *b = other->child;
    for (; a != NULL && b != NULL; a = a->next, b = b->next) {
        if (!texts_agree(a->string, b->string) || !er_trees_agree(a, b)) {
            return false;
        }
    }
    return a == b;
}

static const cJSON *member_of(const cJSON *object, const char *key)
{
    return cJSON_GetObjectItemCaseSensitive(object, key);
}

/* The members of `kept` that the new object still has, and those that stay, then those that are
 * new. What stands in `kept` but not in `before` only said what would be so anyway. */
static cJSON *change_object(const cJSON *kept, const cJSON *before, const cJSON *now,
                            er_stays *stays)
{
    bool failed = false;
    cJSON *changed = cJSON_CreateObject();
    const cJSON *member = NULL;
    cJSON_ArrayForEach(member, kept)
    {
        const cJSON *was = member_of(before, member->string);
        const cJSON *is = member_of(now, member->string);
        if (stays(member)) {
            er_build_add(changed, member->string, cJSON_Duplicate(member, true), &failed);
        } else if (was != NULL && is != NULL) {
            er_build_add(changed, member->string, er_tree_change(member, was, is, stays), &failed);
        }
    }
    cJSON_ArrayForEach(member, now)
    {
        if (failed || member_of(changed, member->string) == NULL) {
            er_build_add(changed, member->string, cJSON_Duplicate(member, true), &failed);
        }
    }
    if (failed) {
        cJSON_Delete(changed);
        return NULL;
    }
    return changed;
}

/* The item of `kept` from which one like `item` was made; NULL: none. */
static const cJSON *kept_of(const cJSON *kept, const cJSON *before, const cJSON *item)
{
    const cJSON *from = kept->child;
    for (const cJSON *was = before->child; was != NULL && from != NULL; was = was->next) {
        if (er_trees_agree(was, item)) {
            return from;
        }
        from = from->next;
    }
    return NULL;
}

/* Lists of one length are changed item by item; of other lists the items that are as before
 * are found again, wherever they have moved. */
static cJSON *change_list(const cJSON *kept, const cJSON *before, const cJSON *now, er_stays *stays)
{
    bool failed = false;
    cJSON *changed = cJSON_CreateArray();
    const bool in_step = cJSON_GetArraySize(before) == cJSON_GetArraySize(now);
    const cJSON *from = kept->child;
    const cJSON *was = before->child;
    const cJSON *item = NULL;
    cJSON_ArrayForEach(item, now)
    {
        const cJSON *same = in_step ? NULL : kept_of(kept, before, item);
        cJSON *copy = in_step ? er_tree_change(from, was, item, stays)
                              : cJSON_Duplicate(same == NULL ? item : same, true);
        er_build_add(changed, NULL, copy, &failed);
        from = in_step && from != NULL ? from->next : NULL;
        was = in_step ? was->next : NULL;
    }
    if (failed) {
        cJSON_Delete(changed);
        return NULL;
    }
    return changed;
}

cJSON *er_tree_change(const cJSON *kept, const cJSON *before, const cJSON *now, er_stays *stays)
{
    if (kept == NULL) {
        return cJSON_Duplicate(now, true);
    }
    if (er_trees_agree(before, now)) {
        return cJSON_Duplicate(kept, true);
    }
    if (cJSON_IsObject(kept) && cJSON_IsObject(before) && cJSON_IsObject(now)) {
        return change_object(kept, before, now, stays);
    }
    if (cJSON_IsArray(kept) && cJSON_IsArray(before) && cJSON_IsArray(now)) {
        return change_list(kept, before, now, stays);
    }
    return cJSON_Duplicate(now, true);
}
