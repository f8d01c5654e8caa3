/* Units as people say them, which no file may have: for a message that tells what to type. */
#ifndef ER_BASE_UNIT_WORDS_H
#define ER_BASE_UNIT_WORDS_H

#include <stddef.h>

#include "evenrow/units.h"

/* Where `text` is a number and another name for a unit of the quantity ("200 feet"): that unit, and
 * in *number the bytes of the number. NULL: it is not. */
const char *er_unit_meant(enum er_quantity quantity, const char *text, size_t *number);

#endif
