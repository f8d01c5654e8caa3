/* How reports on a visit name things. */
#ifndef ER_REPORT_VISIT_WORDS_H
#define ER_REPORT_VISIT_WORDS_H

#include "base/text.h"
#include "evenrow/check.h"
#include "evenrow/visit.h"

/* "filter-clogged": a hypothesis in data. */
const char *er_fault_code(enum er_fault_kind kind);

/* "the filter is clogged", "water is lost beside bed 7". */
void er_append_fault(struct er_text *out, const struct er_field *field,
                     const struct er_fault *fault);

/* What was fitted: "takes 4.2 psi more at the planned flow". Nothing where nothing was. */
void er_append_fault_value(struct er_text *out, const struct er_visit *visit, enum er_system system,
                           const struct er_hypothesis *at);

/* The value's key in data and its quantity; NULL: it has none. ER_QUANTITY_COUNT: a fraction. */
const char *er_fault_value_key(enum er_fault_kind kind, enum er_quantity *quantity);

/* What to do about it, as a sentence. */
void er_append_remedy(struct er_text *out, const struct er_fault *fault);

/* "bed-inlet": a reading in data. */
const char *er_reading_code(enum er_reading_kind kind);

/* ER_PRESSURE, ER_FLOW or ER_EMITTER_FLOW. */
enum er_quantity er_reading_quantity(enum er_reading_kind kind);

/* "inlet of bed 3", "emitter 75 ft along bed 3, second side". */
void er_append_reading(struct er_text *out, enum er_system system,
                       const struct er_visit_reading *reading);

/* "good", or where the standard leaves a gap "good to fair". */
void er_append_grade(struct er_text *out, struct er_evenness_grade grade);

/* Why to shut down now, as sentences; nothing where no reading is over a rating. */
void er_append_stop(struct er_text *out, const struct er_visit *visit, enum er_system system);

/* What to do next, first things first: calls `say` for each step. */
typedef void er_step_say(void *context, const char *step);
enum er_status er_visit_steps(const struct er_visit *visit, enum er_system system, double within,
                              er_step_say *say, void *context);

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
