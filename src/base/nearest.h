/* 'Did you mean': the known name nearest to one that is not known. */
#ifndef ER_BASE_NEAREST_H
#define ER_BASE_NEAREST_H

#include <stddef.h>

struct er_nearest {
    const char *wanted;
    size_t length;    /* of wanted, in bytes */
    const char *best; /* the nearest so far; NULL: none was near enough */
    size_t distance;  /* of the best */
};

/* Begins a search for `wanted`, which must outlive it. */
void er_nearest_begin(struct er_nearest *nearest, const char *wanted);

/* Offers one candidate. It is near enough if a third of its letters or fewer must be put in,
 * left out, changed, or swapped with the next; letter case counts for little. Of two that are
 * as near the first offered stays. Names of more than 64 bytes are never near. */
void er_nearest_offer(struct er_nearest *nearest, const char *candidate);

/* The nearest of `count` candidates, or NULL if none is near enough. */
const char *er_nearest_of(const char *wanted, const char *const *candidates, size_t count);

#endif
