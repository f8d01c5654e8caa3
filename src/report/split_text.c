#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/split_report.h"
#include "say/say.h"
#include "say/wrap.h"

#define ROWS_MOST 24 /* of numbers tried, before those that fail alike are put together */

struct page {
    const struct er_split_ask *ask;
    const struct er_split *split;
    struct er_text *out;
};

/* "beds 1-4, 5-8 and 9-12 of zone east, zone west whole" */
static void append_beds(const struct page *page, struct er_text *text)
{
    const struct er_split *split = page->split;
    for (size_t p = 0; p < split->zone_count; p++) {
        const struct er_piece *piece = &split->pieces[p];
        const char *name = page->ask->field->zones[piece->zone].name;
        bool first = p == 0 || split->pieces[p - 1].zone != piece->zone;
        bool last = p + 1 == split->zone_count || split->pieces[p + 1].zone != piece->zone;
        if (first && last) {
            er_text_append(text, p > 0 ? ", zone " : "zone ");
            er_text_append_visible(text, name);
            er_text_append(text, " whole");
            continue;
        }
        er_text_append(text, first ? (p > 0 ? ", beds " : "beds ") : (last ? " and " : ", "));
        er_text_appendf(text, "%zu", piece->first_bed + 1);
        if (piece->bed_count > 1) {
            er_text_appendf(text, "-%zu", piece->first_bed + piece->bed_count);
        }
        if (last) {
            er_text_append(text, " of zone ");
            er_text_append_visible(text, name);
        }
    }
}

static void append_name(const struct page *page, struct er_text *text, size_t zone)
{
    er_text_append_visible(text, page->split->field.zones[zone].name);
}

/* "low and hill" */
static void append_pair(const struct page *page, struct er_text *text, const size_t *zones)
{
    append_name(page, text, zones[0]);
    er_text_append(text, " and ");
    append_name(page, text, zones[1]);
}

/* Why not even the two zones with the least flow may run together. */
static void append_nearest(const struct page *page, struct er_text *text)
{
    const struct er_split_pair *nearest = &page->split->nearest;
    er_text_append(text, "No two zones may run together: even ");
    append_pair(page, text, nearest->zones);
    if (nearest->code == ER_FINDING_COUNT)
        er_text_append(text, " could not be solved.");
    else
        er_text_appendf(text, ", which take the least flow, fail (%s: %s).",
                        er_finding_kind(nearest->code)->code, er_finding_kind(nearest->code)->when);
}

#define PAIRS_IN_ANSWER 3

/* Which zones may run two at a time. */
static void append_pairs(const struct page *page, struct er_text *text)
{
    const struct er_split *split = page->split;
    er_text_append(text, "These may run together: ");
    for (size_t p = 0; p < split->pair_count && p < PAIRS_IN_ANSWER; p++) {
        er_text_append(text, p > 0 ? "; " : "");
        append_pair(page, text, split->pairs[p].zones);
    }
    if (split->pair_count > PAIRS_IN_ANSWER)
        er_text_appendf(text, "; and %zu more pairs", split->pair_count - PAIRS_IN_ANSWER);
    er_text_append(text, ".");
}

/* The file's own sets of several zones, where it has some. */
static bool append_own_sets(const struct page *page, struct er_text *text)
{
    const struct er_field *field = &page->split->field;
    bool some = false;
    for (size_t s = 0; s < field->set_count; s++) {
        const struct er_set *set = &field->sets[s];
        if (set->zone_count < 2)
            continue;
        er_text_append(text, some ? "; " : " in the file's sets: ");
        for (size_t z = 0; z < set->zone_count; z++) {
            er_text_append(text, z == 0 ? "" : z + 1 < set->zone_count ? ", " : " and ");
            append_name(page, text, set->zones[z]);
        }
        er_text_append(text, " run together");
        some = true;
    }
    return some;
}

static void append_passing(const struct page *page, struct er_text *text)
{
    const struct er_split *split = page->split;
    const bool none = split->pairs_tried && split->pair_count == 0;
    er_text_append(text, none ? "NOTHING TO SPLIT: the field passes as it is, "
                              : "NO SPLIT NEEDED: the field passes as it is, ");
    er_text_appendf(text, "%zu zone%s", split->zone_count, split->zone_count == 1 ? "" : "s");
    if (!append_own_sets(page, text) && split->zone_count > 1)
        er_text_append(text, " one at a time");
    er_text_append(text, ".");
    if (split->zone_count > 1 && !none && split->pairs_tried) {
        er_text_append(text, " ");
        append_pairs(page, text);
    }
}

static void append_answer_text(const struct page *page, struct er_text *text)
{
    const struct er_split *split = page->split;
    const char *zones = split->zone_count == 1 ? "ZONE" : "ZONES";
    switch (split->answer) {
    case ER_SPLIT_PASSES:
        append_passing(page, text);
        return;
    case ER_SPLIT_FOUND:
        er_text_appendf(text, "%zu %s: ", split->zone_count, zones);
        append_beds(page, text);
        er_text_append(text, split->zone_count > 1 ? ", one zone running at a time." : ".");
        return;
    case ER_SPLIT_SETS:
        er_text_appendf(text, "%zu %s IN %zu SETS: ", split->zone_count, zones,
                        split->field.set_count);
        append_beds(page, text);
        er_text_append(text, ". One after another the hours would be too short; two run together "
                             "where the source can feed two.");
        return;
    case ER_SPLIT_NONE:
        break;
    }
    if (page->ask->zones > 0) {
        er_text_appendf(text, "NOT WITH %zu ZONE%s: ", page->ask->zones,
                        page->ask->zones == 1 ? "" : "S");
    } else {
        er_text_append(text, "NO NUMBER OF ZONES PASSES: ");
    }
    er_say_obstacle(page->ask, split, text);
    er_text_append(text, ".");
}

static void append_answer(const struct page *page)
{
    struct er_text text;
    er_text_init(&text);
    append_answer_text(page, &text);
    er_append_paragraph(page->out, &text);
    er_text_release(&text);
    const char *title = page->ask->field->title;
    if (title != NULL && title[0] != '\0') {
        er_text_append(page->out, "\n");
        er_paragraph(page->out, "", "", title);
    }
}

/* Rows from `first` on that fail alike, to be told as one; 1 where each has its own. */
static size_t alike(const struct er_split *split, size_t first)
{
    size_t count = 1;
    while (split->try_count > ROWS_MOST && first + count < split->try_count &&
           !split->tries[first].passes && !split->tries[first + count].passes &&
           split->tries[first + count].code == split->tries[first].code) {
        count++;
    }
    return count;
}

static void put_number_of_zones(struct er_table *table, size_t row, size_t least, size_t most)
{
    char zones[64];
    snprintf(zones, sizeof zones, least < most ? "%zu-%zu" : "%zu", least, most);
    er_table_text(table, row, 0, zones);
}

/* Why a number of zones does not do: the first sentence of what its finding says; where several
 * are told as one, what the finding means. */
static void put_reason(struct er_table *table, size_t row, const struct er_split_try *try,
                       bool several)
{
    if (try->passes) {
        er_table_text(table, row, 3, "passes");
        er_table_text(table, row, 4, "");
        return;
    }
    if (try->text == NULL) {
        er_table_text(table, row, 4, "its flows could not be solved");
        return;
    }
    struct er_text text;
    const char *told = several ? er_finding_kind(try->code)->when : try->text;
    const char *stop = strstr(told, ". ");
    er_text_init(&text);
    er_text_append_bytes(&text, told, stop != NULL ? (size_t)(stop - told) : strlen(told));
    er_table_text(table, row, 3, er_finding_kind(try->code)->code);
    er_table_text(table, row, 4, er_text_string(&text));
    table->out_of_memory = table->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

static void append_tries(const struct page *page)
{
    static const struct er_column columns[] = {
        {"zones", ER_COLUMN_RIGHT, ER_NO_UNIT},    {"least\nflow", ER_COLUMN_NUMBER, ER_FLOW},
        {"most\nflow", ER_COLUMN_NUMBER, ER_FLOW}, {"outcome", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"why not", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    const struct er_split *split = page->split;
    size_t rows = 0;
    for (size_t t = 0; t < split->try_count; t += alike(split, t)) {
        rows++;
    }
    struct er_table table;
    er_text_append(page->out, "\nNumbers of zones tried, and the flow of their zones\n\n");
    er_table_init(&table, page->ask->speaks, columns, sizeof columns / sizeof columns[0], rows);
    for (size_t row = 0, t = 0; row < rows; row++) {
        size_t count = alike(split, t);
        const struct er_split_try *first = &split->tries[t], *last = &split->tries[t + count - 1];
        put_number_of_zones(&table, row, first->zones, last->zones);
        er_table_number(&table, row, 1, fmin(first->flow.min, last->flow.min));
        er_table_number(&table, row, 2, fmax(first->flow.max, last->flow.max));
        put_reason(&table, row, first, count > 1);
        t += count;
    }
    er_table_finish(&table, page->out);
    if (split->try_count > 1 || split->answer == ER_SPLIT_NONE) {
        er_text_append(page->out, "\n");
        er_paragraph(page->out, "", "",
                     "Of a number that does not do, no division passes; flows and reason are those "
                     "of its most even one.");
    }
}

static void append_zones(const struct page *page)
{
    static const struct er_column columns[] = {
        {"zone", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"of zone", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"beds", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"flow", ER_COLUMN_NUMBER, ER_FLOW},
        {"EU\n%", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"lowest\nemitter", ER_COLUMN_NUMBER, ER_PRESSURE},
        {"runs\nh:min", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"set", ER_COLUMN_WHOLE, ER_NO_UNIT},
    };
    const struct er_split *split = page->split;
    struct er_table table;
    er_text_append(page->out, "\nThe zones\n\n");
    er_table_init(&table, page->ask->speaks, columns, sizeof columns / sizeof columns[0],
                  split->zone_count);
    for (size_t z = 0; z < split->zone_count; z++) {
        const struct er_zone_result *zone = &split->result.zones[z];
        const struct er_piece *piece = &split->pieces[z];
        char beds[64];
        snprintf(beds, sizeof beds, "%zu-%zu", piece->first_bed + 1,
                 piece->first_bed + piece->bed_count);
        er_table_text(&table, z, 0, split->field.zones[z].name);
        er_table_text(&table, z, 1, page->ask->field->zones[piece->zone].name);
        er_table_text(&table, z, 2, beds);
        er_table_number(&table, z, 3, zone->flow);
        er_table_number(&table, z, 4, 100.0 * zone->emission_uniformity);
        er_table_number(&table, z, 5, zone->emitter_pressure.min);
        er_table_clock(&table, z, 6, zone->run_time);
        er_table_number(&table, z, 7, (double)zone->set + 1.0);
    }
    er_table_finish(&table, page->out);
}

/* The new sections: what has to be laid. */
static void append_mainline(const struct page *page)
{
    static const struct er_column columns[] = {
        {"section", ER_COLUMN_WORDS, ER_NO_UNIT}, {"from the\nend of", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"pipe", ER_COLUMN_WORDS, ER_NO_UNIT},    {"length", ER_COLUMN_NUMBER, ER_LENGTH},
        {"rise", ER_COLUMN_NUMBER, ER_LENGTH},
    };
    const struct er_field *field = &page->split->field;
    size_t old = page->ask->field->section_count;
    struct er_table table;
    if (field->section_count == old) {
        return;
    }
    er_text_append(page->out, "\nThe mainline goes on, along the old header\n\n");
    er_table_init(&table, page->ask->speaks, columns, sizeof columns / sizeof columns[0],
                  field->section_count - old);
    for (size_t s = old; s < field->section_count; s++) {
        const struct er_section *section = &field->mainline[s];
        const char *from =
            section->from == ER_HEADWORKS ? "headworks" : field->mainline[section->from].name;
        er_table_text(&table, s - old, 0, section->name);
        er_table_text(&table, s - old, 1, from);
        if (section->pipe->name != NULL) {
            er_table_text(&table, s - old, 2, section->pipe->name);
        }
        er_table_number(&table, s - old, 3, section->length);
        er_table_number(&table, s - old, 4, section->rise);
    }
    er_table_finish(&table, page->out);
}

#define PAIRS_MOST 12 /* that a page lists; JSON has all */

/* Zones that may run two at a time, and what that saves. */
static void append_together(const struct page *page)
{
    static const struct er_column columns[] = {
        {"together", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"flow", ER_COLUMN_NUMBER, ER_FLOW},
        {"saves a day\nh:min", ER_COLUMN_RIGHT, ER_NO_UNIT},
    };
    const struct er_split *split = page->split;
    const size_t rows = split->pair_count < PAIRS_MOST ? split->pair_count : PAIRS_MOST;
    struct er_text text;
    if (split->zone_count < 2)
        return;
    er_append_heading(page->out, "Zones that may run together, two at a time");
    er_text_init(&text);
    if (!split->pairs_tried) {
        er_text_append(&text, "There are too many zones to try every two. Write \"sets\" into the "
                              "field file and let 'evenrow check' judge them.");
    } else if (rows == 0) {
        append_nearest(page, &text);
    } else {
        struct er_table table;
        er_table_init(&table, page->ask->speaks, columns, sizeof columns / sizeof columns[0], rows);
        for (size_t p = 0; p < rows; p++) {
            append_pair(page, &text, split->pairs[p].zones);
            er_table_text(&table, p, 0, er_text_string(&text));
            er_text_clear(&text);
            er_table_number(&table, p, 1, split->pairs[p].flow);
            er_table_clock(&table, p, 2, split->pairs[p].hours_saved);
        }
        er_table_finish(&table, page->out);
        if (rows < split->pair_count)
            er_text_appendf(page->out, "\nand %zu more: '--format json' lists all.\n",
                            split->pair_count - rows);
        er_text_append(page->out, "\n");
        er_text_append(&text, "To run two together, put them into one set in the field file, as in "
                              "\"sets\": [[\"");
        append_name(page, &text, split->pairs[0].zones[0]);
        er_text_append(&text, "\", \"");
        append_name(page, &text, split->pairs[0].zones[1]);
        er_text_append(&text, split->zone_count > 2 ? "\"], ...], and run 'evenrow check'."
                                                    : "\"]], and run 'evenrow check'.");
    }
    er_finish_paragraph(page->out, &text);
}

static void append_day(const struct page *page)
{
    const struct er_day_result *day = &page->split->result.day;
    if (!er_given(day->hours_needed)) {
        return;
    }
    er_text_append(page->out, "\nWatering takes ");
    er_append_clock(page->out, day->hours_needed);
    er_text_append(page->out, " of the ");
    er_append_clock(page->out, day->hours_available);
    er_text_append(page->out, " hours a day.\n");
}

/* The codes of the cautions that are left. */
static void append_cautions(const struct page *page)
{
    const struct er_result *result = &page->split->result;
    struct er_text text;
    if (result->finding_count == 0) {
        return;
    }
    er_text_init(&text);
    er_text_append(&text, "Cautions are left: ");
    for (size_t f = 0, told = 0; f < result->finding_count; f++) {
        if (f == 0 || result->findings[f].code != result->findings[f - 1].code) {
            er_text_append(&text, told++ > 0 ? ", " : "");
            er_text_append(&text, er_finding_kind(result->findings[f].code)->code);
        }
    }
    er_text_append(&text, ". 'evenrow check' explains them.");
    er_text_append(page->out, "\n");
    er_append_paragraph(page->out, &text);
    er_text_release(&text);
}

static void append_remedies(const struct page *page)
{
    const struct er_split *split = page->split;
    er_text_append(page->out, "\nWhat would help\n\n");
    if (split->remedy_count == 0) {
        er_paragraph(page->out, "", "",
                     split->obstacle.kind == ER_OBSTACLE_RUNS
                         ? "Water more often, or allow more hours a day."
                         : "No change of the source's flow, the hours, the pressure or one size of "
                           "pipe helps by itself: more than one thing must change.");
        return;
    }
    for (size_t r = 0; r < split->remedy_count; r++) {
        struct er_text text;
        er_text_init(&text);
        er_say_remedy(page->ask, &split->remedies[r], &text);
        er_paragraph(page->out, "  - ", "    ", er_text_string(&text));
        page->out->out_of_memory = page->out->out_of_memory || text.out_of_memory;
        er_text_release(&text);
    }
    er_text_append(page->out, "\n");
    er_paragraph(page->out, "", "",
                 "Each was worked out by itself, everything else as it is, and is the least that "
                 "does.");
}

enum er_status er_report_split_text(const struct er_split_ask *ask, const struct er_split *split,
                                    struct er_text *out)
{
    const struct page page = {ask, split, out};
    append_answer(&page);
    append_tries(&page);
    if (split->answer == ER_SPLIT_NONE) {
        append_remedies(&page);
    } else {
        append_zones(&page);
        append_mainline(&page);
        append_together(&page);
        append_day(&page);
        append_cautions(&page);
    }
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
