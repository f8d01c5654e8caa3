/* Run times of a season, week by week: for its report and for the pump house. */
#ifndef ER_REPORT_SEASON_RUNS_H
#define ER_REPORT_SEASON_RUNS_H

#include "evenrow/season.h"
#include "say/page.h"

/* How long each zone runs each time, week below week, a few zones side by side in each table. */
void er_season_runs(struct er_page *page, const struct er_season_plan *plan);

#endif
