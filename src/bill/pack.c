/* Sizes put whole into bins: the tightest bin first, and all ways where that fails. */
#include <stdbool.h>

#include "bill/rolls.h"

struct packing {
    const double *sizes;
    size_t count;
    double *room;
    size_t bins;
    size_t *bin_of;
    size_t *steps;
    double slack;
};

static bool step(struct packing *packing)
{
    if (*packing->steps == 0) {
        return false;
    }
    --*packing->steps;
    return true;
}

/* The bin that has the least room over for a size; the number of bins where none has. */
static size_t tightest(struct packing *packing, double size)
{
    size_t best = packing->bins;
    for (size_t b = 0; b < packing->bins && step(packing); b++) {
        if (size <= packing->room[b] + packing->slack &&
            (best == packing->bins || packing->room[b] < packing->room[best])) {
            best = b;
        }
    }
    return best;
}

static void take_out(struct packing *packing, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        packing->room[packing->bin_of[i]] += packing->sizes[i];
    }
}

static bool pack_tightly(struct packing *packing)
{
    for (size_t i = 0; i < packing->count; i++) {
        const size_t bin = tightest(packing, packing->sizes[i]);
        if (bin == packing->bins) {
            take_out(packing, i);
            return false;
        }
        packing->bin_of[i] = bin;
        packing->room[bin] -= packing->sizes[i];
    }
    return true;
}

static bool alike(const struct packing *packing, double a, double b)
{
    return a <= b + packing->slack && b <= a + packing->slack;
}

/* Whether an earlier bin, from `first` on, has just as much room: it has been tried. */
static bool was_tried(const struct packing *packing, size_t first, size_t bin)
{
    for (size_t b = first; b < bin; b++) {
        if (alike(packing, packing->room[b], packing->room[bin])) {
            return true;
        }
    }
    return false;
}

/* Puts size `i` and all behind it into bins, in every way that differs. Sizes that are alike go
 * into bins in their order. */
static bool pack_all_ways(struct packing *packing, size_t i)
{
    if (i == packing->count) {
        return true;
    }
    const bool same = i > 0 && packing->sizes[i] >= packing->sizes[i - 1];
    const size_t first = same ? packing->bin_of[i - 1] : 0;
    for (size_t b = first; b < packing->bins; b++) {
        if (!step(packing)) {
            return false;
        }
        if (packing->sizes[i] > packing->room[b] + packing->slack || was_tried(packing, first, b)) {
            continue;
        }
        const double before = packing->room[b];
        packing->bin_of[i] = b;
        packing->room[b] -= packing->sizes[i];
        if (pack_all_ways(packing, i + 1)) {
            return true;
        }
        packing->room[b] = before;
    }
    return false;
}

/* NOLINTBEGIN(readability-non-const-parameter): both are written through the struct */
bool er_pack(const double *sizes, size_t count, double *room, size_t bins, size_t *bin_of,
             size_t *steps)
/* NOLINTEND(readability-non-const-parameter) */
{
    struct packing packing = {sizes, count, room, bins, bin_of, steps, 0.0};
    for (size_t b = 0; b < bins; b++) {
        const double slack = er_roll_slack(room[b]);
        packing.slack = slack > packing.slack ? slack : packing.slack;
    }
    return pack_tightly(&packing) || (count <= ER_PACK_ALL && pack_all_ways(&packing, 0));
}
