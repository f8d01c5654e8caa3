/* How the splitting of a field into zones is said. Each writer appends to `out` and returns
 * ER_OK or ER_NO_MEMORY. */
#ifndef ER_REPORT_SPLIT_REPORT_H
#define ER_REPORT_SPLIT_REPORT_H

#include "base/text.h"
#include "evenrow/split.h"

enum er_status er_report_split_text(const struct er_split_ask *ask, const struct er_split *split,
                                    struct er_text *out);
enum er_status er_report_split_json(const struct er_split_ask *ask, const struct er_split *split,
                                    struct er_text *out);

/* The zones of the plan, one line each; none where no division passes. */
enum er_status er_report_split_csv(const struct er_split_ask *ask, const struct er_split *split,
                                   struct er_text *out);

/* Appends what stands in the way of every division, and what a remedy is, as parts of a
 * sentence. */
void er_say_obstacle(const struct er_split_ask *ask, const struct er_split *split,
                     struct er_text *out);
void er_say_remedy(const struct er_split_ask *ask, const struct er_remedy *remedy,
                   struct er_text *out);

#endif
