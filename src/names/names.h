/* How things of a field are called, wherever a report, its arithmetic or a picture speaks of them.
 */
#ifndef ER_NAMES_NAMES_H
#define ER_NAMES_NAMES_H

#include "evenrow/field.h"
#include "say/pen.h"

/* The names of a set's zones: "1 + 2". */
const char *er_zone_names(struct er_pen *pen, const struct er_field *field, size_t set);

/* "nitrogen" and so on, as in the field file. */
const char *er_nutrient_name(enum er_nutrient nutrient);

/* The product's name, or "the product". */
const char *er_product_name(const struct er_product *product);

/* A day as ISO 8601 has it: "2026-05-01". */
const char *er_date_words(struct er_pen *pen, long date);

/* "3 % up", "level"; the parts are parted by `gap`. */
const char *er_slope_words(struct er_pen *pen, double slope, const char *gap);

/* "level ground", or "a slope of 3 % up". */
const char *er_ground_words(struct er_pen *pen, double slope);

#endif
