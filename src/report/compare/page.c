/* Plans side by side, for a person. */
#include <string.h>

#include "report/compare/figures.h"
#include "report/report.h"

#define SIDE_BY_SIDE 4  /* plans in one table */
#define LONGEST_HEAD 14 /* characters of a plan's name above its column */
#define CUT_HEAD 11     /* of a longer one, before "..." */

/* How many plans hold, and which are not there. */
static void write_summary(struct er_page *page, const struct er_comparison *comparison)
{
    const bool one = comparison->count == 1;
    const char *unread = "";
    size_t hold = 0;
    for (size_t p = 0; p < comparison->count; p++) {
        hold += comparison->plans[p].result->verdict != ER_FAILS;
    }
    for (size_t u = 0; u < comparison->unread_count; u++) {
        unread = er_pen_joined(&page->pen, unread, ", ", comparison->unread[u]);
    }
    er_page_paragraph(page, "%zu OF %zu %s%s%s.", hold, comparison->count,
                      one ? "PLAN HOLDS" : "PLANS HOLD",
                      comparison->unread_count > 0 ? "; left out: " : "", unread);
}

/* Each plan by its number, with its verdict. */
static void write_plans(struct er_page *page, const struct er_comparison *comparison)
{
    for (size_t p = 0; p < comparison->count; p++) {
        const struct er_compared *plan = &comparison->plans[p];
        er_page_marked_item(page, er_pen_text(&page->pen, "%zu.", p + 1), "%s: %s", plan->name,
                            er_verdict_words(&page->pen, plan->result));
    }
}

/* The end of a plan's name, without folders and ".json", short enough for the head of a column. */
static const char *short_name(struct er_pen *pen, const struct er_compared *plan)
{
    const char *slash = strrchr(plan->name, '/');
    const char *name = slash != NULL && slash[1] != '\0' ? slash + 1 : plan->name;
    size_t length = strlen(name);
    if (length > 5 && strcmp(name + length - 5, ".json") == 0) {
        length -= 5;
    }
    return er_pen_short(pen, er_pen_text(pen, "%.*s", (int)length, name),
                        length <= LONGEST_HEAD ? LONGEST_HEAD : CUT_HEAD);
}

/* ---- which is better for what ---- */

/* " gpm", " %"; nothing behind a count, or money, which has its own. */
static const char *unit_words(struct er_pen *pen, const struct er_member *member)
{
    return member->kind == ER_IS_PERCENT    ? " %"
           : member->kind != ER_IS_QUANTITY ? ""
           : member->quantity == ER_TIME
               ? " h:min"
               : er_pen_text(pen, " %s", er_unit_name(member->quantity, pen->system));
}

/* The plans that have the best of a figure: "plan 2 (wide), 18.2 gpm". */
static const char *best_words(const struct er_side_by_side *side, size_t figure, size_t best)
{
    const struct er_comparison *comparison = side->comparison;
    struct er_pen *pen = side->pen;
    size_t taking_part = 0, as_good = 0;
    const char *numbers = "", *which = "all alike";
    for (size_t p = 0; p < comparison->count; p++) {
        taking_part += er_plan_counts(comparison, p);
        if (er_plan_as_good(side, figure, best, p)) {
            numbers = er_pen_joined(pen, numbers, ", ", er_pen_text(pen, "%zu", p + 1));
            as_good++;
        }
    }
    if (as_good == 1) {
        which =
            er_pen_text(pen, "plan %s (%s)", numbers, short_name(pen, &comparison->plans[best]));
    } else if (as_good < taking_part) {
        which = er_pen_text(pen, "plans %s", numbers);
    }
    return er_pen_text(pen, "%s, %s%s", which, er_plan_figure_words(side, figure, best),
                       unit_words(pen, &er_plan_members[figure]));
}

static void write_best(struct er_page *page, const struct er_side_by_side *side)
{
    const struct er_comparison *comparison = side->comparison;
    bool all_count = true;
    if (comparison->count < 2) {
        return;
    }
    for (size_t p = 0; p < comparison->count; p++) {
        all_count = all_count && er_plan_counts(comparison, p);
    }
    const bool none_holds = comparison->plans[0].result->verdict == ER_FAILS && all_count;
    er_page_heading(page, "Which is better for what%s",
                    none_holds   ? ", though none holds"
                    : !all_count ? ", among those that hold"
                                 : "");
    for (size_t f = 0; f < ER_PLAN_FIGURES; f++) {
        const size_t best =
            er_plan_figures[f].best != NULL ? er_plan_best(side, f) : comparison->count;
        if (best < comparison->count) {
            er_page_pair(page, er_plan_figures[f].best, "%s", best_words(side, f, best));
        }
    }
    if (!er_plan_one_currency(comparison)) {
        er_page_paragraph(page, "Costs are in different money and are not compared.");
    }
}

/* ---- the tables ---- */

/* Marked where it differs from the first plan's. */
static const char *marked(struct er_pen *pen, bool same, const char *words)
{
    return same ? words : er_pen_text(pen, "* %s", words);
}

static void put_verdicts(struct er_table *table, const struct er_side_by_side *side,
                         const size_t *plans, size_t shown)
{
    const struct er_compared *all = side->comparison->plans;
    er_table_text(table, 0, 0, "verdict");
    for (size_t i = 0; i < shown; i++) {
        const enum er_verdict verdict = all[plans[i]].result->verdict;
        er_table_text(
            table, 0, 1 + i,
            marked(side->pen, verdict == all[0].result->verdict, er_verdict_name(verdict)));
    }
}

static const char *label_words(struct er_pen *pen, size_t figure)
{
    const struct er_member *member = &er_plan_members[figure];
    const bool united = member->kind == ER_IS_PERCENT ||
                        (member->kind == ER_IS_QUANTITY && member->quantity != ER_TIME);
    return er_pen_text(pen, "%s%s%s", er_plan_figures[figure].label, united ? "," : "",
                       united ? unit_words(pen, member) : "");
}

/* The table of `shown` plans, whose places are in `plans`. */
static void write_table(struct er_page *page, const struct er_side_by_side *side,
                        const size_t *plans, size_t shown)
{
    struct er_column *columns = er_pen_room(&page->pen, 1 + shown, sizeof *columns);
    size_t rows = 1, row = 1;
    if (columns == NULL) {
        return;
    }
    columns[0] = (struct er_column){"plan", ER_COLUMN_WORDS, ER_NO_UNIT};
    for (size_t i = 0; i < shown; i++) {
        const char *name = short_name(side->pen, &side->comparison->plans[plans[i]]);
        columns[1 + i] = (struct er_column){er_pen_text(side->pen, "%zu\n%s", plans[i] + 1, name),
                                            ER_COLUMN_RIGHT, ER_NO_UNIT};
    }
    for (size_t f = 0; f < ER_PLAN_FIGURES; f++) {
        rows += er_plan_figure_exists(side, f);
    }
    struct er_table *table = er_page_table(page, columns, 1 + shown, rows);
    put_verdicts(table, side, plans, shown);
    for (size_t f = 0; f < ER_PLAN_FIGURES; f++) {
        if (!er_plan_figure_exists(side, f)) {
            continue;
        }
        er_table_text(table, row, 0, label_words(side->pen, f));
        for (size_t i = 0; i < shown; i++) {
            er_table_text(table, row, 1 + i,
                          marked(side->pen, er_plan_figure_same(side, f, 0, plans[i]),
                                 er_plan_figure_words(side, f, plans[i])));
        }
        row++;
    }
}

/* The tables, one below the other; where there are several, each begins with the first plan. */
static void write_tables(struct er_page *page, const struct er_side_by_side *side)
{
    const size_t count = side->comparison->count;
    const size_t again = count > SIDE_BY_SIDE ? 1 : 0;
    for (size_t next = again; next < count;) {
        size_t plans[SIDE_BY_SIDE] = {0};
        size_t shown = again;
        while (shown < SIDE_BY_SIDE && next < count) {
            plans[shown++] = next++;
        }
        write_table(page, side, plans, shown);
    }
}

/* What the star means, and what costs are. */
static void write_notes(struct er_page *page, const struct er_comparison *comparison)
{
    bool priced = false, placeholders = false;
    for (size_t p = 0; p < comparison->count; p++) {
        priced = priced || er_given(comparison->plans[p].cost);
        placeholders = placeholders || comparison->plans[p].placeholders;
    }
    er_page_paragraph(page, "%sPressures, EU and flushing are those of the worst place in a plan.",
                      comparison->count > 1 ? "*: differs from plan 1. " : "");
    if (priced) {
        er_page_paragraph(page, "%s", er_cost_counts());
        er_page_close_up(page);
        er_page_paragraph(page, "'evenrow buy' lists and prices all of a plan.");
        er_page_close_up(page);
    }
    if (placeholders) {
        er_page_paragraph(page, "Prices that a file lacks are placeholders until you have your "
                                "dealer's quote.");
        er_page_close_up(page);
    }
}

void er_compare_page(const void *result, struct er_page *page)
{
    const struct er_comparison *comparison = result;
    const struct er_side_by_side side = er_plans_side_by_side(comparison, &page->pen);
    if (side.figures == NULL) {
        return;
    }
    write_summary(page, comparison);
    write_plans(page, comparison);
    write_best(page, &side);
    write_tables(page, &side);
    write_notes(page, comparison);
}
