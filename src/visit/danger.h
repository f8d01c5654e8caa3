/* Readings above what something is rated for. */
#ifndef ER_VISIT_DANGER_H
#define ER_VISIT_DANGER_H

#include "visit/fault.h"

/* The reading that is above a rating by the largest share. `planned`: what the plan shows at each
 * reading's place. */
struct er_danger er_danger_find(const struct er_fault_site *site,
                                const struct er_measured *measured, const double *planned);

#endif
