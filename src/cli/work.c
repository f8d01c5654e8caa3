/* From the command line to the report, in the steps that commands share. */
#include "cli/work.h"

#include <stdlib.h>
#include <string.h>

#include "cli/files.h"
#include "cli/load.h"
#include "cli/message.h"

static enum er_told_as form_asked(const struct er_command_line *line)
{
    static const char *const names[] = {
        [ER_AS_HTML] = "html", [ER_AS_JSON] = "json", [ER_AS_CSV] = "csv"};
    const char *format = er_option_value(line, ER_OPTION_FORMAT);
    for (unsigned form = ER_AS_HTML; format != NULL && form <= ER_AS_CSV; form++) {
        if (strcmp(names[form], format) == 0) {
            return (enum er_told_as)form;
        }
    }
    return ER_AS_TEXT;
}

/* Some options are for people: they do nothing in a table or an object. */
static int look_at_options(const struct er_work *work)
{
    const struct er_command_line *line = work->line;
    if (work->form == ER_AS_TEXT || work->form == ER_AS_HTML) {
        return 0;
    }
    for (size_t i = 0; i < line->use_count; i++) {
        const struct er_option *option = line->uses[i].option;
        if (option->only != NULL) {
            return er_message(ER_EXIT_BAD_INPUT, "--%s is %s, not %s", option->name, option->only,
                              er_option_value(line, ER_OPTION_FORMAT));
        }
    }
    return 0;
}

int er_work_begin(struct er_work *work, const struct er_command_line *line)
{
    const char *units = er_option_value(line, ER_OPTION_UNITS);
    *work = (struct er_work){
        .line = line, .form = form_asked(line), .system = er_units_named(units, ER_US)};
    work->label = line->operand_count > 0 ? er_file_label(line->operands[0]) : NULL;
    er_text_init(&work->report);
    return look_at_options(work);
}

void er_work_release(struct er_work *work)
{
    er_text_release(&work->report);
    er_result_release(&work->result);
    er_field_release(&work->field);
    er_document_release(work->document);
}

int er_work_load(struct er_work *work)
{
    int status = er_load_document(work->line, &work->document, &work->field);
    if (status == 0) {
        work->system =
            er_units_named(er_option_value(work->line, ER_OPTION_UNITS), work->field.system);
    }
    return status;
}

int er_work_check(struct er_work *work)
{
    int status = er_work_load(work);
    return status != 0 ? status
                       : er_check_field(work->label, &work->field, work->system, &work->result);
}

int er_work_report(struct er_work *work, const struct er_report *report, const void *result)
{
    const bool explained = er_option_given(work->line, ER_OPTION_EXPLAIN);
    enum er_status status = (explained ? er_report_explained : er_report_as)(
        report, work->form, result, work->system, &work->report);
    if (status == ER_NOT_CLOSED) {
        return er_message(ER_EXIT_UNFINISHED, "what --explain shows could not be solved again");
    }
    return status == ER_OK ? 0 : er_message_no_memory();
}

int er_work_tell(struct er_work *work, const struct er_report *report, const void *result)
{
    int status = er_work_report(work, report, result);
    return status != 0 ? status : er_write_output(work->line, &work->report);
}

int er_work_new_field(struct er_work *work, const struct er_field *field, unsigned parts,
                      const size_t *origins, struct er_text *out)
{
    char *text = NULL;
    enum er_status status =
        parts != 0 ? er_document_put(work->document, field, parts, origins) : ER_OK;
    if (status == ER_OK) {
        status = er_document_write(work->document, &text);
    }
    if (status == ER_OK) {
        er_text_append(out, text);
        status = out->out_of_memory ? ER_NO_MEMORY : ER_OK;
    }
    free(text);
    return status == ER_OK ? 0 : er_message_no_memory();
}

int er_work_write(const struct er_work *work, const struct er_text *new_field)
{
    const char *path = er_option_value(work->line, ER_OPTION_OUTPUT);
    const bool field_alone = path != NULL && strcmp(path, "-") == 0;
    if (field_alone) {
        return new_field != NULL ? er_print(new_field) : 0;
    }
    int status = path != NULL && new_field != NULL ? er_write_output(work->line, new_field) : 0;
    return status == 0 ? er_print(&work->report) : status;
}
