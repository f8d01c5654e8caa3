#include <stdio.h>
#include <string.h>

#include "report/compare_figures.h"
#include "report/report.h"
#include "say/say.h"
#include "say/wrap.h"

#define SIDE_BY_SIDE 4  /* plans in one table */
#define LONGEST_HEAD 14 /* characters of a plan's name above its column */
#define CUT_HEAD 11     /* of a longer one, before "..." */

struct page {
    const struct er_comparison *comparison;
    struct er_text *out;
};

/* Whether the first plan is shown again, beside the others of each table. */
static bool needs_blocks(const struct er_comparison *comparison)
{
    return comparison->count > SIDE_BY_SIDE;
}

/* How many plans hold, and which are not there. */
static void append_summary(const struct page *page)
{
    const struct er_comparison *comparison = page->comparison;
    size_t hold = 0;
    for (size_t p = 0; p < comparison->count; p++) {
        hold += comparison->plans[p].result->verdict != ER_FAILS;
    }
    struct er_text text;
    er_text_init(&text);
    er_text_appendf(&text, "%zu OF %zu PLAN%s HOLD%s%s", hold, comparison->count,
                    comparison->count == 1 ? "" : "S", comparison->count == 1 ? "S" : "",
                    comparison->unread_count == 0 ? "." : "; left out: ");
    for (size_t u = 0; u < comparison->unread_count; u++) {
        er_text_append(&text, comparison->unread[u]);
        er_text_append(&text, u + 1 < comparison->unread_count ? ", " : ".");
    }
    er_append_paragraph(page->out, &text);
    er_text_release(&text);
}

/* Each plan by its number, with its verdict. */
static void append_plans(const struct page *page)
{
    er_text_append(page->out, "\n");
    for (size_t p = 0; p < page->comparison->count; p++) {
        const struct er_compared *plan = &page->comparison->plans[p];
        struct er_text text;
        char first[32];
        er_text_init(&text);
        er_text_append(&text, plan->name);
        er_text_append(&text, ": ");
        er_report_verdict(plan->result, &text);
        if (text.length > 0 && !text.out_of_memory) {
            text.data[--text.length] = '\0'; /* the verdict's newline */
        }
        snprintf(first, sizeof first, "%4zu  ", p + 1);
        er_paragraph(page->out, first, "        ", er_text_string(&text));
        page->out->out_of_memory = page->out->out_of_memory || text.out_of_memory;
        er_text_release(&text);
    }
}

/* The end of a plan's name, without folders and ".json", short enough for the head of a column. */
static void append_short_name(struct er_text *out, const struct er_compared *plan)
{
    const char *slash = strrchr(plan->name, '/');
    const char *name = slash != NULL && slash[1] != '\0' ? slash + 1 : plan->name;
    size_t length = strlen(name);
    if (length > 5 && strcmp(name + length - 5, ".json") == 0) {
        length -= 5;
    }
    er_text_append_short(out, name, length, length <= LONGEST_HEAD ? LONGEST_HEAD : CUT_HEAD);
}

static void name_head(struct er_text *head, const struct er_compared *plan, size_t number)
{
    er_text_appendf(head, "%zu\n", number);
    append_short_name(head, plan);
}

/* A figure's label and its unit. */
static void put_label(const struct page *page, struct er_table *table, size_t row,
                      const struct er_plan_figure *figure)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, figure->label);
    if (figure->kind == ER_PLAN_QUANTITY) {
        er_text_appendf(&text, ", %s", er_unit_name(figure->quantity, page->comparison->system));
    } else if (figure->kind == ER_PLAN_PERCENT) {
        er_text_append(&text, ", %");
    }
    er_table_text(table, row, 0, er_text_string(&text));
    table->out_of_memory = table->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

static void put_figure(const struct page *page, struct er_table *table, size_t row, size_t column,
                       const struct er_plan_figure *figure, size_t plan)
{
    struct er_text text;
    er_text_init(&text);
    if (!er_plan_figure_same(page->comparison, figure, 0, plan, &text.out_of_memory)) {
        er_text_append(&text, "* ");
    }
    er_plan_figure_say(page->comparison, figure, plan, &text);
    er_table_text(table, row, column, er_text_string(&text));
    table->out_of_memory = table->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

static void put_verdict(const struct page *page, struct er_table *table, size_t column, size_t plan)
{
    enum er_verdict verdict = page->comparison->plans[plan].result->verdict;
    char text[32];
    bool same = verdict == page->comparison->plans[0].result->verdict;
    snprintf(text, sizeof text, "%s%s", same ? "" : "* ", er_verdict_name(verdict));
    er_table_text(table, 0, column, text);
}

/* The table of `shown` plans, whose places are in `plans` and their names in `heads`. */
static void append_table(const struct page *page, const size_t *plans, size_t shown,
                         const struct er_text *heads)
{
    struct er_column columns[1 + SIDE_BY_SIDE] = {{"plan", ER_COLUMN_WORDS, ER_NO_UNIT}};
    struct er_table table;
    size_t count;
    size_t rows = 1;
    const struct er_plan_figure *figures = er_plan_figures(&count);
    for (size_t f = 0; f < count; f++) {
        rows += er_plan_figure_exists(page->comparison, &figures[f]);
    }
    for (size_t i = 0; i < shown; i++) {
        columns[1 + i] = (struct er_column){er_text_string(&heads[i]), ER_COLUMN_RIGHT, ER_NO_UNIT};
    }
    er_table_init(&table, page->comparison->system, columns, 1 + shown, rows);
    er_table_text(&table, 0, 0, "verdict");
    for (size_t i = 0; i < shown; i++) {
        put_verdict(page, &table, 1 + i, plans[i]);
    }
    size_t row = 1;
    for (size_t f = 0; f < count; f++) {
        if (!er_plan_figure_exists(page->comparison, &figures[f])) {
            continue;
        }
        put_label(page, &table, row, &figures[f]);
        for (size_t i = 0; i < shown; i++) {
            put_figure(page, &table, row, 1 + i, &figures[f], plans[i]);
        }
        row++;
    }
    er_text_append(page->out, "\n");
    er_table_finish(&table, page->out);
}

/* The tables, one below the other; each begins with the first plan. */
static void append_tables(const struct page *page)
{
    const struct er_comparison *comparison = page->comparison;
    size_t next = needs_blocks(comparison) ? 1 : 0;
    while (next < comparison->count) {
        size_t plans[SIDE_BY_SIDE] = {0};
        struct er_text heads[SIDE_BY_SIDE];
        size_t shown = needs_blocks(comparison) ? 1 : 0;
        while (shown < SIDE_BY_SIDE && next < comparison->count) {
            plans[shown++] = next++;
        }
        for (size_t i = 0; i < shown; i++) {
            er_text_init(&heads[i]);
            name_head(&heads[i], &comparison->plans[plans[i]], plans[i] + 1);
        }
        append_table(page, plans, shown, heads);
        for (size_t i = 0; i < shown; i++) {
            page->out->out_of_memory = page->out->out_of_memory || heads[i].out_of_memory;
            er_text_release(&heads[i]);
        }
    }
}

/* What the star means, and what costs are. */
static void append_notes(const struct page *page)
{
    const struct er_comparison *comparison = page->comparison;
    bool priced = false, placeholders = false;
    for (size_t p = 0; p < comparison->count; p++) {
        priced = priced || er_given(comparison->plans[p].cost);
        placeholders = placeholders || comparison->plans[p].placeholders;
    }
    struct er_text text;
    er_text_init(&text);
    if (comparison->count > 1) {
        er_text_append(&text, "*: differs from plan 1. ");
    }
    er_text_append(&text, "Pressures, EU and flushing are those of the worst place in a plan.");
    er_text_append(page->out, "\n");
    er_finish_paragraph(page->out, &text);
    if (priced) {
        er_paragraph(page->out, "", "", er_say_what_cost_counts());
        er_paragraph(page->out, "", "", "'evenrow buy' lists and prices all of a plan.");
    }
    if (placeholders) {
        er_paragraph(page->out, "", "",
                     "Prices that a file lacks are placeholders until you have your dealer's "
                     "quote.");
    }
}

/* The plans that have the best of a figure: "plan 2 (wide), 18.2 gpm". */
static void say_best(const struct page *page, const struct er_plan_figure *figure, size_t best,
                     struct er_text *text)
{
    const struct er_comparison *comparison = page->comparison;
    size_t taking_part = 0, as_good = 0;
    struct er_text names;
    er_text_init(&names);
    for (size_t p = 0; p < comparison->count; p++) {
        if (!er_plan_counts(comparison, p)) {
            continue;
        }
        taking_part++;
        if (er_plan_figure_same(comparison, figure, best, p, &names.out_of_memory)) {
            er_text_appendf(&names, "%s%zu", as_good > 0 ? ", " : "", p + 1);
            as_good++;
        }
    }
    if (as_good == 1) {
        er_text_append(&names, " (");
        append_short_name(&names, &comparison->plans[best]);
        er_text_append(&names, ")");
    }
    if (as_good == taking_part && as_good > 1) {
        er_text_append(text, "all alike, ");
    } else {
        er_text_appendf(text, "plan%s %s, ", as_good > 1 ? "s" : "", er_text_string(&names));
    }
    er_plan_figure_say(comparison, figure, best, text);
    if (figure->kind == ER_PLAN_QUANTITY) {
        er_text_appendf(text, " %s", er_unit_name(figure->quantity, comparison->system));
    } else if (figure->kind == ER_PLAN_PERCENT || figure->kind == ER_PLAN_CLOCK) {
        er_text_append(text, figure->kind == ER_PLAN_PERCENT ? " %" : " h:min");
    }
    text->out_of_memory = text->out_of_memory || names.out_of_memory;
    er_text_release(&names);
}

/* Which plan is better for what. */
static void append_best(const struct page *page)
{
    const struct er_comparison *comparison = page->comparison;
    bool all_count = true;
    size_t count;
    const struct er_plan_figure *figures = er_plan_figures(&count);
    if (comparison->count < 2) {
        return;
    }
    for (size_t p = 0; p < comparison->count; p++) {
        all_count = all_count && er_plan_counts(comparison, p);
    }
    bool none_holds = comparison->plans[0].result->verdict == ER_FAILS && all_count;
    er_text_append(page->out, "\nWhich is better for what");
    er_text_append(page->out, none_holds ? ", though none holds" : "");
    er_text_append(page->out, all_count ? "\n\n" : ", among those that hold\n\n");
    for (size_t f = 0; f < count; f++) {
        size_t best =
            figures[f].best != NULL ? er_plan_best(comparison, &figures[f]) : comparison->count;
        if (best == comparison->count) {
            continue;
        }
        struct er_text text;
        char first[40];
        er_text_init(&text);
        say_best(page, &figures[f], best, &text);
        snprintf(first, sizeof first, "  %-25s", figures[f].best);
        er_paragraph(page->out, first, "                           ", er_text_string(&text));
        page->out->out_of_memory = page->out->out_of_memory || text.out_of_memory;
        er_text_release(&text);
    }
    if (!er_plan_one_currency(comparison)) {
        er_text_append(page->out, "  Costs are in different money and are not compared.\n");
    }
}

enum er_status er_report_compare_text(const struct er_comparison *comparison, struct er_text *out)
{
    const struct page page = {comparison, out};
    append_summary(&page);
    append_plans(&page);
    append_best(&page);
    append_tables(&page);
    append_notes(&page);
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
