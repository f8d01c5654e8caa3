#include "report/visit_words.h"

#include <math.h>

#include "evenrow/hydraulics.h"
#include "say/say.h"

#define MOST_ASKED_FOR 60 /* emitters: beyond that, mend first and read again */

struct fault_words {
    const char *code;
    const char *what;      /* a sentence without its full stop; a bed's number follows where
                              there is one */
    const char *value_key; /* in data; NULL: it has no value */
    enum er_quantity quantity;
    const char *remedy;
};

static const struct fault_words faults[ER_FAULT_KINDS] = {
    [ER_FAULT_NONE] = {"as-planned", "all is as planned", NULL, ER_QUANTITY_COUNT,
                       "Change nothing."},
    [ER_FAULT_FILTER] = {"filter-clogged", "the filter is clogged", "extra_loss", ER_PRESSURE,
                         "Clean or flush the filter, with the pump stopped and the pressure let "
                         "off first; then read the gauges before and after it again."},
    [ER_FAULT_PUMP] = {"source-weak", "the source gives less pressure than planned",
                       "share_of_pressure", ER_QUANTITY_COUNT,
                       "Look at the suction side first: a clogged strainer, air drawn in, low "
                       "water. Then have the pump's speed and its wear looked at by somebody who "
                       "is licensed for the wiring."},
    [ER_FAULT_VALVE] = {"valve-part-closed", "the zone's valve is part closed", "extra_loss",
                        ER_PRESSURE,
                        "Open the zone's valve fully, slowly, and look whether its diaphragm or "
                        "its seat is fouled."},
    [ER_FAULT_REGULATOR] = {"regulator-off", "the regulator holds another pressure than planned",
                            "holds", ER_PRESSURE,
                            "Read the pressure behind the regulator, and look at what is printed "
                            "on it; set it or change it, and never above what the tape is rated "
                            "for."},
    [ER_FAULT_HEADER] = {"header-narrow", "the header pipe is narrower than drawn",
                         "share_of_diameter", ER_QUANTITY_COUNT,
                         "Measure the header's inside diameter, and look for kinks, crushed "
                         "layflat and sediment."},
    [ER_FAULT_LEAK] = {"leak", "water is lost near bed", "flow", ER_FLOW,
                       "Walk the header and the tapes there for wet soil, a cut, a loose "
                       "fitting."},
    [ER_FAULT_OPEN_END] = {"tape-end-open", "tape is open at the far end of bed", NULL,
                           ER_QUANTITY_COUNT,
                           "Walk to the far end of that bed and close the tape."},
    [ER_FAULT_PLUGGED] = {"emitters-plugged", "emitters are plugged", "share_plugged",
                          ER_QUANTITY_COUNT,
                          "Flush the tapes, cut open an emitter that gives nothing to see whether "
                          "it is sand, slime or scale, and mend the filter or treat the water "
                          "after what is found, with licensed advice where it takes chemicals."},
    [ER_FAULT_TAPE] = {"tape-other", "another tape lies there than planned, or one that is worn",
                       "share_of_flow", ER_QUANTITY_COUNT,
                       "Read what is printed on the tape, and put that tape into the field "
                       "file."},
};

struct reading_words {
    const char *code, *what;
    enum er_quantity quantity;
};

static const struct reading_words readings[ER_READ_KINDS] = {
    [ER_READ_SOURCE] = {"source", "gauge at the source", ER_PRESSURE},
    [ER_READ_AFTER_PARTS] = {"after-headworks", "gauge after the headworks", ER_PRESSURE},
    [ER_READ_AFTER_VALVE] = {"after-valve", "gauge after the zone's valve", ER_PRESSURE},
    [ER_READ_HEADER] = {"header", "header, where it is fed", ER_PRESSURE},
    [ER_READ_METER] = {"flow", "meter at the source", ER_FLOW},
    [ER_READ_BED_INLET] = {"bed-inlet", "inlet of bed", ER_PRESSURE},
    [ER_READ_BED_FAR_END] = {"bed-far-end", "far end of bed", ER_PRESSURE},
    [ER_READ_EMITTER] = {"emitter", "emitter", ER_EMITTER_FLOW},
};

const char *er_fault_code(enum er_fault_kind kind) { return faults[kind].code; }

const char *er_fault_value_key(enum er_fault_kind kind, enum er_quantity *quantity)
{
    *quantity = faults[kind].quantity;
    return faults[kind].value_key;
}

static bool has_bed(enum er_fault_kind kind)
{
    return kind == ER_FAULT_LEAK || kind == ER_FAULT_OPEN_END;
}

void er_append_fault(struct er_text *out, const struct er_field *field,
                     const struct er_fault *fault)
{
    if (fault->kind == ER_FAULT_PUMP && field->source.kind == ER_SOURCE_PUMP) {
        er_text_append(out, "the pump is worn, or runs too slowly");
        return;
    }
    er_text_append(out, faults[fault->kind].what);
    if (has_bed(fault->kind)) {
        er_text_appendf(out, " %zu", fault->bed + 1);
    }
}

static void append_percent(struct er_text *out, double fraction)
{
    er_text_appendf(out, "%.0f %%", 100.0 * fraction);
}

/* Where else the fault may be. */
static void append_beds(struct er_text *out, const struct er_hypothesis *at)
{
    if (at->first_bed < at->last_bed) {
        er_text_appendf(out, "anywhere from bed %zu to bed %zu", at->first_bed + 1,
                        at->last_bed + 1);
    }
}

void er_append_fault_value(struct er_text *out, const struct er_visit *visit, enum er_system system,
                           const struct er_hypothesis *at)
{
    const struct er_fault *fault = &at->fault;
    const struct er_zone *zone = &visit->field->zones[visit->measured->zone];
    switch (fault->kind) {
    case ER_FAULT_FILTER:
    case ER_FAULT_VALVE:
        er_text_append(out, "takes ");
        er_append_quantity(out, system, ER_PRESSURE, fault->value);
        er_text_append(out, " more at the planned flow");
        break;
    case ER_FAULT_PUMP:
        er_text_append(out, "gives ");
        append_percent(out, fault->value);
        er_text_append(out, " of its pressure");
        break;
    case ER_FAULT_REGULATOR:
        er_text_append(out, "holds ");
        er_append_quantity(out, system, ER_PRESSURE, fault->value);
        er_text_append(out, ", not ");
        er_append_quantity(out, system, ER_PRESSURE, zone->regulator->holds);
        break;
    case ER_FAULT_HEADER:
        er_append_quantity(out, system, ER_SMALL_LENGTH,
                           fault->value * zone->header.pieces[0].pipe->inside_diameter);
        er_text_append(out, " inside where it is fed, not ");
        er_append_quantity(out, system, ER_SMALL_LENGTH,
                           zone->header.pieces[0].pipe->inside_diameter);
        break;
    case ER_FAULT_LEAK:
        er_append_quantity(out, system, ER_FLOW, fault->value);
        er_text_append(out, at->first_bed < at->last_bed ? ", " : "");
        append_beds(out, at);
        break;
    case ER_FAULT_OPEN_END:
        append_beds(out, at);
        break;
    case ER_FAULT_PLUGGED:
        append_percent(out, fault->value);
        er_text_append(out, " of them");
        break;
    case ER_FAULT_TAPE:
        er_text_append(out, "gives ");
        append_percent(out, fault->value);
        er_text_append(out, " of the planned flow");
        break;
    case ER_FAULT_NONE:
    case ER_FAULT_KINDS:
        break;
    }
}

void er_append_remedy(struct er_text *out, const struct er_fault *fault)
{
    er_text_append(out, faults[fault->kind].remedy);
}

const char *er_reading_code(enum er_reading_kind kind) { return readings[kind].code; }

enum er_quantity er_reading_quantity(enum er_reading_kind kind) { return readings[kind].quantity; }

void er_append_reading(struct er_text *out, enum er_system system,
                       const struct er_visit_reading *reading)
{
    er_text_append(out, readings[reading->kind].what);
    if (reading->kind == ER_READ_EMITTER) {
        er_text_append(out, " ");
        er_append_quantity(out, system, ER_LENGTH, reading->at);
        er_text_append(out, " along bed");
    }
    if (reading->kind == ER_READ_BED_INLET || reading->kind == ER_READ_BED_FAR_END ||
        reading->kind == ER_READ_EMITTER) {
        er_text_appendf(out, " %zu%s", reading->bed + 1,
                        reading->second_side ? ", second side" : "");
    }
}

void er_append_grade(struct er_text *out, struct er_evenness_grade grade)
{
    er_text_append(out, er_evenness_class_name(grade.best));
    if (grade.best != grade.worst) {
        er_text_appendf(out, " to %s", er_evenness_class_name(grade.worst));
    }
}

void er_append_stop(struct er_text *out, const struct er_visit *visit, enum er_system system)
{
    static const char *const rated[] = {[ER_RATED_TAPE] = "the tape",
                                        [ER_RATED_HEADER] = "the header pipe",
                                        [ER_RATED_SECTION] = "the pipe of mainline section",
                                        [ER_RATED_PART] = "the part"};
    const struct er_danger *danger = &visit->danger;
    if (!danger->found) {
        return;
    }
    const struct er_visit_reading *reading = &visit->measured->readings[danger->reading];
    er_text_append(out, "SHUT DOWN NOW: you read ");
    er_append_quantity(out, system, ER_PRESSURE, reading->value);
    er_text_append(out, " (");
    er_append_reading(out, system, reading);
    er_text_appendf(out, "), and %s", rated[danger->what]);
    if (danger->name != NULL) {
        er_text_append(out, " \"");
        er_text_append_visible(out, danger->name);
        er_text_append(out, "\"");
    }
    er_text_append(out, danger->behind ? " behind it is rated for " : " there is rated for ");
    er_append_quantity(out, system, ER_PRESSURE, danger->rating);
    er_text_append(out, ". Stop the pump, and let the pressure off before you open anything.");
}

/* The steps as they are said. */
struct stepping {
    const struct er_visit *visit;
    enum er_system system;
    er_step_say *say;
    void *context;
    bool out_of_memory;
};

static void say_step(struct stepping *s, struct er_text *text)
{
    s->say(s->context, er_text_string(text));
    s->out_of_memory = s->out_of_memory || text->out_of_memory;
    er_text_release(text);
}

static void say_telling(struct stepping *s)
{
    const struct er_telling *telling = &s->visit->telling;
    if (!telling->found) {
        return;
    }
    enum er_quantity quantity = er_reading_quantity(telling->reading.kind);
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, "Read next: ");
    er_append_reading(&text, s->system, &telling->reading);
    er_text_append(&text, ". About ");
    er_append_quantity(&text, s->system, quantity, telling->first);
    er_text_append(&text, " there means that ");
    er_append_fault(&text, s->visit->field, &s->visit->hypotheses[0].fault);
    er_text_append(&text, "; about ");
    er_append_quantity(&text, s->system, quantity, telling->second);
    er_text_append(&text, ", that ");
    er_append_fault(&text, s->visit->field, &s->visit->hypotheses[telling->other].fault);
    er_text_append(&text, ".");
    say_step(s, &text);
}

static void say_remedies(struct stepping *s)
{
    for (size_t h = 0; h < s->visit->hypothesis_count; h++) {
        const struct er_hypothesis *at = &s->visit->hypotheses[h];
        if (!at->as_good || at->fault.kind == ER_FAULT_NONE) {
            continue;
        }
        struct er_text text;
        er_text_init(&text);
        er_text_append(&text, h == 0 ? "If " : "Or, if ");
        er_append_fault(&text, s->visit->field, &at->fault);
        er_text_append(&text, ": ");
        er_append_remedy(&text, &at->fault);
        say_step(s, &text);
    }
}

static void say_more_emitters(struct stepping *s, double within)
{
    const struct er_catch *emitters = &s->visit->emitters;
    struct er_text text;
    er_text_init(&text);
    size_t wanted = ER_PROCEDURE_LEAST;
    if (er_given(emitters->variation)) {
        wanted = er_catch_wanted(emitters, within);
    }
    if (emitters->count < wanted && wanted <= MOST_ASKED_FOR) {
        const char *where = "where the form of 'evenrow visit --form' says or between those "
                            "places";
        if (emitters->count == 0) {
            er_text_appendf(&text, "Read %zu emitters, %s.", wanted, where);
        } else {
            er_text_appendf(&text, "Read %zu more emitters, %zu in all, %s.",
                            wanted - emitters->count, wanted, where);
        }
        say_step(s, &text);
    }
    er_text_release(&text);
}

enum er_status er_visit_steps(const struct er_visit *visit, enum er_system system, double within,
                              er_step_say *say, void *context)
{
    struct stepping stepping = {visit, system, say, context, false};
    if (visit->danger.found) {
        say(context, "Shut the zone down. Find what lets so much pressure through, and fix it, "
                     "before you run it again.");
    }
    if (!visit->plan_is_right) {
        say_telling(&stepping);
        say_remedies(&stepping);
        say(context, "Then run the zone again until it is steady, and read the same places.");
    }
    say_more_emitters(&stepping, within);
    say(context, "Come back in six months, or when the crop shows it: evenness falls as emitters "
                 "plug and parts wear.");
    return stepping.out_of_memory ? ER_NO_MEMORY : ER_OK;
}

struct er_range er_visit_uniformity(const struct er_catch *emitters)
{
    const double half = ER_NINETEEN_OF_20 * emitters->error;
    const double most = emitters->statistical + half;
    return (struct er_range){emitters->statistical - half, most > 1.0 ? 1.0 : most};
}

double er_visit_rest(const struct er_visit *visit)
{
    return visit->emitters.variation * sqrt(visit->split.rest_share);
}

double er_visit_read(const struct er_visit *visit, enum er_reading_kind kind)
{
    for (size_t i = 0; i < visit->measured->reading_count; i++) {
        if (visit->measured->readings[i].kind == kind) {
            return visit->measured->readings[i].value;
        }
    }
    return ER_NONE;
}

double er_visit_source_by_curve(const struct er_visit *visit)
{
    const double flow = er_visit_read(visit, ER_READ_METER);
    double slope;
    return er_given(flow) && er_given(er_visit_read(visit, ER_READ_SOURCE))
               ? er_source_pressure(&visit->field->source, flow, &slope)
               : ER_NONE;
}
