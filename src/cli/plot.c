#include "cli/plot.h"

#include <string.h>

#include "cli/files.h"
#include "cli/load.h"
#include "cli/message.h"
#include "draw/draw.h"

int er_plot_format(const struct er_command_line *line)
{
    const char *format = er_option_value(line, ER_OPTION_FORMAT);
    if (!er_option_given(line, ER_OPTION_PLOT)) {
        return 0;
    }
    if (er_option_given(line, ER_OPTION_QUIET)) {
        return er_message(ER_EXIT_BAD_INPUT, "--plot goes with the whole report, not with --quiet");
    }
    if (format != NULL && strcmp(format, "text") != 0) {
        return er_message(ER_EXIT_BAD_INPUT,
                          "--plot is plain characters in the text report, not %s", format);
    }
    return 0;
}

int er_plot_append(const struct er_command_line *line, const struct er_result *result,
                   struct er_text *out)
{
    struct er_rows rows = {0};
    struct er_failure failure;
    if (!er_option_given(line, ER_OPTION_PLOT)) {
        return 0;
    }
    int status = er_solving_status(er_file_label(line->operands[0]),
                                   er_rows_measure(result->field, &rows, &failure), &failure);
    if (status == 0) {
        struct er_page page;
        er_page_init(&page, result->speaks);
        er_plot_worst_row(&rows, &page);
        er_text_append(out, "\n");
        status = er_page_as_text(&page, out) == ER_OK ? 0 : er_message_no_memory();
        er_page_release(&page);
    }
    er_rows_release(&rows);
    return status;
}
