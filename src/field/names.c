/* Names sorted once, so that each is then found by halving. */
#include "field/names.h"

#include <stdlib.h>
#include <string.h>

bool er_names_init(struct er_names *names, struct er_arena *arena, size_t count)
{
    names->count = 0;
    names->sorted = er_arena_array(arena, count, sizeof *names->sorted);
    return names->sorted != NULL;
}

void er_names_add(struct er_names *names, const char *name, size_t index)
{
    names->sorted[names->count].name = name;
    names->sorted[names->count].index = index;
    names->count++;
}

static int compare(const void *left, const void *right)
{
    const struct er_name *a = left;
    const struct er_name *b = right;
    const int order = strcmp(a->name, b->name);
    return order != 0 ? order : (a->index > b->index) - (a->index < b->index);
}

void er_names_sort(struct er_names *names)
{
    if (names->count > 1) {
        qsort(names->sorted, names->count, sizeof *names->sorted, compare);
    }
}

bool er_names_find(const struct er_names *names, const char *name, size_t *index)
{
    size_t low = 0;
    size_t high = names->count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (strcmp(names->sorted[middle].name, name) < 0) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    if (low == names->count || strcmp(names->sorted[low].name, name) != 0) {
        return false;
    }
    *index = names->sorted[low].index;
    return true;
}
