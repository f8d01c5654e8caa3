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

/* The best designs, one line each. */
enum er_status er_report_choose_csv(const struct er_choose_ask *ask, const struct er_choice *choice,
                                    enum er_system system, struct er_text *out);

/* "first", "last", "middle". */
const char *er_feed_name(enum er_feed feed);

#endif
