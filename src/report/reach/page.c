/* How long rows may be, for a person. */
#include <math.h>
#include <stdbool.h>

#include "names/names.h"
#include "report/reach/report.h"
#include "report/report.h"

#define SLOPES_ABREAST 7
#define MOST_OWN 24 /* rows that a page lists; JSON has all */
#define WHOLE 1e-6  /* a length so near to a whole foot or meter is that */

static const struct {
    const char *letter;
    const char *name;
} bounds[ER_REACH_BOUND_COUNT] = {
    [ER_REACH_ROW_DRY] = {"d", "dry end"},
    [ER_REACH_PRESSURE_LOW] = {"l", "lowest pressure"},
    [ER_REACH_PRESSURE_HIGH] = {"h", "highest pressure"},
    [ER_REACH_UNIFORMITY_LOW] = {"u", "uniformity"},
    [ER_REACH_FLOW_UNEVEN] = {"v", "flow variation"},
    [ER_REACH_LONGEST] = {"t", "not tried further"},
};

/* What the parts of the page are written from and to. */
struct sheet {
    const struct er_reach_answer *answer;
    const struct er_reach_table *table;
    struct er_page *page;
    struct er_pen *pen;
};

static const struct er_reach *cell_at(const struct sheet *sheet, size_t inlet, size_t slope)
{
    return &sheet->table->cells[inlet * sheet->answer->slope_count + slope];
}

static const char *pressure(const struct sheet *sheet, double value)
{
    return er_pen_figure(sheet->pen, ER_PRESSURE, value);
}

/* A row's length in whole feet or meters, never more than it is. */
static const char *length_words(struct er_pen *pen, const struct er_reach *reach)
{
    double length = floor(er_from_si(ER_LENGTH, pen->system, reach->length) + WHOLE);
    if (reach->emitters == 0) {
        return "none";
    }
    return length < 1.0 ? "<1" : er_pen_whole(pen, length);
}

/* ---- the answer ---- */

/* What breaks the limit, as the end of a sentence. */
static const char *broken(const struct sheet *sheet, enum er_reach_bound bound)
{
    const struct er_tape *tape = sheet->table->tape;
    struct er_pen *pen = sheet->pen;
    switch (bound) {
    case ER_REACH_ROW_DRY:
        return "the last emitter would get no water";
    case ER_REACH_PRESSURE_LOW:
        return er_pen_text(pen,
                           "an emitter would have less than %s, the least that the tape is rated "
                           "for",
                           pressure(sheet, tape->min_pressure));
    case ER_REACH_PRESSURE_HIGH:
        return er_pen_text(
            pen,
            "the inlet or an emitter would have more than %s, the most that the tape "
            "is rated for",
            pressure(sheet, tape->max_pressure));
    case ER_REACH_UNIFORMITY_LOW:
        return er_pen_text(pen, "EU would fall under %s",
                           er_pen_percent(pen, sheet->answer->uniformity));
    case ER_REACH_FLOW_UNEVEN:
        return er_pen_text(pen, "flow would vary by more than %s",
                           er_pen_percent(pen, sheet->answer->flow_variation));
    case ER_REACH_LONGEST:
    case ER_REACH_BOUND_COUNT:
        break;
    }
    return er_pen_text(pen, "rows longer than %s were not tried",
                       er_pen_figure(pen, ER_LENGTH, sheet->answer->longest));
}

/* "field tape, zone hill: with the 12 psi that its regulator holds a row on a slope of 1 % up" */
static const char *own_row(const struct sheet *sheet, const struct er_reach_own *own)
{
    static const char *const from[] = {[ER_INLET_REGULATED] = " that the regulator holds",
                                       [ER_INLET_PLANNED] = " that the plan gives its rows",
                                       [ER_INLET_GIVEN] = " at its inlet"};
    struct er_pen *pen = sheet->pen;
    const char *tape = sheet->table->tape->name;
    const char *where = tape != NULL ? er_pen_text(pen, "%s, zone %s", er_pen_visible(pen, tape),
                                                   er_pen_visible(pen, own->zone))
                                     : er_pen_text(pen, "Zone %s", er_pen_visible(pen, own->zone));
    return er_pen_text(
        pen, "%s: with %s%s%s a row on %s", where, own->from == ER_INLET_GIVEN ? "" : "the ",
        pressure(sheet, own->inlet), from[own->from],
        own->ground.count > 0 ? "its profile" : er_ground_words(pen, own->ground.slope));
}

/* The row that is asked for most. */
static const char *usual_row(const struct sheet *sheet, size_t inlet, size_t slope)
{
    struct er_pen *pen = sheet->pen;
    const char *tape = sheet->table->tape->name;
    return er_pen_text(pen, "%s %s at its inlet a row on %s",
                       tape != NULL ? er_pen_text(pen, "%s: with", er_pen_visible(pen, tape))
                                    : "With",
                       pressure(sheet, sheet->table->inlets[inlet]),
                       er_ground_words(pen, sheet->answer->slopes[slope]));
}

/* The answer: of the field's own rows the tightest; without a field the row that is asked for
 * most. */
static void write_answer(const struct sheet *sheet)
{
    struct er_pen *pen = sheet->pen;
    size_t slope = er_reach_levelest(sheet->answer);
    size_t inlet = er_reach_usual_inlet(sheet->table);
    const struct er_reach_own *own = er_reach_tightest(sheet->table);
    const struct er_reach *reach = own != NULL ? &own->reach : cell_at(sheet, inlet, slope);
    const char *row = own != NULL ? own_row(sheet, own) : usual_row(sheet, inlet, slope);
    const char *may = " can't be of any length: even at its start ";
    const char *longest = "";
    if (reach->emitters > 0) {
        may = er_pen_text(pen, " may be %s %s long; %s", length_words(pen, reach),
                          er_unit_name(ER_LENGTH, pen->system),
                          reach->bound == ER_REACH_LONGEST ? "" : "with one emitter more ");
    }
    if (own != NULL) {
        bool too_long =
            own->row_length > reach->length * (1.0 + WHOLE) + sheet->table->tape->emitter_spacing;
        longest = er_pen_text(pen, " The longest row there has %s%s",
                              er_pen_figure(pen, ER_LENGTH, own->row_length),
                              too_long ? ": too long." : ".");
    }
    er_page_paragraph(sheet->page, "%s%s%s.%s", row, may, broken(sheet, reach->bound), longest);
}

/* ---- the field's own rows ---- */

static const char *own_zone(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)pen, (void)result, (void)place;
    return ((const struct er_reach_own *)row)->zone;
}

static const char *own_beds(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)result, (void)place;
    const struct er_reach_own *own = row;
    return er_pen_text(pen, "%zu-%zu%s", own->first_bed, own->last_bed,
                       own->second_side ? ", far side" : "");
}

static const char *own_ground(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)result, (void)place;
    const struct er_ground *ground = &((const struct er_reach_own *)row)->ground;
    return ground->count > 0 ? "profile" : er_slope_words(pen, ground->slope, " ");
}

static const char *own_length(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)result, (void)place;
    return length_words(pen, &((const struct er_reach_own *)row)->reach);
}

static const char *own_bound(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)pen, (void)result, (void)place;
    return bounds[((const struct er_reach_own *)row)->reach.bound].name;
}

/* How long the field's own rows may be. */
static void write_own(const struct sheet *sheet)
{
    static const struct er_filled columns[] = {
        ER_WORDS_COLUMN("zone", own_zone),
        ER_RIGHT_COLUMN("beds", own_beds),
        ER_RIGHT_COLUMN("ground", own_ground),
        {{"inlet", ER_COLUMN_NUMBER, ER_PRESSURE},
         ER_FILL_FIGURE,
         offsetof(struct er_reach_own, inlet),
         NULL},
        ER_FIGURE_COLUMN("longest\nyou have", ER_LENGTH, struct er_reach_own, row_length),
        {{"may be", ER_COLUMN_RIGHT, ER_LENGTH}, ER_FILL_WORDS, 0, own_length},
        ER_WORDS_COLUMN("stopped by", own_bound),
    };
    const struct er_reach_table *table = sheet->table;
    const size_t rows = table->own_count < MOST_OWN ? table->own_count : MOST_OWN;
    if (rows == 0) {
        return;
    }
    er_page_heading(sheet->page, "Your own rows");
    er_page_rows(sheet->page, ER_ALL(columns), table->own, sizeof *table->own, rows, NULL);
    if (rows < table->own_count) {
        er_page_paragraph(sheet->page, "and %zu more: '--format json' lists all.",
                          table->own_count - rows);
    }
}

/* ---- the tape ---- */

/* "at 8 psi, exponent 0.5", "from 7 psi up" */
static const char *works_at(const struct sheet *sheet)
{
    const struct er_tape *tape = sheet->table->tape;
    struct er_pen *pen = sheet->pen;
    if (!er_given(tape->holds_from)) {
        return er_pen_text(pen, "at %s, exponent %s", pressure(sheet, tape->at_pressure),
                           er_pen_number(pen, tape->exponent));
    }
    const char *from = pressure(sheet, tape->holds_from);
    return isfinite(tape->holds_to)
               ? er_pen_text(pen, "from %s to %s", from, pressure(sheet, tape->holds_to))
               : er_pen_text(pen, "from %s up", from);
}

/* "The tape gives 0.45 gpm/100ft at 8 psi, ..." */
static void write_tape(const struct sheet *sheet)
{
    const struct er_tape *tape = sheet->table->tape;
    const char *source = sheet->table->source;
    struct er_pen *pen = sheet->pen;
    er_page_paragraph(
        sheet->page,
        "The tape gives %s %s; an emitter every %s, cv %s; %s inside, C %s; rated from %s to %s.%s",
        er_pen_figure(pen, ER_TAPE_FLOW, tape->emitter_flow / tape->emitter_spacing),
        works_at(sheet), er_pen_figure(pen, ER_SMALL_LENGTH, tape->emitter_spacing),
        er_pen_number(pen, tape->cv), er_pen_figure(pen, ER_SMALL_LENGTH, tape->inside_diameter),
        er_pen_number(pen, tape->c), pressure(sheet, tape->min_pressure),
        pressure(sheet, tape->max_pressure),
        source != NULL ? er_pen_text(pen, " Source of its figures: %s.", source) : "");
}

static void write_wanted(const struct sheet *sheet)
{
    struct er_pen *pen = sheet->pen;
    const char *plants = "", *even = "", *alike = "";
    if (sheet->table->emitters_per_plant > 1.0) {
        plants = er_pen_text(pen, " with %s emitters to a plant",
                             er_pen_number(pen, sheet->table->emitters_per_plant));
    }
    if (er_given(sheet->answer->uniformity)) {
        even = er_pen_text(pen,
                           "EU (emission uniformity: the driest plants against the average) of %s "
                           "or more%s, ",
                           er_pen_percent(pen, sheet->answer->uniformity), plants);
    }
    if (er_given(sheet->answer->flow_variation)) {
        alike = er_pen_text(pen, "flow that varies by %s or less, ",
                            er_pen_percent(pen, sheet->answer->flow_variation));
    }
    er_page_paragraph(sheet->page,
                      "Wanted of every row: %s%sand pressure within the tape's rating.", even,
                      alike);
    er_page_close_up(sheet->page);
}

/* ---- the longest rows ---- */

/* The inlets' lines, for `count` slopes from `first` on. */
static void write_lengths_of(const struct sheet *sheet, size_t first, size_t count)
{
    struct er_column *columns = er_pen_room(sheet->pen, count + 1, sizeof *columns);
    if (columns == NULL) {
        return;
    }
    columns[0] = (struct er_column){"inlet", ER_COLUMN_NUMBER, ER_PRESSURE};
    for (size_t s = 0; s < count; s++) {
        columns[s + 1] =
            (struct er_column){er_slope_words(sheet->pen, sheet->answer->slopes[first + s], "\n"),
                               ER_COLUMN_RIGHT, ER_NO_UNIT};
    }
    struct er_table *table =
        er_page_table(sheet->page, columns, count + 1, sheet->table->inlet_count);
    for (size_t i = 0; i < sheet->table->inlet_count; i++) {
        er_table_number(table, i, 0, sheet->table->inlets[i]);
        for (size_t s = 0; s < count; s++) {
            const struct er_reach *reach = cell_at(sheet, i, first + s);
            er_table_text(table, i, s + 1,
                          er_pen_text(sheet->pen, "%s %s", length_words(sheet->pen, reach),
                                      bounds[reach->bound].letter));
        }
    }
}

static bool occurs(const struct sheet *sheet, enum er_reach_bound bound)
{
    for (size_t c = 0; c < sheet->table->inlet_count * sheet->answer->slope_count; c++) {
        if (sheet->table->cells[c].bound == bound) {
            return true;
        }
    }
    return false;
}

/* What each letter of the table means. */
static void write_legend(const struct sheet *sheet)
{
    er_page_paragraph(sheet->page, "The letter tells what stops the row: with one emitter more");
    for (size_t b = 0; b < ER_REACH_BOUND_COUNT; b++) {
        if (occurs(sheet, (enum er_reach_bound)b)) {
            er_page_marked_item(sheet->page, er_pen_text(sheet->pen, "%s ", bounds[b].letter),
                                "%s%s",
                                b == ER_REACH_LONGEST ? "nothing would be broken yet: " : "",
                                broken(sheet, (enum er_reach_bound)b));
            er_page_close_up(sheet->page);
        }
    }
}

/* The longest rows by inlet pressure and slope. */
static void write_lengths(const struct sheet *sheet)
{
    size_t count = sheet->answer->slope_count;
    er_page_heading(sheet->page,
                    "The longest row, %s, by the pressure at its inlet and its slope away from it",
                    er_unit_name(ER_LENGTH, sheet->pen->system));
    for (size_t first = 0; first < count; first += SLOPES_ABREAST) {
        size_t left = count - first;
        write_lengths_of(sheet, first, left < SLOPES_ABREAST ? left : SLOPES_ABREAST);
    }
    write_legend(sheet);
}

/* Whether the rows themselves are listed by inlet: there is one slope. */
static bool by_inlet(const struct sheet *sheet) { return sheet->answer->slope_count == 1; }

static const char *row_slope(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)row;
    return er_slope_words(pen, ((const struct sheet *)result)->answer->slopes[place], " ");
}

static const char *row_length(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)result, (void)place;
    return length_words(pen, row);
}

static const char *row_emitters(struct er_pen *pen, const void *result, const void *row,
                                size_t place)
{
    (void)result, (void)place;
    const struct er_reach *reach = row;
    return reach->emitters > 0 ? er_pen_text(pen, "%zu", reach->emitters) : "-";
}

static const char *row_bound(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)pen, (void)result, (void)place;
    return bounds[((const struct er_reach *)row)->bound].name;
}

/* How the rows stand, over the slopes at the usual inlet pressure; of one slope, over the
 * inlets. */
static void write_rows(const struct sheet *sheet)
{
    static const struct er_filled by_slope = ER_RIGHT_COLUMN("slope", row_slope);
    static const struct er_filled by_pressure = {
        {"inlet", ER_COLUMN_NUMBER, ER_PRESSURE}, ER_FILL_WORDS, 0, NULL};
    const struct er_filled columns[] = {
        by_inlet(sheet) ? by_pressure : by_slope,
        ER_RIGHT_COLUMN(sheet->pen->system == ER_US ? "length\nft" : "length\nm", row_length),
        ER_RIGHT_COLUMN("emitters", row_emitters),
        ER_FIGURE_COLUMN("flow", ER_FLOW, struct er_reach, flow),
        ER_FIGURE_COLUMN("far end", ER_PRESSURE, struct er_reach, far_end_pressure),
        ER_PERCENT_COLUMN("EU\n%", struct er_reach, emission_uniformity),
        ER_PERCENT_COLUMN("varies\n%", struct er_reach, flow_variation),
        ER_WORDS_COLUMN("stopped by", row_bound),
    };
    const size_t inlet = by_inlet(sheet) ? 0 : er_reach_usual_inlet(sheet->table);
    if (by_inlet(sheet)) {
        er_page_heading(sheet->page, "The longest rows on %s",
                        er_ground_words(sheet->pen, sheet->answer->slopes[0]));
    } else {
        er_page_heading(sheet->page, "The longest rows with %s at the inlet",
                        pressure(sheet, sheet->table->inlets[inlet]));
    }
    struct er_table *table = er_page_rows(
        sheet->page, ER_ALL(columns), cell_at(sheet, inlet, 0), sizeof(struct er_reach),
        by_inlet(sheet) ? sheet->table->inlet_count : sheet->answer->slope_count, sheet);
    for (size_t i = 0; by_inlet(sheet) && i < sheet->table->inlet_count; i++) {
        er_table_number(table, i, 0, sheet->table->inlets[i]);
    }
}

/* One tape: its table, its rows, what it is. */
static void write_table(const struct sheet *sheet)
{
    if (sheet->answer->table_count > 1) {
        er_page_chapter(sheet->page, "%s", sheet->table->tape->name);
    }
    write_tape(sheet);
    write_wanted(sheet);
    write_own(sheet);
    if (sheet->table->inlet_count > 1 && sheet->answer->slope_count > 1) {
        write_lengths(sheet);
    }
    write_rows(sheet);
    if (sheet->table->assumption_count > 0) {
        er_page_heading(sheet->page, "Assumed of the tape, because nothing else was said");
        er_assumed_table(sheet->page, sheet->table->assumptions, sheet->table->assumption_count);
    }
}

static bool falls(const struct er_reach_answer *answer)
{
    for (size_t s = 0; s < answer->slope_count; s++) {
        if (answer->slopes[s] < 0.0) {
            return true;
        }
    }
    return false;
}

static bool without_emitter_loss(const struct er_reach_answer *answer)
{
    for (size_t t = 0; t < answer->table_count; t++) {
        if (!(answer->tables[t].tape->emitter_loss > 0.0)) {
            return true;
        }
    }
    return false;
}

static void write_hints(struct er_page *page, const struct er_reach_answer *answer)
{
    er_page_heading(page, "Before you lay rows of that length");
    er_page_item(page, "A zone is less even than its rows, for no two of its inlets have quite the "
                       "same pressure. Look at the line of the lowest inlet and at that of the "
                       "highest, stay some way under the shorter length, and let 'evenrow check' "
                       "judge the whole plan.");
    if (falls(answer)) {
        er_page_item(page, "Downhill a row may keep the limits again when it is longer still. The "
                           "length told is the last one at which every shorter row keeps them, "
                           "too.");
    }
    if (without_emitter_loss(answer)) {
        er_page_item(page, "What the emitters themselves take from the line's pressure is counted "
                           "only where a field file gives the tape's emitter_loss. Left out, rows "
                           "of dripline with emitters in its bore came out a sixth to a fifth too "
                           "long (Perboni, Frizzone, de Camargo and Pinto, Engenharia Agricola "
                           "35(3), 2015).");
    }
    er_page_item(page, "Gauge the pressure where the tape begins before you trust it, and keep it "
                       "under the tape's rating.");
}

void er_reach_page(const void *result, struct er_page *page)
{
    const struct er_reach_answer *answer = result;
    struct sheet sheet = {.answer = answer, .page = page, .pen = &page->pen};
    for (size_t t = 0; t < answer->table_count; t++) {
        sheet.table = &answer->tables[t];
        write_answer(&sheet);
        if (t > 0) {
            er_page_close_up(page);
        }
    }
    er_page_title(page, answer->title);
    for (size_t t = 0; t < answer->table_count; t++) {
        sheet.table = &answer->tables[t];
        write_table(&sheet);
    }
    write_hints(page, answer);
}
