/* A result in each of the forms in which a command can tell it. */
#ifndef ER_SAY_REPORT_H
#define ER_SAY_REPORT_H

#include "say/page.h"
#include "say/record.h"

/* How results of one type are told. JSON is one object, every key always there, null for what does
 * not exist; CSV a head and a line for each row, appended to `out`. The teller holds the result and
 * the units to tell it in, and knows whether memory ran out. NULL: there is no such form. */
struct er_report {
    void (*page)(const void *result, struct er_page *page);
    void (*json)(struct er_teller *teller, cJSON *root);
    void (*csv)(struct er_teller *teller, struct er_text *out);
    /* Adds the arithmetic to the page: how figures come about, line by line. ER_OK, ER_NO_MEMORY,
     * or what solving something again ends with. */
    enum er_status (*explain)(const void *result, struct er_page *page);
};

enum er_told_as { ER_AS_TEXT, ER_AS_HTML, ER_AS_JSON, ER_AS_CSV };

/* Appends the result to `out`. ER_OK or ER_NO_MEMORY. */
enum er_status er_report_as(const struct er_report *report, enum er_told_as form,
                            const void *result, enum er_system system, struct er_text *out);

/* The same with the arithmetic, as text or HTML; or what report->explain ends with. */
enum er_status er_report_explained(const struct er_report *report, enum er_told_as form,
                                   const void *result, enum er_system system, struct er_text *out);

#endif
