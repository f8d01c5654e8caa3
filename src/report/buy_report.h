/* How it is said what has to be bought.
 *
 * Each writer appends to `out`, which the caller releases, and returns ER_OK or ER_NO_MEMORY.
 * `system` chooses the units of the figures. */
#ifndef ER_REPORT_BUY_REPORT_H
#define ER_REPORT_BUY_REPORT_H

#include "base/text.h"
#include "evenrow/materials.h"

/* The report for a person: at most 80 columns, the answer first; notes on laying it at the
 * end. */
enum er_status er_report_buy_text(const struct er_materials *materials, enum er_system system,
                                  struct er_text *out);

/* One JSON object, every key always there, null for what does not exist. */
enum er_status er_report_buy_json(const struct er_materials *materials, enum er_system system,
                                  struct er_text *out);

/* A head line, then one line for each line of the list. */
enum er_status er_report_buy_csv(const struct er_materials *materials, enum er_system system,
                                 struct er_text *out);

/* buy_words.c: what the writers share. */

/* "tape", "pipe", "zones", "headworks", "film". */
const char *er_material_group_name(enum er_material_group group);

/* Why there is so much in a line, in a few words with its figures. */
void er_append_reasons(struct er_text *out, const struct er_materials *materials,
                       const struct er_material *line, enum er_system system);

/* How the width of the film comes about; and, with a full stop, where the film that the file
 * tells of is not wide enough. Nothing where it is, or where none is told. */
void er_append_film_width(struct er_text *out, const struct er_film_need *film,
                          enum er_system system);
void er_append_film_remark(struct er_text *out, const struct er_film_need *film,
                           enum er_system system);

/* What all costs for one acre or hectare, and for 100 ft or m of bed. */
double er_cost_per_area(const struct er_materials *materials, enum er_system system);
double er_cost_per_bed_length(const struct er_materials *materials, enum er_system system);

/* buy_rolls.c: a table of which beds each roll serves, for each kind of tape. */
void er_append_rolls(struct er_text *out, const struct er_materials *materials,
                     enum er_system system);

#endif
