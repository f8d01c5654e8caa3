/* What is cut from which roll: against plans counted by hand, and against all plans there are. */
#include <math.h>
#include <stdlib.h>

#include "bill/rolls.h"
#include "trial.h"

/* Plans, and looks whether the plan can be cut: every run whole, no roll over its length, and as
 * many joints as it says. */
static struct er_roll_plan plan_of(struct er_arena *arena, const double *lengths, size_t count,
                                   double roll)
{
    struct er_roll_plan plan;
    assert_int_equal(er_rolls_plan(arena, lengths, count, roll, &plan), ER_OK);
    double *cut = calloc(count + 1, sizeof *cut),
           *used = calloc((size_t)plan.rolls + 1, sizeof *used);
    size_t joints = 0;
    assert_non_null(plan.pieces);
    for (size_t i = 0; i < plan.piece_count; i++) {
        const struct er_roll_piece *piece = &plan.pieces[i];
        assert_true(piece->run < count && (double)piece->roll < plan.rolls && piece->length > 0.0);
        assert_int_equal(piece->joined, cut[piece->run] > 0.0);
        assert_int_equal(piece->whole, piece->length >= lengths[piece->run] * (1.0 - 1e-9));
        cut[piece->run] += piece->length;
        used[piece->roll] += piece->length;
        joints += piece->joined;
        assert_true(i == 0 || plan.pieces[i - 1].roll <= piece->roll);
    }
    for (size_t i = 0; i < count; i++) {
        assert_close(cut[i], lengths[i], 1e-9);
    }
    for (size_t r = 0; r < (size_t)plan.rolls; r++) {
        assert_true(used[r] > 0.0 && used[r] <= roll * (1.0 + 1e-8));
    }
    assert_true(plan.joints >= (double)joints && plan.joints <= (double)joints);
    free(cut);
    free(used);
    return plan;
}

static void plans_counted_by_hand(void **state)
{
    (void)state;
    static const struct {
        double roll;
        size_t count;
        double runs[8];
        double rolls, joints;
    } cases[] = {
        {100, 0, {0}, 0, 0},
        {100, 1, {100}, 1, 0},
        {100, 1, {100.0000000001}, 1, 0},
        {100, 1, {100.001}, 2, 1},
        {100, 1, {300}, 3, 2},
        {100, 1, {250}, 3, 2},
        {100, 4, {50, 50, 50, 50}, 2, 0},
        {100, 4, {30, 70, 70, 30}, 2, 0},         /* in order */
        {100, 4, {30, 30, 70, 70}, 2, 0},         /* not in order */
        {100, 3, {60, 60, 60}, 2, 1},             /* two whole, one of 40 and 20 */
        {100, 6, {60, 60, 60, 60, 60, 60}, 4, 2}, /* twice three from two rolls */
        {100, 5, {80, 80, 80, 80, 80}, 4, 3},     /* 4 full rolls: only all together */
        {100, 4, {150, 50, 120, 80}, 4, 2},       /* the rests 50 + 50, 20 + 80 */
        {100, 3, {100, 0.1, 100}, 3, 0},
        {0.3, 3, {0.1, 0.1, 0.1}, 1, 0}, /* which add up to more than 0.3 in doubles */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct er_arena arena = {NULL};
        const struct er_roll_plan plan =
            plan_of(&arena, cases[i].runs, cases[i].count, cases[i].roll);
        assert_within(plan.rolls, cases[i].rolls, 0.0);
        assert_within(plan.joints, cases[i].joints, 0.0);
        er_arena_release(&arena);
    }
}

/* The most groups that runs fall into, each cut from rolls of its own, together no more than
 * `rolls`: each run goes into each group that is there, or opens one. */
static size_t most_groups(const double *runs, size_t count, double roll, double rolls, double *sums,
                          size_t groups)
{
    if (count == 0) {
        double taken = 0.0;
        for (size_t g = 0; g < groups; g++) {
            taken += er_whole_units(sums[g], roll);
        }
        return taken <= rolls ? groups : 0;
    }
    size_t best = 0;
    for (size_t g = 0; g <= groups; g++) {
        const double before = g < groups ? sums[g] : 0.0;
        sums[g] = before + runs[0];
        const size_t found =
            most_groups(runs + 1, count - 1, roll, rolls, sums, g < groups ? groups : groups + 1);
        best = found > best ? found : best;
        sums[g] = before;
    }
    return best;
}

/* Against all divisions of up to eight runs into groups. A group of b rolls has b - 1 joints, or
 * fewer where a roll ends with a run: then it is two groups, that are tried too. */
static void no_plan_has_fewer_rolls_or_joints(void **state)
{
    (void)state;
    uint64_t seed = 7;
    size_t with_joints = 0;
    for (int trial = 0; trial < 3000; trial++) {
        double runs[8], sums[9] = {0}, total = 0.0;
        const size_t count = (size_t)next_number(&seed, 1.0, 8.99);
        const double longest = next_number(&seed, 20.0, 130.0);
        const bool rounded = trial % 2 == 0; /* rolls are then often used up to the last foot */
        for (size_t i = 0; i < count; i++) {
            runs[i] = next_number(&seed, 10.0, longest);
            runs[i] = rounded ? ceil(runs[i] / 10.0) * 10.0 : runs[i];
            total += runs[i];
        }
        const double rolls = ceil(total / 100.0 - 1e-9);
        struct er_arena arena = {NULL};
        const struct er_roll_plan plan = plan_of(&arena, runs, count, 100.0);
        assert_within(plan.rolls, rolls, 0.0);
        const size_t groups = most_groups(runs, count, 100.0, rolls, sums, 0);
        assert_true(groups > 0);
        assert_within(plan.joints, rolls - (double)groups, 0.0);
        with_joints += plan.joints > 0.0;
        er_arena_release(&arena);
    }
    assert_true(with_joints > 500 && with_joints < 2900);
}

/* Alike beds of 336 ft on rolls of 7,500 ft, which hold 22.32 of them: one roll 22, two 44, three
 * 66, four 89. */
static void whole_fields(void **state)
{
    (void)state;
    static const struct {
        size_t beds;
        double rolls, joints;
    } cases[] = {
        {42, 2.0, 0.0},  {100, 5.0, 0.0},
        {154, 7.0, 0.0}, {155, 7.0, 3.0}, /* four rolls for 89, three for 22 each */
        {178, 8.0, 6.0},                  /* twice four */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        double runs[200];
        for (size_t b = 0; b < cases[i].beds; b++) {
            runs[b] = 336.0;
        }
        struct er_arena arena = {NULL};
        const struct er_roll_plan plan = plan_of(&arena, runs, cases[i].beds, 7500.0);
        assert_within(plan.rolls, cases[i].rolls, 0.0);
        assert_within(plan.joints, cases[i].joints, 0.0);
        er_arena_release(&arena);
    }
}

/* More pieces than anybody would read are counted, not listed. */
static void far_too_many_rolls(void **state)
{
    (void)state;
    static const double run[] = {1e6, 0.5};
    struct er_arena arena = {NULL};
    struct er_roll_plan plan;
    assert_int_equal(er_rolls_plan(&arena, run, 2, 1.0, &plan), ER_OK);
    assert_null(plan.pieces);
    assert_within(plan.rolls, 1000001.0, 0.0);
    assert_within(plan.joints, 1000000.0, 0.0);
    er_arena_release(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plans_counted_by_hand),
        cmocka_unit_test(no_plan_has_fewer_rolls_or_joints),
        cmocka_unit_test(whole_fields),
        cmocka_unit_test(far_too_many_rolls),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
