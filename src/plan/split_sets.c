/* Zones in sets of two, where the source can feed two at a time. */
#include <math.h>
#include <stdlib.h>

#include "plan/splitter.h"

/* Zones, up to which the pairs are chosen among all ways to pair: 16,384 subsets, each with its
 * best way kept. One zone more doubles them. */
#define ALL_WAYS 14

struct pairing {
    struct er_screen *screen;
    struct er_field *field;
    size_t zones;
    double *hours; /* s a day of each pair, and of each zone alone where both are the same;
                      INFINITY where it does not pass; owned */
    size_t *mate;  /* of each zone; itself: none; owned */
};

static double *hours_of(const struct pairing *pairing, size_t a, size_t b)
{
    return &pairing->hours[a * pairing->zones + b];
}

static bool fails(const struct er_result *result) { return result->verdict == ER_FAILS; }

/* Judges one set, alone. */
static enum er_status judge(struct pairing *pairing, size_t a, size_t b)
{
    const size_t zones[2] = {a, b};
    struct er_set set;
    struct er_field alone = er_pair_alone(pairing->field, &set, zones);
    struct er_result result;
    bool close_call;
    double *hours = hours_of(pairing, a, b);
    *hours = (double)INFINITY;
    enum er_status status =
        er_screen_check(pairing->screen, &alone, alone.system, &result, &close_call);
    if (status == ER_OK) {
        if (!fails(&result) || a == b) {
            *hours = result.day.hours_needed;
        }
        er_result_release(&result);
    }
    *hours_of(pairing, b, a) = *hours;
    return status == ER_NOT_CLOSED ? ER_OK : status;
}

static double saved(const struct pairing *pairing, size_t a, size_t b)
{
    return *hours_of(pairing, a, a) + *hours_of(pairing, b, b) - *hours_of(pairing, a, b);
}

/* The best way to pair each subset of the zones, one zone after another. */
static enum er_status pair_all_ways(struct pairing *pairing)
{
    size_t subsets = (size_t)1 << pairing->zones;
    double *best = calloc(subsets, sizeof *best); /* hours saved */
    size_t *mate = calloc(subsets, sizeof *mate); /* of the subset's highest zone */
    if (best == NULL || mate == NULL) {
        free(best);
        free(mate);
        return ER_NO_MEMORY;
    }
    size_t high = 0;
    for (size_t subset = 1; subset < subsets; subset++) {
        high += subset >> (high + 1) != 0;
        size_t rest = subset - ((size_t)1 << high);
        best[subset] = best[rest];
        mate[subset] = high;
        for (size_t other = 0; other < high; other++) {
            size_t bit = (size_t)1 << other;
            if ((rest & bit) != 0 &&
                best[rest - bit] + saved(pairing, high, other) > best[subset]) {
                best[subset] = best[rest - bit] + saved(pairing, high, other);
                mate[subset] = other;
            }
        }
    }
    size_t subset = subsets - 1;
    for (size_t zone = pairing->zones; zone-- > 0;) {
        if ((subset >> zone & 1) != 0) {
            pairing->mate[zone] = mate[subset];
            pairing->mate[mate[subset]] = zone;
            subset -= ((size_t)1 << zone) | ((size_t)1 << pairing->mate[zone]);
        }
    }
    free(best);
    free(mate);
    return ER_OK;
}

/* For many zones: the pair that saves most first. */
static void pair_by_savings(struct pairing *pairing)
{
    double most;
    do {
        size_t a = 0, b = 0;
        most = 0.0;
        for (size_t i = 0; i < pairing->zones; i++) {
            for (size_t j = 0; j < i; j++) {
                bool free_both = pairing->mate[i] == i && pairing->mate[j] == j;
                if (free_both && saved(pairing, i, j) > most) {
                    most = saved(pairing, i, j);
                    a = i;
                    b = j;
                }
            }
        }
        pairing->mate[a] = b;
        pairing->mate[b] = a;
    } while (most > 0.0);
}

/* In the order of each set's first zone. */
static enum er_status make_sets(struct pairing *pairing)
{
    struct er_arena *arena = &pairing->field->arena;
    struct er_set *sets = er_arena_array(arena, pairing->zones, sizeof *sets);
    size_t *zones = er_arena_array(arena, pairing->zones, sizeof *zones);
    if (sets == NULL || zones == NULL) {
        return ER_NO_MEMORY;
    }
    size_t count = 0;
    for (size_t z = 0; z < pairing->zones; z++) {
        if (pairing->mate[z] < z) {
            continue;
        }
        sets[count++] = (struct er_set){pairing->mate[z] > z ? 2 : 1, zones};
        *zones++ = z;
        if (pairing->mate[z] > z) {
            *zones++ = pairing->mate[z];
        }
    }
    pairing->field->sets = sets;
    pairing->field->set_count = count;
    return ER_OK;
}

enum er_status er_pair_zones(struct er_screen *screen, struct er_field *field)
{
    struct pairing pairing = {.screen = screen, .field = field, .zones = field->zone_count};
    pairing.hours = calloc(pairing.zones * pairing.zones, sizeof *pairing.hours);
    pairing.mate = calloc(pairing.zones, sizeof *pairing.mate);
    enum er_status status = pairing.hours && pairing.mate ? ER_OK : ER_NO_MEMORY;
    for (size_t a = 0; status == ER_OK && a < pairing.zones; a++) {
        pairing.mate[a] = a;
        for (size_t b = 0; status == ER_OK && b <= a; b++) {
            status = judge(&pairing, a, b);
        }
    }
    if (status == ER_OK && pairing.zones <= ALL_WAYS) {
        status = pair_all_ways(&pairing);
    } else if (status == ER_OK) {
        pair_by_savings(&pairing);
    }
    if (status == ER_OK) {
        status = make_sets(&pairing);
    }
    free(pairing.hours);
    free(pairing.mate);
    return status;
}
