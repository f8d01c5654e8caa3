/* What the judging and the ranking of designs share. */
#ifndef ER_PLAN_CHOOSE_H
#define ER_PLAN_CHOOSE_H

#include "check/screen.h"
#include "evenrow/choose.h"
#include "evenrow/divide.h"

enum er_design_state { ER_DESIGN_WAITING, ER_DESIGN_JUDGED, ER_DESIGN_UNFIT, ER_DESIGN_UNSOLVED };

struct er_judged_design {
    struct er_design design;
    enum er_design_state state;
    bool placeholders; /* a price was not the field's own */
};

/* Parts the ask's beds, with one of its tapes, into one of its numbers of zones; the same for
 * every pipe and feed. ER_OK or ER_NO_MEMORY. */
enum er_status er_design_part(const struct er_choose_ask *ask, size_t tape, size_t division,
                              struct er_piece *pieces);

/* The beds parted, for each tape and number of zones: that takes longer than judging a design, and
 * few designs differ in it. */
struct er_parting {
    const struct er_choose_ask *ask;
    size_t room; /* the largest number of zones */
    struct er_piece *pieces;
};

const struct er_piece *er_parting_of(const struct er_parting *parting,
                                     const struct er_design *design);

/* er_design_make with the beds parted already. */
enum er_status er_design_lay_out(const struct er_choose_ask *ask, const struct er_design *design,
                                 const struct er_piece *pieces, struct er_designed *designed);

/* Takes what a design is ranked by from its field, by the screen and where that is too close to
 * call by er_check; or, with a screen of NULL, by er_check alone. ER_OK or ER_NO_MEMORY. */
enum er_status er_judge_design(struct er_screen *screen, const struct er_field *field,
                               struct er_judged_design *judged);

/* Takes the cost of all that has to be bought for a checked plan. ER_OK or ER_NO_MEMORY. */
enum er_status er_design_buy(const struct er_choose_ask *ask, const struct er_result *result,
                             struct er_judged_design *judged);

/* Ranks the designs that hold and fills the best of *choice, with er_check's own figures.
 * ER_OK or ER_NO_MEMORY. */
enum er_status er_rank_designs(const struct er_parting *parting, struct er_judged_design *designs,
                               struct er_choice *choice);

#endif
