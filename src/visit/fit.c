/* The value of a fault for which the solved field misses the readings least. */
#include "visit/fit.h"

#include <math.h>

#include "evenrow/divide.h"

#define PLUGGED_UNDER 0.25 /* of what is predicted */
#define GRID 7             /* values tried over the whole range */
#define NARROWINGS 16      /* of the range about the best of them, by the golden section each */
#define GOLDEN 0.6180339887498949
#define BEDS_TRIED 9 /* along the header, before looking closer */
#define SECANT_STEPS 8
#define STEP_CLOSE 0.01  /* of the value: a step as short is the last */
#define MOST_WIDER 3     /* times */
#define MOST_LEAK 3.0    /* of the set's flow */
#define FIRST_GUESS 0.05 /* of the most */
#define MOST_TRIED 200   /* beds: the steps are halved some 60 times at most */

size_t er_fit_figures(enum er_fault_kind kind)
{
    switch (kind) {
    case ER_FAULT_NONE:
        return 0;
    case ER_FAULT_LEAK:
        return 2;
    default:
        return 1;
    }
}

/* Plugged emitters among `emitters` that were read, as deviations from what the fault means. */
static double plugged_off(const struct er_fault *fault, size_t plugged, size_t emitters)
{
    double share = fault->kind == ER_FAULT_PLUGGED ? fault->value : 0.0;
    double count = (double)emitters;
    /* Binomial; one emitter more or less is always chance. */
    double deviation = fmax(0.5, sqrt(count * share * (1.0 - share)));
    return ((double)plugged - count * share) / deviation;
}

double er_fit_misfit(const struct er_fitting *fitting, const struct er_fault *fault,
                     const double *predicted, double *off, size_t *plugged)
{
    double sum = 0.0;
    size_t emitters = 0;
    size_t stopped = 0;
    for (size_t i = 0; i < fitting->count; i++) {
        const struct er_visit_reading *reading = &fitting->readings[i];
        bool emitter = reading->kind == ER_READ_EMITTER;
        bool is_plugged = emitter && reading->value < PLUGGED_UNDER * predicted[i];
        double one = (reading->value - predicted[i]) / fitting->deviation[i];
        emitters += emitter;
        stopped += is_plugged;
        sum += is_plugged ? 0.0 : one * one;
        if (off != NULL) {
            off[i] = is_plugged ? ER_NONE : one;
        }
    }
    if (plugged != NULL) {
        *plugged = stopped;
    }
    double count_off = emitters > 0 ? plugged_off(fault, stopped, emitters) : 0.0;
    return isfinite(sum) ? sum + count_off * count_off : ER_ENDLESS;
}

static double misfit_of(struct er_fitting *fitting, const struct er_fault *fault)
{
    enum er_status status = er_predictor_run(fitting->predictor, fault, fitting->readings,
                                             fitting->count, fitting->scratch);
    fitting->no_memory = fitting->no_memory || status == ER_NO_MEMORY;
    if (status != ER_OK) {
        return ER_ENDLESS;
    }
    return er_fit_misfit(fitting, fault, fitting->scratch, NULL, NULL);
}

static double misfit_at(struct er_fitting *fitting, struct er_fault *fault, double value)
{
    fault->value = value;
    return misfit_of(fitting, fault);
}

/* The best of the values from `low` to `high`: the golden section about the best of a grid. */
static double fit_value(struct er_fitting *fitting, struct er_fault *fault, double low, double high)
{
    double step = (high - low) / (GRID - 1);
    double least = ER_ENDLESS;
    double best = low;
    for (size_t i = 0; i < GRID; i++) {
        double value = low + step * (double)i;
        double misfit = misfit_at(fitting, fault, value);
        if (misfit < least) {
            least = misfit;
            best = value;
        }
    }
    double from = fmax(low, best - step);
    double to = fmin(high, best + step);
    double left = to - GOLDEN * (to - from);
    double right = from + GOLDEN * (to - from);
    double at_left = misfit_at(fitting, fault, left);
    double at_right = misfit_at(fitting, fault, right);
    for (size_t i = 0; i < NARROWINGS; i++) {
        if (at_left <= at_right) {
            to = right;
            right = left;
            at_right = at_left;
            left = to - GOLDEN * (to - from);
            at_left = misfit_at(fitting, fault, left);
        } else {
            from = left;
            left = right;
            at_left = at_right;
            right = from + GOLDEN * (to - from);
            at_right = misfit_at(fitting, fault, right);
        }
    }
    double found = fmin(at_left, at_right);
    fault->value = at_left <= at_right ? left : right;
    if (least < found) {
        fault->value = best;
    }
    return fmin(found, least);
}

/* One step toward the least misfit, taking what the readings change by from the plan (value 0,
 * predicted in the second half of the scratch) to `value` as a straight line. */
static double secant_value(const struct er_fitting *fitting, double value)
{
    const double *planned = fitting->scratch + fitting->count;
    double along = 0.0;
    double across = 0.0;
    for (size_t i = 0; i < fitting->count; i++) {
        const struct er_visit_reading *reading = &fitting->readings[i];
        if (reading->kind == ER_READ_EMITTER &&
            reading->value < PLUGGED_UNDER * fitting->scratch[i]) {
            continue;
        }
        double change = (fitting->scratch[i] - planned[i]) / fitting->deviation[i];
        along += change * (reading->value - planned[i]) / fitting->deviation[i];
        across += change * change;
    }
    return across > 0.0 ? value * along / across : 0.0;
}

/* The misfit with a fault at `bed`, its flow fitted roughly. */
static double misfit_at_bed(struct er_fitting *fitting, struct er_fault *fault, size_t bed,
                            double most)
{
    fault->bed = bed;
    fault->value = fault->kind == ER_FAULT_LEAK ? FIRST_GUESS * most : 0.0;
    double misfit = misfit_of(fitting, fault);
    for (size_t i = 0; fault->kind == ER_FAULT_LEAK && isfinite(misfit) && i < SECANT_STEPS; i++) {
        double next = fmin(most, fmax(1e-4 * most, secant_value(fitting, fault->value)));
        bool last = fabs(next - fault->value) < STEP_CLOSE * next;
        misfit = misfit_at(fitting, fault, next);
        if (last) {
            break;
        }
    }
    return misfit;
}

/* What is known of the best bed so far. */
struct bed_search {
    struct er_fault best;
    double least;
    double most; /* m3/s */
    size_t tried;
    size_t beds[MOST_TRIED];
    double misfits[MOST_TRIED];
};

static void try_bed(struct er_fitting *fitting, struct bed_search *search, size_t bed)
{
    struct er_fault fault = search->best;
    double misfit = misfit_at_bed(fitting, &fault, bed, search->most);
    if (search->tried < MOST_TRIED) {
        search->beds[search->tried] = bed;
        search->misfits[search->tried++] = misfit;
    }
    if (misfit < search->least) {
        search->least = misfit;
        search->best = fault;
    }
}

/* The first and the last of the beds tried that cannot be told from the best. */
static void find_as_good(struct er_fitting *fitting, const struct bed_search *search)
{
    fitting->first_bed = search->best.bed;
    fitting->last_bed = search->best.bed;
    for (size_t i = 0; i < search->tried; i++) {
        if (search->misfits[i] >= search->least + ER_TOLD_APART) {
            continue;
        }
        size_t bed = search->beds[i];
        fitting->first_bed = bed < fitting->first_bed ? bed : fitting->first_bed;
        fitting->last_bed = bed > fitting->last_bed ? bed : fitting->last_bed;
    }
}

/* Beds evenly along the header, then ever nearer to the best of them. */
static double fit_bed(struct er_fitting *fitting, struct er_fault *fault, double most)
{
    const struct er_fault_site *site = &fitting->predictor->site;
    size_t beds = er_zone_beds(&site->field->zones[site->zone]);
    size_t step = (beds + BEDS_TRIED - 2) / (BEDS_TRIED - 1);
    struct bed_search search = {.best = *fault, .least = ER_ENDLESS, .most = most};
    for (size_t bed = 0; bed < beds; bed += step) {
        try_bed(fitting, &search, bed);
    }
    for (step /= 2; step > 0; step /= 2) {
        size_t middle = search.best.bed;
        if (middle >= step) {
            try_bed(fitting, &search, middle - step);
        }
        if (middle + step < beds) {
            try_bed(fitting, &search, middle + step);
        }
    }
    find_as_good(fitting, &search);
    *fault = search.best;
    return search.least;
}

/* A loss at the planned flow may be many times the pressure there is: less flows then. As long as
 * the best is at the end of what was tried, more is. */
static double fit_loss(struct er_fitting *fitting, struct er_fault *fault)
{
    double most = fitting->predictor->source_pressure;
    double misfit = fit_value(fitting, fault, 0.0, most);
    for (int wider = 0; wider < MOST_WIDER && fault->value > 0.9 * most; wider++) {
        struct er_fault more = *fault;
        double found = fit_value(fitting, &more, most, 4.0 * most);
        most *= 4.0;
        if (found < misfit) {
            misfit = found;
            *fault = more;
        }
    }
    return misfit;
}

static double fit_at_bed(struct er_fitting *fitting, struct er_fault *fault)
{
    const struct er_fault none = {.kind = ER_FAULT_NONE};
    misfit_of(fitting, &none);
    for (size_t i = 0; i < fitting->count; i++) {
        fitting->scratch[fitting->count + i] = fitting->scratch[i];
    }
    return fit_bed(fitting, fault, MOST_LEAK * fitting->predictor->site.set_flow);
}

double er_fit_fault(struct er_fitting *fitting, enum er_fault_kind kind, struct er_fault *fault)
{
    const struct er_fault_site *site = &fitting->predictor->site;
    const struct er_zone *zone = &site->field->zones[site->zone];
    *fault = (struct er_fault){.kind = kind};
    switch (kind) {
    case ER_FAULT_FILTER:
    case ER_FAULT_VALVE:
        return fit_loss(fitting, fault);
    case ER_FAULT_PUMP:
        return fit_value(fitting, fault, 0.3, 1.0);
    case ER_FAULT_REGULATOR:
        return fit_value(fitting, fault, 0.2 * zone->regulator->holds,
                         2.0 * zone->regulator->holds);
    case ER_FAULT_HEADER:
        return fit_value(fitting, fault, 0.4, 1.0);
    case ER_FAULT_PLUGGED:
        return fit_value(fitting, fault, 0.0, 0.8);
    case ER_FAULT_TAPE:
        return fit_value(fitting, fault, 0.3, 3.0);
    case ER_FAULT_LEAK:
    case ER_FAULT_OPEN_END:
        return fit_at_bed(fitting, fault);
    case ER_FAULT_NONE:
    case ER_FAULT_KINDS:
        break;
    }
    return misfit_of(fitting, fault);
}
