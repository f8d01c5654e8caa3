/* What every form of the report on an injection says in the same words. */
#ifndef ER_REPORT_INJECT_WORDS_H
#define ER_REPORT_INJECT_WORDS_H

#include "base/text.h"
#include "evenrow/inject.h"

/* "nitrogen" and so on, as in the field file. */
const char *er_nutrient_name(enum er_nutrient nutrient);

/* "run-short" and so on. */
const char *er_inject_code_name(enum er_inject_code code);

/* The product's name, or "the product". */
const char *er_product_name(const struct er_product *product);

/* A set's zones: "north + south". */
void er_append_set_zones(struct er_text *out, const struct er_field *field, size_t set);

/* A finding: the place, the figure, the limit, and what to change. Without a full stop. */
void er_append_inject_finding(struct er_text *out, const struct er_injection *injection,
                              enum er_system system, const struct er_inject_finding *finding);

#endif
