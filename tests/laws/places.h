/* Where the beds stand along a header, worked out apart from the program. */
#ifndef PLACES_H
#define PLACES_H

#include "evenrow/field.h"

struct bed_place {
    const struct er_bed_group *group;
    size_t index; /* in its group */
    double at;    /* m from the first bed */
};

size_t bed_count(const struct er_zone *zone);

/* `bed` counts along the whole header, from 0. */
struct bed_place place_of_bed(const struct er_zone *zone, size_t bed);

/* From the first bed to the last (m), and to the feed point. */
double header_span(const struct er_zone *zone);
double feed_place(const struct er_zone *zone);

#endif
