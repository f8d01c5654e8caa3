#include <string.h>

#include "cli/commands.h"
#include "cli/files.h"
#include "cli/load.h"
#include "cli/message.h"
#include "cli/start.h"
#include "evenrow/reading.h"
#include "report/report.h"

#define LABEL "the new field file" /* what messages call it */

/* What is said on standard error once the file is written: how many zones there are, where it is
 * more than one. */
static void remark_zones(const struct er_start *start, struct er_text *remarks)
{
    if (start->zones > 1) {
        char takes[ER_SAID], gives[ER_SAID];
        double all = (double)start->beds * start->bed_flow;
        er_message_append(remarks,
                          "all beds at once take %s, more than 80 percent of the %s that the "
                          "source gives at the pressure needed: %zu zones",
                          er_start_say(takes, ER_FLOW, start->system, all),
                          er_start_say(gives, ER_FLOW, start->system, start->usable_flow),
                          start->zones);
    }
}

/* Reads the text back as 'evenrow check' would, and checks it. */
static int check_text(const struct er_text *text, enum er_system system, struct er_text *remarks)
{
    struct er_document *document = NULL;
    struct er_problems problems;
    struct er_field field = {0};
    struct er_result result = {0};
    er_problems_init(&problems);
    int status = 0;
    enum er_status reading =
        er_document_open(LABEL, er_text_string(text), text->length, &document, &problems);
    if (reading == ER_OK) {
        reading = er_field_read(document, &field, &problems);
    }
    if (reading != ER_OK) {
        status = reading == ER_BAD_INPUT ? er_message_problems(&problems) : er_message_no_memory();
    }
    if (status == 0) {
        status = er_check_field(LABEL, &field, system, &result);
    }
    if (status == 0) {
        er_message_append_verdict(remarks, &result);
    }
    er_result_release(&result);
    er_field_release(&field);
    er_document_release(document);
    er_problems_release(&problems);
    return status;
}

/* Plans, writes the text, and proves that it can be read. */
static int make_text(const struct er_command_line *line, struct er_start *start,
                     const struct er_catalogue *catalogue, struct er_text *out,
                     struct er_text *remarks)
{
    int status = er_start_plan(start, catalogue);
    if (status == 0 && !er_start_write(line, start, out)) {
        status = er_message_no_memory();
    }
    if (status == 0) {
        remark_zones(start, remarks);
        status = check_text(out, start->system, remarks);
    }
    return status == 0 && remarks->out_of_memory ? er_message_no_memory() : status;
}

int er_run_start(const struct er_command_line *line)
{
    struct er_start start;
    int status = er_start_read(line, &start);
    if (status != 0) {
        return status;
    }
    struct er_catalogue catalogue;
    if (er_catalogue_open(&catalogue) != ER_OK) {
        return er_message_no_memory();
    }
    struct er_text out, remarks;
    er_text_init(&out);
    er_text_init(&remarks);
    status = make_text(line, &start, &catalogue, &out, &remarks);
    if (status == 0) {
        status = er_write_output(line, &out);
    }
    if (status == 0 && !er_option_given(line, ER_OPTION_SILENT)) {
        status = er_message_write(0, &remarks);
    }
    er_text_release(&remarks);
    er_text_release(&out);
    er_catalogue_release(&catalogue);
    return status;
}
