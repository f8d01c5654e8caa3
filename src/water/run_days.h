/* Whether the runs of an irrigation, each whole, go into the days there are for them: a packing
 * of bins. First-fit and best-fit find a way for nearly all; where they do not, bounds prove that
 * there is none, or all ways are tried, up to a limit. */
#ifndef ER_WATER_RUN_DAYS_H
#define ER_WATER_RUN_DAYS_H

#include "evenrow/arena.h"
#include "evenrow/field.h"

enum er_days_answer {
    ER_DAYS_FIT,
    ER_DAYS_SHORT,  /* there is no way: proven */
    ER_DAYS_UNKNOWN /* none was found, and the tries ended before all had been made */
};

struct er_day_run {
    size_t set;          /* place in the field's sets */
    double run_time;     /* s */
    size_t first, after; /* the days it may be on, from `first` to the one before `after` */
    size_t day;          /* the one it got, from 0; filled where all fit */
};

/* The runs of all sets through one cycle of their intervals. */
struct er_days_plan {
    double every; /* days, of all sets; NAN where their intervals differ */
    size_t days;  /* of the cycle */
    size_t run_count;
    struct er_day_run *runs; /* in the order in which they are placed */
    enum er_days_answer answer;
};

/* Puts each run on a day of its own window, all of one day at most `hours` (s) together. Sorts
 * and fills `runs`; scratch is of `arena`. ER_OK or ER_NO_MEMORY. */
enum er_status er_days_pack(struct er_arena *arena, struct er_day_run *runs, size_t count,
                            size_t days, double hours, enum er_days_answer *answer);

/* The same for a field whose zones run `run_times` (s for each irrigation, 0: none), each with its
 * own days between irrigations. A set runs as often as that of its zones which is watered the most
 * often; one that is watered less often joins the first such run of its own interval. Intervals
 * that go into no cycle of 60 days count as often as they go whole into 60. */
enum er_status er_days_plan_make(const struct er_field *field, const double *run_times,
                                 double hours, struct er_arena *arena, struct er_days_plan *plan);

#endif
