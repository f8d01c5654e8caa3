/* Which designs are best. */
#include <math.h>
#include <stdlib.h>

#include "plan/choose.h"

/* Uniformities nearer than this are alike as far as a screening can tell. What hangs on less is
 * left to er_check, which gives the same figures on any number of threads. */
#define SAME_UNIFORMITY 1e-6

struct ranked {
    struct er_judged_design *judged;
    double price; /* the cost, or the header's inside diameter */
    size_t place; /* in the order of the lists */
};

static double price_of(const struct er_choose_ask *ask, const struct er_choice *choice,
                       const struct er_design *design)
{
    return choice->by_cost ? design->cost : ask->pipes[design->pipe]->inside_diameter;
}

static int by_rank(const void *a, const void *b)
{
    const struct ranked *one = a, *two = b;
    double uniform_one = one->judged->design.uniformity;
    double uniform_two = two->judged->design.uniformity;
    if (one->price < two->price || one->price > two->price)
        return one->price < two->price ? -1 : 1;
    if (uniform_one < uniform_two || uniform_one > uniform_two)
        return uniform_one > uniform_two ? -1 : 1;
    return one->place < two->place ? -1 : one->place > two->place;
}

static struct ranked *list_held(const struct er_choose_ask *ask, struct er_judged_design *designs,
                                const struct er_choice *choice, size_t *count)
{
    struct ranked *list = malloc((choice->held + 1) * sizeof *list);
    *count = 0;
    for (size_t d = 0; list && d < choice->total; d++)
        if (designs[d].state == ER_DESIGN_JUDGED && designs[d].fails == 0)
            list[(*count)++] =
                (struct ranked){&designs[d], price_of(ask, choice, &designs[d].design), d};
    if (list)
        qsort(list, *count, sizeof *list, by_rank);
    return list;
}

/* Marks those that no other beats: along rising prices, each must be more even than all before.
 * Equals in both are both unbeaten. */
static void mark_unbeaten(struct ranked *list, size_t count)
{
    double most_even = -1.0;
    for (size_t first = 0; first < count;) {
        size_t next = first;
        double best = list[first].judged->design.uniformity; /* of this price, being the first */
        for (; next < count && !(list[next].price > list[first].price); next++) {
            struct er_design *design = &list[next].judged->design;
            design->unbeaten = design->uniformity > most_even + SAME_UNIFORMITY &&
                               design->uniformity >= best - SAME_UNIFORMITY;
        }
        most_even = fmax(most_even, best);
        first = next;
    }
}

/* How many of the list may be among the best, since they can't be told from the last of them. */
static size_t contenders(const struct ranked *list, size_t count)
{
    size_t last = count < ER_CHOICE_BEST ? count : ER_CHOICE_BEST;
    while (last > 0 && last < count && !(list[last].price > list[last - 1].price) &&
           list[last - 1].judged->design.uniformity - list[last].judged->design.uniformity <=
               SAME_UNIFORMITY)
        last++;
    return last;
}

/* The last word on a design, which er_check has. */
static enum er_status check_design(const struct er_choose_ask *ask, struct er_judged_design *judged)
{
    struct er_designed designed;
    enum er_status status = er_design_make(ask, &judged->design, &designed);
    if (status == ER_OK)
        status = er_judge_design(NULL, &designed.field, judged);
    er_designed_release(&designed);
    return status;
}

enum er_status er_rank_designs(const struct er_choose_ask *ask, struct er_judged_design *designs,
                               struct er_choice *choice)
{
    size_t count;
    struct ranked *list = list_held(ask, designs, choice, &count);
    if (!list)
        return ER_NO_MEMORY;
    mark_unbeaten(list, count);
    size_t last = contenders(list, count);
    enum er_status status = ER_OK;
    for (size_t d = 0; status == ER_OK && d < last; d++)
        status = check_design(ask, list[d].judged);
    qsort(list, last, sizeof *list, by_rank);
    for (size_t d = 0; d < last && choice->best_count < ER_CHOICE_BEST; d++)
        if (list[d].judged->state == ER_DESIGN_JUDGED && list[d].judged->fails == 0)
            choice->best[choice->best_count++] = list[d].judged->design;
    free(list);
    return status;
}
