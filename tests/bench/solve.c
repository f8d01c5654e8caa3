/* How long it takes to solve a zone, over the floor: one straight pass over its emitters with
 * one friction power and one emitter power each. Run by hand:
 *   .build/gcc/tests/bench-solve
 * Prints ratios measured in one run, and the peak memory of the 10 million emitters. */
#define _POSIX_C_SOURCE 200809L

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <time.h>

#include "evenrow/check.h"
#include "evenrow/hydraulics.h"
#include "hydraulics/network.h"

#define REPEATS 9

static const double PSI = 0.70433; /* m */

static struct er_tape tape = {.emitter_flow = 0.45 * ER_GALLON / 60.0 / 30.48 * 0.2032,
                              .at_pressure = 8.0 * 0.70433,
                              .exponent = 0.5,
                              .emitter_spacing = 0.2032,
                              .inside_diameter = 0.015875,
                              .c = 140.0,
                              .cv = 0.03,
                              .min_pressure = 4.0 * 0.70433,
                              .max_pressure = 15.0 * 0.70433};
static struct er_pipe pipe = {.inside_diameter = 0.0779, .c = 150.0};
static struct er_header_piece piece = {&pipe, ER_ENDLESS};
static const size_t first_zone = 0;
static const struct er_set set = {1, &first_zone};

static double now(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

static int by_size(const void *a, const void *b)
{
    double one = *(const double *)a;
    double two = *(const double *)b;
    return (one > two) - (one < two);
}

static double median(double *times)
{
    qsort(times, REPEATS, sizeof *times, by_size);
    return times[REPEATS / 2];
}

/* The floor: what any solver must do once for each emitter. */
static double floor_seconds(double emitters)
{
    double times[REPEATS];
    volatile double sink = 0.0;
    for (int r = 0; r < REPEATS; r++) {
        double start = now();
        double pressure = 5.0;
        double flow = 0.0;
        for (double e = 0.0; e < emitters; e += 1.0) {
            flow += 1e-6 * pow(pressure, tape.exponent);
            pressure += 1e-3 * pow(flow, ER_FRICTION_EXPONENT);
            if (pressure > 7.0) {
                pressure = 5.0;
                flow = 0.0;
            }
        }
        sink += pressure;
        times[r] = now() - start;
    }
    (void)sink;
    return median(times);
}

static struct er_field field_of(struct er_zone *zone, struct er_bed_group *group)
{
    *zone = (struct er_zone){.name = "1",
                             .on = ER_HEADWORKS,
                             .header = {.piece_count = 1, .pieces = &piece},
                             .group_count = 1,
                             .groups = group};
    return (struct er_field){.source = {.kind = ER_SOURCE_PRESSURE, .pressure = 12.0 * PSI},
                             .zone_count = 1,
                             .zones = zone,
                             .set_count = 1,
                             .sets = &set};
}

/* Median seconds to solve the zone, and its emitters. */
static double solve_seconds(struct er_bed_group *group, double *emitters)
{
    struct er_zone zone;
    struct er_field field = field_of(&zone, group);
    double times[REPEATS];
    for (int r = 0; r < REPEATS; r++) {
        struct er_network network;
        double start = now();
        if (er_network_open(&field, &set, NULL, &network) != ER_OK ||
            er_network_solve(&network, false) != ER_OK) {
            fprintf(stderr, "the zone did not solve\n");
            exit(3);
        }
        times[r] = now() - start;
        *emitters = 0.0;
        for (size_t o = 0; o < network.zones[0].outlet_count; o++) {
            *emitters +=
                (double)network.pool->responses[network.zones[0].outlets[o].response].run.emitters;
        }
        er_network_release(&network);
    }
    return median(times);
}

static double report(const char *what, size_t beds, double length, double last_length)
{
    struct er_bed_group group = {.count = beds,
                                 .length = length,
                                 .last_length = last_length,
                                 .spacing = 1.8288,
                                 .tape = &tape,
                                 .tapes = 1,
                                 .rows = 1};
    double emitters;
    double solve = solve_seconds(&group, &emitters);
    double floor_time = floor_seconds(emitters);
    printf("%-44s %10.0f %8.2f ms %8.2f ms %6.2f\n", what, emitters, 1e3 * solve, 1e3 * floor_time,
           solve / floor_time);
    return solve / emitters;
}

int main(void)
{
    struct rusage usage;
    tape.holds_from = tape.holds_to = tape.wall = tape.roll_length = tape.roll_price = ER_NONE;
    pipe.max_pressure = pipe.price = ER_NONE;
    printf("%-44s %10s %11s %11s %6s\n", "zone", "emitters", "solved in", "floor", "ratio");
    double alike = report("40 alike beds of 640 ft, 8 in", 40, 195.072, 195.072);
    report("40 beds of 40 lengths, 320 to 640 ft", 40, 195.072, 97.536);
    pipe.inside_diameter = 1.0; /* so that the last of 10,417 beds still gets water */
    double many = report("10,417 alike beds of 640 ft, 8 in", 10417, 195.072, 195.072);
    getrusage(RUSAGE_SELF, &usage);
    printf("time for each emitter, 10 million over 40 beds: %.2f\n", many / alike);
    printf("peak memory: %.1f MB\n", (double)usage.ru_maxrss / 1024.0);
    return 0;
}
