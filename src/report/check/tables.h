/* The tables of a check, one for each question it answers. */
#ifndef ER_REPORT_CHECK_TABLES_H
#define ER_REPORT_CHECK_TABLES_H

#include "evenrow/check.h"
#include "say/page.h"
#include "say/record.h"

/* The report for a person, the verdict first. */
void er_check_page(const void *result_of, struct er_page *page);

extern const struct er_member er_zone_members[]; /* of struct er_zone_result */

void er_check_rows(struct er_page *page, const struct er_result *result);
void er_check_evenness(struct er_page *page, const struct er_result *result);
void er_check_source(struct er_page *page, const struct er_result *result);
void er_check_mainline(struct er_page *page, const struct er_result *result); /* if there is one */
void er_check_run_time(struct er_page *page, const struct er_result *result);
void er_check_day(struct er_page *page, const struct er_result *result);
void er_check_assumed(struct er_page *page, const struct er_result *result);

#endif
