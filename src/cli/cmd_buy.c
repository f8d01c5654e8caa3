/* What has to be bought. */
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/flags.h"
#include "cli/forms.h"
#include "cli/load.h"
#include "cli/message.h"
#include "evenrow/catalogue.h"
#include "evenrow/materials.h"
#include "report/buy_report.h"

/* What the command has in hand. */
struct purchase {
    const struct er_command_line *line;
    struct er_field field;
    struct er_result result;
    struct er_catalogue catalogue; /* for the built-in list of prices and lengths */
    struct er_materials materials;
    enum er_system system; /* of the report */
    struct er_text report;
};

static int read_waste(const struct purchase *purchase, double *waste)
{
    struct er_flags flags;
    er_flags_begin(&flags, purchase->line, purchase->system);
    *waste = er_flag_number(&flags, ER_OPTION_WASTE, "percent", 0.0, 100.0) / 100.0;
    return er_flags_end(&flags);
}

static int count_materials(struct purchase *purchase, double waste)
{
    if (er_catalogue_open(&purchase->catalogue) != ER_OK) {
        return er_message_no_memory();
    }
    const struct er_materials_request request = {waste, &purchase->catalogue.prices};
    return er_materials_count(&purchase->result, &request, &purchase->materials) == ER_OK
               ? 0
               : er_message_no_memory();
}

static int run(struct purchase *purchase)
{
    const struct er_command_line *line = purchase->line;
    double waste = 0.0;
    int status = er_load_field(line, &purchase->field);
    if (status != 0) {
        return status;
    }
    purchase->system =
        er_units_named(er_option_value(line, ER_OPTION_UNITS), purchase->field.system);
    status = read_waste(purchase, &waste);
    if (status == 0) {
        status = er_check_field(er_file_label(line->operands[0]), &purchase->field,
                                purchase->system, &purchase->result);
    }
    if (status == 0) {
        status = count_materials(purchase, waste);
    }
    if (status == 0) {
        status = er_make_report(line, &er_buy_report, &purchase->materials, purchase->system,
                                &purchase->report);
    }
    if (status == 0) {
        status = er_write_output(line, &purchase->report);
    }
    return er_plan_status(line, status, purchase->result.verdict);
}

int er_run_buy(const struct er_command_line *line)
{
    struct purchase purchase = {.line = line};
    er_text_init(&purchase.report);
    int status = run(&purchase);
    er_text_release(&purchase.report);
    er_materials_release(&purchase.materials);
    er_catalogue_release(&purchase.catalogue);
    er_result_release(&purchase.result);
    er_field_release(&purchase.field);
    return status;
}
