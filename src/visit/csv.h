/* Readings as comma-separated values. */
#ifndef ER_VISIT_CSV_H
#define ER_VISIT_CSV_H

#include <stdbool.h>

#include "base/text.h"
#include "evenrow/problems.h"
#include "evenrow/status.h"

/* Whether a file of readings is a table: it does not begin as a JSON object does. */
bool er_readings_are_csv(const char *text);

/* Turns a table with a header row (RFC 4180, no line breaks in cells) into the JSON that
 * er_measured_read reads, each row on the line that it stands on. Columns, in any order: what,
 * value; bed, side, at where they are needed. Rows of the whole zone come first, then beds, then
 * emitters. A row without a value counts as not
 * read. `name`: of the file, for problems; `text` of `length` bytes ends with a NUL.
 * ER_OK; ER_BAD_INPUT, why in `problems`; ER_NO_MEMORY. */
enum er_status er_readings_from_csv(const char *name, const char *text, size_t length,
                                    struct er_text *json, struct er_problems *problems);

#endif
