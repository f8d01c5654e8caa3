/* A first field file. */
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/load.h"
#include "cli/message.h"
#include "cli/shared_options.h"
#include "cli/start.h"
#include "evenrow/reading.h"

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
    enum er_status reading =
        er_document_open(LABEL, er_text_string(text), text->length, &document, &problems);
    if (reading == ER_OK) {
        reading = er_field_read(document, &field, &problems);
    }
    int status = er_reading_status(reading, &problems);
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

static int run_start(struct er_work *work)
{
    struct er_start start;
    struct er_catalogue catalogue;
    struct er_text remarks;
    int status = er_start_read(work->line, &start);
    if (status != 0) {
        return status;
    }
    if (er_catalogue_open(&catalogue) != ER_OK) {
        return er_message_no_memory();
    }
    er_text_init(&remarks);
    status = make_text(work->line, &start, &catalogue, &work->report, &remarks);
    if (status == 0) {
        status = er_write_output(work->line, &work->report);
    }
    if (status == 0 && !er_option_given(work->line, ER_OPTION_QUIET)) {
        status = er_message_write(0, &remarks);
    }
    er_text_release(&remarks);
    er_catalogue_release(&catalogue);
    return status;
}

static const struct er_option options[] = {
    ER_OUTPUT_OPTION,
    ER_FORCE_OPTION,
    ER_NEW_UNITS_OPTION,
    ER_SWITCH(ER_OPTION_QUIET, "quiet", "Says nothing on standard error but what is wrong."),
    ER_VALUE(ER_OPTION_TITLE, "title", "TEXT", "Title of the plan."),
    ER_VALUE(ER_OPTION_BEDS, "beds", "COUNT", "Number of beds.", ER_USUAL("10", "10")),
    ER_VALUE(ER_OPTION_LENGTH, "length", "LENGTH", "Length of a bed.", ER_USUAL("100 ft", "30 m")),
    ER_VALUE(ER_OPTION_SPACING, "spacing", "LENGTH",
             "From the centre of a bed to that of the next.", ER_USUAL("6 ft", "1.8 m")),
    ER_VALUE(ER_OPTION_BED_WIDTH, "bed-width", "LENGTH", "Wetted or rooted width of a bed.",
             ER_USUAL("30 in", "760 mm")),
    ER_VALUE(ER_OPTION_SLOPE, "slope", "PERCENT",
             "Slope along the beds, going away from the header; uphill is positive.",
             ER_USUAL("0", "0")),
    ER_VALUE(ER_OPTION_TAPES, "tapes", "COUNT", "Tapes on a bed.", ER_USUAL("1", "1")),
    ER_TAPE_OPTIONS,
    ER_VALUE(ER_OPTION_BUCKET, "bucket", "VOLUME:TIME",
             "A bucket test of the source: how much ran from it, wide open, in how long, as in \"5 "
             "gal:30 s\". Bare numbers are gal or L, and seconds.",
             ER_USUAL("5 gal:30 s", "20 L:30 s")),
    ER_VALUE(ER_OPTION_SOURCE_FLOW, "source-flow", "FLOW",
             "The flow that the source can give at --source-pressure, instead of a bucket test. "
             "With --pond it has a default, and that of --bucket does not count.",
             ER_USUAL("30 gpm", "7 m3/h")),
    ER_VALUE(ER_OPTION_SOURCE_PRESSURE, "source-pressure", "PRESSURE",
             "Pressure at the source: with --source-flow at that flow, else with the water shut.",
             ER_USUAL("40 psi", "280 kPa")),
    ER_VALUE(ER_OPTION_POND, "pond", "VOLUME",
             "Usable volume of the pond or tank that the source draws from."),
    ER_VALUE(ER_OPTION_NEED, "need", "DEPTH", "What the crop uses in a day at its peak.",
             ER_USUAL("0.2 in/day", "5 mm/day")),
    ER_LAST_OPTIONS};

const struct er_command er_start_command = {
    .name = "start",
    .operands = "",
    .summary =
        "Writes a first field file from a few flags, so that nobody starts from an empty page.",
    .about = "Every flag has a default, and notes in the file say which figures are defaults, to "
             "be replaced by your own. Values take a unit, as in --length \"250 ft\"; a bare "
             "number is in the units of --units. Where all beds together take more than 80 percent "
             "of what the source gives, they are split into zones.\nThe file is checked at once, "
             "and standard error tells the verdict.",
    .exits = {"done"},
    .examples = {"evenrow start --beds 12 --length \"200 ft\" -o field.json",
                 "evenrow start --units metric --beds 20 --length \"60 m\" --source-flow \"5 "
                 "m3/h\" --source-pressure \"300 kPa\""},
    .options = options,
    .run = run_start};
