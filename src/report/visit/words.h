/* How reports on a visit name things. */
#ifndef ER_REPORT_VISIT_WORDS_H
#define ER_REPORT_VISIT_WORDS_H

#include "report/visit/report.h"

/* "filter-clogged": a hypothesis in data. */
const char *er_fault_code(enum er_fault_kind kind);

/* Whether the fault is at one bed. */
bool er_fault_has_bed(enum er_fault_kind kind);

/* "the filter is clogged", "water is lost beside bed 7". */
const char *er_fault_words(struct er_pen *pen, const struct er_field *field,
                           const struct er_fault *fault);

/* What was fitted: "takes 4.2 psi more at the planned flow". "" where nothing was. */
const char *er_fault_value(struct er_pen *pen, const struct er_visit *visit,
                           const struct er_hypothesis *at);

/* The value's key in data and its quantity; NULL: it has none. ER_QUANTITY_COUNT: a fraction. */
const char *er_fault_value_key(enum er_fault_kind kind, enum er_quantity *quantity);

/* "bed-inlet": a reading in data. */
const char *er_reading_code(enum er_reading_kind kind);

/* ER_PRESSURE, ER_FLOW or ER_EMITTER_FLOW. */
enum er_quantity er_reading_quantity(enum er_reading_kind kind);

/* Whether it is read at a bed. */
bool er_reading_has_bed(enum er_reading_kind kind);

/* "inlet of bed 3", "emitter 75 ft along bed 3, second side"; and the bed alone: "3, second side".
 */
const char *er_reading_words(struct er_pen *pen, const struct er_visit_reading *reading);
const char *er_reading_bed(struct er_pen *pen, const struct er_visit_reading *reading);

/* "good", or where the standard leaves a gap "good to fair". */
const char *er_grade_words(struct er_pen *pen, struct er_evenness_grade grade);

/* Why to shut down now, as sentences; "" where no reading is over a rating. */
const char *er_visit_stop(struct er_pen *pen, const struct er_visit *visit);

/* What to do next, first things first. */
struct er_visit_steps {
    size_t count;
    const char *steps[ER_FAULT_KINDS + 5]; /* a remedy for each fault, and what stands around */
};
struct er_visit_steps er_visit_steps(struct er_pen *pen, const struct er_visit_told *told);

/* A reading beside what plan and likeliest hypothesis say of it, SI. */
struct er_visit_point {
    const struct er_visit_reading *reading;
    double planned, read, likeliest;
    double deviations; /* standard deviations that it is off the plan */
};
struct er_visit_point er_visit_point(const struct er_visit *visit, size_t reading);

/* Standard deviations either side that hold 19 of 20 cases. */
#define ER_NINETEEN_OF_20 1.96

/* Between which the zone's statistical uniformity lies, 19 times of 20; fractions. */
struct er_range er_visit_uniformity(const struct er_catch *emitters);

/* The variation of flow that neither pressure nor manufacture makes; NAN where not told apart. */
double er_visit_rest(const struct er_visit *visit);

/* What was read at a place outside the beds; NAN where nothing was. */
double er_visit_read(const struct er_visit *visit, enum er_reading_kind kind);

/* The pressure (Pa) that the plan's source would have at the flow that was read; NAN where its flow
 * and pressure were not both read. */
double er_visit_source_by_curve(const struct er_visit *visit);

#endif
