/* What has to be bought for a plan: one table of lines, each with its count and the figures that
 * the count rests on, and which beds each roll of tape serves.
 *
 * It is made of a checked field (check.h): what passes valves, regulators and filters is the
 * solved flow. All numbers are SI (units.h); what does not exist is NAN. */
#ifndef EVENROW_MATERIALS_H
#define EVENROW_MATERIALS_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/check.h"
#include "evenrow/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* In the order in which lines are listed. */
enum er_material_group {
    ER_MATERIAL_TAPE,
    ER_MATERIAL_PIPE,
    ER_MATERIAL_ZONES,     /* valves, regulators, vents */
    ER_MATERIAL_HEADWORKS, /* what stands between source and mainline, and gauges */
    ER_MATERIAL_FILM,
    ER_MATERIAL_GROUP_COUNT
};

/* Why so many; with each, what the figures of struct er_reason are. */
enum er_reason_kind {
    ER_REASON_ROWS,            /* count rows of tape, from first to last m long */
    ER_REASON_EACH_ROW,        /* one for each of count rows */
    ER_REASON_TAPE_JOINTS,     /* count rows are made of two rolls */
    ER_REASON_MAINLINE,        /* first m of mainline */
    ER_REASON_LEADS,           /* first m from the joins to the headers */
    ER_REASON_HEADERS,         /* first m of header */
    ER_REASON_BORE,            /* first: inside diameter, m */
    ER_REASON_RATING,          /* first: highest pressure, m of head */
    ER_REASON_PIPE_JOINTS,     /* count joints between lengths */
    ER_REASON_PIPE_CHANGES,    /* count places where a line goes on in another pipe */
    ER_REASON_BRANCHES,        /* count places where the mainline parts */
    ER_REASON_HEADER_FEEDS,    /* count headers that are fed between their ends */
    ER_REASON_HEADER_ENDS,     /* count */
    ER_REASON_MAINLINE_ENDS,   /* count */
    ER_REASON_ZONES,           /* one for each of count zones */
    ER_REASON_HOLDS,           /* first: pressure, m of head */
    ER_REASON_PASSES,          /* from first to last m3/s at work */
    ER_REASON_RANGE,           /* made for first to last m3/s; NAN where an end is not told */
    ER_REASON_MESH,            /* a mesh for tape */
    ER_REASON_IN_FILE,         /* a part that the file names */
    ER_REASON_NOT_IN_FILE,     /* a part that the file does not name */
    ER_REASON_GAUGE_SOURCE,    /* one at the source's outlet */
    ER_REASON_GAUGE_FILTER,    /* count about the filter */
    ER_REASON_GAUGE_HAND,      /* one to carry to the test points */
    ER_REASON_TEST_BEDS,       /* count: first and last bed of each zone */
    ER_REASON_BEHIND_VALVES,   /* count */
    ER_REASON_HIGH_HEADERS,    /* count headers that rise above their valve */
    ER_REASON_HIGH_MAINLINE,   /* count high points of the mainline */
    ER_REASON_KEEPS_PUMP_FULL, /* a check valve behind a pump */
    ER_REASON_DRINKING_WATER,  /* a supply that others may drink from */
    ER_REASON_INJECTION,       /* what is injected must not run back */
    ER_REASON_BEDS,            /* count beds, from first to last m long */
    ER_REASON_FILM_WIDTH,      /* first: width in m that the bed asks for */
    ER_REASON_KIND_COUNT
};

struct er_reason {
    enum er_reason_kind kind;
    double count, first, last;
};

/* One line. What goes by length is bought in whole rolls, coils or lengths of pipe. */
struct er_material {
    enum er_material_group group;
    const char *key;   /* where its price stands in the file's "prices"; NULL: no place */
    const char *about; /* what it is: "pipe coupling"; not a name */
    const char *name;  /* what the file or the catalogue calls it, or NULL */
    const char *unit;  /* what is counted: "roll", "length", "piece" */
    bool by_length;
    double takes;          /* what the plan takes: m, or pieces */
    double with_waste;     /* the same with the waste share, which pieces have not */
    double unit_length;    /* m of one unit; NAN for pieces */
    bool unit_placeholder; /* the built-in list's */
    double count;          /* whole units to buy */
    /* Where one roll has more than twice of what is taken: the shortest roll that the built-in list
     * has, m; how many of it would do; and the money for one. Else NAN. */
    double short_length, short_count, short_price;
    double price; /* money for one unit; NAN: costs are not asked for, or nothing known */
    bool price_placeholder;
    double cost;
    size_t reason_count;
    struct er_reason *reasons;
};

#define ER_MOST_PIECES 100000

/* A piece that is cut from a roll. */
struct er_roll_piece {
    size_t run;    /* place among what is cut */
    size_t roll;   /* from 0 */
    double length; /* m */
    bool joined;   /* goes on from another roll's piece: a joint */
    bool whole;    /* all of the run */
};

struct er_roll_plan {
    double rolls, joints; /* whole numbers */
    size_t piece_count;
    const struct er_roll_piece *pieces; /* by roll; NULL: far too many to tell */
};

/* One row of tape. */
struct er_tape_row {
    size_t zone;   /* place in the field's zones */
    size_t bed;    /* position along the header, from 0 */
    size_t place;  /* of the row on the bed, from 0: the first side's tapes, then the second's */
    size_t places; /* rows on the bed */
};

/* Which rows of one kind of tape come from which roll. A row is cut with its waste share. */
struct er_tape_plan {
    const struct er_tape *tape;
    size_t row_count;
    const struct er_tape_row *rows; /* NULL where plan.pieces is */
    double roll_length;             /* m */
    struct er_roll_plan plan;
};

/* The width of film that the beds ask for: across the top, down both shoulders, and buried. */
struct er_film_need {
    bool wanted;                                      /* the beds are under plastic film */
    double bed_top;                                   /* m, of the widest bed */
    double bed_height;                                /* m */
    double buried;                                    /* m along each edge */
    bool top_assumed, height_assumed, buried_assumed; /* the mulch does not say */
    double width;                                     /* m */
    double given_width;     /* m, of the film that the file tells of, or NAN */
    double given_buried;    /* m of that left for each edge; below zero: it is not wide enough to
                               reach the ground */
    double given_thickness; /* m, or NAN */
};

struct er_materials_request {
    double waste; /* share of every length that is bought besides, such as 0.05 */
    /* The built-in list (catalogue.h), for what one roll or length of pipe is like where the file
     * does not say. It must outlive the materials. */
    const struct er_prices *list;
};

struct er_materials {
    struct er_arena arena;
    const struct er_result *result; /* must outlive the materials */
    struct er_materials_request request;
    bool priced; /* costs are asked for: the field has prices */
    size_t line_count;
    const struct er_material *lines;
    size_t tape_count;
    const struct er_tape_plan *tapes;
    struct er_film_need film;
    double cost;             /* of all lines that have a price; NAN where costs are not asked for */
    size_t unpriced;         /* lines without */
    bool price_placeholders; /* some price is the built-in list's */
    bool unit_placeholders;  /* some roll's or pipe's length is */
    double area;             /* m2 of field, bed spacing and all */
    double bed_length;       /* m of bed, a bed on both sides of its header counting as two */
};

/* Counts what has to be bought for the field of `result`. Costs are put in where the field has
 * prices, as bill.h finds them. ER_OK or ER_NO_MEMORY. The caller releases *materials. */
enum er_status er_materials_count(const struct er_result *result,
                                  const struct er_materials_request *request,
                                  struct er_materials *materials);

void er_materials_release(struct er_materials *materials);

#ifdef __cplusplus
}
#endif

#endif
