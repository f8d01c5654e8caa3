/* What has to be bought, for a person. */
#include <string.h>

#include "report/buy/report.h"
#include "report/report.h"

static const char *currency(const struct er_materials *materials)
{
    const struct er_prices *prices = materials->result->field->prices;
    return prices == NULL ? NULL : prices->currency;
}

/* A plan that fails should not be bought. */
static void write_failure(struct er_page *page, const struct er_materials *materials)
{
    if (materials->result->verdict == ER_FAILS) {
        er_page_paragraph(page, "%s The list below is for the plan as it is.",
                          er_plan_fails(&page->pen, materials->result, "buy"));
    }
}

static void write_cost(struct er_page *page, const struct er_materials *materials)
{
    struct er_pen *pen = &page->pen;
    const char *unpriced = "";
    if (!materials->priced) {
        return;
    }
    if (materials->unpriced > 0) {
        unpriced =
            er_pen_text(pen, "; %s no price and %s not in it",
                        er_pen_counted(pen, (double)materials->unpriced, "line has", "lines have"),
                        materials->unpriced == 1 ? "is" : "are");
    }
    er_page_paragraph(
        page, "COST: %s for all that is listed below, %s per %s, %s per 100 %s of bed%s%s",
        er_pen_money(pen, currency(materials), materials->cost),
        er_pen_money(pen, currency(materials), er_cost_per_area(materials, pen->system)),
        er_unit_name(ER_AREA, pen->system),
        er_pen_cents(pen, currency(materials), er_cost_per_bed_length(materials, pen->system)),
        er_unit_name(ER_LENGTH, pen->system), unpriced,
        materials->price_placeholders ? "; prices marked * only hold a place for your dealer's."
                                      : ".");
}

/* Units of all lines that have this place in the prices. */
static double count_units(const struct er_materials *materials, const char *key)
{
    double count = 0.0;
    for (size_t i = 0; i < materials->line_count; i++) {
        const struct er_material *line = &materials->lines[i];
        count += line->key != NULL && strcmp(line->key, key) == 0 ? line->count : 0.0;
    }
    return count;
}

/* ", 3 rolls of film"; nothing where there are none. */
static const char *units_of(struct er_pen *pen, const struct er_materials *materials,
                            const char *key, const char *one, const char *more)
{
    const double count = count_units(materials, key);
    return count > 0.0 ? er_pen_text(pen, ", %s", er_pen_counted(pen, count, one, more)) : "";
}

/* What there is most of, and for how much bed. */
static void write_amounts(struct er_page *page, const struct er_materials *materials)
{
    struct er_pen *pen = &page->pen;
    const double in_one = materials->bed_length / er_from_si(ER_AREA, pen->system, materials->area);
    er_page_paragraph(
        page, "BUY %s%s%s and what is listed below, for %s of bed on %s (%s of bed per %s).",
        er_pen_counted(pen, count_units(materials, "tapes"), "roll of tape", "rolls of tape"),
        units_of(pen, materials, "film", "roll of film", "rolls of film"),
        units_of(pen, materials, "pipes", "length of pipe", "lengths of pipe"),
        er_pen_figure(pen, ER_LENGTH, materials->bed_length),
        er_pen_figure(pen, ER_AREA, materials->area), er_pen_figure(pen, ER_LENGTH, in_one),
        er_unit_name(ER_AREA, pen->system));
    if (materials->priced) {
        er_page_close_up(page);
    }
}

/* The codes of a plan's cautions. */
static void write_cautions_left(struct er_page *page, const struct er_result *result)
{
    const char *codes = "";
    if (result->verdict != ER_WITH_CAUTION) {
        return;
    }
    for (size_t f = 0; f < result->finding_count; f++) {
        if (f == 0 || result->findings[f].code != result->findings[f - 1].code) {
            codes = er_pen_joined(&page->pen, codes, ", ",
                                  er_finding_kind(result->findings[f].code)->code);
        }
    }
    er_page_paragraph(page, "The plan has cautions: %s. 'evenrow check' explains them.", codes);
    er_page_close_up(page);
}

/* ---- the list ---- */

static const char *line_buy(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)result, (void)place;
    const struct er_material *line = row;
    const char *count = er_pen_whole(pen, line->count);
    return line->by_length
               ? er_pen_text(pen, "%s %s%s", count, line->unit, line->count > 1.0 ? "s" : "")
               : count;
}

static const char *line_what(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)result, (void)place;
    const struct er_material *line = row;
    const char *name = "", *length = "";
    if (line->name != NULL && strcmp(line->name, line->about) != 0) {
        name = er_pen_text(pen, ": %s", line->name);
    }
    if (line->by_length) {
        length = er_pen_text(pen, ", %s%s", er_buy_length(pen, line->unit_length),
                             line->unit_placeholder ? "*" : "");
    }
    return er_pen_text(pen, "%s%s%s", line->about, name, length);
}

static const char *line_why(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)place;
    return er_buy_reasons(pen, result, row);
}

static const char *line_each(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)result, (void)place;
    const struct er_material *line = row;
    return er_given(line->price) ? er_pen_text(pen, "%s%s", er_pen_cents(pen, NULL, line->price),
                                               line->price_placeholder ? "*" : "")
                                 : "-";
}

static const char *line_cost(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)result, (void)place;
    const struct er_material *line = row;
    return er_given(line->price) ? er_pen_money(pen, NULL, line->cost) : "-";
}

/* The columns of the list; without prices the last two are left out. */
static const struct er_filled list_columns[] = {
    ER_RIGHT_COLUMN("buy", line_buy),   ER_WORDS_COLUMN("what", line_what),
    ER_WORDS_COLUMN("why", line_why),   ER_RIGHT_COLUMN("each", line_each),
    ER_RIGHT_COLUMN("cost", line_cost),
};

#define COLUMNS (sizeof list_columns / sizeof list_columns[0])
#define PRICES 2

/* The lines, group by group, as they are listed. */
static void write_list(struct er_page *page, const struct er_materials *materials)
{
    static const char *const headings[ER_MATERIAL_GROUP_COUNT] = {
        [ER_MATERIAL_TAPE] = "Tape",   [ER_MATERIAL_PIPE] = "Pipe",
        [ER_MATERIAL_ZONES] = "Zones", [ER_MATERIAL_HEADWORKS] = "Headworks and gauges",
        [ER_MATERIAL_FILM] = "Film",
    };
    const struct er_material *lines = materials->lines;
    for (size_t first = 0, end = 0; first < materials->line_count; first = end) {
        while (end < materials->line_count && lines[end].group == lines[first].group) {
            end++;
        }
        er_page_heading(page, "%s", headings[lines[first].group]);
        er_page_rows(page, list_columns, materials->priced ? COLUMNS : COLUMNS - PRICES,
                     &lines[first], sizeof *lines, end - first, materials);
    }
}

static void write_film(struct er_page *page, const struct er_film_need *film)
{
    struct er_pen *pen = &page->pen;
    if (!film->wanted) {
        return;
    }
    er_page_paragraph(
        page,
        "Film must be %s. 1 to 1.25 mil (0.025 to 0.032 mm) will do for one season "
        "(common practice)%s.",
        er_buy_film_width(pen, film),
        er_given(film->given_thickness)
            ? er_pen_text(pen, "; the file's has %s mil",
                          er_pen_number(pen, film->given_thickness / (0.001 * ER_INCH)))
            : "");
    const char *remark = er_buy_film_remark(pen, film);
    if (remark != NULL) {
        er_page_paragraph(page, "%s", remark);
    }
}

/* Rolls that are far too long for what is taken of them. */
static void write_short_rolls(struct er_page *page, const struct er_materials *materials)
{
    struct er_pen *pen = &page->pen;
    for (size_t i = 0; i < materials->line_count; i++) {
        const struct er_material *line = &materials->lines[i];
        const char *price = "";
        if (!er_given(line->short_length)) {
            continue;
        }
        if (materials->priced) {
            price = er_pen_text(pen, " for %s*",
                                er_pen_cents(pen, currency(materials), line->short_price));
        }
        er_page_paragraph(
            page,
            "The plan takes only %s of the %s roll of %s. Ask your dealer for a shorter one: %.0f "
            "of the shortest in the catalog, %s*%s%s enough. Put its figures into "
            "\"prices\": {\"tapes\": {\"%s\": {\"roll_length\": ..., \"roll_price\": ...}}}.",
            er_buy_length(pen, line->with_waste), er_buy_length(pen, line->unit_length),
            er_pen_visible(pen, line->name), line->short_count,
            er_buy_length(pen, line->short_length), price,
            line->short_count > 1.0 ? " each, are" : ", is", er_pen_visible(pen, line->name));
    }
}

/* What the marks mean, and what the list leaves out. */
static void write_remarks(struct er_page *page, const struct er_materials *materials)
{
    const bool marked = materials->price_placeholders || materials->unit_placeholders;
    const char *remarks[3];
    size_t count = 0;
    if (marked) {
        remarks[count++] = "* A placeholder: an invented figure of 'evenrow catalog prices', where "
                           "the file has none. Put your dealer's figures into \"prices\".";
    }
    if (!materials->priced) {
        remarks[count++] = "Give \"prices\" in the field file for what it costs.";
    }
    remarks[count++] =
        "Not counted: the pump and its suction, elbows, clamps, cement, thread tape, "
        "timers and their wire. A few fittings of each kind to spare save a trip.";
    for (size_t i = 0; i < count; i++) {
        er_page_paragraph(page, "%s", remarks[i]);
        if (i > 0) {
            er_page_close_up(page);
        }
    }
}

static void write_notes(struct er_page *page)
{
    er_page_heading(page, "How to lay it (common practice, no source)");
    er_page_item(page, "Tape lies 2 to 3 in (50 to 75 mm) deep with its emitters up, in raised "
                       "beds of 6 to 8 in (150 to 200 mm).");
    er_page_item(page, "A layer that forms the bed, lays the tape and pulls the film over it asks "
                       "for a tractor of some 50 to 60 hp (37 to 45 kW).");
    er_page_item(page, "Flush mainline, then headers, then tape, each until it runs clear, before "
                       "you close its ends.");
    er_page_item(page, "Test every pipe under pressure, and look for leaks, before it is covered.");
    er_page_item(page, "Finish the beds a week to ten days before you plant, so that they firm up "
                       "and warm. If you fumigate, plant no sooner than the label allows.");
    er_page_heading(page, "Take care");
    er_page_item(page, "Ask for parts that are rated for more than the highest pressure that can "
                       "come: with every valve shut, too.");
    er_page_item(page, "Backflow protection is what local code says it is, and is tested as the "
                       "code says. Without it a field can poison a well.");
    er_page_item(page, "Keep clear of ends and caps when a line fills, and open valves slowly: "
                       "trapped air and moving water break fittings and throw them.");
    er_page_item(page, "Let the pressure off and shut the power before you open a pipe, a filter "
                       "or a pump.");
    er_page_item(page, "Pumps, wiring and pressure tanks are work for licensed people. Call before "
                       "you dig.");
}

void er_buy_page(const void *result, struct er_page *page)
{
    const struct er_materials *materials = result;
    write_failure(page, materials);
    write_cost(page, materials);
    write_amounts(page, materials);
    write_cautions_left(page, materials->result);
    er_page_title(page, materials->result->field->title);
    write_list(page, materials);
    write_film(page, &materials->film);
    write_short_rolls(page, materials);
    write_remarks(page, materials);
    er_buy_rolls(page, materials);
    write_notes(page);
}
