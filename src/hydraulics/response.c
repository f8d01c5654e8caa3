/* Samples of a run's flow, read between and beyond them, and added where reading is too coarse. */
#include "hydraulics/response.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Exponents of the power law outside the samples: flat enough for compensating emitters, and for
 * the least exponent that the tests draw; steep enough for a tape that is just getting wet. Such a
 * tape's own slope may ask for any exponent, in the tests for infinity, and would read a flow of
 * nothing or far too much a little beside the sample. */
#define POWER_MIN 0.05
#define POWER_MAX 4.0
/* Walks with ever less at the far end, until one is under the ceiling. The last begins with 1e-12
 * of the nominal pressure; the tests have rows for which that is too much still, and a search
 * instead. */
#define FIRST_WALKS 20
/* Times the nominal pressure. Chosen: the sample only has to lie where pressures of a plan do. */
#define FIRST_WALK_CEILING 10.0
/* Of a walk's inlet pressure: far less than ER_STUDIED, which it is to decide. */
#define STUDY_TOLERANCE 1e-11
/* Times what a value may be off, over the stretch. What is read of a smooth stretch t wide is off
 * like t^2 (1 - t)^2, its slope by no more than some 3 times that; a corner's by far more. With
 * less than 3 smooth stretches would be walked again; with no such test estimates have been off by
 * half a millimeter, though the fields that the tests draw now do not show it. */
#define SLOPES_ALIKE 16.0
#define STUDY_WALKS_MAX 80 /* a kink halves its stretch some 50 times */
/* m, and of the pressure: a stretch that is not halved any more: as narrow as what a set's
 * balance leaves open. */
#define NARROW 1e-9
/* How far beyond what is asked a new end of the samples lies. Chosen: what is asked next is near,
 * and should lie between samples without the first stretch being wide. */
#define REACH_OUT 1.25

static double nominal_pressure(const struct er_tape *tape)
{
    return er_given(tape->at_pressure) ? tape->at_pressure : tape->holds_from;
}

static struct er_sample sample_of(const struct er_run *run, const struct er_run_state *state)
{
    return (struct er_sample){.inlet_pressure = state->inlet_pressure,
                              .flow = state->inlet_flow,
                              .flow_slope = state->flow_slope,
                              .far_pressure = er_run_far_end_pressure(run, state),
                              .far_slope = state->far_slope};
}

static enum er_status walk_opened(const struct er_run *run, double inlet_pressure,
                                  struct er_sample *sample)
{
    struct er_run_state state = {0};
    enum er_status status = er_run_solve_open(run, inlet_pressure, &state);
    *sample = sample_of(run, &state);
    return status;
}

static struct er_sample *insert(struct er_response *response, const struct er_sample *sample);

static enum er_status begin_opened(struct er_response *response)
{
    double nominal = fmax(response->dry_pressure, 0.0) + nominal_pressure(response->run.tape);
    struct er_sample sample;
    enum er_status status = walk_opened(&response->run, nominal, &sample);
    if (status != ER_OK) {
        return status;
    }
    return insert(response, &sample) ? ER_OK : ER_NO_MEMORY;
}

enum er_status er_response_begin(struct er_response *response)
{
    if (response->open_end) {
        return begin_opened(response);
    }
    const struct er_run *run = &response->run;
    double nominal = nominal_pressure(run->tape);
    double ceiling = FIRST_WALK_CEILING * (fmax(response->dry_pressure, 0.0) + nominal);
    /* Whatever the row loses lifts its inlet over this; where to begin is free. */
    double far_pressure = 0.9 * nominal;
    struct er_run_state state = er_run_walk(run, run->emitters - 1, far_pressure, ceiling);
    for (int step = 0; step < FIRST_WALKS && !isfinite(state.inlet_pressure); step++) {
        far_pressure *= 0.25;
        state = er_run_walk(run, run->emitters - 1, far_pressure, ceiling);
    }
    if (!isfinite(state.inlet_pressure)) {
        memset(&state, 0, sizeof state);
        /* Any pressure near the ceiling does: the sample tells the one that it was walked to. */
        enum er_status status = er_run_solve(run, ceiling, 1e-2, &state);
        if (status != ER_OK) {
            return status;
        }
    }
    return er_response_learn(response, &state);
}

/* The number of samples at or below `inlet_pressure`. */
static size_t samples_below(const struct er_response *response, double inlet_pressure)
{
    size_t low = 0;
    size_t high = response->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (response->samples[middle].inlet_pressure <= inlet_pressure) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low;
}

/* The power law through the dry pressure that meets `sample` with its slope. */
static double beside_sample(const struct er_response *response, const struct er_sample *sample,
                            double inlet_pressure, double *slope)
{
    double span = sample->inlet_pressure - response->dry_pressure;
    if (!(sample->flow > 0.0) || !(span > 0.0)) {
        *slope = 0.0;
        return sample->flow;
    }
    double power = sample->flow_slope * span / sample->flow;
    power = fmin(fmax(power, POWER_MIN), POWER_MAX);
    double above = inlet_pressure - response->dry_pressure;
    double flow = sample->flow * pow(above / span, power);
    *slope = power * flow / above;
    return flow;
}

/* Monotone rational quadratic through two points with their slopes.
 * Source: Gregory and Delbourgo, Piecewise rational quadratic interpolation to monotonic
 * data, IMA Journal of Numerical Analysis 2, 1982 (from memory). */
static double between_samples(double x0, double y0, double d0, double x1, double y1, double d1,
                              double x, double *slope)
{
    double width = x1 - x0;
    double chord = (y1 - y0) / width;
    double t = (x - x0) / width;
    double u = 1.0 - t;
    double below = chord + (d0 + d1 - 2.0 * chord) * t * u;
    if (!(chord > 0.0) || !(below > 0.0) || !isfinite(below)) {
        *slope = fmax(chord, 0.0);
        return y0 + *slope * (x - x0);
    }
    double steepness = chord / below; /* squared as a whole: a trickle's own square is nothing */
    *slope = steepness * steepness * (d1 * t * t + 2.0 * chord * t * u + d0 * u * u);
    return y0 + (y1 - y0) * (chord * t * t + d0 * t * u) / below;
}

double er_response_flow(const struct er_response *response, double inlet_pressure, double *slope)
{
    if (!(inlet_pressure > response->dry_pressure)) {
        *slope = 0.0;
        return 0.0;
    }
    size_t below = samples_below(response, inlet_pressure);
    if (below == 0) {
        return beside_sample(response, &response->samples[0], inlet_pressure, slope);
    }
    const struct er_sample *from = &response->samples[below - 1];
    if (below == response->count) {
        return beside_sample(response, from, inlet_pressure, slope);
    }
    const struct er_sample *to = from + 1;
    return between_samples(from->inlet_pressure, from->flow, from->flow_slope, to->inlet_pressure,
                           to->flow, to->flow_slope, inlet_pressure, slope);
}

struct er_run_state er_response_guess(const struct er_response *response, double inlet_pressure)
{
    size_t below = samples_below(response, inlet_pressure);
    const struct er_sample *from = &response->samples[below > 0 ? below - 1 : 0];
    struct er_run_state guess = {.last_wet = response->run.emitters - 1,
                                 .inlet_pressure = inlet_pressure};
    if (below == 0 || below == response->count) {
        guess.far_pressure =
            from->far_pressure + from->far_slope * (inlet_pressure - from->inlet_pressure);
    } else {
        double slope;
        guess.far_pressure = between_samples(
            from->inlet_pressure, from->far_pressure, from->far_slope, from[1].inlet_pressure,
            from[1].far_pressure, from[1].far_slope, inlet_pressure, &slope);
    }
    return guess;
}

static enum er_status make_room(struct er_response *response)
{
    if (response->count < response->capacity) {
        return ER_OK;
    }
    size_t capacity = response->capacity ? 2 * response->capacity : 4;
    struct er_sample *samples = realloc(response->samples, capacity * sizeof *samples);
    if (!samples) {
        return ER_NO_MEMORY;
    }
    response->samples = samples;
    response->capacity = capacity;
    return ER_OK;
}

/* Puts a sample in its place and returns it; NULL if memory ran out. */
static struct er_sample *insert(struct er_response *response, const struct er_sample *sample)
{
    size_t place = samples_below(response, sample->inlet_pressure);
    if (place > 0 && response->samples[place - 1].inlet_pressure >= sample->inlet_pressure) {
        response->samples[place - 1] = *sample;
        return &response->samples[place - 1];
    }
    if (make_room(response) != ER_OK) {
        return NULL;
    }
    memmove(&response->samples[place + 1], &response->samples[place],
            (response->count - place) * sizeof *sample);
    response->samples[place] = *sample;
    response->count++;
    return &response->samples[place];
}

enum er_status er_response_learn(struct er_response *response, const struct er_run_state *state)
{
    struct er_sample sample = sample_of(&response->run, state);
    return insert(response, &sample) ? ER_OK : ER_NO_MEMORY;
}

/* A moving pressure between two samples. */
static struct er_moving moving_between(double x0, const struct er_moving *from, double x1,
                                       const struct er_moving *to, double x)
{
    struct er_moving at;
    at.value =
        between_samples(x0, from->value, from->slope, x1, to->value, to->slope, x, &at.slope);
    return at;
}

struct er_range er_response_emitter_pressure(const struct er_response *response,
                                             double inlet_pressure)
{
    size_t below = samples_below(response, inlet_pressure);
    double standing = inlet_pressure - response->dry_pressure;
    if (!(standing > 0.0)) {
        return (struct er_range){standing, standing};
    }
    if (below == 0 || below == response->count) {
        const struct er_sample *end = &response->samples[below > 0 ? below - 1 : 0];
        return (struct er_range){end->extremes.lowest.value, end->extremes.highest.value};
    }
    const struct er_sample *from = &response->samples[below - 1];
    const struct er_sample *to = from + 1;
    return (struct er_range){
        moving_between(from->inlet_pressure, &from->extremes.lowest, to->inlet_pressure,
                       &to->extremes.lowest, inlet_pressure)
            .value,
        moving_between(from->inlet_pressure, &from->extremes.highest, to->inlet_pressure,
                       &to->extremes.highest, inlet_pressure)
            .value};
}

/* Whether what is read half way along a stretch is what was walked there. A corner somewhere else
 * in the stretch may leave the value as it was, but hardly the slope, too, where it is known. */
static bool alike(struct er_moving read, struct er_moving walked, double allowed, double width)
{
    bool turns = fabs(read.slope - walked.slope) * width > SLOPES_ALIKE * allowed;
    return fabs(read.value - walked.value) <= allowed && !turns;
}

static bool is_dry(const struct er_sample *sample)
{
    return !(sample->extremes.lowest.value > 0.0);
}

/* Whether a walk agrees with what is read between `from` and the next sample. */
static bool agrees(const struct er_response *response, const struct er_sample *from,
                   const struct er_sample *walked)
{
    const struct er_moving flow = {walked->flow, walked->flow_slope};
    const struct er_moving lowest = walked->extremes.lowest, highest = walked->extremes.highest;
    const double x0 = from->inlet_pressure, x1 = from[1].inlet_pressure;
    const double x = walked->inlet_pressure;
    struct er_moving read;
    read.value = er_response_flow(response, x, &read.slope);
    if (response->open_end) {
        return alike(read, flow, ER_STUDIED * flow.value, x1 - x0);
    }
    const bool dry = is_dry(walked);
    const double share = dry ? ER_STUDIED_DRY : ER_STUDIED;
    const double width = dry ? 0.0 : x1 - x0; /* there are corners enough: slopes tell nothing */
    if (!alike(read, flow, share * flow.value, width)) {
        return false;
    }
    read = moving_between(x0, &from->extremes.highest, x1, &from[1].extremes.highest, x);
    if (!alike(read, highest, share * fmax(1.0, fabs(highest.value)), width)) {
        return false;
    }
    read = moving_between(x0, &from->extremes.lowest, x1, &from[1].extremes.lowest, x);
    return dry ? read.value <= 0.0
               : alike(read, lowest, share * fmax(1.0, fabs(lowest.value)), width);
}

/* One walk for about `inlet_pressure`, or, where that comes out of the bounds, as many as it
 * takes for that very pressure. */
static enum er_status walk_near(const struct er_response *response, double inlet_pressure,
                                struct er_range bounds, struct er_sample *sample)
{
    if (response->open_end) {
        return walk_opened(&response->run, inlet_pressure, sample);
    }
    struct er_run_state guess = er_response_guess(response, inlet_pressure);
    struct er_run_extremes extremes;
    struct er_run_state state = er_run_walk_extremes(&response->run, guess.far_pressure, &extremes);
    if (!(state.inlet_pressure > bounds.min && state.inlet_pressure < bounds.max)) {
        state = guess;
        enum er_status status =
            er_run_solve(&response->run, inlet_pressure, STUDY_TOLERANCE, &state);
        if (status != ER_OK) {
            return status;
        }
        extremes = er_run_extremes_of(&response->run, &state);
    }
    *sample = sample_of(&response->run, &state);
    sample->extremes = extremes;
    return ER_OK;
}

/* Walks about half way between `from` and the next sample, and keeps what that tells of the
 * two halves. */
static enum er_status study_between(struct er_response *response, const struct er_sample *from)
{
    double width = from[1].inlet_pressure - from->inlet_pressure;
    double middle = from->inlet_pressure + 0.5 * width;
    const struct er_range bounds = {middle - 0.25 * width, middle + 0.25 * width};
    struct er_sample sample;
    enum er_status status = walk_near(response, middle, bounds, &sample);
    if (status != ER_OK) {
        return status;
    }
    const bool known = agrees(response, from, &sample);
    /* Where the dry rows' stretch ends in a wet one, the corner is yet to be found. */
    sample.known_after = known && !(is_dry(&sample) && !is_dry(&from[1]));
    struct er_sample *kept = insert(response, &sample);
    if (!kept) {
        return ER_NO_MEMORY;
    }
    kept[-1].known_after = known;
    return ER_OK;
}

/* Takes a new first or last sample, beyond `inlet_pressure`. */
static enum er_status study_beyond(struct er_response *response, double inlet_pressure, bool above)
{
    double wet = inlet_pressure - response->dry_pressure;
    double beyond = response->dry_pressure + (above ? REACH_OUT : 1.0 / REACH_OUT) * wet;
    const struct er_range bounds = {above ? inlet_pressure : response->dry_pressure,
                                    above ? ER_ENDLESS : inlet_pressure};
    struct er_sample sample;
    enum er_status status = walk_near(response, beyond, bounds, &sample);
    if (status != ER_OK) {
        return status;
    }
    return insert(response, &sample) ? ER_OK : ER_NO_MEMORY;
}

/* The first sample was taken before anybody asked for the emitters' pressures. */
static enum er_status study_first(struct er_response *response)
{
    struct er_sample *first = &response->samples[0];
    struct er_run_state state = er_response_guess(response, first->inlet_pressure);
    enum er_status status =
        er_run_solve(&response->run, first->inlet_pressure, STUDY_TOLERANCE, &state);
    if (status == ER_OK) {
        first->extremes = er_run_extremes_of(&response->run, &state);
    }
    return status;
}

enum er_status er_response_study(struct er_response *response, double inlet_pressure, bool *learnt)
{
    double wet = inlet_pressure - response->dry_pressure;
    if (!(wet > 0.0)) {
        return ER_OK;
    }
    enum er_status status = ER_OK;
    for (int walk = 0; status == ER_OK && walk < STUDY_WALKS_MAX; walk++) {
        size_t below = samples_below(response, inlet_pressure);
        bool between = below > 0 && below < response->count;
        struct er_sample *from = &response->samples[below > 0 ? below - 1 : 0];
        if (between && from->known_after) {
            return ER_OK;
        }
        *learnt = true;
        if (between && from[1].inlet_pressure - from->inlet_pressure <= NARROW * fmax(1.0, wet)) {
            from->known_after = true; /* a corner; there is nothing between any more */
            return ER_OK;
        }
        if (response->count == 1 && !response->open_end && !(from->extremes.highest.value > 0.0)) {
            status = study_first(response);
        }
        if (status == ER_OK) {
            status = between ? study_between(response, from)
                             : study_beyond(response, inlet_pressure, below > 0);
        }
    }
    return status == ER_OK ? ER_NOT_CLOSED : status;
}

void er_response_release(struct er_response *response)
{
    free(response->samples);
    memset(response, 0, sizeof *response);
}
