/* What was read in a field, against the plan. */
#include <stdlib.h>
#include <string.h>

#include "cli/commands.h"
#include "cli/files.h"
#include "cli/flags.h"
#include "cli/load.h"
#include "cli/message.h"
#include "cli/shared_options.h"
#include "evenrow/reading.h"
#include "evenrow/visit.h"
#include "report/visit/report.h"
#include "visit/csv.h"

struct visiting {
    struct er_work *work;
    double within; /* fraction */
    struct er_measured measured;
};

/* What is asked for must go together. 0, or an exit status after a message. */
static int check_command_line(const struct er_command_line *line)
{
    bool form = er_option_given(line, ER_OPTION_FORM);
    if (form && line->operand_count > 1) {
        return er_message(ER_EXIT_BAD_INPUT, "--form takes the field alone: nothing has been "
                                             "measured yet");
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

static int read_within(struct visiting *visiting)
{
    struct er_flags flags;
    er_flags_begin(&flags, visiting->work->line, visiting->work->system);
    visiting->within = er_flag_number(&flags, ER_OPTION_WITHIN, "percent", 0.1, 50.0) / 100.0;
    return er_flags_end(&flags);
}

/* Reads the measurements from a JSON text. */
static enum er_status read_json(struct visiting *visiting, const char *label,
                                const struct er_text *text, struct er_problems *problems)
{
    struct er_document *document = NULL;
    enum er_status status =
        er_document_open(label, er_text_string(text), text->length, &document, problems);
    if (status == ER_OK) {
        status = er_measured_read(document, &visiting->work->field, &visiting->measured, problems);
    }
    er_document_release(document);
    return status;
}

/* The same from a table. Problems are told by the row alone: the columns would be the JSON's. */
static enum er_status read_csv(struct visiting *visiting, const char *label,
                               const struct er_text *text, struct er_problems *problems)
{
    struct er_text json;
    er_text_init(&json);
    enum er_status status =
        er_readings_from_csv(label, er_text_string(text), text->length, &json, problems);
    if (status == ER_OK) {
        status = read_json(visiting, label, &json, problems);
    }
    for (size_t i = 0; i < problems->count && i < ER_PROBLEMS_KEPT; i++) {
        problems->kept[i].column = 1;
    }
    er_text_release(&json);
    return status;
}

static int read_measured(struct visiting *visiting)
{
    const char *path = visiting->work->line->operands[1];
    struct er_text text;
    struct er_problems problems;
    er_text_init(&text);
    er_problems_init(&problems);
    int exit_status = er_read_file(path, &text);
    if (exit_status == 0) {
        bool csv = er_readings_are_csv(er_text_string(&text));
        enum er_status status =
            (csv ? read_csv : read_json)(visiting, er_file_label(path), &text, &problems);
        exit_status = er_reading_status(status, &problems);
    }
    er_problems_release(&problems);
    er_text_release(&text);
    return exit_status;
}

/* The exit status for a solution that did not come about. */
static int tell_unsolved(const struct visiting *visiting, enum er_status status)
{
    if (status == ER_NOT_CLOSED) {
        return er_message(ER_EXIT_UNFINISHED,
                          "%s: the plan could not be solved; 'evenrow check' says where",
                          visiting->work->label);
    }
    return er_message_no_memory();
}

static int run_visit(struct visiting *visiting)
{
    struct er_visit visit = {.hypothesis_count = 0};
    bool as_planned = false;
    int exit_status = read_measured(visiting);
    if (exit_status == 0) {
        enum er_status status = er_visit_make(&visiting->work->field, &visiting->measured, &visit);
        exit_status = status == ER_OK ? 0 : tell_unsolved(visiting, status);
    }
    if (exit_status == 0) {
        exit_status = er_check_field(visiting->work->label, &visiting->work->field,
                                     visiting->work->system, &visiting->work->result);
    }
    if (exit_status == 0) {
        as_planned = visiting->work->result.verdict != ER_FAILS && visit.plan_is_right &&
                     visit.explained && !er_visit_uneven(&visit) && !visit.danger.found;
        const struct er_visit_told told = {&visit, &visiting->work->result, visiting->within};
        exit_status = er_work_tell(visiting->work, &er_visit_report, &told);
    }
    er_visit_release(&visit);
    return er_plan_status(visiting->work->line, exit_status, as_planned ? ER_HOLDS : ER_FAILS);
}

/* Makes the forms of the zones that are wanted (all for NULL) into `forms`, which has room for all
 * zones. 0, or an exit status after a message. */
static int make_forms(const struct visiting *visiting, const char *wanted, struct er_form *forms,
                      size_t *count)
{
    for (size_t z = 0; z < visiting->work->field.zone_count; z++) {
        if (wanted == NULL || strcmp(visiting->work->field.zones[z].name, wanted) == 0) {
            enum er_status status = er_form_make(&visiting->work->field, z, &forms[(*count)++]);
            if (status != ER_OK) {
                return tell_unsolved(visiting, status);
            }
        }
    }
    return *count > 0 ? 0
                      : er_message(ER_EXIT_BAD_INPUT, "%s has no zone called '%s'",
                                   visiting->work->label, wanted);
}

static int run_form(struct visiting *visiting)
{
    struct er_form *forms = calloc(visiting->work->field.zone_count, sizeof *forms);
    if (forms == NULL) {
        return er_message_no_memory();
    }
    struct er_forms told = {&visiting->work->field, forms, 0};
    int exit_status = make_forms(visiting, er_option_value(visiting->work->line, ER_OPTION_ZONE),
                                 forms, &told.count);
    if (exit_status == 0) {
        exit_status = er_work_tell(visiting->work, &er_forms_report, &told);
    }
    for (size_t f = 0; f < told.count; f++) {
        er_form_release(&forms[f]);
    }
    free(forms);
    return exit_status;
}

static int run_farm_visit(struct er_work *work)
{
    struct visiting visiting = {.work = work};
    int status = check_command_line(work->line);
    if (status == 0) {
        status = er_work_load(work);
    }
    if (status == 0) {
        status = read_within(&visiting);
    }
    if (status == 0) {
        bool form = er_option_given(work->line, ER_OPTION_FORM);
        status = form ? run_form(&visiting) : run_visit(&visiting);
    }
    er_measured_release(&visiting.measured);
    return status;
}

static const struct er_option options[] = {
    ER_REPORT_OPTIONS,
    ER_SWITCH(ER_OPTION_FORM, "form",
              "Prints a form to take to the field, with the planned values beside the blanks.",
              .only = "a page of text"),
    ER_VALUE(ER_OPTION_ZONE, "zone", "NAME", "With --form: that zone alone."),
    ER_VALUE(ER_OPTION_WITHIN, "within", "PERCENT",
             "How near the uniformity should be known, on either side; tells how many emitters "
             "that takes.",
             ER_USUAL("3", "3")),
    ER_LAST_OPTIONS};

const struct er_command er_visit_command = {
    .name = "visit",
    .operands = "FIELD [MEASURED]",
    .least_operands = 1,
    .most_operands = 2,
    .summary = "What was read in the field, against the plan: how even is it, and what is wrong?",
    .about = "MEASURED is a JSON file, or a table of comma-separated values with a header row, of "
             "what gauges, meter and cups showed in one zone while its set ran, as the README "
             "tells it; - reads it from standard input. The report tells how even the emitters are "
             "and where the unevenness comes from, holds each reading against the plan, and tries "
             "what could be wrong: each fault is put into the plan, the plan solved again, and the "
             "fault's size fitted to the readings. What cannot be told apart is said, and which "
             "reading would tell it.\nWithout MEASURED, --form prints a page for each zone to take "
             "along. The exit status is 1 where the plan fails, the readings are not what it says, "
             "or the emitters are less even than the field's limit.",
    .exits = {"the readings are what the plan says, or the form is written", "they are not"},
    .examples = {"evenrow visit examples/pond-slope.json --form",
                 "evenrow visit examples/pond-slope.json examples/visit/low-zone.json"},
    .options = options,
    .run = run_farm_visit};
