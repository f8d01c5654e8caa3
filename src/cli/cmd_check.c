/* The check of a plan. */
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/load.h"
#include "cli/plot.h"
#include "cli/shared_options.h"
#include "report/check/report.h"
#include "report/report.h"

static int run_check(struct er_work *work)
{
    const bool quiet = er_option_given(work->line, ER_OPTION_QUIET);
    int status = er_plot_format(work->line);
    if (status == 0) {
        status = er_work_check(work);
    }
    if (status == 0) {
        status = er_work_report(work, quiet ? &er_verdict_report : &er_check_report, &work->result);
    }
    if (status == 0) {
        status = er_plot_append(work->line, &work->result, &work->report);
    }
    if (status == 0) {
        status = er_write_output(work->line, &work->report);
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
              .only = "plain characters in the text report"),
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
    .options = options,
    .run = run_check};
