/* What plans are compared by. */
#include "report/compare/figures.h"

#include <math.h>
#include <string.h>

/* The smaller or the larger of two figures; NAN as soon as one does not exist. */
static double lesser(double a, double b) { return a < b || isnan(a) ? a : b; }
static double greater(double a, double b) { return a > b || isnan(a) ? a : b; }

static size_t count_level(const struct er_result *result, enum er_level level)
{
    size_t count = 0;
    for (size_t f = 0; f < result->finding_count; f++) {
        count += er_finding_kind(result->findings[f].code)->level == level;
    }
    return count;
}

/* Of zones and sets the sum, or the worst. */
static struct er_plan_figures figures_of(const struct er_compared *plan)
{
    const struct er_result *result = plan->result;
    struct er_plan_figures of = {
        .fails = count_level(result, ER_FAIL),
        .cautions = count_level(result, ER_CAUTION),
        .findings = result->finding_count,
        .zones = result->field->zone_count,
        .sets = result->field->set_count,
        .source_pressure = ER_ENDLESS,
        .emission_uniformity = ER_ENDLESS,
        .flow_variation = -ER_ENDLESS,
        .lowest_pressure = ER_ENDLESS,
        .lowest_inlet = ER_ENDLESS,
        .highest_inlet = -ER_ENDLESS,
        .flush_velocity = ER_ENDLESS,
        .hours = result->day.hours_needed,
        .volume = result->day.volume,
        .cost = plan->cost,
    };
    for (size_t z = 0; z < of.zones; z++) {
        const struct er_zone_result *zone = &result->zones[z];
        of.beds += zone->beds;
        of.tape_length += zone->tape_length;
        of.emission_uniformity = lesser(of.emission_uniformity, zone->emission_uniformity);
        of.flow_variation = greater(of.flow_variation, zone->flow_variation);
        of.lowest_pressure = lesser(of.lowest_pressure, zone->emitter_pressure.min);
        of.lowest_inlet = lesser(of.lowest_inlet, zone->tape_inlet_pressure.min);
        of.highest_inlet = greater(of.highest_inlet, zone->tape_inlet_pressure.max);
        of.flush_velocity = lesser(of.flush_velocity, zone->flush_velocity);
    }
    for (size_t s = 0; s < of.sets; s++) {
        of.flow = greater(of.flow, result->sets[s].flow);
        of.source_pressure = lesser(of.source_pressure, result->sets[s].source_pressure);
    }
    return of;
}

#define COUNT(key, member) ER_MEMBER(key, ER_IS_COUNT, struct er_plan_figures, member)
#define PERCENT(key, member) ER_MEMBER(key, ER_IS_PERCENT, struct er_plan_figures, member)
#define FIGURE(key, unit, member) ER_QUANTITY_MEMBER(key, unit, struct er_plan_figures, member)

const struct er_member er_plan_members[ER_PLAN_FIGURES + 1] = {
    COUNT("fails", fails),
    COUNT("cautions", cautions),
    COUNT("zones", zones),
    COUNT("sets", sets),
    COUNT("beds", beds),
    FIGURE("tape_length", ER_LENGTH, tape_length),
    FIGURE("flow", ER_FLOW, flow),
    FIGURE("source_pressure", ER_PRESSURE, source_pressure),
    PERCENT("emission_uniformity", emission_uniformity),
    PERCENT("flow_variation", flow_variation),
    FIGURE("lowest_pressure", ER_PRESSURE, lowest_pressure),
    FIGURE("lowest_inlet", ER_PRESSURE, lowest_inlet),
    FIGURE("highest_inlet", ER_PRESSURE, highest_inlet),
    FIGURE("flush_velocity", ER_VELOCITY, flush_velocity),
    FIGURE("hours", ER_TIME, hours),
    FIGURE("volume", ER_VOLUME, volume),
    ER_MEMBER("cost", ER_IS_NUMBER, struct er_plan_figures, cost),
    COUNT("findings", findings),
    ER_END_OF_MEMBERS};

const struct er_plan_figure er_plan_figures[ER_PLAN_FIGURES] = {
    {"fails", ER_NO_BETTER, NULL},
    {"cautions", ER_NO_BETTER, NULL},
    {"zones", ER_NO_BETTER, NULL},
    {"sets", ER_NO_BETTER, NULL},
    {"bed rows", ER_NO_BETTER, NULL},
    {"tape", ER_NO_BETTER, NULL},
    {"flow, largest set", ER_LESS_IS_BETTER, "least flow"},
    {"at source, lowest", ER_NO_BETTER, NULL},
    {"EU, least even zone", ER_MORE_IS_BETTER, "most even (EU)"},
    {"flow varies, at most", ER_NO_BETTER, NULL},
    {"lowest emitter", ER_MORE_IS_BETTER, "highest lowest pressure"},
    {"tape in, lowest", ER_NO_BETTER, NULL},
    {"tape in, highest", ER_NO_BETTER, NULL},
    {"flushing, weakest", ER_NO_BETTER, NULL},
    {"runs a day, h:min", ER_LESS_IS_BETTER, "fewest hours"},
    {"water a day", ER_NO_BETTER, NULL},
    {"cost", ER_LESS_IS_BETTER, "lowest cost"},
    {"findings", ER_LESS_IS_BETTER, "fewest findings"},
};

struct er_side_by_side er_plans_side_by_side(const struct er_comparison *comparison,
                                             struct er_pen *pen)
{
    struct er_plan_figures *figures = er_pen_room(pen, comparison->count, sizeof *figures);
    for (size_t p = 0; figures != NULL && p < comparison->count; p++) {
        figures[p] = figures_of(&comparison->plans[p]);
    }
    return (struct er_side_by_side){comparison, figures, pen};
}

/* As it is told, in the reader's unit. */
static double told(const struct er_side_by_side *side, size_t figure, size_t plan)
{
    const struct er_member *member = &er_plan_members[figure];
    return er_member_number(member, side->pen->system,
                            (const char *)&side->figures[plan] + member->offset);
}

bool er_plan_figure_exists(const struct er_side_by_side *side, size_t figure)
{
    for (size_t p = 0; p < side->comparison->count; p++) {
        if (er_given(told(side, figure, p))) {
            return true;
        }
    }
    return false;
}

const char *er_plan_figure_words(const struct er_side_by_side *side, size_t figure, size_t plan)
{
    const struct er_member *member = &er_plan_members[figure];
    const double value = told(side, figure, plan);
    if (isnan(value)) {
        return "-";
    }
    switch (member->kind) {
    case ER_IS_COUNT:
        return er_pen_whole(side->pen, value);
    case ER_IS_NUMBER:
        return er_pen_money(side->pen,
                            side->comparison->plans[plan].result->field->prices->currency, value);
    default:
        break;
    }
    return member->quantity == ER_TIME
               ? er_pen_clock(side->pen, er_to_si(ER_TIME, side->pen->system, value))
               : er_pen_number(side->pen, value);
}

bool er_plan_figure_same(const struct er_side_by_side *side, size_t figure, size_t a, size_t b)
{
    return strcmp(er_plan_figure_words(side, figure, a), er_plan_figure_words(side, figure, b)) ==
           0;
}

bool er_plan_counts(const struct er_comparison *comparison, size_t plan)
{
    bool some_hold = false;
    for (size_t p = 0; p < comparison->count; p++) {
        some_hold = some_hold || comparison->plans[p].result->verdict != ER_FAILS;
    }
    return !some_hold || comparison->plans[plan].result->verdict != ER_FAILS;
}

bool er_plan_one_currency(const struct er_comparison *comparison)
{
    const struct er_prices *first = NULL;
    for (size_t p = 0; p < comparison->count; p++) {
        const struct er_prices *prices = comparison->plans[p].result->field->prices;
        if (prices == NULL) {
            continue;
        }
        first = first != NULL ? first : prices;
        bool both = first->currency != NULL && prices->currency != NULL;
        if (both ? strcmp(first->currency, prices->currency) != 0
                 : first->currency != prices->currency) {
            return false;
        }
    }
    return true;
}

size_t er_plan_best(const struct er_side_by_side *side, size_t figure)
{
    const size_t count = side->comparison->count;
    const enum er_better better = er_plan_figures[figure].better;
    size_t best = count;
    if (er_plan_members[figure].kind == ER_IS_NUMBER && !er_plan_one_currency(side->comparison)) {
        return count;
    }
    for (size_t p = 0; p < count; p++) {
        const double value = told(side, figure, p);
        if (er_plan_counts(side->comparison, p) && er_given(value) &&
            (best == count || (better == ER_LESS_IS_BETTER ? value < told(side, figure, best)
                                                           : value > told(side, figure, best)))) {
            best = p;
        }
    }
    return best;
}

bool er_plan_as_good(const struct er_side_by_side *side, size_t figure, size_t best, size_t plan)
{
    return er_plan_counts(side->comparison, plan) && er_plan_figure_same(side, figure, best, plan);
}
