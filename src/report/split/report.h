/* How the splitting of a field into zones is told. */
#ifndef ER_REPORT_SPLIT_REPORT_H
#define ER_REPORT_SPLIT_REPORT_H

#include "evenrow/split.h"
#include "say/report.h"

/* What was asked, and what came of it. */
struct er_splitting {
    const struct er_split_ask *ask;
    const struct er_split *split;
};

extern const struct er_report er_split_report; /* of struct er_splitting, in the ask's units */

/* The report for a person, the answer first. */
void er_split_page(const void *result, struct er_page *page);

/* What stands in the way of every division, and what a remedy is, as parts of a sentence. */
const char *er_split_obstacle(struct er_pen *pen, const struct er_split_ask *ask,
                              const struct er_split *split);
const char *er_split_remedy(struct er_pen *pen, const struct er_split_ask *ask,
                            const struct er_remedy *remedy);

#endif
