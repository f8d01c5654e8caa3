/* A field with a fault in it, solved. */
#ifndef ER_VISIT_FAULT_H
#define ER_VISIT_FAULT_H

#include "evenrow/visit.h"
#include "hydraulics/response_pool.h"

/* What the plan gives where a fault is put, so that its value has a size. */
struct er_fault_site {
    const struct er_field *field;
    size_t zone;
    size_t set;
    double set_flow;       /* m3/s */
    double zone_flow;      /* m3/s */
    double *bed_pressures; /* m, for each bed of the zone, at the first side's tape inlets */
    double open_pressure;  /* m, at the header beside the bed of an open end */
};

/* Makes *copy the field with the fault in it, out of pieces that are made in `arena` and of the
 * old field's. *extra_bed: the bed position that the fault adds to the zone; SIZE_MAX: none.
 * ER_OK or ER_NO_MEMORY. */
enum er_status er_fault_apply(const struct er_fault_site *site, const struct er_fault *fault,
                              struct er_arena *arena, struct er_field *copy, size_t *extra_bed);

/* Solves fields with faults again and again. */
struct er_predictor {
    struct er_fault_site site;
    struct er_arena arena; /* what the copies are made of */
    struct er_response_pool pool;
    double source_pressure; /* m, by the plan */
    double zone_flow;       /* m3/s, of the zone as it was solved last */
};

/* Solves the plan. ER_OK, ER_NO_MEMORY, ER_NOT_CLOSED; release in any case. */
enum er_status er_predictor_open(const struct er_field *field, size_t zone,
                                 struct er_predictor *predictor);

/* As er_visit_predict. */
enum er_status er_predictor_run(struct er_predictor *predictor, const struct er_fault *fault,
                                const struct er_visit_reading *readings, size_t count,
                                double *predicted);

void er_predictor_release(struct er_predictor *predictor);

/* The set that the zone is in. */
size_t er_set_of_zone(const struct er_field *field, size_t zone);

#endif
