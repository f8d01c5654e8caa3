/* Words that reports on a season share. */
#ifndef ER_REPORT_SEASON_WORDS_H
#define ER_REPORT_SEASON_WORDS_H

#include "evenrow/season.h"
#include "say/page.h"

/* The report for a person, the answer first, with a bar for each week. */
void er_season_page(const void *result, struct er_page *page);

/* "monthly", "penman-monteith", "hargreaves". */
const char *er_eto_method_name(enum er_eto_method method);

/* Where a mulch factor comes from: "none", "water", "mulch", "crop", "average". */
const char *er_mulch_factor_name(enum er_mulch_factor from);

/* Why a plan or its season fails, as sentences. */
const char *er_season_failure(struct er_pen *pen, const struct er_season_plan *plan);

/* The verdict and its reason. */
const char *er_season_verdict(struct er_pen *pen, const struct er_season_plan *plan);

/* The storage that is needed, rounded up to three figures: who builds that has it. */
const char *er_season_needed(struct er_pen *pen, const struct er_season_plan *plan);

/* How the figures were found, as a list. */
void er_season_notes(struct er_page *page, const struct er_season_plan *plan);

/* Whether two zones' crops use the same in every week, and get the same rain. */
bool er_seasons_agree(const struct er_season_plan *plan, size_t one, size_t other);

/* The next zone from `z` on that is the first of those that agree with it; the number of zones if
 * there is none. */
size_t er_season_kind_from(const struct er_season_plan *plan, size_t z);

#endif
