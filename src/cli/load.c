/* Reading the field that a command works on, and solving it. */
#include "cli/load.h"

#include <string.h>

#include "cli/files.h"
#include "cli/message.h"
#include "evenrow/reading.h"

enum er_system er_units_named(const char *units, enum er_system otherwise)
{
    if (units == NULL) {
        return otherwise;
    }
    return strcmp(units, "us") == 0 ? ER_US : ER_METRIC;
}

/* Standard input can be read but once. */
static int input_read_twice(const struct er_command_line *line)
{
    size_t readers = strcmp(line->operands[0], "-") == 0;
    for (size_t i = 0; i < line->use_count; i++) {
        readers +=
            line->uses[i].option->id == ER_OPTION_PATCH && strcmp(line->uses[i].value, "-") == 0;
    }
    return readers > 1 ? er_message(ER_EXIT_BAD_INPUT, "standard input can be read only once") : 0;
}

/* Merges the patch in a file. 0, or an exit status; problems are only kept. */
static int apply_patch(struct er_document *document, const char *path, struct er_problems *problems,
                       enum er_status *status)
{
    struct er_text text;
    er_text_init(&text);
    int exit_status = er_read_file(path, &text);
    if (exit_status == 0) {
        *status = er_document_patch(document, er_file_label(path), er_text_string(&text),
                                    text.length, problems);
    }
    er_text_release(&text);
    return exit_status;
}

/* Makes every change asked for, going on after a bad one so that all are told. */
static int apply_changes(const struct er_command_line *line, struct er_document *document,
                         struct er_problems *problems, enum er_status *status)
{
    int exit_status = 0;
    for (size_t i = 0; exit_status == 0 && i < line->use_count; i++) {
        const struct er_option_use *use = &line->uses[i];
        enum er_status one = ER_OK;
        if (use->option->id == ER_OPTION_SET) {
            one = er_document_set(document, use->value, problems);
        } else if (use->option->id == ER_OPTION_PATCH) {
            exit_status = apply_patch(document, use->value, problems, &one);
        }
        if (*status != ER_NO_MEMORY && one != ER_OK) {
            *status = one;
        }
    }
    return exit_status;
}

int er_reading_status(enum er_status status, const struct er_problems *problems)
{
    if (status == ER_OK) {
        return 0;
    }
    return status == ER_BAD_INPUT ? er_message_problems(problems) : er_message_no_memory();
}

void er_append_notices(struct er_text *lines, const char *label, const struct er_field *field)
{
    for (size_t i = 0; i < field->notice_count; i++) {
        er_message_append(lines, "%s: %s", label, field->notices[i]);
    }
}

static int tell_notices(const struct er_command_line *line, const struct er_field *field)
{
    struct er_text lines;
    er_text_init(&lines);
    er_append_notices(&lines, er_file_label(line->operands[0]), field);
    int status = er_message_write(0, &lines);
    er_text_release(&lines);
    return status;
}

/* Opens the document, changes it and reads the field from it. The caller releases both. */
static int read_field(const struct er_command_line *line, const struct er_text *text,
                      struct er_document **document, struct er_field *field,
                      struct er_problems *problems)
{
    int exit_status = 0;
    enum er_status status = er_document_open(er_file_label(line->operands[0]), er_text_string(text),
                                             text->length, document, problems);
    if (status == ER_OK) {
        exit_status = apply_changes(line, *document, problems, &status);
    }
    if (exit_status == 0 && status == ER_OK) {
        status = er_field_read(*document, field, problems);
    }
    exit_status = exit_status != 0 ? exit_status : er_reading_status(status, problems);
    return exit_status != 0 ? exit_status : tell_notices(line, field);
}

int er_load_document(const struct er_command_line *line, struct er_document **document,
                     struct er_field *field)
{
    struct er_text text;
    struct er_problems problems;
    *document = NULL;
    memset(field, 0, sizeof *field);
    er_text_init(&text);
    er_problems_init(&problems);
    int status = input_read_twice(line);
    if (status == 0) {
        status = er_read_file(line->operands[0], &text);
    }
    if (status == 0) {
        status = read_field(line, &text, document, field, &problems);
    }
    er_problems_release(&problems);
    er_text_release(&text);
    return status;
}

int er_solving_status(const char *label, enum er_status status, const struct er_failure *failure)
{
    if (status == ER_NOT_CLOSED && failure->in_row) {
        return er_message(ER_EXIT_UNFINISHED,
                          "%s: %s could not be solved: on the way along a row the pressure all but "
                          "vanishes. Look for a slip in the tape's flow or bore, or in the slope",
                          label, failure->what);
    }
    if (status == ER_NOT_CLOSED) {
        return er_message(ER_EXIT_UNFINISHED,
                          "%s: %s could not be solved: after %zu passes the balance is still off "
                          "by %.3g of its size",
                          label, failure->what, failure->passes, failure->residual);
    }
    return status == ER_OK ? 0 : er_message_no_memory();
}

int er_check_field(const char *label, const struct er_field *field, enum er_system speaks,
                   struct er_result *result)
{
    struct er_failure failure;
    memset(result, 0, sizeof *result);
    enum er_status status = er_check(field, speaks, result, &failure);
    return er_solving_status(label, status, &failure);
}

int er_plan_status(const struct er_command_line *line, int status, enum er_verdict verdict)
{
    bool caution = verdict == ER_WITH_CAUTION && er_option_given(line, ER_OPTION_STRICT);
    return status == 0 && (verdict == ER_FAILS || caution) ? ER_EXIT_FAILS : status;
}
