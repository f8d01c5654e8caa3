/* What every form of the report on an injection says in the same words. */
#ifndef ER_REPORT_INJECT_WORDS_H
#define ER_REPORT_INJECT_WORDS_H

#include "evenrow/inject.h"
#include "say/page.h"

/* The report for a person, the answer first. */
void er_inject_page(const void *result, struct er_page *page);

/* "nitrogen" and so on, as in the field file. */
const char *er_nutrient_name(enum er_nutrient nutrient);

/* "run-short" and so on. */
const char *er_inject_code_name(enum er_inject_code code);

/* The product's name, or "the product". */
const char *er_product_name(const struct er_product *product);

/* A finding: the place, the figure, the limit, and what to change. Without a full stop. */
const char *er_inject_finding_words(struct er_pen *pen, const struct er_injection *injection,
                                    const struct er_inject_finding *finding);

#endif
