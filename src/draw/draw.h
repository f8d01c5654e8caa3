/* Pictures of a field, as SVG. Each writer appends a whole picture to `out` and returns ER_OK or
 * ER_NO_MEMORY; `system` chooses the units of its figures. */
#ifndef ER_DRAW_DRAW_H
#define ER_DRAW_DRAW_H

#include "base/text.h"
#include "check/rows.h"
#include "evenrow/check.h"
#include "evenrow/season.h"
#include "say/page.h"

/* Source, mainline, zones and beds to scale, the beds shaded by what their emitters give. */
enum er_status er_draw_plan(const struct er_result *result, const struct er_rows *rows,
                            enum er_system system, struct er_text *out);

/* For each zone the pressure along its lowest and its highest row. */
enum er_status er_draw_pressure(const struct er_result *result, const struct er_rows *rows,
                                enum er_system system, struct er_text *out);

/* The source's curve with each set on it. */
enum er_status er_draw_supply(const struct er_result *result, enum er_system system,
                              struct er_text *out);

/* Hours of watering in each week, and what is left in the storage. */
enum er_status er_draw_season(const struct er_season_plan *plan, enum er_system system,
                              struct er_text *out);

/* In plain characters, for a page of text: the pressure along the row with the lowest emitter of
 * all. */
void er_plot_worst_row(const struct er_rows *rows, struct er_page *page);

#endif
