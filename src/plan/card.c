/* Each set solved with clean and with dirty filters, and read where gauges stand. */
#include "evenrow/card.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "check/figures.h"
#include "evenrow/hydraulics.h"
#include "hydraulics/network.h"
#include "plan/flushing.h"

/* What gauges at bed `bed` read; of two sides the lower. */
static struct er_bed_readings read_bed(const struct er_network *network,
                                       const struct er_zone_network *zone, size_t bed)
{
    struct er_bed_readings readings = {bed, ER_ENDLESS, ER_ENDLESS};
    for (size_t o = 0; o < zone->outlet_count; o++) {
        const struct er_outlet *outlet = &zone->outlets[o];
        if (outlet->bed != bed) {
            continue;
        }
        const struct er_run *run = &network->pool->responses[outlet->response].run;
        double far_end = er_run_far_end_pressure(run, &outlet->state);
        readings.inlet_pressure = fmin(readings.inlet_pressure, outlet->inlet_pressure);
        readings.far_end_pressure = fmin(readings.far_end_pressure, far_end);
    }
    return readings;
}

static struct er_zone_readings read_zone(const struct er_network *network,
                                         const struct er_zone_network *zone)
{
    return (struct er_zone_readings){
        .flow = zone->flow,
        .inlet_pressure = zone->inlet_pressure,
        .first = read_bed(network, zone, 0),
        .last = read_bed(network, zone, zone->outlets[zone->outlet_count - 1].bed)};
}

/* Reads a solved network into one state of a set. */
static enum er_status read_set(struct er_card *card, const struct er_network *network,
                               struct er_card_set *set, enum er_filter_state state)
{
    size_t parts = network->field->headworks_count;
    double *after = er_arena_array(&card->arena, parts, sizeof *after);
    if (after == NULL) {
        return ER_NO_MEMORY;
    }
    for (size_t p = 0; p < parts; p++) {
        after[p] = p + 1 < parts ? network->part_inlets[p + 1] : network->headworks_pressure;
    }
    set->readings[state] = (struct er_set_readings){network->flow, network->source_pressure, after};
    for (size_t z = 0; z < network->zone_count; z++) {
        set->zones[z].readings[state] = read_zone(network, &network->zones[z]);
    }
    return ER_OK;
}

/* Solves a set with its filters in one state. */
static enum er_status solve_state(struct er_card *card, struct er_network *network,
                                  struct er_card_set *set, enum er_filter_state state,
                                  struct er_failure *failure)
{
    enum er_status status = er_network_solve(network, state == ER_FILTERS_DIRTY);
    if (status == ER_NOT_CLOSED) {
        *failure = network->failure;
    }
    return status == ER_OK ? read_set(card, network, set, state) : status;
}

static enum er_status solve_set(struct er_card *card, size_t s, struct er_failure *failure)
{
    const struct er_field *field = card->result->field;
    struct er_card_set *set = &card->sets[s];
    struct er_network network;
    enum er_status status = er_network_open(field, &field->sets[s], NULL, &network);
    if (status == ER_NOT_CLOSED) {
        *failure = network.failure;
    }
    set->gets_dirty = er_set_gets_dirty(field, &field->sets[s]);
    for (int state = 0; status == ER_OK && state < ER_FILTER_STATES; state++) {
        status = solve_state(card, &network, set, (enum er_filter_state)state, failure);
    }
    er_network_release(&network);
    return status;
}

static enum er_status make_set(struct er_card *card, size_t s, struct er_failure *failure)
{
    const struct er_field *field = card->result->field;
    size_t count = field->sets[s].zone_count;
    struct er_card_set *set = &card->sets[s];
    set->zones = er_arena_array(&card->arena, count, sizeof *set->zones);
    if (set->zones == NULL) {
        return ER_NO_MEMORY;
    }
    enum er_status status = solve_set(card, s, failure);
    for (size_t z = 0; status == ER_OK && z < count; z++) {
        set->zones[z].zone = field->sets[s].zones[z];
        status = er_flushing_find(field, set->zones[z].zone, ER_ENDS_A_PERSON * card->people,
                                  &set->zones[z].flushing, failure);
    }
    if (status == ER_NOT_CLOSED) {
        snprintf(failure->what, sizeof failure->what, "set %zu", s + 1);
    }
    return status;
}

enum er_status er_card_make(const struct er_result *result, size_t people, struct er_card *card,
                            struct er_failure *failure)
{
    *card = (struct er_card){.people = people, .result = result};
    card->sets = er_arena_array(&card->arena, result->field->set_count, sizeof *card->sets);
    enum er_status status = card->sets != NULL ? ER_OK : ER_NO_MEMORY;
    for (size_t s = 0; status == ER_OK && s < result->field->set_count; s++) {
        status = make_set(card, s, failure);
    }
    if (status != ER_OK) {
        er_card_release(card);
    }
    return status;
}

void er_card_release(struct er_card *card)
{
    er_arena_release(&card->arena);
    memset(card, 0, sizeof *card);
}
