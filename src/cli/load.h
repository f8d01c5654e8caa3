/* The field that a command works on. */
#ifndef ER_CLI_LOAD_H
#define ER_CLI_LOAD_H

#include "base/text.h"
#include "cli/options.h"
#include "evenrow/check.h"
#include "evenrow/reading.h"

/* Reads the field file that the first operand names, changes it as --set and --patch say, in the
 * order given, and fills *field. The document stays, changed, for a new field file to be made of
 * it. The caller releases both, whatever comes back. 0, or an exit status after messages. */
int er_load_document(const struct er_command_line *line, struct er_document **document,
                     struct er_field *field);

/* Appends a line for each key of the field that does nothing; `label` is its name for messages. */
void er_append_notices(struct er_text *lines, const char *label, const struct er_field *field);

/* The exit status for what a reading ended with, after its messages; 0 for ER_OK. */
int er_reading_status(enum er_status status, const struct er_problems *problems);

/* The exit status for what a solving ended with, after its message; 0 for ER_OK. */
int er_solving_status(const char *label, enum er_status status, const struct er_failure *failure);

/* Checks a field; `label` is its name for messages. The caller releases *result.
 * 0, or an exit status after a message. */
int er_check_field(const char *label, const struct er_field *field, enum er_system speaks,
                   struct er_result *result);

/* The exit status of a command that has `status` so far and reports on a plan: 1 for a plan that
 * fails, with --strict for one with a caution too. */
int er_plan_status(const struct er_command_line *line, int status, enum er_verdict verdict);

/* The system that a value of --units names; `otherwise` for NULL. */
enum er_system er_units_named(const char *units, enum er_system otherwise);

#endif
