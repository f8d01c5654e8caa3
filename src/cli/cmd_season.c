/* What a season takes. */
#include "cli/commands.h"
#include "cli/explain.h"
#include "cli/files.h"
#include "cli/forms.h"
#include "cli/load.h"
#include "cli/message.h"
#include "evenrow/season.h"
#include "report/season_report.h"

/* What the command has in hand. */
struct work {
    const struct er_command_line *line;
    const char *label; /* the field file, for messages */
    struct er_field field;
    enum er_system system; /* of the report */
    struct er_result result;
    struct er_season_plan plan;
    struct er_text report;
};

static bool has_any_season(const struct er_field *field)
{
    bool any = false;
    for (size_t z = 0; z < field->zone_count; z++) {
        any = any || field->zones[z].water.season != NULL;
    }
    return any;
}

static int tell_no_season(const struct work *work, const char *zone)
{
    bool any = has_any_season(&work->field);
    return er_message(
        ER_EXIT_BAD_INPUT,
        "%s: %s%s has no season. Put one into %s\"water\", as in \"season\": "
        "{\"planting\": \"2026-05-01\", \"crop\": \"tomato\", \"eto\": [January, ..., "
        "December]}; 'evenrow schema' tells every key",
        work->label, any ? "zone " : "the field", any ? zone : "", any ? "its " : "");
}

static int tell_fault(const struct work *work, const struct er_season_fault *fault)
{
    const char *zone = work->field.zones[fault->zone].name;
    if (fault->kind == ER_SEASON_NO_ETO) {
        struct er_calendar_day day = er_date_split(fault->date);
        return er_message(ER_EXIT_BAD_INPUT,
                          "%s: zone %s is in season on %04d-%02d-%02d, and nothing tells how much "
                          "evaporates then: give \"season\" the monthly means, \"eto\": [January, "
                          "..., December], or \"weather\" a record of that day",
                          work->label, zone, day.year, day.month, day.day);
    }
    if (fault->kind == ER_SEASON_TOO_LONG) {
        return er_message(ER_EXIT_BAD_INPUT,
                          "%s: from the first planting to the last harvest are more than %ld days: "
                          "check the dates",
                          work->label, ER_SEASON_LONGEST);
    }
    return tell_no_season(work, zone);
}

static int make_plan(struct work *work)
{
    struct er_season_fault fault;
    enum er_status status = er_season_plan_make(&work->result, &work->plan, &fault);
    if (status == ER_BAD_INPUT) {
        return tell_fault(work, &fault);
    }
    return status == ER_OK ? 0 : er_message_no_memory();
}

static int run(struct work *work)
{
    int status = er_explain_format(work->line);
    if (status == 0) {
        status = er_load_field(work->line, &work->field);
    }
    if (status != 0) {
        return status;
    }
    work->system = er_units_named(er_option_value(work->line, ER_OPTION_UNITS), work->field.system);
    status = er_check_field(work->label, &work->field, work->system, &work->result);
    if (status == 0) {
        status = make_plan(work);
    }
    if (status == 0) {
        status =
            er_make_report(work->line, &er_season_report, &work->plan, work->system, &work->report);
    }
    if (status == 0) {
        status = er_write_output(work->line, &work->report);
    }
    return er_plan_status(work->line, status, work->plan.verdict);
}

int er_run_season(const struct er_command_line *line)
{
    struct work work = {.line = line, .label = er_file_label(line->operands[0])};
    er_text_init(&work.report);
    int status = run(&work);
    er_text_release(&work.report);
    er_season_plan_release(&work.plan);
    er_result_release(&work.result);
    er_field_release(&work.field);
    return status;
}
