/* How long a zone must run for what its crop needs. */
#ifndef ER_WATER_NEED_H
#define ER_WATER_NEED_H

#include "evenrow/field.h"

/* What the need is worked out from. */
struct er_zone_ground {
    double area;       /* m2, bed length x spacing */
    double bed_area;   /* m2, bed length x bed_width */
    double bed_length; /* m */
    double soil;       /* m3 that tapes wet and roots reach; NAN where no soil is told */
};

struct er_irrigation {
    double efficiency;       /* fraction */
    double gross_depth;      /* m per irrigation, over the need's area */
    double volume;           /* m3 per irrigation */
    double run_time;         /* s */
    double gross_per_length; /* m3/m of bed */
    double holding;          /* m3 that the root zone takes; NAN without a soil */
    size_t pulses;           /* runs that one irrigation makes, none more than the root zone takes
                                and all spread evenly over the time to the next; 1: it fits */
};

/* How to water so that no run gives more than the root zone takes. */
struct er_room {
    double every;    /* whole days from one irrigation to the next, 1 or more */
    size_t runs;     /* a day of watering; above 1 only where `every` is 1 */
    double run_time; /* s, of one */
};

/* How wide (m) one tape wets the zone's soil, which must be told. */
double er_wetted_width(const struct er_water *water);

/* Section (m2) of soil under a bed that its tapes wet and the roots reach: under each tape a half
 * circle, cut off where the roots end; all together at most the bed's width to that depth. */
double er_wetted_section(double width, double root_depth, size_t tapes, double bed_width);

struct er_zone_ground er_zone_ground_measure(const struct er_zone *zone);

/* The irrigation of a zone that gives `flow` m3/s with `emission_uniformity` (a fraction, NAN
 * where there is none). Figures are NAN without a need, or where flow or efficiency is 0. */
struct er_irrigation er_irrigation_plan(const struct er_zone *zone,
                                        const struct er_zone_ground *ground, double flow,
                                        double emission_uniformity);

/* For a zone whose irrigation `volume` (m3), every so many days, is `run_time` (s) and more than
 * it is `holding` (m3): as seldom as passes, or spread evenly over each day where once a day is
 * too much, since a crop makes room only as it drinks. */
struct er_room er_room_for(double volume, double every, double run_time, double holding);

#endif
