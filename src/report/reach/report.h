/* How the longest rows of tapes are told. */
#ifndef ER_REPORT_REACH_REPORT_H
#define ER_REPORT_REACH_REPORT_H

#include "plan/reach_answer.h"
#include "say/report.h"

/* The report for a person, the answer first. */
void er_reach_page(const void *result, struct er_page *page);

extern const struct er_report er_reach_report; /* of struct er_reach_answer, in its units */

#endif
