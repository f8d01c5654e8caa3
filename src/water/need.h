/* How long a zone must run for what its crop needs. */
#ifndef ER_WATER_NEED_H
#define ER_WATER_NEED_H

#include "evenrow/field.h"

/* What the need is worked out from. */
struct er_zone_ground {
    double area;        /* m2, bed length x spacing */
    double bed_area;    /* m2, bed length x bed_width */
    double bed_length;  /* m */
    double wetted_area; /* m2, bed length x wetted width */
};

struct er_irrigation {
    double efficiency;       /* fraction */
    double gross_depth;      /* m per irrigation, over the need's area */
    double volume;           /* m3 per irrigation */
    double run_time;         /* s */
    double gross_per_length; /* m3/m of bed */
    double holding;          /* m3 that the root zone takes; NAN without a soil */
    size_t pulses;           /* runs that one irrigation should be split into */
};

struct er_zone_ground er_zone_ground_measure(const struct er_zone *zone);

/* The irrigation of a zone that gives `flow` m3/s with `emission_uniformity` (a fraction, NAN
 * where there is none). Figures are NAN without a need, or where flow or efficiency is 0. */
struct er_irrigation er_irrigation_plan(const struct er_zone *zone,
                                        const struct er_zone_ground *ground, double flow,
                                        double emission_uniformity);

#endif
