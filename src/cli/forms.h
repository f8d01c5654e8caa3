/* In which form a command tells its result. */
#ifndef ER_CLI_FORMS_H
#define ER_CLI_FORMS_H

#include "cli/options.h"
#include "say/report.h"

/* What --format asks for. */
enum er_told_as er_told_as_asked(const struct er_command_line *line);

/* Appends the result in that form to `out`. 0, or an exit status after a message. */
int er_make_report(const struct er_command_line *line, const struct er_report *report,
                   const void *result, enum er_system system, struct er_text *out);

#endif
