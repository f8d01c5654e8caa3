/* The longest rows of tapes, as they were asked for, and of a field's own rows. */
#ifndef ER_PLAN_REACH_ANSWER_H
#define ER_PLAN_REACH_ANSWER_H

#include "evenrow/reach.h"

/* Who told of a tape. */
enum er_tape_origin { ER_TAPE_OF_FLAGS, ER_TAPE_OF_FIELD, ER_TAPE_OF_CATALOGUE };

enum er_inlet_origin {
    ER_INLET_GIVEN,     /* by flags, or the one that the tape's flow is told at */
    ER_INLET_REGULATED, /* what a regulator holds */
    ER_INLET_PLANNED    /* the lowest at the rows' inlets, as a check of the plan has it */
};

/* Rows of the field's own, and how long they may be. */
struct er_reach_own {
    const char *zone;
    size_t first_bed, last_bed; /* along the header, from 1 */
    bool second_side;
    bool own_ground; /* not told by flags */
    enum er_inlet_origin from;
    double inlet;            /* m */
    struct er_ground ground; /* away from the inlet */
    double row_length;       /* m, of the longest there */
    struct er_reach reach;
};

/* The longest rows of one tape. */
struct er_reach_table {
    const struct er_tape *tape; /* without a name where flags told of it */
    enum er_tape_origin origin;
    const char *source; /* the catalogue's words on its figures; else NULL */
    double emitters_per_plant;
    size_t own_count;
    const struct er_reach_own
        *own; /* rows of the field with this tape, or where it has none, all */
    size_t inlet_count;
    const double *inlets;         /* m */
    const struct er_reach *cells; /* inlet by inlet, for each every slope */
    size_t assumption_count;
    const struct er_assumption *assumptions; /* `pointer`: the flag or the place in the field */
};

struct er_reach_answer {
    enum er_system system;
    const char *title;     /* the field's; NULL: none */
    double uniformity;     /* fractions; NAN: not judged */
    double flow_variation; /* the same */
    double longest;        /* m */
    size_t slope_count;
    const double *slopes; /* m per m */
    size_t table_count;
    const struct er_reach_table *tables;
};

/* The place of the slope nearest to level, and of the inlet pressure nearest to the one that the
 * tape's flow is told at: of the row that is asked for most. */
size_t er_reach_levelest(const struct er_reach_answer *answer);
size_t er_reach_usual_inlet(const struct er_reach_table *table);

/* The own rows that come nearest to their longest, or are furthest beyond it; NULL: there are
 * none. */
const struct er_reach_own *er_reach_tightest(const struct er_reach_table *table);

#endif
