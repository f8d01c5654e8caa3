/* What the source must give. */
#include "cli/commands.h"
#include "cli/flags.h"
#include "cli/load.h"
#include "cli/message.h"
#include "cli/shared_options.h"
#include "evenrow/demand.h"
#include "evenrow/reading.h"
#include "report/supply/report.h"

/* The values of the flags. 0, or an exit status. */
static int read_request(const struct er_work *work, struct er_demand_request *request)
{
    struct er_flags flags;
    er_flags_begin(&flags, work->line, work->system);
    request->inlet_pressure = er_flag_quantity(&flags, ER_OPTION_INLET, ER_PRESSURE);
    double percent = er_flag_number(&flags, ER_OPTION_EFFICIENCY, "percent", 1.0, 100.0);
    request->efficiency = percent / 100.0;
    return er_flags_end(&flags);
}

static int find_demand(const struct er_work *work, struct er_demand *demand)
{
    struct er_demand_request request;
    struct er_failure failure;
    int status = read_request(work, &request);
    if (status != 0) {
        return status;
    }
    return er_solving_status(work->label,
                             er_demand_find(&work->field, &request, work->system, demand, &failure),
                             &failure);
}

/* Reads the changed document and checks it, for a remark on how the new field stands. */
static int check_new_field(const struct er_work *work, struct er_text *remarks)
{
    struct er_problems problems;
    struct er_field field = {0};
    struct er_result result = {0};
    er_problems_init(&problems);
    int status = er_reading_status(er_field_read(work->document, &field, &problems), &problems);
    if (status == 0) {
        status = er_check_field("the new field file", &field, work->system, &result);
    }
    if (status == 0) {
        er_message_append_verdict(remarks, &result);
    }
    er_result_release(&result);
    er_field_release(&field);
    er_problems_release(&problems);
    return status == 0 && remarks->out_of_memory ? er_message_no_memory() : status;
}

/* The field file with the source that will do, and what there is to say of it. */
static int write_new_field(struct er_work *work, const struct er_demand *demand)
{
    struct er_text new_field, remarks;
    er_text_init(&new_field);
    er_text_init(&remarks);
    int status = er_work_new_field(work, demand->proposed, ER_PART_SOURCE, NULL, &new_field);
    if (status == 0) {
        status = check_new_field(work, &remarks);
    }
    if (status == 0) {
        status = er_work_write(work, &new_field);
    }
    if (status == 0) {
        status = er_message_write(0, &remarks);
    }
    er_text_release(&remarks);
    er_text_release(&new_field);
    return status;
}

/* Where no source will do there is a report, and no field. */
static int write_all(struct er_work *work, const struct er_demand *demand)
{
    const bool wanted = er_option_given(work->line, ER_OPTION_OUTPUT);
    if (wanted && demand->reachable) {
        return write_new_field(work, demand);
    }
    int status = er_work_write(work, NULL);
    return status == 0 && wanted
               ? er_message(0, "%s: no source can do it, so no field is written", work->label)
               : status;
}

static int run_supply(struct er_work *work)
{
    struct er_demand demand = {0};
    int status = er_work_load(work);
    if (status == 0) {
        status = find_demand(work, &demand);
    }
    if (status == 0) {
        status = er_work_report(work, &er_demand_report, &demand);
    }
    if (status == 0) {
        status = write_all(work, &demand);
    }
    status =
        er_plan_status(work->line, status, demand.reachable ? demand.checked.verdict : ER_FAILS);
    er_demand_release(&demand);
    return status;
}

static const struct er_option options[] = {
    ER_NEW_FIELD_OPTIONS,
    ER_VALUE(
        ER_OPTION_INLET, "inlet", "PRESSURE",
        "Pressure that the lowest tape inlet must have; without this each tape's at_pressure."),
    ER_VALUE(ER_OPTION_EFFICIENCY, "efficiency", "PERCENT", "The pump's efficiency, for its power.",
             ER_USUAL("75", "75")),
    ER_LAST_OPTIONS};

const struct er_command er_supply_command = {
    .name = "supply",
    .operands = "FIELD",
    .least_operands = 1,
    .most_operands = 1,
    .summary = "What must the source give: which pump or supply would this plan need?",
    .about = "Whatever the field file says of its source is set aside. For each set of zones the "
             "flow and the pressure at the source's outlet are sought at which the lowest tape "
             "inlet has what is wanted and every regulator what it needs, filters clean and due "
             "for cleaning. The report begins with the answer, and holds the file's own source "
             "against it.\n-o writes the field with a source that holds just that. The exit status "
             "is 1 where no source will do, and where the plan fails with such a source.",
    .exits = {"there is an answer, and the plan holds with it",
              "there is none, or the plan fails with it"},
    .examples = {"evenrow supply examples/pond-slope.json",
                 "evenrow supply examples/four-faults.json --inlet \"10 psi\""},
    .options = options,
    .run = run_supply};
