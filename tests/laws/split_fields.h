/* Small fields for the splitting, drawn so that many can be fed in some number of zones. */
#ifndef SPLIT_FIELDS_H
#define SPLIT_FIELDS_H

#include "dice.h"
#include "evenrow/divide.h"
#include "evenrow/reading.h"

#define MOST_BEDS 8 /* of all zones */

/* The text of a field of one to three zones, with slopes, tapers, profiles, both sides, regulators
 * and mainlines now and then, a limit of flow, of hours, or a curve. The caller frees it. */
char *split_field_text(uint64_t seed);

/* Reads a text; ends the test if there is a problem. The caller releases both. */
void split_field_open(const char *text, struct er_document **document, struct er_field *field);

/* The pieces that begin at the first bed and behind every bed whose bit is set in `cuts`; returns
 * their number, 0 where one would reach into two zones. */
size_t split_pieces(const struct er_field *field, unsigned cuts, struct er_piece *pieces);

#endif
