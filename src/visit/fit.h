/* Fitting faults to readings. */
#ifndef ER_VISIT_FIT_H
#define ER_VISIT_FIT_H

#include "visit/fault.h"

struct er_fitting {
    struct er_predictor *predictor;
    const struct er_visit_reading *readings;
    size_t count;
    const double *deviation;    /* of each reading */
    double *scratch;            /* as many as readings, twice */
    size_t first_bed, last_bed; /* where the fault that was fitted last may as well be */
    bool no_memory;             /* it ran out; nothing that was fitted counts */
};

/* Sum of squares between readings and prediction, each over its deviation, and that of the
 * number of plugged emitters. off[i] (NULL: not wanted): NAN for a plugged one. */
double er_fit_misfit(const struct er_fitting *fitting, const struct er_fault *fault,
                     const double *predicted, double *off, size_t *plugged);

/* Sets the fault's value and bed so that the misfit is least. Returns that misfit; INFINITY
 * where there is no solution. */
double er_fit_fault(struct er_fitting *fitting, enum er_fault_kind kind, struct er_fault *fault);

/* How many figures are fitted for a fault of that kind. */
size_t er_fit_figures(enum er_fault_kind kind);

#endif
