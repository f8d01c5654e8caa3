#include "report/compare_figures.h"

#include <math.h>
#include <string.h>

#include "say/say.h"

/* The smaller or the larger of two figures; NAN as soon as one does not exist. */
static double lesser(double a, double b) { return a < b || isnan(a) ? a : b; }
static double greater(double a, double b) { return a > b || isnan(a) ? a : b; }

static double count_level(const struct er_compared *plan, enum er_level level)
{
    size_t count = 0;
    for (size_t f = 0; f < plan->result->finding_count; f++) {
        count += er_finding_kind(plan->result->findings[f].code)->level == level;
    }
    return (double)count;
}

static double fails(const struct er_compared *plan) { return count_level(plan, ER_FAIL); }
static double cautions(const struct er_compared *plan) { return count_level(plan, ER_CAUTION); }
static double findings(const struct er_compared *plan)
{
    return (double)plan->result->finding_count;
}
static double zones(const struct er_compared *plan)
{
    return (double)plan->result->field->zone_count;
}
static double sets(const struct er_compared *plan)
{
    return (double)plan->result->field->set_count;
}

/* What a zone adds to a figure of the plan. */
typedef double zone_figure(const struct er_zone_result *zone);
typedef double fold(double a, double b);

static double over_zones(const struct er_compared *plan, zone_figure *of, fold *together)
{
    double figure = of(&plan->result->zones[0]);
    for (size_t z = 1; z < plan->result->field->zone_count; z++) {
        figure = together(figure, of(&plan->result->zones[z]));
    }
    return figure;
}

static double sum(double a, double b) { return a + b; }

static double zone_beds(const struct er_zone_result *zone) { return (double)zone->beds; }
static double zone_tape(const struct er_zone_result *zone) { return zone->tape_length; }
static double zone_uniformity(const struct er_zone_result *zone)
{
    return zone->emission_uniformity;
}
static double zone_variation(const struct er_zone_result *zone) { return zone->flow_variation; }
static double zone_lowest(const struct er_zone_result *zone) { return zone->emitter_pressure.min; }
static double zone_highest(const struct er_zone_result *zone)
{
    return zone->tape_inlet_pressure.max;
}
static double zone_inlet(const struct er_zone_result *zone)
{
    return zone->tape_inlet_pressure.min;
}
static double zone_flushing(const struct er_zone_result *zone) { return zone->flush_velocity; }

static double beds(const struct er_compared *plan) { return over_zones(plan, zone_beds, sum); }
static double tape(const struct er_compared *plan) { return over_zones(plan, zone_tape, sum); }
static double uniformity(const struct er_compared *plan)
{
    return over_zones(plan, zone_uniformity, lesser);
}
static double variation(const struct er_compared *plan)
{
    return over_zones(plan, zone_variation, greater);
}
static double lowest(const struct er_compared *plan)
{
    return over_zones(plan, zone_lowest, lesser);
}
static double lowest_inlet(const struct er_compared *plan)
{
    return over_zones(plan, zone_inlet, lesser);
}
static double highest_inlet(const struct er_compared *plan)
{
    return over_zones(plan, zone_highest, greater);
}
static double flushing(const struct er_compared *plan)
{
    return over_zones(plan, zone_flushing, lesser);
}

static double flow(const struct er_compared *plan)
{
    double largest = plan->result->sets[0].flow;
    for (size_t s = 1; s < plan->result->field->set_count; s++) {
        largest = greater(largest, plan->result->sets[s].flow);
    }
    return largest;
}

static double source_pressure(const struct er_compared *plan)
{
    double least = plan->result->sets[0].source_pressure;
    for (size_t s = 1; s < plan->result->field->set_count; s++) {
        least = lesser(least, plan->result->sets[s].source_pressure);
    }
    return least;
}

static double hours(const struct er_compared *plan) { return plan->result->day.hours_needed; }
static double volume(const struct er_compared *plan) { return plan->result->day.volume; }
static double cost(const struct er_compared *plan) { return plan->cost; }

#define PLAIN ER_QUANTITY_COUNT

static const struct er_plan_figure all_figures[] = {
    {"fails", "fails", ER_PLAN_COUNT, PLAIN, ER_NO_BETTER, NULL, fails},
    {"cautions", "cautions", ER_PLAN_COUNT, PLAIN, ER_NO_BETTER, NULL, cautions},
    {"zones", "zones", ER_PLAN_COUNT, PLAIN, ER_NO_BETTER, NULL, zones},
    {"sets", "sets", ER_PLAN_COUNT, PLAIN, ER_NO_BETTER, NULL, sets},
    {"beds", "bed rows", ER_PLAN_COUNT, PLAIN, ER_NO_BETTER, NULL, beds},
    {"tape_length", "tape", ER_PLAN_QUANTITY, ER_LENGTH, ER_NO_BETTER, NULL, tape},
    {"flow", "flow, largest set", ER_PLAN_QUANTITY, ER_FLOW, ER_LESS_IS_BETTER, "least flow", flow},
    {"source_pressure", "at source, lowest", ER_PLAN_QUANTITY, ER_PRESSURE, ER_NO_BETTER, NULL,
     source_pressure},
    {"emission_uniformity", "EU, least even zone", ER_PLAN_PERCENT, PLAIN, ER_MORE_IS_BETTER,
     "most even (EU)", uniformity},
    {"flow_variation", "flow varies, at most", ER_PLAN_PERCENT, PLAIN, ER_NO_BETTER, NULL,
     variation},
    {"lowest_pressure", "lowest emitter", ER_PLAN_QUANTITY, ER_PRESSURE, ER_MORE_IS_BETTER,
     "highest lowest pressure", lowest},
    {"lowest_inlet", "tape in, lowest", ER_PLAN_QUANTITY, ER_PRESSURE, ER_NO_BETTER, NULL,
     lowest_inlet},
    {"highest_inlet", "tape in, highest", ER_PLAN_QUANTITY, ER_PRESSURE, ER_NO_BETTER, NULL,
     highest_inlet},
    {"flush_velocity", "flushing, weakest", ER_PLAN_QUANTITY, ER_VELOCITY, ER_NO_BETTER, NULL,
     flushing},
    {"hours", "runs a day, h:min", ER_PLAN_CLOCK, ER_TIME, ER_LESS_IS_BETTER, "fewest hours",
     hours},
    {"volume", "water a day", ER_PLAN_QUANTITY, ER_VOLUME, ER_NO_BETTER, NULL, volume},
    {"cost", "cost", ER_PLAN_MONEY, PLAIN, ER_LESS_IS_BETTER, "lowest cost", cost},
    {"findings", "findings", ER_PLAN_COUNT, PLAIN, ER_LESS_IS_BETTER, "fewest findings", findings},
};

const struct er_plan_figure *er_plan_figures(size_t *count)
{
    *count = sizeof all_figures / sizeof all_figures[0];
    return all_figures;
}

double er_plan_figure_told(const struct er_plan_figure *figure, const struct er_compared *plan,
                           enum er_system system)
{
    double value = figure->of(plan);
    if (figure->kind == ER_PLAN_PERCENT) {
        return 100.0 * value;
    }
    return figure->quantity == PLAIN ? value : er_from_si(figure->quantity, system, value);
}

bool er_plan_figure_exists(const struct er_comparison *comparison,
                           const struct er_plan_figure *figure)
{
    for (size_t p = 0; p < comparison->count; p++) {
        if (er_given(figure->of(&comparison->plans[p]))) {
            return true;
        }
    }
    return false;
}

static double largest_told(const struct er_comparison *comparison,
                           const struct er_plan_figure *figure)
{
    double largest = 0.0;
    for (size_t p = 0; p < comparison->count; p++) {
        double told = er_plan_figure_told(figure, &comparison->plans[p], comparison->system);
        largest = fmax(largest, fabs(told));
    }
    return largest;
}

void er_plan_figure_say(const struct er_comparison *comparison, const struct er_plan_figure *figure,
                        size_t plan, struct er_text *out)
{
    const struct er_compared *at = &comparison->plans[plan];
    double told = er_plan_figure_told(figure, at, comparison->system);
    if (isnan(told)) {
        er_text_append(out, "-");
    } else if (figure->kind == ER_PLAN_CLOCK) {
        er_append_clock(out, figure->of(at));
    } else if (figure->kind == ER_PLAN_MONEY) {
        er_append_money(out, at->result->field->prices->currency, told);
    } else if (figure->kind == ER_PLAN_COUNT) {
        er_text_appendf(out, "%.0f", told);
    } else if (figure->kind == ER_PLAN_PERCENT) {
        er_text_appendf(out, "%.1f", told);
    } else {
        er_text_appendf(out, "%.*f", er_decimals(largest_told(comparison, figure)), told);
    }
}

bool er_plan_figure_same(const struct er_comparison *comparison,
                         const struct er_plan_figure *figure, size_t a, size_t b,
                         bool *out_of_memory)
{
    struct er_text texts[2];
    for (size_t i = 0; i < 2; i++) {
        er_text_init(&texts[i]);
        er_plan_figure_say(comparison, figure, i == 0 ? a : b, &texts[i]);
        *out_of_memory = *out_of_memory || texts[i].out_of_memory;
    }
    bool same = strcmp(er_text_string(&texts[0]), er_text_string(&texts[1])) == 0;
    er_text_release(&texts[0]);
    er_text_release(&texts[1]);
    return same;
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

size_t er_plan_best(const struct er_comparison *comparison, const struct er_plan_figure *figure)
{
    size_t best = comparison->count;
    double best_value = ER_NONE;
    if (figure->kind == ER_PLAN_MONEY && !er_plan_one_currency(comparison)) {
        return best;
    }
    for (size_t p = 0; p < comparison->count; p++) {
        double value = figure->of(&comparison->plans[p]);
        bool better = figure->better == ER_LESS_IS_BETTER ? value < best_value : value > best_value;
        if (er_plan_counts(comparison, p) && er_given(value) && (isnan(best_value) || better)) {
            best = p;
            best_value = value;
        }
    }
    return best;
}
