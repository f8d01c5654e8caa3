/* How it is said what a season takes.
 *
 * Each writer appends to `out`, which the caller releases, and returns ER_OK or ER_NO_MEMORY.
 * `system` chooses the units of the figures. */
#ifndef ER_REPORT_SEASON_REPORT_H
#define ER_REPORT_SEASON_REPORT_H

#include "base/text.h"
#include "evenrow/season.h"

/* The report for a person: at most 80 columns, the answer first, with a bar for each week. */
enum er_status er_report_season_text(const struct er_season_plan *plan, enum er_system system,
                                     struct er_text *out);

/* One JSON object, every key always there, null for what does not exist. */
enum er_status er_report_season_json(const struct er_season_plan *plan, enum er_system system,
                                     struct er_text *out);

/* A head line, then one line for each zone in each week. */
enum er_status er_report_season_csv(const struct er_season_plan *plan, enum er_system system,
                                    struct er_text *out);

#endif
