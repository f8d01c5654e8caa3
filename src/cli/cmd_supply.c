#include <stdlib.h>
#include <string.h>

#include "cli/commands.h"
#include "cli/files.h"
#include "cli/flags.h"
#include "cli/forms.h"
#include "cli/load.h"
#include "cli/message.h"
#include "evenrow/demand.h"
#include "evenrow/reading.h"
#include "evenrow/writing.h"
#include "report/demand_report.h"
#include "report/report.h"

/* What the command has in hand. */
struct supply {
    const struct er_command_line *line;
    const char *label; /* the field file, for messages */
    struct er_document *document;
    struct er_field field;
    enum er_system system; /* of the report */
    struct er_demand demand;
    struct er_text report, new_field, remarks;
};

/* The values of the flags. 0, or an exit status. */
static int read_request(const struct supply *supply, struct er_demand_request *request)
{
    struct er_flags flags;
    er_flags_begin(&flags, supply->line, supply->system);
    request->inlet_pressure = er_flag_quantity(&flags, ER_OPTION_INLET, ER_PRESSURE);
    double percent = er_flag_number(&flags, ER_OPTION_PUMP_EFFICIENCY, "percent", 1.0, 100.0);
    request->efficiency = percent / 100.0;
    return er_flags_end(&flags);
}

static int find_demand(struct supply *supply)
{
    struct er_demand_request request;
    struct er_failure failure;
    int status = read_request(supply, &request);
    if (status != 0) {
        return status;
    }
    return er_solving_status(
        supply->label,
        er_demand_find(&supply->field, &request, supply->system, &supply->demand, &failure),
        &failure);
}

/* Reads the changed document and checks it, for a remark on how the new field stands. */
static int check_new_field(struct supply *supply)
{
    struct er_problems problems;
    struct er_field field = {0};
    struct er_result result = {0};
    er_problems_init(&problems);
    int status = 0;
    enum er_status reading = er_field_read(supply->document, &field, &problems);
    if (reading != ER_OK) {
        status = reading == ER_BAD_INPUT ? er_message_problems(&problems) : er_message_no_memory();
    }
    if (status == 0) {
        status = er_check_field("the new field file", &field, supply->system, &result);
    }
    if (status == 0) {
        er_message_append_verdict(&supply->remarks, &result);
    }
    er_result_release(&result);
    er_field_release(&field);
    er_problems_release(&problems);
    return status == 0 && supply->remarks.out_of_memory ? er_message_no_memory() : status;
}

/* The field file with the source that will do. */
static int make_new_field(struct supply *supply)
{
    char *text = NULL;
    enum er_status status =
        er_document_put(supply->document, supply->demand.proposed, ER_PART_SOURCE, NULL);
    if (status == ER_OK) {
        status = er_document_write(supply->document, &text);
    }
    if (status == ER_OK) {
        er_text_append(&supply->new_field, text);
    }
    free(text);
    if (status != ER_OK || supply->new_field.out_of_memory) {
        return er_message_no_memory();
    }
    return check_new_field(supply);
}

/* Where no source will do there is a report, and no field. */
static int write_all(struct supply *supply)
{
    const char *path = er_option_value(supply->line, ER_OPTION_OUTPUT_FIELD);
    if (path == NULL) {
        return er_print(&supply->report);
    }
    if (!supply->demand.reachable) {
        int status = strcmp(path, "-") == 0 ? 0 : er_print(&supply->report);
        return status != 0 ? status
                           : er_message(0, "%s: no source can do it, so no field is written",
                                        supply->label);
    }
    int status = make_new_field(supply);
    if (status == 0) {
        status = er_write_report_and_field(supply->line, &supply->report, &supply->new_field);
    }
    return status == 0 ? er_message_write(0, &supply->remarks) : status;
}

static int run(struct supply *supply)
{
    int status = er_load_document(supply->line, &supply->document, &supply->field);
    if (status != 0) {
        return status;
    }
    supply->system =
        er_units_named(er_option_value(supply->line, ER_OPTION_UNITS), supply->field.system);
    status = find_demand(supply);
    if (status == 0) {
        status = er_make_report(supply->line, &er_demand_report, &supply->demand, supply->system,
                                &supply->report);
    }
    if (status == 0) {
        status = write_all(supply);
    }
    return er_plan_status(supply->line, status,
                          supply->demand.reachable ? supply->demand.checked.verdict : ER_FAILS);
}

int er_run_supply(const struct er_command_line *line)
{
    struct supply supply = {.line = line, .label = er_file_label(line->operands[0])};
    er_text_init(&supply.report);
    er_text_init(&supply.new_field);
    er_text_init(&supply.remarks);
    int status = run(&supply);
    er_text_release(&supply.remarks);
    er_text_release(&supply.new_field);
    er_text_release(&supply.report);
    er_demand_release(&supply.demand);
    er_field_release(&supply.field);
    er_document_release(supply.document);
    return status;
}
