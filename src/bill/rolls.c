/* Rolls for runs: whole rolls first, then what is left of the runs packed into many groups. */
#include "bill/rolls.h"

#include <math.h>
#include <stdlib.h>

#define ROUNDING 1e-9

/* Tries for one plan: a tenth of a second. */
#define MOST_STEPS 20000000

/* With so few rolls all ways to share them out among the groups are tried. */
#define FEW_ROLLS 12

double er_roll_slack(double roll) { return ROUNDING * roll; }

double er_whole_units(double amount, double unit) { return ceil(amount / unit - ROUNDING); }

/* A run, or what is left of it when whole rolls have been taken from it: less than a roll. */
struct rest {
    size_t run;
    double length;
    bool goes_on; /* the run has had whole rolls: there is a joint */
    size_t group;
};

/* Rests that hang together, and the rolls that they are cut from. */
struct group {
    size_t rolls;
    size_t roll;    /* the one that it is being cut from */
    double room;    /* m left on that */
    bool is_placed; /* it has its rolls' numbers */
};

struct planner {
    double roll_length;
    size_t count; /* of rests */
    struct rest *rests;
    size_t rolls;       /* that the rests take */
    size_t group_count; /* no more than rests */
    struct group *groups;
    size_t *falling; /* the rests' places, the longest first */
    double *sizes;   /* their lengths in that order */
    size_t *bin_of;
    double *room;
    size_t *shared; /* rolls of the first groups beyond one each */
    size_t steps;   /* tries left */
    size_t piece_count, joints;
    struct er_roll_piece *pieces;
};

/* Rolls one after the other, every rest whole: tidy, where it takes no roll more. */
static bool pack_in_order(struct planner *planner)
{
    const double slack = er_roll_slack(planner->roll_length);
    double room = 0.0;
    planner->group_count = 0;
    for (size_t i = 0; i < planner->count; i++) {
        if (planner->rests[i].length > room + slack) {
            if (planner->group_count == planner->rolls) {
                return false;
            }
            planner->groups[planner->group_count++].rolls = 1;
            room = planner->roll_length;
        }
        planner->rests[i].group = planner->group_count - 1;
        room -= planner->rests[i].length;
    }
    return true;
}

/* Rolls that are used up one after the other, and rests jointed where they end. */
static void chain(struct planner *planner)
{
    planner->group_count = planner->count > 0;
    planner->groups[0].rolls = planner->rolls;
    for (size_t i = 0; i < planner->count; i++) {
        planner->rests[i].group = 0;
    }
}

/* The joints that chain() makes. */
static size_t chain_joints(const struct planner *planner)
{
    const double slack = er_roll_slack(planner->roll_length);
    size_t joints = 0;
    double room = planner->roll_length;
    for (size_t i = 0; i < planner->count; i++) {
        const double length = planner->rests[i].length;
        if (length > room + slack) {
            joints += room > slack;
            room += planner->roll_length;
        }
        room -= length;
    }
    return joints;
}

/* Packs the rests into the groups, of which the first `sharing` have rolls beyond one. */
static bool pack_groups(struct planner *planner, size_t sharing)
{
    for (size_t g = 0; g < planner->group_count; g++) {
        planner->groups[g].rolls = g < sharing ? 1 + planner->shared[g] : 1;
        planner->room[g] = (double)planner->groups[g].rolls * planner->roll_length;
    }
    if (!er_pack(planner->sizes, planner->count, planner->room, planner->group_count,
                 planner->bin_of, &planner->steps)) {
        return false;
    }
    for (size_t i = 0; i < planner->count; i++) {
        planner->rests[planner->falling[i]].group = planner->bin_of[i];
    }
    return true;
}

/* Shares `left` rolls out among the groups from the place `at` on, none more than `most`, in
 * every way until one will do. */
static bool share_all_ways(struct planner *planner, size_t at, size_t left, size_t most)
{
    if (left == 0) {
        return pack_groups(planner, at);
    }
    if (at == planner->group_count) {
        return false;
    }
    for (size_t share = left < most ? left : most; share > 0 && planner->steps > 0; share--) {
        planner->shared[at] = share;
        if (share_all_ways(planner, at + 1, left - share, share)) {
            return true;
        }
    }
    return false;
}

/* Gives the rolls beyond one for each group to one group, or one each to many. */
static bool share_two_ways(struct planner *planner, size_t left)
{
    planner->shared[0] = left;
    if (pack_groups(planner, left > 0)) {
        return true;
    }
    if (left < 2 || left > planner->group_count) {
        return false;
    }
    for (size_t g = 0; g < left; g++) {
        planner->shared[g] = 1;
    }
    return pack_groups(planner, left);
}

/* Puts the rests into as many groups as can be found. */
static void find_groups(struct planner *planner)
{
    if (pack_in_order(planner)) {
        return;
    }
    const size_t most = chain_joints(planner);
    for (size_t joints = 0; joints < most && planner->steps > 0; joints++) {
        planner->group_count = planner->rolls - joints;
        if (planner->rolls <= FEW_ROLLS ? share_all_ways(planner, 0, joints, joints)
                                        : share_two_ways(planner, joints)) {
            return;
        }
    }
    chain(planner);
}

static void take_piece(struct planner *planner, struct er_roll_piece piece)
{
    planner->pieces[planner->piece_count++] = piece;
    planner->joints += piece.joined;
}

/* Cuts one rest from the rolls of its group. */
static void cut_rest(struct planner *planner, const struct rest *rest)
{
    const double slack = er_roll_slack(planner->roll_length);
    struct group *group = &planner->groups[rest->group];
    bool joined = rest->goes_on;
    double left = rest->length;
    while (left > slack) {
        if (group->room <= slack) {
            group->roll++;
            group->room = planner->roll_length;
        }
        const double piece = left <= group->room + slack ? left : group->room;
        const bool whole = !joined && left <= piece + slack;
        take_piece(planner, (struct er_roll_piece){rest->run, group->roll, piece, joined, whole});
        left -= piece;
        group->room -= piece;
        joined = true;
    }
}

/* Cuts all rests; rolls are numbered from `roll` on in the order in which the rests come to
 * them. */
static void cut_rests(struct planner *planner, size_t roll)
{
    for (size_t i = 0; i < planner->count; i++) {
        struct group *group = &planner->groups[planner->rests[i].group];
        if (!group->is_placed) {
            group->is_placed = true;
            group->roll = roll;
            group->room = planner->roll_length;
            roll += group->rolls;
        }
        cut_rest(planner, &planner->rests[i]);
    }
}

/* Takes whole rolls from the runs, from the first roll on; what is left are the rests. Returns
 * the rolls. */
static size_t cut_whole_rolls(struct planner *planner, const double *lengths, size_t count)
{
    const double roll_length = planner->roll_length;
    const double slack = er_roll_slack(roll_length);
    size_t roll = 0;
    for (size_t run = 0; run < count; run++) {
        double left = lengths[run];
        bool joined = false;
        while (left > roll_length - slack) {
            const bool whole = !joined && left <= roll_length + slack;
            const double piece = fmin(left, roll_length);
            take_piece(planner, (struct er_roll_piece){run, roll++, piece, joined, whole});
            left -= roll_length;
            joined = true;
        }
        if (left > slack) {
            planner->rests[planner->count++] = (struct rest){run, left, joined, 0};
        }
    }
    return roll;
}

/* For falling order, and by place where lengths are the same. */
struct sorted {
    double length;
    size_t place;
};

static int compare_falling(const void *a, const void *b)
{
    const struct sorted *one = a, *other = b;
    if (one->length > other->length || one->length < other->length) {
        return one->length > other->length ? -1 : 1;
    }
    return one->place < other->place ? -1 : one->place > other->place;
}

static bool sort_rests(struct planner *planner, struct er_arena *arena)
{
    struct sorted *sorted = er_arena_array(arena, planner->count, sizeof *sorted);
    if (sorted == NULL) {
        return false;
    }
    for (size_t i = 0; i < planner->count; i++) {
        sorted[i] = (struct sorted){planner->rests[i].length, i};
    }
    qsort(sorted, planner->count, sizeof *sorted, compare_falling);
    for (size_t i = 0; i < planner->count; i++) {
        planner->falling[i] = sorted[i].place;
        planner->sizes[i] = sorted[i].length;
    }
    return true;
}

static int compare_pieces(const void *a, const void *b)
{
    const struct er_roll_piece *one = a, *other = b;
    if (one->roll != other->roll) {
        return one->roll < other->roll ? -1 : 1;
    }
    return one->run < other->run ? -1 : one->run > other->run;
}

/* `scratch` is for what is needed no longer than this; the pieces are in `arena`. */
static enum er_status plan_pieces(struct er_arena *arena, struct er_arena *scratch,
                                  const double *lengths, size_t count, struct er_roll_plan *plan,
                                  double roll_length)
{
    struct planner planner = {.roll_length = roll_length, .steps = MOST_STEPS};
    planner.pieces = er_arena_array(arena, count + (size_t)plan->rolls, sizeof *planner.pieces);
    planner.rests = er_arena_array(scratch, count, sizeof *planner.rests);
    planner.groups = er_arena_array(scratch, count + 1, sizeof *planner.groups);
    planner.falling = er_arena_array(scratch, count, sizeof *planner.falling);
    planner.sizes = er_arena_array(scratch, count, sizeof *planner.sizes);
    planner.bin_of = er_arena_array(scratch, count, sizeof *planner.bin_of);
    planner.room = er_arena_array(scratch, count + 1, sizeof *planner.room);
    planner.shared = er_arena_array(scratch, count + 1, sizeof *planner.shared);
    if (planner.pieces == NULL || planner.rests == NULL || planner.groups == NULL ||
        planner.falling == NULL || planner.sizes == NULL || planner.bin_of == NULL ||
        planner.room == NULL || planner.shared == NULL) {
        return ER_NO_MEMORY;
    }
    const size_t whole = cut_whole_rolls(&planner, lengths, count);
    double rests = 0.0;
    for (size_t i = 0; i < planner.count; i++) {
        rests += planner.rests[i].length;
    }
    planner.rolls = (size_t)fmax(0.0, er_whole_units(rests, roll_length));
    if (!sort_rests(&planner, scratch)) {
        return ER_NO_MEMORY;
    }
    find_groups(&planner);
    cut_rests(&planner, whole);
    qsort(planner.pieces, planner.piece_count, sizeof *planner.pieces, compare_pieces);
    plan->rolls = (double)(whole + planner.rolls);
    plan->joints = (double)planner.joints;
    plan->piece_count = planner.piece_count;
    plan->pieces = planner.pieces;
    return ER_OK;
}

enum er_status er_rolls_plan(struct er_arena *arena, const double *lengths, size_t count,
                             double roll_length, struct er_roll_plan *plan)
{
    double total = 0.0;
    for (size_t i = 0; i < count; i++) {
        total += lengths[i];
    }
    *plan = (struct er_roll_plan){.rolls = fmax(0.0, er_whole_units(total, roll_length))};
    if (plan->rolls + (double)count > ER_MOST_PIECES) {
        plan->joints = fmax(0.0, plan->rolls - 1.0);
        return ER_OK;
    }
    struct er_arena scratch = {NULL};
    enum er_status status = plan_pieces(arena, &scratch, lengths, count, plan, roll_length);
    er_arena_release(&scratch);
    return status;
}
