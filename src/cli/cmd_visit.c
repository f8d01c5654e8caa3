#include <stdlib.h>
#include <string.h>

#include "cli/commands.h"
#include "cli/files.h"
#include "cli/flags.h"
#include "cli/forms.h"
#include "cli/load.h"
#include "cli/message.h"
#include "evenrow/reading.h"
#include "evenrow/visit.h"
#include "report/visit_report.h"
#include "visit/csv.h"

/* What the command has in hand. */
struct work {
    const struct er_command_line *line;
    const char *label; /* the field file, for messages */
    struct er_field field;
    enum er_system system; /* of the report */
    double within;         /* fraction */
    struct er_measured measured;
    struct er_text report;
};

/* What is asked for must go together. 0, or an exit status after a message. */
static int check_command_line(const struct er_command_line *line)
{
    const char *format = er_option_value(line, ER_OPTION_FORMAT);
    bool form = er_option_given(line, ER_OPTION_FORM);
    if (form && line->operand_count > 1) {
        return er_message(ER_EXIT_BAD_INPUT, "--form takes the field alone: nothing has been "
                                             "measured yet");
    }
    if (form && format != NULL && strcmp(format, "text") != 0) {
        return er_message(ER_EXIT_BAD_INPUT, "--form is a page of text, not %s", format);
    }
    if (!form && line->operand_count < 2) {
        return er_message(ER_EXIT_BAD_INPUT, "visit needs a file of what was measured, behind the "
                                             "field; or --form, for a form to take there");
    }
    if (!form && er_option_given(line, ER_OPTION_ZONE)) {
        return er_message(ER_EXIT_BAD_INPUT, "--zone is for --form; the file of what was measured "
                                             "names its zone");
    }
    if (!form && strcmp(line->operands[0], "-") == 0 && strcmp(line->operands[1], "-") == 0) {
        return er_message(ER_EXIT_BAD_INPUT, "standard input can be read only once");
    }
    return 0;
}

static int read_within(struct work *work)
{
    struct er_flags flags;
    er_flags_begin(&flags, work->line, work->system);
    work->within = er_flag_number(&flags, ER_OPTION_WITHIN, "percent", 0.1, 50.0) / 100.0;
    return er_flags_end(&flags);
}

static int tell_reading(enum er_status status, const struct er_problems *problems)
{
    if (status == ER_OK) {
        return 0;
    }
    return status == ER_BAD_INPUT ? er_message_problems(problems) : er_message_no_memory();
}

/* Reads the measurements from a JSON text. */
static enum er_status read_json(struct work *work, const char *label, const struct er_text *text,
                                struct er_problems *problems)
{
    struct er_document *document = NULL;
    enum er_status status =
        er_document_open(label, er_text_string(text), text->length, &document, problems);
    if (status == ER_OK) {
        status = er_measured_read(document, &work->field, &work->measured, problems);
    }
    er_document_release(document);
    return status;
}

/* The same from a table. Problems are told by the row alone: the columns would be the JSON's. */
static enum er_status read_csv(struct work *work, const char *label, const struct er_text *text,
                               struct er_problems *problems)
{
    struct er_text json;
    er_text_init(&json);
    enum er_status status =
        er_readings_from_csv(label, er_text_string(text), text->length, &json, problems);
    if (status == ER_OK) {
        status = read_json(work, label, &json, problems);
    }
    for (size_t i = 0; i < problems->count && i < ER_PROBLEMS_KEPT; i++) {
        problems->kept[i].column = 1;
    }
    er_text_release(&json);
    return status;
}

static int read_measured(struct work *work)
{
    const char *path = work->line->operands[1];
    struct er_text text;
    struct er_problems problems;
    er_text_init(&text);
    er_problems_init(&problems);
    int exit_status = er_read_file(path, &text);
    if (exit_status == 0) {
        bool csv = er_readings_are_csv(er_text_string(&text));
        enum er_status status =
            (csv ? read_csv : read_json)(work, er_file_label(path), &text, &problems);
        exit_status = tell_reading(status, &problems);
    }
    er_problems_release(&problems);
    er_text_release(&text);
    return exit_status;
}

/* The exit status for a solution that did not come about. */
static int tell_unsolved(const struct work *work, enum er_status status)
{
    if (status == ER_NOT_CLOSED) {
        return er_message(ER_EXIT_UNFINISHED,
                          "%s: the plan could not be solved; 'evenrow check' says where",
                          work->label);
    }
    return er_message_no_memory();
}

static int run_visit(struct work *work)
{
    struct er_visit visit = {.hypothesis_count = 0};
    struct er_result checked = {0};
    bool as_planned = false;
    int exit_status = read_measured(work);
    if (exit_status == 0) {
        enum er_status status = er_visit_make(&work->field, &work->measured, &visit);
        exit_status = status == ER_OK ? 0 : tell_unsolved(work, status);
    }
    if (exit_status == 0) {
        exit_status = er_check_field(work->label, &work->field, work->system, &checked);
    }
    if (exit_status == 0) {
        as_planned = checked.verdict != ER_FAILS && visit.plan_is_right && visit.explained &&
                     !er_visit_uneven(&visit) && !visit.danger.found;
        const struct er_visit_told told = {&visit, &checked, work->within};
        exit_status =
            er_make_report(work->line, &er_visit_report, &told, work->system, &work->report);
    }
    er_result_release(&checked);
    er_visit_release(&visit);
    if (exit_status == 0) {
        exit_status = er_write_output(work->line, &work->report);
    }
    return er_plan_status(work->line, exit_status, as_planned ? ER_HOLDS : ER_FAILS);
}

/* Makes the forms of the zones that are wanted (all for NULL) into `forms`, which has room for all
 * zones. 0, or an exit status after a message. */
static int make_forms(const struct work *work, const char *wanted, struct er_form *forms,
                      size_t *count)
{
    for (size_t z = 0; z < work->field.zone_count; z++) {
        if (wanted == NULL || strcmp(work->field.zones[z].name, wanted) == 0) {
            enum er_status status = er_form_make(&work->field, z, &forms[(*count)++]);
            if (status != ER_OK) {
                return tell_unsolved(work, status);
            }
        }
    }
    return *count > 0
               ? 0
               : er_message(ER_EXIT_BAD_INPUT, "%s has no zone called '%s'", work->label, wanted);
}

static int run_form(struct work *work)
{
    struct er_form *forms = calloc(work->field.zone_count, sizeof *forms);
    if (forms == NULL) {
        return er_message_no_memory();
    }
    struct er_forms told = {&work->field, forms, 0};
    int exit_status =
        make_forms(work, er_option_value(work->line, ER_OPTION_ZONE), forms, &told.count);
    if (exit_status == 0) {
        exit_status =
            er_make_report(work->line, &er_forms_report, &told, work->system, &work->report);
    }
    for (size_t f = 0; f < told.count; f++) {
        er_form_release(&forms[f]);
    }
    free(forms);
    return exit_status == 0 ? er_write_output(work->line, &work->report) : exit_status;
}

int er_run_farm_visit(const struct er_command_line *line)
{
    struct work work = {.line = line, .label = er_file_label(line->operands[0])};
    er_text_init(&work.report);
    int status = check_command_line(line);
    if (status == 0) {
        status = er_load_field(line, &work.field);
    }
    if (status == 0) {
        work.system = er_units_named(er_option_value(line, ER_OPTION_UNITS), work.field.system);
        status = read_within(&work);
    }
    if (status == 0) {
        bool form = er_option_given(line, ER_OPTION_FORM);
        status = form ? run_form(&work) : run_visit(&work);
    }
    er_text_release(&work.report);
    er_measured_release(&work.measured);
    er_field_release(&work.field);
    return status;
}
