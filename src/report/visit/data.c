/* A visit for a program: JSON, and a line for each reading as CSV. */
#include "report/report.h"
#include "report/visit/words.h"
#include "say/record.h"

static const struct er_json_unit units[] = {{"pressure", ER_PRESSURE},
                                            {"flow", ER_FLOW},
                                            {"emitter_flow", ER_EMITTER_FLOW},
                                            {"length", ER_LENGTH}};

/* ---- how even the emitters are, and why ---- */

/* Of which sums of sixths are made, and the sums. */
static void add_sixths(struct er_teller *t, cJSON *parent, const char *key, const void *at)
{
    const struct er_catch *c = at;
    const enum er_system system = t->json.system;
    const bool times = c->by_times;
    er_json_text(&t->json, parent, key, times ? "times, s" : "flows");
    er_json_number(&t->json, parent, "lowest_sixth",
                   times ? c->sixth_low : er_from_si(ER_EMITTER_FLOW, system, c->sixth_low));
    er_json_number(&t->json, parent, "highest_sixth",
                   times ? c->sixth_high : er_from_si(ER_EMITTER_FLOW, system, c->sixth_high));
}

static const struct er_member between_members[] = {
    ER_MEMBER("min", ER_IS_PERCENT, struct er_range, min),
    ER_MEMBER("max", ER_IS_PERCENT, struct er_range, max), ER_END_OF_MEMBERS};

/* How surely the uniformity is known, and between what it lies. */
static void add_error(struct er_teller *t, cJSON *parent, const char *key, const void *at)
{
    const struct er_catch *c = at;
    const struct er_range between = er_visit_uniformity(c);
    er_json_number(&t->json, parent, key, 100.0 * ER_NINETEEN_OF_20 * c->error);
    er_tell_record(t, parent, "statistical_uniformity_between", between_members, &between);
}

/* The classes, whose keys are there only where there is something to classify. */
static void add_classes(struct er_teller *t, cJSON *parent, const char *key, const void *at)
{
    const struct er_catch *c = at;
    if (er_given(c->variation)) {
        er_json_text(&t->json, parent, key,
                     er_grade_words(&t->pen, er_grade_statistical(c->statistical)));
        er_json_text(&t->json, parent, "emission_class",
                     er_grade_words(&t->pen, er_grade_emission(c->emission)));
    }
}

static void add_wanted(struct er_teller *t, cJSON *parent, const char *key, const void *at)
{
    const struct er_catch *c = at;
    const double within = ((const struct er_visit_told *)t->result)->within;
    er_json_number(&t->json, parent, key, 100.0 * within);
    er_json_number(&t->json, parent, "emitters_wanted",
                   er_given(c->variation) ? (double)er_catch_wanted(c, within) : ER_NONE);
}

#define CATCH(name, is, member) ER_MEMBER(name, is, struct er_catch, member)

static const struct er_member emitters_members[] = {
    CATCH("read", ER_IS_COUNT, count),
    ER_QUANTITY_MEMBER("mean_flow", ER_EMITTER_FLOW, struct er_catch, mean),
    CATCH("mean_time_s", ER_IS_NUMBER, mean_time),
    CATCH("sixth", ER_IS_COUNT, sixth),
    ER_MADE_MEMBER("sixths_of", add_sixths),
    CATCH("variation_percent", ER_IS_PERCENT, variation),
    CATCH("statistical_uniformity", ER_IS_PERCENT, statistical),
    ER_MADE_MEMBER("within_19_of_20", add_error),
    CATCH("statistical_uniformity_of_sixths", ER_IS_PERCENT, statistical_of_sixths),
    CATCH("low_quarter_uniformity", ER_IS_PERCENT, low_quarter),
    CATCH("emission_uniformity", ER_IS_PERCENT, emission),
    ER_MADE_MEMBER("statistical_class", add_classes),
    ER_MADE_MEMBER("wanted_within", add_wanted),
    ER_END_OF_MEMBERS};

struct told_split {
    struct er_variance_split of;
    double manufacture, rest; /* NAN: not told apart */
};

#define SPLIT(name, member) ER_MEMBER(name, ER_IS_PERCENT, struct told_split, member)

static const struct er_member split_members[] = {
    ER_MEMBER("pressures_read", ER_IS_COUNT, struct told_split, of.pressures),
    SPLIT("pressure_variation", of.pressure_variation),
    SPLIT("flow_variation_by_pressure", of.flow_by_pressure),
    SPLIT("flow_variation_by_manufacture", manufacture),
    SPLIT("flow_variation_by_rest", rest),
    SPLIT("pressure_share", of.pressure_share),
    SPLIT("manufacture_share", of.manufacture_share),
    SPLIT("rest_share", of.rest_share),
    ER_END_OF_MEMBERS};

/* ---- readings ---- */

struct told_place {
    const char *what;
    double bed;       /* from 1; NAN: it is at none */
    const char *side; /* NULL likewise */
    double at;
};

static struct told_place place_told(const struct er_visit_reading *reading)
{
    const bool bed = er_reading_has_bed(reading->kind);
    return (struct told_place){er_reading_code(reading->kind),
                               bed ? (double)reading->bed + 1.0 : ER_NONE,
                               !bed                   ? NULL
                               : reading->second_side ? "second"
                                                      : "first",
                               reading->kind == ER_READ_EMITTER ? reading->at : ER_NONE};
}

static const struct er_member place_members[] = {
    ER_MEMBER("what", ER_IS_TEXT, struct told_place, what),
    ER_MEMBER("bed", ER_IS_NUMBER, struct told_place, bed),
    ER_MEMBER("side", ER_IS_TEXT, struct told_place, side),
    ER_QUANTITY_MEMBER("at", ER_LENGTH, struct told_place, at), ER_END_OF_MEMBERS};

/* Pressures and flows stand in one list: they are in the reader's units already. */
struct told_reading {
    struct told_place place; /* its members begin with the place's */
    const char *unit;
    double planned, read, likeliest;
    double off; /* percent; NAN: of nothing there is none */
    double deviations;
};

#define READING(name, member) ER_MEMBER(name, ER_IS_NUMBER, struct told_reading, member)

static const struct er_member reading_members[] = {ER_RECORD_MEMBER("", place_members),
                                                   READING("planned", planned),
                                                   READING("read", read),
                                                   READING("off_percent", off),
                                                   READING("likeliest", likeliest),
                                                   READING("deviations", deviations),
                                                   ER_END_OF_MEMBERS};

static const struct er_member line_members[] = {
    ER_RECORD_MEMBER("", place_members),
    ER_MEMBER("unit", ER_IS_TEXT, struct told_reading, unit),
    READING("planned", planned),
    READING("read", read),
    READING("likeliest", likeliest),
    READING("deviations", deviations),
    ER_END_OF_MEMBERS};

/* All of them; NULL: memory ran out. */
static const struct told_reading *list_readings(struct er_teller *teller)
{
    const struct er_visit *visit = ((const struct er_visit_told *)teller->result)->visit;
    const enum er_system system = teller->json.system;
    const size_t count = visit->measured->reading_count;
    struct told_reading *all = er_pen_room(&teller->pen, count, sizeof *all);
    for (size_t i = 0; all != NULL && i < count; i++) {
        const struct er_visit_point of = er_visit_point(visit, i);
        const enum er_quantity quantity = er_reading_quantity(of.reading->kind);
        all[i] = (struct told_reading){
            .place = place_told(of.reading),
            .unit = er_unit_name(quantity, system),
            .planned = er_from_si(quantity, system, of.planned),
            .read = er_from_si(quantity, system, of.read),
            .likeliest = er_from_si(quantity, system, of.likeliest),
            .off = of.planned != 0.0 ? 100.0 * (of.read - of.planned) / of.planned : ER_NONE,
            .deviations = of.deviations};
    }
    return all;
}

/* What to read next, and what two faults would show there; null where nothing tells. */
static void add_telling(struct er_teller *t, cJSON *root, const struct er_visit *visit)
{
    const struct er_telling *telling = &visit->telling;
    const enum er_quantity quantity = er_reading_quantity(telling->reading.kind);
    const struct told_place place = place_told(&telling->reading);
    cJSON *object =
        er_tell_record(t, root, "read_next", place_members, telling->found ? &place : NULL);
    if (telling->found) {
        er_json_text(&t->json, object, "first", er_fault_code(visit->hypotheses[0].fault.kind));
        er_json_quantity(&t->json, object, "if_first", quantity, telling->first);
        er_json_text(&t->json, object, "second",
                     er_fault_code(visit->hypotheses[telling->other].fault.kind));
        er_json_quantity(&t->json, object, "if_second", quantity, telling->second);
    }
}

/* ---- what could be wrong ---- */

/* What it is, where it is and may be, and what was fitted, by a key of its own. */
static void add_fault(struct er_teller *t, cJSON *parent, const char *key, const void *at)
{
    const struct er_visit_told *told = t->result;
    const struct er_hypothesis *of = at;
    const bool bed = er_fault_has_bed(of->fault.kind);
    enum er_quantity quantity;
    const char *value_key = er_fault_value_key(of->fault.kind, &quantity);
    er_json_text(&t->json, parent, key, er_fault_code(of->fault.kind));
    er_json_text(&t->json, parent, "text", er_fault_words(&t->pen, told->visit->field, &of->fault));
    er_json_number(&t->json, parent, "bed", bed ? (double)of->fault.bed + 1.0 : ER_NONE);
    er_json_number(&t->json, parent, "first_bed", bed ? (double)of->first_bed + 1.0 : ER_NONE);
    er_json_number(&t->json, parent, "last_bed", bed ? (double)of->last_bed + 1.0 : ER_NONE);
    if (value_key != NULL && quantity == ER_QUANTITY_COUNT) {
        er_json_number(&t->json, parent, value_key, of->fault.value);
    } else if (value_key != NULL) {
        er_json_quantity(&t->json, parent, value_key, quantity, of->fault.value);
    }
}

static const struct er_member hypothesis_members[] = {
    ER_MADE_MEMBER("code", add_fault),
    ER_MEMBER("misfit", ER_IS_NUMBER, struct er_hypothesis, misfit),
    ER_MEMBER("score", ER_IS_NUMBER, struct er_hypothesis, score),
    ER_MEMBER("explains_percent", ER_IS_PERCENT, struct er_hypothesis, removed),
    ER_MEMBER("likely", ER_IS_TRUE, struct er_hypothesis, as_good),
    ER_END_OF_MEMBERS};

/* ---- the whole ---- */

static const char *verdict_of(const struct er_visit *visit)
{
    if (visit->plan_is_right) {
        return visit->explained ? "as-planned" : "not-explained";
    }
    return visit->alike > 1 ? "cannot-tell" : "not-as-planned";
}

static void add_answer(struct er_teller *t, cJSON *root, const struct er_visit_told *told)
{
    const struct er_visit *visit = told->visit;
    er_json_text(&t->json, root, "verdict", verdict_of(visit));
    er_json_text(&t->json, root, "check_verdict", er_verdict_name(told->checked->verdict));
    er_json_bool(&t->json, root, "explained", visit->explained);
    er_json_text(&t->json, root, "stop",
                 visit->danger.found ? er_visit_stop(&t->pen, visit) : NULL);
    er_json_text(&t->json, root, "zone", visit->field->zones[visit->measured->zone].name);
    er_json_text(&t->json, root, "date", visit->measured->date);
}

static void add_steps(struct er_teller *t, cJSON *root, const struct er_visit_told *told)
{
    const struct er_visit_steps steps = er_visit_steps(&t->pen, told);
    cJSON *array = er_json_array(&t->json, root, "next");
    for (size_t s = 0; s < steps.count; s++) {
        er_json_text(&t->json, array, NULL, steps.steps[s]);
    }
}

static void write_json(struct er_teller *t, cJSON *root)
{
    const struct er_visit_told *told = t->result;
    const struct er_visit *visit = told->visit;
    const struct told_reading *readings = list_readings(t);
    const struct told_split split = {
        visit->split, er_given(visit->split.pressure_share) ? visit->split.manufacture : ER_NONE,
        er_visit_rest(visit)};
    er_json_text(&t->json, root, "title", visit->field->title);
    add_answer(t, root, told);
    er_json_units(&t->json, root, ER_ALL(units));
    er_tell_record(t, root, "emitters", emitters_members, &visit->emitters);
    er_tell_record(t, root, "variance", split_members, &split);
    er_tell_list(t, root, "readings", reading_members, readings, visit->measured->reading_count,
                 sizeof *readings);
    er_json_quantity(&t->json, root, "source_by_curve", ER_PRESSURE,
                     er_visit_source_by_curve(visit));
    er_tell_list(t, root, "hypotheses", hypothesis_members, visit->hypotheses,
                 visit->hypothesis_count, sizeof *visit->hypotheses);
    add_telling(t, root, visit);
    add_steps(t, root, told);
}

static void write_csv(struct er_teller *t, struct er_text *out)
{
    const struct er_visit_told *told = t->result;
    const struct told_reading *readings = list_readings(t);
    er_tell_csv(t, line_members, readings, told->visit->measured->reading_count, sizeof *readings,
                out);
}

const struct er_report er_visit_report = {
    .page = er_visit_page, .json = write_json, .csv = write_csv};
