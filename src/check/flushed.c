/* For each run the inlet pressures known to flush it or not, in the order in which plans ask. */
#include "check/flushed.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define CLOSE_CALL 1e-6  /* relative: velocities nearer to the limit */
#define SAME_LENGTH 1e-9 /* relative */
#define FIRST_ROOM 64    /* runs */

static bool same_run(const struct er_run *a, const struct er_run *b)
{
    return a->ground.count == b->ground.count && a->ground.points == b->ground.points &&
           !(a->ground.slope < b->ground.slope) && !(a->ground.slope > b->ground.slope) &&
           fabs(a->length - b->length) <= SAME_LENGTH * b->length;
}

/* What is known of a run; NULL if memory ran out. Plans ask in the order of their beds. */
static struct er_flushed_run *find_run(struct er_flushed *flushed, const struct er_run *run)
{
    if (flushed->count > 0 && flushed->runs[0].run.tape != run->tape) {
        flushed->count = flushed->next = 0;
    }
    for (size_t i = 0; i < flushed->count; i++) {
        size_t at = (flushed->next + i) % flushed->count;
        if (same_run(&flushed->runs[at].run, run)) {
            flushed->next = at + 1;
            return &flushed->runs[at];
        }
    }
    if (flushed->count == flushed->room) {
        size_t room = flushed->room ? 2 * flushed->room : FIRST_ROOM;
        struct er_flushed_run *runs = realloc(flushed->runs, room * sizeof *runs);
        if (!runs) {
            return NULL;
        }
        flushed->runs = runs;
        flushed->room = room;
    }
    flushed->runs[flushed->count] = (struct er_flushed_run){*run, -ER_ENDLESS, ER_ENDLESS};
    return &flushed->runs[flushed->count++];
}

static enum er_status flush_run(struct er_flushed *flushed, const struct er_run *run,
                                double inlet_pressure, double velocity, bool *flushes,
                                bool *close_call)
{
    struct er_flushed_run *known = find_run(flushed, run);
    double flow = 0.0;
    if (!known) {
        return ER_NO_MEMORY;
    }
    if (inlet_pressure <= known->too_low) {
        *flushes = false;
    }
    if (inlet_pressure <= known->too_low || inlet_pressure >= known->enough) {
        return ER_OK;
    }
    enum er_status status = er_run_flush(run, inlet_pressure, &flow);
    double reached = flow / er_pipe_area(run->tape->inside_diameter);
    if (status != ER_OK || fabs(reached - velocity) <= CLOSE_CALL * velocity) {
        *close_call = true;
        return status == ER_NO_MEMORY ? status : ER_OK;
    }
    *(reached < velocity ? &known->too_low : &known->enough) = inlet_pressure;
    *flushes = *flushes && reached > velocity;
    return ER_OK;
}

enum er_status er_flushed_zone(struct er_flushed *flushed, const struct er_zone *zone,
                               double inlet_pressure, double velocity, bool *flushes,
                               bool *close_call)
{
    *flushes = true;
    for (size_t g = 0; g < zone->group_count; g++) {
        const struct er_bed_group *group = &zone->groups[g];
        const bool unlike =
            group->length < group->last_length || group->length > group->last_length;
        for (size_t i = 0; i < (unlike ? group->count : 1) * (group->both_sides ? 2 : 1); i++) {
            const bool second = group->both_sides && i % 2 == 1;
            const struct er_run run = er_run_make(
                group->tape, er_bed_length(group, group->both_sides ? i / 2 : i, second),
                second ? &group->other_ground : &group->ground);
            enum er_status status =
                flush_run(flushed, &run, inlet_pressure, velocity, flushes, close_call);
            if (status != ER_OK || !*flushes) {
                return status;
            }
        }
    }
    return ER_OK;
}

void er_flushed_release(struct er_flushed *flushed)
{
    free(flushed->runs);
    memset(flushed, 0, sizeof *flushed);
}
