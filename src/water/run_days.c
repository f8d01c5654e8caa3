/* A greedy packing of the runs into days, then bounds, then all ways up to a limit. */
#include "water/run_days.h"

#include <math.h>
#include <stdlib.h>

#define SLACK 1e-9 /* relative: rounding of hours and of intervals */
/* Of the search through all ways. Of those that the tests make to an end the longest takes 19,218;
 * what would take more than this is told as not known. */
#define MOST_NODES 300000
#define DEEPEST 64       /* runs, for that search, which calls itself once for each */
#define LONGEST_CYCLE 60 /* days; the least into which intervals of 1 to 6 days all go */
/* Of a cycle with different intervals. Chosen: it bounds the list and its sorting. */
#define MOST_RUNS 20000

struct packing {
    struct er_day_run *runs;
    size_t count, days;
    double *left; /* s, of each day */
    double *rest; /* s, of the runs from each on */
    bool alike;   /* every run may be on every day */
    size_t nodes;
};

static size_t window(const struct er_day_run *run) { return run->after - run->first; }

/* Those with the least choice of days first, then the longest; the rest as the sets are. */
static int in_order(const void *a, const void *b)
{
    const struct er_day_run *x = a, *y = b;
    if (window(x) != window(y)) {
        return window(x) < window(y) ? -1 : 1;
    }
    if (x->run_time < y->run_time || x->run_time > y->run_time) {
        return x->run_time > y->run_time ? -1 : 1;
    }
    if (x->set != y->set) {
        return x->set < y->set ? -1 : 1;
    }
    return (x->first > y->first) - (x->first < y->first);
}

static void empty_days(struct packing *packing, double hours)
{
    for (size_t d = 0; d < packing->days; d++) {
        packing->left[d] = hours;
    }
}

/* Each run on the first day with room, or on the one that it fills best. */
static bool fill_greedily(struct packing *packing, double hours, bool best)
{
    empty_days(packing, hours);
    for (size_t r = 0; r < packing->count; r++) {
        struct er_day_run *run = &packing->runs[r];
        size_t chosen = run->after;
        for (size_t d = run->first; d < run->after; d++) {
            bool room = packing->left[d] >= run->run_time;
            if (room && (chosen == run->after || packing->left[d] < packing->left[chosen])) {
                chosen = d;
            }
            if (room && !best) {
                break;
            }
        }
        if (chosen == run->after) {
            return false;
        }
        run->day = chosen;
        packing->left[chosen] -= run->run_time;
    }
    return true;
}

/* Days that runs alike in their windows take at least. Of those over `hours` - `small` none shares
 * its day with one of `small` or more, those over half a day none with each other, and what the
 * rest, of `small` or more, leaves over beside the latter takes days of its own.
 * Source: Martello and Toth, Lower bounds and reduction procedures for the bin packing problem,
 * Discrete Applied Mathematics 28 (1990), bound L2 (from memory). */
static double least_days(const struct packing *packing, double hours, double small)
{
    double alone = 0.0, halves = 0.0, room = 0.0, between = 0.0;
    for (size_t r = 0; r < packing->count; r++) {
        double run = packing->runs[r].run_time;
        if (run > hours - small) {
            alone += 1.0;
        } else if (run > 0.5 * hours) {
            halves += 1.0;
            room += hours - run;
        } else if (run >= small) {
            between += run;
        }
    }
    return alone + halves + fmax(0.0, ceil((between - room) / hours - SLACK));
}

/* Whether bounds prove that the runs do not fit. */
static bool is_short(const struct packing *packing, double hours)
{
    double days = (double)packing->days;
    if (packing->rest[0] > days * hours * (1.0 + SLACK)) {
        return true;
    }
    for (size_t r = 0; r < packing->count; r++) {
        if (packing->runs[r].run_time > hours) {
            return true;
        }
    }
    if (!packing->alike) {
        return false;
    }
    if (least_days(packing, hours, 0.0) > days) {
        return true;
    }
    for (size_t r = 0; r < packing->count; r++) {
        double run = packing->runs[r].run_time;
        if (run <= 0.5 * hours && least_days(packing, hours, run) > days) {
            return true;
        }
    }
    return false;
}

/* Whether the room that is left may do for the runs from `r` on: in time, on days where the
 * shortest of them still goes, and in how many of the shortest those days take. */
static bool may_fit(const struct packing *packing, size_t r)
{
    double shortest = packing->runs[packing->count - 1].run_time, room = 0.0, runs = 0.0;
    for (size_t d = 0; packing->alike && d < packing->days; d++) {
        room += packing->left[d] >= shortest ? packing->left[d] : 0.0;
        runs += floor(packing->left[d] / shortest);
    }
    return !packing->alike || (packing->rest[r] <= room && (double)(packing->count - r) <= runs);
}

/* Whether an earlier day of the window has as much room, so that the day is no other choice. */
static bool tried_alike(const struct packing *packing, const struct er_day_run *run, size_t day)
{
    for (size_t d = run->first; packing->alike && d < day; d++) {
        if (packing->left[d] <= packing->left[day] && packing->left[d] >= packing->left[day]) {
            return true;
        }
    }
    return false;
}

/* All ways for the runs from `r` on; true with the first that does. */
static bool try_all(struct packing *packing, size_t r)
{
    if (r == packing->count) {
        return true;
    }
    struct er_day_run *run = &packing->runs[r];
    if (!may_fit(packing, r)) {
        return false;
    }
    /* Of runs that are equal none goes before an earlier one. */
    bool twin = packing->alike && r > 0 && !(run[-1].run_time > run->run_time);
    for (size_t d = twin ? run[-1].day : run->first; d < run->after && packing->nodes < MOST_NODES;
         d++) {
        if (packing->left[d] < run->run_time || tried_alike(packing, run, d)) {
            continue;
        }
        double before = packing->left[d];
        packing->nodes++;
        packing->left[d] -= run->run_time;
        run->day = d;
        if (try_all(packing, r + 1)) {
            return true;
        }
        packing->left[d] = before;
    }
    return false;
}

static enum er_days_answer answer_of(struct packing *packing, double hours)
{
    if (is_short(packing, hours)) {
        return ER_DAYS_SHORT;
    }
    if (fill_greedily(packing, hours, false) || fill_greedily(packing, hours, true)) {
        return ER_DAYS_FIT;
    }
    if (packing->count > DEEPEST) {
        return ER_DAYS_UNKNOWN;
    }
    empty_days(packing, hours);
    if (try_all(packing, 0)) {
        return ER_DAYS_FIT;
    }
    return packing->nodes < MOST_NODES ? ER_DAYS_SHORT : ER_DAYS_UNKNOWN;
}

enum er_status er_days_pack(struct er_arena *arena, struct er_day_run *runs, size_t count,
                            size_t days, double hours, enum er_days_answer *answer)
{
    struct packing packing = {.runs = runs, .count = count, .days = days, .alike = true};
    packing.left = er_arena_array(arena, days, sizeof *packing.left);
    packing.rest = er_arena_array(arena, count + 1, sizeof *packing.rest);
    if (!packing.left || !packing.rest) {
        return ER_NO_MEMORY;
    }
    if (count > 1) {
        qsort(runs, count, sizeof *runs, in_order);
    }
    for (size_t r = count; r-- > 0;) {
        packing.rest[r] = packing.rest[r + 1] + runs[r].run_time;
        packing.alike = packing.alike && window(&runs[r]) == days;
    }
    *answer = answer_of(&packing, hours * (1.0 + SLACK));
    return ER_OK;
}

/* ---- the runs of a field ---- */

/* Whole times that `part` goes into `whole`. */
static double times(double whole, double part) { return floor(whole / part + SLACK); }

static bool goes_into(double cycle, double every)
{
    return fabs(cycle / every - floor(cycle / every + 0.5)) < SLACK * cycle / every;
}

/* The interval of all zones that run; NAN where they differ, or where none runs. */
static double common_interval(const struct er_field *field, const double *run_times)
{
    double every = ER_NONE;
    for (size_t z = 0; z < field->zone_count; z++) {
        double own = field->zones[z].water.every;
        if (!(run_times[z] > 0.0)) {
            continue;
        }
        if (er_given(every) && (own < every || own > every)) {
            return ER_NONE;
        }
        every = own;
    }
    return every;
}

/* The shortest cycle of whole days into which all intervals go that are no longer than any. */
static double cycle_of(const struct er_field *field, const double *run_times)
{
    for (int cycle = 1; cycle < LONGEST_CYCLE; cycle++) {
        bool whole = true;
        for (size_t z = 0; whole && z < field->zone_count; z++) {
            whole = !(run_times[z] > 0.0) || field->zones[z].water.every > LONGEST_CYCLE ||
                    goes_into(cycle, field->zones[z].water.every);
        }
        if (whole) {
            return cycle;
        }
    }
    return LONGEST_CYCLE;
}

/* The days between a set's runs: the least of its zones'. ER_ENDLESS where none runs. */
static double interval_of(const struct er_field *field, const struct er_set *set,
                          const double *run_times)
{
    double least = ER_ENDLESS;
    for (size_t i = 0; i < set->zone_count; i++) {
        if (run_times[set->zones[i]] > 0.0) {
            least = fmin(least, field->zones[set->zones[i]].water.every);
        }
    }
    return least;
}

static double runs_in(double cycle, double every)
{
    return isfinite(every) ? fmax(1.0, times(cycle, every)) : 0.0;
}

/* The `k`-th run of a set: the longest of the zones that are due. */
static double run_of(const struct er_field *field, const struct er_set *set,
                     const double *run_times, double every, size_t k)
{
    double longest = 0.0;
    for (size_t i = 0; i < set->zone_count; i++) {
        size_t z = set->zones[i];
        double own = field->zones[z].water.every;
        if (k == 0 || times((double)k * every, own) > times((double)(k - 1) * every, own)) {
            longest = fmax(longest, run_times[z]);
        }
    }
    return longest;
}

static void list_runs(const struct er_field *field, const double *run_times, double cycle,
                      struct er_days_plan *plan)
{
    for (size_t s = 0; s < field->set_count; s++) {
        const struct er_set *set = &field->sets[s];
        double every = interval_of(field, set, run_times);
        size_t runs = (size_t)runs_in(cycle, every);
        for (size_t k = 0; k < runs; k++) {
            double after = runs > 1 ? fmin(cycle, ceil((double)(k + 1) * every - SLACK)) : cycle;
            plan->runs[plan->run_count++] =
                (struct er_day_run){.set = s,
                                    .run_time = run_of(field, set, run_times, every, k),
                                    .first = (size_t)times((double)k * every, 1.0),
                                    .after = (size_t)after};
        }
    }
}

enum er_status er_days_plan_make(const struct er_field *field, const double *run_times,
                                 double hours, struct er_arena *arena, struct er_days_plan *plan)
{
    double every = common_interval(field, run_times);
    bool whole = every >= 1.0 && every <= floor(every);
    /* More days than sets do not help. */
    double cycle = whole ? fmin(every, (double)field->set_count) : cycle_of(field, run_times);
    double total = 0.0;
    *plan = (struct er_days_plan){.every = every, .days = (size_t)cycle, .answer = ER_DAYS_FIT};
    for (size_t s = 0; s < field->set_count; s++) {
        total += runs_in(cycle, interval_of(field, &field->sets[s], run_times));
    }
    if (!isfinite(hours) || (!whole && total > MOST_RUNS)) { /* many short runs: hours-short sees */
        return ER_OK;
    }
    plan->runs = er_arena_array(arena, (size_t)total, sizeof *plan->runs);
    if (!plan->runs) {
        return ER_NO_MEMORY;
    }
    list_runs(field, run_times, cycle, plan);
    return er_days_pack(arena, plan->runs, plan->run_count, plan->days, hours, &plan->answer);
}
