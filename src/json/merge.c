/* A patch merged into a tree, without asking for memory. */
#include "json/merge.h"

#include <string.h>

/* These call themselves, but no deeper than a document is nested (ER_JSON_DEPTH). */

void er_replace_child(cJSON *parent, cJSON *old, cJSON *replacement)
{
    char *key = replacement->string;
    replacement->string = old->string;
    old->string = key;
    cJSON_ReplaceItemViaPointer(parent, old, replacement);
}

/* Takes the nulls out of an object that is put in place whole. */
static void drop_nulls(cJSON *object)
{
    cJSON *member = object->child;
    while (member != NULL) {
        cJSON *next = member->next;
        if (cJSON_IsNull(member)) {
            cJSON_Delete(cJSON_DetachItemViaPointer(object, member));
        } else if (cJSON_IsObject(member)) {
            drop_nulls(member);
        }
        member = next;
    }
}

/* Merges one member, which has been taken out of the patch. `old` is the target's member of
 * that key, or NULL. */
static void merge_member(cJSON *target, cJSON *old, cJSON *member, int mark)
{
    if (cJSON_IsNull(member)) {
        if (old != NULL) {
            cJSON_Delete(cJSON_DetachItemViaPointer(target, old));
        }
        cJSON_Delete(member);
        return;
    }
    if (cJSON_IsObject(member) && cJSON_IsObject(old)) {
        er_merge(old, member, mark);
        cJSON_Delete(member);
        return;
    }
    if (cJSON_IsObject(member)) {
        drop_nulls(member);
    }
    member->valueint = mark;
    if (old != NULL) {
        er_replace_child(target, old, member);
    } else {
        cJSON_AddItemToArray(target, member); /* it has its key already */
    }
}

void er_merge(cJSON *target, cJSON *patch, int mark)
{
    while (patch->child != NULL) {
        cJSON *member = cJSON_DetachItemViaPointer(patch, patch->child);
        merge_member(target, cJSON_GetObjectItemCaseSensitive(target, member->string), member,
                     mark);
    }
}
