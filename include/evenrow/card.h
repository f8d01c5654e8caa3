/* What hangs in the pump house: the readings to expect of each set, and how to flush it. */
#ifndef EVENROW_CARD_H
#define EVENROW_CARD_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/check.h"
#include "evenrow/season.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Filters clean, and as they are when due for cleaning. */
enum er_filter_state { ER_FILTERS_CLEAN, ER_FILTERS_DIRTY, ER_FILTER_STATES };

/* What gauges at a bed read: its tapes' inlets and their far ends; of two sides the lower. */
struct er_bed_readings {
    size_t bed; /* position from 0 */
    double inlet_pressure, far_end_pressure;
};

struct er_zone_readings {
    double flow;
    double inlet_pressure; /* at the header's feed point */
    struct er_bed_readings first, last;
};

/* Why no more ends can be open at once: there are no more; nobody is there to tend them; or one
 * more would, somewhere along the header, take more than the source may give, or its curve;
 * pass the velocity that pipes are held to; leave an end too slow. */
enum er_flush_limit { ER_FLUSH_ALL, ER_FLUSH_CREW, ER_FLUSH_SOURCE, ER_FLUSH_PIPES, ER_FLUSH_ENDS };

#define ER_ENDS_A_PERSON 5 /* open ends that one person tends: common practice, no source */

/* How many tape ends of a zone can be open at once.
 *
 * The zone runs alone, with clean filters and its emitters running. Ends of neighboring tapes are
 * open, bed by bed or along one side of the header: that many can be open wherever the first of
 * them is. */
struct er_flushing {
    size_t ends;     /* all of the zone */
    size_t at_once;  /* 0: not even one */
    double velocity; /* m/s, the weakest end with so many open (with one, where at_once is 0) */
    double flow;     /* m3/s, of the zone with so many open; likewise, the largest */
    enum er_flush_limit limit;
};

struct er_card_zone {
    size_t zone; /* place in the field's zones */
    struct er_zone_readings readings[ER_FILTER_STATES];
    struct er_flushing flushing;
};

struct er_set_readings {
    double flow;
    double source_pressure;
    const double *after_part; /* behind each part of the headworks, in flow order */
};

struct er_card_set {
    bool gets_dirty; /* something on the way has a dirty loss; else both states are the same */
    struct er_set_readings readings[ER_FILTER_STATES];
    struct er_card_zone *zones; /* one for each of the set's zones, in its order */
};

struct er_card {
    struct er_arena arena;
    size_t people;                       /* who flush */
    const struct er_result *result;      /* must outlive the card */
    struct er_card_set *sets;            /* one for each of the field's sets */
    const struct er_season_plan *season; /* whose peak week the result is of; NULL: of none. It is
                                            the caller's, to set and to keep */
};

/* Solves each set of a checked field once more, filters clean and dirty, and each zone with as many
 * tape ends open as `people` can tend. ER_OK; ER_NO_MEMORY; ER_NOT_CLOSED with *failure filled.
 * The caller releases *card. */
enum er_status er_card_make(const struct er_result *result, size_t people, struct er_card *card,
                            struct er_failure *failure);

void er_card_release(struct er_card *card);

#ifdef __cplusplus
}
#endif

#endif
