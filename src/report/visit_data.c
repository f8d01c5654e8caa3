#include <math.h>

#include "report/report.h"
#include "report/visit_report.h"
#include "report/visit_words.h"
#include "say/csv.h"
#include "say/json.h"

struct builder {
    const struct er_visit *visit;
    struct er_json json;
};

static const struct er_json_unit units[] = {{"pressure", ER_PRESSURE},
                                            {"flow", ER_FLOW},
                                            {"emitter_flow", ER_EMITTER_FLOW},
                                            {"length", ER_LENGTH}};

static void add_class(struct builder *b, cJSON *object, const char *key,
                      struct er_evenness_grade grade)
{
    struct er_text text;
    er_text_init(&text);
    er_append_grade(&text, grade);
    er_json_text(&b->json, object, key, er_text_string(&text));
    b->json.failed = b->json.failed || text.out_of_memory;
    er_text_release(&text);
}

static void add_emitters(struct builder *b, cJSON *root, double within)
{
    const struct er_catch *c = &b->visit->emitters;
    bool known = er_given(c->variation);
    cJSON *object = er_json_object(&b->json, root, "emitters");
    er_json_number(&b->json, object, "read", (double)c->count);
    er_json_quantity(&b->json, object, "mean_flow", ER_EMITTER_FLOW, c->mean);
    er_json_number(&b->json, object, "mean_time_s", c->mean_time);
    er_json_number(&b->json, object, "sixth", (double)c->sixth);
    er_json_text(&b->json, object, "sixths_of", c->by_times ? "times, s" : "flows");
    for (size_t i = 0; i < 2; i++) {
        const char *key = i == 0 ? "lowest_sixth" : "highest_sixth";
        double sum = i == 0 ? c->sixth_low : c->sixth_high;
        if (c->by_times) {
            er_json_number(&b->json, object, key, sum);
        } else {
            er_json_quantity(&b->json, object, key, ER_EMITTER_FLOW, sum);
        }
    }
    er_json_number(&b->json, object, "variation_percent", 100.0 * c->variation);
    er_json_number(&b->json, object, "statistical_uniformity", 100.0 * c->statistical);
    er_json_number(&b->json, object, "within_19_of_20", 100.0 * ER_NINETEEN_OF_20 * c->error);
    const struct er_range range = er_visit_uniformity(c);
    cJSON *between = er_json_object(&b->json, object, "statistical_uniformity_between");
    er_json_number(&b->json, between, "min", 100.0 * range.min);
    er_json_number(&b->json, between, "max", 100.0 * range.max);
    er_json_number(&b->json, object, "statistical_uniformity_of_sixths",
                   100.0 * c->statistical_of_sixths);
    er_json_number(&b->json, object, "low_quarter_uniformity", 100.0 * c->low_quarter);
    er_json_number(&b->json, object, "emission_uniformity", 100.0 * c->emission);
    if (known) {
        add_class(b, object, "statistical_class", er_grade_statistical(c->statistical));
        add_class(b, object, "emission_class", er_grade_emission(c->emission));
    }
    er_json_number(&b->json, object, "wanted_within", 100.0 * within);
    er_json_number(&b->json, object, "emitters_wanted",
                   known ? (double)er_catch_wanted(c, within) : ER_NONE);
}

static void add_split(struct builder *b, cJSON *root)
{
    const struct er_variance_split *split = &b->visit->split;
    cJSON *object = er_json_object(&b->json, root, "variance");
    er_json_number(&b->json, object, "pressures_read", (double)split->pressures);
    er_json_number(&b->json, object, "pressure_variation", 100.0 * split->pressure_variation);
    er_json_number(&b->json, object, "flow_variation_by_pressure", 100.0 * split->flow_by_pressure);
    er_json_number(&b->json, object, "flow_variation_by_manufacture",
                   er_given(split->pressure_share) ? 100.0 * split->manufacture : ER_NONE);
    er_json_number(&b->json, object, "flow_variation_by_rest", 100.0 * er_visit_rest(b->visit));
    er_json_number(&b->json, object, "pressure_share", 100.0 * split->pressure_share);
    er_json_number(&b->json, object, "manufacture_share", 100.0 * split->manufacture_share);
    er_json_number(&b->json, object, "rest_share", 100.0 * split->rest_share);
}

static bool in_bed(const struct er_visit_reading *reading)
{
    return reading->kind == ER_READ_BED_INLET || reading->kind == ER_READ_BED_FAR_END ||
           reading->kind == ER_READ_EMITTER;
}

static void add_place(struct builder *b, cJSON *object, const struct er_visit_reading *reading)
{
    bool bed = in_bed(reading);
    er_json_text(&b->json, object, "what", er_reading_code(reading->kind));
    er_json_number(&b->json, object, "bed", bed ? (double)reading->bed + 1.0 : ER_NONE);
    er_json_text(&b->json, object, "side",
                 bed ? (reading->second_side ? "second" : "first") : NULL);
    er_json_quantity(&b->json, object, "at", ER_LENGTH,
                     reading->kind == ER_READ_EMITTER ? reading->at : ER_NONE);
}

static void add_readings(struct builder *b, cJSON *root)
{
    const struct er_visit *visit = b->visit;
    cJSON *array = er_json_array(&b->json, root, "readings");
    for (size_t i = 0; i < visit->measured->reading_count; i++) {
        const struct er_visit_reading *reading = &visit->measured->readings[i];
        enum er_quantity quantity = er_reading_quantity(reading->kind);
        double planned = visit->hypotheses[visit->plan_place].predicted[i];
        cJSON *object = er_json_object(&b->json, array, NULL);
        add_place(b, object, reading);
        er_json_quantity(&b->json, object, "planned", quantity, planned);
        er_json_quantity(&b->json, object, "read", quantity, reading->value);
        er_json_number(&b->json, object, "off_percent",
                       planned != 0.0 ? 100.0 * (reading->value - planned) / planned : ER_NONE);
        er_json_quantity(&b->json, object, "likeliest", quantity,
                         visit->hypotheses[0].predicted[i]);
        er_json_number(&b->json, object, "deviations",
                       (reading->value - planned) / visit->deviation[i]);
    }
}

static void add_hypothesis(struct builder *b, cJSON *array, const struct er_hypothesis *at)
{
    enum er_quantity quantity;
    const char *key = er_fault_value_key(at->fault.kind, &quantity);
    struct er_text text;
    er_text_init(&text);
    er_append_fault(&text, b->visit->field, &at->fault);
    cJSON *object = er_json_object(&b->json, array, NULL);
    er_json_text(&b->json, object, "code", er_fault_code(at->fault.kind));
    er_json_text(&b->json, object, "text", er_text_string(&text));
    bool at_bed = at->fault.kind == ER_FAULT_LEAK || at->fault.kind == ER_FAULT_OPEN_END;
    er_json_number(&b->json, object, "bed", at_bed ? (double)at->fault.bed + 1.0 : ER_NONE);
    er_json_number(&b->json, object, "first_bed", at_bed ? (double)at->first_bed + 1.0 : ER_NONE);
    er_json_number(&b->json, object, "last_bed", at_bed ? (double)at->last_bed + 1.0 : ER_NONE);
    if (key != NULL && quantity == ER_QUANTITY_COUNT) {
        er_json_number(&b->json, object, key, at->fault.value);
    } else if (key != NULL) {
        er_json_quantity(&b->json, object, key, quantity, at->fault.value);
    }
    er_json_number(&b->json, object, "misfit", at->misfit);
    er_json_number(&b->json, object, "score", at->score);
    er_json_number(&b->json, object, "explains_percent", 100.0 * at->removed);
    er_json_bool(&b->json, object, "likely", at->as_good);
    b->json.failed = b->json.failed || text.out_of_memory;
    er_text_release(&text);
}

static void add_telling(struct builder *b, cJSON *root)
{
    const struct er_telling *telling = &b->visit->telling;
    if (!telling->found) {
        er_json_null(&b->json, root, "read_next");
        return;
    }
    enum er_quantity quantity = er_reading_quantity(telling->reading.kind);
    cJSON *object = er_json_object(&b->json, root, "read_next");
    add_place(b, object, &telling->reading);
    er_json_text(&b->json, object, "first", er_fault_code(b->visit->hypotheses[0].fault.kind));
    er_json_quantity(&b->json, object, "if_first", quantity, telling->first);
    er_json_text(&b->json, object, "second",
                 er_fault_code(b->visit->hypotheses[telling->other].fault.kind));
    er_json_quantity(&b->json, object, "if_second", quantity, telling->second);
}

struct steps {
    struct builder *builder;
    cJSON *array;
};

static void add_step(void *context, const char *step)
{
    struct steps *steps = context;
    er_json_text(&steps->builder->json, steps->array, NULL, step);
}

/* Why to shut down now, or null. */
static void add_stop(struct builder *b, cJSON *root)
{
    struct er_text text;
    er_text_init(&text);
    er_append_stop(&text, b->visit, b->json.system);
    er_json_text(&b->json, root, "stop", text.length > 0 ? er_text_string(&text) : NULL);
    b->json.failed = b->json.failed || text.out_of_memory;
    er_text_release(&text);
}

static const char *verdict_of(const struct er_visit *visit)
{
    if (visit->plan_is_right) {
        return visit->explained ? "as-planned" : "not-explained";
    }
    return visit->alike > 1 ? "cannot-tell" : "not-as-planned";
}

enum er_status er_report_visit_json(const struct er_visit *visit, const struct er_result *checked,
                                    enum er_system system, double within, struct er_text *out)
{
    struct builder builder = {visit, {.system = system}};
    struct builder *b = &builder;
    cJSON *root = er_json_root(&b->json, visit->field->title);
    er_json_text(&b->json, root, "verdict", verdict_of(visit));
    er_json_text(&b->json, root, "check_verdict", er_verdict_name(checked->verdict));
    er_json_bool(&b->json, root, "explained", visit->explained);
    add_stop(b, root);
    er_json_text(&b->json, root, "zone", visit->field->zones[visit->measured->zone].name);
    er_json_text(&b->json, root, "date", visit->measured->date);
    er_json_units(&b->json, er_json_object(&b->json, root, "units"), units,
                  sizeof units / sizeof units[0]);
    add_emitters(b, root, within);
    add_split(b, root);
    add_readings(b, root);
    er_json_quantity(&b->json, root, "source_by_curve", ER_PRESSURE,
                     er_visit_source_by_curve(visit));
    cJSON *array = er_json_array(&b->json, root, "hypotheses");
    for (size_t h = 0; h < visit->hypothesis_count; h++) {
        add_hypothesis(b, array, &visit->hypotheses[h]);
    }
    add_telling(b, root);
    struct steps steps = {b, er_json_array(&b->json, root, "next")};
    enum er_status status = er_visit_steps(visit, system, within, add_step, &steps);
    b->json.failed = b->json.failed || status != ER_OK;
    return er_json_end(&b->json, root, out);
}

enum er_status er_report_visit_csv(const struct er_visit *visit, enum er_system system,
                                   struct er_text *out)
{
    er_text_append(out, "what,bed,side,at_");
    er_csv_unit(out, er_unit_name(ER_LENGTH, system));
    er_text_append(out, ",unit,planned,read,likeliest,deviations\n");
    for (size_t i = 0; i < visit->measured->reading_count; i++) {
        const struct er_visit_reading *reading = &visit->measured->readings[i];
        enum er_quantity quantity = er_reading_quantity(reading->kind);
        double planned = visit->hypotheses[visit->plan_place].predicted[i];
        bool bed = in_bed(reading);
        er_csv_text(out, true, er_reading_code(reading->kind));
        er_csv_number(out, false, bed ? (double)reading->bed + 1.0 : ER_NONE);
        er_csv_text(out, false, bed ? (reading->second_side ? "second" : "first") : "");
        er_csv_number(out, false,
                      reading->kind == ER_READ_EMITTER ? er_from_si(ER_LENGTH, system, reading->at)
                                                       : ER_NONE);
        er_csv_text(out, false, er_unit_name(quantity, system));
        er_csv_number(out, false, er_from_si(quantity, system, planned));
        er_csv_number(out, false, er_from_si(quantity, system, reading->value));
        er_csv_number(out, false, er_from_si(quantity, system, visit->hypotheses[0].predicted[i]));
        er_csv_number(out, false, (reading->value - planned) / visit->deviation[i]);
        er_text_append(out, "\n");
    }
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
