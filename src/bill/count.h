/* What a field's plan takes, counted once for all who ask: for the cost of a design, and for the
 * list of what to buy. */
#ifndef ER_BILL_COUNT_H
#define ER_BILL_COUNT_H

#include "evenrow/bill.h"

enum er_stretch { ER_STRETCH_MAINLINE, ER_STRETCH_LEAD, ER_STRETCH_HEADER };

/* What is done with each. NULL: nothing. */
struct er_counter {
    void (*pipe)(void *context, const struct er_pipe *pipe, double length,
                 enum er_stretch stretch); /* m of one pipe without a break */
    /* The rows of a group of beds on one side of the header; `count` of them. */
    void (*rows)(void *context, const struct er_bed_group *group, bool second_side, double count);
    void (*goods)(void *context, enum er_good good, double count);
    void *context;
};

/* Counts the pipes of mainline, headers and leads, the rows of tape, and the goods that go with
 * rows and zones: a fitting and an end for each row, a valve for each zone, a regulator where the
 * file has one. A header counts as far as the beds reach. */
void er_count_field(const struct er_field *field, const struct er_counter *counter);

/* m of all the rows of a group on one side. */
double er_rows_length(const struct er_bed_group *group, bool second_side);

#endif
