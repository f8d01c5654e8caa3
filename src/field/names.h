/* Names to find places by: thousands of pipes, tapes or zones are found as fast as ten. */
#ifndef ER_FIELD_NAMES_H
#define ER_FIELD_NAMES_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/arena.h"

struct er_name {
    const char *name;
    size_t index; /* the place that it stands for */
};

struct er_names {
    size_t count;
    struct er_name *sorted; /* by name, then by index */
};

/* Room for `count` names at most. False if memory ran out. */
bool er_names_init(struct er_names *names, struct er_arena *arena, size_t count);

/* Adds a name, which must outlive the list. er_names_sort must follow before a search. */
void er_names_add(struct er_names *names, const char *name, size_t index);
void er_names_sort(struct er_names *names);

/* The first place of that name; false if there is none. */
bool er_names_find(const struct er_names *names, const char *name, size_t *index);

#endif
