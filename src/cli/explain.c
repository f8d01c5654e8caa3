#include "cli/explain.h"

#include <string.h>

#include "cli/message.h"

bool er_explain_asked(const struct er_command_line *line)
{
    return er_option_given(line, ER_OPTION_EXPLAIN);
}

int er_explain_format(const struct er_command_line *line)
{
    const char *format = er_option_value(line, ER_OPTION_FORMAT);
    if (er_explain_asked(line) && format != NULL && strcmp(format, "text") != 0) {
        return er_message(ER_EXIT_BAD_INPUT, "--explain is text, not %s", format);
    }
    return 0;
}
