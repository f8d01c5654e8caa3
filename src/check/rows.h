/* What each row of a field gets, along its length: for pictures.
 *
 * Every set is solved as er_check solves it; every emitter is visited. */
#ifndef ER_CHECK_ROWS_H
#define ER_CHECK_ROWS_H

#include "evenrow/check.h"

#define ER_ROW_PARTS 16        /* into which a row's length is parted at most */
#define ER_PROFILE_POINTS 1000 /* more emitters than that are told every second, third, ... */

/* One tape of a bed, on one side of the header. */
struct er_row {
    const struct er_bed_group *group;
    size_t bed; /* position along the header, from 0 */
    bool second_side;
    double at;     /* m along the header from the first bed */
    double length; /* m */
    size_t emitters;
    double inlet_pressure;       /* m */
    struct er_range pressure;    /* m, of its emitters */
    size_t part_count;           /* 1 or more */
    double parts[ER_ROW_PARTS];  /* for each part of its length the mean of r over the zone's mean
                                    r, r an emitter's flow over its tape's nominal; NAN: the zone
                                    gets no water */
    double driest[ER_ROW_PARTS]; /* the least of the same; 0: an emitter gets nothing */
};

/* The pressure along one row, the inlet first. */
struct er_row_profile {
    const struct er_row *row;
    size_t count;
    struct er_point *points; /* m from the header, m of pressure */
};

struct er_zone_rows {
    size_t row_count;
    struct er_row *rows;                   /* bed by bed, the first side first */
    struct er_row_profile lowest, highest; /* the rows with the lowest and the highest emitter */
};

struct er_rows {
    struct er_arena arena;
    const struct er_field *field; /* must outlive the rows */
    struct er_zone_rows *zones;   /* one for each of the field's zones, in its order */
};

/* ER_OK; ER_NO_MEMORY; ER_NOT_CLOSED with *failure filled. The caller releases *rows. */
enum er_status er_rows_measure(const struct er_field *field, struct er_rows *rows,
                               struct er_failure *failure);

void er_rows_release(struct er_rows *rows);

#endif
