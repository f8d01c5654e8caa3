#include "hydraulics/response.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Exponents of the power law outside the samples: flat enough for compensating emitters,
 * steep enough for a tape that is just getting wet. */
#define POWER_MIN 0.05
#define POWER_MAX 4.0
#define FIRST_WALKS 20          /* with ever less at the far end, until one is under the ceiling */
#define FIRST_WALK_CEILING 10.0 /* times the nominal pressure */

static double nominal_pressure(const struct er_tape *tape)
{
    return er_given(tape->at_pressure) ? tape->at_pressure : tape->holds_from;
}

enum er_status er_response_begin(struct er_response *response)
{
    const struct er_run *run = &response->run;
    double nominal = nominal_pressure(run->tape);
    double ceiling = FIRST_WALK_CEILING * (fmax(response->dry_pressure, 0.0) + nominal);
    double far_pressure = 0.9 * nominal;
    struct er_run_state state = er_run_walk(run, run->emitters - 1, far_pressure, ceiling);
    for (int step = 0; step < FIRST_WALKS && !isfinite(state.inlet_pressure); step++) {
        far_pressure *= 0.25;
        state = er_run_walk(run, run->emitters - 1, far_pressure, ceiling);
    }
    if (!isfinite(state.inlet_pressure)) {
        memset(&state, 0, sizeof state);
        enum er_status status = er_run_solve(run, ceiling, 1e-2, &state);
        if (status != ER_OK)
            return status;
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
        if (response->samples[middle].inlet_pressure <= inlet_pressure)
            low = middle + 1;
        else
            high = middle;
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
    *slope = chord * chord * (d1 * t * t + 2.0 * chord * t * u + d0 * u * u) / (below * below);
    return y0 + (y1 - y0) * (chord * t * t + d0 * t * u) / below;
}

double er_response_flow(const struct er_response *response, double inlet_pressure, double *slope)
{
    if (!(inlet_pressure > response->dry_pressure)) {
        *slope = 0.0;
        return 0.0;
    }
    size_t below = samples_below(response, inlet_pressure);
    if (below == 0)
        return beside_sample(response, &response->samples[0], inlet_pressure, slope);
    const struct er_sample *from = &response->samples[below - 1];
    if (below == response->count)
        return beside_sample(response, from, inlet_pressure, slope);
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
    if (response->count < response->capacity)
        return ER_OK;
    size_t capacity = response->capacity ? 2 * response->capacity : 4;
    struct er_sample *samples = realloc(response->samples, capacity * sizeof *samples);
    if (!samples)
        return ER_NO_MEMORY;
    response->samples = samples;
    response->capacity = capacity;
    return ER_OK;
}

enum er_status er_response_learn(struct er_response *response, const struct er_run_state *state)
{
    struct er_sample sample = {.inlet_pressure = state->inlet_pressure,
                               .flow = state->inlet_flow,
                               .flow_slope = state->flow_slope,
                               .far_pressure = er_run_far_end_pressure(&response->run, state),
                               .far_slope = state->far_slope};
    size_t place = samples_below(response, sample.inlet_pressure);
    if (place > 0 && response->samples[place - 1].inlet_pressure >= sample.inlet_pressure) {
        response->samples[place - 1] = sample;
        return ER_OK;
    }
    enum er_status status = make_room(response);
    if (status != ER_OK)
        return status;
    memmove(&response->samples[place + 1], &response->samples[place],
            (response->count - place) * sizeof sample);
    response->samples[place] = sample;
    response->count++;
    return ER_OK;
}

void er_response_release(struct er_response *response)
{
    free(response->samples);
    memset(response, 0, sizeof *response);
}
