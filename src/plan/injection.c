/* The injection of a field: every set solved, timed, and dosed. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "evenrow/inject.h"
#include "hydraulics/travel.h"

#define MINUTE 60.0
/* s; a run that is shorter by less is long enough: times are told in whole minutes. */
#define SAME_TIME 1.0
#define SAME 1e-9 /* relative: what rounding does to a strength at its limit */

struct finding {
    struct er_injection *injection;
    struct er_failure *failure;
};

static double whole_minutes_up(double seconds) { return MINUTE * ceil(seconds / MINUTE - SAME); }

static double whole_minutes_down(double seconds) { return MINUTE * floor(seconds / MINUTE + SAME); }

/* ---- one set ---- */

/* Sets what the solved network of a set says: flow, travel, the time to fill. */
static void take_network(struct er_injection *injection, const struct er_network *network,
                         size_t set)
{
    struct er_set_injection *at = &injection->sets[set];
    double volume = er_mainline_volume(network);
    at->flow = network->flow;
    at->travel = ER_NONE;
    for (size_t z = 0; z < network->zone_count; z++) {
        struct er_zone_injection *zone = &injection->zones[injection->field->sets[set].zones[z]];
        zone->set = set;
        er_travel_measure(network, &network->zones[z], &zone->travel);
        at->travel = fmax(at->travel, zone->travel.latest);
        volume += zone->travel.volume;
    }
    at->fill = network->flow > 0.0 ? volume / network->flow : ER_NONE;
}

static enum er_status solve_set(struct finding *finding, size_t set)
{
    struct er_injection *injection = finding->injection;
    struct er_network network;
    enum er_status status =
        er_network_open(injection->field, &injection->field->sets[set], NULL, &network);
    if (status == ER_OK) {
        status = er_network_solve(&network, false);
    }
    if (status == ER_OK) {
        take_network(injection, &network, set);
    }
    if (status == ER_NOT_CLOSED) {
        *finding->failure = network.failure;
        snprintf(finding->failure->what, sizeof finding->failure->what, "set %zu", set + 1);
    }
    er_network_release(&network);
    return status;
}

/* How long the set's zones all run at once: to the first valve that shuts. */
static double common_run(const struct er_injection *injection, const struct er_set *set)
{
    double run = ER_ENDLESS;
    for (size_t z = 0; z < set->zone_count; z++) {
        const struct er_zone_result *zone = &injection->checked.zones[set->zones[z]];
        double one = zone->run_time / (double)(zone->pulses > 0 ? zone->pulses : 1);
        if (!er_given(one)) {
            return ER_NONE;
        }
        run = fmin(run, one);
    }
    return run;
}

/* Whether what the set's zones want is a concentration, so that any time will do. */
static bool wants_concentration(const struct er_field *field, const struct er_set *set)
{
    for (size_t z = 0; z < set->zone_count; z++) {
        const struct er_dose *dose = &field->zones[set->zones[z]].dose;
        if (dose->kind != ER_DOSE_CONCENTRATION && dose->amount > 0.0) {
            return false;
        }
    }
    return true;
}

/* How long to inject: as the file says; a concentration as long as the run allows; else for
 * as many travel times as it takes. */
static void find_times(struct er_injection *injection, size_t s)
{
    const struct er_field *field = injection->field;
    struct er_set_injection *at = &injection->sets[s];
    at->run = common_run(injection, &field->sets[s]);
    at->flush = whole_minutes_up(at->travel);
    at->time = whole_minutes_up(ER_INJECT_TRAVELS * at->travel);
    if (er_given(field->inject->time)) {
        at->time = field->inject->time;
    } else if (wants_concentration(field, &field->sets[s])) {
        at->time = fmax(at->time, whole_minutes_down(at->run - at->fill - at->flush));
    }
    at->needed = at->fill + at->time + at->flush;
}

/* From when to when: as late as the flushing allows, so that the least of it is washed below
 * the roots (common practice, no source); as early as can be where the run is short or not
 * told. */
static void find_schedule(struct er_set_injection *at)
{
    bool fits = at->run >= at->needed - SAME_TIME;
    at->end = fits ? at->run : at->needed;
    at->stop = fits ? fmax(at->fill + at->time, whole_minutes_down(at->run - at->flush))
                    : at->fill + at->time;
    at->start = at->stop - at->time;
}

/* What the set's zones want, the stock that brings it, and what each of them gets. */
static void find_doses(struct er_injection *injection, size_t s)
{
    const struct er_field *field = injection->field;
    const struct er_set *set = &field->sets[s];
    const struct er_inject *inject = field->inject;
    struct er_set_injection *at = &injection->sets[s];
    for (size_t z = 0; z < set->zone_count; z++) {
        size_t zone = set->zones[z];
        const struct er_zone_result *figures = &injection->checked.zones[zone];
        injection->zones[zone].wanted = er_dose_nutrient(
            &field->zones[zone].dose, figures->area, figures->bed_length, figures->flow, at->time);
        at->nutrient += injection->zones[zone].wanted;
    }
    at->product = at->nutrient / injection->share;
    at->product_volume = at->product / inject->product.density;
    at->concentration = at->nutrient / (at->flow * at->time);
    at->conductivity = at->product / (at->flow * at->time) * inject->product.conductivity;
    for (size_t z = 0; z < set->zone_count; z++) {
        struct er_zone_injection *zone = &injection->zones[set->zones[z]];
        double part = injection->checked.zones[set->zones[z]].flow / at->flow;
        zone->given = part * at->nutrient;
        zone->product = part * at->product;
    }
    if (at->nutrient > 0.0) {
        at->stock = er_stock_make(inject, at->product, at->time, at->flow);
    }
}

/* A set in which nothing is injected has no times: it is not told of. */
static void forget_times(struct er_set_injection *at)
{
    at->time = at->flush = at->needed = at->start = at->stop = at->end = ER_NONE;
}

static enum er_status work_out_set(struct finding *finding, size_t s)
{
    struct er_injection *injection = finding->injection;
    struct er_set_injection *at = &injection->sets[s];
    enum er_status status = solve_set(finding, s);
    at->stock = (struct er_stock){ER_NONE, ER_NONE, ER_NONE, ER_NONE};
    if (status != ER_OK) {
        return status;
    }
    if (er_given(at->travel)) {
        find_times(injection, s);
        find_schedule(at);
        find_doses(injection, s);
    }
    if (!(at->nutrient > 0.0)) {
        forget_times(at);
    }
    return ER_OK;
}

/* ---- findings ---- */

bool er_inject_fails(enum er_inject_code code) { return code <= ER_INJECT_TOO_MUCH; }

static void add(struct er_injection *injection, bool found, enum er_inject_code code, size_t index)
{
    if (!found) {
        return;
    }
    injection->findings[injection->finding_count++] = (struct er_inject_finding){code, index};
    injection->fails = injection->fails || er_inject_fails(code);
}

/* Whether anything should go into the set. */
static bool is_wanted(const struct er_field *field, const struct er_set *set)
{
    bool wanted = false;
    for (size_t z = 0; z < set->zone_count; z++) {
        wanted = wanted || field->zones[set->zones[z]].dose.amount > 0.0;
    }
    return wanted;
}

static bool set_has(const struct er_injection *injection, size_t s, enum er_inject_code code)
{
    const struct er_set_injection *at = &injection->sets[s];
    const struct er_inject *inject = injection->field->inject;
    switch ((int)code) {
    case ER_INJECT_NOWHERE:
        return !er_given(at->travel) && is_wanted(injection->field, &injection->field->sets[s]);
    case ER_INJECT_SHORT:
        return at->run < at->needed - SAME_TIME;
    case ER_INJECT_STRONG:
        return at->stock.strength > er_strongest_stock(&inject->product) * (1.0 + SAME);
    case ER_INJECT_TOO_MUCH:
        return at->stock.ratio <= 0.0;
    case ER_INJECT_HURRIED:
        return at->time < ER_INJECT_TRAVELS * at->travel - SAME_TIME;
    default:
        return false;
    }
}

static bool zone_has(const struct er_injection *injection, size_t z, enum er_inject_code code)
{
    const struct er_zone_injection *at = &injection->zones[z];
    if (code == ER_INJECT_UNEVEN) {
        return fabs(at->given - at->wanted) > ER_INJECT_SAME * at->wanted;
    }
    return at->travel.dry_rows > 0.0 && injection->sets[at->set].nutrient > 0.0;
}

/* A part that loses more when it is dirty, or that says it is a filter. */
static bool is_filter(const struct er_part *part)
{
    static const char word[] = "filter";
    if (part->dirty_loss > 0.0) {
        return true;
    }
    for (const char *at = part->name; at != NULL && *at != '\0'; at++) {
        size_t same = 0;
        while (same < sizeof word - 1 && er_lower(at[same]) == word[same]) {
            same++;
        }
        if (same == sizeof word - 1) {
            return true;
        }
    }
    return false;
}

static void find_filter(struct er_injection *injection)
{
    const struct er_field *field = injection->field;
    for (size_t p = field->inject->parts_before; p-- > 0;) {
        if (is_filter(&field->headworks[p])) {
            add(injection, true, ER_INJECT_BEHIND, p);
            return;
        }
    }
}

static enum er_status list_findings(struct er_injection *injection)
{
    const struct er_field *field = injection->field;
    size_t room = 5 * field->set_count + 2 * field->zone_count + 2;
    injection->findings = er_arena_array(&injection->arena, room, sizeof *injection->findings);
    if (!injection->findings) {
        return ER_NO_MEMORY;
    }
    add(injection, injection->checked.verdict == ER_FAILS, ER_INJECT_PLAN_FAILS, 0);
    for (enum er_inject_code code = ER_INJECT_NOWHERE; code <= ER_INJECT_HURRIED; code++) {
        for (size_t s = 0; s < field->set_count; s++) {
            add(injection, set_has(injection, s, code), code, s);
        }
    }
    for (size_t z = 0; z < field->zone_count; z++) {
        add(injection, zone_has(injection, z, ER_INJECT_UNEVEN), ER_INJECT_UNEVEN, z);
    }
    find_filter(injection);
    for (size_t z = 0; z < field->zone_count; z++) {
        add(injection, zone_has(injection, z, ER_INJECT_DRY), ER_INJECT_DRY, z);
    }
    return ER_OK;
}

/* ---- the whole ---- */

static enum er_status work_out(struct finding *finding, enum er_system speaks)
{
    struct er_injection *injection = finding->injection;
    const struct er_field *field = injection->field;
    struct er_arena *arena = &injection->arena;
    injection->sets = er_arena_array(arena, field->set_count, sizeof *injection->sets);
    injection->zones = er_arena_array(arena, field->zone_count, sizeof *injection->zones);
    if (!injection->sets || !injection->zones) {
        return ER_NO_MEMORY;
    }
    injection->share = er_nutrient_share(&field->inject->product, field->inject->nutrient);
    enum er_status status = er_check(field, speaks, &injection->checked, finding->failure);
    for (size_t s = 0; status == ER_OK && s < field->set_count; s++) {
        status = work_out_set(finding, s);
    }
    return status == ER_OK ? list_findings(injection) : status;
}

enum er_status er_injection_find(const struct er_field *field, enum er_system speaks,
                                 struct er_injection *injection, struct er_failure *failure)
{
    memset(injection, 0, sizeof *injection);
    memset(failure, 0, sizeof *failure);
    injection->field = field;
    struct finding finding = {injection, failure};
    enum er_status status = work_out(&finding, speaks);
    if (status != ER_OK) {
        er_injection_release(injection);
    }
    return status;
}

void er_injection_release(struct er_injection *injection)
{
    er_result_release(&injection->checked);
    er_arena_release(&injection->arena);
    memset(injection, 0, sizeof *injection);
}
