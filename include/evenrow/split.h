/* How many zones does the source need, and which beds go where?
 *
 * Of all ways to divide the beds of each zone into neighbouring ones, the least number of zones
 * such that no finding that fails is left; and of the divisions with that number the one with
 * the most even flows. */
#ifndef EVENROW_SPLIT_H
#define EVENROW_SPLIT_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/check.h"
#include "evenrow/divide.h"

#ifdef __cplusplus
extern "C" {
#endif

/* What is asked. It must outlive the answer. */
struct er_split_ask {
    const struct er_field *field;
    struct er_zone_layout layout;
    size_t zones; /* the number wanted, from the field's own to that of its beds; 0: the least */
    enum er_system speaks;
    size_t pipe_count; /* that may be tried where nothing else passes */
    const struct er_pipe *const *pipes;
};

enum er_split_answer {
    ER_SPLIT_PASSES, /* the field passes as it is */
    ER_SPLIT_FOUND,  /* divided, each zone running alone */
    ER_SPLIT_SETS,   /* divided, some zones running two at a time: alone the hours are short */
    ER_SPLIT_NONE    /* no division passes */
};

/* A number of zones that was tried. */
struct er_split_try {
    size_t zones;
    struct er_range flow;      /* m3/s, of its zones; NAN where it could not be solved */
    bool passes;               /* then it is the one chosen, and the rest means nothing */
    enum er_finding_code code; /* the first fail of its most even division; ER_FINDING_COUNT:
                                  that could not be solved */
    const char *text;          /* and what it says; NULL: could not be solved */
};

enum er_split_obstacle_kind {
    ER_OBSTACLE_BED,     /* a bed that passes in no zone, not alone either */
    ER_OBSTACLE_FIT,     /* each bed passes in some zone, but no such zones fit together */
    ER_OBSTACLE_HOURS,   /* zones that pass take `needed` s a day, at the least */
    ER_OBSTACLE_STORAGE, /* they take `needed` m3 a day, at the least */
    ER_OBSTACLE_DAY,     /* hours and storage, which no division keeps both */
    ER_OBSTACLE_RUNS     /* the day has the hours, but runs do not go whole into the days */
};

/* What stands in the way of every division. */
struct er_split_obstacle {
    enum er_split_obstacle_kind kind;
    double needed, available;
    struct er_piece bed;       /* the first such bed */
    size_t beds;               /* and how many there are */
    double bed_flow;           /* m3/s, what it takes alone */
    enum er_finding_code code; /* of its first fail alone; ER_FINDING_COUNT: not solved */
    const char *text;          /* what that says; NULL: not solved */
};

/* What would make a division pass, if that alone were changed, as little as helps. */
enum er_remedy_kind {
    ER_REMEDY_FLOW,      /* the source may give `amount` m3/s; it is `now` */
    ER_REMEDY_SUPPLY,    /* the source's curve or test with `amount` times the flows */
    ER_REMEDY_BOTH,      /* both: `amount` times the flows, and times the limit */
    ER_REMEDY_HOURS,     /* `amount` s a day; it is `now` */
    ER_REMEDY_PRESSURE,  /* `amount` m of head more at the source, at every flow */
    ER_REMEDY_REGULATOR, /* a regulator behind the headworks that holds `amount` m of head */
    ER_REMEDY_HEADER,    /* the headers' pipes wider: `pipe` for the widest of them */
    ER_REMEDY_MAINLINE   /* the mainline's pipes wider, likewise */
};

struct er_remedy {
    enum er_remedy_kind kind;
    double amount, now;
    const struct er_pipe *pipe, *pipe_now;
    size_t zones; /* that there would then be */
};

#define ER_REMEDIES 8

/* Two zones, run together in a set of their own. */
struct er_split_pair {
    size_t zones[2]; /* places in the answer's field */
    bool passes;
    enum er_finding_code code; /* the first fail; ER_FINDING_COUNT: none, or not solved */
    double flow;               /* m3/s; of a pair that does not pass, what the two take alone */
    double hours_saved;        /* s a day, against one after the other; NAN without a need */
};

struct er_split {
    struct er_arena arena;
    enum er_split_answer answer;
    bool is_checked;               /* false: the field as it is cannot be solved */
    enum er_verdict check_verdict; /* of the field as it is */
    size_t try_count;
    const struct er_split_try *tries; /* from the least number */

    /* With ER_SPLIT_FOUND and ER_SPLIT_SETS; with ER_SPLIT_PASSES the field's own zones. */
    size_t zone_count;
    const struct er_piece *pieces; /* of the field, one for each zone */
    const size_t *origins;         /* as er_field_divide gives them */
    struct er_field field;         /* with these zones and sets */
    struct er_result result;       /* its check, which passes */

    /* Of these zones, those that may run two at a time, by er_check. */
    bool pairs_tried; /* false: there are too many zones to try every two */
    size_t pair_count;
    const struct er_split_pair *pairs;
    struct er_split_pair nearest; /* of those that may not, the one with the least flow, whose flow
                                     is NAN where there is none */

    /* With ER_SPLIT_NONE. */
    struct er_split_obstacle obstacle;
    size_t remedy_count;
    struct er_remedy remedies[ER_REMEDIES];
};

/* Fills *split, which the caller releases. ER_OK, also where no division passes; ER_NO_MEMORY. */
enum er_status er_field_split(const struct er_split_ask *ask, struct er_split *split);

void er_split_release(struct er_split *split);

#ifdef __cplusplus
}
#endif

#endif
