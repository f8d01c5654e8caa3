/* What all pictures have in common: the head, notes, and axes. */
#ifndef ER_DRAW_SHEET_H
#define ER_DRAW_SHEET_H

#include "draw/svg.h"
#include "evenrow/check.h"
#include "say/pen.h"

#define ER_SHEET_WIDTH 1000.0 /* px */
#define ER_SHEET_MARGIN 24.0
#define ER_SHEET_TOP 118.0 /* below the head */

struct er_sheet {
    struct er_svg svg;
    enum er_system system;
};

extern const struct er_lettering er_small_letters, er_small_letters_middle, er_small_letters_end,
    er_bold_letters;

/* Begins a picture with its head: the field's title and `heading`; a verdict or another remark
 * stands below them. */
void er_sheet_begin(struct er_sheet *sheet, const struct er_result *result, enum er_system system,
                    double height, const char *heading, struct er_text *out);

void er_sheet_verdict(struct er_sheet *sheet, const struct er_result *result);
/* `remark` is made with `pen`, which is released. */
void er_sheet_remark(struct er_sheet *sheet, struct er_pen *pen, const char *remark);

/* ER_OK or ER_NO_MEMORY. */
enum er_status er_sheet_end(struct er_sheet *sheet);

/* A text made as printf makes it, as a label in small letters, cut to `room` px. */
bool er_sheet_labelf(struct er_sheet *sheet, double x, double y, double room,
                     const struct er_lettering *how, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 6, 7)))
#endif
    ;

/* The smallest of 1, 2 and 5 times a power of ten that is `least` (> 0) or more. */
double er_round_step(double least);

/* A frame with two axes. Numbers are in the units told. */
struct er_chart {
    struct er_box frame;   /* px */
    double x_last, y_last; /* what stands at the right and at the top; 0 at left and bottom */
};

double er_chart_x(const struct er_chart *chart, double value);
double er_chart_y(const struct er_chart *chart, double value);

/* Rounds x_last and y_last up to whole steps of their axes. */
void er_chart_fit(struct er_chart *chart);

/* Draws grid, frame and figures of a chart that was fitted; `x_name` below, `y_name` above the
 * frame, each with its unit. */
void er_chart_axes(struct er_sheet *sheet, const struct er_chart *chart, const char *x_name,
                   const char *y_name);

#endif
