/* How a result is said: for a person, for a program, for a spreadsheet.
 *
 * Each writer appends to `out`, which the caller releases, and returns ER_OK or
 * ER_NO_MEMORY. `system` chooses the units of the figures; the findings' texts keep
 * those that the check was asked to speak. */
#ifndef ER_REPORT_REPORT_H
#define ER_REPORT_REPORT_H

#include "base/text.h"
#include "evenrow/check.h"
#include "say/json.h"
#include "say/report.h"

/* "fails", "caution" or "holds". */
const char *er_verdict_name(enum er_verdict verdict);

/* ", on 13 guesses", behind a verdict's word; nothing where nothing is guessed. */
const char *er_guesses(struct er_pen *pen, const struct er_result *result);

/* The verdict and its main reason: "HOLDS: every row gets its water ...". */
const char *er_verdict_words(struct er_pen *pen, const struct er_result *result);

/* What reports other than the check's say first of a plan that fails: "THE PLAN FAILS: why. Change
 * it before you buy: 'evenrow check' tells how.", with `before` for "buy". Nothing of a plan that
 * does not fail. */
const char *er_plan_fails(struct er_pen *pen, const struct er_result *result, const char *before);

/* A result's findings as the member "findings". */
void er_json_findings(struct er_json *json, cJSON *parent, const struct er_result *result);

/* The names of a set's zones as the member `key`. */
void er_json_zone_names(struct er_json *json, cJSON *parent, const char *key,
                        const struct er_field *field, size_t set);

/* What er_field_cost counts, as a sentence. */
const char *er_cost_counts(void);

/* `text` with a full stop, if it has none. */
const char *er_with_stop(struct er_pen *pen, const char *text);

/* A table of what was assumed. */
void er_assumed_table(struct er_page *page, const struct er_assumption *assumptions, size_t count);

extern const struct er_report er_verdict_report; /* of struct er_result: its verdict alone */

#endif
