#include "report/check_tables.h"

#include <math.h>
#include <stdbool.h>

#include "evenrow/season.h"
#include "report/figures.h"
#include "say/say.h"
#include "say/table.h"
#include "say/wrap.h"

#define COLUMNS(columns) (columns), sizeof(columns) / sizeof((columns)[0])

/* A paragraph below a table. */
static void append_note(struct er_check_page *page, const struct er_text *text)
{
    er_text_append(page->out, "\n");
    er_append_paragraph(page->out, text);
}

void er_check_page_rows(struct er_check_page *page)
{
    static const struct er_column columns[] = {
        {"zone", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"bed\nrows", ER_COLUMN_WHOLE, ER_NO_UNIT},
        {"flow", ER_COLUMN_NUMBER, ER_FLOW},
        {"header\nfed at", ER_COLUMN_NUMBER, ER_PRESSURE},
        {"tape in,\nlowest", ER_COLUMN_ALIKE, ER_PRESSURE},
        {"tape in,\nhighest", ER_COLUMN_ALIKE, ER_PRESSURE},
        {"lowest\nfar end", ER_COLUMN_ALIKE, ER_PRESSURE},
        {"EU\n%", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"flow\nvaries\n%", ER_COLUMN_TENTHS, ER_NO_UNIT},
    };
    const struct er_field *field = page->result->field;
    struct er_table table;
    er_table_init(&table, page->system, COLUMNS(columns), field->zone_count);
    for (size_t z = 0; z < field->zone_count; z++) {
        const struct er_zone_result *zone = &page->result->zones[z];
        er_table_text(&table, z, 0, field->zones[z].name);
        er_table_number(&table, z, 1, (double)zone->beds);
        er_table_number(&table, z, 2, zone->flow);
        er_table_number(&table, z, 3, zone->inlet_pressure);
        er_table_number(&table, z, 4, zone->tape_inlet_pressure.min);
        er_table_number(&table, z, 5, zone->tape_inlet_pressure.max);
        er_table_number(&table, z, 6, zone->far_end_pressure);
        er_table_number(&table, z, 7, 100.0 * zone->emission_uniformity);
        er_table_number(&table, z, 8, 100.0 * zone->flow_variation);
    }
    er_append_heading(page->out, "Does every row get its water?");
    er_table_finish(&table, page->out);

    struct er_text note;
    er_text_init(&note);
    er_text_append(&note, "Wanted: EU (emission uniformity: the driest plants against the average) "
                          "of ");
    er_append_number(&note, 100.0 * field->limits.uniformity);
    er_text_append(&note, " % or more, and flow that varies by ");
    er_append_number(&note, 100.0 * field->limits.flow_variation);
    er_text_append(&note, " % or less.");
    append_note(page, &note);
    er_text_release(&note);
}

void er_check_page_evenness(struct er_check_page *page)
{
    static const struct er_column columns[] = {
        {"zone", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"emitters", ER_COLUMN_WHOLE, ER_NO_UNIT},
        {"emitter\nleast", ER_COLUMN_NUMBER, ER_EMITTER_FLOW},
        {"emitter\nmean", ER_COLUMN_ALIKE, ER_EMITTER_FLOW},
        {"emitter\nmost", ER_COLUMN_ALIKE, ER_EMITTER_FLOW},
        {"Christ-\niansen\n%", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"low\nquarter\n%", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"stat-\nistical\n%", ER_COLUMN_TENTHS, ER_NO_UNIT},
    };
    const struct er_field *field = page->result->field;
    struct er_table table;
    er_table_init(&table, page->system, COLUMNS(columns), field->zone_count);
    for (size_t z = 0; z < field->zone_count; z++) {
        const struct er_zone_result *zone = &page->result->zones[z];
        er_table_text(&table, z, 0, field->zones[z].name);
        er_table_number(&table, z, 1, zone->emitters);
        er_table_number(&table, z, 2, zone->emitter_flow.min);
        er_table_number(&table, z, 3, zone->mean_emitter_flow);
        er_table_number(&table, z, 4, zone->emitter_flow.max);
        er_table_number(&table, z, 5, 100.0 * zone->christiansen);
        er_table_number(&table, z, 6, 100.0 * zone->low_quarter);
        er_table_number(&table, z, 7, 100.0 * zone->statistical_uniformity);
    }
    er_append_heading(page->out, "How even is it, by other measures?");
    er_table_finish(&table, page->out);
}

/* The names of a set's zones: "1 + 2". */
static void put_zone_names(struct er_check_page *page, struct er_table *table, size_t row,
                           size_t column)
{
    const struct er_field *field = page->result->field;
    struct er_text names;
    er_text_init(&names);
    for (size_t i = 0; i < field->sets[row].zone_count; i++) {
        er_text_append(&names, i > 0 ? " + " : "");
        er_text_append(&names, field->zones[field->sets[row].zones[i]].name);
    }
    er_table_text(table, row, column, er_text_string(&names));
    table->out_of_memory = table->out_of_memory || names.out_of_memory;
    er_text_release(&names);
}

/* What the pump's suction leaves, where it is judged. */
static void append_suction(struct er_check_page *page)
{
    const struct er_suction_result *suction = &page->result->suction;
    if (!suction->judged) {
        return;
    }
    double required = page->result->field->source.suction.npsh_required;
    struct er_text note;
    er_text_init(&note);
    er_text_append(&note, "The pump's suction: at ");
    er_append_quantity(&note, page->system, ER_FLOW, suction->flow);
    er_text_append(&note, " the inlet has ");
    er_append_quantity(&note, page->system, ER_HEAD, suction->npsh_available);
    er_text_append(&note, " of net positive suction head; ");
    if (er_given(required)) {
        er_text_append(&note, "the pump requires ");
        er_append_quantity(&note, page->system, ER_HEAD, required);
    } else {
        er_text_append(&note, "it lifts ");
        er_append_quantity(&note, page->system, ER_HEAD, suction->height + suction->friction);
        er_text_append(&note, " with friction, where ");
        er_append_quantity(&note, page->system, ER_HEAD, suction->practical_lift);
        er_text_append(&note, " is practical");
    }
    er_text_append(&note, ".");
    append_note(page, &note);
    er_text_release(&note);
}

void er_check_page_source(struct er_check_page *page)
{
    static const struct er_column columns[] = {
        {"set", ER_COLUMN_WHOLE, ER_NO_UNIT},
        {"zones", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"flow", ER_COLUMN_NUMBER, ER_FLOW},
        {"source's\nlimit", ER_COLUMN_ALIKE, ER_FLOW},
        {"pressure\nat source", ER_COLUMN_NUMBER, ER_PRESSURE},
        {"after\nheadworks", ER_COLUMN_ALIKE, ER_PRESSURE},
        {"runs\nh:min", ER_COLUMN_RIGHT, ER_NO_UNIT},
    };
    const struct er_field *field = page->result->field;
    struct er_table table;
    er_table_init(&table, page->system, COLUMNS(columns), field->set_count);
    for (size_t s = 0; s < field->set_count; s++) {
        const struct er_set_result *set = &page->result->sets[s];
        er_table_number(&table, s, 0, (double)s + 1.0);
        put_zone_names(page, &table, s, 1);
        er_table_number(&table, s, 2, set->flow);
        er_table_number(&table, s, 3, page->result->sets[s].source_limit);
        er_table_number(&table, s, 4, set->source_pressure);
        er_table_number(&table, s, 5, set->after_headworks);
        er_table_clock(&table, s, 6, set->run_time);
    }
    er_append_heading(page->out, "Does the source keep up?");
    er_table_finish(&table, page->out);
    append_suction(page);
}

void er_check_page_mainline(struct er_check_page *page)
{
    static const struct er_column columns[] = {
        {"section", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"busiest\nset", ER_COLUMN_WHOLE, ER_NO_UNIT},
        {"flow", ER_COLUMN_NUMBER, ER_FLOW},
        {"velocity", ER_COLUMN_NUMBER, ER_VELOCITY},
        {"pressure\nat its end", ER_COLUMN_NUMBER, ER_PRESSURE},
    };
    const struct er_field *field = page->result->field;
    if (field->section_count == 0) {
        return;
    }
    struct er_table table;
    er_table_init(&table, page->system, COLUMNS(columns), field->section_count);
    for (size_t i = 0; i < field->section_count; i++) {
        const struct er_section_result *section = &page->result->sections[i];
        er_table_text(&table, i, 0, field->mainline[i].name);
        er_table_number(&table, i, 1, (double)section->set + 1.0);
        er_table_number(&table, i, 2, section->flow);
        er_table_number(&table, i, 3, section->velocity);
        er_table_number(&table, i, 4, section->end_pressure);
    }
    er_append_heading(page->out, "The mainline");
    er_table_finish(&table, page->out);
}

/* Whether one irrigation of any zone is to be split into pulses. */
static bool any_pulses(const struct er_result *result)
{
    for (size_t z = 0; z < result->field->zone_count; z++) {
        if (result->zones[z].pulses > 1) {
            return true;
        }
    }
    return false;
}

/* Writes the rows of the run-time table. */
static void fill_run_times(struct er_check_page *page, struct er_table *table)
{
    const struct er_field *field = page->result->field;
    for (size_t z = 0; z < field->zone_count; z++) {
        const struct er_zone_result *zone = &page->result->zones[z];
        double over_field = er_time_per_depth(zone->time_per_depth_spacing, page->system);
        double over_bed = er_time_per_depth(zone->time_per_depth_bed, page->system);
        er_table_text(table, z, 0, field->zones[z].name);
        er_table_clock(table, z, 1, zone->run_time);
        er_table_number(table, z, 2, zone->gross_depth);
        er_table_number(table, z, 3, zone->gross_per_length);
        er_table_number(table, z, 4, zone->weekly_depth_spacing);
        er_table_number(table, z, 5, zone->weekly_depth_bed);
        er_table_number(table, z, 6, over_field);
        er_table_number(table, z, 7, over_bed);
        if (table->column_count > 8) {
            er_table_number(table, z, 8, (double)zone->pulses);
        }
    }
}

static void append_run_note(struct er_check_page *page)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, page->result->field->has_water
                              ? "Water is counted as it leaves the tape, losses with it."
                              : "The field file gives no need (water), so no run time is worked "
                                "out here.");
    if (er_season_tells_runs(page->result->field)) {
        er_text_append(&text, " For its season 'evenrow season' works them out, week by week, and "
                              "what they leave in store.");
    }
    er_text_append(&text, " \"Field\" spreads the water over the whole bed spacing, \"bed\" over "
                          "the bed's wetted width alone.");
    er_append_paragraph(page->out, &text);
    er_text_release(&text);
}

void er_check_page_run_time(struct er_check_page *page)
{
    bool us = page->system == ER_US;
    const struct er_column columns[] = {
        {"zone", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"each run\nh:min", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"each run\ngives", ER_COLUMN_NUMBER, ER_DEPTH},
        {"that is,\nof bed", ER_COLUMN_NUMBER, ER_VOLUME_PER_LENGTH},
        {"a week,\nfield", ER_COLUMN_NUMBER, ER_DEPTH},
        {"a week,\nbed", ER_COLUMN_ALIKE, ER_DEPTH},
        {us ? "h for\n1 in,\nfield" : "h for\n10 mm,\nfield", ER_COLUMN_NUMBER, ER_NO_UNIT},
        {us ? "h for\n1 in,\nbed" : "h for\n10 mm,\nbed", ER_COLUMN_ALIKE, ER_NO_UNIT},
        {"in so\nmany\nruns", ER_COLUMN_WHOLE, ER_NO_UNIT},
    };
    const struct er_field *field = page->result->field;
    size_t count = sizeof columns / sizeof columns[0] - (any_pulses(page->result) ? 0 : 1);
    struct er_table table;
    er_table_init(&table, page->system, columns, count, field->zone_count);
    if (!table.out_of_memory) {
        fill_run_times(page, &table);
    }
    er_append_heading(page->out, "How long to run?");
    er_table_finish(&table, page->out);
    er_text_append(page->out, "\n");
    append_run_note(page);
}

/* One line of the day: a name and what follows it. */
static void append_day_line(struct er_check_page *page, const char *name,
                            const struct er_text *text)
{
    er_text_appendf(page->out, "  %-14s%s\n", name, er_text_string(text));
    page->out->out_of_memory = page->out->out_of_memory || text->out_of_memory;
}

/* A quantity, or "-" where there is none. */
static void append_given(const struct er_check_page *page, struct er_text *out,
                         enum er_quantity quantity, double value)
{
    if (er_given(value)) {
        er_append_quantity(out, page->system, quantity, value);
    } else {
        er_text_append(out, "-");
    }
}

static void append_supply(struct er_check_page *page, struct er_text *text)
{
    const struct er_source *source = &page->result->field->source;
    if (er_given(page->result->day.days_of_supply)) {
        er_append_number(text, page->result->day.days_of_supply);
        er_text_append(text, " days, from ");
    } else {
        er_text_append(text, "no end in sight, from ");
    }
    er_append_quantity(text, page->system, ER_VOLUME, source->storage);
    if (er_given(source->refill) && source->refill > 0.0) {
        er_text_append(text, " refilled at ");
        er_append_quantity(text, page->system, ER_FLOW, source->refill);
    }
}

static bool is_daily(double every) { return every >= 1.0 && every <= 1.0; }

/* On which day of the interval each set runs, where they do not all go into one: "sets 1 and 3 on
 * day 1, 2 on day 2". */
static void append_run_days(struct er_check_page *page)
{
    const struct er_result *result = page->result;
    size_t days = 0;
    struct er_text text;
    er_text_init(&text);
    for (size_t s = 0; s < result->field->set_count; s++) {
        days = result->sets[s].run_day > days ? result->sets[s].run_day : days;
    }
    for (size_t day = 1; day <= days; day++) {
        size_t listed = 0;
        er_text_append(&text, day > 1 ? "; " : "");
        for (size_t s = 0; s < result->field->set_count; s++) {
            if (result->sets[s].run_day == day) {
                er_text_appendf(&text, "%s%zu", listed++ == 0 ? "" : " and ", s + 1);
            }
        }
        er_text_appendf(&text, " on day %zu", day);
    }
    if (days > 1) {
        er_paragraph(page->out, "  sets          ", "                ", er_text_string(&text));
    }
    page->out->out_of_memory = page->out->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

void er_check_page_day(struct er_check_page *page)
{
    const struct er_day_result *day = &page->result->day;
    if (!page->result->field->has_water) {
        return;
    }
    struct er_text text;
    er_text_init(&text);
    er_append_heading(page->out, "The day");
    if (is_daily(day->every)) {
        er_append_clock(&text, day->hours_needed);
        er_text_append(&text, " (h:min) of the ");
        er_append_clock(&text, day->hours_available);
        er_text_append(&text, " in which water may run");
    } else {
        if (er_given(day->irrigation)) {
            er_append_clock(&text, day->irrigation);
            er_text_append(&text, " (h:min) every ");
            er_append_number(&text, day->every);
            er_text_append(&text, " days; ");
        }
        er_append_clock(&text, day->hours_needed);
        er_text_append(&text, " of ");
        er_append_clock(&text, day->hours_available);
        er_text_append(&text, " (h:min) a day on average");
    }
    append_day_line(page, "running", &text);
    append_run_days(page);

    er_text_clear(&text);
    append_given(page, &text, ER_VOLUME, day->volume);
    append_day_line(page, "water", &text);

    if (er_given(page->result->field->source.storage) && er_given(day->volume)) {
        er_text_clear(&text);
        append_supply(page, &text);
        append_day_line(page, "supply lasts", &text);
    }
    er_text_release(&text);
}

/* The value of an assumption with its unit: "140", "4 psi", "85 percent". */
static void put_assumed(struct er_check_page *page, struct er_table *table, size_t row,
                        const struct er_assumption *assumption)
{
    struct er_text text;
    er_text_init(&text);
    if (assumption->quantity == ER_QUANTITY_COUNT) {
        er_append_number(&text, assumption->value);
        if (assumption->unit != NULL && assumption->unit[0] != '\0') {
            er_text_appendf(&text, " %s", assumption->unit);
        }
    } else {
        er_append_quantity(&text, page->system, assumption->quantity, assumption->value);
    }
    er_table_text(table, row, 0, er_text_string(&text));
    table->out_of_memory = table->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

void er_check_page_assumed(struct er_check_page *page)
{
    static const struct er_column columns[] = {
        {"value", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"what", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"where to put a better one", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    const struct er_result *result = page->result;
    if (result->assumption_count == 0) {
        return;
    }
    struct er_table table;
    er_table_init(&table, page->system, COLUMNS(columns), result->assumption_count);
    for (size_t i = 0; i < result->assumption_count; i++) {
        put_assumed(page, &table, i, &result->assumptions[i]);
        er_table_text(&table, i, 1, result->assumptions[i].text);
        er_table_text(&table, i, 2, result->assumptions[i].pointer);
    }
    er_append_heading(page->out, result->guess_count == 0
                                     ? "Assumed, because the field file does not say"
                                     : "Assumed, or a guess by the field file's own account");
    er_table_finish(&table, page->out);
}
