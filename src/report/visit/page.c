/* What a visit found, for a person. */
#include <stdint.h>

#include "report/report.h"
#include "report/visit/words.h"

#define HARDLY 0.05 /* of the misfit: a fault that removes less explains nothing */

/* What the parts of the page are written from and to. */
struct sheet {
    const struct er_visit_told *told;
    const struct er_visit *visit; /* that is told of */
    struct er_page *page;
    struct er_pen *pen;
};

static const char *figure(const struct sheet *sheet, enum er_quantity quantity, double value)
{
    return er_pen_figure(sheet->pen, quantity, value);
}

static const char *fault_words(const struct sheet *sheet, const struct er_hypothesis *at)
{
    return er_fault_words(sheet->pen, sheet->visit->field, &at->fault);
}

/* ---- the answer ---- */

/* "the filter is clogged (takes 4 psi more at the planned flow)" */
static const char *fault_fitted(const struct sheet *sheet, const struct er_hypothesis *at)
{
    const char *value = er_fault_value(sheet->pen, sheet->visit, at);
    return value[0] != '\0' ? er_pen_text(sheet->pen, "%s (%s)", fault_words(sheet, at), value)
                            : fault_words(sheet, at);
}

static const char *alike(const struct sheet *sheet)
{
    const struct er_visit *visit = sheet->visit;
    const char *faults = "";
    for (size_t h = 0; h < visit->hypothesis_count; h++) {
        const struct er_hypothesis *at = &visit->hypotheses[h];
        if (at->as_good && at->fault.kind != ER_FAULT_NONE) {
            faults = er_pen_joined(sheet->pen, faults, "; or ", fault_fitted(sheet, at));
        }
    }
    return er_pen_text(
        sheet->pen,
        "CANNOT TELL: the readings differ from the plan, and these explain them equally well: "
        "%s.%s",
        faults,
        visit->telling.found ? ""
                             : " No other gauge or cup would tell the first two apart well: look.");
}

/* What is wrong, if anything is. */
static const char *verdict(const struct sheet *sheet)
{
    const struct er_visit *visit = sheet->visit;
    if (visit->plan_is_right) {
        return visit->explained ? "AS PLANNED: the readings are what the plan says, as far as "
                                  "gauges and cups can tell."
                                : "NOT EXPLAINED: the readings differ from the plan, and none of "
                                  "the faults that were tried explains them.";
    }
    return visit->alike > 1 ? alike(sheet)
                            : er_pen_text(sheet->pen, "NOT AS PLANNED: most likely, %s.",
                                          fault_fitted(sheet, &visit->hypotheses[0]));
}

static void write_verdict(const struct sheet *sheet)
{
    const struct er_visit *visit = sheet->visit;
    const char *more = "";
    if (!visit->explained && !visit->plan_is_right) {
        more = " Even so more is left than the readings' accuracy accounts for: a second fault, or "
               "a wrong reading.";
    }
    if (visit->plan_is_right && er_visit_uneven(visit)) {
        more = er_pen_text(sheet->pen,
                           " But the emitters are uneven: their emission uniformity is %s %%, "
                           "wanted are %s %%. See to those that give least.",
                           er_pen_number(sheet->pen, 100.0 * visit->emitters.emission),
                           er_pen_number(sheet->pen, 100.0 * visit->field->limits.uniformity));
    }
    er_page_paragraph(sheet->page, "%s%s", verdict(sheet), more);
}

/* What comes before all else: why to shut down now, or a plan that fails. */
static void write_danger(const struct sheet *sheet, const char *danger)
{
    if (danger[0] != '\0') {
        er_page_paragraph(sheet->page, "%s", danger);
    }
}

static void write_title(const struct sheet *sheet)
{
    const struct er_field *field = sheet->visit->field;
    const struct er_measured *measured = sheet->visit->measured;
    er_page_title(sheet->page, field->title);
    er_page_paragraph(sheet->page, "Zone %s%s%s; %zu readings", field->zones[measured->zone].name,
                      measured->date != NULL ? ", " : "",
                      measured->date != NULL ? measured->date : "", measured->reading_count);
    if (field->title != NULL && field->title[0] != '\0') {
        er_page_close_up(sheet->page);
    }
}

/* ---- how even ---- */

/* "; the least 3 sum up to 0.29 gph, the largest 3 to 0.92 gph" */
static const char *sixths(const struct sheet *sheet, const struct er_catch *c)
{
    if (c->sixth == 0) {
        return "";
    }
    return c->by_times
               ? er_pen_text(sheet->pen,
                             "; the shortest %zu sum up to %s s, the longest %zu to %s s", c->sixth,
                             er_pen_number(sheet->pen, c->sixth_low), c->sixth,
                             er_pen_number(sheet->pen, c->sixth_high))
               : er_pen_text(sheet->pen, "; the least %zu sum up to %s, the largest %zu to %s",
                             c->sixth, figure(sheet, ER_EMITTER_FLOW, c->sixth_low), c->sixth,
                             figure(sheet, ER_EMITTER_FLOW, c->sixth_high));
}

static void write_sample(const struct sheet *sheet, const struct er_catch *c)
{
    const char *filled = "";
    if (c->by_times) {
        filled = er_pen_text(sheet->pen, ", and filled the container in %s s",
                             er_pen_number(sheet->pen, c->mean_time));
    }
    er_page_paragraph(sheet->page, "%zu emitters gave %s on average%s%s.", c->count,
                      figure(sheet, ER_EMITTER_FLOW, c->mean), filled, sixths(sheet, c));
}

static void set_measure(struct er_table *table, size_t row, const char *what, double fraction,
                        const char *grade)
{
    er_table_text(table, row, 0, what);
    er_table_number(table, row, 1, 100.0 * fraction);
    er_table_text(table, row, 2, er_given(fraction) ? grade : "");
}

static void write_measures(const struct sheet *sheet, const struct er_catch *c)
{
    static const struct er_column columns[] = {
        {"measure", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"%", ER_COLUMN_NUMBER, ER_NO_UNIT},
        {"class", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    struct er_table *table = er_page_table(sheet->page, ER_ALL(columns), 5);
    set_measure(table, 0, "coefficient of variation", c->variation, "");
    set_measure(table, 1, "statistical uniformity, whole sample", c->statistical,
                er_grade_words(sheet->pen, er_grade_statistical(c->statistical)));
    set_measure(table, 2, "statistical uniformity, from the sixths", c->statistical_of_sixths,
                er_grade_words(sheet->pen, er_grade_statistical(c->statistical_of_sixths)));
    set_measure(table, 3, "distribution uniformity of the low quarter", c->low_quarter, "");
    set_measure(table, 4, "emission uniformity", c->emission,
                er_grade_words(sheet->pen, er_grade_emission(c->emission)));
}

static void write_confidence(const struct sheet *sheet, const struct er_catch *c)
{
    const struct er_range range = er_visit_uniformity(c);
    const char *few = "";
    if (c->count < ER_PROCEDURE_LEAST) {
        few = er_pen_text(sheet->pen, " The procedure asks for %d or more.", ER_PROCEDURE_LEAST);
    }
    er_page_paragraph(sheet->page,
                      "The zone's statistical uniformity lies between %s and %s, 19 times "
                      "of 20. %zu emitters in all would tell it within %s on either side.%s",
                      er_pen_number(sheet->pen, 100.0 * range.min),
                      er_pen_percent(sheet->pen, range.max),
                      er_catch_wanted(c, sheet->told->within),
                      er_pen_percent(sheet->pen, sheet->told->within), few);
}

static void write_evenness(const struct sheet *sheet)
{
    const struct er_catch *c = &sheet->visit->emitters;
    er_page_heading(sheet->page, "How even are the emitters?");
    if (!er_given(c->variation)) {
        er_page_paragraph(sheet->page, "%s",
                          c->count < 2
                              ? "Fewer than two emitters were read: there is nothing to say."
                              : "No emitter gave any water.");
        return;
    }
    write_sample(sheet, c);
    write_measures(sheet, c);
    write_confidence(sheet, c);
}

/* Of what the unevenness comes, and how much flow varies by it: fractions. */
struct share {
    const char *from;
    double of_variance, of_flow;
};

static const char *share_from(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)pen, (void)result, (void)place;
    return ((const struct share *)row)->from;
}

static void write_shares(const struct sheet *sheet, const struct er_variance_split *split)
{
    static const struct er_filled columns[] = {
        ER_WORDS_COLUMN("from", share_from),
        ER_PERCENT_COLUMN("share of the\nvariance, %", struct share, of_variance),
        ER_PERCENT_COLUMN("makes a variation\nof flow, %", struct share, of_flow),
    };
    const struct share shares[] = {
        {"pressure", split->pressure_share, split->flow_by_pressure},
        {"emitters: manufacture", split->manufacture_share, split->manufacture},
        {"the rest: plugging, wear, errors of reading", split->rest_share,
         er_visit_rest(sheet->visit)},
    };
    er_page_rows(sheet->page, ER_ALL(columns), shares, sizeof *shares, 3, NULL);
}

static void write_split(const struct sheet *sheet)
{
    const struct er_variance_split *split = &sheet->visit->split;
    er_page_heading(sheet->page, "Where does the unevenness come from?");
    if (!er_given(split->pressure_share)) {
        er_page_paragraph(sheet->page,
                          "That takes two emitters or more that differ, and three pressures or "
                          "more that were read in the beds.");
        return;
    }
    write_shares(sheet, split);
    er_page_paragraph(sheet->page,
                      "The %zu pressures read in the beds vary by %s; times the emitter's "
                      "exponent that makes %s of flow. Squares of variations add up.%s",
                      split->pressures, er_pen_percent(sheet->pen, split->pressure_variation),
                      er_pen_percent(sheet->pen, split->flow_by_pressure),
                      split->passes_all
                          ? " Pressure and manufacture would make more than was found: so few "
                            "readings tell the shares only roughly."
                          : "");
}

/* ---- measured against planned ---- */

struct row {
    struct er_visit_point at;
    double off; /* fraction; NAN: of no pressure there is none */
};

static const char *place_words(struct er_pen *pen, const void *result, const void *row,
                               size_t place)
{
    (void)result, (void)place;
    return er_reading_words(pen, ((const struct row *)row)->at.reading);
}

/* Readings of one quantity, and what plan and likeliest fault say. */
static void write_compared(const struct sheet *sheet, enum er_quantity quantity)
{
    const struct er_filled columns[] = {
        ER_WORDS_COLUMN("place", place_words),
        ER_FIGURE_COLUMN("planned", quantity, struct row, at.planned),
        ER_FIGURE_COLUMN("read", quantity, struct row, at.read),
        ER_PERCENT_COLUMN("off by\n%", struct row, off),
        ER_FIGURE_COLUMN("in standard\ndeviations", ER_NO_UNIT, struct row, at.deviations),
        ER_FIGURE_COLUMN("likeliest\nfault", quantity, struct row, at.likeliest),
    };
    const struct er_visit *visit = sheet->visit;
    const size_t all = visit->measured->reading_count;
    struct row *rows = er_pen_room(sheet->pen, all, sizeof *rows);
    size_t count = 0;
    for (size_t i = 0; rows != NULL && i < all; i++) {
        const struct er_visit_point at = er_visit_point(visit, i);
        if (er_reading_quantity(at.reading->kind) == quantity) {
            rows[count++] =
                (struct row){at, at.planned > 0.0 ? at.read / at.planned - 1.0 : ER_NONE};
        }
    }
    er_page_rows(sheet->page, columns, visit->plan_is_right ? 5 : 6, rows, sizeof *rows, count,
                 NULL);
}

/* Where the source stands on its curve. */
static void write_operating_point(const struct sheet *sheet)
{
    const struct er_visit *visit = sheet->visit;
    const double flow = er_visit_read(visit, ER_READ_METER);
    const double pressure = er_visit_read(visit, ER_READ_SOURCE);
    if (er_given(flow) && er_given(pressure)) {
        er_page_paragraph(sheet->page,
                          "The source was planned to give %s at %s. It gives %s at %s; at that "
                          "flow the plan's source would have %s.",
                          figure(sheet, ER_FLOW, visit->planned_flow),
                          figure(sheet, ER_PRESSURE, visit->planned_source),
                          figure(sheet, ER_FLOW, flow), figure(sheet, ER_PRESSURE, pressure),
                          figure(sheet, ER_PRESSURE, er_visit_source_by_curve(visit)));
    }
}

/* ---- causes ---- */

static const char *cause(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)place;
    return er_fault_words(pen, ((const struct er_visit *)result)->field,
                          &((const struct er_hypothesis *)row)->fault);
}

static const char *fitted(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)place;
    return er_fault_value(pen, result, row);
}

static const char *likely(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)pen, (void)result, (void)place;
    return ((const struct er_hypothesis *)row)->as_good ? "yes" : "no";
}

/* `causes`: `count` of them. */
static void write_causes_table(const struct sheet *sheet, const struct er_hypothesis *causes,
                               size_t count)
{
    static const struct er_filled columns[] = {
        ER_WORDS_COLUMN("if", cause),
        ER_WORDS_COLUMN("fitted", fitted),
        ER_PERCENT_COLUMN("explains\n%", struct er_hypothesis, removed),
        ER_FIGURE_COLUMN("misfit\nleft", ER_NO_UNIT, struct er_hypothesis, misfit),
        ER_WORDS_COLUMN("likely", likely),
    };
    er_page_rows(sheet->page, ER_ALL(columns), causes, sizeof *causes, count, sheet->visit);
}

/* "inlet of bed 3: read 6.1 psi, planned 8.2 psi, with this fault 6 psi", behind how many emitters
 * are `plugged`; `none` where there is neither. */
static const char *evidence(const struct sheet *sheet, const struct er_hypothesis *at,
                            size_t reading, size_t plugged, const char *none)
{
    const char *all = "";
    if (plugged > 0) {
        all = er_pen_text(sheet->pen, "%zu of %zu emitters gave next to nothing", plugged,
                          sheet->visit->emitters.count);
    }
    if (reading != SIZE_MAX) {
        const struct er_visit_point of = er_visit_point(sheet->visit, reading);
        const enum er_quantity quantity = er_reading_quantity(of.reading->kind);
        all = er_pen_joined(sheet->pen, all, "; ",
                            er_pen_text(sheet->pen, "%s: read %s, planned %s, with this fault %s",
                                        er_reading_words(sheet->pen, of.reading),
                                        figure(sheet, quantity, of.read),
                                        figure(sheet, quantity, of.planned),
                                        figure(sheet, quantity, at->predicted[reading])));
    }
    return all[0] != '\0' ? all : none;
}

static void write_for_and_against(const struct sheet *sheet, const struct er_hypothesis *at)
{
    const bool plugged = at->fault.kind == ER_FAULT_PLUGGED;
    er_page_item(
        sheet->page, "%s. For: %s. Against: %s.", fault_words(sheet, at),
        evidence(sheet, at, at->best_reading, plugged ? at->plugged : 0, "no single reading"),
        evidence(sheet, at, at->worst_reading, plugged ? 0 : at->plugged, "no reading"));
    er_page_at_margin(sheet->page);
}

/* The hypotheses that explain something, and the plan. */
static void write_causes(const struct sheet *sheet)
{
    const struct er_visit *visit = sheet->visit;
    struct er_hypothesis causes[ER_FAULT_KINDS];
    size_t count = 0;
    for (size_t h = 0; h < visit->hypothesis_count; h++) {
        const struct er_hypothesis *at = &visit->hypotheses[h];
        if (at->fault.kind == ER_FAULT_NONE || at->removed >= HARDLY) {
            causes[count++] = *at;
        }
    }
    er_page_heading(sheet->page, "What could it be?");
    write_causes_table(sheet, causes, count);
    er_page_paragraph(sheet->page,
                      "Each fault was put into the plan, the plan solved again, and the fault's "
                      "size sought that misses the readings least, each weighed by its accuracy. "
                      "Misfit: the sum of squared misses, in standard deviations; about one for "
                      "each reading is chance. Likely: within 4 of the least, when 2 are added for "
                      "each figure fitted.");
    for (size_t c = 0; c < count; c++) {
        if (causes[c].fault.kind != ER_FAULT_NONE) {
            write_for_and_against(sheet, &causes[c]);
        }
    }
}

/* ---- what to do next ---- */

static void write_steps(const struct sheet *sheet)
{
    const struct er_visit_steps steps = er_visit_steps(sheet->pen, sheet->told);
    er_page_heading(sheet->page, "What to do next");
    for (size_t s = 0; s < steps.count; s++) {
        er_page_marked_item(sheet->page, er_pen_text(sheet->pen, "%zu.", s + 1), "%s",
                            steps.steps[s]);
        er_page_at_margin(sheet->page);
    }
}

static void write_notes(const struct sheet *sheet)
{
    const struct er_measured *measured = sheet->visit->measured;
    er_page_heading(sheet->page, "Mind");
    er_page_paragraph(sheet->page,
                      "Gauges count as right within %s and 2 %% of what they should show, the "
                      "meter within %s, an emitter's catch within %s and the tape's own "
                      "variation: one standard deviation. One fault at a time is tried; two at "
                      "once may look like a third.",
                      figure(sheet, ER_PRESSURE, measured->pressure_accuracy),
                      er_pen_percent(sheet->pen, measured->meter_accuracy),
                      er_pen_percent(sheet->pen, measured->catch_accuracy));
    er_page_paragraph(sheet->page,
                      "Stop the pump and let the pressure off before anything is opened. Wiring "
                      "and backflow assemblies are for licensed people; local codes come first.");
    er_page_close_up(sheet->page);
}

void er_visit_page(const void *result, struct er_page *page)
{
    const struct er_visit_told *told = result;
    const struct sheet sheet = {told, told->visit, page, &page->pen};
    write_danger(&sheet, er_visit_stop(&page->pen, told->visit));
    write_danger(&sheet, er_plan_fails(&page->pen, told->checked, "water by it"));
    write_verdict(&sheet);
    write_title(&sheet);
    write_evenness(&sheet);
    write_split(&sheet);
    er_page_heading(page, "Is it as planned, point by point?");
    write_compared(&sheet, ER_PRESSURE);
    write_compared(&sheet, ER_FLOW);
    write_compared(&sheet, ER_EMITTER_FLOW);
    write_operating_point(&sheet);
    write_causes(&sheet);
    write_steps(&sheet);
    write_notes(&sheet);
}
