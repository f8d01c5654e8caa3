/* A field with a fault planted in it, solved by the reference, and what is read there.
 *
 * Nothing here is shared with the program's own faults but the words for them (visit.h): a clogged
 * filter is a part, a plugged emitter gives nothing while its neighbours do, an open end is a tape
 * whose last reach runs out through an opening as wide as the tape. A valve that is to be part
 * closed must lose pressure with the square of its flow, and hold none. */
#ifndef PLANTED_H
#define PLANTED_H

#include "dice.h"
#include "evenrow/visit.h"
#include "reference_network.h"

struct planted {
    struct er_arena arena; /* of what the fault changed */
    struct er_field field; /* shares the rest with the field it was made of */
    struct er_set set;
    size_t zone;
    struct reference_network network;
    double *unknowns;
    double share_plugged; /* of the zone's emitters */
    bool solved;
};

/* Solves the zone's set without a fault. Release it in any case. */
void planted_healthy(const struct er_field *field, size_t zone, struct planted *planted);

/* The same with a fault, of a size told by the healthy field's flows and pressures; `dice` picks
 * the emitters that are plugged. */
void planted_make(const struct planted *healthy, const struct er_fault *fault, struct dice *dice,
                  struct planted *planted);

/* What is read there, without any error. The place must be there. */
double planted_read(const struct planted *planted, const struct er_visit_reading *reading);

/* One of a bed's tapes. NULL: the bed does not have that side. */
const struct reference_run *planted_run(const struct planted *planted, size_t bed,
                                        bool second_side);

/* m3/s that the source gives. */
double planted_flow(const struct planted *planted);

/* The lowest pressure (m) of an emitter of the zone. */
double planted_lowest(const struct planted *planted);

void planted_release(struct planted *planted);

#endif
