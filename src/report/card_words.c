#include "report/card_words.h"

#include <math.h>
#include <stdio.h>

#include "evenrow/hydraulics.h"
#include "say/say.h"

#define OFF                                                                                        \
    0.10 /* of the flow, from which on a cause is looked for: common practice, no source           \
          */

void er_sheet_put_figure(const struct er_sheet *sheet, struct er_table *table, size_t row,
                         size_t column, enum er_quantity quantity, double value, bool with_unit)
{
    double told = er_from_si(quantity, sheet->system, value);
    int decimals = er_decimals(fabs(told));
    struct er_text text;
    er_text_init(&text);
    /* No gauge is read finer than that. */
    decimals = quantity == ER_PRESSURE && decimals > 1 ? 1 : decimals;
    er_text_appendf(&text, "%.*f", decimals, told);
    if (with_unit) {
        er_text_appendf(&text, " %s", er_unit_name(quantity, sheet->system));
    }
    er_table_text(table, row, column, er_text_string(&text));
    table->out_of_memory = table->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

static void say(struct er_sheet *sheet, const char *words) { er_text_append(&sheet->text, words); }

static void say_quantity(struct er_sheet *sheet, enum er_quantity quantity, double value)
{
    er_append_quantity(&sheet->text, sheet->system, quantity, value);
}

static void item(struct er_sheet *sheet, const char *words)
{
    say(sheet, words);
    er_leaf_item(sheet->leaf, &sheet->text);
}

/* Causes of too little and too much flow, by what the gauges tell beside it: common practice, no
 * source. */
static void append_low(struct er_sheet *sheet, double flow)
{
    bool pumped = sheet->card->result->field->source.kind == ER_SOURCE_PUMP;
    say(sheet, "The meter shows ");
    say_quantity(sheet, ER_FLOW, (1.0 - OFF) * flow);
    say(sheet, " or less, 10 percent low. Look at the gauges in this order:");
    er_leaf_paragraph(sheet->leaf, &sheet->text);
    er_leaf_list_begin(sheet->leaf, false);
    item(sheet, pumped
                    ? "The source's gauge is low as well: the intake or its strainer is clogged, "
                      "the water is low, the suction draws air, or the pump is worn."
                    : "The source's gauge is low as well: the supply gives less than it did, or "
                      "something else draws on it.");
    item(sheet, "The source's gauge is high, and that behind the filter low: the filter is "
                "clogged. Clean it.");
    item(sheet, "Good pressure behind the filter, little at the beds: a valve is part closed, a "
                "regulator is stuck or set low, or a pipe is kinked or crushed.");
    item(sheet, "Good or high pressure at the beds: emitters are plugging. Flush the tape; if that "
                "does not help, have the water tested.");
    er_leaf_list_end(sheet->leaf);
}

static void append_high(struct er_sheet *sheet, double flow)
{
    say(sheet, "The meter shows ");
    say_quantity(sheet, ER_FLOW, (1.0 + OFF) * flow);
    say(sheet, " or more, 10 percent high:");
    er_leaf_paragraph(sheet->leaf, &sheet->text);
    er_leaf_list_begin(sheet->leaf, false);
    item(sheet, "Pressure at the beds is low: water gets out somewhere. A tape is cut or gnawed, a "
                "joint is off, an end or a flush valve is open, or a valve of another set does not "
                "shut. Walk the beds and look for wet spots.");
    item(sheet, "Pressure at the beds is high: a regulator is stuck open or set high. Shut down "
                "before the tape bursts.");
    item(sheet, "Pressure is as told above: another tape was laid than planned, or the meter is "
                "off.");
    er_leaf_list_end(sheet->leaf);
}

void er_sheet_meter(struct er_sheet *sheet)
{
    double flow = sheet->card->sets[sheet->set].readings[ER_FILTERS_CLEAN].flow;
    er_leaf_heading(sheet->leaf, "If the meter shows something else");
    if (!(flow > 0.0)) {
        say(sheet, "In this plan no water flows.");
        er_leaf_paragraph(sheet->leaf, &sheet->text);
        return;
    }
    er_leaf_pair_begin(sheet->leaf);
    append_low(sheet, flow);
    er_leaf_beside(sheet->leaf);
    append_high(sheet, flow);
    er_leaf_pair_end(sheet->leaf);
}

/* What one more open end would do; where none may be open, what a single one does. */
static void append_limit(const struct er_sheet *sheet, const struct er_flushing *flushing,
                         struct er_text *out)
{
    static const char *const does[] = {[ER_FLUSH_ALL] = "",
                                       [ER_FLUSH_SOURCE] = "passes the source's limit",
                                       [ER_FLUSH_PIPES] = "is too fast for a pipe",
                                       [ER_FLUSH_ENDS] = "is too slow"};
    if (flushing->limit == ER_FLUSH_CREW) {
        er_text_appendf(
            out, sheet->card->people == 1 ? "%zu person watches %zu" : "%zu people watch %zu",
            sheet->card->people, flushing->at_once);
    } else if (flushing->limit != ER_FLUSH_ALL) {
        er_text_appendf(out, "%s %s", flushing->at_once == 0 ? "even one" : "one more",
                        does[flushing->limit]);
    }
}

/* How many tape ends of each zone. */
static void append_ends(struct er_sheet *sheet)
{
    static const struct er_column columns[] = {
        {"zone", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"tape\nends", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"open\nat once", ER_COLUMN_RIGHT, ER_NO_UNIT},
        {"meter\nthen", ER_COLUMN_RIGHT, ER_FLOW},
        {"weakest\nend", ER_COLUMN_RIGHT, ER_VELOCITY},
        {"why no more", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    const struct er_field *field = sheet->card->result->field;
    size_t zones = field->sets[sheet->set].zone_count;
    struct er_table table;
    er_table_init(&table, sheet->system, columns, sizeof columns / sizeof columns[0], zones);
    for (size_t z = 0; z < zones; z++) {
        const struct er_card_zone *zone = &sheet->card->sets[sheet->set].zones[z];
        const struct er_flushing *flushing = &zone->flushing;
        char count[2][24];
        snprintf(count[0], sizeof count[0], "%zu", flushing->ends);
        snprintf(count[1], sizeof count[1], "%zu", flushing->at_once);
        er_table_text(&table, z, 0, field->zones[zone->zone].name);
        er_table_text(&table, z, 1, count[0]);
        er_table_text(&table, z, 2, count[1]);
        er_sheet_put_figure(sheet, &table, z, 3, ER_FLOW, flushing->flow, false);
        er_sheet_put_figure(sheet, &table, z, 4, ER_VELOCITY, flushing->velocity, false);
        append_limit(sheet, flushing, &sheet->text);
        er_table_text(&table, z, 5, er_text_string(&sheet->text));
        table.out_of_memory = table.out_of_memory || sheet->text.out_of_memory;
        er_text_clear(&sheet->text);
    }
    er_leaf_table(sheet->leaf, &table);
}

/* Whether a limit holds some zone of the set to `at_once` ends. */
static bool held_by(const struct er_sheet *sheet, enum er_flush_limit limit, bool none)
{
    const struct er_card_set *set = &sheet->card->sets[sheet->set];
    for (size_t z = 0; z < sheet->card->result->field->sets[sheet->set].zone_count; z++) {
        const struct er_flushing *flushing = &set->zones[z].flushing;
        if (flushing->limit == limit && (flushing->at_once == 0) == none) {
            return true;
        }
    }
    return false;
}

/* What to do where not even one end may be open, and with more people. */
static void say_what_else(struct er_sheet *sheet)
{
    if (held_by(sheet, ER_FLUSH_ENDS, true)) {
        say(sheet, " Where even one is too slow, open one at a time all the same, for longer, and "
                   "see what would give it more pressure.");
    }
    if (held_by(sheet, ER_FLUSH_SOURCE, true) || held_by(sheet, ER_FLUSH_PIPES, true)) {
        say(sheet, " Where even one takes too much, shut off some of the zone's beds first.");
    }
    if (held_by(sheet, ER_FLUSH_CREW, false)) {
        er_text_appendf(&sheet->text,
                        " One person watches %d open ends. For another number of people make the "
                        "card with --hands.",
                        ER_ENDS_A_PERSON);
    }
}

/* From the source outward, so that no dirt is washed into what is clean already: common practice,
 * no source. */
void er_sheet_flushing(struct er_sheet *sheet)
{
    const struct er_field *field = sheet->card->result->field;
    const struct er_card_set *set = &sheet->card->sets[sheet->set];
    er_leaf_heading(sheet->leaf, "Flushing, from the source outward");
    er_leaf_list_begin(sheet->leaf, true);
    item(sheet, set->gets_dirty ? "Clean the filter." : "Clean the filter, if there is one.");
    if (field->section_count > 0) {
        item(sheet, "Open the end of the mainline until the water runs clear. Close it.");
    }
    item(sheet, "Run one zone alone, the others shut. Open the ends of its header until the water "
                "runs clear. Close them.");
    item(sheet,
         "Open tape ends, no more at once than the table shows: neighboring tapes, on one side of "
         "the header or on both, from the feed point outward. Leave each open until it runs "
         "clear, and close it before you open the next.");
    er_leaf_list_end(sheet->leaf);
    append_ends(sheet);
    say(sheet, "With this many open, wherever you are along the header, every open end gets ");
    say_quantity(sheet, ER_VELOCITY, field->limits.flush_velocity);
    say(sheet, " and no pipe passes ");
    say_quantity(sheet, ER_VELOCITY, field->limits.velocity);
    say(sheet, ". This is for the zone alone, its emitters running, a clean filter and the ends "
               "open to the air.");
    if (!er_given(field->source.flow_limit) && !isfinite(er_source_last_flow(&field->source))) {
        say(sheet, " The field file tells no limit of the source's flow.");
    }
    say_what_else(sheet);
    er_leaf_paragraph(sheet->leaf, &sheet->text);
}

void er_sheet_cautions(struct er_sheet *sheet)
{
    er_leaf_heading(sheet->leaf, "Take care");
    er_leaf_list_begin(sheet->leaf, false);
    item(sheet, "Open the next set's valves before you close this set's, slowly, and never run "
                "the pump against closed valves.");
    item(sheet, "Shut the power and let the pressure off before you open a filter or a pipe. "
                "Pumps, wiring and pressure tanks are work for licensed people.");
    item(sheet, "This water may be unfit to drink. Keep backflow protection working, tested as "
                "the code says; with chemicals in the line, keep to the label.");
    item(sheet, "Local codes and the makers' ratings come first. These figures are worked out; a "
                "gauge is read.");
    er_leaf_list_end(sheet->leaf);
}
