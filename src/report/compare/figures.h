/* The figures by which plans are compared: one table for text, JSON and CSV. */
#ifndef ER_REPORT_COMPARE_FIGURES_H
#define ER_REPORT_COMPARE_FIGURES_H

#include "report/compare/report.h"
#include "say/record.h"

/* Of one plan, SI; NAN: it does not exist. */
struct er_plan_figures {
    size_t fails, cautions, zones, sets, beds, findings;
    double tape_length, flow, source_pressure, emission_uniformity, flow_variation;
    double lowest_pressure, lowest_inlet, highest_inlet, flush_velocity, hours, volume, cost;
};

enum er_better { ER_NO_BETTER, ER_LESS_IS_BETTER, ER_MORE_IS_BETTER };

/* How people are told the figure of the same place in er_plan_members. */
struct er_plan_figure {
    const char *label;
    enum er_better better;
    const char *best; /* what the best plan has: "least flow"; NULL where none is better */
};

#define ER_PLAN_FIGURES 18

/* The figures' keys, kinds and places, in the order in which they are told. */
extern const struct er_member er_plan_members[ER_PLAN_FIGURES + 1];
extern const struct er_plan_figure er_plan_figures[ER_PLAN_FIGURES];

/* Plans with their figures, for whoever tells them. */
struct er_side_by_side {
    const struct er_comparison *comparison;
    const struct er_plan_figures *figures; /* of each plan; NULL: memory ran out */
    struct er_pen *pen;
};
struct er_side_by_side er_plans_side_by_side(const struct er_comparison *comparison,
                                             struct er_pen *pen);

/* The figure of one plan for people; "-" where it does not exist. */
const char *er_plan_figure_words(const struct er_side_by_side *side, size_t figure, size_t plan);

/* Whether one plan has the figure at all. */
bool er_plan_figure_exists(const struct er_side_by_side *side, size_t figure);

/* Whether two plans have the same figure, as far as people are told. */
bool er_plan_figure_same(const struct er_side_by_side *side, size_t figure, size_t a, size_t b);

/* Whether the plan takes part where the better is sought: those that hold, with cautions or
 * without; where none holds, all. */
bool er_plan_counts(const struct er_comparison *comparison, size_t plan);

/* The first plan that has the best of a figure; comparison->count where there is none, or where
 * costs are in different money. */
size_t er_plan_best(const struct er_side_by_side *side, size_t figure);

/* Whether the plan is as good as that one, as far as people are told. */
bool er_plan_as_good(const struct er_side_by_side *side, size_t figure, size_t best, size_t plan);

/* Whether all plans that have prices have them in one currency. */
bool er_plan_one_currency(const struct er_comparison *comparison);

#endif
