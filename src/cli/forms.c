/* One place where --format is read. */
#include "cli/forms.h"

#include <string.h>

#include "cli/message.h"

enum er_told_as er_told_as_asked(const struct er_command_line *line)
{
    const char *format = er_option_value(line, ER_OPTION_FORMAT);
    if (format == NULL || strcmp(format, "text") == 0) {
        return ER_AS_TEXT;
    }
    return strcmp(format, "json") == 0 ? ER_AS_JSON : ER_AS_CSV;
}

int er_make_report(const struct er_command_line *line, const struct er_report *report,
                   const void *result, enum er_system system, struct er_text *out)
{
    const enum er_told_as form = er_told_as_asked(line);
    const bool explained = er_option_given(line, ER_OPTION_EXPLAIN);
    enum er_status status = explained ? er_report_explained(report, form, result, system, out)
                                      : er_report_as(report, form, result, system, out);
    if (status == ER_NOT_CLOSED) {
        return er_message(ER_EXIT_UNFINISHED, "what --explain shows could not be solved again");
    }
    return status == ER_OK ? 0 : er_message_no_memory();
}
