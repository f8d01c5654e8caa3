/* The best of many designs. */
#include <stdlib.h>
#include <string.h>

#include "cli/choose.h"
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/forms.h"
#include "cli/load.h"
#include "cli/message.h"
#include "cli/progress.h"
#include "evenrow/writing.h"
#include "report/choose_report.h"

/* The picked design as a field file, made from the file that was read. */
static enum er_status write_design(struct er_document *document, const struct er_choose_ask *ask,
                                   const struct er_design *design, struct er_text *out)
{
    struct er_designed designed;
    char *text = NULL;
    enum er_status status = er_design_make(ask, design, &designed);
    if (status == ER_OK) {
        status = er_document_put(document, &designed.field, ER_PART_MAINLINE | ER_PART_ZONES,
                                 designed.origins);
    }
    if (status == ER_OK) {
        status = er_document_write(document, &text);
    }
    if (status == ER_OK) {
        er_text_append(out, text);
        status = out->out_of_memory ? ER_NO_MEMORY : ER_OK;
    }
    free(text);
    er_designed_release(&designed);
    return status;
}

/* Makes report and field file, and writes them. */
static int write_choice(const struct er_command_line *line, struct er_document *document,
                        const struct er_choices *choices, const struct er_choice *choice)
{
    struct er_text report, field;
    er_text_init(&report);
    er_text_init(&field);
    const struct er_chosen chosen = {&choices->ask, choice};
    const enum er_system system =
        er_units_named(er_option_value(line, ER_OPTION_UNITS), choices->ask.field->system);
    enum er_status made =
        er_report_as(&er_choose_report, er_told_as_asked(line), &chosen, system, &report);
    int status = 0;
    bool wanted = er_option_given(line, ER_OPTION_OUTPUT_FIELD);
    if (made == ER_OK && wanted && choice->best_count >= choices->pick) {
        made = write_design(document, &choices->ask, &choice->best[choices->pick - 1], &field);
        wanted = false;
    }
    if (made != ER_OK) {
        status = er_message_no_memory();
    } else if (wanted) {
        /* There is nothing to write: the report alone says why. */
        status = er_print(&report);
        er_message(0, "no field file is written: the list has %zu design%s, not %zu",
                   choice->best_count, choice->best_count == 1 ? "" : "s", choices->pick);
    } else {
        status = er_write_report_and_field(line, &report, &field);
    }
    er_text_release(&field);
    er_text_release(&report);
    return status;
}

static int choose(const struct er_command_line *line, const struct er_choices *choices,
                  struct er_choice *choice)
{
    struct er_choose_ask ask = choices->ask;
    struct er_progress progress;
    struct er_failure failure;
    er_progress_begin(&progress, "designs");
    ask.watch = er_progress_watch;
    ask.watch_context = &progress;
    enum er_status status = er_choose(&ask, choice, &failure);
    er_progress_end(&progress);
    return er_solving_status(er_file_label(line->operands[0]), status, &failure);
}

int er_run_choose(const struct er_command_line *line)
{
    struct er_document *document = NULL;
    struct er_field field = {0};
    struct er_choices choices = {0};
    struct er_choice choice = {0};
    int status = er_load_document(line, &document, &field);
    if (status == 0) {
        status = er_choices_read(line, &field, &choices);
    }
    if (status == 0) {
        status = choose(line, &choices, &choice);
    }
    if (status == 0) {
        status = write_choice(line, document, &choices, &choice);
    }
    if (status == 0 && choice.best_count < choices.pick) {
        status = ER_EXIT_FAILS;
    }
    er_choices_release(&choices);
    er_field_release(&field);
    er_document_release(document);
    return status;
}
