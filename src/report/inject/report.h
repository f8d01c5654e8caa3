/* How an injection is told. */
#ifndef ER_REPORT_INJECT_REPORT_H
#define ER_REPORT_INJECT_REPORT_H

#include "say/report.h"

extern const struct er_report er_inject_report; /* of struct er_injection */

#endif
