#include <math.h>

#include "report/card_words.h"
#include "report/report.h"
#include "report/season_runs.h"
#include "report/season_words.h"
#include "say/say.h"

#define COLUMNS(columns) (columns), sizeof(columns) / sizeof((columns)[0])
#define LOG_ROWS 10 /* less one for each zone, so that the sheet stays a page */
#define LEAST_LOG_ROWS 3
#define ROOMY 2 /* zones of a set that fit on a page in type of the usual size */

static const struct er_field *field_of(const struct er_sheet *sheet)
{
    return sheet->card->result->field;
}

static const struct er_zone *zone_at(const struct er_sheet *sheet, size_t z)
{
    return &field_of(sheet)->zones[field_of(sheet)->sets[sheet->set].zones[z]];
}

/* "low, middle and hill" */
static void say_zones(struct er_sheet *sheet, struct er_text *out)
{
    size_t count = field_of(sheet)->sets[sheet->set].zone_count;
    for (size_t z = 0; z < count; z++) {
        er_text_append(out, z == 0 ? "" : z + 1 < count ? ", " : " and ");
        er_text_append(out, zone_at(sheet, z)->name);
    }
}

/* The valves to open. */
static void append_valves(struct er_sheet *sheet)
{
    size_t count = field_of(sheet)->sets[sheet->set].zone_count;
    er_text_appendf(&sheet->text, "Open the valve%s of zone%s ", count > 1 ? "s" : "",
                    count > 1 ? "s" : "");
    say_zones(sheet, &sheet->text);
    er_text_append(&sheet->text,
                   field_of(sheet)->set_count > 1 ? "; keep those of all other zones shut." : ".");
    er_leaf_item(sheet->leaf, &sheet->text);
}

/* "every day", "every 2 days" */
static void say_every(struct er_text *out, double every)
{
    if (every < 1.0 || every > 1.0) {
        er_text_append(out, "every ");
        er_append_number(out, every);
        er_text_append(out, " days");
    } else {
        er_text_append(out, "every day");
    }
}

/* How long one zone runs. */
static void append_hours(struct er_sheet *sheet, size_t z)
{
    size_t zone = field_of(sheet)->sets[sheet->set].zones[z];
    const struct er_zone_result *result = &sheet->card->result->zones[zone];
    bool alone = field_of(sheet)->sets[sheet->set].zone_count == 1;
    er_text_append(&sheet->text, alone ? "Run it " : "Run zone ");
    if (!alone) {
        er_text_append(&sheet->text, zone_at(sheet, z)->name);
        er_text_append(&sheet->text, " ");
    }
    if (isfinite(result->run_time) && sheet->card->season && !(result->run_time > 0.0)) {
        er_text_append(&sheet->text, "not at all");
    } else if (isfinite(result->run_time)) {
        er_append_clock(&sheet->text, result->run_time);
        er_text_append(&sheet->text, " (h:min) ");
        say_every(&sheet->text, zone_at(sheet, z)->water.every);
    } else {
        er_text_append(&sheet->text, ER_BLANK " (h:min) every ______ days");
    }
    er_sheet_append_runs(sheet, zone);
    er_text_append(&sheet->text, ".");
    er_leaf_item(sheet->leaf, &sheet->text);
}

/* Whose run times these are. */
static void append_whose(struct er_sheet *sheet)
{
    if (sheet->card->season != NULL) {
        const struct er_season_plan *plan = sheet->card->season;
        er_text_append(&sheet->text, "That is for the season's longest days, in the week from ");
        er_append_date(&sheet->text, plan->weeks[plan->peak].first);
        er_text_append(&sheet->text, ". The last sheet has the other weeks.");
    } else if (field_of(sheet)->has_water) {
        er_text_append(&sheet->text, "That is for the need in the plan. Run less when the crop "
                                     "needs less.");
    } else {
        return;
    }
    er_leaf_item(sheet->leaf, &sheet->text);
}

/* When the set starts: a blank, and what the run times of those before it make of it. */
static void append_start(struct er_sheet *sheet)
{
    const struct er_set_result *sets = sheet->card->result->sets;
    double before = 0.0;
    size_t first = sheet->set; /* of those that run on the same day */
    size_t days = 0;
    for (size_t s = 0; s < field_of(sheet)->set_count; s++) {
        days = sets[s].run_day > days ? sets[s].run_day : days;
        if (s < sheet->set && sets[s].run_day == sets[sheet->set].run_day) {
            before += sets[s].run_time;
            first = s < first ? s : first;
        }
    }
    er_text_append(&sheet->text, "Start at " ER_BLANK);
    if (days > 1) {
        er_text_appendf(&sheet->text, " on day %zu of %zu", sets[sheet->set].run_day, days);
    }
    if (sheet->set > first && isfinite(before)) {
        er_text_append(&sheet->text, ": where the sets follow one another, ");
        er_append_clock(&sheet->text, before);
        er_text_appendf(&sheet->text, " (h:min) after set %zu started", first + 1);
    }
    er_text_append(&sheet->text, ".");
    er_leaf_item(sheet->leaf, &sheet->text);
}

static void append_turn_on(struct er_sheet *sheet)
{
    er_leaf_heading(sheet->leaf, "Turn on");
    er_leaf_list_begin(sheet->leaf, false);
    append_valves(sheet);
    if (!er_sheet_append_starts(sheet)) {
        append_start(sheet);
    }
    for (size_t z = 0; z < field_of(sheet)->sets[sheet->set].zone_count; z++) {
        append_hours(sheet, z);
    }
    append_whose(sheet);
    er_leaf_list_end(sheet->leaf);
}

/* ---- The readings ---- */

/* A line of the first table; its label is the sheet's text, which this empties. */
static void put_line(struct er_sheet *sheet, struct er_table *table, size_t row,
                     enum er_quantity quantity, double clean, double dirty)
{
    size_t column = 1;
    er_table_text(table, row, 0, er_text_string(&sheet->text));
    table->out_of_memory = table->out_of_memory || sheet->text.out_of_memory;
    er_text_clear(&sheet->text);
    er_sheet_put_figure(sheet, table, row, column++, quantity, clean, true);
    if (sheet->card->sets[sheet->set].gets_dirty) {
        er_sheet_put_figure(sheet, table, row, column++, quantity, dirty, true);
    }
    er_table_text(table, row, column, ER_BLANK);
}

static void fill_headworks(struct er_sheet *sheet, struct er_table *table)
{
    const struct er_field *field = field_of(sheet);
    const struct er_set_readings *clean = sheet->card->sets[sheet->set].readings;
    const struct er_set_readings *dirty = &clean[ER_FILTERS_DIRTY];
    er_text_append(&sheet->text, "meter");
    put_line(sheet, table, 0, ER_FLOW, clean->flow, dirty->flow);
    er_text_append(&sheet->text, "gauge at the source");
    put_line(sheet, table, 1, ER_PRESSURE, clean->source_pressure, dirty->source_pressure);
    for (size_t p = 0; p < field->headworks_count; p++) {
        er_text_append(&sheet->text, "behind ");
        if (field->headworks[p].name != NULL) {
            er_text_append(&sheet->text, field->headworks[p].name);
        } else {
            er_text_appendf(&sheet->text, "part %zu", p + 1);
        }
        put_line(sheet, table, 2 + p, ER_PRESSURE, clean->after_part[p], dirty->after_part[p]);
    }
}

/* Meter, source and headworks. */
static void append_headworks(struct er_sheet *sheet)
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
    bool dirt = sheet->card->sets[sheet->set].gets_dirty;
    struct er_table table;
    er_table_init(&table, sheet->system, dirt ? with_dirt : without, dirt ? 4 : 3,
                  2 + field_of(sheet)->headworks_count);
    fill_headworks(sheet, &table);
    er_leaf_table(sheet->leaf, &table);
}

#define ZONE_COLUMNS 8
#define SHOWS                                                                                      \
    0.01 /* of the flow: what a dirty filter must change before the beds' rows tell it             \
          */

/* Whether a dirty filter is felt at a zone's beds; behind a regulator mostly not. */
static bool dirt_shows(const struct er_sheet *sheet, size_t z)
{
    const struct er_zone_readings *clean = sheet->card->sets[sheet->set].zones[z].readings;
    const struct er_zone_readings *dirty = &clean[ER_FILTERS_DIRTY];
    return fabs(dirty->flow - clean->flow) > SHOWS * clean->flow ||
           fabs(dirty->inlet_pressure - clean->inlet_pressure) > SHOWS * clean->inlet_pressure;
}

/* One zone's readings in one state of the filters. */
static void put_zone(struct er_sheet *sheet, struct er_table *table, size_t row, size_t z,
                     const char *state, const struct er_zone_readings *readings)
{
    er_table_text(table, row, 0, zone_at(sheet, z)->name);
    er_table_text(table, row, 1, state);
    er_sheet_put_figure(sheet, table, row, 2, ER_FLOW, readings->flow, false);
    er_sheet_put_figure(sheet, table, row, 3, ER_PRESSURE, readings->inlet_pressure, false);
    er_sheet_put_figure(sheet, table, row, 4, ER_PRESSURE, readings->first.inlet_pressure, false);
    er_sheet_put_figure(sheet, table, row, 5, ER_PRESSURE, readings->first.far_end_pressure, false);
    er_sheet_put_figure(sheet, table, row, 6, ER_PRESSURE, readings->last.inlet_pressure, false);
    er_sheet_put_figure(sheet, table, row, 7, ER_PRESSURE, readings->last.far_end_pressure, false);
}

/* A zone's rows: the plan, with the filter due beside it where that shows, and a line to write on.
 * Returns the next row. */
static size_t put_zone_rows(struct er_sheet *sheet, struct er_table *table, size_t row, size_t z)
{
    const struct er_zone_readings *clean = sheet->card->sets[sheet->set].zones[z].readings;
    const struct er_zone_readings *dirty = &clean[ER_FILTERS_DIRTY];
    bool same = !dirt_shows(sheet, z);
    put_zone(sheet, table, row++, z, same ? "planned" : "filter clean", clean);
    if (!same) {
        put_zone(sheet, table, row++, z, "filter due", dirty);
    }
    er_table_text(table, row, 0, "read");
    er_table_text(table, row, 1, "");
    for (size_t c = 2; c < ZONE_COLUMNS; c++) {
        er_table_text(table, row, c, ER_BLANK);
    }
    return row + 1;
}

/* What gauges show at the beds. */
static void append_beds(struct er_sheet *sheet)
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
    size_t zones = field_of(sheet)->sets[sheet->set].zone_count;
    struct er_table table;
    size_t rows = 0;
    for (size_t z = 0; z < zones; z++) {
        rows += dirt_shows(sheet, z) ? 3 : 2;
    }
    er_table_init(&table, sheet->system, columns, ZONE_COLUMNS, rows);
    size_t row = 0;
    for (size_t z = 0; z < zones; z++) {
        row = put_zone_rows(sheet, &table, row, z);
    }
    er_leaf_table(sheet->leaf, &table);
}

static void append_readings(struct er_sheet *sheet)
{
    er_leaf_heading(sheet->leaf, "What meter and gauges should show, once the pressure stands");
    append_headworks(sheet);
    append_beds(sheet);
    er_text_append(&sheet->text, "First and last bed are those at the header's two ends; \"in\" is "
                                 "where the tape begins.");
    if (sheet->card->sets[sheet->set].gets_dirty) {
        er_text_append(&sheet->text, " Clean the filter when the gauges come near what they show "
                                     "with the filter due.");
    }
    er_leaf_paragraph(sheet->leaf, &sheet->text);
}

static void append_log(struct er_sheet *sheet)
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
    struct er_table table;
    size_t zones = field_of(sheet)->sets[sheet->set].zone_count;
    size_t rows = zones + LEAST_LOG_ROWS < LOG_ROWS ? LOG_ROWS - zones : LEAST_LOG_ROWS;
    er_table_init(&table, sheet->system, COLUMNS(columns), rows);
    for (size_t r = 0; r < rows; r++) {
        for (size_t c = 0; c < sizeof columns / sizeof columns[0]; c++) {
            er_table_text(&table, r, c, ER_BLANK);
        }
    }
    er_leaf_heading(sheet->leaf, "Log");
    er_leaf_table(sheet->leaf, &table);
}

/* A plan that fails is no plan to run by. */
static void append_verdict(struct er_sheet *sheet)
{
    const struct er_season_plan *plan = sheet->card->season;
    if ((plan != NULL ? plan->verdict : sheet->card->result->verdict) != ER_FAILS) {
        return;
    }
    if (plan != NULL) {
        er_text_append(&sheet->text, plan->result->verdict == ER_FAILS ? "" : "THE SEASON ");
        er_append_season_failure(&sheet->text, plan, sheet->system);
    } else {
        er_append_plan_fails(&sheet->text, sheet->card->result, "run by this card");
    }
    er_leaf_warning(sheet->leaf, &sheet->text);
}

static void append_sheet(struct er_sheet *sheet)
{
    const char *title = field_of(sheet)->title;
    struct er_text heading;
    er_text_init(&heading);
    er_text_appendf(&heading, "Set %zu of %zu: ", sheet->set + 1, field_of(sheet)->set_count);
    say_zones(sheet, &heading);
    er_leaf_sheet_begin(sheet->leaf, er_text_string(&heading), title != NULL ? title : "",
                        field_of(sheet)->sets[sheet->set].zone_count > ROOMY);
    sheet->leaf->out->out_of_memory = sheet->leaf->out->out_of_memory || heading.out_of_memory;
    er_text_release(&heading);
    append_verdict(sheet);
    er_leaf_pair_begin(sheet->leaf);
    append_turn_on(sheet);
    er_leaf_beside(sheet->leaf);
    er_sheet_cautions(sheet);
    er_leaf_pair_end(sheet->leaf);
    append_readings(sheet);
    er_sheet_meter(sheet);
    er_sheet_flushing(sheet);
    append_log(sheet);
    er_leaf_sheet_end(sheet->leaf);
}

static void write_runs(void *context, struct er_table *table)
{
    const struct er_sheet *sheet = context;
    er_leaf_table(sheet->leaf, table);
}

static void append_season(struct er_sheet *sheet)
{
    const char *title = field_of(sheet)->title;
    const char *note = er_season_runs_note(sheet->card->season);
    er_leaf_sheet_begin(sheet->leaf, "The season, week by week", title != NULL ? title : "", false);
    er_text_append(&sheet->text, "So long each zone runs, each time. It is what a week's mean day "
                                 "needs: run longer in a hot spell, and look at the soil.");
    er_leaf_paragraph(sheet->leaf, &sheet->text);
    er_season_runs(sheet->card->season, sheet->system, write_runs, sheet);
    if (note != NULL) {
        er_text_append(&sheet->text, note);
        er_leaf_paragraph(sheet->leaf, &sheet->text);
    }
    er_leaf_sheet_end(sheet->leaf);
}

static enum er_status append_card(const struct er_card *card, enum er_system system,
                                  struct er_leaf *leaf)
{
    const char *title = card->result->field->title;
    struct er_sheet sheet = {.card = card, .system = system, .leaf = leaf};
    er_text_init(&sheet.text);
    er_leaf_begin(leaf, title != NULL && title[0] != '\0' ? title : "Pump house card");
    for (sheet.set = 0; sheet.set < card->result->field->set_count; sheet.set++) {
        append_sheet(&sheet);
    }
    if (card->season != NULL) {
        append_season(&sheet);
    }
    er_leaf_end(leaf);
    bool out_of_memory = sheet.text.out_of_memory || leaf->out->out_of_memory;
    er_text_release(&sheet.text);
    return out_of_memory ? ER_NO_MEMORY : ER_OK;
}

enum er_status er_report_card_text(const struct er_card *card, enum er_system system,
                                   struct er_text *out)
{
    struct er_leaf leaf = {.out = out};
    return append_card(card, system, &leaf);
}

enum er_status er_report_card_html(const struct er_card *card, enum er_system system,
                                   struct er_text *out)
{
    struct er_leaf leaf = {.out = out, .html = true};
    return append_card(card, system, &leaf);
}
