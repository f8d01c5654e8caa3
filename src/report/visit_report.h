/* Reports on a visit to the field. */
#ifndef ER_REPORT_VISIT_REPORT_H
#define ER_REPORT_VISIT_REPORT_H

#include "base/text.h"
#include "evenrow/check.h"
#include "evenrow/visit.h"

/* `checked`: the check of the plan. `within`: a fraction; how many emitters to read is told for
 * that. Each appends to `out`.
 * ER_OK or ER_NO_MEMORY. */
enum er_status er_report_visit_text(const struct er_visit *visit, const struct er_result *checked,
                                    enum er_system system, double within, struct er_text *out);
enum er_status er_report_visit_json(const struct er_visit *visit, const struct er_result *checked,
                                    enum er_system system, double within, struct er_text *out);
enum er_status er_report_visit_csv(const struct er_visit *visit, enum er_system system,
                                   struct er_text *out);

/* The form to take to the field, one page. */
enum er_status er_report_visit_form(const struct er_field *field, const struct er_form *form,
                                    enum er_system system, struct er_text *out);

#endif
