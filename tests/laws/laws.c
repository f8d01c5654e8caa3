/* Draws the fields, solves both sides of a law, and tells the first times that it breaks. */
#include "laws.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "../trust/trust.h"
#include "random_field.h"
#include "random_needs.h"

static const size_t FIELDS_A_REFUSAL = 500;
static const size_t DRAWS_A_FIELD = 20; /* most that may not be concerned by a law */
static const size_t BROKEN_TOLD = 5;    /* the first ones are printed with their figures */
static const double EDGE_OF_DRY = 1e-3; /* m */

/* Returns whether the law is broken for one of the first times, to be told. */
static bool note(struct law *law, double deviation)
{
    if (isnan(deviation)) {
        deviation = ER_ENDLESS;
    }
    law->figures++;
    if (deviation > law->largest) {
        law->largest = deviation;
        law->largest_seed = law->seed;
    }
    return deviation > law->allowed && law->broken++ < BROKEN_TOLD;
}

static void note_figures(struct law *law, const char *what, double figure, double other,
                         double deviation)
{
    if (note(law, deviation)) {
        print_message("seed %llu: %s: %.15g and %.15g\n", (unsigned long long)law->seed, what,
                      figure, other);
    }
}

void law_same(struct law *law, const char *what, double figure, double other, double least)
{
    double scale = fmax(fmax(fabs(figure), fabs(other)), least);
    note_figures(law, what, figure, other, fabs(figure - other) / scale);
}

void law_same_or_none(struct law *law, const char *what, double figure, double other, double least)
{
    if (!isnan(figure) || !isnan(other)) {
        law_same(law, what, figure, other, least);
    }
}

void law_not_lower(struct law *law, const char *what, double after, double before, double least)
{
    double fall = (before - after) / fmax(fabs(before), least);
    law->compared++;
    law->risen += fall < -law->allowed;
    note_figures(law, what, after, before, fall < 0 ? 0 : fall);
}

void law_true(struct law *law, const char *what, bool holds)
{
    if (note(law, holds ? 0 : ER_ENDLESS)) {
        print_message("seed %llu: not the same: %s\n", (unsigned long long)law->seed, what);
    }
}

static void draw_and_hold(struct law *law, law_on_field *hold)
{
    struct er_field field;
    struct dice dice = {.counter = ~law->seed};
    random_field(law->seed, &field);
    if (law->needs) {
        random_needs(&dice, &field);
    }
    enum law_outcome outcome = hold(law, &field, &dice);
    law->fields += outcome == LAW_HELD_ON;
    law->refused += outcome == LAW_REFUSED;
    law->not_concerned += outcome == LAW_NOT_CONCERNED;
    er_field_release(&field);
}

static void print_law(const struct law *law)
{
    struct trust_check check = {.set = "laws",
                                .subject = "Laws that hold for any field",
                                .name = law->name,
                                .kind = "law",
                                .source = "fields drawn at random, changed and solved again",
                                .rows = law->figures,
                                .largest = law->largest,
                                .tolerance = law->allowed};
    print_message("%zu fields, %zu figures, %zu risen, largest deviation %.2e at seed %llu; "
                  "%zu fields refused, %zu zones at the edge of dry\n",
                  law->fields, law->figures, law->risen, law->largest,
                  (unsigned long long)law->largest_seed, law->refused, law->at_edge);
    trust_print(&check);
}

void law_sweep(struct law *law, law_on_field *hold)
{
    law->seed = dice_seed(law->first_seed);
    for (size_t draw = 0; draw < law->wanted * DRAWS_A_FIELD; draw++, law->seed++) {
        if (law->fields + law->refused >= law->wanted) {
            break;
        }
        draw_and_hold(law, hold);
    }
    print_law(law);
    assert_int_equal(law->broken, 0);
    assert_int_equal(law->fields + law->refused, law->wanted);
    /* Fields drawn by another seed may have the rare one that does not solve. */
    size_t spare = getenv("EVENROW_SEED") != NULL ? 1 : 0;
    assert_true(law->refused <= spare + law->wanted / FIELDS_A_REFUSAL);
    assert_true(law->figures >= law->fields);
    assert_true(law->risen * 4 >= law->compared); /* else the changes were none */
    assert_true(law->at_edge * 20 <= law->fields);
}

/* When a zone's figure must be a number. */
enum presence {
    ALWAYS,
    WITH_FLOW, /* when the zone gets water */
    LOWEST,    /* the same; it hangs on the lowest emitter */
    WITH_NEED  /* when there is a need for water, and it can be met */
};

#define OF(member) offsetof(struct er_zone_result, member)

static const struct {
    const char *name;
    size_t offset;
    double least;
    enum presence presence;
} ZONE_FIGURES[] = {
    {"tape length", OF(tape_length), 0, ALWAYS},
    {"emitters", OF(emitters), 0, ALWAYS},
    {"area", OF(area), 0, ALWAYS},
    {"bed area", OF(bed_area), 0, ALWAYS},
    {"bed length", OF(bed_length), 0, ALWAYS},
    {"zone flow", OF(flow), LEAST_FLOW, ALWAYS},
    {"join pressure", OF(join_pressure), LEAST_PRESSURE, ALWAYS},
    {"inlet pressure", OF(inlet_pressure), LEAST_PRESSURE, ALWAYS},
    {"tape inlet, lowest", OF(tape_inlet_pressure.min), LEAST_PRESSURE, ALWAYS},
    {"tape inlet, highest", OF(tape_inlet_pressure.max), LEAST_PRESSURE, ALWAYS},
    {"far end pressure", OF(far_end_pressure), LEAST_PRESSURE, ALWAYS},
    {"emitter pressure, lowest", OF(emitter_pressure.min), LEAST_PRESSURE, ALWAYS},
    {"emitter pressure, highest", OF(emitter_pressure.max), LEAST_PRESSURE, ALWAYS},
    {"emitter flow, lowest", OF(emitter_flow.min), LEAST_FLOW, LOWEST},
    {"emitter flow, highest", OF(emitter_flow.max), LEAST_FLOW, ALWAYS},
    {"emitter flow, mean", OF(mean_emitter_flow), LEAST_FLOW, ALWAYS},
    {"emission uniformity", OF(emission_uniformity), 1, LOWEST},
    {"flow variation", OF(flow_variation), 1, LOWEST},
    {"Christiansen", OF(christiansen), 1, LOWEST},
    {"low quarter", OF(low_quarter), 1, LOWEST},
    {"statistical", OF(statistical_uniformity), 1, LOWEST},
    {"header velocity", OF(header_velocity), LEAST_VELOCITY, ALWAYS},
    {"flush velocity", OF(flush_velocity), LEAST_VELOCITY, WITH_FLOW},
    {"time per depth, spacing", OF(time_per_depth_spacing), 0, WITH_FLOW},
    {"time per depth, bed", OF(time_per_depth_bed), 0, WITH_FLOW},
    {"gross depth", OF(gross_depth), 0, WITH_NEED},
    {"gross per length", OF(gross_per_length), 0, WITH_NEED},
    {"run time", OF(run_time), 0, WITH_NEED},
    {"efficiency", OF(efficiency), 1, WITH_NEED},
    {"holding", OF(holding), 0, WITH_NEED},
};

static double figure_at(const struct er_zone_result *zone, size_t offset)
{
    double figure;
    memcpy(&figure, (const char *)zone + offset, sizeof(figure));
    return figure;
}

static void same_by_need(struct law *law, const char *what, double one, double other,
                         double efficiency)
{
    law_same_or_none(law, what, one, other, efficiency > 0 ? fabs(one) / efficiency : 1);
}

void law_same_zone(struct law *law, const struct er_zone_result *a, const struct er_zone_result *b)
{
    bool edge = fabs(a->emitter_pressure.min) < EDGE_OF_DRY;
    law->at_edge += edge;
    for (size_t f = 0; f < sizeof(ZONE_FIGURES) / sizeof(ZONE_FIGURES[0]); f++) {
        double one = figure_at(a, ZONE_FIGURES[f].offset);
        double other = figure_at(b, ZONE_FIGURES[f].offset);
        enum presence presence = ZONE_FIGURES[f].presence;
        if (presence == LOWEST && edge) {
            continue;
        }
        if (presence == WITH_NEED) {
            same_by_need(law, ZONE_FIGURES[f].name, one, other, a->efficiency);
        } else if (presence == ALWAYS || a->flow > 0) {
            law_same(law, ZONE_FIGURES[f].name, one, other, ZONE_FIGURES[f].least);
        } else {
            law_same_or_none(law, ZONE_FIGURES[f].name, one, other, ZONE_FIGURES[f].least);
        }
    }
    law_true(law, "rows of tape", a->beds == b->beds);
    law_true(law, "pulses", a->pulses == b->pulses);
    law_true(law, "dry rows", edge || a->dry_rows == b->dry_rows);
}

void law_same_section(struct law *law, const struct er_section_result *a,
                      const struct er_section_result *b)
{
    law_same(law, "section flow", a->flow, b->flow, LEAST_FLOW);
    law_same(law, "section velocity", a->velocity, b->velocity, LEAST_VELOCITY);
    law_same(law, "section end pressure", a->end_pressure, b->end_pressure, LEAST_PRESSURE);
    law_true(law, "busiest set", a->set == b->set);
}

/* The least efficiency of any zone; 1 where no water is needed. */
static double least_efficiency(const struct er_result *result)
{
    double least = 1;
    for (size_t z = 0; z < result->field->zone_count; z++) {
        least = fmin(least, result->zones[z].efficiency); /* passes over no number */
    }
    return least;
}

void law_same_sets(struct law *law, const struct law_pair *pair)
{
    const struct er_day_result *day = &pair->a.day, *other_day = &pair->b.day;
    double efficiency = least_efficiency(&pair->a);
    for (size_t s = 0; s < pair->a.field->set_count; s++) {
        const struct er_set_result *a = &pair->a.sets[s], *b = &pair->b.sets[s];
        law_same(law, "set flow", a->flow, b->flow, LEAST_FLOW);
        law_same(law, "source pressure", a->source_pressure, b->source_pressure, LEAST_PRESSURE);
        law_same(law, "after headworks", a->after_headworks, b->after_headworks, LEAST_PRESSURE);
        same_by_need(law, "set run time", a->run_time, b->run_time, efficiency);
    }
    same_by_need(law, "hours needed", day->hours_needed, other_day->hours_needed, efficiency);
    same_by_need(law, "volume of a day", day->volume, other_day->volume, efficiency);
    same_by_need(law, "days of supply", day->days_of_supply, other_day->days_of_supply, efficiency);
    /* Figures that are asked about in reading make a caution of what holds as it was drawn. */
    bool asked = (pair->a.field->odd_count > 0) != (pair->b.field->odd_count > 0);
    law_true(law, "verdict",
             pair->a.verdict == pair->b.verdict ||
                 (asked && pair->a.verdict != ER_FAILS && pair->b.verdict != ER_FAILS));
}

struct er_field law_variant(const struct er_field *field)
{
    struct er_field variant = *field;
    memset(&variant.arena, 0, sizeof(variant.arena));
    return variant;
}

void *law_own(struct er_field *variant, const void *array, size_t count, size_t size)
{
    void *own = er_arena_array(&variant->arena, count, size);
    if (!own) {
        fputs("no memory for a variant of a field\n", stderr);
        abort();
    }
    if (array && count > 0) {
        memcpy(own, array, count * size);
    }
    return own;
}

struct er_zone *law_own_zones(struct er_field *variant)
{
    struct er_zone *zones =
        law_own(variant, variant->zones, variant->zone_count, sizeof(struct er_zone));
    variant->zones = zones;
    return zones;
}

struct er_section *law_own_mainline(struct er_field *variant)
{
    struct er_section *sections =
        law_own(variant, variant->mainline, variant->section_count, sizeof(struct er_section));
    variant->mainline = sections;
    return sections;
}

struct er_bed_group *law_own_groups(struct er_field *variant, struct er_zone *zone)
{
    struct er_bed_group *groups =
        law_own(variant, zone->groups, zone->group_count, sizeof(struct er_bed_group));
    zone->groups = groups;
    return groups;
}

struct er_header_piece *law_own_pieces(struct er_field *variant, struct er_zone *zone)
{
    struct er_header_piece *pieces = law_own(variant, zone->header.pieces, zone->header.piece_count,
                                             sizeof(struct er_header_piece));
    zone->header.pieces = pieces;
    return pieces;
}

struct er_field law_zone_alone(const struct er_field *field, size_t zone)
{
    static const size_t FIRST = 0;
    static const struct er_set ALONE = {1, &FIRST};
    struct er_field variant = law_variant(field);
    variant.zones = law_own(&variant, &field->zones[zone], 1, sizeof(struct er_zone));
    variant.zone_count = 1;
    variant.sets = &ALONE;
    variant.set_count = 1;
    return variant;
}

struct er_field law_one_tape(const struct er_field *field, struct dice *dice)
{
    size_t place = dice_whole(dice, 0, field->zone_count - 1);
    struct er_field variant = law_zone_alone(field, place);
    struct er_zone *zone = law_own_zones(&variant);
    const struct er_bed_group *group = &zone->groups[dice_whole(dice, 0, zone->group_count - 1)];
    struct er_bed_group *bed = law_own(&variant, group, 1, sizeof(*bed));
    struct er_tape *tape = law_own(&variant, group->tape, 1, sizeof(*tape));
    tape->connector = NULL;
    bed->tape = tape;
    bed->count = 1;
    bed->tapes = 1;
    bed->both_sides = false;
    bed->last_length = bed->length;
    *zone = (struct er_zone){.name = zone->name,
                             .on = ER_HEADWORKS,
                             .header = zone->header,
                             .group_count = 1,
                             .groups = bed,
                             .water = zone->water};
    zone->header.lead = 0;
    zone->header.feed = ER_FEED_FIRST;
    variant.section_count = 0;
    variant.headworks_count = 0;
    variant.source = (struct er_source){.kind = ER_SOURCE_PRESSURE,
                                        .pressure = dice_scaled(dice, 1, 30),
                                        .flow_limit = ER_NONE,
                                        .storage = ER_NONE,
                                        .refill = ER_NONE};
    return variant;
}

static void tell_refusal(const struct law *law, enum er_status status,
                         const struct er_failure *failure)
{
    assert_int_equal(status, ER_NOT_CLOSED);
    print_message("seed %llu: %s: %s, residual %g\n", (unsigned long long)law->seed,
                  er_status_text(status), failure->what, failure->residual);
}

bool law_check_pair(const struct law *law, const struct er_field *a, const struct er_field *b,
                    struct law_pair *pair)
{
    struct er_failure failure;
    enum er_status status = er_check(a, ER_METRIC, &pair->a, &failure);
    if (status == ER_OK) {
        status = er_check(b, ER_METRIC, &pair->b, &failure);
        if (status != ER_OK) {
            er_result_release(&pair->a);
        }
    }
    if (status != ER_OK) {
        tell_refusal(law, status, &failure);
    }
    return status == ER_OK;
}

void law_pair_release(struct law_pair *pair)
{
    er_result_release(&pair->a);
    er_result_release(&pair->b);
}

bool law_solve_set(const struct law *law, const struct er_field *field, size_t set,
                   struct er_network *network)
{
    enum er_status status = er_network_open(field, &field->sets[set], NULL, network);
    if (status == ER_OK) {
        status = er_network_solve(network, false);
    }
    if (status != ER_OK) {
        tell_refusal(law, status, &network->failure);
    }
    return status == ER_OK;
}

void law_visit_tape(const struct er_network *network, const struct er_outlet *outlet,
                    er_emitter_visit *visit, void *context)
{
    const struct er_run *run = &network->pool->responses[outlet->response].run;
    er_run_visit(run, &outlet->state, visit, context);
}

/* Where one run's emitters go; they are visited from the last to the first. */
struct run_emitters {
    struct law_emitter *first;
    struct law_emitter like;
};

static void take_emitter(void *context, size_t emitter, double pressure, double flow)
{
    struct run_emitters *run = context;
    struct law_emitter *at = &run->first[emitter];
    *at = run->like;
    at->place = emitter;
    at->pressure = pressure;
    at->flow = flow;
}

static struct law_emitter *more_room(struct law_emitters *emitters, size_t more)
{
    size_t needed = emitters->count + more;
    if (needed > emitters->room) {
        emitters->room = 2 * needed;
        emitters->list = realloc(emitters->list, emitters->room * sizeof(*emitters->list));
        assert_non_null(emitters->list);
    }
    struct law_emitter *first = &emitters->list[emitters->count];
    emitters->count = needed;
    return first;
}

static void list_zone(const struct er_network *network, size_t zone, size_t place,
                      struct law_emitters *emitters)
{
    for (size_t o = 0; o < network->zones[zone].outlet_count; o++) {
        const struct er_outlet *outlet = &network->zones[zone].outlets[o];
        size_t count = network->pool->responses[outlet->response].run.emitters;
        struct run_emitters taken = {
            .first = more_room(emitters, count),
            .like = {.zone = place, .bed = outlet->bed, .tape = outlet->group->tape}};
        law_visit_tape(network, outlet, take_emitter, &taken);
    }
}

bool law_list_emitters(const struct law *law, const struct er_field *field,
                       struct law_emitters *emitters)
{
    bool solved = true;
    *emitters = (struct law_emitters){0};
    for (size_t set = 0; solved && set < field->set_count; set++) {
        struct er_network network;
        solved = law_solve_set(law, field, set, &network);
        for (size_t zone = 0; solved && zone < network.zone_count; zone++) {
            list_zone(&network, zone, field->sets[set].zones[zone], emitters);
        }
        er_network_release(&network);
    }
    if (!solved) {
        free(emitters->list);
    }
    return solved;
}

bool law_list_pair(const struct law *law, const struct er_field *before,
                   const struct er_field *after, struct law_emitters_pair *pair)
{
    if (!law_list_emitters(law, before, &pair->before)) {
        return false;
    }
    if (!law_list_emitters(law, after, &pair->after)) {
        free(pair->before.list);
        return false;
    }
    assert_int_equal(pair->before.count, pair->after.count);
    return true;
}

void law_emitters_pair_release(struct law_emitters_pair *pair)
{
    free(pair->before.list);
    free(pair->after.list);
}

void law_emitter_not_lower(struct law *law, const struct law_emitters_pair *pair, size_t i)
{
    const struct law_emitter *before = &pair->before.list[i], *after = &pair->after.list[i];
    law_not_lower(law, "an emitter's pressure", after->pressure, before->pressure, LEAST_PRESSURE);
    if (before->pressure > EDGE_OF_DRY) {
        law_not_lower(law, "an emitter's flow", after->flow, before->flow, LEAST_FLOW);
    }
}
