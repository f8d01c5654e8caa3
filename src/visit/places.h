/* Places in a zone where something can be read. */
#ifndef ER_VISIT_PLACES_H
#define ER_VISIT_PLACES_H

#include "evenrow/hydraulics.h"
#include "evenrow/visit.h"

/* Where on a tape emitters are read, for people. */
enum er_tape_place { ER_AT_INLET, ER_AT_THIRD, ER_AT_TWO_THIRDS, ER_AT_FAR_END, ER_TAPE_PLACES };

/* "inlet" and so on, ended by NULL: as a file of readings has them. */
extern const char *const er_tape_place_names[ER_TAPE_PLACES + 1];

/* The tape of the zone's bed `bed` (from 0; there must be one). */
const struct er_tape *er_bed_tape(const struct er_zone *zone, size_t bed);

/* Whether the zone's bed `bed` (from 0) has that side; *run: one of its tapes. */
bool er_bed_run(const struct er_zone *zone, size_t bed, bool second_side, struct er_run *run);

/* m from the inlet to the emitter at the share `share` of the way from the first to the last. */
double er_emitter_at_share(const struct er_run *run, double share);

/* The share of the way that a place is at. */
double er_tape_place_share(enum er_tape_place place);

/* Whether two readings are of the same place. */
bool er_same_reading(const struct er_visit_reading *a, const struct er_visit_reading *b);

#endif
