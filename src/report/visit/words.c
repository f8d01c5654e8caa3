/* Faults, readings and next steps of a visit, put into words. */
#include "report/visit/words.h"

#include <math.h>

#include "evenrow/hydraulics.h"

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

bool er_fault_has_bed(enum er_fault_kind kind)
{
    return kind == ER_FAULT_LEAK || kind == ER_FAULT_OPEN_END;
}

const char *er_fault_words(struct er_pen *pen, const struct er_field *field,
                           const struct er_fault *fault)
{
    if (fault->kind == ER_FAULT_PUMP && field->source.kind == ER_SOURCE_PUMP) {
        return "the pump is worn, or runs too slowly";
    }
    const char *what = faults[fault->kind].what;
    return er_fault_has_bed(fault->kind) ? er_pen_text(pen, "%s %zu", what, fault->bed + 1) : what;
}

/* Where else the fault may be. */
static const char *beds(struct er_pen *pen, const struct er_hypothesis *at, const char *before)
{
    return at->first_bed < at->last_bed ? er_pen_text(pen, "%sanywhere from bed %zu to bed %zu",
                                                      before, at->first_bed + 1, at->last_bed + 1)
                                        : "";
}

static const char *pressure(struct er_pen *pen, double value)
{
    return er_pen_figure(pen, ER_PRESSURE, value);
}

const char *er_fault_value(struct er_pen *pen, const struct er_visit *visit,
                           const struct er_hypothesis *at)
{
    const struct er_zone *zone = &visit->field->zones[visit->measured->zone];
    const double value = at->fault.value, percent = 100.0 * value;
    switch (at->fault.kind) {
    case ER_FAULT_FILTER:
    case ER_FAULT_VALVE:
        return er_pen_text(pen, "takes %s more at the planned flow", pressure(pen, value));
    case ER_FAULT_PUMP:
        return er_pen_text(pen, "gives %.0f %% of its pressure", percent);
    case ER_FAULT_REGULATOR:
        return er_pen_text(pen, "holds %s, not %s", pressure(pen, value),
                           pressure(pen, zone->regulator->holds));
    case ER_FAULT_HEADER: {
        const double planned = zone->header.pieces[0].pipe->inside_diameter;
        return er_pen_text(pen, "%s inside where it is fed, not %s",
                           er_pen_figure(pen, ER_SMALL_LENGTH, value * planned),
                           er_pen_figure(pen, ER_SMALL_LENGTH, planned));
    }
    case ER_FAULT_LEAK:
        return er_pen_text(pen, "%s%s", er_pen_figure(pen, ER_FLOW, value), beds(pen, at, ", "));
    case ER_FAULT_OPEN_END:
        return beds(pen, at, "");
    case ER_FAULT_PLUGGED:
        return er_pen_text(pen, "%.0f %% of them", percent);
    case ER_FAULT_TAPE:
        return er_pen_text(pen, "gives %.0f %% of the planned flow", percent);
    case ER_FAULT_NONE:
    case ER_FAULT_KINDS:
        break;
    }
    return "";
}

const char *er_reading_code(enum er_reading_kind kind) { return readings[kind].code; }

enum er_quantity er_reading_quantity(enum er_reading_kind kind) { return readings[kind].quantity; }

bool er_reading_has_bed(enum er_reading_kind kind)
{
    return kind == ER_READ_BED_INLET || kind == ER_READ_BED_FAR_END || kind == ER_READ_EMITTER;
}

const char *er_reading_bed(struct er_pen *pen, const struct er_visit_reading *reading)
{
    return er_pen_text(pen, "%zu%s", reading->bed + 1, reading->second_side ? ", second side" : "");
}

const char *er_reading_words(struct er_pen *pen, const struct er_visit_reading *reading)
{
    const char *what = readings[reading->kind].what;
    if (reading->kind == ER_READ_EMITTER) {
        what =
            er_pen_text(pen, "%s %s along bed", what, er_pen_figure(pen, ER_LENGTH, reading->at));
    }
    return er_reading_has_bed(reading->kind)
               ? er_pen_text(pen, "%s %s", what, er_reading_bed(pen, reading))
               : what;
}

const char *er_grade_words(struct er_pen *pen, struct er_evenness_grade grade)
{
    const char *best = er_evenness_class_name(grade.best);
    return grade.best == grade.worst
               ? best
               : er_pen_text(pen, "%s to %s", best, er_evenness_class_name(grade.worst));
}

const char *er_visit_stop(struct er_pen *pen, const struct er_visit *visit)
{
    static const char *const rated[] = {[ER_RATED_TAPE] = "the tape",
                                        [ER_RATED_HEADER] = "the header pipe",
                                        [ER_RATED_SECTION] = "the pipe of mainline section",
                                        [ER_RATED_PART] = "the part"};
    const struct er_danger *danger = &visit->danger;
    if (!danger->found) {
        return "";
    }
    const struct er_visit_reading *reading = &visit->measured->readings[danger->reading];
    return er_pen_text(
        pen,
        "SHUT DOWN NOW: you read %s (%s), and %s%s %s is rated for %s. Stop the pump, and let the "
        "pressure off before you open anything.",
        pressure(pen, reading->value), er_reading_words(pen, reading), rated[danger->what],
        danger->name != NULL ? er_pen_text(pen, " \"%s\"", er_pen_visible(pen, danger->name)) : "",
        danger->behind ? "behind it" : "there", pressure(pen, danger->rating));
}

/* ---- what to do next ---- */

static void add_step(struct er_visit_steps *steps, const char *step)
{
    steps->steps[steps->count++] = step;
}

static void add_telling(struct er_visit_steps *steps, struct er_pen *pen,
                        const struct er_visit *visit)
{
    const struct er_telling *telling = &visit->telling;
    if (!telling->found) {
        return;
    }
    const enum er_quantity quantity = er_reading_quantity(telling->reading.kind);
    add_step(
        steps,
        er_pen_text(pen, "Read next: %s. About %s there means that %s; about %s, that %s.",
                    er_reading_words(pen, &telling->reading),
                    er_pen_figure(pen, quantity, telling->first),
                    er_fault_words(pen, visit->field, &visit->hypotheses[0].fault),
                    er_pen_figure(pen, quantity, telling->second),
                    er_fault_words(pen, visit->field, &visit->hypotheses[telling->other].fault)));
}

static void add_remedies(struct er_visit_steps *steps, struct er_pen *pen,
                         const struct er_visit *visit)
{
    for (size_t h = 0; h < visit->hypothesis_count; h++) {
        const struct er_hypothesis *at = &visit->hypotheses[h];
        if (at->as_good && at->fault.kind != ER_FAULT_NONE) {
            add_step(steps, er_pen_text(pen, "%s %s: %s", h == 0 ? "If" : "Or, if",
                                        er_fault_words(pen, visit->field, &at->fault),
                                        faults[at->fault.kind].remedy));
        }
    }
}

static void add_more_emitters(struct er_visit_steps *steps, struct er_pen *pen,
                              const struct er_catch *emitters, double within)
{
    const size_t wanted = er_given(emitters->variation) ? er_catch_wanted(emitters, within)
                                                        : (size_t)ER_PROCEDURE_LEAST;
    if (emitters->count < wanted && wanted <= MOST_ASKED_FOR) {
        const char *in_all = emitters->count > 0
                                 ? er_pen_text(pen, " more emitters, %zu in all", wanted)
                                 : " emitters";
        add_step(steps, er_pen_text(pen,
                                    "Read %zu%s, where the form of 'evenrow visit --form' says or "
                                    "between those places.",
                                    wanted - emitters->count, in_all));
    }
}

struct er_visit_steps er_visit_steps(struct er_pen *pen, const struct er_visit_told *told)
{
    const struct er_visit *visit = told->visit;
    struct er_visit_steps steps = {0};
    if (visit->danger.found) {
        add_step(&steps, "Shut the zone down. Find what lets so much pressure through, and fix it, "
                         "before you run it again.");
    }
    if (!visit->plan_is_right) {
        add_telling(&steps, pen, visit);
        add_remedies(&steps, pen, visit);
        add_step(&steps, "Then run the zone again until it is steady, and read the same places.");
    }
    add_more_emitters(&steps, pen, &visit->emitters, told->within);
    add_step(&steps, "Come back in six months, or when the crop shows it: evenness falls as "
                     "emitters plug and parts wear.");
    return steps;
}

/* ---- figures beside the readings ---- */

struct er_visit_point er_visit_point(const struct er_visit *visit, size_t reading)
{
    const struct er_visit_reading *at = &visit->measured->readings[reading];
    const double planned = visit->hypotheses[visit->plan_place].predicted[reading];
    return (struct er_visit_point){at, planned, at->value, visit->hypotheses[0].predicted[reading],
                                   (at->value - planned) / visit->deviation[reading]};
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
