/* The tables of the report on an injection. */
#ifndef ER_REPORT_INJECT_TABLES_H
#define ER_REPORT_INJECT_TABLES_H

#include "base/text.h"
#include "evenrow/inject.h"

struct er_inject_page {
    const struct er_injection *injection;
    const struct er_field *field;
    enum er_system system;
    struct er_text *out;
};

void er_inject_page_schedule(const struct er_inject_page *page);
void er_inject_page_stock(const struct er_inject_page *page);
void er_inject_page_zones(const struct er_inject_page *page);
void er_inject_page_travel(const struct er_inject_page *page);

#endif
