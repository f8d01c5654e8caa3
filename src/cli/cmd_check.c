/* The check of a plan. */
#include "cli/commands.h"
#include "cli/load.h"
#include "cli/message.h"
#include "cli/shared_options.h"
#include "draw/draw.h"
#include "report/check/report.h"
#include "report/report.h"

/* A check with the plot of its worst row. */
struct plotted {
    const struct er_result *result;
    struct er_rows rows;
};

static void write_plotted(const void *of, struct er_page *page)
{
    const struct plotted *plotted = of;
    er_check_report.page(plotted->result, page);
    er_plot_worst_row(&plotted->rows, page);
}

static enum er_status explain_plotted(const void *of, struct er_page *page)
{
    return er_check_report.explain(((const struct plotted *)of)->result, page);
}

static const struct er_report plotted_report = {.page = write_plotted, .explain = explain_plotted};

static int tell_plotted(struct er_work *work)
{
    struct plotted plotted = {.result = &work->result};
    struct er_failure failure;
    enum er_status measured = er_rows_measure(&work->field, &plotted.rows, &failure);
    int status = er_solving_status(work->label, measured, &failure);
    if (status == 0) {
        status = er_work_tell(work, &plotted_report, &plotted);
    }
    er_rows_release(&plotted.rows);
    return status;
}

static int run_check(struct er_work *work)
{
    const bool plot = er_option_given(work->line, ER_OPTION_PLOT);
    const bool quiet = er_option_given(work->line, ER_OPTION_QUIET);
    if (plot && quiet) {
        return er_message(ER_EXIT_BAD_INPUT, "--plot goes with the whole report, not with --quiet");
    }
    int status = er_work_check(work);
    if (status == 0) {
        status =
            plot ? tell_plotted(work)
                 : er_work_tell(work, quiet ? &er_verdict_report : &er_check_report, &work->result);
    }
    return er_plan_status(work->line, status, work->result.verdict);
}

static const struct er_option options[] = {
    ER_REPORT_OPTIONS,
    ER_SWITCH(ER_OPTION_STRICT, "strict", "A caution, too, ends with exit status 1."),
    ER_SWITCH(ER_OPTION_QUIET, "quiet", "Prints the verdict's line alone.",
              .only = "one line of text"),
    ER_EXPLAIN_OPTION,
    ER_SWITCH(ER_OPTION_PLOT, "plot", "Adds the pressure along the worst row in plain characters.",
              .only = "plain characters in a report for people"),
    ER_LAST_OPTIONS};

const struct er_command er_check_command = {
    .name = "check",
    .operands = "FIELD",
    .least_operands = 1,
    .most_operands = 1,
    .summary = "Does this plan water every row, and does the source keep up?",
    .about = "FIELD is a field file: a JSON object that describes the source, the pipes, the beds "
             "and their tape; - reads it from standard input. 'evenrow start' writes a first one, "
             "and 'evenrow schema' tells every key.\nFlows and pressures are worked out emitter by "
             "emitter. The report begins with the verdict and its reason.",
    .exits = {"the plan holds, with cautions or without",
              "the plan fails; with --strict: or has a caution"},
    .examples = {"evenrow check examples/pond-slope.json",
                 "evenrow check examples/four-faults.json --quiet --set /source/flow_limit=25",
                 "evenrow check examples/pond-slope.json --format html -o check.html"},
    .options = options,
    .run = run_check};
