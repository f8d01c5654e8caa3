/* The threads' side of a row of tasks: batches taken and ends reported under one lock. */
#include "plan/crew.h"

#include <pthread.h>
#include <stdlib.h>

struct crew_state {
    const struct er_crew *crew;
    pthread_mutex_t lock; /* of all below */
    size_t next, done;
    bool stopped;
    enum er_status status;
};

/* Takes the next batch; *from to *to. False where there is none. */
static bool take_batch(struct crew_state *state, size_t *from, size_t *to)
{
    pthread_mutex_lock(&state->lock);
    size_t left = state->crew->tasks - state->next;
    bool taken = !state->stopped && left > 0;
    *from = state->next;
    *to = state->next + (left < state->crew->batch ? left : state->crew->batch);
    if (taken) {
        state->next = *to;
    }
    pthread_mutex_unlock(&state->lock);
    return taken;
}

/* Takes down how a task ended. False: no other is to be begun. */
static bool finish_task(struct crew_state *state, enum er_status status)
{
    const struct er_crew *crew = state->crew;
    pthread_mutex_lock(&state->lock);
    if (status == ER_OK) {
        state->done++;
    } else {
        state->status = status;
    }
    bool go_on = status == ER_OK &&
                 (!crew->watch || crew->watch(crew->watch_context, state->done, crew->tasks));
    state->stopped = state->stopped || !go_on;
    go_on = !state->stopped;
    pthread_mutex_unlock(&state->lock);
    return go_on;
}

static void *work(void *context)
{
    struct crew_state *state = context;
    const struct er_crew *crew = state->crew;
    void *own = crew->begin(crew->shared);
    size_t task, end;
    if (!own) {
        finish_task(state, ER_NO_MEMORY);
        return NULL;
    }
    while (take_batch(state, &task, &end)) {
        while (task < end && finish_task(state, crew->work(crew->shared, own, task))) {
            task++;
        }
    }
    crew->end(own);
    return NULL;
}

enum er_status er_crew_run(const struct er_crew *crew, size_t *done)
{
    struct crew_state state = {.crew = crew, .status = ER_OK};
    *done = 0;
    if (pthread_mutex_init(&state.lock, NULL) != 0) {
        return ER_NO_MEMORY;
    }
    size_t helpers = crew->threads > crew->tasks ? crew->tasks : crew->threads;
    helpers = helpers > 0 ? helpers - 1 : 0; /* the caller's own thread works, too */
    pthread_t *threads = helpers > 0 ? malloc(helpers * sizeof *threads) : NULL;
    size_t started = 0;
    while (threads && started < helpers &&
           pthread_create(&threads[started], NULL, work, &state) == 0) {
        started++;
    }
    work(&state);
    for (size_t t = 0; t < started; t++) {
        pthread_join(threads[t], NULL);
    }
    free(threads);
    pthread_mutex_destroy(&state.lock);
    *done = state.done;
    return state.status;
}
