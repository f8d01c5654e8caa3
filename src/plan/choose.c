/* Judging every design, each as its own task; then the ranking. */
#include "evenrow/choose.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "check/screen.h"
#include "evenrow/bill.h"
#include "evenrow/materials.h"
#include "evenrow/units.h"
#include "plan/choose.h"
#include "plan/crew.h"

static struct er_design design_at(const struct er_choose_ask *ask, size_t place)
{
    struct er_design design = {0};
    design.feed = place % ask->feed_count;
    place /= ask->feed_count;
    design.pipe = place % ask->pipe_count;
    place /= ask->pipe_count;
    design.division = place % ask->division_count;
    design.tape = place / ask->division_count; /* outermost: its rows are learnt once */
    return design;
}

static size_t design_count(const struct er_choose_ask *ask)
{
    return ask->tape_count * ask->division_count * ask->pipe_count * ask->feed_count;
}

/* Takes what a design is ranked by from a check or a screening. */
static void take_figures(struct er_judged_design *judged, const struct er_result *result)
{
    const struct er_field *field = result->field;
    struct er_design *design = &judged->design;
    design->verdict = result->verdict;
    design->hours_needed = result->day.hours_needed;
    design->uniformity = ER_ENDLESS;
    design->lowest_pressure = ER_ENDLESS;
    design->largest_flow = 0.0;
    for (size_t z = 0; z < field->zone_count; z++) {
        const struct er_zone_result *zone = &result->zones[z];
        double uniformity = er_given(zone->emission_uniformity) ? zone->emission_uniformity : 0.0;
        design->uniformity = fmin(design->uniformity, uniformity);
        design->lowest_pressure = fmin(design->lowest_pressure, zone->emitter_pressure.min);
    }
    for (size_t s = 0; s < field->set_count; s++) {
        design->largest_flow = fmax(design->largest_flow, result->sets[s].flow);
    }
    design->fails = design->cautions = 0;
    for (size_t f = 0; f < result->finding_count; f++) {
        enum er_finding_code code = result->findings[f].code;
        bool fail = er_finding_kind(code)->level == ER_FAIL;
        *(fail ? &design->fails : &design->cautions) |= 1UL << code;
    }
}

static void take_cost(struct er_judged_design *judged, const struct er_field *field)
{
    judged->design.cost = er_field_cost(field, &judged->placeholders);
    judged->design.bought = ER_NONE;
}

enum er_status er_design_buy(const struct er_choose_ask *ask, const struct er_result *result,
                             struct er_judged_design *judged)
{
    const struct er_materials_request request = {ask->waste, ask->list};
    struct er_materials materials;
    if (result->field->prices == NULL) {
        return ER_OK;
    }
    enum er_status status = er_materials_count(result, &request, &materials);
    if (status == ER_OK) {
        judged->design.bought = materials.cost;
        judged->placeholders =
            judged->placeholders || materials.price_placeholders || materials.unit_placeholders;
        er_materials_release(&materials);
    }
    return status;
}

/* The last word on a field: every emitter. */
static enum er_status check_field(const struct er_field *field, struct er_judged_design *judged)
{
    struct er_result result;
    struct er_failure failure;
    enum er_status status = er_check(field, field->system, &result, &failure);
    if (status == ER_NOT_CLOSED) {
        judged->state = ER_DESIGN_UNSOLVED;
        return ER_OK;
    }
    if (status == ER_OK) {
        take_figures(judged, &result);
        er_result_release(&result);
    }
    return status;
}

static enum er_status screen_field(struct er_screen *screen, const struct er_field *field,
                                   struct er_judged_design *judged)
{
    struct er_result result;
    bool close_call = false;
    enum er_status status = er_screen_check(screen, field, field->system, &result, &close_call);
    if (status == ER_OK) {
        take_figures(judged, &result);
        er_result_release(&result);
    }
    return status == ER_NOT_CLOSED || (status == ER_OK && close_call) ? check_field(field, judged)
                                                                      : status;
}

enum er_status er_judge_design(struct er_screen *screen, const struct er_field *field,
                               struct er_judged_design *judged)
{
    judged->state = ER_DESIGN_JUDGED;
    take_cost(judged, field);
    return screen ? screen_field(screen, field, judged) : check_field(field, judged);
}

struct judging {
    struct er_parting parting;
    struct er_judged_design *designs;
};

static struct er_piece *pieces_for(const struct er_parting *parting, size_t tape, size_t division)
{
    size_t place = tape * parting->ask->division_count + division;
    return &parting->pieces[place * parting->room];
}

const struct er_piece *er_parting_of(const struct er_parting *parting,
                                     const struct er_design *design)
{
    return pieces_for(parting, design->tape, design->division);
}

static enum er_status part_beds(struct er_parting *parting)
{
    const struct er_choose_ask *ask = parting->ask;
    enum er_status status = ER_OK;
    for (size_t d = 0; d < ask->division_count; d++) {
        parting->room = ask->divisions[d] > parting->room ? ask->divisions[d] : parting->room;
    }
    parting->pieces =
        calloc(ask->tape_count * ask->division_count * parting->room + 1, sizeof *parting->pieces);
    if (!parting->pieces) {
        return ER_NO_MEMORY;
    }
    for (size_t t = 0; status == ER_OK && t < ask->tape_count; t++) {
        for (size_t d = 0; status == ER_OK && d < ask->division_count; d++) {
            status = er_design_part(ask, t, d, pieces_for(parting, t, d));
        }
    }
    return status;
}

static void *begin_thread(void *shared)
{
    (void)shared;
    struct er_screen *screen = calloc(1, sizeof *screen);
    if (screen) {
        screen->all_cautions = true;
    }
    return screen;
}

static void end_thread(void *own)
{
    er_screen_release(own);
    free(own);
}

/* Whether the tape has an emitter on every bed. Lengths run evenly from a group's first bed to
 * its last, so those two say all. */
static bool fits(const struct er_field *field, const struct er_tape *tape)
{
    for (size_t z = 0; z < field->zone_count; z++) {
        for (size_t g = 0; g < field->zones[z].group_count; g++) {
            const struct er_bed_group *group = &field->zones[z].groups[g];
            double first = er_bed_length(group, 0, false);
            double last = er_bed_length(group, group->count - 1, false);
            double shortest = fmin(first, last);
            if (group->both_sides) {
                shortest = fmin(shortest, fmin(er_bed_length(group, 0, true),
                                               er_bed_length(group, group->count - 1, true)));
            }
            if (er_tape_emitters(tape, shortest) == 0) {
                return false;
            }
        }
    }
    return true;
}

static enum er_status judge_one(void *shared, void *own, size_t task)
{
    const struct judging *judging = shared;
    struct er_judged_design *judged = &judging->designs[task];
    struct er_designed designed;
    const struct er_choose_ask *ask = judging->parting.ask;
    judged->design = design_at(ask, task);
    if (!fits(ask->field, ask->tapes[judged->design.tape])) {
        judged->state = ER_DESIGN_UNFIT;
        return ER_OK;
    }
    enum er_status status = er_design_lay_out(
        ask, &judged->design, er_parting_of(&judging->parting, &judged->design), &designed);
    if (status == ER_OK) {
        status = er_judge_design(own, &designed.field, judged);
    }
    er_designed_release(&designed);
    return status;
}

static enum er_status judge_all(struct judging *judging, struct er_choice *choice)
{
    const struct er_choose_ask *ask = judging->parting.ask;
    /* All designs of a tape go to one thread, so that its rows are learnt but once; where there
     * are too few tapes for that, some are learnt by several. */
    size_t share = choice->total / (2 * ask->threads) + 1;
    size_t one_tape = choice->total / ask->tape_count;
    const struct er_crew crew = {.threads = ask->threads,
                                 .tasks = choice->total,
                                 .batch = one_tape < share ? one_tape : share,
                                 .shared = judging,
                                 .begin = begin_thread,
                                 .end = end_thread,
                                 .work = judge_one,
                                 .watch = ask->watch,
                                 .watch_context = ask->watch_context};
    enum er_status status = er_crew_run(&crew, &choice->judged);
    choice->stopped = choice->judged < choice->total;
    return status;
}

static void count_designs(const struct er_judged_design *designs, struct er_choice *choice)
{
    for (size_t d = 0; d < choice->total; d++) {
        const struct er_judged_design *judged = &designs[d];
        choice->unsolved += judged->state == ER_DESIGN_UNSOLVED;
        choice->unfit += judged->state == ER_DESIGN_UNFIT;
        if (judged->state != ER_DESIGN_JUDGED) {
            continue;
        }
        choice->held += judged->design.fails == 0;
        choice->placeholders = choice->placeholders || judged->placeholders;
        for (size_t code = 0; code < ER_FINDING_COUNT; code++) {
            choice->failed_by[code] += (judged->design.fails >> code) & 1;
        }
    }
}

/* How the field stands as it is. */
static enum er_status judge_own(const struct er_choose_ask *ask, struct er_choice *choice,
                                struct er_failure *failure)
{
    struct er_result result;
    struct er_judged_design own = {0};
    enum er_status status = er_check(ask->field, ask->field->system, &result, failure);
    if (status != ER_OK) {
        return status;
    }
    take_figures(&own, &result);
    take_cost(&own, ask->field);
    status = er_design_buy(ask, &result, &own);
    choice->own = own.design;
    choice->placeholders = own.placeholders;
    er_result_release(&result);
    return status;
}

/* The answer to an ask whose field has prices, if there are any. */
static enum er_status choose(const struct er_choose_ask *ask, struct er_choice *choice,
                             struct er_failure *failure)
{
    struct judging judging = {.parting = {.ask = ask},
                              .designs = calloc(choice->total + 1, sizeof *judging.designs)};
    enum er_status status = judging.designs ? ER_OK : ER_NO_MEMORY;
    if (status == ER_OK) {
        status = judge_own(ask, choice, failure);
    }
    if (status == ER_OK) {
        status = part_beds(&judging.parting);
    }
    if (status == ER_OK) {
        status = judge_all(&judging, choice);
    }
    if (status == ER_OK) {
        count_designs(judging.designs, choice);
        status = er_rank_designs(&judging.parting, judging.designs, choice);
    }
    free(judging.parting.pieces);
    free(judging.designs);
    return status;
}

enum er_status er_choose(const struct er_choose_ask *ask, struct er_choice *choice,
                         struct er_failure *failure)
{
    const struct er_prices prices = er_prices_over(ask->field->prices, ask->list);
    struct er_field field = *ask->field;
    struct er_choose_ask priced = *ask;
    memset(choice, 0, sizeof *choice);
    choice->total = design_count(ask);
    if (ask->list != NULL) {
        field.prices = &prices;
        priced.field = &field;
    }
    return choose(&priced, choice, failure);
}
