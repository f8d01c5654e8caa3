/* How it is told what a check found. */
#ifndef ER_REPORT_CHECK_REPORT_H
#define ER_REPORT_CHECK_REPORT_H

#include "say/report.h"

extern const struct er_report er_check_report; /* of struct er_result */

#endif
