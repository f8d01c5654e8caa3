#include <math.h>
#include <stdint.h>
#include <stdio.h>

#include "evenrow/hydraulics.h"
#include "report/report.h"
#include "report/visit_report.h"
#include "report/visit_words.h"
#include "say/say.h"
#include "say/wrap.h"

#define HARDLY 0.05 /* of the misfit: a fault that removes less explains nothing */
struct page {
    const struct er_visit *visit;
    enum er_system system;
    double within;
    struct er_text *out;
    size_t steps;
};

static void append_head(const struct page *page, const char *question)
{
    er_text_append(page->out, "\n");
    er_text_append(page->out, question);
    er_text_append(page->out, "\n\n");
}

/* "the filter is clogged (takes 4 psi more at the planned flow)" */
static void append_fault_fitted(const struct page *page, struct er_text *text,
                                const struct er_hypothesis *at)
{
    struct er_text value;
    er_text_init(&value);
    er_append_fault(text, page->visit->field, &at->fault);
    er_append_fault_value(&value, page->visit, page->system, at);
    if (value.length > 0) {
        er_text_appendf(text, " (%s)", er_text_string(&value));
    }
    text->out_of_memory = text->out_of_memory || value.out_of_memory;
    er_text_release(&value);
}

static void append_alike(const struct page *page, struct er_text *text)
{
    const struct er_visit *visit = page->visit;
    er_text_append(text, "CANNOT TELL: the readings differ from the plan, and these explain them "
                         "equally well: ");
    bool first = true;
    for (size_t h = 0; h < visit->hypothesis_count; h++) {
        if (visit->hypotheses[h].as_good && visit->hypotheses[h].fault.kind != ER_FAULT_NONE) {
            er_text_append(text, first ? "" : "; or ");
            append_fault_fitted(page, text, &visit->hypotheses[h]);
            first = false;
        }
    }
    er_text_append(text, ".");
    if (!visit->telling.found) {
        er_text_append(text, " No other gauge or cup would tell the first two apart well: look.");
    }
}

static void finish_first(const struct page *page, struct er_text *text)
{
    if (text->length > 0) {
        er_finish_paragraph(page->out, text);
        er_text_append(page->out, "\n");
    }
}

/* What comes before all else: why to shut down now, and a plan that fails. */
static void append_dangers(const struct page *page, const struct er_result *checked)
{
    struct er_text text;
    er_text_init(&text);
    er_append_stop(&text, page->visit, page->system);
    finish_first(page, &text);
    er_append_plan_fails(&text, checked, "water by it");
    finish_first(page, &text);
    er_text_release(&text);
}

static void append_verdict(const struct page *page)
{
    const struct er_visit *visit = page->visit;
    struct er_text text;
    er_text_init(&text);
    if (visit->plan_is_right) {
        er_text_append(&text, visit->explained
                                  ? "AS PLANNED: the readings are what the plan says, as far as "
                                    "gauges and cups can tell."
                                  : "NOT EXPLAINED: the readings differ from the plan, and none of "
                                    "the faults that were tried explains them.");
    } else if (visit->alike > 1) {
        append_alike(page, &text);
    } else {
        er_text_append(&text, "NOT AS PLANNED: most likely, ");
        append_fault_fitted(page, &text, &visit->hypotheses[0]);
        er_text_append(&text, ".");
    }
    if (!visit->explained && !visit->plan_is_right) {
        er_text_append(&text, " Even so more is left than the readings' accuracy accounts for: a "
                              "second fault, or a wrong reading.");
    }
    if (visit->plan_is_right && er_visit_uneven(visit)) {
        er_text_append(&text, " But the emitters are uneven: their emission uniformity is ");
        er_append_number(&text, 100.0 * visit->emitters.emission);
        er_text_append(&text, " %, wanted are ");
        er_append_number(&text, 100.0 * visit->field->limits.uniformity);
        er_text_append(&text, " %. See to those that give least.");
    }
    er_finish_paragraph(page->out, &text);
}

static void append_title(const struct page *page)
{
    const struct er_visit *visit = page->visit;
    const struct er_measured *measured = visit->measured;
    struct er_text text;
    er_text_append(page->out, "\n");
    if (visit->field->title != NULL && visit->field->title[0] != '\0') {
        er_paragraph(page->out, "", "", visit->field->title);
    }
    er_text_init(&text);
    er_text_append(&text, "Zone ");
    er_text_append_visible(&text, visit->field->zones[measured->zone].name);
    if (measured->date != NULL) {
        er_text_appendf(&text, ", %s", measured->date);
    }
    er_text_appendf(&text, "; %zu readings", measured->reading_count);
    er_finish_paragraph(page->out, &text);
}

/* ---- how even ---- */

static void set_measure(struct er_table *table, size_t row, const char *what, double fraction,
                        const struct er_evenness_grade *grade)
{
    struct er_text class_name;
    er_text_init(&class_name);
    if (grade != NULL && er_given(fraction)) {
        er_append_grade(&class_name, *grade);
    }
    er_table_text(table, row, 0, what);
    er_table_number(table, row, 1, 100.0 * fraction);
    er_table_text(table, row, 2, er_text_string(&class_name));
    table->out_of_memory = table->out_of_memory || class_name.out_of_memory;
    er_text_release(&class_name);
}

static void append_measures(const struct page *page)
{
    static const struct er_column columns[] = {
        {"measure", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"%", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"class", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    const struct er_catch *c = &page->visit->emitters;
    const struct er_evenness_grade whole = er_grade_statistical(c->statistical);
    const struct er_evenness_grade sixths = er_grade_statistical(c->statistical_of_sixths);
    const struct er_evenness_grade emission = er_grade_emission(c->emission);
    struct er_table table;
    er_table_init(&table, page->system, columns, 3, 5);
    set_measure(&table, 0, "coefficient of variation", c->variation, NULL);
    set_measure(&table, 1, "statistical uniformity, whole sample", c->statistical, &whole);
    set_measure(&table, 2, "statistical uniformity, from the sixths", c->statistical_of_sixths,
                &sixths);
    set_measure(&table, 3, "distribution uniformity of the low quarter", c->low_quarter, NULL);
    set_measure(&table, 4, "emission uniformity", c->emission, &emission);
    er_table_finish(&table, page->out);
}

/* What the lowest and the highest sixth sum up to. */
static void append_sixths(const struct page *page, struct er_text *text)
{
    const struct er_catch *c = &page->visit->emitters;
    er_text_appendf(text,
                    c->by_times ? "; the shortest %zu sum up to " : "; the least %zu sum up to ",
                    c->sixth);
    if (c->by_times) {
        er_text_appendf(text, "%.4g s, the longest %zu to %.4g s", c->sixth_low, c->sixth,
                        c->sixth_high);
        return;
    }
    er_append_quantity(text, page->system, ER_EMITTER_FLOW, c->sixth_low);
    er_text_appendf(text, ", the largest %zu to ", c->sixth);
    er_append_quantity(text, page->system, ER_EMITTER_FLOW, c->sixth_high);
}

static void append_sample(const struct page *page)
{
    const struct er_catch *c = &page->visit->emitters;
    struct er_text text;
    er_text_init(&text);
    er_text_appendf(&text, "%zu emitters gave ", c->count);
    er_append_quantity(&text, page->system, ER_EMITTER_FLOW, c->mean);
    er_text_append(&text, " on average");
    if (c->by_times) {
        er_text_appendf(&text, ", and filled the container in %.1f s", c->mean_time);
    }
    if (c->sixth > 0) {
        append_sixths(page, &text);
    }
    er_text_append(&text, ".");
    er_finish_paragraph(page->out, &text);
    er_text_append(page->out, "\n");
}

static void append_confidence(const struct page *page)
{
    const struct er_catch *c = &page->visit->emitters;
    const struct er_range range = er_visit_uniformity(c);
    struct er_text text;
    er_text_init(&text);
    er_text_appendf(&text,
                    "The zone's statistical uniformity lies between %.1f and %.1f %%, 19 times of "
                    "20. %zu emitters in all would tell it within %.3g %% on either side.",
                    100.0 * range.min, 100.0 * range.max, er_catch_wanted(c, page->within),
                    100.0 * page->within);
    if (c->count < ER_PROCEDURE_LEAST) {
        er_text_appendf(&text, " The procedure asks for %d or more.", ER_PROCEDURE_LEAST);
    }
    er_text_append(page->out, "\n");
    er_finish_paragraph(page->out, &text);
}

static void append_evenness(const struct page *page)
{
    append_head(page, "How even are the emitters?");
    const struct er_catch *c = &page->visit->emitters;
    if (!er_given(c->variation)) {
        er_paragraph(page->out, "", "",
                     c->count < 2 ? "Fewer than two emitters were read: there is nothing to say."
                                  : "No emitter gave any water.");
        return;
    }
    append_sample(page);
    append_measures(page);
    append_confidence(page);
}

static void append_split_remark(const struct page *page)
{
    const struct er_variance_split *split = &page->visit->split;
    struct er_text text;
    er_text_init(&text);
    er_text_appendf(&text,
                    "The %zu pressures read in the beds vary by %.1f %%; times the emitter's "
                    "exponent that makes %.1f %% of flow. Squares of variations add up.",
                    split->pressures, 100.0 * split->pressure_variation,
                    100.0 * split->flow_by_pressure);
    if (split->passes_all) {
        er_text_append(&text, " Pressure and manufacture would make more than was found: so few "
                              "readings tell the shares only roughly.");
    }
    er_text_append(page->out, "\n");
    er_finish_paragraph(page->out, &text);
}

static void append_split(const struct page *page)
{
    const struct er_variance_split *split = &page->visit->split;
    append_head(page, "Where does the unevenness come from?");
    if (!er_given(split->pressure_share)) {
        er_paragraph(page->out, "", "",
                     "That takes two emitters or more that differ, and three pressures or more "
                     "that were read in the beds.");
        return;
    }
    static const struct er_column columns[] = {
        {"from", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"share of the\nvariance, %", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"makes a variation\nof flow, %", ER_COLUMN_TENTHS, ER_NO_UNIT},
    };
    struct er_table table;
    er_table_init(&table, page->system, columns, 3, 3);
    er_table_text(&table, 0, 0, "pressure");
    er_table_number(&table, 0, 1, 100.0 * split->pressure_share);
    er_table_number(&table, 0, 2, 100.0 * split->flow_by_pressure);
    er_table_text(&table, 1, 0, "emitters: manufacture");
    er_table_number(&table, 1, 1, 100.0 * split->manufacture_share);
    er_table_number(&table, 1, 2, 100.0 * split->manufacture);
    er_table_text(&table, 2, 0, "the rest: plugging, wear, errors of reading");
    er_table_number(&table, 2, 1, 100.0 * split->rest_share);
    er_table_number(&table, 2, 2, 100.0 * er_visit_rest(page->visit));
    er_table_finish(&table, page->out);
    append_split_remark(page);
}

/* ---- measured against planned ---- */

static size_t count_of(const struct er_measured *measured, enum er_quantity quantity)
{
    size_t count = 0;
    for (size_t i = 0; i < measured->reading_count; i++) {
        count += er_reading_quantity(measured->readings[i].kind) == quantity;
    }
    return count;
}

static void set_place(const struct page *page, struct er_table *table, size_t row,
                      const struct er_visit_reading *reading)
{
    struct er_text place;
    er_text_init(&place);
    er_append_reading(&place, page->system, reading);
    er_table_text(table, row, 0, er_text_string(&place));
    table->out_of_memory = table->out_of_memory || place.out_of_memory;
    er_text_release(&place);
}

/* Readings of one quantity, and what plan and likeliest fault say. */
static void append_compared(const struct page *page, enum er_quantity quantity)
{
    const struct er_column columns[] = {
        {"place", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"planned", ER_COLUMN_NUMBER, quantity},
        {"read", ER_COLUMN_ALIKE, quantity},
        {"off by\n%", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"in standard\ndeviations", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"likeliest\nfault", ER_COLUMN_ALIKE, quantity},
    };
    const struct er_visit *visit = page->visit;
    const struct er_measured *measured = visit->measured;
    const struct er_hypothesis *plan = &visit->hypotheses[visit->plan_place];
    size_t rows = count_of(measured, quantity);
    if (rows == 0) {
        return;
    }
    struct er_table table;
    size_t row = 0;
    er_table_init(&table, page->system, columns, visit->plan_is_right ? 5 : 6, rows);
    for (size_t i = 0; i < measured->reading_count; i++) {
        const struct er_visit_reading *reading = &measured->readings[i];
        if (er_reading_quantity(reading->kind) != quantity) {
            continue;
        }
        double planned = plan->predicted[i];
        set_place(page, &table, row, reading);
        er_table_number(&table, row, 1, planned);
        er_table_number(&table, row, 2, reading->value);
        er_table_number(&table, row, 3,
                        planned > 0.0 ? 100.0 * (reading->value / planned - 1.0) : ER_NONE);
        er_table_number(&table, row, 4, (reading->value - planned) / visit->deviation[i]);
        if (!visit->plan_is_right) {
            er_table_number(&table, row, 5, visit->hypotheses[0].predicted[i]);
        }
        row++;
    }
    er_table_finish(&table, page->out);
}

/* Where the source stands on its curve. */
static void append_operating_point(const struct page *page)
{
    const struct er_visit *visit = page->visit;
    double flow = er_visit_read(visit, ER_READ_METER);
    double pressure = er_visit_read(visit, ER_READ_SOURCE);
    double by_curve = er_visit_source_by_curve(visit);
    if (!er_given(flow) || !er_given(pressure)) {
        return;
    }
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, "The source was planned to give ");
    er_append_quantity(&text, page->system, ER_FLOW, visit->planned_flow);
    er_text_append(&text, " at ");
    er_append_quantity(&text, page->system, ER_PRESSURE, visit->planned_source);
    er_text_append(&text, ". It gives ");
    er_append_quantity(&text, page->system, ER_FLOW, flow);
    er_text_append(&text, " at ");
    er_append_quantity(&text, page->system, ER_PRESSURE, pressure);
    er_text_append(&text, "; at that flow the plan's source would have ");
    er_append_quantity(&text, page->system, ER_PRESSURE, by_curve);
    er_text_append(&text, ".");
    er_text_append(page->out, "\n");
    er_finish_paragraph(page->out, &text);
}

static void append_comparison(const struct page *page)
{
    append_head(page, "Is it as planned, point by point?");
    append_compared(page, ER_PRESSURE);
    const struct er_measured *measured = page->visit->measured;
    if (count_of(measured, ER_FLOW) > 0) {
        er_text_append(page->out, count_of(measured, ER_PRESSURE) > 0 ? "\n" : "");
        append_compared(page, ER_FLOW);
    }
    if (count_of(measured, ER_EMITTER_FLOW) > 0) {
        er_text_append(page->out,
                       count_of(measured, ER_EMITTER_FLOW) < measured->reading_count ? "\n" : "");
        append_compared(page, ER_EMITTER_FLOW);
    }
    append_operating_point(page);
}

/* ---- causes ---- */

static bool explains(const struct er_hypothesis *at)
{
    return at->fault.kind == ER_FAULT_NONE || at->removed >= HARDLY;
}

static void set_cause(const struct page *page, struct er_table *table, size_t row,
                      const struct er_hypothesis *at)
{
    struct er_text words;
    er_text_init(&words);
    er_append_fault(&words, page->visit->field, &at->fault);
    er_table_text(table, row, 0, er_text_string(&words));
    er_text_clear(&words);
    er_append_fault_value(&words, page->visit, page->system, at);
    er_table_text(table, row, 1, er_text_string(&words));
    er_table_number(table, row, 2, 100.0 * at->removed);
    er_table_number(table, row, 3, at->misfit);
    er_table_text(table, row, 4, at->as_good ? "yes" : "no");
    table->out_of_memory = table->out_of_memory || words.out_of_memory;
    er_text_release(&words);
}

static void append_causes_table(const struct page *page)
{
    static const struct er_column columns[] = {
        {"if", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"fitted", ER_COLUMN_WORDS, ER_NO_UNIT},
        {"explains\n%", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"misfit\nleft", ER_COLUMN_TENTHS, ER_NO_UNIT},
        {"likely", ER_COLUMN_WORDS, ER_NO_UNIT},
    };
    const struct er_visit *visit = page->visit;
    size_t rows = 0;
    for (size_t h = 0; h < visit->hypothesis_count; h++) {
        rows += explains(&visit->hypotheses[h]);
    }
    struct er_table table;
    er_table_init(&table, page->system, columns, 5, rows);
    size_t row = 0;
    for (size_t h = 0; h < visit->hypothesis_count; h++) {
        if (explains(&visit->hypotheses[h])) {
            set_cause(page, &table, row++, &visit->hypotheses[h]);
        }
    }
    er_table_finish(&table, page->out);
}

/* "inlet of bed 3: read 6.1 psi, planned 8.2 psi, with this fault 6 psi" */
static void append_evidence(const struct page *page, struct er_text *text,
                            const struct er_hypothesis *at, size_t reading)
{
    const struct er_visit *visit = page->visit;
    const struct er_visit_reading *place = &visit->measured->readings[reading];
    enum er_quantity quantity = er_reading_quantity(place->kind);
    er_append_reading(text, page->system, place);
    er_text_append(text, ": read ");
    er_append_quantity(text, page->system, quantity, place->value);
    er_text_append(text, ", planned ");
    er_append_quantity(text, page->system, quantity,
                       visit->hypotheses[visit->plan_place].predicted[reading]);
    er_text_append(text, ", with this fault ");
    er_append_quantity(text, page->system, quantity, at->predicted[reading]);
}

static void append_for(const struct page *page, struct er_text *text,
                       const struct er_hypothesis *at)
{
    bool plugs = at->fault.kind == ER_FAULT_PLUGGED && at->plugged > 0;
    er_text_append(text, ". For: ");
    if (plugs) {
        er_text_appendf(text, "%zu of %zu emitters gave next to nothing", at->plugged,
                        page->visit->emitters.count);
    }
    if (at->best_reading != SIZE_MAX) {
        er_text_append(text, plugs ? "; " : "");
        append_evidence(page, text, at, at->best_reading);
    } else if (!plugs) {
        er_text_append(text, "no single reading");
    }
}

static void append_against(const struct page *page, struct er_text *text,
                           const struct er_hypothesis *at)
{
    bool plugs = at->fault.kind != ER_FAULT_PLUGGED && at->plugged > 0;
    er_text_append(text, ". Against: ");
    if (plugs) {
        er_text_appendf(text, "%zu of %zu emitters gave next to nothing", at->plugged,
                        page->visit->emitters.count);
    }
    if (at->worst_reading != SIZE_MAX) {
        er_text_append(text, plugs ? "; " : "");
        append_evidence(page, text, at, at->worst_reading);
    } else if (!plugs) {
        er_text_append(text, "no reading");
    }
    er_text_append(text, ".");
}

static void append_for_and_against(const struct page *page, const struct er_hypothesis *at)
{
    struct er_text text;
    er_text_init(&text);
    er_append_fault(&text, page->visit->field, &at->fault);
    append_for(page, &text, at);
    append_against(page, &text, at);
    er_paragraph(page->out, "- ", "  ", er_text_string(&text));
    page->out->out_of_memory = page->out->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

static void append_causes(const struct page *page)
{
    const struct er_visit *visit = page->visit;
    append_head(page, "What could it be?");
    append_causes_table(page);
    er_text_append(page->out, "\n");
    er_paragraph(page->out, "", "",
                 "Each fault was put into the plan, the plan solved again, and the fault's size "
                 "sought that misses the readings least, each weighed by its accuracy. Misfit: "
                 "the sum of squared misses, in standard deviations; about one for each reading "
                 "is chance. Likely: within 4 of the least, when 2 are added for each figure "
                 "fitted.");
    bool any = false;
    for (size_t h = 0; h < visit->hypothesis_count; h++) {
        const struct er_hypothesis *at = &visit->hypotheses[h];
        if (explains(at) && at->fault.kind != ER_FAULT_NONE) {
            er_text_append(page->out, any ? "" : "\n");
            append_for_and_against(page, at);
            any = true;
        }
    }
}

static void append_step(void *context, const char *step)
{
    struct page *page = context;
    char number[32];
    snprintf(number, sizeof number, "%zu. ", ++page->steps);
    er_paragraph(page->out, number, "   ", step);
}

static void append_notes(const struct page *page)
{
    struct er_text text;
    const struct er_measured *measured = page->visit->measured;
    append_head(page, "Mind");
    er_text_init(&text);
    er_text_append(&text, "Gauges count as right within ");
    er_append_quantity(&text, page->system, ER_PRESSURE, measured->pressure_accuracy);
    er_text_appendf(&text,
                    " and 2 %% of what they should show, the meter within %.3g %%, an emitter's "
                    "catch within %.3g %% and the tape's own variation: one standard deviation. "
                    "One fault at a time is tried; two at once may look like a third.",
                    100.0 * measured->meter_accuracy, 100.0 * measured->catch_accuracy);
    er_finish_paragraph(page->out, &text);
    er_paragraph(page->out, "", "",
                 "Stop the pump and let the pressure off before anything is opened. Wiring and "
                 "backflow assemblies are for licensed people; local codes come first.");
}

enum er_status er_report_visit_text(const struct er_visit *visit, const struct er_result *checked,
                                    enum er_system system, double within, struct er_text *out)
{
    struct page page = {visit, system, within, out, 0};
    append_dangers(&page, checked);
    append_verdict(&page);
    append_title(&page);
    append_evenness(&page);
    append_split(&page);
    append_comparison(&page);
    append_causes(&page);
    append_head(&page, "What to do next");
    enum er_status status = er_visit_steps(visit, system, within, append_step, &page);
    append_notes(&page);
    return status != ER_OK || out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
