/* Which runs of tape or pipe are cut from which roll.
 *
 * A roll costs more than a joint: the plan takes the fewest rolls that hold all runs, and of
 * the ways to cut those one with as few joints as it finds. Two runs that are cut from a roll
 * need no joint; a run cut from two rolls needs one.
 *
 * Why it works: draw a line between a run and a roll wherever a piece of one is cut from the
 * other. What hangs together so is a group; in a group of b rolls and r runs without a loop there
 * are b + r - 1 pieces, b - 1 joints, and the runs are together no longer than b rolls. So the
 * joints are the rolls less the groups: to have few joints, the runs are packed whole into many
 * groups. */
#ifndef ER_BILL_ROLLS_H
#define ER_BILL_ROLLS_H

#include "evenrow/arena.h"
#include "evenrow/materials.h"
#include "evenrow/status.h"

/* Plans runs of `lengths` (m, `count` of them, each above zero) onto rolls of `roll_length` m.
 * plan->pieces lies in the arena, by roll, and on each in the order of the runs. Where there
 * would be more than ER_MOST_PIECES of them, plan->pieces is NULL: the rolls are counted, and as
 * many joints as rolls that are used up one after the other can ask for.
 * ER_OK or ER_NO_MEMORY. */
enum er_status er_rolls_plan(struct er_arena *arena, const double *lengths, size_t count,
                             double roll_length, struct er_roll_plan *plan);

/* Whole units of `unit` m (or pieces) that hold `amount`. What is over a whole number by
 * rounding (a billionth of a unit) does not ask for another. */
double er_whole_units(double amount, double unit);

/* pack.c: puts sizes whole into bins.
 * `sizes` fall; `room` is what each bin has, and is used up; bin_of[i] gets the bin of size i.
 * Tries the bin with the least room left over for each size in turn, and then, for a few dozen
 * sizes, all ways. `steps` is how many tries are left, and is counted down. Whether it was found:
 * no is certain only where steps are left and the sizes are no more than ER_PACK_ALL. */
#define ER_PACK_ALL 40
bool er_pack(const double *sizes, size_t count, double *room, size_t bins, size_t *bin_of,
             size_t *steps);

/* A billionth of `roll`, in which rounding is forgiven. */
double er_roll_slack(double roll);

#endif
