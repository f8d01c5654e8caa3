/* What a card says whatever the plan: causes, flushing, cautions. */
#include "report/card/words.h"

#include <math.h>

#include "evenrow/hydraulics.h"

/* Of the flow, from which on a cause is looked for: common practice, no source. */
#define OFF 0.10

/* Causes of too little and too much flow, by what the gauges tell beside it: common practice, no
 * source. */
static void write_low(const struct er_card_sheet *sheet, double flow)
{
    struct er_page *page = sheet->page;
    er_page_paragraph(page,
                      "The meter shows %s or less, 10 percent low. Look at the gauges in this "
                      "order:",
                      er_pen_figure(&page->pen, ER_FLOW, (1.0 - OFF) * flow));
    er_page_item(page, "The source's gauge is low as well: %s",
                 sheet->field->source.kind == ER_SOURCE_PUMP
                     ? "the intake or its strainer is clogged, the water is low, the suction draws "
                       "air, or the pump is worn."
                     : "the supply gives less than it did, or something else draws on it.");
    er_page_item(page, "The source's gauge is high, and that behind the filter low: the filter is "
                       "clogged. Clean it.");
    er_page_item(page, "Good pressure behind the filter, little at the beds: a valve is part "
                       "closed, a regulator is stuck or set low, or a pipe is kinked or crushed.");
    er_page_item(page, "Good or high pressure at the beds: emitters are plugging. Flush the tape; "
                       "if that does not help, have the water tested.");
}

static void write_high(struct er_page *page, double flow)
{
    er_page_paragraph(page, "The meter shows %s or more, 10 percent high:",
                      er_pen_figure(&page->pen, ER_FLOW, (1.0 + OFF) * flow));
    er_page_item(page, "Pressure at the beds is low: water gets out somewhere. A tape is cut or "
                       "gnawed, a joint is off, an end or a flush valve is open, or a valve of "
                       "another set does not shut. Walk the beds and look for wet spots.");
    er_page_item(page, "Pressure at the beds is high: a regulator is stuck open or set high. Shut "
                       "down before the tape bursts.");
    er_page_item(page, "Pressure is as told above: another tape was laid than planned, or the "
                       "meter is off.");
}

void er_card_meter(const struct er_card_sheet *sheet)
{
    struct er_page *page = sheet->page;
    double flow = sheet->card->sets[sheet->set].readings[ER_FILTERS_CLEAN].flow;
    er_page_heading(page, "If the meter shows something else");
    if (!(flow > 0.0)) {
        er_page_paragraph(page, "In this plan no water flows.");
        return;
    }
    er_page_side(page, ER_BLOCK_LEFT);
    write_low(sheet, flow);
    er_page_side(page, ER_BLOCK_RIGHT);
    write_high(page, flow);
    er_page_side(page, ER_BLOCK_ACROSS);
}

/* ---- flushing ---- */

/* What one more open end would do; where none may be open, what a single one does. */
static const char *limit_words(struct er_pen *pen, const void *result, const void *row,
                               size_t place)
{
    static const char *const does[] = {[ER_FLUSH_ALL] = "",
                                       [ER_FLUSH_SOURCE] = "passes the source's limit",
                                       [ER_FLUSH_PIPES] = "is too fast for a pipe",
                                       [ER_FLUSH_ENDS] = "is too slow"};
    (void)place;
    const struct er_card *card = result;
    const struct er_flushing *flushing = &((const struct er_card_zone *)row)->flushing;
    switch (flushing->limit) {
    case ER_FLUSH_ALL:
        return "";
    case ER_FLUSH_CREW:
        return er_pen_text(pen,
                           card->people == 1 ? "%zu person watches %zu" : "%zu people watch %zu",
                           card->people, flushing->at_once);
    default:
        return er_pen_text(pen, "%s %s", flushing->at_once == 0 ? "even one" : "one more",
                           does[flushing->limit]);
    }
}

static const char *zone_name(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)pen, (void)place;
    const struct er_card *card = result;
    return card->result->field->zones[((const struct er_card_zone *)row)->zone].name;
}

static const char *meter_then(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)result, (void)place;
    return er_pen_bare(pen, ER_FLOW, ((const struct er_card_zone *)row)->flushing.flow);
}

static const char *weakest_end(struct er_pen *pen, const void *result, const void *row,
                               size_t place)
{
    (void)result, (void)place;
    return er_pen_bare(pen, ER_VELOCITY, ((const struct er_card_zone *)row)->flushing.velocity);
}

/* How many tape ends of each zone. */
static void write_ends(const struct er_card_sheet *sheet)
{
    static const struct er_filled columns[] = {
        ER_WORDS_COLUMN("zone", zone_name),
        ER_COUNT_COLUMN("tape\nends", struct er_card_zone, flushing.ends),
        ER_COUNT_COLUMN("open\nat once", struct er_card_zone, flushing.at_once),
        {{"meter\nthen", ER_COLUMN_RIGHT, ER_FLOW}, ER_FILL_WORDS, 0, meter_then},
        {{"weakest\nend", ER_COLUMN_RIGHT, ER_VELOCITY}, ER_FILL_WORDS, 0, weakest_end},
        ER_WORDS_COLUMN("why no more", limit_words),
    };
    const struct er_card_set *set = &sheet->card->sets[sheet->set];
    er_page_rows(sheet->page, ER_ALL(columns), set->zones, sizeof *set->zones,
                 sheet->field->sets[sheet->set].zone_count, sheet->card);
}

/* Whether a limit holds some zone of the set to `at_once` ends. */
static bool held_by(const struct er_card_sheet *sheet, enum er_flush_limit limit, bool none)
{
    const struct er_card_set *set = &sheet->card->sets[sheet->set];
    for (size_t z = 0; z < sheet->field->sets[sheet->set].zone_count; z++) {
        const struct er_flushing *flushing = &set->zones[z].flushing;
        if (flushing->limit == limit && (flushing->at_once == 0) == none) {
            return true;
        }
    }
    return false;
}

/* What to do where not even one end may be open, and with more people. */
static const char *what_else(const struct er_card_sheet *sheet)
{
    bool slow = held_by(sheet, ER_FLUSH_ENDS, true);
    bool much = held_by(sheet, ER_FLUSH_SOURCE, true) || held_by(sheet, ER_FLUSH_PIPES, true);
    const char *crew =
        held_by(sheet, ER_FLUSH_CREW, false)
            ? er_pen_text(&sheet->page->pen,
                          " One person watches %d open ends. For another number of people make "
                          "the card with --hands.",
                          ER_ENDS_A_PERSON)
            : "";
    return er_pen_text(&sheet->page->pen, "%s%s%s",
                       slow ? " Where even one is too slow, open one at a time all the same, for "
                              "longer, and see what would give it more pressure."
                            : "",
                       much ? " Where even one takes too much, shut off some of the zone's beds "
                              "first."
                            : "",
                       crew);
}

/* From the source outward, so that no dirt is washed into what is clean already: common practice,
 * no source. */
void er_card_flushing(const struct er_card_sheet *sheet)
{
    struct er_page *page = sheet->page;
    const struct er_field *field = sheet->field;
    bool mainline = field->section_count > 0;
    bool endless =
        !er_given(field->source.flow_limit) && !isfinite(er_source_last_flow(&field->source));
    er_page_heading(page, "Flushing, from the source outward");
    er_page_marked_item(page, "1.",
                        sheet->card->sets[sheet->set].gets_dirty
                            ? "Clean the filter."
                            : "Clean the filter, if there is one.");
    if (mainline) {
        er_page_marked_item(page, "2.",
                            "Open the end of the mainline until the water runs clear. "
                            "Close it.");
    }
    er_page_marked_item(page, mainline ? "3." : "2.",
                        "Run one zone alone, the others shut. Open the ends of its header until "
                        "the water runs clear. Close them.");
    er_page_marked_item(page, mainline ? "4." : "3.",
                        "Open tape ends, no more at once than the table shows: neighboring tapes, "
                        "on one side of the header or on both, from the feed point outward. Leave "
                        "each open until it runs clear, and close it before you open the next.");
    write_ends(sheet);
    er_page_paragraph(page,
                      "With this many open, wherever you are along the header, every open end gets "
                      "%s and no pipe passes %s. This is for the zone alone, its emitters running, "
                      "a clean filter and the ends open to the air.%s%s",
                      er_pen_figure(&page->pen, ER_VELOCITY, field->limits.flush_velocity),
                      er_pen_figure(&page->pen, ER_VELOCITY, field->limits.velocity),
                      endless ? " The field file tells no limit of the source's flow." : "",
                      what_else(sheet));
}

void er_card_cautions(struct er_page *page)
{
    er_page_heading(page, "Take care");
    er_page_item(page, "Open the next set's valves before you close this set's, slowly, and never "
                       "run the pump against closed valves.");
    er_page_item(page, "Shut the power and let the pressure off before you open a filter or a "
                       "pipe. Pumps, wiring and pressure tanks are work for licensed people.");
    er_page_item(page, "This water may be unfit to drink. Keep backflow protection working, tested "
                       "as the code says; with chemicals in the line, keep to the label.");
    er_page_item(page, "Local codes and the makers' ratings come first. These figures are worked "
                       "out; a gauge is read.");
}
