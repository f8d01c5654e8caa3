/* Which designs are best. */
#include <stdlib.h>

#include "plan/choose.h"
#include "plan/crew.h"

/* Uniformities nearer than this are alike as far as a screening can tell. What hangs on less is
 * left to er_check, which gives the same figures on any number of threads. */
#define SAME_UNIFORMITY 1e-6

struct ranked {
    struct er_judged_design *judged;
    size_t place; /* in the order of the lists */
    bool checked; /* by er_check: its figures and cautions are the last word */
};

/* Those without cautions, those with, and what er_check found to fail. */
static int rank_class(const struct er_judged_design *judged)
{
    if (judged->state != ER_DESIGN_JUDGED || judged->design.fails != 0) {
        return 2;
    }
    return judged->design.cautions != 0;
}

static int by_rank(const void *a, const void *b)
{
    const struct ranked *one = a, *two = b;
    const struct er_design *first = &one->judged->design, *second = &two->judged->design;
    if (rank_class(one->judged) != rank_class(two->judged)) {
        return rank_class(one->judged) - rank_class(two->judged);
    }
    if (first->cost < second->cost || first->cost > second->cost) {
        return first->cost < second->cost ? -1 : 1;
    }
    if (first->uniformity < second->uniformity || first->uniformity > second->uniformity) {
        return first->uniformity > second->uniformity ? -1 : 1;
    }
    return one->place < two->place ? -1 : one->place > two->place;
}

static struct ranked *list_held(struct er_judged_design *designs, const struct er_choice *choice,
                                size_t *count)
{
    struct ranked *list = malloc((choice->held + 1) * sizeof *list);
    *count = 0;
    for (size_t d = 0; list && d < choice->total; d++) {
        if (designs[d].state == ER_DESIGN_JUDGED && designs[d].design.fails == 0) {
            list[(*count)++] = (struct ranked){&designs[d], d, false};
        }
    }
    return list;
}

/* How many of the list may be among the best, since they can't be told from the last of them. */
static size_t contenders(const struct ranked *list, size_t count)
{
    size_t last = count < ER_CHOICE_BEST ? count : ER_CHOICE_BEST;
    for (; last > 0 && last < count; last++) {
        const struct er_design *before = &list[last - 1].judged->design;
        const struct er_design *next = &list[last].judged->design;
        if (rank_class(list[last].judged) != rank_class(list[last - 1].judged) ||
            next->cost > before->cost || before->uniformity - next->uniformity > SAME_UNIFORMITY) {
            break;
        }
    }
    return last;
}

struct checking {
    const struct er_parting *parting;
    struct ranked *list;
};

static enum er_status lay_out(const struct er_parting *parting, const struct er_design *design,
                              struct er_designed *designed)
{
    return er_design_lay_out(parting->ask, design, er_parting_of(parting, design), designed);
}

static void *begin_thread(void *shared) { return shared; }

static void end_thread(void *own) { (void)own; }

/* The last word on a design, which er_check has. */
static enum er_status check_design(void *shared, void *own, size_t place)
{
    const struct checking *checking = shared;
    struct ranked *ranked = &checking->list[place];
    struct er_designed designed;
    (void)own;
    if (ranked->checked) {
        return ER_OK;
    }
    ranked->checked = true;
    enum er_status status = lay_out(checking->parting, &ranked->judged->design, &designed);
    if (status == ER_OK) {
        status = er_judge_design(NULL, &designed.field, ranked->judged);
    }
    er_designed_release(&designed);
    return status;
}

/* Puts the list in order. Whoever comes to stand among the best is checked, and makes way for
 * others where that finds what the screening did not. */
static enum er_status rank_checked(const struct er_parting *parting, struct ranked *list,
                                   size_t count)
{
    struct checking checking = {parting, list};
    for (;;) {
        qsort(list, count, sizeof *list, by_rank);
        size_t done = 0, last = contenders(list, count);
        while (done < last && list[done].checked) {
            done++;
        }
        if (done == last) {
            return ER_OK;
        }
        const struct er_crew crew = {.threads = parting->ask->threads,
                                     .tasks = last,
                                     .batch = 1,
                                     .shared = &checking,
                                     .begin = begin_thread,
                                     .end = end_thread,
                                     .work = check_design};
        enum er_status status = er_crew_run(&crew, &done);
        if (status != ER_OK) {
            return status;
        }
    }
}

/* Whether one design leaves no reason to take the other. */
static bool beats(const struct er_design *one, const struct er_design *other)
{
    return !(one->cautions != 0 && other->cautions == 0) && !(one->cost > other->cost) &&
           one->uniformity >= other->uniformity - SAME_UNIFORMITY &&
           (one->cost < other->cost || one->uniformity > other->uniformity + SAME_UNIFORMITY);
}

static bool is_unbeaten(const struct ranked *list, size_t count, const struct er_design *design)
{
    bool beaten = design->fails != 0;
    for (size_t d = 0; !beaten && d < count; d++) {
        beaten = rank_class(list[d].judged) < 2 && beats(&list[d].judged->design, design);
    }
    return !beaten;
}

/* What has to be bought for a design. */
static enum er_status buy_design(const struct er_parting *parting, struct er_judged_design *judged)
{
    struct er_designed designed;
    struct er_result result;
    struct er_failure failure;
    enum er_status status = lay_out(parting, &judged->design, &designed);
    if (status == ER_OK) {
        status = er_check(&designed.field, designed.field.system, &result, &failure);
    }
    if (status == ER_OK) {
        status = er_design_buy(parting->ask, &result, judged);
        er_result_release(&result);
    }
    er_designed_release(&designed);
    return status == ER_NO_MEMORY ? ER_NO_MEMORY : ER_OK;
}

enum er_status er_rank_designs(const struct er_parting *parting, struct er_judged_design *designs,
                               struct er_choice *choice)
{
    size_t count;
    struct ranked *list = list_held(designs, choice, &count);
    if (!list) {
        return ER_NO_MEMORY;
    }
    enum er_status status = rank_checked(parting, list, count);
    for (size_t d = 0; status == ER_OK && d < count && d < ER_CHOICE_BEST; d++) {
        struct er_judged_design *judged = list[d].judged;
        if (rank_class(judged) == 2) {
            break;
        }
        judged->design.unbeaten = is_unbeaten(list, count, &judged->design);
        status = buy_design(parting, judged);
        choice->placeholders = choice->placeholders || judged->placeholders;
        choice->best[choice->best_count++] = judged->design;
    }
    choice->own.unbeaten = is_unbeaten(list, count, &choice->own);
    free(list);
    return status;
}
