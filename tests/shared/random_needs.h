/* What a field is judged by: needs for water, ratings, limits. */
#ifndef RANDOM_NEEDS_H
#define RANDOM_NEEDS_H

#include "dice.h"
#include "evenrow/field.h"

/* Gives a field of random_field a need for water in some of its zones, soils, dirty filters,
 * ratings of parts and pipes, a source that may be too small, and limits, at random, so that
 * every kind of finding comes up in some of a few hundred fields. Flows and pressures stay as
 * they are. Ends the program if memory runs out. */
void random_needs(struct dice *dice, struct er_field *field);

#endif
