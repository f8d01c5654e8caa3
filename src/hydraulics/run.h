/* More about a solved run of tape than the library's users ask. */
#ifndef ER_HYDRAULICS_RUN_H
#define ER_HYDRAULICS_RUN_H

#include "evenrow/hydraulics.h"

/* A pressure and its derivative by the inlet's pressure. */
struct er_moving {
    double value, slope;
};

struct er_run_extremes {
    struct er_moving lowest, highest; /* of the pressures at the run's emitters */
};

/* Finds the lowest and the highest emitter pressure of a solved run: one walk. The slopes are
 * NAN where the state holds restarts, since a restarted walk has lost them, or where nothing
 * flows. */
struct er_run_extremes er_run_extremes_of(const struct er_run *run,
                                          const struct er_run_state *state);

/* Both at once, for whatever inlet pressure goes with `far_pressure` at the last emitter: one
 * walk. */
struct er_run_state er_run_walk_extremes(const struct er_run *run, double far_pressure,
                                         struct er_run_extremes *extremes);

/* The state of a run whose end is open to the air and gives `end_flow` (m3/s, above zero), its
 * emitters running: inlet_pressure, inlet_flow and flow_slope; its far end says nothing. One
 * walk. */
struct er_run_state er_run_walk_open(const struct er_run *run, double end_flow);

/* The same for an inlet pressure, as er_run_solve; where water does not get to the end, the run is
 * one whose end is closed. */
enum er_status er_run_solve_open(const struct er_run *run, double inlet_pressure,
                                 struct er_run_state *state);

/* Visits the emitters of the same run, as er_run_visit does. */
void er_run_visit_open(const struct er_run *run, double end_flow, er_emitter_visit *visit,
                       void *context);

#endif
