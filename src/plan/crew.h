/* Threads that share out a row of tasks. */
#ifndef ER_PLAN_CREW_H
#define ER_PLAN_CREW_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/status.h"

struct er_crew {
    size_t threads;
    size_t tasks;
    size_t batch; /* tasks in a row that one thread takes at a time */
    void *shared; /* given to the three below */
    /* What a thread needs for itself, before its first task and after its last. */
    void *(*begin)(void *shared); /* NULL: memory ran out */
    void (*end)(void *own);
    enum er_status (*work)(void *shared, void *own, size_t task);
    /* Called after each task, by one thread at a time. False: no task is begun any more. */
    bool (*watch)(void *context, size_t done, size_t tasks); /* NULL: none */
    void *watch_context;
};

/* Does all tasks, begun in their order, or those up to a stop; *done is how many. ER_OK, or the
 * status of a task that failed, after which no task is begun. A thread that can't be had is
 * done without. */
enum er_status er_crew_run(const struct er_crew *crew, size_t *done);

#endif
