/* What to inject, and when. */
#include "cli/commands.h"
#include "cli/explain.h"
#include "cli/files.h"
#include "cli/forms.h"
#include "cli/load.h"
#include "cli/message.h"
#include "evenrow/inject.h"
#include "report/inject_report.h"

/* A field that does not say what to inject. */
static int nothing_told(const char *label)
{
    return er_message(ER_EXIT_BAD_INPUT,
                      "%s: nothing says what to inject; with your product's label in hand add at "
                      "the top level \"inject\": {\"product\": {\"name\": \"UAN-32\", "
                      "\"nitrogen\": 32, \"density\": \"11.06 lb/gal\"}, \"rate\": "
                      "\"7 lb/acre\"}; 'evenrow schema' tells the other keys",
                      label);
}

int er_run_inject(const struct er_command_line *line)
{
    const char *label = er_file_label(line->operands[0]);
    struct er_field field = {0};
    struct er_injection injection = {0};
    struct er_failure failure;
    struct er_text out;
    er_text_init(&out);
    int status = er_explain_format(line);
    if (status == 0) {
        status = er_load_field(line, &field);
    }
    if (status == 0 && field.inject == NULL) {
        status = nothing_told(label);
    }
    enum er_system system = er_units_named(er_option_value(line, ER_OPTION_UNITS), field.system);
    if (status == 0) {
        status = er_solving_status(label, er_injection_find(&field, system, &injection, &failure),
                                   &failure);
    }
    if (status == 0) {
        status = er_make_report(line, &er_inject_report, &injection, system, &out);
    }
    if (status == 0) {
        status = er_write_output(line, &out);
    }
    status = er_plan_status(line, status, injection.fails ? ER_FAILS : ER_HOLDS);
    er_text_release(&out);
    er_injection_release(&injection);
    er_field_release(&field);
    return status;
}
