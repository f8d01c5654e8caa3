#include <string.h>

#include "cli/commands.h"
#include "cli/files.h"
#include "cli/flags.h"
#include "cli/load.h"
#include "cli/message.h"
#include "report/card_report.h"

#define MOST_PEOPLE 1000

/* Makes the card of a checked field. 0, or an exit status after a message. */
static int make_report(const struct er_command_line *line, const struct er_result *result,
                       struct er_text *out)
{
    struct er_flags flags;
    er_flags_begin(&flags, line, result->speaks);
    size_t people = er_flag_count(&flags, ER_OPTION_HANDS, MOST_PEOPLE);
    int exit_status = er_flags_end(&flags);
    if (exit_status != 0) {
        return exit_status;
    }
    const char *format = er_option_value(line, ER_OPTION_CARD_FORMAT);
    struct er_card card = {0};
    struct er_failure failure = {0};
    enum er_status status = er_card_make(result, people, &card, &failure);
    exit_status = er_solving_status(er_file_label(line->operands[0]), status, &failure);
    if (exit_status != 0) {
        return exit_status;
    }
    if (format != NULL && strcmp(format, "html") == 0) {
        status = er_report_card_html(&card, result->speaks, out);
    } else {
        status = er_report_card_text(&card, result->speaks, out);
    }
    er_card_release(&card);
    return status == ER_OK ? 0 : er_message_no_memory();
}

int er_run_card(const struct er_command_line *line)
{
    struct er_field field = {0};
    struct er_result result = {0};
    struct er_text out;
    er_text_init(&out);
    int status = er_load_field(line, &field);
    if (status == 0) {
        const char *units = er_option_value(line, ER_OPTION_UNITS);
        status = er_check_field(er_file_label(line->operands[0]), &field,
                                er_units_named(units, field.system), &result);
    }
    if (status == 0) {
        status = make_report(line, &result, &out);
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
