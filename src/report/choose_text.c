#include <stdio.h>

#include "report/choose_report.h"
#include "report/report.h"
#include "report/say.h"
#include "report/wrap.h"

struct page {
    const struct er_choose_ask *ask;
    const struct er_choice *choice;
    enum er_system system;
    struct er_text *out;
};

const char *er_feed_name(enum er_feed feed)
{
    switch (feed) {
    case ER_FEED_FIRST:
        return "first";
    case ER_FEED_LAST:
        return "last";
    case ER_FEED_MIDDLE:
        return "middle";
    case ER_FEED_AT:
        break;
    }
    return "elsewhere";
}

static const char *pipe_name(const struct er_choose_ask *ask, const struct er_design *design)
{
    const char *name = ask->pipes[design->pipe]->name;
    return name ? name : "unnamed";
}

static void append_money(const struct page *page, struct er_text *out, double amount)
{
    er_append_money(out, page->ask->field->prices->currency, amount);
}

static void append_design(const struct page *page, struct er_text *out,
                          const struct er_design *design)
{
    const struct er_choose_ask *ask = page->ask;
    size_t zones = ask->divisions[design->division];
    er_text_append_visible(out, ask->tapes[design->tape]->name);
    er_text_append(out, " on ");
    er_text_append_visible(out, pipe_name(ask, design));
    er_text_appendf(out, ", fed at the %s%s, in %zu zone%s", er_feed_name(ask->feeds[design->feed]),
                    ask->feeds[design->feed] == ER_FEED_MIDDLE ? "" : " bed", zones,
                    zones == 1 ? "" : "s");
    if (page->choice->by_cost) {
        er_text_append(out, ", for ");
        append_money(page, out, design->cost);
    }
}

/* The best design may have cautions; then tells which is the first without any. */
static void append_clean(const struct er_choice *choice, struct er_text *out)
{
    size_t clean = 0;
    while (clean < choice->best_count && choice->best[clean].cautions != 0)
        clean++;
    if (clean == 0)
        er_text_append(out, ".");
    else if (clean == choice->best_count)
        er_text_append(out, ", with cautions, as all of the list.");
    else
        er_text_appendf(out, ", with cautions; number %zu is the first of the list without.",
                        clean + 1);
}

/* The answer. */
static void append_answer(const struct page *page)
{
    const struct er_choice *choice = page->choice;
    struct er_text text;
    er_text_init(&text);
    if (choice->best_count > 0) {
        er_text_append(&text, choice->stopped ? "BEST SO FAR: " : "BEST: ");
        append_design(page, &text, &choice->best[0]);
        append_clean(choice, &text);
    } else {
        er_text_append(&text, choice->stopped ? "NONE SO FAR holds." : "NONE holds.");
    }
    er_append_paragraph(page->out, &text);
    er_text_clear(&text);
    er_text_appendf(&text, "%zu of %zu designs tried", choice->judged, choice->total);
    er_text_appendf(&text,
                    choice->stopped ? " before the search was stopped; %zu hold." : "; %zu hold.",
                    choice->held);
    er_finish_paragraph(page->out, &text);
}

/* The columns of the list; without prices that of the cost is left out. */
enum { RANK, TAPE, HEADER, FED, ZONES, UNIFORMITY, HOURS, LOWEST, CAUTIONS, COST, COLUMNS };

static const struct er_column list_columns[COLUMNS] = {
    [RANK] = {"", ER_COLUMN_RIGHT, ER_NO_UNIT},
    [TAPE] = {"tape", ER_COLUMN_WORDS, ER_NO_UNIT},
    [HEADER] = {"header", ER_COLUMN_WORDS, ER_NO_UNIT},
    [FED] = {"fed", ER_COLUMN_WORDS, ER_NO_UNIT},
    [ZONES] = {"zones", ER_COLUMN_WHOLE, ER_NO_UNIT},
    [UNIFORMITY] = {"EU\n%", ER_COLUMN_TENTHS, ER_NO_UNIT},
    [HOURS] = {"h:min\na day", ER_COLUMN_RIGHT, ER_NO_UNIT},
    [LOWEST] = {"least", ER_COLUMN_NUMBER, ER_PRESSURE},
    [CAUTIONS] = {"!", ER_COLUMN_WHOLE, ER_NO_UNIT},
    [COST] = {"cost", ER_COLUMN_WHOLE, ER_NO_UNIT},
};

static size_t count_bits(unsigned long bits)
{
    size_t count = 0;
    for (; bits != 0; bits >>= 1)
        count += bits & 1;
    return count;
}

static void put_design(const struct page *page, struct er_table *table, size_t d)
{
    const struct er_choose_ask *ask = page->ask;
    const struct er_design *design = &page->choice->best[d];
    char rank[32];
    snprintf(rank, sizeof rank, "%s%zu", design->unbeaten ? "*" : "", d + 1);
    er_table_text(table, d, RANK, rank);
    er_table_text(table, d, TAPE, ask->tapes[design->tape]->name);
    er_table_text(table, d, HEADER, pipe_name(ask, design));
    er_table_text(table, d, FED, er_feed_name(ask->feeds[design->feed]));
    er_table_number(table, d, ZONES, (double)ask->divisions[design->division]);
    er_table_number(table, d, UNIFORMITY, 100.0 * design->uniformity);
    er_table_clock(table, d, HOURS, design->hours_needed);
    er_table_number(table, d, LOWEST, design->lowest_pressure);
    er_table_number(table, d, CAUTIONS, (double)count_bits(design->cautions));
    if (page->choice->by_cost)
        er_table_number(table, d, COST, design->cost);
}

/* One line for each caution that some of the best have, with their ranks. */
static void append_cautions(const struct page *page)
{
    const struct er_choice *choice = page->choice;
    struct er_text text;
    er_text_init(&text);
    for (size_t code = 0; code < ER_FINDING_COUNT; code++) {
        const struct er_finding_kind *kind = er_finding_kind((enum er_finding_code)code);
        bool found = false;
        er_text_clear(&text);
        er_text_appendf(&text, "Caution %s: %s, in", kind->code, kind->when);
        for (size_t d = 0; d < choice->best_count; d++) {
            if ((choice->best[d].cautions >> code & 1) == 0)
                continue;
            er_text_appendf(&text, found ? ", %zu" : " %zu", d + 1);
            found = true;
        }
        er_text_append(&text, ".");
        if (found)
            er_append_paragraph(page->out, &text);
    }
    page->out->out_of_memory = page->out->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

static void append_best(const struct page *page)
{
    const struct er_choice *choice = page->choice;
    struct er_table table;
    if (choice->best_count == 0)
        return;
    er_text_append(page->out, "\nThe best, in order\n\n");
    er_table_init(&table, page->system, list_columns, choice->by_cost ? COLUMNS : COST,
                  choice->best_count);
    for (size_t d = 0; d < choice->best_count; d++)
        put_design(page, &table, d);
    er_table_finish(&table, page->out);
    er_text_append(page->out, "\n");
    er_paragraph(page->out, "", "",
                 choice->by_cost
                     ? "* No other design that holds is cheaper without being less even."
                     : "* No other design that holds has a narrower header without being less "
                       "even. Give \"prices\" in the field file to rank by cost.");
    er_paragraph(page->out, "", "",
                 "Least: the lowest pressure at an emitter. !: kinds of caution.");
    append_cautions(page);
}

/* How the field stands as it is. */
static void append_own(const struct page *page)
{
    static const char *const stands[] = {
        [ER_HOLDS] = "holds", [ER_WITH_CAUTION] = "holds, with cautions", [ER_FAILS] = "fails"};
    const struct er_design *own = &page->choice->own;
    struct er_text text;
    er_text_init(&text);
    er_text_appendf(&text, "As the file has it the plan %s: EU ", stands[own->verdict]);
    er_append_number(&text, 100.0 * own->uniformity);
    er_text_append(&text, " %");
    if (page->choice->by_cost) {
        er_text_append(&text, ", for ");
        append_money(page, &text, own->cost);
    }
    er_text_append(&text, ".");
    er_finish_paragraph(page->out, &text);
}

static void put_fail(struct er_table *table, size_t row, size_t designs, const char *code,
                     const char *when)
{
    er_table_number(table, row, 0, (double)designs);
    er_table_text(table, row, 1, code);
    er_table_text(table, row, 2, when);
}

static void append_fails(const struct page *page)
{
    static const struct er_column columns[] = {
        {"designs", ER_COLUMN_WHOLE, ER_NO_UNIT},
        {"finding", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"what it means", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    const struct er_choice *choice = page->choice;
    size_t rows = (choice->unfit > 0) + (size_t)(choice->unsolved > 0);
    for (size_t code = 0; code < ER_FINDING_COUNT; code++)
        rows += choice->failed_by[code] > 0;
    if (rows == 0)
        return;
    struct er_table table;
    er_text_append(page->out, "\nWhy the others fail; one may fail in several ways\n\n");
    er_table_init(&table, page->system, columns, sizeof columns / sizeof columns[0], rows);
    size_t row = 0;
    for (size_t code = 0; code < ER_FINDING_COUNT; code++) {
        const struct er_finding_kind *kind = er_finding_kind((enum er_finding_code)code);
        if (choice->failed_by[code] > 0)
            put_fail(&table, row++, choice->failed_by[code], kind->code, kind->when);
    }
    if (choice->unfit > 0)
        put_fail(&table, row++, choice->unfit, "-", "a bed is too short for one emitter");
    if (choice->unsolved > 0)
        put_fail(&table, row, choice->unsolved, "-", "its flows could not be solved");
    er_table_finish(&table, page->out);
}

enum er_status er_report_choose_text(const struct er_choose_ask *ask,
                                     const struct er_choice *choice, enum er_system system,
                                     struct er_text *out)
{
    const struct page page = {ask, choice, system, out};
    append_answer(&page);
    append_best(&page);
    append_own(&page);
    if (choice->placeholders)
        er_paragraph(out, "", "",
                     "Costs rest in part on placeholder prices, which stand for what the file "
                     "has no price for ('evenrow catalog prices'). Put your dealer's quote into "
                     "\"prices\" before you trust the order.");
    append_fails(&page);
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
