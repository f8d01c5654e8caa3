/* The figures by which plans are compared: one table for text, JSON and CSV. */
#ifndef ER_REPORT_COMPARE_FIGURES_H
#define ER_REPORT_COMPARE_FIGURES_H

#include "report/compare_report.h"

enum er_plan_figure_kind {
    ER_PLAN_COUNT,    /* a whole number */
    ER_PLAN_PERCENT,  /* a fraction, told in percent */
    ER_PLAN_QUANTITY, /* told in the unit of `quantity` */
    ER_PLAN_CLOCK,    /* s; people are told h:min */
    ER_PLAN_MONEY
};

enum er_better { ER_NO_BETTER, ER_LESS_IS_BETTER, ER_MORE_IS_BETTER };

struct er_plan_figure {
    const char *key;   /* in JSON and CSV */
    const char *label; /* for people */
    enum er_plan_figure_kind kind;
    enum er_quantity quantity;
    enum er_better better;
    const char *best; /* what the best plan has: "least flow"; NULL where none is better */
    double (*of)(const struct er_compared *plan); /* SI; NAN: it does not exist */
};

const struct er_plan_figure *er_plan_figures(size_t *count);

/* A figure as it is told in `system`, in JSON and CSV; clocks are told in hours. */
double er_plan_figure_told(const struct er_plan_figure *figure, const struct er_compared *plan,
                           enum er_system system);

/* Whether one plan has a figure at all. */
bool er_plan_figure_exists(const struct er_comparison *comparison,
                           const struct er_plan_figure *figure);

/* Appends the figure of one plan for people, with the decimals that the largest among all the
 * plans asks for. */
void er_plan_figure_say(const struct er_comparison *comparison, const struct er_plan_figure *figure,
                        size_t plan, struct er_text *out);

/* Whether two plans have the same figure, as far as people are told. */
bool er_plan_figure_same(const struct er_comparison *comparison,
                         const struct er_plan_figure *figure, size_t a, size_t b,
                         bool *out_of_memory);

/* Whether the plan takes part where the better is sought: those that hold, with cautions or
 * without; where none holds, all. */
bool er_plan_counts(const struct er_comparison *comparison, size_t plan);

/* The first plan that has the best of a figure; comparison->count where there is none, or where
 * costs are in different money. */
size_t er_plan_best(const struct er_comparison *comparison, const struct er_plan_figure *figure);

/* Whether all plans that have prices have them in one currency. */
bool er_plan_one_currency(const struct er_comparison *comparison);

#endif
