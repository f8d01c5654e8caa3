/* How the outcome of a choice among designs is said. Each writer appends to `out` and returns
 * ER_OK or ER_NO_MEMORY. */
#ifndef ER_REPORT_CHOOSE_REPORT_H
#define ER_REPORT_CHOOSE_REPORT_H

#include "base/text.h"
#include "evenrow/choose.h"

enum er_status er_report_choose_text(const struct er_choose_ask *ask,
                                     const struct er_choice *choice, enum er_system system,
                                     struct er_text *out);
enum er_status er_report_choose_json(const struct er_choose_ask *ask,
                                     const struct er_choice *choice, enum er_system system,
                                     struct er_text *out);

/* The plan as it is (rank 0) and the best designs, one line each. */
enum er_status er_report_choose_csv(const struct er_choose_ask *ask, const struct er_choice *choice,
                                    enum er_system system, struct er_text *out);

/* A design of the list by its rank, the plan as it is having rank 0. NULL: the plan has several
 * kinds, or one without a name. */
struct er_ranked {
    const struct er_design *design;
    const char *tape, *header, *feed;
    size_t zones;
};

struct er_ranked er_design_ranked(const struct er_choose_ask *ask, const struct er_choice *choice,
                                  size_t rank);

/* "first", "last", "middle". */
const char *er_feed_name(enum er_feed feed);

#endif
