/* How it is told what has to be bought. */
#ifndef ER_REPORT_BUY_REPORT_H
#define ER_REPORT_BUY_REPORT_H

#include "evenrow/materials.h"
#include "say/report.h"

extern const struct er_report er_buy_report; /* of struct er_materials */

/* Text and HTML: the answer first; notes on laying it at the end. */
void er_buy_page(const void *result, struct er_page *page);

/* ---- words that page and records share ---- */

/* A length that is bought: "12,890 ft". */
const char *er_buy_length(struct er_pen *pen, double length);

/* Why there is so much in a line, in a few words with its figures. */
const char *er_buy_reasons(struct er_pen *pen, const struct er_materials *materials,
                           const struct er_material *line);

/* How the width of the film comes about. */
const char *er_buy_film_width(struct er_pen *pen, const struct er_film_need *film);

/* What is wrong with the film that the file tells of; NULL where it is wide enough, or where none
 * is told. */
const char *er_buy_film_remark(struct er_pen *pen, const struct er_film_need *film);

/* What all costs for one acre or hectare, and for 100 ft or m of bed. */
double er_cost_per_area(const struct er_materials *materials, enum er_system system);
double er_cost_per_bed_length(const struct er_materials *materials, enum er_system system);

/* A table of which beds each roll serves, for each kind of tape. */
void er_buy_rolls(struct er_page *page, const struct er_materials *materials);

#endif
