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
    enum er_status status = er_report_as(report, er_told_as_asked(line), result, system, out);
    return status == ER_OK ? 0 : er_message_no_memory();
}
