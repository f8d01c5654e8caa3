/* How even the emitters of a zone are, found without keeping them.
 *
 * A zone may have millions of emitters; each question is answered by visiting all of them
 * again, in memory that does not grow with their number. */
#ifndef ER_HYDRAULICS_EVENNESS_H
#define ER_HYDRAULICS_EVENNESS_H

#include "hydraulics/network.h"

/* Over all emitters of a zone; r is an emitter's flow over its own tape's nominal flow. */
struct er_evenness {
    double emitters;
    double mean_r, min_r, max_r;
    double variation;      /* population standard deviation of r over its mean */
    double mean_deviation; /* mean of |r - mean| over the mean */
    double low_quarter;    /* mean of the lowest quarter of r over the mean */
    struct er_range flow, pressure;
    double mean_flow;
};

/* Fills *evenness for a solved zone, and each outlet's emitter_pressure. Where no emitter gives
 * water, mean_r is 0 and the figures relative to it are NAN. ER_OK or ER_NO_MEMORY. */
enum er_status er_evenness_measure(const struct er_network *network, struct er_zone_network *zone,
                                   struct er_evenness *evenness);

/* The same of a zone that was estimated (er_network_estimate): no spread, no low quarter, and
 * no flow of single emitters; those figures are NAN. */
void er_evenness_estimate(const struct er_network *network, const struct er_zone_network *zone,
                          struct er_evenness *evenness);

#endif
