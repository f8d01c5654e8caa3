/* How it is told what a season takes. */
#ifndef ER_REPORT_SEASON_REPORT_H
#define ER_REPORT_SEASON_REPORT_H

#include "say/report.h"

extern const struct er_report er_season_report; /* of struct er_season_plan */

#endif
