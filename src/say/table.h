/* Tables of text on a page of ER_PAGE columns.
 *
 * Numbers stand to the right, their decimal points below one another; words stand to the left and
 * wrap within their column where the page is too narrow. */
#ifndef ER_SAY_TABLE_H
#define ER_SAY_TABLE_H

#include <stddef.h>

#include "say/pen.h"

enum er_column_kind {
    ER_COLUMN_WORDS,  /* text, to the left, wrapped where it must be */
    ER_COLUMN_RIGHT,  /* text, to the right, never wrapped: times, figures with a unit */
    ER_COLUMN_WHOLE,  /* whole numbers */
    ER_COLUMN_NUMBER, /* numbers by the rule for all (base/figure.h) */
    ER_COLUMN_GIVEN   /* figures out of a list, as they were given */
};

#define ER_NO_UNIT ER_QUANTITY_COUNT

struct er_column {
    const char *head; /* lines parted by '\n' */
    enum er_column_kind kind;
    enum er_quantity quantity; /* its unit ends the head, and numbers are given in SI;
                                  ER_NO_UNIT: neither */
};

struct er_cell {
    const char *text; /* NULL: a number, until the table is written */
    double number;    /* NAN: shown as "-" */
};

struct er_table {
    struct er_pen *pen; /* of its texts, which outlives it */
    size_t column_count, row_count;
    const struct er_column *columns; /* must outlive the table */
    struct er_cell *cells;
};

/* A table of `row_count` rows, which lives as long as the pen, to be filled cell by cell; cells
 * that are never set are shown as "-". Where memory ran out, which the pen knows, it has no rows,
 * and what is put into it is lost. */
struct er_table *er_pen_table(struct er_pen *pen, const struct er_column *columns,
                              size_t column_count, size_t row_count);

/* Sets one cell. A text is copied, and its control characters shown as visible escapes. */
void er_table_text(struct er_table *table, size_t row, size_t column, const char *text);
void er_table_number(struct er_table *table, size_t row, size_t column, double number);

/* Turns the numbers into texts. */
void er_table_write_numbers(const struct er_table *table);

/* Appends the table: the head, a rule, the rows. Nothing if there are no rows. */
void er_table_write(const struct er_table *table, struct er_text *out);

#endif
