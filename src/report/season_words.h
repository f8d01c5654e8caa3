/* Words that the reports on a season share. */
#ifndef ER_REPORT_SEASON_WORDS_H
#define ER_REPORT_SEASON_WORDS_H

#include "base/text.h"
#include "evenrow/season.h"

/* A day as ISO 8601 has it: "2026-05-01". */
void er_append_date(struct er_text *out, long date);

/* "monthly", "penman-monteith", "hargreaves". */
const char *er_eto_method_name(enum er_eto_method method);

/* Where a mulch factor comes from: "none", "water", "mulch", "crop", "average". */
const char *er_mulch_factor_name(enum er_mulch_factor from);

/* The verdict and its reason, as a paragraph. */
void er_append_season_verdict(struct er_text *out, const struct er_season_plan *plan,
                              enum er_system system);

/* Why a plan or its season fails, as sentences. */
void er_append_season_failure(struct er_text *text, const struct er_season_plan *plan,
                              enum er_system system);

/* The storage that is needed, rounded up to three figures: who builds that has it. */
void er_append_needed(struct er_text *out, const struct er_season_plan *plan,
                      enum er_system system);

/* How the figures were found, as a list. */
void er_append_season_notes(struct er_text *out, const struct er_season_plan *plan,
                            enum er_system system);

/* Whether two zones' crops use the same in every week, and get the same rain. */
bool er_seasons_agree(const struct er_season_plan *plan, size_t one, size_t other);

#endif
