/* How many tape ends may be open at once.
 *
 * A tape with its end open takes more than a closed one at the same pressure. What it takes is
 * walked from its end for a row of end flows, and kept as a response like those of the closed
 * tapes; the zone is then balanced with that response in the place of the closed one wherever
 * an end is open. More open ends lower every pressure, so the largest number that does is found
 * by doubling and halving. */
#include "plan/flushing.h"

#include <math.h>
#include <stdlib.h>

#include "evenrow/hydraulics.h"
#include "hydraulics/network.h"

#define WALKS 64        /* of an open tape, from hardly a flow to the most */
#define ROUNDING 1e-9   /* of a limit */
#define BALANCED 1e-9   /* of the feed pressure */
#define REACH_OVER 1.05 /* of the highest pressure, up to which open tapes are walked */

/* A response for outlets of which some tapes are open. */
struct opened {
    size_t closed; /* the response of its closed tapes */
    double open, tapes;
};

struct flusher {
    const struct er_field *field;
    struct er_network network; /* of the zone alone */
    struct er_zone_network *zone;
    struct er_response_pool pool; /* the closed tapes' responses, then the opened ones' */
    size_t closed_count;
    struct opened *opened; /* one for each response behind the closed ones */
    size_t *closed;        /* each outlet's response with all its tapes closed */
    double highest;        /* pressure at any tape's inlet */
    size_t ends;
    size_t hardest; /* the outlet that is flushed the worst, opened alone */
    bool dry;       /* water does not get to the end of a tape that is to be opened */
    enum er_status status;
};

/* How some open ends do. */
struct trial {
    double velocity, flow;
    bool flushes, source_keeps_up;
};

/* What the end gives when `pressure` stands at the inlet. */
static double end_flow_at(const struct er_run *run, double pressure)
{
    double flow = 0.0;
    (void)er_run_flush(run, pressure, &flow);
    return flow;
}

/* Makes room for one more response. */
static bool make_room(struct flusher *flusher)
{
    size_t count = flusher->pool.count + 1;
    struct er_response *responses =
        realloc(flusher->pool.responses, count * sizeof *flusher->pool.responses);
    if (responses == NULL) {
        return false;
    }
    flusher->pool.responses = responses;
    size_t behind = count - flusher->closed_count;
    struct opened *opened = realloc(flusher->opened, behind * sizeof *opened);
    if (opened == NULL) {
        return false;
    }
    flusher->opened = opened;
    return true;
}

/* Walks the tape for a row of end flows; what `open` of `tapes` take is the mean of them all. */
static enum er_status learn_opened(const struct er_response *closed, const struct opened *as,
                                   double highest, struct er_response *response)
{
    const double share = as->open / as->tapes;
    double most = end_flow_at(&closed->run, highest);
    enum er_status status = ER_OK;
    for (int walk = 1; status == ER_OK && walk <= WALKS; walk++) {
        double part = (double)walk / WALKS;
        struct er_run_state state = er_run_walk_open(&closed->run, most * part * part);
        double slope;
        double flow = er_response_flow(closed, state.inlet_pressure, &slope);
        state.inlet_flow = share * state.inlet_flow + (1.0 - share) * flow;
        state.flow_slope = share * state.flow_slope + (1.0 - share) * slope;
        if (isfinite(state.inlet_pressure) && state.inlet_pressure > response->dry_pressure) {
            status = er_response_learn(response, &state);
        }
    }
    return status;
}

/* The response for outlets like `as`; found, or made. Leaves flusher->status where it can't. */
static size_t opened_response(struct flusher *flusher, const struct opened *as)
{
    size_t made = flusher->pool.count - flusher->closed_count;
    for (size_t i = 0; i < made; i++) {
        const struct opened *one = &flusher->opened[i];
        if (one->closed == as->closed && !(one->open < as->open) && !(one->open > as->open) &&
            !(one->tapes < as->tapes) && !(one->tapes > as->tapes)) {
            return flusher->closed_count + i;
        }
    }
    if (!make_room(flusher)) {
        flusher->status = ER_NO_MEMORY;
        return as->closed;
    }
    const struct er_response *closed = &flusher->pool.responses[as->closed];
    struct er_response *response = &flusher->pool.responses[flusher->pool.count];
    *response = (struct er_response){.run = closed->run, .dry_pressure = closed->dry_pressure};
    flusher->opened[made] = *as;
    flusher->status = learn_opened(closed, as, flusher->highest, response);
    if (flusher->status != ER_OK || response->count == 0) {
        flusher->dry = true;
        er_response_release(response);
        return as->closed;
    }
    return flusher->pool.count++;
}

/* Opens `count` ends from outlet `from` on, as far as there are any; returns how many. */
static size_t open_ends(struct flusher *flusher, size_t from, size_t count, bool backward)
{
    size_t left = count;
    flusher->dry = false;
    for (size_t i = 0; i < flusher->zone->outlet_count; i++) {
        flusher->zone->outlets[i].response = flusher->closed[i];
    }
    size_t o = from;
    while (left > 0 && o < flusher->zone->outlet_count && flusher->status == ER_OK) {
        struct er_outlet *outlet = &flusher->zone->outlets[o];
        struct opened as = {flusher->closed[o], fmin((double)left, outlet->tapes), outlet->tapes};
        left -= (size_t)as.open;
        if (!(as.open < as.tapes)) {
            as.open = as.tapes = 1.0;
        }
        outlet->response = opened_response(flusher, &as);
        o = backward ? o - 1 : o + 1; /* below 0 it is beyond the last */
    }
    return count - left;
}

/* How outlets whose ends are open are flushed, once the network is balanced. */
static void judge_ends(const struct flusher *flusher, struct trial *trial)
{
    trial->velocity = ER_ENDLESS;
    for (size_t o = 0; o < flusher->zone->outlet_count; o++) {
        const struct er_outlet *outlet = &flusher->zone->outlets[o];
        if (outlet->response == flusher->closed[o]) {
            continue;
        }
        const struct er_run *run = &flusher->pool.responses[outlet->response].run;
        double area = er_pipe_area(run->tape->inside_diameter);
        double velocity = end_flow_at(run, outlet->inlet_pressure) / area;
        trial->velocity = fmin(trial->velocity, velocity);
    }
    double wanted = flusher->field->limits.flush_velocity;
    trial->velocity = flusher->dry ? 0.0 : trial->velocity;
    trial->flushes = trial->velocity >= wanted * (1.0 - ROUNDING);
}

/* Whether the source may give so much. */
static bool source_gives(const struct er_source *source, double flow)
{
    bool within = !er_given(source->flow_limit) || flow <= source->flow_limit * (1.0 + ROUNDING);
    return within && flow <= er_source_last_flow(source) * (1.0 + ROUNDING);
}

static struct trial try_ends(struct flusher *flusher, size_t from, size_t count, bool backward)
{
    struct trial trial = {.velocity = 0.0};
    (void)open_ends(flusher, from, count, backward);
    if (flusher->status != ER_OK) {
        return trial;
    }
    er_balance(&flusher->network);
    const struct er_zone_network *zone = flusher->zone;
    double gap = fabs(zone->inlet_pressure - zone->way.left);
    trial.flow = zone->flow;
    trial.source_keeps_up = source_gives(&flusher->field->source, zone->flow);
    judge_ends(flusher, &trial);
    /* What does not close is more than the supply can do. */
    trial.flushes = trial.flushes && gap <= BALANCED * fmax(1.0, fabs(zone->inlet_pressure));
    return trial;
}

static void take_worse(struct trial *worst, const struct trial *trial)
{
    worst->velocity = fmin(worst->velocity, trial->velocity);
    worst->flow = fmax(worst->flow, trial->flow);
    worst->flushes = worst->flushes && trial->flushes;
    worst->source_keeps_up = worst->source_keeps_up && trial->source_keeps_up;
}

/* The first outlet to open so that `count` ends about the hardest one are. */
static size_t about_hardest(const struct flusher *flusher, size_t count)
{
    double before = 0.0;
    size_t from = flusher->hardest;
    while (from > 0 && before + 1.0 < 0.5 * (double)count) {
        before += flusher->zone->outlets[--from].tapes;
    }
    double behind = 0.0; /* with too few behind it, further to the front */
    for (size_t o = from; o < flusher->zone->outlet_count; o++) {
        behind += flusher->zone->outlets[o].tapes;
    }
    while (from > 0 && behind < (double)count) {
        behind += flusher->zone->outlets[--from].tapes;
    }
    return from;
}

/* The worst of all places. */
static struct trial try_places(struct flusher *flusher, size_t count)
{
    struct trial worst = try_ends(flusher, 0, count, false);
    struct trial last = try_ends(flusher, flusher->zone->outlet_count - 1, count, true);
    take_worse(&worst, &last);
    struct trial middle = try_ends(flusher, about_hardest(flusher, count), count, false);
    take_worse(&worst, &middle);
    return worst;
}

static bool does(const struct trial *trial) { return trial->flushes && trial->source_keeps_up; }

/* The outlet whose end, with its inlet held as it is, gives the slowest flow. */
static void find_hardest(struct flusher *flusher)
{
    double slowest = ER_ENDLESS;
    for (size_t o = 0; o < flusher->zone->outlet_count; o++) {
        const struct er_outlet *outlet = &flusher->zone->outlets[o];
        const struct er_run *run = &flusher->pool.responses[outlet->response].run;
        double velocity =
            end_flow_at(run, outlet->inlet_pressure) / er_pipe_area(run->tape->inside_diameter);
        if (velocity < slowest) {
            slowest = velocity;
            flusher->hardest = o;
        }
    }
}

static void search(struct flusher *flusher, struct er_flushing *flushing)
{
    size_t enough = 0;
    size_t too_many = 1;
    struct trial next = try_places(flusher, 1);
    struct trial best = next;
    while (flusher->status == ER_OK && does(&next) && too_many < flusher->ends) {
        best = next;
        enough = too_many;
        too_many = 2 * too_many < flusher->ends ? 2 * too_many : flusher->ends;
        next = try_places(flusher, too_many);
    }
    if (does(&next)) {
        best = next;
        enough = too_many++;
    }
    struct trial beyond = next;
    while (flusher->status == ER_OK && too_many - enough > 1) {
        size_t middle = enough + (too_many - enough) / 2;
        next = try_places(flusher, middle);
        if (does(&next)) {
            best = next;
            enough = middle;
        } else {
            beyond = next;
            too_many = middle;
        }
    }
    flushing->at_once = enough;
    flushing->velocity = best.velocity;
    flushing->flow = best.flow;
    flushing->source_limits = enough < flusher->ends && !beyond.source_keeps_up;
}

/* Takes over the closed tapes' responses, which stay the network's own. */
static bool begin(struct flusher *flusher)
{
    struct er_network *network = &flusher->network;
    flusher->zone = &network->zones[0];
    flusher->closed_count = network->pool->count;
    flusher->pool.responses = calloc(network->pool->count, sizeof *flusher->pool.responses);
    flusher->closed =
        er_arena_array(&network->arena, flusher->zone->outlet_count, sizeof *flusher->closed);
    if (flusher->pool.responses == NULL || flusher->closed == NULL) {
        return false;
    }
    for (size_t r = 0; r < flusher->closed_count; r++) {
        flusher->pool.responses[r] = network->pool->responses[r];
    }
    flusher->pool.count = flusher->closed_count;
    for (size_t o = 0; o < flusher->zone->outlet_count; o++) {
        const struct er_outlet *outlet = &flusher->zone->outlets[o];
        flusher->closed[o] = outlet->response;
        flusher->ends += (size_t)outlet->tapes;
        flusher->highest = fmax(flusher->highest, REACH_OVER * outlet->inlet_pressure);
    }
    network->pool = &flusher->pool;
    return true;
}

static void end(struct flusher *flusher)
{
    for (size_t r = flusher->closed_count; r < flusher->pool.count; r++) {
        er_response_release(&flusher->pool.responses[r]);
    }
    free(flusher->pool.responses);
    free(flusher->opened);
    flusher->network.pool = &flusher->network.own_pool;
}

enum er_status er_flushing_find(const struct er_field *field, size_t zone,
                                struct er_flushing *flushing, struct er_failure *failure)
{
    struct flusher flusher = {.field = field};
    const struct er_set alone = {1, &zone};
    *flushing = (struct er_flushing){.velocity = 0.0};
    enum er_status status = er_network_open(field, &alone, NULL, &flusher.network);
    if (status == ER_OK) {
        status = er_network_solve(&flusher.network, false);
    }
    if (status == ER_NOT_CLOSED) {
        *failure = flusher.network.failure;
    }
    if (status == ER_OK) {
        flusher.status = begin(&flusher) ? ER_OK : ER_NO_MEMORY;
        if (flusher.status == ER_OK) {
            flushing->ends = flusher.ends;
            find_hardest(&flusher);
            search(&flusher, flushing);
        }
        status = flusher.status;
        end(&flusher);
    }
    er_network_release(&flusher.network);
    return status;
}
