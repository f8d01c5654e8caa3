/* What the water does in one pipe, one emitter, one run of tape, one part, one source.
 *
 * Heads and pressures are metres of water, flows m3/s, lengths m. A run of tape is
 * worked emitter by emitter; nothing is averaged. Whole sets of zones are solved by
 * er_check (check.h), out of these pieces. */
#ifndef EVENROW_HYDRAULICS_H
#define EVENROW_HYDRAULICS_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/field.h"
#include "evenrow/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define ER_FRICTION_EXPONENT 1.852

/* Head lost per metre of pipe at a flow of 1 m3/s, so that the loss over `length` m at `flow`
 * is this x length x flow^1.852. `c` > 0: Hazen-Williams coefficient; `diameter` > 0: m.
 * Source: Hazen-Williams in SI, h = 10.67 L Q^1.852 / (C^1.852 D^4.8704) (from memory;
 * held against a printed loss table for class 160 pipe). Not for laminar flow. */
double er_friction_gradient(double c, double diameter);

/* Head (m) lost by `flow` >= 0 over `length` >= 0 of a pipe: Hazen-Williams as above. */
double er_friction_head(double flow, double length, double c, double diameter);

/* Flow (m3/s) of one emitter of `tape` at `pressure` (m), 0 at or below zero pressure:
 * q = q_nominal (p / at_pressure)^x, or for a compensating emitter its nominal flow
 * between holds_from and holds_to and the square root of the pressure outside.
 * Source: Keller and Karmeli, Trickle Irrigation Design Parameters, Transactions of the
 * ASAE 17(4), 1974 (from memory). *slope, where not NULL: its derivative, m2/s. */
double er_emitter_flow(const struct er_tape *tape, double pressure, double *slope);

/* One run of tape on its ground, closed at the far end. */
struct er_run {
    const struct er_tape *tape;
    size_t emitters;    /* 1 or more, emitter_spacing apart */
    double first_reach; /* m from the inlet to the first emitter */
    double length;      /* m, inlet to the tape's end */
    struct er_ground ground;
};

/* A run of `length` m as the field file means it: first emitter at half a spacing. */
struct er_run er_run_make(const struct er_tape *tape, double length,
                          const struct er_ground *ground);

/* A place where a walk is set on its way anew: what stands just upstream of an emitter. */
struct er_run_restart {
    size_t emitter;
    double pressure;                 /* m */
    double flow;                     /* m3/s */
    double pressure_span, flow_span; /* how far apart the two walks were that it lies between */
};

/* Of the rows that the tests solve none takes more than 27; with 12 some random fields were
 * refused. */
#define ER_RUN_RESTARTS 32

/* How a run stands. Pressures are at the points' own elevations. */
struct er_run_state {
    size_t last_wet;     /* the emitter (from 0 at the inlet) that far_pressure belongs to;
                            all beyond it are dry. emitters - 1 unless the far end is dry */
    double far_pressure; /* m, at emitter last_wet */
    size_t restart_count;
    struct er_run_restart restarts[ER_RUN_RESTARTS]; /* from the far end on; see er_run_solve */
    double inlet_pressure;
    double inlet_flow;
    double flow_slope; /* d inlet_flow / d inlet_pressure, m2/s */
    double far_slope;  /* d far_pressure / d inlet_pressure */
};

/* The pressure (m) at the inlet at or below which no emitter of the run gets water. */
double er_run_dry_pressure(const struct er_run *run);

/* The state of a run whose emitter `last` has pressure `far_pressure`, all beyond it dry:
 * one walk from there to the inlet. inlet_pressure is INFINITY where it would pass `ceiling`. */
struct er_run_state er_run_walk(const struct er_run *run, size_t last, double far_pressure,
                                double ceiling);

/* Finds the state whose inlet pressure is `inlet_pressure` within `tolerance` x the larger of
 * it and 1 m. *state is read as the first guess (all zeros: none). ER_OK or ER_NOT_CLOSED.
 *
 * Where the pressure nearly vanishes half way (long rows on falling ground), walks whose far
 * pressures are neighbouring doubles part before they reach the inlet. The answer lies between
 * them: the walk is restarted where they part, between their pressures and flows, which there
 * differ by less than any figure told, and the search goes on with fresh digits. */
enum er_status er_run_solve(const struct er_run *run, double inlet_pressure, double tolerance,
                            struct er_run_state *state);

/* Pressure (m) at the run's last emitter. */
double er_run_far_end_pressure(const struct er_run *run, const struct er_run_state *state);

/* Calls `visit` for every emitter of a solved run, from the last to the first, with its
 * place from 0 at the inlet, pressure (m) and flow (m3/s). */
typedef void er_emitter_visit(void *context, size_t emitter, double pressure, double flow);
void er_run_visit(const struct er_run *run, const struct er_run_state *state,
                  er_emitter_visit *visit, void *context);

/* How long water is on its way in a run of tape. */
struct er_run_travel {
    double first; /* s, from the inlet to the first emitter; INFINITY where nothing flows */
    double last;  /* s, to the last emitter that gives water; likewise */
    size_t dry;   /* emitters that give none */
};

/* The travel time of water in a solved run: the volume of each reach between two emitters over
 * the flow in it, added up. The tape beyond the last emitter that gives water is a dead end and
 * does not count. The water is taken to move as a plug; what runs down the middle of a tape is
 * somewhat ahead of it, and the last of it somewhat behind. */
struct er_run_travel er_run_travel_time(const struct er_run *run, const struct er_run_state *state);

/* Flow (m3/s) out of the run's end when it is opened to the air, its inlet held at
 * `inlet_pressure` and its emitters running; 0 where the water cannot reach the end.
 * *end_flow is read as the first guess (0: none). ER_OK or ER_NOT_CLOSED. */
enum er_status er_run_flush(const struct er_run *run, double inlet_pressure, double *end_flow);

/* Pressure (m) lost in a part at `flow`: loss x (flow / at_flow)^2, or the loss itself at any
 * flow without at_flow. `dirty`: with its dirty_loss. *slope: the derivative. */
double er_part_loss(const struct er_part *part, double flow, bool dirty, double *slope);

/* Head (m) lost in a pump's suction pipe at `flow` >= 0, 0 without such a pipe; *slope: the
 * derivative. Hazen-Williams, as er_friction_head. */
double er_suction_friction(const struct er_suction *suction, double flow, double *slope);

/* Pressure (m) at a source's outlet at `flow` >= 0, and its derivative (<= 0). */
double er_source_pressure(const struct er_source *source, double flow, double *slope);

/* The smallest flow (m3/s) for which the source's pressure is known: 0, or the first of a curve
 * without the pressure at no flow. Below it the source is taken as level. */
double er_source_first_flow(const struct er_source *source);

/* The largest flow (m3/s) for which the source was measured; INFINITY for a bare pressure. */
double er_source_last_flow(const struct er_source *source);

#define ER_SURGE_SHARE                                                                             \
    0.72 /* of PVC's rating, above which surges are to be worked out: USDA NRCS                    \
            and ASAE S376, as design sheets for class pipe quote them (printed copy) */

/* How fast (m/s) a sudden stop runs through PVC pipe rated for `max_pressure` (m), whose wall
 * follows from the rating: sqrt(K / density) / sqrt(1 + K D / (E t)), D inside (Joukowsky). */
double er_pvc_wave_speed(double max_pressure);

/* The velocity (m/s) whose sudden stop raises the pressure (m) in such a pipe from `pressure` to
 * its rating; 0 at the rating or over it. */
double er_pvc_stop_velocity(double max_pressure, double pressure);

/* Mean pressure of the air as metres of water, at `altitude` m (-500 to 5,000).
 * Source: U.S. Standard Atmosphere, 1976, troposphere: p = 101325 (1 - 2.25577e-5 z)^5.25588 Pa. */
double er_barometric_head(double altitude);

/* Vapour pressure of water as metres of water, at `temperature` C (0 to 60).
 * Source: FAO Irrigation and Drainage Paper 56 (1998), equation 11. */
double er_vapour_head(double temperature);

/* The practical suction lift (m) at `altitude` m: 22 ft at the sea to 14 ft at 10,560 ft,
 * straight between the printed rows and level beyond them.
 * Source: Engineering ToolBox, table of suction lift and altitude for water pumps. */
double er_practical_suction_lift(double altitude);

#ifdef __cplusplus
}
#endif

#endif
