/* A zone with tape ends open. */
#ifndef ER_PLAN_FLUSHING_H
#define ER_PLAN_FLUSHING_H

#include "evenrow/card.h"

/* Finds how many tape ends of a zone can be open at once, `crew` at most; see struct er_flushing.
 * ER_OK, ER_NO_MEMORY, or ER_NOT_CLOSED with *failure filled. */
enum er_status er_flushing_find(const struct er_field *field, size_t zone, size_t crew,
                                struct er_flushing *flushing, struct er_failure *failure);

#endif
