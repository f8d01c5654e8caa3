/* How it is told what a plan asks of its source. Findings' texts keep the units that the search was
 * asked to speak. */
#ifndef ER_REPORT_SUPPLY_REPORT_H
#define ER_REPORT_SUPPLY_REPORT_H

#include "say/report.h"

extern const struct er_report er_demand_report; /* of struct er_demand */

#endif
