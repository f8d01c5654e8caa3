/* The check of a plan. */
#include <string.h>

#include "cli/commands.h"
#include "cli/explain.h"
#include "cli/files.h"
#include "cli/forms.h"
#include "cli/load.h"
#include "cli/message.h"
#include "cli/plot.h"
#include "report/report.h"

/* --quiet is a line of text, and no table or object. */
static int quiet_and_format(const struct er_command_line *line)
{
    const char *format = er_option_value(line, ER_OPTION_FORMAT);
    if (er_option_given(line, ER_OPTION_QUIET) && format != NULL && strcmp(format, "text") != 0) {
        return er_message(ER_EXIT_BAD_INPUT, "--quiet is one line of text, not %s", format);
    }
    return 0;
}

int er_run_check(const struct er_command_line *line)
{
    struct er_field field = {0};
    struct er_result result = {0};
    struct er_text out;
    er_text_init(&out);

    int status = quiet_and_format(line);
    if (status == 0) {
        status = er_plot_format(line);
    }
    if (status == 0) {
        status = er_explain_format(line);
    }
    if (status == 0) {
        status = er_load_field(line, &field);
    }
    if (status == 0) {
        const char *units = er_option_value(line, ER_OPTION_UNITS);
        status = er_check_field(er_file_label(line->operands[0]), &field,
                                er_units_named(units, field.system), &result);
    }
    if (status == 0) {
        const struct er_report *report =
            er_option_given(line, ER_OPTION_QUIET) ? &er_verdict_report : &er_check_report;
        status = er_make_report(line, report, &result, result.speaks, &out);
    }
    if (status == 0) {
        status = er_plot_append(line, &result, &out);
    }
    if (status == 0) {
        status = er_write_output(line, &out);
    }
    status = er_plan_status(line, status, result.verdict);
    er_text_release(&out);
    er_result_release(&result);
    er_field_release(&field);
    return status;
}
