/* How the catalogue is told. */
#ifndef ER_REPORT_CATALOG_REPORT_H
#define ER_REPORT_CATALOG_REPORT_H

#include "evenrow/catalogue.h"
#include "say/record.h"
#include "say/report.h"

enum er_catalogue_kind {
    ER_CATALOGUE_PIPES,
    ER_CATALOGUE_TAPES,
    ER_CATALOGUE_SOILS,
    ER_CATALOGUE_CROPS,
    ER_CATALOGUE_PRICES,
    ER_CATALOGUE_KINDS
};

/* "pipes", "tapes", "soils", "crops", "prices". */
const char *er_catalogue_kind_name(enum er_catalogue_kind kind);

/* The catalogue's entries of one kind, or with ER_CATALOGUE_KINDS of all, as text and JSON. */
struct er_listing {
    const struct er_catalogue *catalogue;
    enum er_catalogue_kind kind;
};

extern const struct er_report er_catalogue_report; /* of struct er_listing */

/* For a person, with the sources as numbered notes. */
void er_catalogue_page(const void *result, struct er_page *page);

/* The entries of one kind. Members without a head are told to programs only. */
struct er_list {
    const char *name, *heading;
    const struct er_member *members;
    size_t entry_size, entry_count;
    const void *entries; /* in the catalogue's memory or the pen's */
};

struct er_list er_catalogue_list(struct er_pen *pen, const struct er_catalogue *catalogue,
                                 enum er_catalogue_kind kind);

#endif
