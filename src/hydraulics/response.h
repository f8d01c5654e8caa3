/* What a run of tape takes at a given inlet pressure, learnt from exact walks.
 *
 * Solving a zone asks this thousands of times; walking a tape of a thousand emitters each
 * time would be slow. So a response keeps the walks made so far as samples and reads between
 * them, and the zone is closed only when fresh walks at its answer agree with what was read.
 * Beds that are alike share one response. */
#ifndef ER_HYDRAULICS_RESPONSE_H
#define ER_HYDRAULICS_RESPONSE_H

#include "evenrow/field.h"
#include "evenrow/status.h"
#include "hydraulics/run.h"

struct er_sample {
    double inlet_pressure;
    double flow, flow_slope;
    double far_pressure, far_slope; /* at the last emitter */
    /* By er_response_study alone: */
    struct er_run_extremes extremes;
    bool known_after; /* up to the next sample, what is read was held against a walk */
};

struct er_response {
    struct er_run run;
    bool open_end; /* the far end is open to the air: far pressures and extremes say nothing */
    double dry_pressure; /* at or below it nothing flows */
    size_t users;        /* runs of tape that share it */
    size_t count, capacity;
    struct er_sample *samples; /* by rising inlet pressure; owned */
};

/* Takes the first sample, somewhere near the tape's nominal pressure. */
enum er_status er_response_begin(struct er_response *response);

/* Flow (m3/s) at `inlet_pressure` read from the samples, and its derivative. Never falls. */
double er_response_flow(const struct er_response *response, double inlet_pressure, double *slope);

/* A first guess for er_run_solve at `inlet_pressure`. */
struct er_run_state er_response_guess(const struct er_response *response, double inlet_pressure);

/* Adds a walked state to the samples. ER_OK or ER_NO_MEMORY. */
enum er_status er_response_learn(struct er_response *response, const struct er_run_state *state);

/* Walks until what is read at `inlet_pressure` is known to be right within ER_STUDIED: a walk
 * half way between the two samples about it agreed with what was read there. Returns ER_OK,
 * ER_NO_MEMORY, or ER_NOT_CLOSED where that cannot be brought about. *learnt is set where a
 * walk was needed. */
#define ER_STUDIED 1e-7 /* of the flow; m of the emitters' pressures */
/* The same where an emitter is dry: there is a corner wherever one more dries, and a plan with
 * such a row fails, whatever it takes. */
#define ER_STUDIED_DRY 1e-4
enum er_status er_response_study(struct er_response *response, double inlet_pressure, bool *learnt);

/* Lowest and highest emitter pressure at `inlet_pressure`, read from what was studied. */
struct er_range er_response_emitter_pressure(const struct er_response *response,
                                             double inlet_pressure);

void er_response_release(struct er_response *response);

#endif
