/* Reports on a visit to the field, and the form to take there. */
#ifndef ER_REPORT_VISIT_REPORT_H
#define ER_REPORT_VISIT_REPORT_H

#include "evenrow/check.h"
#include "evenrow/visit.h"
#include "say/report.h"

/* What was found, and what it is told with. */
struct er_visit_told {
    const struct er_visit *visit;
    const struct er_result *checked; /* the check of the plan */
    double within;                   /* a fraction: how many emitters to read is told for that */
};

extern const struct er_report er_visit_report; /* of struct er_visit_told */

/* The report for a person, the answer first. */
void er_visit_page(const void *result, struct er_page *page);

/* The forms of a field's zones. */
struct er_forms {
    const struct er_field *field;
    const struct er_form *forms;
    size_t count;
};

extern const struct er_report er_forms_report; /* of struct er_forms; a page alone */

#endif
