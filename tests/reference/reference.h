/* A second opinion on whole fields, for the tests only.
 *
 * The program walks along its tapes and headers from their far ends. Here nothing is
 * walked: every junction and every emitter of the zones that run together has its
 * unknowns, every pipe, part, emitter and junction its equation, written straight from
 * the field file's formulas, and a general solver finds the root of the whole system:
 *
 *   reference_network.c    the junctions of a set of zones and what joins them
 *   reference_laws.c       the formulas of pipe, part, emitter and source
 *   reference_equations.c  the residuals and their derivatives
 *   reference_solver.c     Newton's method with GSL's banded LU, and gsl_multiroot
 *   reference.c            the figures of each zone, taken from the root
 *
 * None of it calls the library's own hydraulics. All numbers are SI, pressures in metres
 * of water. Where memory runs out the test program ends. */
#ifndef REFERENCE_H
#define REFERENCE_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/field.h"

struct reference_zone {
    double flow;
    double join_pressure;
    double inlet_pressure;
    double tape_inlet_min, tape_inlet_max;
    double far_end_pressure;
    double pressure_min, pressure_max;    /* of the emitters */
    double flow_min, flow_mean, flow_max; /* of the emitters */
    const struct er_tape *lowest_tape;    /* the tape of an emitter with flow_min */
    double header_velocity;
    size_t dry_emitters;
    size_t emitter_count; /* each of a bed's tapes counted */
    double *emitter_flow; /* of every emitter */
    double *share;        /* the same over the nominal flow of the emitter's tape */
};

struct reference_set {
    double flow;
    double source_pressure;
    double after_headworks;
    double *section_flow; /* of each mainline section */
    double *section_end_pressure;
    bool solved;       /* the residual is within REFERENCE_TOLERANCE */
    double residual;   /* the largest left over, relative */
    size_t iterations; /* of the solver */
    size_t unknowns;
    bool by_multiroot; /* gsl_multiroot found it alone */
};

struct reference {
    size_t set_count, zone_count, section_count;
    struct reference_set *sets;
    struct reference_zone *zones;
    bool solved; /* every set */
};

/* A residual counts as closed within this: of a pressure relative to the larger of it and
 * 1 m, of a flow relative to the larger of it and the nominal flow there. */
#define REFERENCE_TOLERANCE 1e-12

/* m. Below it an emitter is about to run dry: its flow grows without bound with its pressure,
 * and the rounding of elevations decides what flows. */
#define REFERENCE_EDGE_OF_DRY 1e-6

/* Solves every set of `field`. Returns whether all closed; `reference` is to be released
 * either way. */
bool reference_solve(const struct er_field *field, struct reference *reference);

void reference_release(struct reference *reference);

#endif
