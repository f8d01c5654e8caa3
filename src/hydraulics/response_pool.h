/* The responses of a network's unlike runs of tape, found by their run.
 *
 * Plans that are compared have most of their runs in common: they may share one pool, and
 * what one plan's solution has taught serves the next. A run is known by the places of its
 * tape and its profile in memory, so a pool must not outlive the fields whose runs it has
 * seen. A pool is no shared ground for threads: each has its own. */
#ifndef ER_HYDRAULICS_RESPONSE_POOL_H
#define ER_HYDRAULICS_RESPONSE_POOL_H

#include "hydraulics/response.h"

struct er_response_pool {
    size_t count, capacity;
    struct er_response *responses; /* owned */
    size_t *table;                 /* places of responses + 1, by hash; 0: free; owned */
    size_t table_size;
};

/* Sets *place to the place of the response of runs like `run`, their far ends closed or open, made
 * new if there is none. ER_OK, or what er_response_begin ends with. */
enum er_status er_response_pool_find(struct er_response_pool *pool, const struct er_run *run,
                                     bool open_end, size_t *place);

/* Safe on a zeroed pool, which is an empty one. */
void er_response_pool_release(struct er_response_pool *pool);

#endif
