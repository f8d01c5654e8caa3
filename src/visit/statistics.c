/* How even the emitters are that were read, and where their unevenness comes from. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "evenrow/visit.h"

#define SIXTHS_SPREAD 1.5   /* s above the mean: the mean of a normal distribution's upper sixth */
#define LOW_QUARTER 1.27    /* s below the mean: the mean of its lowest quarter */
#define NINETEEN_OF_20 1.96 /* s on either side that hold 95 percent of it */

struct class_border {
    const char *name;
    double statistical_low, statistical_high; /* of the class, fractions */
    double emission_low, emission_high;
};

/* ASAE EP458, Field evaluation of microirrigation systems (from memory). */
static const struct class_border classes[ER_CLASSES] = {
    [ER_CLASS_EXCELLENT] = {"excellent", 0.95, 1.00, 0.94, 1.00},
    [ER_CLASS_GOOD] = {"good", 0.85, 0.90, 0.81, 0.87},
    [ER_CLASS_FAIR] = {"fair", 0.75, 0.80, 0.68, 0.75},
    [ER_CLASS_POOR] = {"poor", 0.65, 0.70, 0.56, 0.62},
    [ER_CLASS_UNACCEPTABLE] = {"unacceptable", -ER_ENDLESS, 0.60, -ER_ENDLESS, 0.50},
};

const char *er_evenness_class_name(enum er_evenness_class name)
{
    return (size_t)name < ER_CLASSES ? classes[name].name : "none";
}

static struct er_evenness_grade grade(double uniformity, bool statistical)
{
    size_t c = 0;
    while (c + 1 < ER_CLASSES &&
           uniformity < (statistical ? classes[c].statistical_low : classes[c].emission_low)) {
        c++;
    }
    double high = statistical ? classes[c].statistical_high : classes[c].emission_high;
    struct er_evenness_grade found = {(enum er_evenness_class)c, (enum er_evenness_class)c};
    if (c > 0 && uniformity > high) {
        found.best = (enum er_evenness_class)(c - 1);
    }
    return found;
}

struct er_evenness_grade er_grade_statistical(double uniformity) { return grade(uniformity, true); }

struct er_evenness_grade er_grade_emission(double uniformity) { return grade(uniformity, false); }

static int by_size(const void *a, const void *b)
{
    double first = *(const double *)a;
    double second = *(const double *)b;
    return (first > second) - (first < second);
}

static double mean_of(const double *values, size_t count)
{
    double sum = 0.0;
    for (size_t i = 0; i < count; i++) {
        sum += values[i];
    }
    return sum / (double)count;
}

/* Coefficient of variation, with n - 1. */
static double variation_of(const double *values, size_t count)
{
    double mean = mean_of(values, count);
    double squares = 0.0;
    for (size_t i = 0; i < count; i++) {
        squares += (values[i] - mean) * (values[i] - mean);
    }
    return count > 1 ? sqrt(squares / (double)(count - 1)) / mean : ER_NONE;
}

/* Of rising values. */
static double low_quarter_of(const double *sorted, size_t count)
{
    double left = (double)count / 4.0;
    double sum = 0.0;
    for (size_t i = 0; left > 0.0 && i < count; i++) {
        sum += fmin(1.0, left) * sorted[i];
        left -= 1.0;
    }
    return sum / ((double)count / 4.0);
}

static void sum_sixths(const double *sorted, struct er_catch *evaluated)
{
    size_t sixth = evaluated->count / 6;
    evaluated->sixth = sixth;
    evaluated->sixth_low = 0.0;
    evaluated->sixth_high = 0.0;
    for (size_t i = 0; i < sixth; i++) {
        evaluated->sixth_low += sorted[i];
        evaluated->sixth_high += sorted[evaluated->count - 1 - i];
    }
    double low = evaluated->sixth_low;
    double high = evaluated->sixth_high;
    evaluated->statistical_of_sixths =
        sixth > 0 ? 1.0 - (high - low) / (SIXTHS_SPREAD * (high + low)) : ER_NONE;
}

static void evaluate(double *sorted, const double *flows, const double *times,
                     struct er_catch *evaluated)
{
    size_t count = evaluated->count;
    double v = variation_of(flows, count);
    evaluated->mean = mean_of(flows, count);
    evaluated->variation = v;
    evaluated->statistical = 1.0 - v;
    evaluated->emission = 1.0 - LOW_QUARTER * v;
    evaluated->error = v * sqrt((1.0 + 2.0 * v * v) / (2.0 * (double)count));
    memcpy(sorted, flows, count * sizeof *sorted);
    qsort(sorted, count, sizeof *sorted, by_size);
    evaluated->low_quarter = low_quarter_of(sorted, count) / evaluated->mean;
    if (times != NULL) {
        evaluated->mean_time = mean_of(times, count);
        memcpy(sorted, times, count * sizeof *sorted);
        qsort(sorted, count, sizeof *sorted, by_size);
    }
    sum_sixths(sorted, evaluated);
}

enum er_status er_catch_evaluate(const double *flows, const double *times, size_t count,
                                 struct er_catch *evaluated)
{
    *evaluated = (struct er_catch){.count = count,
                                   .mean = ER_NONE,
                                   .variation = ER_NONE,
                                   .statistical = ER_NONE,
                                   .error = ER_NONE,
                                   .low_quarter = ER_NONE,
                                   .emission = ER_NONE,
                                   .mean_time = ER_NONE,
                                   .sixth_low = ER_NONE,
                                   .sixth_high = ER_NONE,
                                   .statistical_of_sixths = ER_NONE,
                                   .by_times = times != NULL};
    if (count < 2 || !(mean_of(flows, count) > 0.0)) {
        return ER_OK;
    }
    double *sorted = malloc(count * sizeof *sorted);
    if (sorted == NULL) {
        return ER_NO_MEMORY;
    }
    evaluate(sorted, flows, times, evaluated);
    free(sorted);
    return ER_OK;
}

size_t er_catch_wanted(const struct er_catch *evaluated, double within)
{
    double v = evaluated->variation;
    double wanted = pow(NINETEEN_OF_20 * v / within, 2.0) * (1.0 + 2.0 * v * v) / 2.0;
    double sixths = ceil(wanted / 6.0 - 1e-9);
    return (size_t)(6.0 * fmin(1e6, fmax(ER_PROCEDURE_LEAST / 6.0, sixths)));
}

struct er_variance_split er_variance_split_make(double variation, const double *pressures,
                                                size_t count, double exponent, double cv)
{
    struct er_variance_split split = {.pressures = count,
                                      .pressure_variation = ER_NONE,
                                      .flow_by_pressure = ER_NONE,
                                      .manufacture = cv,
                                      .pressure_share = ER_NONE,
                                      .manufacture_share = ER_NONE,
                                      .rest_share = ER_NONE};
    if (count < 3 || !(variation > 0.0) || !(mean_of(pressures, count) > 0.0)) {
        return split;
    }
    split.pressure_variation = variation_of(pressures, count);
    split.flow_by_pressure = exponent * split.pressure_variation;
    double by_pressure = pow(split.flow_by_pressure / variation, 2.0);
    double by_make = pow(cv / variation, 2.0);
    split.passes_all = by_pressure + by_make > 1.0;
    split.pressure_share = fmin(1.0, by_pressure);
    split.manufacture_share = fmin(1.0 - split.pressure_share, by_make);
    split.rest_share = 1.0 - split.pressure_share - split.manufacture_share;
    return split;
}
