/* Places and obstacles in words, for every form of the report. */
#ifndef ER_REPORT_SUPPLY_WORDS_H
#define ER_REPORT_SUPPLY_WORDS_H

#include "evenrow/demand.h"
#include "say/page.h"

/* "tape inlet", "regulator" and so on; "nothing". */
const char *er_demand_kind_name(enum er_demand_kind kind);
bool er_demand_on_a_bed(const struct er_demand_place *place);

/* A place as a cell of a table has it: "tape inlet, hill bed 28". */
const char *er_place_short(struct er_pen *pen, const struct er_field *field,
                           const struct er_demand_place *place);

/* The report for a person, the answer first. */
void er_demand_page(const void *result, struct er_page *page);

/* Why no source can satisfy a place, with its figures and what would: sentences. */
const char *er_demand_obstacle_words(struct er_pen *pen, const struct er_demand *demand,
                                     const struct er_demand_obstacle *obstacle);

#endif
