/* Run times of a season, week by week: for its report and for the pump house. */
#ifndef ER_REPORT_SEASON_RUNS_H
#define ER_REPORT_SEASON_RUNS_H

#include "evenrow/season.h"
#include "say/table.h"

void er_table_date(struct er_table *table, size_t row, size_t column, long date);

/* Takes a table to be written; it is the writer's to release. */
typedef void er_season_runs_writer(void *context, struct er_table *table);

/* How long each zone runs each time, week below week, a few zones side by side in each table. */
void er_season_runs(const struct er_season_plan *plan, enum er_system system,
                    er_season_runs_writer *write, void *context);

/* What "x2" means, where it stands in a table; else NULL. */
const char *er_season_runs_note(const struct er_season_plan *plan);

#endif
