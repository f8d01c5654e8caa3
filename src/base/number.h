/* Numbers as people write them: with no more digits than it takes to read them back. */
#ifndef ER_BASE_NUMBER_H
#define ER_BASE_NUMBER_H

#include <stddef.h>

#include "base/text.h"

/* No farm has anything larger or smaller than this in SI units, and the arithmetic that
 * follows stays far from the ends of a double. */
#define ER_LARGEST_FIGURE 1e12
#define ER_SMALLEST_FIGURE 1e-18

/* The double nearest to `number` written with so many significant digits (1 to 17). */
double er_number_rounded(double number, int digits);

/* Significant digits that a finite number needs so that the very same is read back, at most 17. */
int er_number_digits(double number);

/* Appends a finite number with just these digits, as a JSON number (RFC 8259, section 6). */
void er_text_append_number(struct er_text *text, double number);

/* What a written number is read into; NAN where it would be refused. */
typedef double er_number_reading(double number, const void *context);

/* The number with the fewest digits that is read into `wanted`; where none is, the one read
 * into the nearest to it. `guess` is right but for rounding. One of few digits (12) may miss
 * `wanted` by the share `slack` of it. */
double er_number_for(double wanted, double slack, double guess, er_number_reading *reading,
                     const void *context);

#endif
