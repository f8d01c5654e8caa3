/* Random fields for the tests: the same seed always gives the same field. */
#ifndef RANDOM_FIELD_H
#define RANDOM_FIELD_H

#include <stdint.h>

#include "evenrow/field.h"

/* A seed of 0 (modulo 8) gives a field of one emitter, 1 one of one bed; the others have up to
 * three zones of a few beds, with up to 30 emitters to a tape. Some have too little pressure
 * somewhere and run partly dry. Every feature of the field file that acts on flows and
 * pressures comes up in some of a few hundred seeds. Ends the program if memory runs out.
 * The caller releases the field with er_field_release. */
void random_field(uint64_t seed, struct er_field *field);

#endif
