/* How the outcome of a choice among designs is told. */
#ifndef ER_REPORT_CHOOSE_REPORT_H
#define ER_REPORT_CHOOSE_REPORT_H

#include "evenrow/choose.h"
#include "say/report.h"

/* What was asked, and what came of it. */
struct er_chosen {
    const struct er_choose_ask *ask;
    const struct er_choice *choice;
};

extern const struct er_report er_choose_report; /* of struct er_chosen */

/* The report for a person, the answer first. */
void er_choose_page(const void *result, struct er_page *page);

/* A design of the list by its rank, the plan as it is having rank 0. NULL: the plan has several
 * kinds, or one without a name. */
struct er_ranked {
    size_t rank;
    const struct er_design *design;
    const char *tape, *header, *feed;
    size_t zones;
};

/* All of them, by rank, in the pen's memory; *count is their number. NULL: memory ran out. */
const struct er_ranked *er_designs_ranked(struct er_pen *pen, const struct er_chosen *chosen,
                                          size_t *count);

/* "first", "last", "middle". */
const char *er_feed_name(enum er_feed feed);

#endif
