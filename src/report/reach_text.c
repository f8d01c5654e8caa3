#include <math.h>
#include <stdbool.h>

#include "report/reach_report.h"
#include "say/say.h"
#include "say/wrap.h"

#define SLOPES_ABREAST 7
#define WHOLE 1e-6 /* a length so near to a whole foot or metre is that */

static const struct {
    char letter;
    const char *name;
} bounds[ER_REACH_BOUND_COUNT] = {
    [ER_REACH_ROW_DRY] = {'d', "dry end"},
    [ER_REACH_PRESSURE_LOW] = {'l', "lowest pressure"},
    [ER_REACH_PRESSURE_HIGH] = {'h', "highest pressure"},
    [ER_REACH_UNIFORMITY_LOW] = {'u', "uniformity"},
    [ER_REACH_FLOW_UNEVEN] = {'v', "flow variation"},
    [ER_REACH_LONGEST] = {'t', "not tried further"},
};

/* What the parts of the page are written from and to. */
struct page {
    const struct er_reach_answer *answer;
    const struct er_reach_table *table;
    struct er_text *out;
};

static const struct er_reach *cell_at(const struct page *page, size_t inlet, size_t slope)
{
    return &page->table->cells[inlet * page->answer->slope_count + slope];
}

static void say(const struct page *page, struct er_text *text, enum er_quantity quantity,
                double value)
{
    er_append_quantity(text, page->answer->system, quantity, value);
}

static void say_percent(struct er_text *text, double fraction)
{
    er_append_number(text, 100.0 * fraction);
    er_text_append(text, " %");
}

/* A row's length in whole feet or metres, never more than it is. */
static void say_length(const struct page *page, const struct er_reach *reach, struct er_text *text)
{
    double length = floor(er_from_si(ER_LENGTH, page->answer->system, reach->length) + WHOLE);
    if (reach->emitters == 0) {
        er_text_append(text, "none");
    } else if (length < 1.0) {
        er_text_append(text, "<1");
    } else {
        er_text_appendf(text, "%.0f", length);
    }
}

/* "3 % up", "level"; the parts are parted by `gap`. */
static void say_slope(double slope, const char *gap, struct er_text *text)
{
    if (slope < 0.0 || slope > 0.0) {
        say_percent(text, fabs(slope));
        er_text_append(text, gap);
        er_text_append(text, slope > 0.0 ? "up" : "down");
    } else {
        er_text_append(text, "level");
    }
}

void er_reach_say_ground(double slope, struct er_text *text)
{
    if (slope < 0.0 || slope > 0.0) {
        er_text_append(text, "a slope of ");
        say_slope(slope, " ", text);
    } else {
        er_text_append(text, "level ground");
    }
}

size_t er_reach_levelest(const struct er_reach_answer *answer)
{
    size_t best = 0;
    for (size_t s = 1; s < answer->slope_count; s++) {
        if (fabs(answer->slopes[s]) < fabs(answer->slopes[best])) {
            best = s;
        }
    }
    return best;
}

size_t er_reach_usual_inlet(const struct er_reach_table *table)
{
    const struct er_tape *tape = table->tape;
    double usual = er_given(tape->at_pressure) ? tape->at_pressure : tape->holds_from;
    size_t best = 0;
    for (size_t i = 1; i < table->inlet_count; i++) {
        if (fabs(table->inlets[i] - usual) < fabs(table->inlets[best] - usual)) {
            best = i;
        }
    }
    return best;
}

/* What breaks the limit, as the end of a sentence. */
static void say_broken(const struct page *page, enum er_reach_bound bound, struct er_text *text)
{
    const struct er_tape *tape = page->table->tape;
    switch (bound) {
    case ER_REACH_ROW_DRY:
        er_text_append(text, "the last emitter would get no water");
        break;
    case ER_REACH_PRESSURE_LOW:
        er_text_append(text, "an emitter would have less than ");
        say(page, text, ER_PRESSURE, tape->min_pressure);
        er_text_append(text, ", the least that the tape is rated for");
        break;
    case ER_REACH_PRESSURE_HIGH:
        er_text_append(text, "the inlet or an emitter would have more than ");
        say(page, text, ER_PRESSURE, tape->max_pressure);
        er_text_append(text, ", the most that the tape is rated for");
        break;
    case ER_REACH_UNIFORMITY_LOW:
        er_text_append(text, "EU would fall under ");
        say_percent(text, page->answer->uniformity);
        break;
    case ER_REACH_FLOW_UNEVEN:
        er_text_append(text, "flow would vary by more than ");
        say_percent(text, page->answer->flow_variation);
        break;
    case ER_REACH_LONGEST:
    case ER_REACH_BOUND_COUNT:
        er_text_append(text, "rows longer than ");
        say(page, text, ER_LENGTH, page->answer->longest);
        er_text_append(text, " were not tried");
        break;
    }
}

static void set_length(const struct page *page, struct er_table *table, size_t row, size_t column,
                       const struct er_reach *reach, bool with_letter)
{
    struct er_text text;
    er_text_init(&text);
    say_length(page, reach, &text);
    if (with_letter) {
        er_text_appendf(&text, " %c", bounds[reach->bound].letter);
    }
    er_table_text(table, row, column, er_text_string(&text));
    table->out_of_memory = table->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

const struct er_reach_own *er_reach_tightest(const struct er_reach_table *table)
{
    const struct er_reach_own *tightest = NULL;
    for (size_t i = 0; i < table->own_count; i++) {
        const struct er_reach_own *own = &table->own[i];
        if (tightest == NULL ||
            own->reach.length * tightest->row_length < tightest->reach.length * own->row_length) {
            tightest = own;
        }
    }
    return tightest;
}

static void say_own_ground(const struct er_reach_own *own, struct er_text *text)
{
    if (own->ground.count > 0) {
        er_text_append(text, "its profile");
    } else {
        er_reach_say_ground(own->ground.slope, text);
    }
}

/* "field tape, zone hill: with the 12 psi that its regulator holds a row on a slope of 1 % up" */
static void say_own_row(const struct page *page, const struct er_reach_own *own,
                        struct er_text *text)
{
    const char *name = page->table->tape->name;
    if (name != NULL) {
        er_text_append_visible(text, name);
        er_text_append(text, ", ");
    }
    er_text_append(text, name != NULL ? "zone " : "Zone ");
    er_text_append_visible(text, own->zone);
    er_text_append(text, own->from == ER_INLET_GIVEN ? ": with " : ": with the ");
    say(page, text, ER_PRESSURE, own->inlet);
    er_text_append(text, own->from == ER_INLET_REGULATED ? " that the regulator holds"
                         : own->from == ER_INLET_PLANNED ? " that the plan gives its rows"
                                                         : " at its inlet");
    er_text_append(text, " a row on ");
    say_own_ground(own, text);
}

/* The row that is asked for most. */
static void say_usual_row(const struct page *page, size_t inlet, size_t slope, struct er_text *text)
{
    if (page->table->tape->name != NULL) {
        er_text_append_visible(text, page->table->tape->name);
        er_text_append(text, ": with ");
    } else {
        er_text_append(text, "With ");
    }
    say(page, text, ER_PRESSURE, page->table->inlets[inlet]);
    er_text_append(text, " at its inlet a row on ");
    er_reach_say_ground(page->answer->slopes[slope], text);
}

/* The answer: of the field's own rows the tightest; without a field the row that is asked for
 * most. */
static void append_answer(const struct page *page)
{
    size_t slope = er_reach_levelest(page->answer);
    size_t inlet = er_reach_usual_inlet(page->table);
    const struct er_reach_own *own = er_reach_tightest(page->table);
    const struct er_reach *reach = own != NULL ? &own->reach : cell_at(page, inlet, slope);
    struct er_text text;
    er_text_init(&text);
    if (own != NULL) {
        say_own_row(page, own, &text);
    } else {
        say_usual_row(page, inlet, slope, &text);
    }
    if (reach->emitters > 0) {
        er_text_append(&text, " may be ");
        say_length(page, reach, &text);
        er_text_appendf(&text, " %s long; ", er_unit_name(ER_LENGTH, page->answer->system));
        er_text_append(&text, reach->bound == ER_REACH_LONGEST ? "" : "with one emitter more ");
    } else {
        er_text_append(&text, " can't be of any length: even at its start ");
    }
    say_broken(page, reach->bound, &text);
    er_text_append(&text, ".");
    if (own != NULL) {
        er_text_append(&text, " The longest row there has ");
        say(page, &text, ER_LENGTH, own->row_length);
        er_text_append(&text, own->row_length > reach->length * (1.0 + WHOLE) +
                                                    page->table->tape->emitter_spacing
                                  ? ": too long."
                                  : ".");
    }
    er_finish_paragraph(page->out, &text);
}

#define MOST_OWN 24 /* rows that a page lists; JSON has all */

/* How long the field's own rows may be. */
static void append_own(const struct page *page)
{
    static const struct er_column columns[] = {
        {"zone", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"beds", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"ground", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"inlet", ER_COLUMN_PLAIN, ER_PRESSURE},
        {"longest\nyou have", ER_COLUMN_NUMBER, ER_LENGTH},
        {"may be", ER_COLUMN_RIGHT, ER_LENGTH},
        {"stopped by", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    const struct er_reach_table *reaches = page->table;
    const size_t rows = reaches->own_count < MOST_OWN ? reaches->own_count : MOST_OWN;
    struct er_table table;
    if (rows == 0) {
        return;
    }
    er_append_heading(page->out, "Your own rows");
    er_table_init(&table, page->answer->system, columns, sizeof columns / sizeof columns[0], rows);
    for (size_t row = 0; row < rows; row++) {
        const struct er_reach_own *own = &reaches->own[row];
        struct er_text text;
        er_text_init(&text);
        er_table_text(&table, row, 0, own->zone);
        er_text_appendf(&text, "%zu-%zu%s", own->first_bed, own->last_bed,
                        own->second_side ? ", far side" : "");
        er_table_text(&table, row, 1, er_text_string(&text));
        er_text_clear(&text);
        if (own->ground.count > 0) {
            er_text_append(&text, "profile");
        } else {
            say_slope(own->ground.slope, " ", &text);
        }
        er_table_text(&table, row, 2, er_text_string(&text));
        er_table_number(&table, row, 3, own->inlet);
        er_table_number(&table, row, 4, own->row_length);
        set_length(page, &table, row, 5, &own->reach, false);
        er_table_text(&table, row, 6, bounds[own->reach.bound].name);
        table.out_of_memory = table.out_of_memory || text.out_of_memory;
        er_text_release(&text);
    }
    er_table_finish(&table, page->out);
    if (rows < reaches->own_count) {
        er_text_appendf(page->out, "\nand %zu more: '--format json' lists all.\n",
                        reaches->own_count - rows);
    }
}

static void say_emitter(const struct page *page, struct er_text *text)
{
    const struct er_tape *tape = page->table->tape;
    say(page, text, ER_TAPE_FLOW, tape->emitter_flow / tape->emitter_spacing);
    if (er_given(tape->holds_from)) {
        er_text_append(text, " from ");
        say(page, text, ER_PRESSURE, tape->holds_from);
        if (isfinite(tape->holds_to)) {
            er_text_append(text, " to ");
            say(page, text, ER_PRESSURE, tape->holds_to);
        } else {
            er_text_append(text, " up");
        }
    } else {
        er_text_append(text, " at ");
        say(page, text, ER_PRESSURE, tape->at_pressure);
        er_text_append(text, ", exponent ");
        er_append_number(text, tape->exponent);
    }
}

/* "The tape: 0.45 gpm/100ft at 8 psi, ..." */
static void append_tape(const struct page *page)
{
    const struct er_tape *tape = page->table->tape;
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, "The tape gives ");
    say_emitter(page, &text);
    er_text_append(&text, "; an emitter every ");
    say(page, &text, ER_SMALL_LENGTH, tape->emitter_spacing);
    er_text_append(&text, ", cv ");
    er_append_number(&text, tape->cv);
    er_text_append(&text, "; ");
    say(page, &text, ER_SMALL_LENGTH, tape->inside_diameter);
    er_text_append(&text, " inside, C ");
    er_append_number(&text, tape->c);
    er_text_append(&text, "; rated from ");
    say(page, &text, ER_PRESSURE, tape->min_pressure);
    er_text_append(&text, " to ");
    say(page, &text, ER_PRESSURE, tape->max_pressure);
    er_text_append(&text, ".");
    if (page->table->source != NULL) {
        er_text_append(&text, " Source of its figures: ");
        er_text_append(&text, page->table->source);
        er_text_append(&text, ".");
    }
    er_finish_paragraph(page->out, &text);
}

static void append_wanted(const struct page *page)
{
    bool uniformity = er_given(page->answer->uniformity);
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, "Wanted of every row: ");
    if (uniformity) {
        er_text_append(&text, "EU (emission uniformity: the driest plants against the average) "
                              "of ");
        say_percent(&text, page->answer->uniformity);
        er_text_append(&text, " or more");
        if (page->table->emitters_per_plant > 1.0) {
            er_text_append(&text, " with ");
            er_append_number(&text, page->table->emitters_per_plant);
            er_text_append(&text, " emitters to a plant");
        }
        er_text_append(&text, ", ");
    }
    if (er_given(page->answer->flow_variation)) {
        er_text_append(&text, "flow that varies by ");
        say_percent(&text, page->answer->flow_variation);
        er_text_append(&text, " or less, ");
    }
    er_text_append(&text, "and pressure within the tape's rating.");
    er_finish_paragraph(page->out, &text);
}

/* The inlets' lines, for `count` slopes from `first` on. */
static void append_block(const struct page *page, size_t first, size_t count)
{
    struct er_text heads[SLOPES_ABREAST];
    struct er_column columns[SLOPES_ABREAST + 1] = {{"inlet", ER_COLUMN_PLAIN, ER_PRESSURE}};
    for (size_t s = 0; s < count; s++) {
        er_text_init(&heads[s]);
        say_slope(page->answer->slopes[first + s], "\n", &heads[s]);
        page->out->out_of_memory = page->out->out_of_memory || heads[s].out_of_memory;
        columns[s + 1] = (struct er_column){er_text_string(&heads[s]), ER_COLUMN_RIGHT, ER_NO_UNIT};
    }
    struct er_table table;
    er_table_init(&table, page->answer->system, columns, count + 1, page->table->inlet_count);
    for (size_t i = 0; i < page->table->inlet_count; i++) {
        er_table_number(&table, i, 0, page->table->inlets[i]);
        for (size_t s = 0; s < count; s++) {
            set_length(page, &table, i, s + 1, cell_at(page, i, first + s), true);
        }
    }
    er_table_finish(&table, page->out);
    for (size_t s = 0; s < count; s++) {
        er_text_release(&heads[s]);
    }
}

static bool occurs(const struct page *page, enum er_reach_bound bound)
{
    for (size_t c = 0; c < page->table->inlet_count * page->answer->slope_count; c++) {
        if (page->table->cells[c].bound == bound) {
            return true;
        }
    }
    return false;
}

/* What each letter of the table means. */
static void append_legend(const struct page *page)
{
    er_text_append(page->out, "\nThe letter tells what stops the row: with one emitter more\n");
    for (size_t b = 0; b < ER_REACH_BOUND_COUNT; b++) {
        if (!occurs(page, (enum er_reach_bound)b)) {
            continue;
        }
        const char first[] = {' ', ' ', bounds[b].letter, ' ', ' ', '\0'};
        struct er_text text;
        er_text_init(&text);
        er_text_append(&text, b == ER_REACH_LONGEST ? "nothing would be broken yet: " : "");
        say_broken(page, (enum er_reach_bound)b, &text);
        er_paragraph(page->out, first, "     ", er_text_string(&text));
        page->out->out_of_memory = page->out->out_of_memory || text.out_of_memory;
        er_text_release(&text);
    }
}

/* The longest rows by inlet pressure and slope. */
static void append_lengths(const struct page *page)
{
    size_t count = page->answer->slope_count;
    er_text_appendf(page->out,
                    "\nThe longest row, %s, by the pressure at its inlet and its slope away from "
                    "it\n",
                    er_unit_name(ER_LENGTH, page->answer->system));
    for (size_t first = 0; first < count; first += SLOPES_ABREAST) {
        size_t left = count - first;
        er_text_append(page->out, "\n");
        append_block(page, first, left < SLOPES_ABREAST ? left : SLOPES_ABREAST);
    }
    append_legend(page);
}

/* Whether the rows themselves are listed by inlet: there is one slope. */
static bool by_inlet(const struct page *page) { return page->answer->slope_count == 1; }

static void set_row(const struct page *page, struct er_table *table, size_t row,
                    const struct er_reach *reach)
{
    struct er_text slope;
    er_text_init(&slope);
    if (by_inlet(page)) {
        er_table_number(table, row, 0, page->table->inlets[row]);
    } else {
        say_slope(page->answer->slopes[row], " ", &slope);
        er_table_text(table, row, 0, er_text_string(&slope));
    }
    table->out_of_memory = table->out_of_memory || slope.out_of_memory;
    er_text_release(&slope);
    set_length(page, table, row, 1, reach, false);
    er_table_number(table, row, 2, reach->emitters > 0 ? (double)reach->emitters : ER_NONE);
    er_table_number(table, row, 3, reach->flow);
    er_table_number(table, row, 4, reach->far_end_pressure);
    er_table_number(table, row, 5, 100.0 * reach->emission_uniformity);
    er_table_number(table, row, 6, 100.0 * reach->flow_variation);
    er_table_text(table, row, 7, bounds[reach->bound].name);
}

static void append_rows_heading(const struct page *page)
{
    struct er_text text;
    er_text_init(&text);
    if (by_inlet(page)) {
        er_text_append(&text, "The longest rows on ");
        er_reach_say_ground(page->answer->slopes[0], &text);
    } else {
        er_text_append(&text, "The longest rows with ");
        say(page, &text, ER_PRESSURE, page->table->inlets[er_reach_usual_inlet(page->table)]);
        er_text_append(&text, " at the inlet");
    }
    er_text_append(page->out, "\n");
    er_finish_paragraph(page->out, &text);
    er_text_append(page->out, "\n");
}

/* How the rows stand, over the slopes at the usual inlet pressure; of one slope, over the
 * inlets. */
static void append_rows(const struct page *page)
{
    const char *length = page->answer->system == ER_US ? "length\nft" : "length\nm";
    const struct er_column slope = {"slope", ER_COLUMN_RIGHT, ER_NO_UNIT};
    const struct er_column inlet = {"inlet", ER_COLUMN_PLAIN, ER_PRESSURE};
    const struct er_column columns[] = {
        by_inlet(page) ? inlet : slope,
        {length, ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"emitters", ER_COLUMN_WHOLE, ER_NO_UNIT},
        {"flow", ER_COLUMN_NUMBER, ER_FLOW},
        {"far end", ER_COLUMN_NUMBER, ER_PRESSURE},
        {"EU\n%", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"varies\n%", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"stopped by", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    size_t rows = by_inlet(page) ? page->table->inlet_count : page->answer->slope_count;
    struct er_table table;
    append_rows_heading(page);
    er_table_init(&table, page->answer->system, columns, sizeof columns / sizeof columns[0], rows);
    for (size_t row = 0; row < rows; row++) {
        set_row(page, &table, row,
                by_inlet(page) ? cell_at(page, row, 0)
                               : cell_at(page, er_reach_usual_inlet(page->table), row));
    }
    er_table_finish(&table, page->out);
}

static void append_assumed(const struct page *page)
{
    static const struct er_column columns[] = {
        {"value", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"what", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"where to put a better one", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    if (page->table->assumption_count == 0) {
        return;
    }
    struct er_table table;
    struct er_text value;
    er_text_init(&value);
    er_table_init(&table, page->answer->system, columns, sizeof columns / sizeof columns[0],
                  page->table->assumption_count);
    for (size_t i = 0; i < page->table->assumption_count; i++) {
        const struct er_assumption *assumption = &page->table->assumptions[i];
        er_text_clear(&value);
        if (assumption->quantity == ER_QUANTITY_COUNT) {
            er_append_number(&value, assumption->value);
        } else {
            say(page, &value, assumption->quantity, assumption->value);
        }
        er_table_text(&table, i, 0, er_text_string(&value));
        er_table_text(&table, i, 1, assumption->text);
        er_table_text(&table, i, 2, assumption->pointer);
    }
    table.out_of_memory = table.out_of_memory || value.out_of_memory;
    er_text_release(&value);
    er_text_append(page->out, "\nAssumed of the tape, because nothing else was said\n\n");
    er_table_finish(&table, page->out);
}

/* One tape: its table, its rows, what it is. */
static void append_table(const struct page *page)
{
    if (page->answer->table_count > 1) {
        er_text_append(page->out, "\n");
        er_paragraph(page->out, "== ", "   ", page->table->tape->name);
    }
    er_text_append(page->out, "\n");
    append_tape(page);
    append_wanted(page);
    append_own(page);
    if (page->table->inlet_count > 1 && page->answer->slope_count > 1) {
        append_lengths(page);
    }
    append_rows(page);
    append_assumed(page);
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

static void append_hints(const struct er_reach_answer *answer, struct er_text *out)
{
    er_text_append(out, "\nBefore you lay rows of that length\n\n");
    er_paragraph(out, "  - ", "    ",
                 "A zone is less even than its rows, for no two of its inlets have quite the same "
                 "pressure. Look at the line of the lowest inlet and at that of the highest, stay "
                 "some way under the shorter length, and let 'evenrow check' judge the whole "
                 "plan.");
    if (falls(answer)) {
        er_paragraph(out, "  - ", "    ",
                     "Downhill a row may keep the limits again when it is longer still. The length "
                     "told is the last one at which every shorter row keeps them, too.");
    }
    if (without_emitter_loss(answer)) {
        er_paragraph(out, "  - ", "    ",
                     "What the emitters themselves take from the line's pressure is counted only "
                     "where a field file gives the tape's emitter_loss. Left out, rows of dripline "
                     "with emitters in its bore came out a sixth to a fifth too long (Perboni, "
                     "Frizzone, de Camargo and Pinto, Engenharia Agricola 35(3), 2015).");
    }
    er_paragraph(out, "  - ", "    ",
                 "Gauge the pressure where the tape begins before you trust it, and keep it under "
                 "the tape's rating.");
}

enum er_status er_report_reach_text(const struct er_reach_answer *answer, struct er_text *out)
{
    for (size_t t = 0; t < answer->table_count; t++) {
        append_answer(&(struct page){answer, &answer->tables[t], out});
    }
    if (answer->title != NULL && answer->title[0] != '\0') {
        er_text_append(out, "\n");
        er_paragraph(out, "", "", answer->title);
    }
    for (size_t t = 0; t < answer->table_count; t++) {
        append_table(&(struct page){answer, &answer->tables[t], out});
    }
    append_hints(answer, out);
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
