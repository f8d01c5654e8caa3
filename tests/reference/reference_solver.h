/* General solvers for the equations of a network. */
#ifndef REFERENCE_SOLVER_H
#define REFERENCE_SOLVER_H

#include <stddef.h>

#include "reference_network.h"

struct reference_root {
    double *unknowns; /* the caller frees them */
    double residual;  /* as reference_largest_residual tells it */
    size_t iterations;
    bool by_multiroot; /* gsl_multiroot alone closed it */
};

/* Newton's method on the whole system; networks of up to `small` junctions are first given to
 * gsl_multiroot's scaled hybrid method, which Newton's method then finds closed or finishes. */
struct reference_root reference_solve_network(const struct reference_network *network,
                                              size_t small);

#endif
