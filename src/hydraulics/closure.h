/* Closing on a wanted value of a rising function: Newton's steps inside a bracket.
 *
 * Why a bracket: the functions here are monotone, but an emitter's slope is infinite at
 * zero pressure and a compensating emitter has kinks, so a bare Newton step may leap
 * anywhere. A step that leaves the bracket is replaced by halving it. */
#ifndef ER_HYDRAULICS_CLOSURE_H
#define ER_HYDRAULICS_CLOSURE_H

#include <stdbool.h>

#include "evenrow/status.h"

/* The function's value at x and its derivative there; INFINITY where it is too large to tell. */
typedef double er_rising(void *context, double x, double *slope);

struct er_closure {
    er_rising *function;
    void *context;
    double wanted;
    double low, high; /* the answer lies between them */
    double guess;     /* where to begin; outside the bracket: its middle */
    double tolerance; /* of the value, absolute */
};

/* Finds x with |function(x) - wanted| <= tolerance. The last call of the function is made at
 * the x returned, so that what it left in its context belongs to it. Where the bracket has
 * shrunk to neighbouring numbers and the value still differs: ER_NOT_CLOSED, with the
 * nearer x. *residual, where not NULL, is the difference. */
enum er_status er_close(const struct er_closure *closure, double *x, double *residual);

/* Whether the function passes what is wanted between `x` and a neighbouring number: where it jumps
 * there, no answer is nearer than x. The last call is not made at x. */
bool er_close_straddles(const struct er_closure *closure, double x);

/* `relative` of what `pressure` stands above `dry_pressure`, but of no more than the larger of
 * it and 1 m: a source that gives a trickle leaves a zone micrometres of water, and its flow
 * hangs on their digits. Never finer than the numbers themselves. */
double er_pressure_tolerance(double relative, double pressure, double dry_pressure);

#endif
