/* The equations of a network, two to a junction.
 *
 * Unknowns of junction k, both plain numbers near 1:
 *   2 k      the flow of the link that brings its water, over the nominal flow there
 *   2 k + 1  its pressure in tens of metres, or an emitter's position on its curve
 * Equations of junction k, scaled in the same way:
 *   2 k      its link: the pressure here is what pipe, part or source leaves of the parent's
 *   2 k + 1  what flows in = what its emitter gives + what flows on */
#ifndef REFERENCE_EQUATIONS_H
#define REFERENCE_EQUATIONS_H

#include <stddef.h>

#include "reference_network.h"

/* Takes one entry of the matrix of derivatives; those of one place are to be added up. */
typedef void reference_entry(void *matrix, size_t row, size_t column, double value);

/* One system: the network, and how much of its friction and its slopes acts. At share 1 it is
 * the field itself; less only serves to come near a solution. */
struct reference_system {
    const struct reference_network *network;
    double share;
};

size_t reference_unknowns(const struct reference_network *network);

/* Every emitter at its nominal flow and pressure, the junctions between at that pressure. */
void reference_start(const struct reference_network *network, double *unknowns);

double reference_flow(const struct reference_network *network, size_t node, const double *unknowns);
double reference_pressure(const struct reference_network *network, size_t node,
                          const double *unknowns);

/* Either of `residuals` and `entry` may be NULL. */
void reference_equations(const struct reference_system *system, const double *unknowns,
                         double *residuals, reference_entry *entry, void *matrix);

/* The largest residual: of a pressure relative to the larger of it and 1 m, of a flow to the
 * larger of it and the nominal flow there. */
double reference_largest_residual(const struct reference_system *system, const double *unknowns,
                                  const double *residuals);

#endif
