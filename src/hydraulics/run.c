/* One run of tape: a pipe with many outlets, found from its far end.
 *
 * Choose the pressure at the last emitter, walk upstream adding each emitter's flow, each
 * reach's friction and its rise, and the inlet's pressure and flow come out, with their
 * derivatives. Newton's method then closes on the inlet pressure that is wanted. */
#include "evenrow/hydraulics.h"

#include <float.h>
#include <math.h>
#include <string.h>

#include "hydraulics/closure.h"
#include "hydraulics/emitter.h"
#include "hydraulics/run.h"

/* Of the inlet's pressure, or m. Chosen: far finer than what reads it, limits within 1e-9 and
 * estimates within 1e-7, for which Newton's method takes a step or two more. */
#define FLUSH_TOLERANCE 1e-12
/* m; below it a pressure is none. It leaves so much room above the smallest number that an
 * emitter's flow there still has all its digits. */
#define NO_PRESSURE 1e-280
/* m, and of the flow: so far apart two walks count as parted. Between them the rest of the run is
 * linear, so they must be near; and the answer is a share of the way, so there must be numbers
 * between: at 10 m of pressure some 5,000 of them. With 1e-6 as with 1e-15 rows of the tests are
 * not solved as they should be. */
#define PARTED 1e-11
#define NO_FLOW 1e-100        /* m3/s; the end of a run many times too long gives less */
#define CEILING_OF_SEARCH 1e9 /* m; no answer needs a trial pressure above it */

/* Where a walk has come to: the pressure at one point, the flow passing toward it from
 * upstream, and the derivatives of both by whatever was chosen at the far end. */
struct walk {
    double pressure, pressure_slope;
    double flow, flow_slope;
};

/* A run with the constants of its walk worked out. */
struct walker {
    const struct er_run *run;
    struct er_emitter emitter;
    double gradient;   /* friction over 1 m at 1 m3/s */
    double step;       /* friction over one reach between emitters at 1 m3/s */
    double first_step; /* the same for the inlet's reach */
    size_t restart_count;
    const struct er_run_restart *restarts;
};

static struct walker walker_make(const struct er_run *run)
{
    const struct er_tape *tape = run->tape;
    struct walker walker = {.run = run, .emitter = er_emitter_make(tape)};
    walker.gradient = er_friction_gradient(tape->c, tape->inside_diameter);
    walker.step = walker.gradient * (tape->emitter_spacing + tape->emitter_loss);
    walker.first_step = walker.gradient * (run->first_reach + tape->emitter_loss);
    return walker;
}

static double emitter_elevation(const struct er_run *run, size_t emitter)
{
    double distance = run->first_reach + (double)emitter * run->tape->emitter_spacing;
    return er_ground_elevation(&run->ground, distance);
}

/* Adds a pipe's friction and rise to the walk: `resistance` is its loss at 1 m3/s. */
static inline void pass_pipe(struct walk *walk, double resistance, double rise)
{
    if (walk->flow > 0.0) {
        double loss = resistance * pow(walk->flow, ER_FRICTION_EXPONENT);
        walk->pressure += loss;
        walk->pressure_slope += ER_FRICTION_EXPONENT * loss / walk->flow * walk->flow_slope;
    }
    walk->pressure += rise;
}

/* Lets the emitter at the walk's place take its flow. */
static inline double pass_emitter(const struct walker *walker, struct walk *walk)
{
    double slope;
    double flow = er_emitter_law(&walker->emitter, walk->pressure, &slope);
    walk->flow += flow;
    walk->flow_slope += slope * walk->pressure_slope;
    return flow;
}

/* Sets the walk on its way anew; what it is short of the restart's flow the emitter gives. */
static double restart(const struct er_run_restart *at, struct walk *walk, double flow)
{
    double given = fmax(0.0, flow + at->flow - walk->flow);
    *walk = (struct walk){.pressure = at->pressure,
                          .pressure_slope = at->pressure_span,
                          .flow = at->flow,
                          .flow_slope = at->flow_span};
    return given;
}

/* The ground's elevation along the emitters, kept while a walk goes upstream. */
struct ascent {
    bool even;
    double even_rise;
    double here;
};

static struct ascent ascent_from(const struct er_run *run, size_t emitter)
{
    return (struct ascent){.even = run->ground.count == 0,
                           .even_rise = run->ground.slope * run->tape->emitter_spacing,
                           .here = emitter_elevation(run, emitter)};
}

/* How far emitter `next`'s neighbour downstream lies above it. */
static inline double rise_from(struct ascent *ascent, const struct er_run *run, size_t next)
{
    if (ascent->even) {
        return ascent->even_rise;
    }
    double below = ascent->here;
    ascent->here = emitter_elevation(run, next);
    return below - ascent->here;
}

/* Walks from emitter `last`, where the walk already stands with its pressure, to the inlet.
 * Inline so that the walk without a visitor costs nothing for the one with it. */
static inline void walk_to_inlet(const struct walker *walker, size_t last, double ceiling,
                                 struct walk *walk, er_emitter_visit *visit, void *context)
{
    const struct er_run *run = walker->run;
    const struct er_run_restart *next = walker->restarts;
    const struct er_run_restart *end = next;
    if (walker->restart_count > 0) {
        end += walker->restart_count;
    }
    struct ascent ascent = ascent_from(run, last);
    for (size_t emitter = last;; emitter--) {
        double pressure = walk->pressure;
        double flow = pass_emitter(walker, walk);
        if (next != end && emitter == next->emitter) {
            flow = restart(next++, walk, flow);
        }
        if (visit) {
            visit(context, emitter, pressure, flow);
        }
        if (emitter == 0) {
            break;
        }
        pass_pipe(walk, walker->step, rise_from(&ascent, run, emitter - 1));
        if (!(walk->pressure < ceiling)) {
            walk->pressure = ER_ENDLESS;
            return;
        }
    }
    pass_pipe(walk, walker->first_step, emitter_elevation(run, 0));
}

/* The lowest elevation of the emitters `from` and beyond. */
static double lowest_elevation(const struct er_run *run, size_t from)
{
    double lowest = emitter_elevation(run, run->emitters - 1);
    if (run->ground.count == 0) {
        return fmin(lowest, emitter_elevation(run, from));
    }
    for (size_t emitter = from; emitter + 1 < run->emitters; emitter++) {
        lowest = fmin(lowest, emitter_elevation(run, emitter));
    }
    return lowest;
}

double er_run_dry_pressure(const struct er_run *run) { return lowest_elevation(run, 0); }

/* Beyond the last wet emitter water would stand level with it; what that leaves above zero is
 * less than can be told from nothing, and nothing flows there. */
static double dry_emitter_pressure(const struct er_run *run, const struct er_run_state *state,
                                   size_t emitter)
{
    return fmin(0.0, state->far_pressure + emitter_elevation(run, state->last_wet) -
                         emitter_elevation(run, emitter));
}

double er_run_far_end_pressure(const struct er_run *run, const struct er_run_state *state)
{
    size_t end = run->emitters - 1;
    if (state->last_wet == end) {
        return state->far_pressure;
    }
    return dry_emitter_pressure(run, state, end);
}

static struct er_run_state state_after(const struct walker *walker, const struct walk *walk,
                                       size_t last, double far_pressure)
{
    bool flows = walk->flow > 0.0 && walk->pressure_slope > 0.0;
    /* Behind an end that stands open and gives nothing yet, pressure does not answer at all. */
    double far_slope = walk->pressure_slope > 0.0 ? 1.0 / walk->pressure_slope : (double)INFINITY;
    return (struct er_run_state){
        .last_wet = last,
        .far_pressure = far_pressure,
        .inlet_pressure = walk->pressure,
        .inlet_flow = walk->flow,
        .flow_slope = flows ? fmin(walk->flow_slope / walk->pressure_slope, DBL_MAX) : 0.0,
        .far_slope = walker->restart_count ? 0.0 : far_slope,
    };
}

static struct er_run_state walk_state(const struct walker *walker, size_t last, double far_pressure,
                                      double ceiling)
{
    struct walk walk = {.pressure = far_pressure, .pressure_slope = 1.0};
    walk_to_inlet(walker, last, ceiling, &walk, NULL, NULL);
    return state_after(walker, &walk, last, far_pressure);
}

struct er_run_state er_run_walk(const struct er_run *run, size_t last, double far_pressure,
                                double ceiling)
{
    struct walker walker = walker_make(run);
    return walk_state(&walker, last, far_pressure, ceiling);
}

struct search {
    struct walker *walker;
    double ceiling;
    struct er_run_state state;
};

static double inlet_pressure_of(void *context, double far_pressure, double *slope)
{
    struct search *search = context;
    search->state =
        walk_state(search->walker, search->state.last_wet, far_pressure, search->ceiling);
    /* In a run many times too long the inlet's pressure may rise faster than can be told. */
    double far_slope = search->state.far_slope;
    *slope = far_slope > 0.0 ? 1.0 / far_slope : (double)INFINITY;
    return search->state.inlet_pressure;
}

/* Nothing flows: the water stands level in the run. */
static struct er_run_state standing_state(const struct er_run *run, double inlet_pressure)
{
    size_t end = run->emitters - 1;
    return (struct er_run_state){.last_wet = end,
                                 .far_pressure = inlet_pressure - emitter_elevation(run, end),
                                 .inlet_pressure = inlet_pressure,
                                 .far_slope = 1.0};
}

/* The last emitter that water standing at `level` above the inlet would wet. */
static size_t last_below(const struct er_run *run, double level)
{
    size_t emitter = run->emitters - 1;
    while (emitter > 0 && !(emitter_elevation(run, emitter) < level)) {
        emitter--;
    }
    return emitter;
}

/* The last emitter that `inlet_pressure` reaches in a run many times too long, found by
 * halving: with next to nothing there, the inlet would want no more than that. */
static size_t last_reached(const struct walker *walker, size_t too_far, double inlet_pressure)
{
    size_t reached = 0;
    while (too_far - reached > 1) {
        size_t middle = reached + (too_far - reached) / 2;
        if (walk_state(walker, middle, NO_PRESSURE, CEILING_OF_SEARCH).inlet_pressure <=
            inlet_pressure) {
            reached = middle;
        } else {
            too_far = middle;
        }
    }
    return reached;
}

/* Where two walks, from far pressures or restarts that are neighbouring numbers, part. */
static struct er_run_restart find_parting(const struct walker *walker, size_t last, struct walk low,
                                          struct walk high, struct walk *from)
{
    const struct er_run *run = walker->run;
    struct ascent ascent = ascent_from(run, last);
    for (size_t emitter = last;; emitter--) {
        (void)pass_emitter(walker, &low);
        (void)pass_emitter(walker, &high);
        double pressure_span = high.pressure - low.pressure;
        double flow_span = high.flow - low.flow;
        if (emitter == 0 || pressure_span > PARTED || flow_span > PARTED * high.flow) {
            *from = low;
            return (struct er_run_restart){
                .emitter = emitter, .pressure_span = pressure_span, .flow_span = flow_span};
        }
        double rise = rise_from(&ascent, run, emitter - 1);
        pass_pipe(&low, walker->step, rise);
        pass_pipe(&high, walker->step, rise);
    }
}

/* From just upstream of an emitter to the next one. */
static void step_upstream(const struct walker *walker, size_t emitter, struct walk *walk)
{
    struct ascent ascent = ascent_from(walker->run, emitter);
    pass_pipe(walk, walker->step, rise_from(&ascent, walker->run, emitter - 1));
}

/* From just upstream of an emitter to the inlet. */
static void walk_beyond(const struct walker *walker, size_t emitter, double ceiling,
                        struct walk *walk)
{
    if (emitter == 0) {
        pass_pipe(walk, walker->first_step, emitter_elevation(walker->run, 0));
        return;
    }
    step_upstream(walker, emitter, walk);
    walk_to_inlet(walker, emitter - 1, ceiling, walk, NULL, NULL);
}

/* The inlet's pressure for a last restart that lies `share` of the way between two walks. */
struct between {
    struct search *search;
    struct walk from;
};

static void place_restart(const struct between *at, struct er_run_restart *last, double share)
{
    last->pressure = at->from.pressure + share * last->pressure_span;
    last->flow = at->from.flow + share * last->flow_span;
}

static double inlet_pressure_between(void *context, double share, double *slope)
{
    struct between *at = context;
    struct search *search = at->search;
    struct er_run_state *state = &search->state;
    struct er_run_restart *last = &state->restarts[state->restart_count - 1];
    place_restart(at, last, share);
    struct walk walk = {.pressure = last->pressure,
                        .pressure_slope = last->pressure_span,
                        .flow = last->flow,
                        .flow_slope = last->flow_span};
    walk_beyond(search->walker, last->emitter, search->ceiling, &walk);
    state->inlet_pressure = walk.pressure;
    state->inlet_flow = walk.flow;
    state->flow_slope =
        walk.pressure_slope > 0.0 ? fmin(walk.flow_slope / walk.pressure_slope, DBL_MAX) : 0.0;
    state->far_slope = 0.0;
    *slope = walk.pressure_slope;
    return walk.pressure;
}

static void set_beside(const struct between *at, const struct er_run_restart *restart, double share,
                       struct walk *walk)
{
    struct er_run_restart placed = *restart;
    place_restart(at, &placed, share);
    walk->pressure = placed.pressure;
    walk->flow = placed.flow;
}

/* Goes on with restarts until the inlet closes. `low` and `high` stand at emitter `last` with
 * neighbouring numbers between which the answer lies. */
static enum er_status solve_by_restarts(struct search *search, const struct er_closure *wanted,
                                        size_t last, struct walk low, struct walk high)
{
    struct er_run_state *state = &search->state;
    for (state->restart_count = 1; state->restart_count <= ER_RUN_RESTARTS;
         state->restart_count++) {
        struct between at = {.search = search};
        struct er_run_restart *next = &state->restarts[state->restart_count - 1];
        *next = find_parting(search->walker, last, low, high, &at.from);
        struct er_closure closure = {.function = inlet_pressure_between,
                                     .context = &at,
                                     .wanted = wanted->wanted,
                                     .low = 0.0,
                                     .high = 1.0,
                                     .guess = 0.5,
                                     .tolerance = wanted->tolerance};
        double share;
        if (er_close(&closure, &share, NULL) == ER_OK) {
            return ER_OK;
        }
        if (next->emitter == 0) {
            return ER_NOT_CLOSED;
        }
        bool above = state->inlet_pressure > wanted->wanted;
        last = next->emitter;
        low = high = (struct walk){0};
        set_beside(&at, next, above ? nextafter(share, 0.0) : share, &low);
        set_beside(&at, next, above ? share : nextafter(share, 1.0), &high);
        place_restart(&at, next, above ? nextafter(share, 0.0) : share);
        step_upstream(search->walker, last, &low);
        step_upstream(search->walker, last, &high);
        last--;
    }
    state->restart_count = 0;
    return ER_NOT_CLOSED;
}

/* Closes on the far pressure where that of the last emitter does not do: the end is dry, or
 * the run is many times too long. `far_pressure` is where the search for it ended. */
static enum er_status close_on_last_wet(struct search *search, struct er_closure *closure,
                                        double *far_pressure)
{
    const struct er_run *run = search->walker->run;
    double inlet_pressure = closure->wanted;
    enum er_status status = ER_NOT_CLOSED;
    if (*far_pressure < 0.0) {
        /* What the last wet emitter has is lost in the rounding of the end's pressure: find
         * that emitter's own. */
        double level = *far_pressure + emitter_elevation(run, run->emitters - 1);
        /* An emitter level with the water but for rounding counts as below it. */
        search->state.last_wet = last_below(run, level + 1e-9);
        status = er_close(closure, far_pressure, NULL);
    }
    if (status == ER_NOT_CLOSED && *far_pressure < NO_PRESSURE) {
        search->state.last_wet =
            last_reached(search->walker, search->state.last_wet, inlet_pressure);
        status = er_close(closure, far_pressure, NULL);
    }
    return status;
}

/* Goes on from a far pressure whose neighbouring numbers lie on both sides of the answer. */
static enum er_status close_between_neighbours(struct search *search,
                                               const struct er_closure *closure,
                                               double far_pressure)
{
    bool above = search->state.inlet_pressure > closure->wanted;
    struct walk low = {.pressure = above ? nextafter(far_pressure, -ER_ENDLESS) : far_pressure};
    struct walk high = {.pressure = above ? far_pressure : nextafter(far_pressure, ER_ENDLESS)};
    search->state.far_pressure = low.pressure;
    return solve_by_restarts(search, closure, search->state.last_wet, low, high);
}

enum er_status er_run_solve(const struct er_run *run, double inlet_pressure, double tolerance,
                            struct er_run_state *state)
{
    double dry_pressure = er_run_dry_pressure(run);
    if (!(inlet_pressure > dry_pressure)) {
        *state = standing_state(run, inlet_pressure);
        return ER_OK;
    }
    struct walker walker = walker_make(run);
    size_t end = run->emitters - 1;
    double level_end = inlet_pressure - emitter_elevation(run, end);
    bool guessed = state->last_wet == end && state->inlet_pressure > 0.0;
    struct search search = {.walker = &walker,
                            .ceiling = CEILING_OF_SEARCH + 2.0 * fabs(inlet_pressure)};
    search.state.last_wet = end;
    struct er_closure closure = {
        .function = inlet_pressure_of,
        .context = &search,
        .wanted = inlet_pressure,
        .low = dry_pressure - emitter_elevation(run, end),
        .high = level_end,
        .guess = guessed ? state->far_pressure : level_end - DBL_EPSILON,
        .tolerance = er_pressure_tolerance(tolerance, inlet_pressure, dry_pressure),
    };
    double far_pressure;
    enum er_status status = er_close(&closure, &far_pressure, NULL);
    closure.low = 0.0;
    closure.high = inlet_pressure - dry_pressure;
    if (status == ER_NOT_CLOSED) {
        status = close_on_last_wet(&search, &closure, &far_pressure);
    }
    if (status == ER_NOT_CLOSED) {
        status = close_between_neighbours(&search, &closure, far_pressure);
    }
    *state = search.state;
    return status;
}

/* Calls `visit` for each emitter; `walk` shows how the walk stands there. */
static void visit_all(const struct er_run *run, const struct er_run_state *state, struct walk *walk,
                      er_emitter_visit *visit, void *context)
{
    struct walker walker = walker_make(run);
    walker.restart_count = state->restart_count;
    walker.restarts = state->restarts;
    for (size_t emitter = run->emitters - 1; emitter > state->last_wet; emitter--) {
        visit(context, emitter, dry_emitter_pressure(run, state, emitter), 0.0);
    }
    *walk = (struct walk){.pressure = state->far_pressure, .pressure_slope = 1.0};
    walk_to_inlet(&walker, state->last_wet, ER_ENDLESS, walk, visit, context);
}

void er_run_visit(const struct er_run *run, const struct er_run_state *state,
                  er_emitter_visit *visit, void *context)
{
    struct walk walk;
    visit_all(run, state, &walk, visit, context);
}

struct extremes_search {
    struct walk walk; /* as it stands at the emitter that is visited */
    struct er_run_extremes found;
};

static void compare_emitter(void *context, size_t emitter, double pressure, double flow)
{
    struct extremes_search *search = context;
    struct er_moving here = {pressure, search->walk.pressure_slope};
    (void)emitter;
    (void)flow;
    if (!(pressure >= search->found.lowest.value)) {
        search->found.lowest = here;
    }
    if (!(pressure <= search->found.highest.value)) {
        search->found.highest = here;
    }
}

/* The extremes along a walk from `state`'s far pressure; *walk stands at the inlet then. */
static struct er_run_extremes find_extremes(const struct er_run *run,
                                            const struct er_run_state *state, struct walk *walk)
{
    struct extremes_search search = {
        .walk = {.pressure_slope = ER_NONE},
        .found = {.lowest = {ER_ENDLESS, ER_NONE}, .highest = {-ER_ENDLESS, ER_NONE}}};
    visit_all(run, state, &search.walk, compare_emitter, &search);
    double inlet_slope = state->restart_count ? ER_NONE : search.walk.pressure_slope;
    search.found.lowest.slope /= inlet_slope;
    search.found.highest.slope /= inlet_slope;
    *walk = search.walk;
    return search.found;
}

struct er_run_extremes er_run_extremes_of(const struct er_run *run,
                                          const struct er_run_state *state)
{
    struct walk walk;
    return find_extremes(run, state, &walk);
}

struct er_run_state er_run_walk_extremes(const struct er_run *run, double far_pressure,
                                         struct er_run_extremes *extremes)
{
    const struct walker walker = {.run = run};
    const struct er_run_state from = {.last_wet = run->emitters - 1, .far_pressure = far_pressure};
    struct walk walk;
    *extremes = find_extremes(run, &from, &walk);
    return state_after(&walker, &walk, from.last_wet, far_pressure);
}

/* To the last emitter of a run whose open end gives `end_flow`; slopes are by that flow. */
static struct walk walk_from_end(const struct walker *walker, double end_flow)
{
    const struct er_run *run = walker->run;
    size_t end = run->emitters - 1;
    double last_at = run->first_reach + (double)end * run->tape->emitter_spacing;
    double rise = er_ground_elevation(&run->ground, run->length) - emitter_elevation(run, end);
    struct walk walk = {.flow = end_flow, .flow_slope = 1.0};
    pass_pipe(&walk, walker->gradient * (run->length - last_at), rise);
    return walk;
}

/* The same to the inlet. */
static struct walk walk_open(const struct walker *walker, double end_flow, er_emitter_visit *visit,
                             void *context)
{
    struct walk walk = walk_from_end(walker, end_flow);
    walk_to_inlet(walker, walker->run->emitters - 1, ER_ENDLESS, &walk, visit, context);
    return walk;
}

struct er_run_state er_run_walk_open(const struct er_run *run, double end_flow)
{
    const struct walker walker = walker_make(run);
    struct walk walk = walk_open(&walker, end_flow, NULL, NULL);
    return state_after(&walker, &walk, run->emitters - 1, 0.0);
}

void er_run_visit_open(const struct er_run *run, double end_flow, er_emitter_visit *visit,
                       void *context)
{
    const struct walker walker = walker_make(run);
    (void)walk_open(&walker, end_flow, visit, context);
}

/* The inlet pressure of a run whose open end gives `end_flow`. */
static double flushed_inlet_pressure(void *context, double end_flow, double *slope)
{
    struct walk walk = walk_open(context, end_flow, NULL, NULL);
    *slope = walk.pressure_slope;
    return walk.pressure;
}

enum er_status er_run_flush(const struct er_run *run, double inlet_pressure, double *end_flow)
{
    struct walker walker = walker_make(run);
    double slope;
    if (flushed_inlet_pressure(&walker, 0.0, &slope) >= inlet_pressure) {
        *end_flow = 0.0;
        return ER_OK;
    }
    /* With the emitters shut so much would come through; with them running, less. The bracket is
     * wider by what rounding may take off. */
    double fall = inlet_pressure - er_ground_elevation(&run->ground, run->length);
    double most = pow(fall / (walker.gradient * run->length), 1.0 / ER_FRICTION_EXPONENT);
    struct er_closure closure = {.function = flushed_inlet_pressure,
                                 .context = &walker,
                                 .wanted = inlet_pressure,
                                 .low = 0.0,
                                 .high = most * (1.0 + 1e-9),
                                 .guess = *end_flow > 0.0 ? *end_flow : 0.5 * most,
                                 .tolerance = FLUSH_TOLERANCE * fmax(1.0, fabs(inlet_pressure))};
    if (er_close(&closure, end_flow, NULL) == ER_OK) {
        return ER_OK;
    }
    /* The inlet's pressure may jump, where an emitter passes zero: between nothing and next to
     * nothing, or between neighbouring numbers, and the flow is known to its last digit all the
     * same. */
    if (*end_flow < NO_FLOW && flushed_inlet_pressure(&walker, NO_FLOW, &slope) > inlet_pressure) {
        *end_flow = 0.0;
        return ER_OK;
    }
    return er_close_straddles(&closure, *end_flow) ? ER_OK : ER_NOT_CLOSED;
}

enum er_status er_run_solve_open(const struct er_run *run, double inlet_pressure,
                                 struct er_run_state *state)
{
    double end_flow = 0.0;
    double tolerance = FLUSH_TOLERANCE * fmax(1.0, fabs(inlet_pressure));
    enum er_status status = er_run_flush(run, inlet_pressure, &end_flow);
    if (status != ER_OK || !(end_flow > 0.0)) {
        return status != ER_OK ? status : er_run_solve(run, inlet_pressure, FLUSH_TOLERANCE, state);
    }
    *state = er_run_walk_open(run, end_flow);
    if (fabs(state->inlet_pressure - inlet_pressure) <= tolerance) {
        return ER_OK;
    }
    bool above = state->inlet_pressure > inlet_pressure;
    struct walker walker = walker_make(run);
    struct search search = {.walker = &walker, .ceiling = ER_ENDLESS, .state = *state};
    const struct er_closure closure = {.wanted = inlet_pressure, .tolerance = tolerance};
    status = solve_by_restarts(
        &search, &closure, run->emitters - 1,
        walk_from_end(&walker, above ? nextafter(end_flow, 0.0) : end_flow),
        walk_from_end(&walker, above ? end_flow : nextafter(end_flow, ER_ENDLESS)));
    *state = search.state;
    return status;
}
