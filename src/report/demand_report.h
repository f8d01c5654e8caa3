/* How it is said what a plan asks of its source.
 *
 * Each writer appends to `out`, which the caller releases, and returns ER_OK or ER_NO_MEMORY.
 * `system` chooses the units of the figures; the findings' texts keep those that the search was
 * asked to speak. */
#ifndef ER_REPORT_DEMAND_REPORT_H
#define ER_REPORT_DEMAND_REPORT_H

#include "base/text.h"
#include "evenrow/demand.h"

/* The report for a person: at most 80 columns, the answer first. */
enum er_status er_report_demand_text(const struct er_demand *demand, enum er_system system,
                                     struct er_text *out);

/* One JSON object, every key always there, null for what does not exist. */
enum er_status er_report_demand_json(const struct er_demand *demand, enum er_system system,
                                     struct er_text *out);

/* A head line, then one line for each set. */
enum er_status er_report_demand_csv(const struct er_demand *demand, enum er_system system,
                                    struct er_text *out);

#endif
