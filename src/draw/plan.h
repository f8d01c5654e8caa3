/* The parts of the plan's picture. */
#ifndef ER_DRAW_PLAN_H
#define ER_DRAW_PLAN_H

#include "check/rows.h"
#include "draw/layout.h"
#include "draw/sheet.h"

struct er_plan_drawing {
    struct er_sheet sheet;
    struct er_plan_layout layout;
    const struct er_result *result;
    const struct er_rows *rows;
};

#define ER_PLAN_DRY 8 /* the class of a stretch in which some emitter gets nothing */

/* The upper ends of the classes of flow over the zone's mean, but the last's, which has none;
 * and the classes' names in the style sheet, ER_PLAN_DRY's too. */
extern const double er_plan_class_ends[ER_PLAN_DRY - 1];
extern const char *const er_plan_class_names[ER_PLAN_DRY + 1];

/* The rows of a zone, shaded, with their numbers and the slopes along them. */
void er_plan_beds(struct er_plan_drawing *drawing, size_t zone);

/* What the shades and signs mean, and the mainline's sections in words, on the right. Returns
 * how far down (px) it reaches. */
double er_plan_legend(struct er_plan_drawing *drawing);

/* How far down the legend of a field would reach. */
double er_plan_legend_bottom(const struct er_field *field);

#endif
