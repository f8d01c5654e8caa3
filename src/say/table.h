/* Tables of text on a page of ER_PAGE columns.
 *
 * Numbers stand to the right with the same decimals all down a column; words stand to
 * the left and wrap within their column where the page is too narrow. As with er_text,
 * the calls return nothing: a table that ran out of memory says so through the text it
 * is written to. */
#ifndef ER_SAY_TABLE_H
#define ER_SAY_TABLE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"
#include "evenrow/arena.h"
#include "evenrow/units.h"

enum er_column_kind {
    ER_COLUMN_WORDS,  /* text, to the left, wrapped where it must be */
    ER_COLUMN_RIGHT,  /* text, to the right, never wrapped: times, figures with a unit */
    ER_COLUMN_WHOLE,  /* whole numbers */
    ER_COLUMN_TENTHS, /* one decimal, always: percents */
    ER_COLUMN_NUMBER, /* three or four figures, as the column's largest number asks */
    ER_COLUMN_PLAIN,  /* figures out of a list: the decimals that they were given with, if
                         those are few */
    ER_COLUMN_ALIKE   /* as ER_COLUMN_NUMBER, with the decimals of the number column to its left */
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
    struct er_arena arena;
    enum er_system system;
    size_t column_count, row_count;
    const struct er_column *columns; /* must outlive the table */
    struct er_cell *cells;           /* NULL: memory ran out */
    bool out_of_memory;
};

/* An empty table of `row_count` rows; cells that are never set are shown as "-". */
void er_table_init(struct er_table *table, enum er_system system, const struct er_column *columns,
                   size_t column_count, size_t row_count);
void er_table_release(struct er_table *table);

/* Sets one cell. A text is copied, and its control characters shown as visible escapes. */
void er_table_text(struct er_table *table, size_t row, size_t column, const char *text);
void er_table_number(struct er_table *table, size_t row, size_t column, double number);

/* Turns the numbers into texts, each column with its decimals. False: memory ran out. */
bool er_table_write_numbers(struct er_table *table);

/* Appends the table: the head, a rule, the rows. Nothing if there are no rows. */
void er_table_write(struct er_table *table, struct er_text *out);

/* Decimals that show a number of this size with three or four figures: 0 to 4. */
int er_decimals(double size);

/* Appends `number` with the decimals that its size asks for, and none that are only zeros;
 * "-" for NAN. */
void er_append_number(struct er_text *out, double number);

#endif
