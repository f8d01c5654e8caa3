/* How figures come about, line by line, as struct er_report has it. */
#ifndef ER_EXPLAIN_EXPLAIN_H
#define ER_EXPLAIN_EXPLAIN_H

#include "check/worked.h"
#include "evenrow/inject.h"
#include "evenrow/season.h"
#include "explain/board.h"
#include "plan/reach_answer.h"

/* Of struct er_result: the way of the water to the least even zone and to its weakest row, how even
 * it is, how long it runs. */
enum er_status er_explain_check(const void *checked, struct er_page *page);

/* Of struct er_reach_answer: each tape's row on the ground that is nearest to level, with the usual
 * pressure at its inlet, and the row with one emitter more. */
enum er_status er_explain_reach(const void *result, struct er_page *page);

/* Of struct er_season_plan: a day of the week that runs longest, of the zone that runs longest
 * then, and what the week comes to. */
enum er_status er_explain_season(const void *result, struct er_page *page);

/* Of struct er_injection: the first set that gets any. */
enum er_status er_explain_injection(const void *result, struct er_page *page);

/* ---- the pieces ---- */

/* A stretch of pipe or tape. Words tell what its length and its flow are. */
struct er_stretch {
    double length, flow, c, diameter; /* SI */
    enum er_quantity measure;         /* ER_LENGTH or ER_SMALL_LENGTH: how its length is told */
    const char *length_words, *flow_words;
};

/* Its friction. Returns it in the reader's unit of pressure, as it is shown. */
double er_explain_friction(struct er_board *board, const struct er_stretch *stretch);

/* A rise (m) as a pressure; nothing where there is none. Returns it as it is shown. */
double er_explain_rise(struct er_board *board, double rise);

/* The first reach of a row, and the emitters at its two ends. */
void er_explain_row(struct er_board *board, const struct er_worked_row *row);

/* The introduction under the heading of all arithmetic. */
void er_explain_opening(struct er_board *board);

/* What evenness is worked out from. Flows are in m3/s, or all of them over the nominal flow. */
struct er_even_shown {
    bool relative; /* to the nominal flow: the zone has unlike tapes */
    double lowest, highest, mean;
    double flow, emitters; /* of all; used where flows are not relative */
    double cv, emitters_per_plant;
    double uniformity, variation; /* the results, fractions */
};
void er_explain_evenness(struct er_board *board, const struct er_even_shown *even);

/* The way from the source to the zone's feed point. */
void er_explain_supply(struct er_board *board, const struct er_worked_zone *worked);

/* The way from the feed point to the inlet of the weakest row. */
void er_explain_header(struct er_board *board, const struct er_worked_zone *worked);

/* One irrigation: gross depth, volume and run time. */
void er_explain_run(struct er_board *board, const struct er_zone_result *zone,
                    const struct er_water *water);

/* The day's hours, from what each zone runs a day (s). `total`: what they come to, s. */
void er_explain_hours(struct er_board *board, const struct er_field *field, const double *a_day,
                      double total);

/* Water and run time of the zone, and the day's hours. */
void er_explain_water(struct er_board *board, const struct er_result *result, size_t zone);

#endif
