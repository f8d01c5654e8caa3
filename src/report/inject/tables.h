/* The tables of the report on an injection. */
#ifndef ER_REPORT_INJECT_TABLES_H
#define ER_REPORT_INJECT_TABLES_H

#include "evenrow/inject.h"
#include "say/page.h"

void er_inject_schedule(struct er_page *page, const struct er_injection *injection);
void er_inject_stock(struct er_page *page, const struct er_injection *injection);
void er_inject_zones(struct er_page *page, const struct er_injection *injection);
void er_inject_travel(struct er_page *page, const struct er_injection *injection);

#endif
