/* What is wrong with the input: a list of problems, each with its place.
 *
 * A reader goes on after a problem as far as it can, so that one run tells all.
 * The list keeps the first ER_PROBLEMS_KEPT and counts the rest. It owns its texts. */
#ifndef EVENROW_PROBLEMS_H
#define EVENROW_PROBLEMS_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/arena.h"

#ifdef __cplusplus
extern "C" {
#endif

#define ER_PROBLEMS_KEPT 20

struct er_problem {
    const char *origin;  /* file name, "standard input", or the override it came from */
    size_t line, column; /* from 1, columns in characters; 0: the origin has no lines */
    const char *pointer; /* RFC 6901; NULL for a fault of the text itself */
    const char *text;    /* what is wrong and what was expected, lower case, no full stop */
};

struct er_problems {
    struct er_arena arena;
    size_t count;                             /* all that were found */
    struct er_problem kept[ER_PROBLEMS_KEPT]; /* the first min(count, ER_PROBLEMS_KEPT) */
    bool out_of_memory; /* a text could not be kept; the call that met it returns ER_NO_MEMORY */
};

void er_problems_init(struct er_problems *problems);
void er_problems_release(struct er_problems *problems);

/* Adds a problem; the text is made as printf makes it, with control characters of
 * the arguments shown as visible escapes. A problem beyond the kept ones is only counted. */
void er_problems_add(struct er_problems *problems, const char *origin, size_t line, size_t column,
                     const char *pointer, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 6, 7)))
#endif
    ;

#ifdef __cplusplus
}
#endif

#endif
