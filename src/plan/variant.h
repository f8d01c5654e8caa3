/* A field with one thing changed, to ask whether that would help. */
#ifndef ER_PLAN_VARIANT_H
#define ER_PLAN_VARIANT_H

#include "plan/splitter.h"

struct er_variant {
    struct er_splitter *splitter;
    enum er_remedy_kind kind;
    struct er_field field; /* shares with the splitter's; its own arena */
    struct er_zone_layout layout;
};

/* Makes field and layout, `amount` being as the remedy has it, but for a regulator the pressure
 * (m) that it takes off with the water at rest, and for pipes the number of sizes. The field is
 * released with er_field_release. ER_OK or ER_NO_MEMORY. */
enum er_status er_variant_make(struct er_variant *variant, double amount);

/* Pressure (m) at the source when no water flows. */
double er_resting_pressure(const struct er_field *field);

/* The pipe that is `steps` sizes wider among those on offer, of the same family as far as that
 * has one; NULL: there is none. */
const struct er_pipe *er_wider_pipe(const struct er_split_ask *ask, const struct er_pipe *pipe,
                                    size_t steps);

#endif
