/* The figures of one zone, out of a solved network; and of a pump's suction. */
#ifndef ER_CHECK_FIGURES_H
#define ER_CHECK_FIGURES_H

#include "evenrow/check.h"
#include "hydraulics/network.h"

/* Fills *result for a zone of a solved network; its places in field and set are set already.
 * ER_OK, ER_NO_MEMORY, or ER_NOT_CLOSED from the flushing of a tape. */
enum er_status er_work_out_zone(const struct er_network *network, struct er_zone_network *zone,
                                struct er_zone_result *result);

/* The same for a zone of an estimated network, but for what needs each emitter: those figures
 * are NAN, as is the flushing. */
void er_work_out_estimated_zone(const struct er_network *network, struct er_zone_network *zone,
                                struct er_zone_result *result);

/* Whether any part on the way to a zone of the set loses more when it is dirty. */
bool er_set_gets_dirty(const struct er_field *field, const struct er_set *set);

/* The suction that is given, at `flow` (m3/s). Net positive suction head available = barometric
 * head - vapour head - height - friction. */
void er_work_out_suction(const struct er_suction *suction, double flow,
                         struct er_suction_result *result);

#endif
