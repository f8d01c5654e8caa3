/* What a command has in hand while it works, and the steps that commands share. */
#ifndef ER_CLI_WORK_H
#define ER_CLI_WORK_H

#include "base/text.h"
#include "cli/options.h"
#include "evenrow/check.h"
#include "evenrow/writing.h"
#include "say/report.h"

struct er_work {
    const struct er_command_line *line;
    const char *label; /* the first operand, for messages: the field file; NULL: there is none */
    enum er_told_as form;
    enum er_system system;        /* of the report: --units, else the field's */
    struct er_document *document; /* of the field file, as --set and --patch changed it */
    struct er_field field;
    struct er_result result; /* of checking it */
    struct er_text report;
};

/* Each returns 0, or an exit status after messages. */

/* Begins with a command line. The caller releases *work in any case. */
int er_work_begin(struct er_work *work, const struct er_command_line *line);
void er_work_release(struct er_work *work);

/* Reads the field file, changed; and the same, checking it. */
int er_work_load(struct er_work *work);
int er_work_check(struct er_work *work);

/* Makes the report of a result, as --format and --explain ask for it; and the same, writing it
 * where -o says. */
int er_work_report(struct er_work *work, const struct er_report *report, const void *result);
int er_work_tell(struct er_work *work, const struct er_report *report, const void *result);

/* Appends the new field file: the document with `parts` of `field` put into it (er_document_put).
 */
int er_work_new_field(struct er_work *work, const struct er_field *field, unsigned parts,
                      const size_t *origins, struct er_text *out);

/* Writes the new field file where -o says, and the report to standard output; with -o - the file
 * alone. Where there is none (NULL) the report is all, and with -o - nothing. */
int er_work_write(const struct er_work *work, const struct er_text *new_field);

#endif
