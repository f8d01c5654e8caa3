/* Names compared by the letters that must change, or by one that has the other in it. */
#include "base/nearest.h"

#include <stdbool.h>
#include <stdint.h>
#include <string.h>

#include "base/text.h"

#define LONGEST 64 /* bytes */

static size_t smaller(size_t a, size_t b) { return a < b ? a : b; }

/* Letters to put in, leave out, change or swap to make `a` into `b`, letter case aside
 * (optimal string alignment: no letter is touched twice). Row i - 2 is needed for swaps. */
static size_t edits(const char *a, size_t a_length, const char *b, size_t b_length)
{
    size_t rows[3][LONGEST + 1];
    size_t *before_last = rows[0], *last = rows[1], *row = rows[2];
    for (size_t j = 0; j <= b_length; j++) {
        row[j] = j;
        last[j] = j;
    }
    for (size_t i = 1; i <= a_length; i++) {
        size_t *spare = before_last;
        before_last = last;
        last = row;
        row = spare;
        row[0] = i;
        for (size_t j = 1; j <= b_length; j++) {
            size_t changed = last[j - 1] + (er_lower(a[i - 1]) != er_lower(b[j - 1]));
            row[j] = smaller(changed, smaller(last[j], row[j - 1]) + 1);
            if (i > 1 && j > 1 && er_lower(a[i - 1]) == er_lower(b[j - 2]) &&
                er_lower(a[i - 2]) == er_lower(b[j - 1])) {
                row[j] = smaller(row[j], before_last[j - 2] + 1);
            }
        }
    }
    return row[b_length];
}

void er_nearest_begin(struct er_nearest *nearest, const char *wanted)
{
    nearest->wanted = wanted;
    nearest->length = strlen(wanted);
    nearest->best = NULL;
    nearest->distance = SIZE_MAX;
}

/* A name that has the wanted one in it, "bell pepper" for "pepper", counts as near where none is
 * nearer. Shorter words stand in too many names. */
#define SHORTEST_PART 4 /* bytes */

static bool has_part(const struct er_nearest *nearest, const char *candidate)
{
    return nearest->length >= SHORTEST_PART && strstr(candidate, nearest->wanted) != NULL;
}

void er_nearest_offer(struct er_nearest *nearest, const char *candidate)
{
    size_t length = strlen(candidate);
    if (length > LONGEST || nearest->length > LONGEST) {
        return;
    }
    if (nearest->best == NULL && has_part(nearest, candidate)) {
        nearest->best = candidate;
    }
    size_t longer = length > nearest->length ? length : nearest->length;
    size_t shorter = smaller(length, nearest->length);
    size_t allowed = (longer + 1) / 3;
    if (shorter == 0 || longer - shorter > allowed) {
        return;
    }
    size_t distance = edits(nearest->wanted, nearest->length, candidate, length);
    if (distance <= allowed && distance < nearest->distance) {
        nearest->best = candidate;
        nearest->distance = distance;
    }
}

const char *er_nearest_of(const char *wanted, const char *const *candidates, size_t count)
{
    struct er_nearest nearest;
    er_nearest_begin(&nearest, wanted);
    for (size_t i = 0; i < count; i++) {
        er_nearest_offer(&nearest, candidates[i]);
    }
    return nearest.best;
}
