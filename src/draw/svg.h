/* Pictures as SVG 1.1: shapes, and labels that never lie on one another.
 *
 * Lengths are in px of the picture, x to the right, y down. Every text goes through a board of
 * the places that are taken: a label that would touch another, or the picture's edge, is not
 * drawn, and the caller is told. What a text takes is worked out from a table of character
 * widths that is on the wide side, since the viewer's typeface is not known. */
#ifndef ER_DRAW_SVG_H
#define ER_DRAW_SVG_H

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"
#include "evenrow/arena.h"

struct er_box {
    double left, top, right, bottom;
};

struct er_taken; /* a place on the board */

struct er_svg {
    struct er_text *out;
    struct er_arena arena; /* of the board */
    struct er_taken *taken;
    double width, height;
};

enum er_anchor { ER_START, ER_MIDDLE, ER_END };

/* How a text is set. */
struct er_lettering {
    double size; /* px, height of the letters' em */
    bool bold;
    enum er_anchor anchor;
};

/* Distance (px) between the baselines of two lines of this size that do not touch. */
double er_svg_line_height(double size);

/* Begins a picture; `title` is what a screen reader says of it. Memory that runs out is
 * remembered in `out`. */
void er_svg_begin(struct er_svg *svg, struct er_text *out, double width, double height,
                  const char *title);
void er_svg_end(struct er_svg *svg);

/* A group that carries a class, for what is drawn alike: less is written. */
void er_svg_open(struct er_svg *svg, const char *class_name);
void er_svg_close(struct er_svg *svg);

/* Shapes. `class_name` is one of the style sheet's in svg.c, or NULL within a group. */
void er_svg_rect(struct er_svg *svg, double x, double y, double width, double height,
                 const char *class_name);
void er_svg_line(struct er_svg *svg, double x1, double y1, double x2, double y2,
                 const char *class_name);
void er_svg_circle(struct er_svg *svg, double x, double y, double radius, const char *class_name);

/* A line through many points, begun, fed and ended. */
void er_svg_path_begin(struct er_svg *svg, const char *class_name);
void er_svg_path_to(struct er_svg *svg, bool first, double x, double y);
void er_svg_path_end(struct er_svg *svg, bool closed);

/* An arrow from one point to another, its head 7 px long. */
void er_svg_arrow(struct er_svg *svg, double x1, double y1, double x2, double y2);

/* Width (px) that `text` takes at most. Control characters count as they are shown. */
double er_svg_text_width(struct er_svg *svg, const char *text, const struct er_lettering *how);

/* What a label with its baseline's anchor at x, y would cover. */
struct er_box er_svg_text_box(struct er_svg *svg, double x, double y, const char *text,
                              const struct er_lettering *how);

/* Draws a label if its place is free. */
bool er_svg_label(struct er_svg *svg, double x, double y, const char *text,
                  const struct er_lettering *how);

/* The same, cut with "..." where it would be wider than `room` px. */
bool er_svg_label_fitted(struct er_svg *svg, double x, double y, const char *text, double room,
                         const struct er_lettering *how);

/* A paragraph of lines no wider than `room`, at most `lines` of them, from the baseline y down.
 * Returns the baseline of the line that would follow. */
double er_svg_paragraph(struct er_svg *svg, double x, double y, const char *text, double room,
                        size_t lines, const struct er_lettering *how);

/* Whether a place is within the picture and no label's. */
bool er_svg_is_free(const struct er_svg *svg, const struct er_box *box);

/* Keeps a place free of labels. */
void er_svg_keep_free(struct er_svg *svg, const struct er_box *box);

#endif
