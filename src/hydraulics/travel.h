/* How long water is on its way through a solved set. */
#ifndef ER_HYDRAULICS_TRAVEL_H
#define ER_HYDRAULICS_TRAVEL_H

#include "evenrow/inject.h"
#include "hydraulics/network.h"

/* The travel of a zone of a solved network, from the headworks on. */
void er_travel_measure(const struct er_network *network, const struct er_zone_network *zone,
                       struct er_travel *travel);

/* Volume (m3) of the mainline sections in which water flows. */
double er_mainline_volume(const struct er_network *network);

#endif
