/* How plans are told side by side. */
#ifndef ER_REPORT_COMPARE_REPORT_H
#define ER_REPORT_COMPARE_REPORT_H

#include "evenrow/check.h"
#include "say/report.h"

/* One plan that was read and solved. */
struct er_compared {
    const char *name; /* of its file, or of the patch that makes it */
    const struct er_result *result;
    double cost;       /* er_field_cost: money, or NAN */
    bool placeholders; /* some price of it is invented */
};

struct er_comparison {
    size_t count; /* 1 or more */
    const struct er_compared *plans;
    size_t unread_count; /* plans that could not be read or solved */
    const char *const *unread;
};

/* Of struct er_comparison. The text has a column for each plan, the CSV a line. */
extern const struct er_report er_compare_report;

void er_compare_page(const void *result, struct er_page *page);

#endif
