/* Problems kept as they are found, and put in the order of the file when they are told. */
#include "json/notices.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>

/* Deeper places keep the order in which they were found. */
#define DEEPEST 256

bool er_notices_room(const struct er_notices *notices) { return notices->count < ER_NOTICES_KEPT; }

bool er_notices_add(struct er_notices *notices, const cJSON *node, enum er_spot spot,
                    const char *pointer, const char *text)
{
    if (notices->kept == NULL) {
        notices->kept = er_arena_array(&notices->arena, ER_NOTICES_KEPT, sizeof *notices->kept);
        if (notices->kept == NULL) {
            return false;
        }
    }
    notices->kept[notices->count] = (struct er_notice){.node = node,
                                                       .spot = spot,
                                                       .pointer = pointer,
                                                       .text = text,
                                                       .found = notices->count,
                                                       .place = SIZE_MAX};
    notices->count++;
    return true;
}

static int compare_nodes(const void *left, const void *right)
{
    const uintptr_t a = (uintptr_t)((const struct er_notice *)left)->node;
    const uintptr_t b = (uintptr_t)((const struct er_notice *)right)->node;
    return (a > b) - (a < b);
}

static int compare_places(const void *left, const void *right)
{
    const struct er_notice *a = left;
    const struct er_notice *b = right;
    if (a->place != b->place) {
        return a->place < b->place ? -1 : 1;
    }
    return (a->found > b->found) - (a->found < b->found);
}

/* Gives the notices at `node`, if there are any, its number. They are sorted by node. */
static void number(struct er_notices *notices, size_t kept, const cJSON *node, size_t place)
{
    size_t low = 0;
    size_t high = kept;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if ((uintptr_t)notices->kept[middle].node < (uintptr_t)node) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    for (; low < kept && notices->kept[low].node == node; low++) {
        notices->kept[low].place = place;
    }
}

/* Walks the tree in the order of the file, without recursion. */
static void number_all(struct er_notices *notices, size_t kept, const cJSON *root)
{
    const cJSON *above[DEEPEST];
    size_t depth = 0;
    size_t place = 0;
    for (const cJSON *node = root; node != NULL;) {
        number(notices, kept, node, place++);
        if (node->child != NULL && depth < DEEPEST) {
            above[depth++] = node;
            node = node->child;
            continue;
        }
        while (depth > 0 && node->next == NULL) {
            node = above[--depth];
        }
        node = depth > 0 ? node->next : NULL;
    }
}

void er_notices_tell(struct er_notices *notices, const struct er_document *document,
                     struct er_problems *problems)
{
    const size_t kept = er_notices_room(notices) ? notices->count : ER_NOTICES_KEPT;
    if (kept > 1) {
        qsort(notices->kept, kept, sizeof *notices->kept, compare_nodes);
        number_all(notices, kept, er_document_root(document));
        qsort(notices->kept, kept, sizeof *notices->kept, compare_places);
    }
    for (size_t i = 0; i < kept; i++) {
        const struct er_notice *notice = &notices->kept[i];
        er_document_problem(document, problems, notice->pointer, notice->spot, "%s", notice->text);
    }
    problems->count += notices->count - kept;
}

void er_notices_release(struct er_notices *notices)
{
    er_arena_release(&notices->arena);
    *notices = (struct er_notices){.count = 0};
}
