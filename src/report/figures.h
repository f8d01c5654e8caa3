/* The figures of a zone, in the order in which reports list them. */
#ifndef ER_REPORT_FIGURES_H
#define ER_REPORT_FIGURES_H

#include <stddef.h>

#include "evenrow/check.h"

enum er_figure_kind {
    ER_FIGURE_COUNT,         /* a size_t */
    ER_FIGURE_NUMBER,        /* a double without a unit */
    ER_FIGURE_PERCENT,       /* a fraction, told in percent */
    ER_FIGURE_QUANTITY,      /* told in the unit of `quantity` */
    ER_FIGURE_TIME_PER_DEPTH /* s per m of depth, told in hours per 1 in or per 10 mm */
};

struct er_figure {
    const char *key;  /* as in the JSON report */
    const char *part; /* its member, where the key holds an object; else NULL */
    enum er_figure_kind kind;
    enum er_quantity quantity; /* used with ER_FIGURE_QUANTITY */
    size_t offset;             /* in struct er_zone_result */
};

/* All of them; *count is their number. Those of one key stand together. */
const struct er_figure *er_figures(size_t *count);

/* One figure of a zone as it is told in `system`; NAN where it does not exist. */
double er_figure_value(const struct er_figure *figure, const struct er_zone_result *zone,
                       enum er_system system);

/* s per m of depth as hours per 1 in (us) or per 10 mm (metric). */
double er_time_per_depth(double seconds_per_metre, enum er_system system);

#endif
