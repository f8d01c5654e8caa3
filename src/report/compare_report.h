/* How plans are said side by side. */
#ifndef ER_REPORT_COMPARE_REPORT_H
#define ER_REPORT_COMPARE_REPORT_H

#include "base/text.h"
#include "evenrow/check.h"

/* One plan that was read and solved. */
struct er_compared {
    const char *name; /* of its file, or of the patch that makes it */
    const struct er_result *result;
    double cost;       /* er_field_cost: money, or NAN */
    bool placeholders; /* some price of it is invented */
};

struct er_comparison {
    enum er_system system; /* of the figures; the results speak it too */
    size_t count;          /* 1 or more */
    const struct er_compared *plans;
    size_t unread_count; /* plans that could not be read or solved */
    const char *const *unread;
};

/* Each appends to `out` and returns ER_OK or ER_NO_MEMORY. The text is side by side, a column
 * for each plan; the JSON one object; the CSV a line for each plan. */
enum er_status er_report_compare_text(const struct er_comparison *comparison, struct er_text *out);
enum er_status er_report_compare_json(const struct er_comparison *comparison, struct er_text *out);
enum er_status er_report_compare_csv(const struct er_comparison *comparison, struct er_text *out);

#endif
