/* Cells of comma-separated values, after RFC 4180 but with a plain newline at line ends. */
#ifndef ER_SAY_CSV_H
#define ER_SAY_CSV_H

#include "base/text.h"

/* Appends a text cell: quoted where it must be, control characters as visible escapes, and
 * with a ' before what a spreadsheet would take for a formula. */
void er_csv_text(struct er_text *out, const char *text);

/* Appends a number with 12 significant digits, or an empty cell for NAN. */
void er_csv_number(struct er_text *out, double number);

/* The name of a unit as the end of a column's name: "gpm", "gal_per_100ft", "m3_per_h". */
void er_csv_unit(struct er_text *out, const char *unit);

#endif
