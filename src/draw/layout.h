/* Where the plan's things stand on the picture.
 *
 * The field file tells lengths and no bearings. So the mainline goes straight down the page from
 * the source, a branch beside it in a lane of its own; zones stand to its right, each about as
 * far down as the place where it joins, with headers down the page and beds across it. One scale
 * holds for all of it, but sections of mainline that would dwarf the beds are cut short. */
#ifndef ER_DRAW_LAYOUT_H
#define ER_DRAW_LAYOUT_H

#include <stdbool.h>
#include <stddef.h>

#include "draw/svg.h"
#include "evenrow/arena.h"
#include "evenrow/field.h"

struct er_section_place {
    double x, start, end; /* px; start and end down the page */
    bool branches;        /* it begins in another lane than the one it comes from */
    bool cut;             /* drawn shorter than to scale */
};

struct er_zone_place {
    double top;           /* px, the edge of the first bed */
    double height;        /* px */
    double channel;       /* px, x of its way between the mainline and its header */
    double first, second; /* m, longest row on each side; second 0: beds on one side only */
    double span;          /* m, from the edge of the first bed to that of the last */
};

struct er_plan_layout {
    const struct er_field *field;
    struct er_arena arena;
    double scale; /* px per m */
    double source_y, trunk_x, header_x;
    double left;          /* px, right of all ways down the page: where zones may begin */
    double channels_x;    /* px, the first of the zones' ways down the page */
    size_t channel_count; /* 1 or more */
    double bottom;        /* px, below the last zone and the mainline's end */
    bool any_second, any_cut, any_stretched;
    struct er_section_place *sections;
    struct er_zone_place *zones;
    size_t *order; /* the zones from the top down */
};

#define ER_PLAN_RIGHT 742.0   /* px, what is right of it belongs to the legend */
#define ER_PLAN_CORRIDOR 16.0 /* px between the beds of both sides: the header, and its lead */
#define ER_PLAN_STRIP 22.0    /* px below each zone, for slope arrows */

/* ER_OK or ER_NO_MEMORY. Release the arena in any case. */
enum er_status er_plan_layout_make(const struct er_field *field, struct er_plan_layout *layout);

/* Height (px) of a place on a zone's header, `at` m from its first bed. */
double er_plan_y(const struct er_plan_layout *layout, size_t zone, double at);

/* Height (px) of the mainline where a zone joins, and its lane. */
double er_plan_join_y(const struct er_plan_layout *layout, size_t zone);
double er_plan_join_x(const struct er_plan_layout *layout, size_t zone);

/* Whether no mainline, no way and no zone runs through a box beside the mainline. */
bool er_plan_is_blank(const struct er_plan_layout *layout, const struct er_box *box);

#endif
