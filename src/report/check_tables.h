/* The tables of the report for a person, one for each question it answers. */
#ifndef ER_REPORT_CHECK_TABLES_H
#define ER_REPORT_CHECK_TABLES_H

#include "base/text.h"
#include "evenrow/check.h"

/* What the sections of the report are written from and to. Where memory runs out
 * out->out_of_memory says so. */
struct er_check_page {
    const struct er_result *result;
    enum er_system system;
    struct er_text *out;
};

void er_check_page_rows(struct er_check_page *page);     /* does every row get its water? */
void er_check_page_evenness(struct er_check_page *page); /* how even is it? */
void er_check_page_source(struct er_check_page *page);   /* does the source keep up? */
void er_check_page_mainline(struct er_check_page *page); /* the mainline; nothing without one */
void er_check_page_run_time(struct er_check_page *page); /* how long to run? */
void er_check_page_day(struct er_check_page *page);      /* the day */
void er_check_page_assumed(struct er_check_page *page);  /* what was assumed */

#endif
