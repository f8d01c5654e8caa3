/* Into which zones a field is divided, for a person. */
#include <math.h>

#include "report/split/report.h"

#define ROWS_MOST 24 /* of numbers tried, before those that fail alike are put together */
#define PAIRS_IN_ANSWER 3
#define PAIRS_MOST 12 /* that a page lists; JSON has all */

/* ---- the answer ---- */

/* "beds 1-4, 5-8 and 9-12 of zone east, zone west whole" */
static const char *beds_words(struct er_pen *pen, const struct er_splitting *of)
{
    const struct er_split *split = of->split;
    const char *all = "", *beds = "";
    for (size_t p = 0; p < split->zone_count; p++) {
        const struct er_piece *piece = &split->pieces[p];
        const char *zone = er_pen_visible(pen, of->ask->field->zones[piece->zone].name);
        bool first = p == 0 || split->pieces[p - 1].zone != piece->zone;
        bool last = p + 1 == split->zone_count || split->pieces[p + 1].zone != piece->zone;
        const char *here = piece->bed_count > 1 ? er_pen_text(pen, "%zu-%zu", piece->first_bed + 1,
                                                              piece->first_bed + piece->bed_count)
                                                : er_pen_text(pen, "%zu", piece->first_bed + 1);
        beds = first ? here : er_pen_joined(pen, beds, last ? " and " : ", ", here);
        if (first && last) {
            all = er_pen_joined(pen, all, ", ", er_pen_text(pen, "zone %s whole", zone));
        } else if (last) {
            all = er_pen_joined(pen, all, ", ", er_pen_text(pen, "beds %s of zone %s", beds, zone));
        }
    }
    return all;
}

static const char *zone_name(struct er_pen *pen, const struct er_split *split, size_t zone)
{
    return er_pen_visible(pen, split->field.zones[zone].name);
}

/* "low and hill" */
static const char *pair_words(struct er_pen *pen, const struct er_split *split, const size_t *zones)
{
    return er_pen_text(pen, "%s and %s", zone_name(pen, split, zones[0]),
                       zone_name(pen, split, zones[1]));
}

/* Which zones may run two at a time. */
static const char *pairs_words(struct er_pen *pen, const struct er_split *split)
{
    const char *pairs = "";
    for (size_t p = 0; p < split->pair_count && p < PAIRS_IN_ANSWER; p++) {
        pairs = er_pen_joined(pen, pairs, "; ", pair_words(pen, split, split->pairs[p].zones));
    }
    return split->pair_count > PAIRS_IN_ANSWER ? er_pen_text(pen, "%s; and %zu more pairs", pairs,
                                                             split->pair_count - PAIRS_IN_ANSWER)
                                               : pairs;
}

/* The file's own sets of several zones, where it has some; else "". */
static const char *own_sets(struct er_pen *pen, const struct er_split *split)
{
    const struct er_field *field = &split->field;
    const char *sets = "";
    for (size_t s = 0; s < field->set_count; s++) {
        const struct er_set *set = &field->sets[s];
        const char *zones = "";
        for (size_t z = 0; z < set->zone_count; z++) {
            zones = er_pen_joined(pen, zones, z + 1 < set->zone_count ? ", " : " and ",
                                  zone_name(pen, split, set->zones[z]));
        }
        if (set->zone_count > 1) {
            sets = er_pen_joined(pen, sets, "; ", er_pen_text(pen, "%s run together", zones));
        }
    }
    return sets[0] != '\0' ? er_pen_text(pen, " in the file's sets: %s", sets) : "";
}

static const char *passing(struct er_pen *pen, const struct er_split *split)
{
    const bool none = split->pairs_tried && split->pair_count == 0;
    const bool several = split->zone_count > 1;
    const char *sets = own_sets(pen, split);
    const char *together =
        several && !none && split->pairs_tried
            ? er_pen_text(pen, " These may run together: %s.", pairs_words(pen, split))
            : "";
    return er_pen_text(pen, "%s: the field passes as it is, %zu zone%s%s.%s",
                       none ? "NOTHING TO SPLIT" : "NO SPLIT NEEDED", split->zone_count,
                       split->zone_count == 1 ? "" : "s",
                       sets[0] == '\0' && several ? " one at a time" : sets, together);
}

static const char *answer(struct er_pen *pen, const struct er_splitting *of)
{
    const struct er_split *split = of->split;
    const size_t wanted = of->ask->zones;
    const char *zones = split->zone_count == 1 ? "ZONE" : "ZONES";
    switch (split->answer) {
    case ER_SPLIT_PASSES:
        return passing(pen, split);
    case ER_SPLIT_FOUND:
        return er_pen_text(pen, "%zu %s: %s%s", split->zone_count, zones, beds_words(pen, of),
                           split->zone_count > 1 ? ", one zone running at a time." : ".");
    case ER_SPLIT_SETS:
        return er_pen_text(pen,
                           "%zu %s IN %zu SETS: %s. One after another the hours would be too "
                           "short; two run together where the source can feed two.",
                           split->zone_count, zones, split->field.set_count, beds_words(pen, of));
    case ER_SPLIT_NONE:
        break;
    }
    return er_pen_text(pen, "%s: %s.",
                       wanted > 0
                           ? er_pen_text(pen, "NOT WITH %zu ZONE%s", wanted, wanted == 1 ? "" : "S")
                           : "NO NUMBER OF ZONES PASSES",
                       er_split_obstacle(pen, of->ask, split));
}

/* ---- what was tried ---- */

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

/* Why a number of zones does not do: the first sentence of what its finding says; where several
 * are told as one, what the finding means. */
static void put_reason(struct er_pen *pen, struct er_table *table, size_t row,
                       const struct er_split_try *try, bool several)
{
    if (try->passes) {
        er_table_text(table, row, 3, "passes");
        er_table_text(table, row, 4, "");
    } else if (try->text == NULL) {
        er_table_text(table, row, 4, "its flows could not be solved");
    } else {
        const struct er_finding_kind *kind = er_finding_kind(try->code);
        er_table_text(table, row, 3, kind->code);
        er_table_text(table, row, 4, er_pen_sentence(pen, several ? kind->when : try->text));
    }
}

static void write_tries(struct er_page *page, const struct er_split *split)
{
    static const struct er_column columns[] = {
        {"zones", ER_COLUMN_RIGHT, ER_NO_UNIT},    {"least\nflow", ER_COLUMN_NUMBER, ER_FLOW},
        {"most\nflow", ER_COLUMN_NUMBER, ER_FLOW}, {"outcome", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"why not", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    size_t rows = 0;
    for (size_t t = 0; t < split->try_count; t += alike(split, t)) {
        rows++;
    }
    er_page_heading(page, "Numbers of zones tried, and the flow of their zones");
    struct er_table *table = er_page_table(page, ER_ALL(columns), rows);
    for (size_t row = 0, t = 0; row < rows; row++) {
        size_t count = alike(split, t);
        const struct er_split_try *first = &split->tries[t], *last = &split->tries[t + count - 1];
        er_table_text(table, row, 0,
                      first->zones < last->zones
                          ? er_pen_text(&page->pen, "%zu-%zu", first->zones, last->zones)
                          : er_pen_text(&page->pen, "%zu", first->zones));
        er_table_number(table, row, 1, fmin(first->flow.min, last->flow.min));
        er_table_number(table, row, 2, fmax(first->flow.max, last->flow.max));
        put_reason(&page->pen, table, row, first, count > 1);
        t += count;
    }
    if (split->try_count > 1 || split->answer == ER_SPLIT_NONE) {
        er_page_paragraph(page, "Of a number that does not do, no division passes; flows and "
                                "reason are those of its most even one.");
    }
}

/* ---- the plan ---- */

static const char *new_name(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)pen, (void)row;
    return ((const struct er_splitting *)result)->split->field.zones[place].name;
}

static const char *old_name(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)pen, (void)row;
    const struct er_splitting *of = result;
    return of->ask->field->zones[of->split->pieces[place].zone].name;
}

static const char *bed_numbers(struct er_pen *pen, const void *result, const void *row,
                               size_t place)
{
    (void)row;
    const struct er_piece *piece = &((const struct er_splitting *)result)->split->pieces[place];
    return er_pen_text(pen, "%zu-%zu", piece->first_bed + 1, piece->first_bed + piece->bed_count);
}

static const char *set_number(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)result, (void)place;
    return er_pen_text(pen, "%zu", ((const struct er_zone_result *)row)->set + 1);
}

static void write_zones(struct er_page *page, const struct er_splitting *of)
{
    static const struct er_filled columns[] = {
        ER_WORDS_COLUMN("zone", new_name),
        ER_WORDS_COLUMN("of zone", old_name),
        ER_RIGHT_COLUMN("beds", bed_numbers),
        ER_FIGURE_COLUMN("flow", ER_FLOW, struct er_zone_result, flow),
        ER_PERCENT_COLUMN("EU\n%", struct er_zone_result, emission_uniformity),
        ER_FIGURE_COLUMN("lowest\nemitter", ER_PRESSURE, struct er_zone_result,
                         emitter_pressure.min),
        ER_CLOCK_COLUMN("runs\nh:min", struct er_zone_result, run_time),
        ER_RIGHT_COLUMN("set", set_number),
    };
    er_page_heading(page, "The zones");
    er_page_rows(page, ER_ALL(columns), of->split->result.zones, sizeof *of->split->result.zones,
                 of->split->zone_count, of);
}

static const char *section_from(struct er_pen *pen, const void *result, const void *row,
                                size_t place)
{
    (void)pen, (void)place;
    const struct er_field *field = &((const struct er_splitting *)result)->split->field;
    const struct er_section *section = row;
    return section->from == ER_HEADWORKS ? "headworks" : field->mainline[section->from].name;
}

static const char *section_name(struct er_pen *pen, const void *result, const void *row,
                                size_t place)
{
    (void)pen, (void)result, (void)place;
    return ((const struct er_section *)row)->name;
}

static const char *section_pipe(struct er_pen *pen, const void *result, const void *row,
                                size_t place)
{
    (void)pen, (void)result, (void)place;
    return ((const struct er_section *)row)->pipe->name;
}

/* The new sections: what has to be laid. */
static void write_mainline(struct er_page *page, const struct er_splitting *of)
{
    static const struct er_filled columns[] = {
        ER_WORDS_COLUMN("section", section_name),
        ER_WORDS_COLUMN("from the\nend of", section_from),
        ER_WORDS_COLUMN("pipe", section_pipe),
        ER_FIGURE_COLUMN("length", ER_LENGTH, struct er_section, length),
        ER_FIGURE_COLUMN("rise", ER_LENGTH, struct er_section, rise),
    };
    const struct er_field *field = &of->split->field;
    size_t old = of->ask->field->section_count;
    if (field->section_count > old) {
        er_page_heading(page, "The mainline goes on, along the old header");
        er_page_rows(page, ER_ALL(columns), field->mainline + old, sizeof *field->mainline,
                     field->section_count - old, of);
    }
}

/* ---- zones that may run together ---- */

static const char *pair_names(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)place;
    return pair_words(pen, result, ((const struct er_split_pair *)row)->zones);
}

/* Why not even the two zones with the least flow may run together. */
static void write_nearest(struct er_page *page, const struct er_split *split)
{
    const struct er_split_pair *nearest = &split->nearest;
    const char *even = pair_words(&page->pen, split, nearest->zones);
    if (nearest->code == ER_FINDING_COUNT) {
        er_page_paragraph(page, "No two zones may run together: even %s could not be solved.",
                          even);
    } else {
        const struct er_finding_kind *kind = er_finding_kind(nearest->code);
        er_page_paragraph(page,
                          "No two zones may run together: even %s, which take the least flow, fail "
                          "(%s: %s).",
                          even, kind->code, kind->when);
    }
}

static void write_pairs(struct er_page *page, const struct er_split *split)
{
    static const struct er_filled columns[] = {
        ER_WORDS_COLUMN("together", pair_names),
        ER_FIGURE_COLUMN("flow", ER_FLOW, struct er_split_pair, flow),
        ER_CLOCK_COLUMN("saves a day\nh:min", struct er_split_pair, hours_saved),
    };
    const size_t rows = split->pair_count < PAIRS_MOST ? split->pair_count : PAIRS_MOST;
    er_page_rows(page, ER_ALL(columns), split->pairs, sizeof *split->pairs, rows, split);
    if (rows < split->pair_count) {
        er_page_paragraph(page, "and %zu more: '--format json' lists all.",
                          split->pair_count - rows);
    }
    er_page_paragraph(page,
                      "To run two together, put them into one set in the field file, as in "
                      "\"sets\": [[\"%s\", \"%s\"]%s], and run 'evenrow check'.",
                      zone_name(&page->pen, split, split->pairs[0].zones[0]),
                      zone_name(&page->pen, split, split->pairs[0].zones[1]),
                      split->zone_count > 2 ? ", ..." : "");
}

/* Zones that may run two at a time, and what that saves. */
static void write_together(struct er_page *page, const struct er_split *split)
{
    if (split->zone_count < 2) {
        return;
    }
    er_page_heading(page, "Zones that may run together, two at a time");
    if (!split->pairs_tried) {
        er_page_paragraph(page,
                          "There are too many zones to try every two. Write \"sets\" into the "
                          "field file and let 'evenrow check' judge them.");
    } else if (split->pair_count == 0) {
        write_nearest(page, split);
    } else {
        write_pairs(page, split);
    }
}

/* ---- the rest ---- */

static void write_day(struct er_page *page, const struct er_day_result *day)
{
    if (er_given(day->hours_needed)) {
        er_page_paragraph(page, "Watering takes %s of the %s hours a day.",
                          er_pen_clock(&page->pen, day->hours_needed),
                          er_pen_clock(&page->pen, day->hours_available));
    }
}

/* The codes of the cautions that are left. */
static void write_cautions(struct er_page *page, const struct er_result *result)
{
    const char *codes = "";
    for (size_t f = 0; f < result->finding_count; f++) {
        if (f == 0 || result->findings[f].code != result->findings[f - 1].code) {
            codes = er_pen_joined(&page->pen, codes, ", ",
                                  er_finding_kind(result->findings[f].code)->code);
        }
    }
    if (result->finding_count > 0) {
        er_page_paragraph(page, "Cautions are left: %s. 'evenrow check' explains them.", codes);
    }
}

static void write_remedies(struct er_page *page, const struct er_splitting *of)
{
    const struct er_split *split = of->split;
    er_page_heading(page, "What would help");
    if (split->remedy_count == 0) {
        er_page_paragraph(page, "%s",
                          split->obstacle.kind == ER_OBSTACLE_RUNS
                              ? "Water more often, or allow more hours a day."
                              : "No change of the source's flow, the hours, the pressure or one "
                                "size of pipe helps by itself: more than one thing must change.");
        return;
    }
    for (size_t r = 0; r < split->remedy_count; r++) {
        er_page_item(page, "%s", er_split_remedy(&page->pen, of->ask, &split->remedies[r]));
    }
    er_page_paragraph(page, "Each was worked out by itself, everything else as it is, and is the "
                            "least that does.");
}

void er_split_page(const void *result, struct er_page *page)
{
    const struct er_splitting *of = result;
    er_page_paragraph(page, "%s", answer(&page->pen, of));
    er_page_title(page, of->ask->field->title);
    write_tries(page, of->split);
    if (of->split->answer == ER_SPLIT_NONE) {
        write_remedies(page, of);
    } else {
        write_zones(page, of);
        write_mainline(page, of);
        write_together(page, of->split);
        write_day(page, &of->split->result.day);
        write_cautions(page, &of->split->result);
    }
}
