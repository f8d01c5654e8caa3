/* From the readings to what they say. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "evenrow/divide.h"
#include "visit/danger.h"
#include "visit/fit.h"
#include "visit/places.h"

#define SHARE_OF_GAUGE 0.02 /* of what it should show: a gauge's own error; common practice */
#define LEAST_METER 1e-6    /* m3/s: a meter shows no less */
#define LEAST_SHARE 0.02    /* of a tape's nominal flow: less than that no cup tells apart */

#define SAME_SCORE 0.1 /* nearer than that, what is looked at more easily comes first */
#define SEEN 2.0       /* standard deviations that two predictions must lie apart */
#define NOTHING 1e-6   /* share of the misfit that rounding may remove */
#define RARELY 3.0     /* standard deviations */

struct making {
    struct er_visit *visit;
    struct er_predictor predictor;
    struct er_fitting fitting;
};

static double deviation_of(const struct er_visit *visit, const struct er_visit_reading *reading,
                           double planned)
{
    const struct er_measured *measured = visit->measured;
    if (reading->kind == ER_READ_METER) {
        return measured->meter_accuracy * fmax(planned, LEAST_METER);
    }
    if (reading->kind == ER_READ_EMITTER) {
        const struct er_tape *tape =
            er_bed_tape(&visit->field->zones[measured->zone], reading->bed);
        return hypot(measured->catch_accuracy, tape->cv) *
               fmax(planned, LEAST_SHARE * tape->emitter_flow);
    }
    return hypot(measured->pressure_accuracy, SHARE_OF_GAUGE * planned);
}

static bool is_pressure_in_beds(const struct er_visit_reading *reading)
{
    return reading->kind == ER_READ_BED_INLET || reading->kind == ER_READ_BED_FAR_END;
}

/* Flows, times and pressures in beds, parted. */
struct parted {
    double *flows, *times, *pressures;
    size_t emitters, pressure_count;
    bool timed; /* all of them */
};

static bool part_readings(struct er_visit *visit, struct parted *parted)
{
    const struct er_measured *measured = visit->measured;
    size_t count = measured->reading_count;
    *parted = (struct parted){.flows = er_arena_array(&visit->arena, count, sizeof(double)),
                              .times = er_arena_array(&visit->arena, count, sizeof(double)),
                              .pressures = er_arena_array(&visit->arena, count, sizeof(double)),
                              .timed = true};
    if (parted->flows == NULL || parted->times == NULL || parted->pressures == NULL) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        const struct er_visit_reading *reading = &measured->readings[i];
        if (reading->kind == ER_READ_EMITTER) {
            parted->flows[parted->emitters] = reading->value;
            parted->times[parted->emitters++] = reading->time;
            parted->timed = parted->timed && er_given(reading->time);
        } else if (is_pressure_in_beds(reading)) {
            parted->pressures[parted->pressure_count++] = reading->value;
        }
    }
    return true;
}

static enum er_status evaluate_emitters(struct er_visit *visit)
{
    struct parted parted;
    if (!part_readings(visit, &parted)) {
        return ER_NO_MEMORY;
    }
    enum er_status status = er_catch_evaluate(parted.flows, parted.timed ? parted.times : NULL,
                                              parted.emitters, &visit->emitters);
    const struct er_tape *tape = visit->field->zones[visit->measured->zone].groups[0].tape;
    double exponent = er_given(tape->exponent) ? tape->exponent : 0.0;
    visit->split = er_variance_split_make(visit->emitters.variation, parted.pressures,
                                          parted.pressure_count, exponent, tape->cv);
    return status;
}

/* The readings' deviations, by what the plan says. */
static enum er_status weigh(struct making *making)
{
    struct er_visit *visit = making->visit;
    const struct er_measured *measured = visit->measured;
    size_t count = measured->reading_count;
    double *scratch = er_arena_array(&visit->arena, 2 * count, sizeof *scratch);
    visit->deviation = er_arena_array(&visit->arena, count, sizeof *visit->deviation);
    if (scratch == NULL || visit->deviation == NULL) {
        return ER_NO_MEMORY;
    }
    making->fitting = (struct er_fitting){.predictor = &making->predictor,
                                          .readings = measured->readings,
                                          .count = count,
                                          .deviation = visit->deviation,
                                          .scratch = scratch};
    const struct er_fault none = {.kind = ER_FAULT_NONE};
    enum er_status status =
        er_predictor_run(&making->predictor, &none, measured->readings, count, scratch);
    for (size_t i = 0; status == ER_OK && i < count; i++) {
        visit->deviation[i] = deviation_of(visit, &measured->readings[i], scratch[i]);
    }
    return status;
}

/* Fits one kind and keeps it, if it has a solution. */
static enum er_status add_hypothesis(struct making *making, enum er_fault_kind kind)
{
    struct er_visit *visit = making->visit;
    size_t count = making->fitting.count;
    struct er_hypothesis *at = &visit->hypotheses[visit->hypothesis_count];
    double misfit = er_fit_fault(&making->fitting, kind, &at->fault);
    at->predicted = er_arena_array(&visit->arena, count, sizeof *at->predicted);
    at->off = er_arena_array(&visit->arena, count, sizeof *at->off);
    if (making->fitting.no_memory || at->predicted == NULL || at->off == NULL) {
        return ER_NO_MEMORY;
    }
    at->first_bed = making->fitting.first_bed;
    at->last_bed = making->fitting.last_bed;
    if (!isfinite(misfit)) {
        return ER_OK;
    }
    enum er_status status = er_predictor_run(&making->predictor, &at->fault,
                                             making->fitting.readings, count, at->predicted);
    if (status != ER_OK) {
        return status;
    }
    at->misfit = er_fit_misfit(&making->fitting, &at->fault, at->predicted, at->off, &at->plugged);
    at->fitted = er_fit_figures(kind);
    at->score = at->misfit + 2.0 * (double)at->fitted;
    visit->hypothesis_count++;
    return ER_OK;
}

static enum er_status add_hypotheses(struct making *making)
{
    struct er_visit *visit = making->visit;
    visit->hypotheses = er_arena_array(&visit->arena, ER_FAULT_KINDS, sizeof *visit->hypotheses);
    if (visit->hypotheses == NULL) {
        return ER_NO_MEMORY;
    }
    enum er_status status = ER_OK;
    for (int kind = 0; status == ER_OK && kind < ER_FAULT_KINDS; kind++) {
        if (er_fault_possible(visit->field, visit->measured->zone, (enum er_fault_kind)kind)) {
            status = add_hypothesis(making, (enum er_fault_kind)kind);
        }
    }
    return status == ER_OK && visit->hypothesis_count == 0 ? ER_NOT_CLOSED : status;
}

static int by_score(const void *a, const void *b)
{
    const struct er_hypothesis *first = a;
    const struct er_hypothesis *second = b;
    double apart = floor(first->score / SAME_SCORE) - floor(second->score / SAME_SCORE);
    if (fabs(apart) > 0.0) {
        return apart < 0.0 ? -1 : 1;
    }
    return (int)first->fault.kind - (int)second->fault.kind;
}

static double square_or_none(double value) { return er_given(value) ? value * value : 0.0; }

/* The readings that speak loudest for and against a hypothesis. */
static void weigh_evidence(const struct er_visit *visit, const struct er_hypothesis *plan,
                           struct er_hypothesis *at)
{
    double most_gained = ER_TOLD_APART;
    double farthest = ER_OFF * ER_OFF;
    at->best_reading = SIZE_MAX;
    at->worst_reading = SIZE_MAX;
    for (size_t i = 0; i < visit->measured->reading_count; i++) {
        double left = square_or_none(at->off[i]);
        double gained = square_or_none(plan->off[i]) - left;
        if (gained > most_gained) {
            most_gained = gained;
            at->best_reading = i;
        }
        if (left > farthest) {
            farthest = left;
            at->worst_reading = i;
        }
    }
    double removed = plan->misfit > 0.0 ? 1.0 - at->misfit / plan->misfit : 0.0;
    at->removed = removed > NOTHING ? removed : 0.0;
}

static void rank(struct er_visit *visit)
{
    qsort(visit->hypotheses, visit->hypothesis_count, sizeof *visit->hypotheses, by_score);
    for (size_t h = 0; h < visit->hypothesis_count; h++) {
        if (visit->hypotheses[h].fault.kind == ER_FAULT_NONE) {
            visit->plan_place = h;
        }
    }
    const struct er_hypothesis *plan = &visit->hypotheses[visit->plan_place];
    double best = visit->hypotheses[0].score;
    /* A sum of n squares is n on average, and rarely over this (chi-square: its variance is 2 n).
     */
    double count = (double)visit->measured->reading_count;
    visit->explained = visit->hypotheses[0].misfit < count + RARELY * sqrt(2.0 * count);
    visit->plan_is_right = plan->score < best + ER_TOLD_APART;
    for (size_t h = 0; h < visit->hypothesis_count; h++) {
        struct er_hypothesis *at = &visit->hypotheses[h];
        weigh_evidence(visit, plan, at);
        at->as_good = at->score < best + ER_TOLD_APART;
        visit->alike += at->as_good;
    }
}

static bool was_read(const struct er_measured *measured, const struct er_visit_reading *reading)
{
    for (size_t i = 0; i < measured->reading_count; i++) {
        if (er_same_reading(&measured->readings[i], reading)) {
            return true;
        }
    }
    return false;
}

#define CANDIDATES 24

/* Places that could still be read. */
static size_t list_candidates(const struct er_visit *visit, struct er_visit_reading *candidates)
{
    const struct er_zone *zone = &visit->field->zones[visit->measured->zone];
    size_t beds = er_zone_beds(zone);
    const size_t chosen[] = {0, beds / 2, beds - 1, visit->hypotheses[0].fault.bed,
                             visit->hypotheses[1].fault.bed};
    struct er_visit_reading all[CANDIDATES] = {{.kind = ER_READ_AFTER_PARTS},
                                               {.kind = ER_READ_SOURCE},
                                               {.kind = ER_READ_METER},
                                               {.kind = ER_READ_HEADER},
                                               {.kind = ER_READ_AFTER_VALVE}};
    size_t total = zone->valve == NULL ? 4 : 5;
    for (size_t c = 0; c < sizeof chosen / sizeof chosen[0]; c++) {
        struct er_run run;
        if (!er_bed_run(zone, chosen[c], false, &run)) {
            continue;
        }
        all[total++] = (struct er_visit_reading){.kind = ER_READ_BED_INLET, .bed = chosen[c]};
        all[total++] = (struct er_visit_reading){.kind = ER_READ_BED_FAR_END, .bed = chosen[c]};
        all[total++] = (struct er_visit_reading){
            .kind = ER_READ_EMITTER, .bed = chosen[c], .at = er_emitter_at_share(&run, 0.0)};
    }
    size_t count = 0;
    for (size_t i = 0; i < total; i++) {
        all[i].value = ER_NONE;
        all[i].time = ER_NONE;
        if (!was_read(visit->measured, &all[i])) {
            candidates[count++] = all[i];
        }
    }
    return count;
}

/* The hypothesis, other than the plan, that is likeliest after the first. */
static size_t next_alike(const struct er_visit *visit)
{
    for (size_t h = 1; h < visit->hypothesis_count; h++) {
        if (h != visit->plan_place && visit->hypotheses[h].as_good) {
            return h;
        }
    }
    return 0;
}

/* Which reading that was not taken would tell the likeliest from the next? */
static enum er_status find_telling(struct making *making)
{
    struct er_visit *visit = making->visit;
    size_t other = visit->plan_is_right ? 0 : next_alike(visit);
    if (other == 0) {
        return ER_OK;
    }
    struct er_visit_reading candidates[CANDIDATES];
    double predicted[2][CANDIDATES];
    size_t count = list_candidates(visit, candidates);
    const size_t pair[2] = {0, other};
    for (size_t i = 0; i < 2; i++) {
        enum er_status status = er_predictor_run(
            &making->predictor, &visit->hypotheses[pair[i]].fault, candidates, count, predicted[i]);
        if (status != ER_OK) {
            return status;
        }
    }
    double widest = SEEN;
    for (size_t c = 0; c < count; c++) {
        double apart = fabs(predicted[0][c] - predicted[1][c]) /
                       deviation_of(visit, &candidates[c], predicted[0][c]);
        if (apart > widest) {
            widest = apart;
            visit->telling = (struct er_telling){.found = true,
                                                 .reading = candidates[c],
                                                 .first = predicted[0][c],
                                                 .second = predicted[1][c]};
        }
    }
    visit->telling.other = other;
    return ER_OK;
}

static enum er_status make(struct making *making)
{
    struct er_visit *visit = making->visit;
    enum er_status status =
        er_predictor_open(visit->field, visit->measured->zone, &making->predictor);
    if (status != ER_OK) {
        return status;
    }
    visit->set = making->predictor.site.set;
    visit->planned_flow = making->predictor.site.set_flow;
    visit->planned_source = making->predictor.source_pressure;
    status = evaluate_emitters(visit);
    if (status == ER_OK) {
        status = weigh(making);
    }
    if (status == ER_OK) {
        status = add_hypotheses(making);
    }
    if (status == ER_OK) {
        rank(visit);
        visit->danger = er_danger_find(&making->predictor.site, visit->measured,
                                       visit->hypotheses[visit->plan_place].predicted);
        status = find_telling(making);
    }
    return status;
}

enum er_status er_visit_make(const struct er_field *field, const struct er_measured *measured,
                             struct er_visit *visit)
{
    *visit = (struct er_visit){.field = field, .measured = measured};
    struct making making = {.visit = visit};
    enum er_status status = make(&making);
    er_predictor_release(&making.predictor);
    return status;
}

bool er_visit_uneven(const struct er_visit *visit)
{
    return visit->emitters.emission < visit->field->limits.uniformity;
}

void er_visit_release(struct er_visit *visit)
{
    er_arena_release(&visit->arena);
    *visit = (struct er_visit){.hypothesis_count = 0};
}
