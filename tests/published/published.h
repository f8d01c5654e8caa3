/* Check values from outside the project, read from data files and held against the library.
 *
 * A data file is one JSON object: "about", its heading in the report (trust/trust.h); "groups";
 * and "left_out" for what the source prints but no test may use, with the reason. A group is
 *     "group"      its name
 *     "kind"       "printed": read in the source that is named; "printed (copy)": read in a copy, a
 *                  transcription or a quotation of it; "print, unnamed": read in print whose author
 *                  was not noted; "recalculated": worked by a formula that the source prints; "from
 *                  memory": known to the trade, not looked up again; "computed": worked out apart
 *                  from this project; "common practice": a rule of thumb that has no source
 *     "source"     author or agency, title, number, year, table
 *     "unit"       of the expected figures
 *     "tolerance"  {"relative": share of the expected figure} or {"absolute": in the unit}
 *     "why"        the reason for that tolerance
 *     "columns"    names of a row's cells; "expected" lists those that hold expected figures,
 *                  the others are inputs
 *     "rows"       the cells, in the columns' order. */
#ifndef EVENROW_TESTS_PUBLISHED_H
#define EVENROW_TESTS_PUBLISHED_H

#include <stddef.h>

#include "evenrow/check.h"
#include "evenrow/field.h"

struct published_row; /* one row of a data file */

/* A cell by its column's name; the test fails if there is none of that type. */
double row_number(const struct published_row *row, const char *column);
const char *row_text(const struct published_row *row, const char *column);

/* What the library says for the row's inputs, in the group's unit. `figure` is the column of
 * the expected figure. */
typedef double published_compute(const struct published_row *row, const char *figure);

struct published_group {
    const char *name;
    size_t checks; /* rows x expected columns; an emptied data file must not pass */
    published_compute *compute;
};

/* Runs one test for each group of `file` in tests/published/. Each prints the largest deviation
 * of its figures, and names every figure that is out of tolerance or no number. Also fails for
 * a group of the file that `groups` does not have. Returns main's exit status. */
int published_main(const char *file, const struct published_group *groups, size_t count);

/* A field file's text and what the program makes of it. */
struct plan {
    struct er_field field;
    struct er_result result;
};

/* Reads a field made as printf makes it. The test fails if it does not read. */
void plan_read(struct plan *plan, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 2, 3)))
#endif
    ;

/* Solves it and returns its first zone's figures. The test fails if it does not close. */
const struct er_zone_result *plan_solve(struct plan *plan);

void plan_release(struct plan *plan);

#endif
