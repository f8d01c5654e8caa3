/* Places and obstacles in words, for every form of the report. */
#ifndef ER_REPORT_DEMAND_WORDS_H
#define ER_REPORT_DEMAND_WORDS_H

#include "base/text.h"
#include "evenrow/demand.h"

/* "tape inlet", "regulator" and so on; "nothing". */
const char *er_demand_kind_name(enum er_demand_kind kind);

/* A place as a cell of a table has it: "tape inlet, hill bed 28". */
void er_append_place_short(struct er_text *out, const struct er_field *field,
                           const struct er_demand_place *place);

/* Why no source can satisfy a place, with its figures and what would: sentences. */
void er_append_obstacle(struct er_text *out, const struct er_demand *demand, enum er_system system,
                        const struct er_obstacle *obstacle);

#endif
