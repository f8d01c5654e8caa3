/* What has to be bought. */
#include "cli/commands.h"
#include "cli/flags.h"
#include "cli/load.h"
#include "cli/message.h"
#include "cli/shared_options.h"
#include "evenrow/catalogue.h"
#include "evenrow/materials.h"
#include "report/buy/report.h"

static int read_waste(const struct er_work *work, double *waste)
{
    struct er_flags flags;
    er_flags_begin(&flags, work->line, work->system);
    *waste = er_flag_number(&flags, ER_OPTION_WASTE, "percent", 0.0, 100.0) / 100.0;
    return er_flags_end(&flags);
}

/* Counts and tells. `catalogue` is for the built-in list of prices and lengths. */
static int tell_materials(struct er_work *work, double waste, struct er_catalogue *catalogue)
{
    struct er_materials materials = {.line_count = 0};
    const struct er_materials_request request = {waste, &catalogue->prices};
    int status = er_materials_count(&work->result, &request, &materials) == ER_OK
                     ? er_work_tell(work, &er_buy_report, &materials)
                     : er_message_no_memory();
    er_materials_release(&materials);
    return status;
}

static int run_buy(struct er_work *work)
{
    double waste = 0.0;
    int status = er_work_load(work);
    if (status == 0) {
        status = read_waste(work, &waste);
    }
    if (status == 0) {
        status = er_check_field(work->label, &work->field, work->system, &work->result);
    }
    if (status != 0) {
        return status;
    }
    struct er_catalogue catalogue;
    if (er_catalogue_open(&catalogue) != ER_OK) {
        return er_message_no_memory();
    }
    status = tell_materials(work, waste, &catalogue);
    er_catalogue_release(&catalogue);
    return er_plan_status(work->line, status, work->result.verdict);
}

static const struct er_option options[] = {ER_REPORT_OPTIONS, ER_WASTE_OPTION, ER_LAST_OPTIONS};

const struct er_command er_buy_command = {
    .name = "buy",
    .operands = "FIELD",
    .least_operands = 1,
    .most_operands = 1,
    .summary = "What has to be bought, down to the end plugs, and what does it cost?",
    .about =
        "Counts tape and film in whole rolls, pipe in whole lengths, fittings, valves, regulators, "
        "filter, gauges and vents, each with its reason, and tells which beds each roll of tape "
        "serves, so that joints are few. Costs are told where the field has \"prices\"; film where "
        "its \"mulch\" is plastic. Notes on laying it all stand at the end.\nThe exit status is 1 "
        "where the plan fails: such a plan should be changed before it is bought.",
    .exits = {"the plan holds, with cautions or without",
              "the plan fails; what it takes is listed all the same"},
    .examples = {"evenrow buy examples/ready-to-buy.json",
                 "evenrow buy examples/ready-to-buy.json --waste 8 --format csv -o list.csv"},
    .options = options,
    .run = run_buy};
