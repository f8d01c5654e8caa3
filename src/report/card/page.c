/* The sheets for the pump house, one for each set, and one for the season. */
#include <math.h>
#include <string.h>

#include "names/names.h"
#include "report/card/report.h"
#include "report/card/words.h"
#include "report/report.h"
#include "report/season/runs.h"
#include "report/season/words.h"

#define LOG_ROWS 10 /* less one for each zone, so that the sheet stays a page */
#define LEAST_LOG_ROWS 3
#define ROOMY 2    /* zones of a set that fit on a page in type of the usual size */
#define SHOWS 0.01 /* of a reading: what a dirty filter must change for the beds to show it */
#define ZONE_COLUMNS 8

static const struct er_zone *zone_at(const struct er_card_sheet *sheet, size_t z)
{
    return &sheet->field->zones[sheet->field->sets[sheet->set].zones[z]];
}

static size_t zones_of(const struct er_card_sheet *sheet)
{
    return sheet->field->sets[sheet->set].zone_count;
}

/* "low, middle and hill" */
static const char *zone_names(const struct er_card_sheet *sheet)
{
    const char *names = "";
    size_t count = zones_of(sheet);
    for (size_t z = 0; z < count; z++) {
        names = er_pen_joined(&sheet->page->pen, names, z + 1 < count ? ", " : " and ",
                              zone_at(sheet, z)->name);
    }
    return names;
}

/* ---- turning on ---- */

/* "every day", "every 2 days" */
static const char *every_words(struct er_pen *pen, double every)
{
    return every < 1.0 || every > 1.0 ? er_pen_text(pen, "every %s days", er_pen_number(pen, every))
                                      : "every day";
}

/* How long one zone runs. */
static void write_hours(const struct er_card_sheet *sheet, size_t z)
{
    struct er_pen *pen = &sheet->page->pen;
    size_t zone = sheet->field->sets[sheet->set].zones[z];
    double run_time = sheet->card->result->zones[zone].run_time;
    const char *which =
        zones_of(sheet) == 1 ? "it" : er_pen_text(pen, "zone %s", zone_at(sheet, z)->name);
    const char *how_long = ER_BLANK " (h:min) every ______ days";
    if (isfinite(run_time) && sheet->card->season != NULL && !(run_time > 0.0)) {
        how_long = "not at all";
    } else if (isfinite(run_time)) {
        how_long = er_pen_text(pen, "%s (h:min) %s", er_pen_clock(pen, run_time),
                               every_words(pen, zone_at(sheet, z)->water.every));
    }
    er_page_item(sheet->page, "Run %s %s%s.", which, how_long, er_card_runs(sheet, zone));
}

/* Whose run times these are. */
static void write_whose(const struct er_card_sheet *sheet)
{
    const struct er_season_plan *plan = sheet->card->season;
    if (plan != NULL) {
        er_page_item(sheet->page,
                     "That is for the season's longest days, in the week from %s. The last sheet "
                     "has the other weeks.",
                     er_date_words(&sheet->page->pen, plan->weeks[plan->peak].first));
    } else if (sheet->field->has_water) {
        er_page_item(sheet->page, "That is for the need in the plan. Run less when the crop needs "
                                  "less.");
    }
}

/* When the set starts: a blank, and what the run times of those before it make of it. */
static const char *start_words(const struct er_card_sheet *sheet)
{
    struct er_pen *pen = &sheet->page->pen;
    const struct er_set_result *sets = sheet->card->result->sets;
    double before = 0.0;
    size_t first = sheet->set; /* of those that run on the same day */
    size_t days = 0;
    for (size_t s = 0; s < sheet->field->set_count; s++) {
        days = sets[s].run_day > days ? sets[s].run_day : days;
        if (s < sheet->set && sets[s].run_day == sets[sheet->set].run_day) {
            before += sets[s].run_time;
            first = s < first ? s : first;
        }
    }
    const char *day =
        days > 1 ? er_pen_text(pen, " on day %zu of %zu", sets[sheet->set].run_day, days) : "";
    const char *after =
        sheet->set > first && isfinite(before)
            ? er_pen_text(pen,
                          ": where the sets follow one another, %s (h:min) after set %zu started",
                          er_pen_clock(pen, before), first + 1)
            : "";
    return er_pen_text(pen, "Start at " ER_BLANK "%s%s.", day, after);
}

static void write_turn_on(const struct er_card_sheet *sheet)
{
    const char *starts = er_card_starts(sheet);
    const char *plural = zones_of(sheet) > 1 ? "s" : "";
    er_page_heading(sheet->page, "Turn on");
    er_page_item(sheet->page, "Open the valve%s of zone%s %s%s", plural, plural, zone_names(sheet),
                 sheet->field->set_count > 1 ? "; keep those of all other zones shut." : ".");
    er_page_item(sheet->page, "%s", starts != NULL ? starts : start_words(sheet));
    for (size_t z = 0; z < zones_of(sheet); z++) {
        write_hours(sheet, z);
    }
    write_whose(sheet);
}

/* ---- the readings ---- */

/* A line of the first table. */
static void put_line(const struct er_card_sheet *sheet, struct er_table *table, size_t row,
                     const char *label, enum er_quantity quantity, const double values[2])
{
    struct er_pen *pen = &sheet->page->pen;
    size_t states = sheet->card->sets[sheet->set].gets_dirty ? 2 : 1;
    er_table_text(table, row, 0, label);
    for (size_t state = 0; state < states; state++) {
        er_table_text(table, row, 1 + state, er_pen_figure(pen, quantity, values[state]));
    }
    er_table_text(table, row, 1 + states, ER_BLANK);
}

/* Meter, source and headworks. */
static void write_headworks(const struct er_card_sheet *sheet)
{
    static const struct er_column with_dirt[] = {
        {"in the pump house", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"filter\nclean", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"filter due\nfor cleaning", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"read on\n" ER_BLANK, ER_COLUMN_RIGHT, ER_NO_UNIT},
    };
    static const struct er_column without[] = {
        {"in the pump house", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"planned", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"read on\n" ER_BLANK, ER_COLUMN_RIGHT, ER_NO_UNIT},
    };
    const struct er_card_set *set = &sheet->card->sets[sheet->set];
    const struct er_set_readings *clean = set->readings, *dirty = &clean[ER_FILTERS_DIRTY];
    size_t parts = sheet->field->headworks_count;
    struct er_table *table = er_page_table(sheet->page, set->gets_dirty ? with_dirt : without,
                                           set->gets_dirty ? 4 : 3, 2 + parts);
    put_line(sheet, table, 0, "meter", ER_FLOW, (const double[]){clean->flow, dirty->flow});
    put_line(sheet, table, 1, "gauge at the source", ER_PRESSURE,
             (const double[]){clean->source_pressure, dirty->source_pressure});
    for (size_t p = 0; p < parts; p++) {
        const char *name = sheet->field->headworks[p].name;
        struct er_pen *pen = &sheet->page->pen;
        put_line(sheet, table, 2 + p,
                 name != NULL ? er_pen_text(pen, "behind %s", name)
                              : er_pen_text(pen, "behind part %zu", p + 1),
                 ER_PRESSURE, (const double[]){clean->after_part[p], dirty->after_part[p]});
    }
}

static bool differs(double clean, double dirty) { return fabs(dirty - clean) > SHOWS * clean; }

/* Whether a dirty filter is felt at a zone's beds; behind a regulator mostly not. */
static bool dirt_shows(const struct er_card_sheet *sheet, size_t z)
{
    const struct er_zone_readings *clean = sheet->card->sets[sheet->set].zones[z].readings;
    const struct er_zone_readings *dirty = &clean[ER_FILTERS_DIRTY];
    return differs(clean->flow, dirty->flow) ||
           differs(clean->inlet_pressure, dirty->inlet_pressure);
}

/* One zone's readings in one state of the filters. */
static void put_zone(const struct er_card_sheet *sheet, struct er_table *table, size_t row,
                     size_t z, const char *state, const struct er_zone_readings *readings)
{
    const double pressures[] = {readings->inlet_pressure, readings->first.inlet_pressure,
                                readings->first.far_end_pressure, readings->last.inlet_pressure,
                                readings->last.far_end_pressure};
    struct er_pen *pen = &sheet->page->pen;
    er_table_text(table, row, 0, zone_at(sheet, z)->name);
    er_table_text(table, row, 1, state);
    er_table_text(table, row, 2, er_pen_bare(pen, ER_FLOW, readings->flow));
    for (size_t p = 0; p < sizeof pressures / sizeof pressures[0]; p++) {
        er_table_text(table, row, 3 + p, er_pen_bare(pen, ER_PRESSURE, pressures[p]));
    }
}

/* A zone's rows: the plan, with the filter due beside it where that shows, and a line to write on.
 * Returns the next row. */
static size_t put_zone_rows(const struct er_card_sheet *sheet, struct er_table *table, size_t row,
                            size_t z)
{
    const struct er_zone_readings *clean = sheet->card->sets[sheet->set].zones[z].readings;
    bool same = !dirt_shows(sheet, z);
    put_zone(sheet, table, row++, z, same ? "planned" : "filter clean", clean);
    if (!same) {
        put_zone(sheet, table, row++, z, "filter due", &clean[ER_FILTERS_DIRTY]);
    }
    er_table_text(table, row, 0, "read");
    er_table_text(table, row, 1, "");
    for (size_t c = 2; c < ZONE_COLUMNS; c++) {
        er_table_text(table, row, c, ER_BLANK);
    }
    return row + 1;
}

/* What gauges show at the beds. */
static void write_beds(const struct er_card_sheet *sheet)
{
    static const struct er_column columns[ZONE_COLUMNS] = {
        {"at the beds,\nzone", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"zone's\nflow", ER_COLUMN_RIGHT, ER_FLOW},
        {"header\nfed at", ER_COLUMN_RIGHT, ER_PRESSURE},
        {"first\nbed in", ER_COLUMN_RIGHT, ER_PRESSURE},
        {"first bed\nfar end", ER_COLUMN_RIGHT, ER_PRESSURE},
        {"last\nbed in", ER_COLUMN_RIGHT, ER_PRESSURE},
        {"last bed\nfar end", ER_COLUMN_RIGHT, ER_PRESSURE},
    };
    size_t rows = 0;
    for (size_t z = 0; z < zones_of(sheet); z++) {
        rows += dirt_shows(sheet, z) ? 3 : 2;
    }
    struct er_table *table = er_page_table(sheet->page, columns, ZONE_COLUMNS, rows);
    size_t row = 0;
    for (size_t z = 0; z < zones_of(sheet); z++) {
        row = put_zone_rows(sheet, table, row, z);
    }
}

static void write_readings(const struct er_card_sheet *sheet)
{
    er_page_heading(sheet->page, "What meter and gauges should show, once the pressure stands");
    write_headworks(sheet);
    write_beds(sheet);
    er_page_paragraph(sheet->page,
                      "First and last bed are those at the header's two ends; \"in\" is where the "
                      "tape begins.%s",
                      sheet->card->sets[sheet->set].gets_dirty
                          ? " Clean the filter when the gauges come near what they show with the "
                            "filter due."
                          : "");
}

static void write_log(const struct er_card_sheet *sheet)
{
    static const struct er_column columns[] = {
        {"date", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"start", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"stop", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"meter", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"source", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"behind\nfilter", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"cleaned,\nflushed", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"by", ER_COLUMN_RIGHT, ER_NO_UNIT},
    };
    size_t count = sizeof columns / sizeof columns[0], zones = zones_of(sheet);
    size_t rows = zones + LEAST_LOG_ROWS < LOG_ROWS ? LOG_ROWS - zones : LEAST_LOG_ROWS;
    er_page_heading(sheet->page, "Log");
    struct er_table *table = er_page_table(sheet->page, columns, count, rows);
    for (size_t i = 0; i < rows * count; i++) {
        er_table_text(table, i / count, i % count, ER_BLANK);
    }
}

/* ---- the sheets ---- */

/* A plan that fails is no plan to run by. */
static void write_verdict(const struct er_card_sheet *sheet)
{
    const struct er_season_plan *plan = sheet->card->season;
    const struct er_result *result = sheet->card->result;
    struct er_pen *pen = &sheet->page->pen;
    if (plan == NULL && result->verdict == ER_FAILS) {
        er_page_warning(sheet->page, "%s", er_plan_fails(pen, result, "run by this card"));
    } else if (plan != NULL && plan->verdict == ER_FAILS) {
        er_page_warning(sheet->page, "%s%s", plan->result->verdict == ER_FAILS ? "" : "THE SEASON ",
                        er_season_failure(pen, plan));
    }
}

static void write_sheet(const struct er_card_sheet *sheet)
{
    struct er_page *page = sheet->page;
    er_page_sheet(page,
                  er_pen_text(&page->pen, "Set %zu of %zu: %s", sheet->set + 1,
                              sheet->field->set_count, zone_names(sheet)),
                  sheet->field->title, zones_of(sheet) > ROOMY);
    write_verdict(sheet);
    er_page_side(page, ER_BLOCK_LEFT);
    write_turn_on(sheet);
    er_page_side(page, ER_BLOCK_RIGHT);
    er_card_cautions(page);
    er_page_side(page, ER_BLOCK_ACROSS);
    write_readings(sheet);
    er_card_meter(sheet);
    er_card_flushing(sheet);
    write_log(sheet);
}

static void write_season(struct er_page *page, const struct er_season_plan *plan)
{
    er_page_sheet(page, "The season, week by week", plan->field->title, false);
    er_page_paragraph(page, "So long each zone runs, each time. It is what a week's mean day "
                            "needs: run longer in a hot spell, and look at the soil.");
    er_season_runs(page, plan);
}

static void write_page(const void *result, struct er_page *page)
{
    const struct er_card *card = result;
    struct er_card_sheet sheet = {.card = card, .field = card->result->field, .page = page};
    for (sheet.set = 0; sheet.set < sheet.field->set_count; sheet.set++) {
        write_sheet(&sheet);
    }
    if (card->season != NULL) {
        write_season(page, card->season);
    }
}

const struct er_report er_card_report = {.page = write_page};
