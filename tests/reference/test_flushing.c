/* Tape ends that may be open at once, held against every window that a worker comes through on the
 * way along the header: each is solved apart, by a general solver of GSL from equations that share
 * nothing with the program (reference.h), where an open end is a junction with the air behind it.
 */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#include "../trust/trust.h"
#include "dice.h"
#include "plan/flushing.h"
#include "random_field.h"
#include "reference.h"
#include "reference_equations.h"
#include "reference_solver.h"

static const uint64_t FIELDS = 160;
static const double AGREEMENT = 1e-6; /* of flows and velocities */
static const double LEAST_VELOCITY = 1e-3;
static const size_t MOST_ENDS = 60; /* of a zone that is looked at */

struct sweep {
    size_t windows, bad, unsolved;
    size_t found, none_found, refused; /* zones */
    size_t not_the_most;               /* where one more would have done everywhere */
    size_t limits[ER_FLUSH_ENDS + 1];
    double largest; /* deviation */
    uint64_t largest_seed;
};

/* A zone's ends one by one, as places in `open` of reference_network_build_open. */
struct ends {
    size_t count;
    size_t place[128];
};

/* Those of the sides from `first_side` to `last_side`, bed by bed. */
static struct ends list_ends(const struct er_zone *zone, size_t first_side, size_t last_side)
{
    struct ends ends = {0};
    size_t bed = 0;
    for (size_t g = 0; g < zone->group_count; g++) {
        const struct er_bed_group *group = &zone->groups[g];
        for (size_t index = 0; index < group->count; index++, bed++) {
            for (size_t side = first_side; side <= (group->both_sides ? last_side : 0); side++) {
                for (size_t tape = 0; tape < group->tapes && ends.count < 128; tape++) {
                    ends.place[ends.count++] = 2 * bed + side;
                }
            }
        }
    }
    return ends;
}

/* The figures of a window; of several the worst. */
struct worst {
    double flow, pipe_velocity, end_velocity;
};

static double velocity_in(double flow, double diameter)
{
    return flow / (acos(-1.0) / 4 * diameter * diameter);
}

static void read_window(const struct reference_network *network, const double *unknowns,
                        struct worst *worst)
{
    worst->flow = fmax(worst->flow, reference_flow(network, 0, unknowns));
    for (size_t s = 0; s < network->span_count; s++) {
        double flow = reference_flow(network, network->spans[s].node, unknowns);
        worst->pipe_velocity =
            fmax(worst->pipe_velocity, velocity_in(flow, network->spans[s].smallest_diameter));
    }
    for (size_t s = 0; s < network->field->section_count; s++) {
        double flow = reference_flow(network, network->section_end[s], unknowns);
        double diameter = network->field->mainline[s].pipe->inside_diameter;
        worst->pipe_velocity = fmax(worst->pipe_velocity, velocity_in(flow, diameter));
    }
    for (size_t r = 0; r < network->run_count; r++) {
        const struct reference_run *run = &network->runs[r];
        if (run->open_end) {
            double flow = reference_flow(network, run->first + run->count, unknowns);
            double diameter = network->nodes[run->first].tape->inside_diameter;
            worst->end_velocity = fmin(worst->end_velocity, velocity_in(flow, diameter));
        }
    }
}

static bool solve_window(const struct er_field *field, size_t zone, const struct ends *ends,
                         size_t from, size_t count, struct worst *worst)
{
    size_t open[256] = {0};
    const struct er_set alone = {1, &zone};
    for (size_t e = from; e < from + count; e++) {
        open[ends->place[e]]++;
    }
    struct reference_network network;
    reference_network_build_open(&network, field, &alone, open);
    struct reference_root root = reference_solve_network(&network, 0);
    bool solved = root.residual <= REFERENCE_TOLERANCE;
    if (solved) {
        read_window(&network, root.unknowns, worst);
    }
    free(root.unknowns);
    reference_network_release(&network);
    return solved;
}

/* The source's limit, and where its curve or its test ends. */
static double most_of(const struct er_source *source)
{
    double most = er_given(source->flow_limit) ? source->flow_limit : ER_ENDLESS;
    if (source->kind == ER_SOURCE_TEST) {
        most = fmin(most, source->test_flow);
    } else if (source->kind != ER_SOURCE_PRESSURE) {
        most = fmin(most, source->curve[source->curve_count - 1].at);
    }
    return most;
}

static bool is_good(const struct er_field *field, const struct worst *worst, double allowed)
{
    return worst->flow <= most_of(&field->source) * (1 + allowed) &&
           worst->pipe_velocity <= field->limits.velocity * (1 + allowed) &&
           worst->end_velocity >= field->limits.flush_velocity * (1 - allowed);
}

/* Every window of `count` ends: of both sides, and of each side alone. Returns how many are bad;
 * those that the reference cannot solve are counted apart. */
static size_t try_windows(struct sweep *sweep, const struct er_field *field, size_t zone,
                          size_t count, double allowed, struct worst *worst)
{
    static const size_t sides[][2] = {{0, 1}, {0, 0}, {1, 1}};
    size_t bad = 0;
    *worst = (struct worst){0, 0, ER_ENDLESS};
    for (size_t lane = 0; lane < 3; lane++) {
        struct ends ends = list_ends(&field->zones[zone], sides[lane][0], sides[lane][1]);
        size_t open = count < ends.count ? count : ends.count;
        for (size_t from = 0; open > 0 && from + open <= ends.count; from++) {
            struct worst window = {0, 0, ER_ENDLESS};
            if (!solve_window(field, zone, &ends, from, open, &window)) {
                sweep->unsolved++;
                continue;
            }
            sweep->windows++;
            bad += !is_good(field, &window, allowed);
            worst->flow = fmax(worst->flow, window.flow);
            worst->pipe_velocity = fmax(worst->pipe_velocity, window.pipe_velocity);
            worst->end_velocity = fmin(worst->end_velocity, window.end_velocity);
        }
    }
    return bad;
}

static void note(struct sweep *sweep, uint64_t seed, double figure, double other, double least)
{
    double deviation = fabs(figure - other) / fmax(fabs(other), least);
    if (!(deviation <= sweep->largest)) {
        sweep->largest = deviation;
        sweep->largest_seed = seed;
    }
}

static void hold(struct sweep *sweep, uint64_t seed, const struct er_field *field, size_t zone,
                 size_t crew)
{
    struct er_flushing flushing;
    struct er_failure failure;
    if (er_flushing_find(field, zone, crew, &flushing, &failure) != ER_OK) {
        print_message("seed %llu: refused\n", (unsigned long long)seed);
        sweep->refused++;
        return;
    }
    struct worst worst;
    size_t unsolved = sweep->unsolved;
    size_t shown = flushing.at_once > 0 ? flushing.at_once : 1;
    size_t bad = try_windows(sweep, field, zone, shown, AGREEMENT, &worst);
    sweep->found += flushing.at_once > 0;
    sweep->none_found += flushing.at_once == 0;
    sweep->limits[flushing.limit]++;
    sweep->bad += flushing.at_once > 0 ? bad : 0;
    if (flushing.at_once > 0 && bad > 0) {
        print_message("seed %llu: %zu bad windows\n", (unsigned long long)seed, bad);
    }
    if (sweep->unsolved == unsolved) {
        note(sweep, seed, flushing.flow, worst.flow, 1e-9);
        note(sweep, seed, flushing.velocity, worst.end_velocity, LEAST_VELOCITY);
    }
    if (flushing.limit != ER_FLUSH_ALL && flushing.limit != ER_FLUSH_CREW) {
        bad = try_windows(sweep, field, zone, flushing.at_once + 1, -AGREEMENT, &worst);
        bool known = sweep->unsolved == unsolved;
        if (known && bad == 0) {
            print_message("seed %llu: one more would do\n", (unsigned long long)seed);
        }
        sweep->not_the_most += known && bad == 0;
    } else {
        assert_int_equal(flushing.at_once, flushing.limit == ER_FLUSH_CREW ? crew : flushing.ends);
    }
}

static void test_every_window(void **state)
{
    struct sweep sweep = {0};
    (void)state;
    for (uint64_t seed = 1; sweep.found + sweep.none_found < FIELDS; seed++) {
        struct er_field field;
        struct dice dice = {.counter = ~seed};
        random_field(seed, &field);
        size_t zone = dice_whole(&dice, 0, field.zone_count - 1);
        size_t ends = list_ends(&field.zones[zone], 0, 1).count;
        double most = 0;
        for (size_t g = 0; g < field.zones[zone].group_count; g++) {
            const struct er_bed_group *group = &field.zones[zone].groups[g];
            most += (double)(group->count * group->tapes) * group->length *
                    group->tape->emitter_flow / group->tape->emitter_spacing;
        }
        field.source.flow_limit =
            dice_chance(&dice, 0.5) ? most * dice_scaled(&dice, 2, 40) : ER_NONE;
        field.limits.velocity = dice_scaled(&dice, 0.5, 20);
        field.limits.flush_velocity = dice_scaled(&dice, 0.01, 0.5);
        if (ends <= MOST_ENDS) {
            hold(&sweep, seed, &field, zone, dice_whole(&dice, 1, ends + 3));
        }
        er_field_release(&field);
    }
    struct trust_check check = {.set = "reference",
                                .subject = "Tape ends open at once",
                                .name = "flow and weakest end, every window",
                                .kind = "computed",
                                .source = "equations written apart, solved by the GNU Scientific "
                                          "Library",
                                .rows = sweep.windows,
                                .largest = sweep.largest,
                                .tolerance = AGREEMENT};
    print_message("%zu zones with ends that may be open, %zu with none, %zu refused; %zu windows, "
                  "%zu bad, %zu not solved; largest deviation %.2e at seed %llu\n",
                  sweep.found, sweep.none_found, sweep.refused, sweep.windows, sweep.bad,
                  sweep.unsolved, sweep.largest, (unsigned long long)sweep.largest_seed);
    print_message("held by: all %zu, crew %zu, source %zu, pipes %zu, ends %zu\n", sweep.limits[0],
                  sweep.limits[1], sweep.limits[2], sweep.limits[3], sweep.limits[4]);
    trust_print(&check);
    assert_int_equal(sweep.bad, 0);
    assert_int_equal(sweep.not_the_most, 0);
    assert_true(sweep.largest <= AGREEMENT);
    assert_int_equal(sweep.refused, 0);
    assert_true(sweep.unsolved * 100 <= sweep.windows);
    for (size_t limit = 0; limit <= ER_FLUSH_ENDS; limit++) {
        assert_true(sweep.limits[limit] * 30 >= FIELDS);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_every_window)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
