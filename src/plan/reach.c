/* The longest row: the first number of emitters that breaks a limit, found without trying all.
 *
 * On falling ground the uniformity falls, rises and falls again with the length, so halving
 * between a row that passes and one that does not may end at the wrong place. Trying every
 * number is sure, and slow. What makes it quick is that, the inlet's pressure held, rows of
 * other lengths bound each other:
 *
 * One more emitter lowers every other one's pressure and raises the flow into the row, or
 * leaves them. For, walking from the inlet with a larger inflow, every pressure is lower (more
 * friction), every emitter gives less or as much (no emitter gives more at a lower pressure,
 * compensating or not), so the flow that goes on is larger everywhere. The inflow of a row of N
 * is the one that leaves nothing behind emitter N; with one emitter more, something must be
 * left for it. Friction beside an emitter (emitter_loss) is more friction, no more.
 *
 * Let a row of N keep all limits, and M > N. For every K from N to M, r being an emitter's flow
 * over the nominal one:
 *   - the lowest pressure of K is at least that of M: of M's emitters K lacks some, and has
 *     more at the others. Likewise the lowest r.
 *   - the highest pressure of K: up to emitter N at most that of N; beyond it at most N's end
 *     pressure and the most that the ground falls from there on the way to M, since friction only
 * takes.
 *   - the mean r of K: its flow is at most that of M, spread over N emitters or more. Or: of
 *     its emitters up to N the mean is at most that of N, and the r of those beyond is at most
 *     that at the highest pressure there; of the two bounds the lower one holds.
 *   - so emission uniformity, lowest r over mean r, is at least the lowest of M over the
 *     highest mean; and flow variation at most what the lowest of M and the highest r make.
 * Where these bounds keep the limits all rows from N to M do, and the search goes on from M.
 * Where they do not, M is moved nearer, down to N + 1, which is judged by its own figures. */
#include "evenrow/reach.h"

#include <math.h>

#include "evenrow/hydraulics.h"

/* Of the inlet's pressure. Rows are told apart by one emitter, and the bounds by BOUND_TOLERANCE:
 * what a walk leaves open must be far less. */
#define SOLVE_TOLERANCE 1e-12
#define LIMIT_TOLERANCE 1e-9  /* relative: a limit is broken only by more, as findings have it */
#define BOUND_TOLERANCE 5e-10 /* the same for bounds: tighter, yet coarser than rounding */

struct search {
    const struct er_tape *tape;
    struct er_ground ground;
    double inlet_pressure;
    const struct er_reach_limits *limits;
    double manufacture; /* what manufacture leaves of the uniformity */
};

/* A row of so many emitters. */
struct row {
    size_t emitters;
    double flow, end_pressure;
    struct er_range pressure; /* of its emitters */
    struct er_range r;
    double mean_r;
};

/* The figures that are held against the limits: a row's own, or bounds of several rows'. */
struct figures {
    struct er_range pressure; /* the inlet's with them */
    double emission_uniformity, flow_variation;
};

const char *er_reach_bound_name(enum er_reach_bound bound)
{
    static const enum er_finding_code codes[] = {
        [ER_REACH_ROW_DRY] = ER_ROW_DRY,
        [ER_REACH_PRESSURE_LOW] = ER_PRESSURE_LOW,
        [ER_REACH_PRESSURE_HIGH] = ER_PRESSURE_HIGH,
        [ER_REACH_UNIFORMITY_LOW] = ER_UNIFORMITY_LOW,
        [ER_REACH_FLOW_UNEVEN] = ER_FLOW_UNEVEN,
    };
    return bound < ER_REACH_LONGEST ? er_finding_kind(codes[bound])->code : "longest";
}

/* m that the ground falls from one emitter, counted from 1, to another beyond it. */
static double fall_between(const struct search *search, size_t from, size_t to)
{
    const double spacing = search->tape->emitter_spacing;
    if (search->ground.count == 0) {
        return -search->ground.slope * spacing * (double)(to - from);
    }
    return er_ground_elevation(&search->ground, ((double)from - 0.5) * spacing) -
           er_ground_elevation(&search->ground, ((double)to - 0.5) * spacing);
}

/* The most that it falls from one emitter to any of those up to another; 0 where it rises. */
static double deepest_fall(const struct search *search, size_t from, size_t to)
{
    double deepest = fmax(0.0, fall_between(search, from, to));
    for (size_t k = from + 1; search->ground.count > 0 && k < to; k++) {
        deepest = fmax(deepest, fall_between(search, from, k));
    }
    return deepest;
}

static double r_at(const struct search *search, double pressure)
{
    return er_emitter_flow(search->tape, pressure, NULL) / search->tape->emitter_flow;
}

static void widen(struct er_range *range, double value)
{
    range->min = fmin(range->min, value);
    range->max = fmax(range->max, value);
}

/* Called for every emitter; r is the flow itself for now. */
static void widen_ranges(void *context, size_t emitter, double pressure, double flow)
{
    struct row *row = context;
    (void)emitter;
    widen(&row->pressure, pressure);
    widen(&row->r, flow);
}

/* Solves a row of so many emitters; a shorter one that is solved shows where to begin. */
static enum er_status measure(const struct search *search, size_t emitters,
                              const struct row *shorter, struct row *row)
{
    const struct er_run run = {.tape = search->tape,
                               .emitters = emitters,
                               .first_reach = 0.5 * search->tape->emitter_spacing,
                               .length = (double)emitters * search->tape->emitter_spacing,
                               .ground = search->ground};
    struct er_run_state state = {0};
    if (shorter) {
        state.last_wet = emitters - 1;
        state.inlet_pressure = search->inlet_pressure;
        state.far_pressure =
            shorter->end_pressure + fall_between(search, shorter->emitters, emitters);
    }
    enum er_status status = er_run_solve(&run, search->inlet_pressure, SOLVE_TOLERANCE, &state);
    if (status != ER_OK) {
        return status;
    }
    const struct er_range nothing = {ER_ENDLESS, -ER_ENDLESS};
    *row = (struct row){.emitters = emitters,
                        .flow = state.inlet_flow,
                        .end_pressure = er_run_far_end_pressure(&run, &state),
                        .pressure = nothing,
                        .r = nothing};
    er_run_visit(&run, &state, widen_ranges, row);
    row->r.min /= search->tape->emitter_flow;
    row->r.max /= search->tape->emitter_flow;
    row->mean_r = row->flow / search->tape->emitter_flow / (double)emitters;
    return ER_OK;
}

static struct figures make_figures(const struct search *search, struct er_range pressure,
                                   struct er_range r, double mean_r)
{
    bool flows = mean_r > 0.0;
    return (struct figures){.pressure = {pressure.min, fmax(pressure.max, search->inlet_pressure)},
                            .emission_uniformity =
                                flows ? search->manufacture * r.min / mean_r : ER_NONE,
                            .flow_variation = flows ? (r.max - r.min) / r.max : ER_NONE};
}

static struct figures figures_of(const struct search *search, const struct row *row)
{
    return make_figures(search, row->pressure, row->r, row->mean_r);
}

/* Bounds of the figures of every row from `near` to `far`: see the top of this file. */
static struct figures figures_between(const struct search *search, const struct row *near,
                                      const struct row *far)
{
    double n = (double)near->emitters;
    double m = (double)far->emitters;
    double beyond = near->end_pressure + deepest_fall(search, near->emitters, far->emitters);
    double highest = fmax(near->pressure.max, beyond);
    double r_beyond = r_at(search, beyond);
    double mean_by_flow = far->mean_r * m / n;
    double mean_by_parts =
        r_beyond > near->mean_r ? (n * near->mean_r + (m - n) * r_beyond) / m : near->mean_r;
    return make_figures(search, (struct er_range){far->pressure.min, highest},
                        (struct er_range){far->r.min, r_at(search, highest)},
                        fmin(mean_by_flow, mean_by_parts));
}

/* The first limit that the figures break by more than `tolerance` of it; ER_REACH_LONGEST:
 * none. Figures of a row that gets no water are NAN, and it is dry. */
static enum er_reach_bound broken_limit(const struct search *search, const struct figures *figures,
                                        double tolerance)
{
    const struct er_tape *tape = search->tape;
    double less = 1.0 - tolerance;
    double more = 1.0 + tolerance;
    if (!(figures->pressure.min > 0.0)) {
        return ER_REACH_ROW_DRY;
    }
    if (figures->pressure.min < tape->min_pressure * less) {
        return ER_REACH_PRESSURE_LOW;
    }
    if (figures->pressure.max > tape->max_pressure * more) {
        return ER_REACH_PRESSURE_HIGH;
    }
    if (figures->emission_uniformity < search->limits->uniformity * less) {
        return ER_REACH_UNIFORMITY_LOW;
    }
    if (figures->flow_variation > search->limits->flow_variation * more) {
        return ER_REACH_FLOW_UNEVEN;
    }
    return ER_REACH_LONGEST;
}

/* How far the search looks ahead. */
struct stride {
    size_t length;
    bool doubles; /* at the next success: it has been right twice, or never wrong */
};

static void stride_succeeded(struct stride *stride)
{
    if (stride->doubles) {
        stride->length *= 2;
    }
    stride->doubles = true;
}

static void stride_failed(struct stride *stride, size_t tried)
{
    stride->length = tried / 2;
    stride->doubles = false;
}

/* Goes on from a row that keeps all limits, as do all shorter ones, to the last such row.
 * *bound: what stopped it. */
static enum er_status go_on(const struct search *search, size_t most, struct row *row,
                            enum er_reach_bound *bound)
{
    struct stride stride = {.length = 1, .doubles = true};
    *bound = ER_REACH_LONGEST;
    while (row->emitters < most) {
        size_t ahead = most - row->emitters;
        if (ahead > stride.length) {
            ahead = stride.length;
        }
        struct row far;
        enum er_status status = measure(search, row->emitters + ahead, row, &far);
        if (status != ER_OK && ahead == 1) {
            return status;
        }
        enum er_reach_bound broken = ER_REACH_ROW_DRY;
        if (status == ER_OK) {
            struct figures figures =
                ahead > 1 ? figures_between(search, row, &far) : figures_of(search, &far);
            broken = broken_limit(search, &figures, ahead > 1 ? BOUND_TOLERANCE : LIMIT_TOLERANCE);
        }
        if (broken == ER_REACH_LONGEST) {
            *row = far;
            stride_succeeded(&stride);
        } else if (ahead > 1) {
            stride_failed(&stride, ahead);
        } else {
            *bound = broken;
            return ER_OK;
        }
    }
    return ER_OK;
}

static void describe(const struct search *search, const struct row *row, struct er_reach *reach)
{
    struct figures figures = figures_of(search, row);
    reach->emitters = row->emitters;
    reach->length = (double)row->emitters * search->tape->emitter_spacing;
    reach->flow = row->flow;
    reach->far_end_pressure = row->end_pressure;
    reach->emitter_pressure = row->pressure;
    reach->emission_uniformity = figures.emission_uniformity;
    reach->flow_variation = figures.flow_variation;
}

static struct search search_make(const struct er_tape *tape, struct er_ground ground,
                                 double inlet_pressure, const struct er_reach_limits *limits)
{
    return (struct search){.tape = tape,
                           .ground = ground,
                           .inlet_pressure = inlet_pressure,
                           .limits = limits,
                           .manufacture =
                               er_manufacture_share(tape->cv, limits->emitters_per_plant)};
}

enum er_status er_reach_find(const struct er_tape *tape, double slope, double inlet_pressure,
                             const struct er_reach_limits *limits, struct er_reach *reach)
{
    const struct er_ground even = {.slope = slope};
    return er_reach_find_on(tape, &even, inlet_pressure, limits, reach);
}

enum er_status er_reach_find_on(const struct er_tape *tape, const struct er_ground *ground,
                                double inlet_pressure, const struct er_reach_limits *limits,
                                struct er_reach *reach)
{
    const struct search search = search_make(tape, *ground, inlet_pressure, limits);
    *reach = (struct er_reach){.flow = ER_NONE,
                               .far_end_pressure = ER_NONE,
                               .emitter_pressure = {ER_NONE, ER_NONE},
                               .emission_uniformity = ER_NONE,
                               .flow_variation = ER_NONE};
    struct row row;
    enum er_status status = measure(&search, 1, NULL, &row);
    if (status != ER_OK) {
        return status;
    }
    struct figures figures = figures_of(&search, &row);
    reach->bound = broken_limit(&search, &figures, LIMIT_TOLERANCE);
    if (reach->bound != ER_REACH_LONGEST) {
        return ER_OK;
    }
    status = go_on(&search, er_tape_emitters(tape, limits->longest), &row, &reach->bound);
    if (status == ER_OK) {
        describe(&search, &row, reach);
    }
    return status;
}

enum er_status er_reach_judge(const struct er_tape *tape, double slope, double inlet_pressure,
                              const struct er_reach_limits *limits, size_t emitters,
                              struct er_reach *reach)
{
    const struct search search =
        search_make(tape, (struct er_ground){.slope = slope}, inlet_pressure, limits);
    struct row row;
    enum er_status status = measure(&search, emitters, NULL, &row);
    if (status != ER_OK) {
        return status;
    }
    struct figures figures = figures_of(&search, &row);
    describe(&search, &row, reach);
    reach->bound = broken_limit(&search, &figures, LIMIT_TOLERANCE);
    return ER_OK;
}
