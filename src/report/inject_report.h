/* How an injection is said.
 *
 * Each writer appends to `out`, which the caller releases, and returns ER_OK or ER_NO_MEMORY.
 * `system` chooses the units. */
#ifndef ER_REPORT_INJECT_REPORT_H
#define ER_REPORT_INJECT_REPORT_H

#include "base/text.h"
#include "evenrow/inject.h"

/* The report for a person: at most 80 columns, the answer first. */
enum er_status er_report_inject_text(const struct er_injection *injection, enum er_system system,
                                     struct er_text *out);

/* One JSON object, every key always there, null for what does not exist. */
enum er_status er_report_inject_json(const struct er_injection *injection, enum er_system system,
                                     struct er_text *out);

/* A head line, then one line for each zone. */
enum er_status er_report_inject_csv(const struct er_injection *injection, enum er_system system,
                                    struct er_text *out);

#endif
