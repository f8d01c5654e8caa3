/* Sums over all emitters, and the lowest quarter found by bins that narrow from visit to visit. */
#include "hydraulics/evenness.h"

#include <math.h>
#include <stdlib.h>

/* Each round visits every emitter and narrows the range some 4,000 times, so that four of them part
 * flows as near to each other as ALIKE. Where rows are many times too long trickles of any size ask
 * for more; what is left of the range after the last round counts as its lowest. */
#define BINS 4096
#define ROUNDS_MAX 12
/* Flows nearer than this, relative, count as equal. They are taken for the lowest of them, so the
 * low quarter may be off by as much: less than a walk leaves open. */
#define ALIKE 1e-13

struct visit_all {
    const struct er_network *network;
    struct er_zone_network *zone;
    er_emitter_visit *visit;
    void *context;
    struct outlet_now *now; /* where the visitor looks for what it visits */
};

struct outlet_now {
    double nominal; /* flow of its tape's emitters */
    double tapes;   /* for how many tapes one visit stands */
    struct er_range *pressure;
};

static void visit_emitters(const struct visit_all *all)
{
    for (size_t o = 0; o < all->zone->outlet_count; o++) {
        struct er_outlet *outlet = &all->zone->outlets[o];
        const struct er_run *run = &all->network->pool->responses[outlet->response].run;
        *all->now = (struct outlet_now){.nominal = run->tape->emitter_flow,
                                        .tapes = outlet->tapes,
                                        .pressure = &outlet->emitter_pressure};
        er_run_visit(run, &outlet->state, all->visit, all->context);
    }
}

struct sums {
    struct outlet_now now;
    double count, flow;
    double first_r, shifted, shifted_squares; /* about the first r, so that nothing cancels */
    struct er_range r, q;
};

static void widen(struct er_range *range, double value)
{
    range->min = fmin(range->min, value);
    range->max = fmax(range->max, value);
}

static void add_to_sums(void *context, size_t emitter, double pressure, double flow)
{
    struct sums *sums = context;
    double r = flow / sums->now.nominal;
    (void)emitter;
    if (!(sums->count > 0.0)) {
        sums->first_r = r;
    }
    double shifted = r - sums->first_r;
    sums->count += sums->now.tapes;
    sums->flow += sums->now.tapes * flow;
    sums->shifted += sums->now.tapes * shifted;
    sums->shifted_squares += sums->now.tapes * shifted * shifted;
    widen(&sums->r, r);
    widen(&sums->q, flow);
    widen(sums->now.pressure, pressure);
}

struct bin {
    double count, sum, min, max;
};

/* The emitters whose r lies in a range, sorted into bins; and, in the same visit, how far all
 * emitters are from the mean. */
struct sorting {
    struct outlet_now now;
    double low, high;
    double mean, deviation;
    struct bin *bins;
};

static void sort_into_bins(void *context, size_t emitter, double pressure, double flow)
{
    struct sorting *sorting = context;
    double r = flow / sorting->now.nominal;
    (void)emitter;
    (void)pressure;
    sorting->deviation += sorting->now.tapes * fabs(r - sorting->mean);
    if (r < sorting->low || r > sorting->high) {
        return;
    }
    double share = (r - sorting->low) / (sorting->high - sorting->low);
    size_t place = (size_t)(share * (BINS - 1));
    struct bin *bin = &sorting->bins[place < BINS ? place : BINS - 1];
    bin->count += sorting->now.tapes;
    bin->sum += sorting->now.tapes * r;
    bin->min = fmin(bin->min, r);
    bin->max = fmax(bin->max, r);
}

static void empty_bins(struct bin *bins)
{
    for (size_t b = 0; b < BINS; b++) {
        bins[b] = (struct bin){.min = ER_ENDLESS, .max = -ER_ENDLESS};
    }
}

/* The sum of the `wanted` lowest r. Sorts by ever finer bins: those wholly below the border
 * are added up, the one that holds the border is the next range. */
static double sum_of_lowest(struct visit_all *all, struct sorting *sorting, double wanted)
{
    double sum = 0.0;
    for (int round = 0; round < ROUNDS_MAX; round++) {
        if (!(sorting->high - sorting->low > ALIKE * sorting->high)) {
            break;
        }
        empty_bins(sorting->bins);
        sorting->deviation = 0.0;
        visit_emitters(all);
        const struct bin *bin = sorting->bins;
        for (; bin->count < wanted; bin++) {
            wanted -= bin->count;
            sum += bin->sum;
        }
        sorting->low = bin->min;
        sorting->high = bin->max;
    }
    return sum + wanted * sorting->low;
}

static void measure_spread(struct visit_all *all, struct sorting *sorting, const struct sums *sums,
                           struct er_evenness *evenness)
{
    double n = sums->count;
    double mean_shift = sums->shifted / n;
    double variance = fmax(0.0, sums->shifted_squares / n - mean_shift * mean_shift);
    evenness->variation = sqrt(variance) / evenness->mean_r;
    sorting->mean = evenness->mean_r;
    sorting->low = sums->r.min;
    sorting->high = sums->r.max;
    double quarter = fmax(1.0, floor(n / 4.0));
    evenness->low_quarter = sum_of_lowest(all, sorting, quarter) / quarter / evenness->mean_r;
    evenness->mean_deviation = sorting->deviation / n / evenness->mean_r;
}

enum er_status er_evenness_measure(const struct er_network *network, struct er_zone_network *zone,
                                   struct er_evenness *evenness)
{
    const struct er_range nothing = {ER_ENDLESS, -ER_ENDLESS};
    struct sums sums = {.r = nothing, .q = nothing};
    struct visit_all all = {
        .network = network, .zone = zone, .visit = add_to_sums, .context = &sums, .now = &sums.now};
    for (size_t o = 0; o < zone->outlet_count; o++) {
        zone->outlets[o].emitter_pressure = nothing;
    }
    visit_emitters(&all);
    struct er_range pressure = nothing;
    for (size_t o = 0; o < zone->outlet_count; o++) {
        widen(&pressure, zone->outlets[o].emitter_pressure.min);
        widen(&pressure, zone->outlets[o].emitter_pressure.max);
    }
    *evenness = (struct er_evenness){.emitters = sums.count,
                                     .mean_r = sums.first_r + sums.shifted / sums.count,
                                     .min_r = sums.r.min,
                                     .max_r = sums.r.max,
                                     .variation = ER_NONE,
                                     .mean_deviation = ER_NONE,
                                     .low_quarter = ER_NONE,
                                     .flow = sums.q,
                                     .pressure = pressure,
                                     .mean_flow = sums.flow / sums.count};
    if (!(sums.r.max > 0.0)) {
        evenness->mean_r = 0.0;
        return ER_OK;
    }
    struct sorting sorting = {.bins = malloc(BINS * sizeof(struct bin))};
    if (!sorting.bins) {
        return ER_NO_MEMORY;
    }
    all.visit = sort_into_bins;
    all.context = &sorting;
    all.now = &sorting.now;
    measure_spread(&all, &sorting, &sums, evenness);
    free(sorting.bins);
    return ER_OK;
}

void er_evenness_estimate(const struct er_network *network, const struct er_zone_network *zone,
                          struct er_evenness *evenness)
{
    const struct er_range nothing = {ER_ENDLESS, -ER_ENDLESS};
    struct er_range r = nothing;
    struct er_range pressure = nothing;
    double emitters = 0.0;
    double sum_r = 0.0;
    for (size_t o = 0; o < zone->outlet_count; o++) {
        const struct er_outlet *outlet = &zone->outlets[o];
        const struct er_run *run = &network->pool->responses[outlet->response].run;
        double nominal = run->tape->emitter_flow;
        widen(&r, er_emitter_flow(run->tape, outlet->emitter_pressure.min, NULL) / nominal);
        widen(&r, er_emitter_flow(run->tape, outlet->emitter_pressure.max, NULL) / nominal);
        widen(&pressure, outlet->emitter_pressure.min);
        widen(&pressure, outlet->emitter_pressure.max);
        emitters += outlet->tapes * (double)run->emitters;
        sum_r += outlet->tapes * outlet->flow / nominal;
    }
    *evenness = (struct er_evenness){.emitters = emitters,
                                     .mean_r = r.max > 0.0 ? sum_r / emitters : 0.0,
                                     .min_r = r.min,
                                     .max_r = r.max,
                                     .variation = ER_NONE,
                                     .mean_deviation = ER_NONE,
                                     .low_quarter = ER_NONE,
                                     .flow = {ER_NONE, ER_NONE},
                                     .pressure = pressure,
                                     .mean_flow = zone->flow / emitters};
}
