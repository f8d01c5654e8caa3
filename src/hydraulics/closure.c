/* Newton's steps where they gain enough, and the bracket halved where they do not. */
#include "hydraulics/closure.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include "evenrow/units.h"

/* A double has some 2,100 halvings between its largest and smallest; Newton needs a handful. */
#define STEPS_MAX 2200

/* The middle of a bracket. Answers may be as small as 1e-20 m (the end of a tape that is far
 * too long), so a bracket of one sign is halved in its exponent while it is wider than two
 * doublings; in a narrower one both middles are nearly the same. From zero no halving of the
 * exponent leads away, so there it goes twelve doublings down at a time: fewer than a hundred steps
 * to the smallest number. */
static double middle(double low, double high)
{
    if (low > 0.0 && high > 4.0 * low) {
        return sqrt(low) * sqrt(high);
    }
    if (low == 0.0 && high > 0.0) {
        return high * 0x1p-12;
    }
    return low + 0.5 * (high - low);
}

static bool inside(double x, double low, double high) { return x > low && x < high; }

enum er_status er_close(const struct er_closure *closure, double *x, double *residual)
{
    double low = closure->low;
    double high = closure->high;
    double slope = 0.0;
    double last_gap = ER_ENDLESS;

    *x = inside(closure->guess, low, high) ? closure->guess : middle(low, high);
    for (size_t step = 0; step < STEPS_MAX; step++) {
        double difference = closure->function(closure->context, *x, &slope) - closure->wanted;
        if (residual) {
            *residual = difference;
        }
        if (fabs(difference) <= closure->tolerance) {
            return ER_OK;
        }
        if (difference > 0.0) {
            high = *x;
        } else {
            low = *x;
        }
        double next = slope > 0.0 ? *x - difference / slope : low;
        /* A step that did not halve the gap gained no more than halving the bracket does surely. */
        bool newton_gains = fabs(difference) < 0.5 * last_gap;
        last_gap = fabs(difference);
        if (!newton_gains || !inside(next, low, high)) {
            next = middle(low, high);
        }
        if (!inside(next, low, high)) {
            break;
        }
        *x = next;
    }
    return ER_NOT_CLOSED;
}

bool er_close_straddles(const struct er_closure *closure, double x)
{
    double slope;
    bool above = closure->function(closure->context, x, &slope) > closure->wanted;
    double neighbour = nextafter(x, above ? -ER_ENDLESS : ER_ENDLESS);
    double beside = closure->function(closure->context, neighbour, &slope);
    return above ? beside <= closure->wanted : beside > closure->wanted;
}

double er_pressure_tolerance(double relative, double pressure, double dry_pressure)
{
    double scale = fmax(1.0, fabs(pressure));
    double digits = 8.0 * DBL_EPSILON * fmax(fabs(pressure), fabs(dry_pressure));
    return fmax(relative * fmin(scale, pressure - dry_pressure), digits);
}
