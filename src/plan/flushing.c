/* How many tape ends may be open at once.
 *
 * A tape with its end open takes more than a closed one at the same pressure, so it has a response
 * of its own. Each outlet of the zone becomes two: its closed tapes, and those that are open; how
 * many tapes count to either is all that changes from one window of open ends to the next. A
 * number of ends will do when every window of so many neighbouring ends does, wherever on the
 * header it lies. More open ends lower every pressure and take more, so the largest number is
 * found by halving. */
#include "plan/flushing.h"

#include <math.h>

#include "evenrow/hydraulics.h"
#include "hydraulics/network.h"

#define ROUNDING 1e-9 /* of a limit: as findings have it, so that both say the same of one plan */

/* The ends among which a window lies: of both sides, bed by bed, or along one side. */
enum lane { BOTH_SIDES, FIRST_SIDE, SECOND_SIDE, LANES };

struct flusher {
    const struct er_field *field;
    struct er_network network;    /* of the zone alone */
    struct er_zone_network *zone; /* outlet 2 i: closed tapes; 2 i + 1: the same ones, open */
    double *tapes;                /* all tapes of outlets 2 i and 2 i + 1 */
    double *lowest; /* of each open response: the lowest inlet pressure of an open tape */
    size_t ends[LANES];
};

/* How the windows of one number of ends do, each figure the worst of them all. */
struct trial {
    double velocity; /* of an end */
    double flow;
    bool ends_flush, pipes_bear, source_gives;
};

static bool does(const struct trial *trial)
{
    return trial->ends_flush && trial->pipes_bear && trial->source_gives;
}

static bool in_lane(const struct er_outlet *outlet, enum lane lane)
{
    return lane == BOTH_SIDES || outlet->second_side == (lane == SECOND_SIDE);
}

/* Opens `count` ends of a lane behind the first `from` of it, and closes all others. */
static void open_window(struct flusher *flusher, enum lane lane, double from, double count)
{
    double before = 0.0;
    for (size_t o = 0; o < flusher->zone->outlet_count; o += 2) {
        struct er_outlet *closed = &flusher->zone->outlets[o];
        double tapes = flusher->tapes[o / 2];
        double open = 0.0;
        if (in_lane(closed, lane)) {
            open = fmax(0.0, fmin(before + tapes, from + count) - fmax(before, from));
            before += tapes;
        }
        closed->tapes = tapes - open;
        closed[1].tapes = open;
    }
}

static void note_pipe(void *context, const struct er_pipe *pipe, double flow, double start_pressure,
                      double end_pressure)
{
    double *fastest = context;
    (void)start_pressure;
    (void)end_pressure;
    *fastest = fmax(*fastest, flow / er_pipe_area(pipe->inside_diameter));
}

/* In all pipes from the source to the last bed. */
static double fastest_in_pipes(const struct flusher *flusher)
{
    const struct er_section *mainline = flusher->field->mainline;
    const struct er_zone_network *zone = flusher->zone;
    double fastest = 0.0;
    for (size_t s = zone->zone->on; s != ER_HEADWORKS; s = mainline[s].from) {
        note_pipe(&fastest, mainline[s].pipe, zone->flow, ER_NONE, ER_NONE);
    }
    er_zone_pipes(zone, note_pipe, &fastest);
    return fastest;
}

/* Whether the source may give so much. */
static bool source_gives(const struct er_source *source, double flow)
{
    bool within = !er_given(source->flow_limit) || flow <= source->flow_limit * (1.0 + ROUNDING);
    return within && flow <= er_source_last_flow(source) * (1.0 + ROUNDING);
}

/* Solves the zone with the window that is open, and takes its figures. */
static enum er_status try_window(struct flusher *flusher, struct trial *trial)
{
    const struct er_field *field = flusher->field;
    enum er_status status = er_network_estimate(&flusher->network, false);
    if (status != ER_OK) {
        return status;
    }
    double flow = flusher->zone->flow;
    double most = field->limits.velocity * (1.0 + ROUNDING);
    trial->flow = fmax(trial->flow, flow);
    trial->source_gives = trial->source_gives && source_gives(&field->source, flow);
    trial->pipes_bear = trial->pipes_bear && fastest_in_pipes(flusher) <= most;
    for (size_t o = 1; o < flusher->zone->outlet_count; o += 2) {
        const struct er_outlet *open = &flusher->zone->outlets[o];
        double *lowest = &flusher->lowest[open->response];
        *lowest = open->tapes > 0.0 ? fmin(*lowest, open->inlet_pressure) : *lowest;
    }
    return ER_OK;
}

/* The weakest open end of all windows. */
static enum er_status judge_ends(const struct flusher *flusher, struct trial *trial)
{
    enum er_status status = ER_OK;
    trial->velocity = ER_ENDLESS;
    for (size_t r = 0; status == ER_OK && r < flusher->network.pool->count; r++) {
        if (isfinite(flusher->lowest[r])) {
            const struct er_run *run = &flusher->network.pool->responses[r].run;
            double end_flow = 0.0;
            status = er_run_flush(run, flusher->lowest[r], &end_flow);
            trial->velocity =
                fmin(trial->velocity, end_flow / er_pipe_area(run->tape->inside_diameter));
        }
    }
    double wanted = flusher->field->limits.flush_velocity;
    trial->ends_flush = trial->velocity >= wanted * (1.0 - ROUNDING);
    return status;
}

/* Opens every window of `count` neighbouring ends in turn. */
static enum er_status try_count(struct flusher *flusher, size_t count, struct trial *trial)
{
    enum er_status status = ER_OK;
    *trial = (struct trial){.pipes_bear = true, .source_gives = true};
    for (size_t r = 0; r < flusher->network.pool->count; r++) {
        flusher->lowest[r] = ER_ENDLESS;
    }
    for (int lane = BOTH_SIDES; lane < LANES; lane++) {
        size_t ends = flusher->ends[lane];
        size_t windows = ends > count ? ends - count + 1 : ends > 0;
        for (size_t from = 0; status == ER_OK && from < windows; from++) {
            open_window(flusher, (enum lane)lane, (double)from, (double)count);
            status = try_window(flusher, trial);
        }
    }
    return status == ER_OK ? judge_ends(flusher, trial) : status;
}

static enum er_flush_limit limit_of(const struct trial *beyond)
{
    if (!beyond->source_gives) {
        return ER_FLUSH_SOURCE;
    }
    return beyond->pipes_bear ? ER_FLUSH_ENDS : ER_FLUSH_PIPES;
}

/* The crew's number first: mostly that will do. */
static enum er_status search(struct flusher *flusher, size_t crew, struct er_flushing *flushing)
{
    size_t enough = 0;
    size_t most = flushing->ends < crew ? flushing->ends : crew;
    size_t too_many = most + 1;
    struct trial best = {0}, beyond = {0};
    enum er_status status = ER_OK;
    for (size_t next = most; status == ER_OK && too_many - enough > 1;
         next = enough + (too_many - enough) / 2) {
        struct trial trial;
        status = try_count(flusher, next, &trial);
        if (does(&trial)) {
            best = trial;
            enough = next;
        } else {
            beyond = trial;
            too_many = next;
        }
    }
    flushing->at_once = enough;
    flushing->velocity = enough > 0 ? best.velocity : beyond.velocity;
    flushing->flow = enough > 0 ? best.flow : beyond.flow;
    flushing->limit = enough < most             ? limit_of(&beyond)
                      : enough < flushing->ends ? ER_FLUSH_CREW
                                                : ER_FLUSH_ALL;
    return status;
}

/* Puts an outlet of open tapes behind each outlet, with none yet. */
static enum er_status double_outlets(struct flusher *flusher)
{
    struct er_network *network = &flusher->network;
    struct er_zone_network *zone = flusher->zone;
    size_t count = zone->outlet_count;
    struct er_outlet *outlets = er_arena_array(&network->arena, 2 * count, sizeof *outlets);
    flusher->tapes = er_arena_array(&network->arena, count, sizeof(double));
    if (outlets == NULL || flusher->tapes == NULL) {
        return ER_NO_MEMORY;
    }
    enum er_status status = ER_OK;
    double lower = 0.0; /* that an open end lies, at most, than the lowest emitter */
    for (size_t o = 0; status == ER_OK && o < count; o++) {
        const struct er_outlet *outlet = &zone->outlets[o];
        struct er_run run = network->pool->responses[outlet->response].run;
        run.length = outlet->length;
        outlets[2 * o] = outlets[2 * o + 1] = *outlet;
        status = er_response_pool_find(network->pool, &run, true, &outlets[2 * o + 1].response);
        flusher->tapes[o] = outlet->tapes;
        const struct er_response *responses = network->pool->responses;
        lower = fmax(lower, responses[outlet->response].dry_pressure -
                                responses[outlets[2 * o + 1].response].dry_pressure);
        for (int lane = BOTH_SIDES; lane < LANES; lane++) {
            flusher->ends[lane] += in_lane(outlet, (enum lane)lane) ? (size_t)outlet->tapes : 0;
        }
    }
    for (size_t arm = 0; arm < 2; arm++) {
        zone->arms[arm].dry_pressure -= lower;
        for (size_t n = 0; n < zone->arms[arm].node_count; n++) {
            zone->arms[arm].nodes[n].first_outlet *= 2;
            zone->arms[arm].nodes[n].outlet_count *= 2;
        }
    }
    zone->outlets = outlets;
    zone->outlet_count = 2 * count;
    return status;
}

static enum er_status begin(struct flusher *flusher)
{
    flusher->zone = &flusher->network.zones[0];
    enum er_status status = double_outlets(flusher);
    if (status == ER_OK) {
        flusher->lowest = er_arena_array(&flusher->network.arena, flusher->network.pool->count,
                                         sizeof *flusher->lowest);
        status = flusher->lowest != NULL ? ER_OK : ER_NO_MEMORY;
    }
    if (flusher->ends[SECOND_SIDE] == 0) {
        flusher->ends[FIRST_SIDE] = 0; /* the same ends as in the lane of both */
    }
    return status;
}

enum er_status er_flushing_find(const struct er_field *field, size_t zone, size_t crew,
                                struct er_flushing *flushing, struct er_failure *failure)
{
    struct flusher flusher = {.field = field};
    const struct er_set alone = {1, &zone};
    *flushing = (struct er_flushing){.velocity = 0.0};
    enum er_status status = er_network_open(field, &alone, NULL, &flusher.network);
    if (status == ER_OK) {
        status = er_network_solve(&flusher.network, false);
    }
    if (status == ER_OK) {
        status = begin(&flusher);
    }
    if (status == ER_OK) {
        flushing->ends = flusher.ends[BOTH_SIDES];
        status = search(&flusher, crew, flushing);
    }
    if (status == ER_NOT_CLOSED) {
        *failure = flusher.network.failure;
    }
    er_network_release(&flusher.network);
    return status;
}
