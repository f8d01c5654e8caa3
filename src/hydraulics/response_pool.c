/* A hash table from runs to the places of their responses, which stay when it grows. */
#include "hydraulics/response_pool.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#define FIRST_ROOM 16 /* responses; doubles as it fills, so the number decides nothing */

static bool same_run(const struct er_run *a, const struct er_run *b)
{
    if (a->tape != b->tape || a->emitters != b->emitters || a->ground.count != b->ground.count) {
        return false;
    }
    return a->ground.count
               ? a->ground.points == b->ground.points
               : !(a->ground.slope < b->ground.slope) && !(a->ground.slope > b->ground.slope);
}

static size_t hash_run(const struct er_run *run)
{
    uint64_t slope = 0;
    if (run->ground.count == 0) {
        memcpy(&slope, &run->ground.slope, sizeof slope);
    }
    uint64_t mixed = (uintptr_t)run->tape ^ (uintptr_t)run->ground.points * 31u;
    mixed = (mixed ^ slope ^ run->emitters * 0x9E3779B97F4A7C15u) * 0xBF58476D1CE4E5B9u;
    return (size_t)(mixed ^ mixed >> 29);
}

/* What lies beyond the last emitter counts where the end is open. */
static bool answers(const struct er_response *response, const struct er_run *run, bool open_end)
{
    double longer = run->length - response->run.length;
    return response->open_end == open_end && same_run(&response->run, run) &&
           !(open_end && (longer < 0.0 || longer > 0.0));
}

static size_t find_slot(const struct er_response_pool *pool, const struct er_run *run,
                        bool open_end)
{
    size_t slot = hash_run(run) % pool->table_size;
    while (pool->table[slot] != 0 &&
           !answers(&pool->responses[pool->table[slot] - 1], run, open_end)) {
        slot = (slot + 1) % pool->table_size;
    }
    return slot;
}

/* Twice the room; the table keeps at least half of its slots free. */
static enum er_status grow(struct er_response_pool *pool)
{
    size_t capacity = pool->capacity ? 2 * pool->capacity : FIRST_ROOM;
    size_t *table = calloc(2 * capacity + 1, sizeof *table);
    struct er_response *responses =
        table ? realloc(pool->responses, capacity * sizeof *responses) : NULL;
    if (!responses) {
        free(table);
        return ER_NO_MEMORY;
    }
    free(pool->table);
    pool->table = table;
    pool->table_size = 2 * capacity + 1;
    pool->responses = responses;
    pool->capacity = capacity;
    for (size_t r = 0; r < pool->count; r++) {
        pool->table[find_slot(pool, &responses[r].run, responses[r].open_end)] = r + 1;
    }
    return ER_OK;
}

enum er_status er_response_pool_find(struct er_response_pool *pool, const struct er_run *run,
                                     bool open_end, size_t *place)
{
    if (pool->count == pool->capacity && grow(pool) != ER_OK) {
        return ER_NO_MEMORY;
    }
    size_t slot = find_slot(pool, run, open_end);
    if (pool->table[slot] == 0) {
        struct er_response *response = &pool->responses[pool->count];
        *response = (struct er_response){
            .run = *run, .open_end = open_end, .dry_pressure = er_run_dry_pressure(run)};
        if (open_end) {
            double end = er_ground_elevation(&run->ground, run->length);
            response->dry_pressure = fmin(response->dry_pressure, end);
        }
        enum er_status status = er_response_begin(response);
        if (status != ER_OK) {
            er_response_release(response);
            return status;
        }
        pool->table[slot] = ++pool->count;
    }
    *place = pool->table[slot] - 1;
    return ER_OK;
}

void er_response_pool_release(struct er_response_pool *pool)
{
    for (size_t r = 0; r < pool->count; r++) {
        er_response_release(&pool->responses[r]);
    }
    free(pool->responses);
    free(pool->table);
    memset(pool, 0, sizeof *pool);
}
