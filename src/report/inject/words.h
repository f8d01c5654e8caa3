/* What every form of the report on an injection says in the same words. */
#ifndef ER_REPORT_INJECT_WORDS_H
#define ER_REPORT_INJECT_WORDS_H

#include "evenrow/inject.h"
#include "say/page.h"

/* The report for a person, the answer first. */
void er_inject_page(const void *result, struct er_page *page);

/* "run-short" and so on. */
const char *er_inject_code_name(enum er_inject_code code);

/* A finding: the place, the figure, the limit, and what to change. Without a full stop. */
const char *er_inject_finding_words(struct er_pen *pen, const struct er_injection *injection,
                                    const struct er_inject_finding *finding);

#endif
