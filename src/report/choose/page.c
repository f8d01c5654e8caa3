/* Which design is best, for a person. */
#include <string.h>

#include "report/choose/report.h"
#include "report/report.h"

static const char *money(struct er_pen *pen, const struct er_chosen *chosen, double amount)
{
    const struct er_prices *prices = chosen->ask->field->prices;
    return er_pen_money(pen, prices != NULL ? prices->currency : NULL, amount);
}

/* A name of the list; what the plan has of several kinds, or without a name, is its own. */
static const char *said(const char *name) { return name != NULL ? name : "its own"; }

/* ---- the answer ---- */

static const char *design_words(struct er_pen *pen, const struct er_chosen *chosen,
                                const struct er_ranked *ranked)
{
    const char *cost = "";
    if (er_given(ranked->design->cost)) {
        cost = er_pen_text(pen, ", for %s (%s with all that 'evenrow buy' lists)",
                           money(pen, chosen, ranked->design->cost),
                           money(pen, chosen, ranked->design->bought));
    }
    return er_pen_text(pen, "%s on %s, fed at the %s%s, in %zu zone%s%s",
                       er_pen_visible(pen, said(ranked->tape)),
                       er_pen_visible(pen, said(ranked->header)), ranked->feed,
                       strcmp(ranked->feed, "middle") == 0 ? "" : " bed", ranked->zones,
                       ranked->zones == 1 ? "" : "s", cost);
}

static void write_best(struct er_page *page, const struct er_chosen *chosen,
                       const struct er_ranked *all)
{
    const bool stopped = chosen->choice->stopped;
    if (chosen->choice->best_count == 0) {
        er_page_paragraph(page, "%s", stopped ? "NONE SO FAR holds." : "NONE holds.");
        return;
    }
    er_page_paragraph(
        page, "%s%s%s",
        stopped ? "BEST SO FAR: " : "BEST: ", design_words(&page->pen, chosen, &all[1]),
        all[1].design->cautions == 0 ? "." : ", with cautions: no design holds without any.");
}

/* A paragraph that goes on right below the one before. */
static void go_on(struct er_page *page, const char *text)
{
    er_page_paragraph(page, "%s", text);
    er_page_close_up(page);
}

static void write_prices(struct er_page *page, const struct er_chosen *chosen)
{
    if (chosen->ask->field->prices == NULL) {
        go_on(page, "The field file has no prices. All costs here are placeholders until you have "
                    "your dealer's quote: put it into \"prices\" and run this again before you "
                    "trust the order.");
    } else if (chosen->choice->placeholders) {
        go_on(page, "Some costs here are placeholders until you have your dealer's quote. Put it "
                    "into \"prices\" before you trust the order ('evenrow catalog prices' lists "
                    "what stands in for it).");
    }
}

/* How many designs there were, and of what. */
static void write_tried(struct er_page *page, const struct er_chosen *chosen)
{
    static const char *const what[][2] = {
        {"tape", "tapes"},
        {"header pipe", "header pipes"},
        {"place to feed it", "places to feed it"},
        {"number of zones", "numbers of zones"},
    };
    const struct er_choose_ask *ask = chosen->ask;
    const struct er_choice *choice = chosen->choice;
    const size_t counts[] = {ask->tape_count, ask->pipe_count, ask->feed_count,
                             ask->division_count};
    struct er_pen *pen = &page->pen;
    const char *of = "";
    for (size_t i = 0; i < 4; i++) {
        of = er_pen_joined(pen, of, " x ",
                           er_pen_text(pen, "%zu %s", counts[i], what[i][counts[i] != 1]));
    }
    go_on(page,
          er_pen_text(pen, "%zu of %zu designs tried (%s)%s; %zu hold%s.", choice->judged,
                      choice->total, of, choice->stopped ? " before the search was stopped" : "",
                      choice->held, choice->held == 1 ? "s" : ""));
}

/* ---- the list ---- */

static const char *rank_words(struct er_pen *pen, const void *result, const void *row, size_t rank)
{
    (void)result;
    const struct er_ranked *at = row;
    return er_pen_text(pen, "%s%zu", at->design->unbeaten ? "*" : "", rank);
}

static const char *tape_name(struct er_pen *pen, const void *result, const void *row, size_t rank)
{
    (void)pen, (void)result, (void)rank;
    return said(((const struct er_ranked *)row)->tape);
}

static const char *header_name(struct er_pen *pen, const void *result, const void *row, size_t rank)
{
    (void)pen, (void)result, (void)rank;
    return said(((const struct er_ranked *)row)->header);
}

static const char *feed_name(struct er_pen *pen, const void *result, const void *row, size_t rank)
{
    (void)pen, (void)result, (void)rank;
    return said(((const struct er_ranked *)row)->feed);
}

static size_t count_bits(unsigned long bits)
{
    size_t count = 0;
    for (; bits != 0; bits >>= 1) {
        count += bits & 1;
    }
    return count;
}

static const char *cautions_words(struct er_pen *pen, const void *result, const void *row,
                                  size_t rank)
{
    (void)result, (void)rank;
    const struct er_design *design = ((const struct er_ranked *)row)->design;
    return design->fails != 0 ? "F" : er_pen_text(pen, "%zu", count_bits(design->cautions));
}

enum { UNIFORMITY = 5, HOURS, LOWEST, COST = 9, BOUGHT };

static void write_table(struct er_page *page, const struct er_ranked *all, size_t count)
{
    static const struct er_filled columns[] = {
        ER_RIGHT_COLUMN("", rank_words),
        ER_WORDS_COLUMN("tape", tape_name),
        ER_WORDS_COLUMN("header", header_name),
        ER_WORDS_COLUMN("fed", feed_name),
        ER_COUNT_COLUMN("zones", struct er_ranked, zones),
        [UNIFORMITY] = {{"EU\n%", ER_COLUMN_NUMBER, ER_NO_UNIT}, ER_FILL_WORDS, 0, NULL},
        [HOURS] = {{"h:min\na day", ER_COLUMN_RIGHT, ER_NO_UNIT}, ER_FILL_WORDS, 0, NULL},
        [LOWEST] = {{"least", ER_COLUMN_NUMBER, ER_PRESSURE}, ER_FILL_WORDS, 0, NULL},
        ER_RIGHT_COLUMN("!", cautions_words),
        [COST] = {{"cost", ER_COLUMN_WHOLE, ER_NO_UNIT}, ER_FILL_WORDS, 0, NULL},
        [BOUGHT] = {{"bought", ER_COLUMN_WHOLE, ER_NO_UNIT}, ER_FILL_WORDS, 0, NULL},
    };
    struct er_table *table = er_page_rows(page, ER_ALL(columns), all, sizeof *all, count, NULL);
    for (size_t rank = 0; rank < count; rank++) {
        const struct er_design *design = all[rank].design;
        er_table_number(table, rank, UNIFORMITY, 100.0 * design->uniformity);
        er_table_text(table, rank, HOURS, er_pen_clock(&page->pen, design->hours_needed));
        er_table_number(table, rank, LOWEST, design->lowest_pressure);
        er_table_number(table, rank, COST, design->cost);
        er_table_number(table, rank, BOUGHT, design->bought);
    }
}

/* One line for each caution that some of the best have, with their ranks. */
static void write_cautions(struct er_page *page, const struct er_ranked *all, size_t count)
{
    struct er_pen *pen = &page->pen;
    for (size_t code = 0; code < ER_FINDING_COUNT; code++) {
        const struct er_finding_kind *kind = er_finding_kind((enum er_finding_code)code);
        const char *ranks = "";
        for (size_t rank = 0; rank < count; rank++) {
            if ((all[rank].design->cautions >> code & 1) != 0) {
                ranks = er_pen_joined(pen, ranks, ", ", er_pen_text(pen, "%zu", rank));
            }
        }
        if (ranks[0] != '\0') {
            go_on(page, er_pen_text(pen, "Caution %s: %s, in %s.", kind->code, kind->when, ranks));
        }
    }
}

/* How the field stands as it is. */
static void write_own(struct er_page *page, const struct er_design *own)
{
    const char *codes = "";
    for (size_t code = 0; code < ER_FINDING_COUNT; code++) {
        if (own->fails >> code & 1) {
            codes = er_pen_joined(&page->pen, codes, ", ",
                                  er_finding_kind((enum er_finding_code)code)->code);
        }
    }
    if (own->fails == 0) {
        er_page_paragraph(page, "0 is the plan as the file has it. It holds.");
    } else {
        er_page_paragraph(page,
                          "0 is the plan as the file has it. It fails: %s. 'evenrow check' says "
                          "what to change.",
                          codes);
    }
}

static void write_list(struct er_page *page, const struct er_chosen *chosen,
                       const struct er_ranked *all, size_t count)
{
    const bool any = chosen->choice->best_count > 0;
    const double waste = chosen->ask->waste;
    er_page_heading(page, "%s",
                    any ? "The plan as it is (0), and the best, in order" : "The plan as it is");
    write_table(page, all, count);
    write_own(page, &chosen->choice->own);
    if (any) {
        go_on(page, "Designs without cautions come first, then the cheaper. * No design that holds "
                    "is cheaper and as even, or as cheap and more even; one with cautions counts "
                    "only against others with cautions.");
    }
    go_on(page, "Least: the lowest pressure at an emitter. !: kinds of caution, or F: it fails.");
    go_on(page, er_cost_counts());
    go_on(page, er_pen_text(&page->pen,
                            "Bought: all that 'evenrow buy' lists, in whole rolls and lengths%s.",
                            waste > 0.0 ? er_pen_text(&page->pen, ", with %s %% more for waste",
                                                      er_pen_number(&page->pen, 100.0 * waste))
                                        : ""));
    write_cautions(page, all, count);
}

/* ---- why others fail ---- */

static void put_fail(struct er_table *table, size_t row, size_t designs, const char *code,
                     const char *when)
{
    er_table_number(table, row, 0, (double)designs);
    er_table_text(table, row, 1, code);
    er_table_text(table, row, 2, when);
}

static void write_fails(struct er_page *page, const struct er_choice *choice)
{
    static const struct er_column columns[] = {
        {"designs", ER_COLUMN_WHOLE, ER_NO_UNIT},
        {"finding", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"what it means", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    size_t rows = (choice->unfit > 0) + (size_t)(choice->unsolved > 0);
    for (size_t code = 0; code < ER_FINDING_COUNT; code++) {
        rows += choice->failed_by[code] > 0;
    }
    if (rows == 0) {
        return;
    }
    er_page_heading(page, "Why the others fail; one may fail in several ways");
    struct er_table *table = er_page_table(page, ER_ALL(columns), rows);
    size_t row = 0;
    for (size_t code = 0; code < ER_FINDING_COUNT; code++) {
        const struct er_finding_kind *kind = er_finding_kind((enum er_finding_code)code);
        if (choice->failed_by[code] > 0) {
            put_fail(table, row++, choice->failed_by[code], kind->code, kind->when);
        }
    }
    if (choice->unfit > 0) {
        put_fail(table, row++, choice->unfit, "-", "a bed is too short for one emitter");
    }
    if (choice->unsolved > 0) {
        put_fail(table, row, choice->unsolved, "-", "its flows could not be solved");
    }
}

void er_choose_page(const void *result, struct er_page *page)
{
    const struct er_chosen *chosen = result;
    size_t count;
    const struct er_ranked *all = er_designs_ranked(&page->pen, chosen, &count);
    if (all == NULL) {
        return;
    }
    write_best(page, chosen, all);
    write_prices(page, chosen);
    write_tried(page, chosen);
    write_list(page, chosen, all, count);
    write_fails(page, chosen->choice);
}
