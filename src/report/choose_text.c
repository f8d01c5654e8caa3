#include <stdio.h>
#include <string.h>

#include "report/choose_report.h"
#include "report/report.h"
#include "say/say.h"
#include "say/wrap.h"

struct page {
    const struct er_choose_ask *ask;
    const struct er_choice *choice;
    enum er_system system;
    struct er_text *out;
};

static void append_money(const struct page *page, struct er_text *out, double amount)
{
    const struct er_prices *prices = page->ask->field->prices;
    er_append_money(out, prices != NULL ? prices->currency : NULL, amount);
}

/* A name of the list; what the plan has of several kinds, or without a name, is its own. */
static const char *said(const char *name) { return name != NULL ? name : "its own"; }

static void append_design(const struct page *page, struct er_text *out,
                          const struct er_ranked *ranked)
{
    er_text_append_visible(out, said(ranked->tape));
    er_text_append(out, " on ");
    er_text_append_visible(out, said(ranked->header));
    er_text_appendf(out, ", fed at the %s%s, in %zu zone%s", ranked->feed,
                    strcmp(ranked->feed, "middle") == 0 ? "" : " bed", ranked->zones,
                    ranked->zones == 1 ? "" : "s");
    if (er_given(ranked->design->cost)) {
        er_text_append(out, ", for ");
        append_money(page, out, ranked->design->cost);
        er_text_append(out, " (");
        append_money(page, out, ranked->design->bought);
        er_text_append(out, " with all that 'evenrow buy' lists)");
    }
}

/* How many designs there were, and of what. */
static void append_tried(const struct page *page)
{
    const struct er_choose_ask *ask = page->ask;
    const struct er_choice *choice = page->choice;
    const size_t counts[] = {ask->tape_count, ask->pipe_count, ask->feed_count,
                             ask->division_count};
    static const char *const what[][2] = {
        {"tape", "tapes"},
        {"header pipe", "header pipes"},
        {"place to feed it", "places to feed it"},
        {"number of zones", "numbers of zones"},
    };
    struct er_text text;
    er_text_init(&text);
    er_text_appendf(&text, "%zu of %zu designs tried (", choice->judged, choice->total);
    for (size_t i = 0; i < 4; i++)
        er_text_appendf(&text, "%s%zu %s", i > 0 ? " x " : "", counts[i], what[i][counts[i] != 1]);
    er_text_appendf(
        &text, choice->stopped ? ") before the search was stopped; %zu hold%s." : "); %zu hold%s.",
        choice->held, choice->held == 1 ? "s" : "");
    er_finish_paragraph(page->out, &text);
}

static void append_prices(const struct page *page)
{
    if (page->ask->field->prices == NULL)
        er_paragraph(page->out, "", "",
                     "The field file has no prices. All costs here are placeholders until you have "
                     "your dealer's quote: put it into \"prices\" and run this again before you "
                     "trust the order.");
    else if (page->choice->placeholders)
        er_paragraph(page->out, "", "",
                     "Some costs here are placeholders until you have your dealer's quote. Put it "
                     "into \"prices\" before you trust the order ('evenrow catalog prices' lists "
                     "what stands in for it).");
}

/* The answer. */
static void append_answer(const struct page *page)
{
    const struct er_choice *choice = page->choice;
    struct er_text text;
    er_text_init(&text);
    if (choice->best_count > 0) {
        const struct er_ranked best = er_design_ranked(page->ask, choice, 1);
        er_text_append(&text, choice->stopped ? "BEST SO FAR: " : "BEST: ");
        append_design(page, &text, &best);
        er_text_append(&text, choice->best[0].cautions == 0
                                  ? "."
                                  : ", with cautions: no design holds without any.");
    } else {
        er_text_append(&text, choice->stopped ? "NONE SO FAR holds." : "NONE holds.");
    }
    er_finish_paragraph(page->out, &text);
    append_prices(page);
    append_tried(page);
}

enum { RANK, TAPE, HEADER, FED, ZONES, UNIFORMITY, HOURS, LOWEST, CAUTIONS, COST, BOUGHT, COLUMNS };

static const struct er_column list_columns[COLUMNS] = {
    [RANK] = {"", ER_COLUMN_RIGHT, ER_NO_UNIT},
    [TAPE] = {"tape", ER_COLUMN_WORDS, ER_NO_UNIT},
    [HEADER] = {"header", ER_COLUMN_WORDS, ER_NO_UNIT},
    [FED] = {"fed", ER_COLUMN_WORDS, ER_NO_UNIT},
    [ZONES] = {"zones", ER_COLUMN_WHOLE, ER_NO_UNIT},
    [UNIFORMITY] = {"EU\n%", ER_COLUMN_TENTHS, ER_NO_UNIT},
    [HOURS] = {"h:min\na day", ER_COLUMN_RIGHT, ER_NO_UNIT},
    [LOWEST] = {"least", ER_COLUMN_NUMBER, ER_PRESSURE},
    [CAUTIONS] = {"!", ER_COLUMN_RIGHT, ER_NO_UNIT},
    [COST] = {"cost", ER_COLUMN_WHOLE, ER_NO_UNIT},
    [BOUGHT] = {"bought", ER_COLUMN_WHOLE, ER_NO_UNIT},
};

static size_t count_bits(unsigned long bits)
{
    size_t count = 0;
    for (; bits != 0; bits >>= 1)
        count += bits & 1;
    return count;
}

static void put_design(const struct page *page, struct er_table *table, size_t rank)
{
    const struct er_ranked ranked = er_design_ranked(page->ask, page->choice, rank);
    const struct er_design *design = ranked.design;
    char text[32];
    snprintf(text, sizeof text, "%s%zu", design->unbeaten ? "*" : "", rank);
    er_table_text(table, rank, RANK, text);
    er_table_text(table, rank, TAPE, said(ranked.tape));
    er_table_text(table, rank, HEADER, said(ranked.header));
    er_table_text(table, rank, FED, said(ranked.feed));
    er_table_number(table, rank, ZONES, (double)ranked.zones);
    er_table_number(table, rank, UNIFORMITY, 100.0 * design->uniformity);
    er_table_clock(table, rank, HOURS, design->hours_needed);
    er_table_number(table, rank, LOWEST, design->lowest_pressure);
    snprintf(text, sizeof text, "%zu", count_bits(design->cautions));
    er_table_text(table, rank, CAUTIONS, design->fails != 0 ? "F" : text);
    er_table_number(table, rank, COST, design->cost);
    er_table_number(table, rank, BOUGHT, design->bought);
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
        for (size_t d = 0; d <= choice->best_count; d++) {
            const struct er_design *design = d == 0 ? &choice->own : &choice->best[d - 1];
            if ((design->cautions >> code & 1) == 0)
                continue;
            er_text_appendf(&text, found ? ", %zu" : " %zu", d);
            found = true;
        }
        er_text_append(&text, ".");
        if (found)
            er_append_paragraph(page->out, &text);
    }
    page->out->out_of_memory = page->out->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

/* How the field stands as it is. */
static void append_own(const struct page *page)
{
    const struct er_design *own = &page->choice->own;
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, "0 is the plan as the file has it. It ");
    er_text_append(&text, own->fails != 0 ? "fails:" : "holds.");
    for (size_t code = 0, told = 0; code < ER_FINDING_COUNT; code++)
        if (own->fails >> code & 1)
            er_text_appendf(&text, "%s %s", told++ > 0 ? "," : "",
                            er_finding_kind((enum er_finding_code)code)->code);
    if (own->fails != 0)
        er_text_append(&text, ". 'evenrow check' says what to change.");
    er_finish_paragraph(page->out, &text);
}

/* What was bought beyond what the plan takes. */
static void append_bought(const struct page *page)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, "Bought: all that 'evenrow buy' lists, in whole rolls and lengths");
    if (page->ask->waste > 0.0) {
        er_text_append(&text, ", with ");
        er_append_number(&text, 100.0 * page->ask->waste);
        er_text_append(&text, " % more for waste");
    }
    er_text_append(&text, ".");
    er_finish_paragraph(page->out, &text);
}

static void append_best(const struct page *page)
{
    const struct er_choice *choice = page->choice;
    struct er_table table;
    er_append_heading(page->out, choice->best_count > 0
                                     ? "The plan as it is (0), and the best, in order"
                                     : "The plan as it is");
    er_table_init(&table, page->system, list_columns, COLUMNS, choice->best_count + 1);
    for (size_t rank = 0; rank <= choice->best_count; rank++)
        put_design(page, &table, rank);
    er_table_finish(&table, page->out);
    er_text_append(page->out, "\n");
    append_own(page);
    if (choice->best_count > 0)
        er_paragraph(
            page->out, "", "",
            "Designs without cautions come first, then the cheaper. * No design that holds "
            "is cheaper and as even, or as cheap and more even; one with cautions counts "
            "only against others with cautions.");
    er_paragraph(page->out, "", "",
                 "Least: the lowest pressure at an emitter. !: kinds of caution, or F: it "
                 "fails.");
    er_paragraph(page->out, "", "", er_say_what_cost_counts());
    append_bought(page);
    append_cautions(page);
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
    append_fails(&page);
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
