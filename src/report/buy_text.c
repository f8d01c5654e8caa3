#include <string.h>

#include "report/buy_report.h"
#include "report/report.h"
#include "say/say.h"
#include "say/wrap.h"

struct page {
    const struct er_materials *materials;
    const struct er_field *field;
    enum er_system system;
    struct er_text *out;
};

static const char *currency(const struct page *page)
{
    return page->field->prices == NULL ? NULL : page->field->prices->currency;
}

/* A plan that fails should not be bought. */
static void append_failure(const struct page *page)
{
    if (page->materials->result->verdict != ER_FAILS) {
        return;
    }
    struct er_text text;
    er_text_init(&text);
    er_append_plan_fails(&text, page->materials->result, "buy");
    er_text_append(&text, " The list below is for the plan as it is.");
    er_finish_paragraph(page->out, &text);
    er_text_append(page->out, "\n");
}

static void append_cost(const struct page *page)
{
    const struct er_materials *materials = page->materials;
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, "COST: ");
    er_append_money(&text, currency(page), materials->cost);
    er_text_append(&text, " for all that is listed below, ");
    er_append_money(&text, currency(page), er_cost_per_area(materials, page->system));
    er_text_appendf(&text, " per %s, ", er_unit_name(ER_AREA, page->system));
    er_append_cents(&text, currency(page), er_cost_per_bed_length(materials, page->system));
    er_text_appendf(&text, " per 100 %s of bed", er_unit_name(ER_LENGTH, page->system));
    if (materials->unpriced > 0) {
        const bool one = materials->unpriced == 1;
        er_text_appendf(&text, "; %zu line%s no price and %s not in it", materials->unpriced,
                        one ? " has" : "s have", one ? "is" : "are");
    }
    er_text_append(&text, materials->price_placeholders
                              ? "; prices marked * only hold a place for your dealer's."
                              : ".");
    er_finish_paragraph(page->out, &text);
}

/* Units of all lines that have this place in the prices. */
static double count_units(const struct page *page, const char *key)
{
    double count = 0.0;
    for (size_t i = 0; i < page->materials->line_count; i++) {
        const struct er_material *line = &page->materials->lines[i];
        count += line->key != NULL && strcmp(line->key, key) == 0 ? line->count : 0.0;
    }
    return count;
}

static void append_units(const struct page *page, struct er_text *text, const char *key,
                         const char *one, const char *more)
{
    const double count = count_units(page, key);
    if (count > 0.0) {
        er_text_appendf(text, ", %.0f %s", count, count > 1.0 ? more : one);
    }
}

/* What there is most of, and for how much bed. */
static void append_amounts(const struct page *page)
{
    const struct er_materials *materials = page->materials;
    const double area = er_from_si(ER_AREA, page->system, materials->area);
    const double length = er_from_si(ER_LENGTH, page->system, materials->bed_length);
    const char *unit = er_unit_name(ER_LENGTH, page->system);
    const double rolls = count_units(page, "tapes");
    struct er_text text;
    er_text_init(&text);
    er_text_appendf(&text, "BUY %.0f roll%s of tape", rolls, rolls > 1.0 ? "s" : "");
    append_units(page, &text, "film", "roll of film", "rolls of film");
    append_units(page, &text, "pipes", "length of pipe", "lengths of pipe");
    er_text_appendf(&text, " and what is listed below, for %.0f %s of bed on ", length, unit);
    er_append_quantity(&text, page->system, ER_AREA, materials->area);
    er_text_appendf(&text, " (%.0f %s of bed per %s).", length / area, unit,
                    er_unit_name(ER_AREA, page->system));
    er_finish_paragraph(page->out, &text);
}

static void append_title(const struct page *page)
{
    if (page->field->title != NULL && page->field->title[0] != '\0') {
        er_text_append(page->out, "\n");
        er_paragraph(page->out, "", "", page->field->title);
    }
}

/* The codes of a plan's cautions. */
static void append_cautions_left(const struct page *page)
{
    const struct er_result *result = page->materials->result;
    struct er_text text;
    if (result->verdict != ER_WITH_CAUTION) {
        return;
    }
    er_text_init(&text);
    er_text_append(&text, "The plan has cautions: ");
    for (size_t f = 0, told = 0; f < result->finding_count; f++) {
        if (f == 0 || result->findings[f].code != result->findings[f - 1].code) {
            er_text_append(&text, told++ > 0 ? ", " : "");
            er_text_append(&text, er_finding_kind(result->findings[f].code)->code);
        }
    }
    er_text_append(&text, ". 'evenrow check' explains them.");
    er_finish_paragraph(page->out, &text);
}

/* The columns of the list; without prices the middle two are left out. */
enum { BUY, WHAT, WHY, EACH, COST, COLUMNS };

static const struct er_column list_columns[COLUMNS] = {
    [BUY] = {"buy", ER_COLUMN_RIGHT, ER_NO_UNIT},   [WHAT] = {"what", ER_COLUMN_WORDS, ER_NO_UNIT},
    [WHY] = {"why", ER_COLUMN_WORDS, ER_NO_UNIT},   [EACH] = {"each", ER_COLUMN_RIGHT, ER_NO_UNIT},
    [COST] = {"cost", ER_COLUMN_RIGHT, ER_NO_UNIT},
};

static void put_text(struct er_table *table, size_t row, size_t column, struct er_text *text)
{
    er_table_text(table, row, column, er_text_string(text));
    table->out_of_memory = table->out_of_memory || text->out_of_memory;
    er_text_clear(text);
}

static void put_line(const struct page *page, struct er_table *table, size_t row,
                     const struct er_material *line)
{
    struct er_text text;
    er_text_init(&text);
    er_text_appendf(&text, "%.0f", line->count);
    if (line->by_length) {
        er_text_appendf(&text, " %s%s", line->unit, line->count > 1.0 ? "s" : "");
    }
    put_text(table, row, BUY, &text);
    er_text_append(&text, line->about);
    if (line->name != NULL && strcmp(line->name, line->about) != 0) {
        er_text_appendf(&text, ": %s", line->name);
    }
    if (line->by_length) {
        er_text_append(&text, ", ");
        er_append_quantity(&text, page->system, ER_LENGTH, line->unit_length);
        er_text_append(&text, line->unit_placeholder ? "*" : "");
    }
    put_text(table, row, WHAT, &text);
    er_append_reasons(&text, page->materials, line, page->system);
    put_text(table, row, WHY, &text);
    if (page->materials->priced && er_given(line->price)) {
        er_append_cents(&text, NULL, line->price);
        er_text_append(&text, line->price_placeholder ? "*" : "");
        put_text(table, row, EACH, &text);
        er_append_money(&text, NULL, line->cost);
        put_text(table, row, COST, &text);
    }
    er_text_release(&text);
}

/* The lines of one group; nothing where there are none. */
static void append_group(const struct page *page, enum er_material_group group)
{
    static const char *const headings[ER_MATERIAL_GROUP_COUNT] = {
        [ER_MATERIAL_TAPE] = "Tape",   [ER_MATERIAL_PIPE] = "Pipe",
        [ER_MATERIAL_ZONES] = "Zones", [ER_MATERIAL_HEADWORKS] = "Headworks and gauges",
        [ER_MATERIAL_FILM] = "Film",
    };
    const struct er_materials *materials = page->materials;
    struct er_table table;
    size_t rows = 0;
    for (size_t i = 0; i < materials->line_count; i++) {
        rows += materials->lines[i].group == group;
    }
    if (rows == 0) {
        return;
    }
    er_append_heading(page->out, headings[group]);
    er_table_init(&table, page->system, list_columns, materials->priced ? COLUMNS : EACH, rows);
    size_t row = 0;
    for (size_t i = 0; i < materials->line_count; i++) {
        if (materials->lines[i].group == group) {
            put_line(page, &table, row++, &materials->lines[i]);
        }
    }
    er_table_finish(&table, page->out);
}

static void append_film(const struct page *page)
{
    const struct er_film_need *film = &page->materials->film;
    struct er_text text;
    if (!film->wanted) {
        return;
    }
    er_text_append(page->out, "\n");
    er_text_init(&text);
    er_text_append(&text, "Film must be ");
    er_append_film_width(&text, film, page->system);
    er_text_append(&text, ". 1 to 1.25 mil (0.025 to 0.032 mm) will do for one season (common "
                          "practice)");
    if (er_given(film->given_thickness)) {
        er_text_appendf(&text, "; the file's has %.3g mil",
                        film->given_thickness / (0.001 * ER_INCH));
    }
    er_text_append(&text, ".");
    er_finish_paragraph(page->out, &text);
    er_text_init(&text);
    er_append_film_remark(&text, film, page->system);
    if (text.length > 0) {
        er_text_append(page->out, "\n");
        er_append_paragraph(page->out, &text);
    }
    page->out->out_of_memory = page->out->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

/* Rolls that are far too long for what is taken of them. */
static void append_short_rolls(const struct page *page)
{
    const struct er_materials *materials = page->materials;
    for (size_t i = 0; i < materials->line_count; i++) {
        const struct er_material *line = &materials->lines[i];
        struct er_text text;
        if (!er_given(line->short_length)) {
            continue;
        }
        er_text_init(&text);
        er_text_append(&text, "The plan takes only ");
        er_append_quantity(&text, page->system, ER_LENGTH, line->with_waste);
        er_text_append(&text, " of the ");
        er_append_quantity(&text, page->system, ER_LENGTH, line->unit_length);
        er_text_append(&text, " roll of ");
        er_text_append_visible(&text, line->name);
        er_text_appendf(&text,
                        ". Ask your dealer for a shorter one: %.0f of the shortest in the "
                        "catalog, ",
                        line->short_count);
        er_append_quantity(&text, page->system, ER_LENGTH, line->short_length);
        er_text_append(&text, "*");
        if (materials->priced) {
            er_text_append(&text, " for ");
            er_append_cents(&text, currency(page), line->short_price);
            er_text_append(&text, "*");
        }
        er_text_append(&text, line->short_count > 1.0 ? " each, are enough. Put its figures into "
                                                      : ", is enough. Put its figures into ");
        er_text_append(&text, "\"prices\": {\"tapes\": {\"");
        er_text_append_visible(&text, line->name);
        er_text_append(&text, "\": {\"roll_length\": ..., \"roll_price\": ...}}}.");
        er_text_append(page->out, "\n");
        er_finish_paragraph(page->out, &text);
    }
}

/* What the marks mean, and what the list leaves out. */
static void append_remarks(const struct page *page)
{
    const struct er_materials *materials = page->materials;
    append_short_rolls(page);
    er_text_append(page->out, "\n");
    if (materials->price_placeholders || materials->unit_placeholders) {
        er_paragraph(
            page->out, "", "",
            "* A placeholder: an invented figure of 'evenrow catalog prices', where the file "
            "has none. Put your dealer's figures into \"prices\".");
    }
    if (!materials->priced) {
        er_paragraph(page->out, "", "", "Give \"prices\" in the field file for what it costs.");
    }
    er_paragraph(page->out, "", "",
                 "Not counted: the pump and its suction, elbows, clamps, cement, thread tape, "
                 "timers and their wire. A few fittings of each kind to spare save a trip.");
}

static void append_list_of(const struct page *page, const char *heading, const char *const *items,
                           size_t count)
{
    er_append_heading(page->out, heading);
    for (size_t i = 0; i < count; i++) {
        er_paragraph(page->out, "  - ", "    ", items[i]);
    }
}

static void append_install_note(const struct page *page)
{
    static const char *const steps[] = {
        "Tape lies 2 to 3 in (50 to 75 mm) deep with its emitters up, in raised beds of 6 to 8 in "
        "(150 to 200 mm).",
        "A layer that forms the bed, lays the tape and pulls the film over it asks for a tractor "
        "of some 50 to 60 hp (37 to 45 kW).",
        "Flush mainline, then headers, then tape, each until it runs clear, before you close its "
        "ends.",
        "Test every pipe under pressure, and look for leaks, before it is covered.",
        "Finish the beds a week to ten days before you plant, so that they firm up and warm. If "
        "you "
        "fumigate, plant no sooner than the label allows.",
    };
    append_list_of(page, "How to lay it (common practice, no source)", steps,
                   sizeof steps / sizeof steps[0]);
}

static void append_cautions(const struct page *page)
{
    static const char *const cautions[] = {
        "Ask for parts that are rated for more than the highest pressure that can come: with "
        "every valve shut, too.",
        "Backflow protection is what local code says it is, and is tested as the code says. "
        "Without it a field can poison a well.",
        "Keep clear of ends and caps when a line fills, and open valves slowly: trapped air and "
        "moving water break fittings and throw them.",
        "Let the pressure off and shut the power before you open a pipe, a filter or a pump.",
        "Pumps, wiring and pressure tanks are work for licensed people. Call before you dig.",
    };
    append_list_of(page, "Take care", cautions, sizeof cautions / sizeof cautions[0]);
}

enum er_status er_report_buy_text(const struct er_materials *materials, enum er_system system,
                                  struct er_text *out)
{
    const struct page page = {materials, materials->result->field, system, out};
    append_failure(&page);
    if (materials->priced) {
        append_cost(&page);
    }
    append_amounts(&page);
    append_cautions_left(&page);
    append_title(&page);
    for (size_t group = 0; group < ER_MATERIAL_GROUP_COUNT; group++) {
        append_group(&page, (enum er_material_group)group);
    }
    append_film(&page);
    append_remarks(&page);
    er_append_rolls(out, materials, system);
    append_install_note(&page);
    append_cautions(&page);
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
