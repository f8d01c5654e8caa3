/* What a season takes. */
#include "cli/commands.h"
#include "cli/load.h"
#include "cli/message.h"
#include "cli/shared_options.h"
#include "evenrow/season.h"
#include "report/season/report.h"

static bool has_any_season(const struct er_field *field)
{
    bool any = false;
    for (size_t z = 0; z < field->zone_count; z++) {
        any = any || field->zones[z].water.season != NULL;
    }
    return any;
}

static int tell_no_season(const struct er_work *work, const char *zone)
{
    bool any = has_any_season(&work->field);
    return er_message(
        ER_EXIT_BAD_INPUT,
        "%s: %s%s has no season. Put one into %s\"water\", as in \"season\": "
        "{\"planting\": \"2026-05-01\", \"crop\": \"tomato\", \"eto\": [January, ..., "
        "December]}; 'evenrow schema' tells every key",
        work->label, any ? "zone " : "the field", any ? zone : "", any ? "its " : "");
}

static int tell_fault(const struct er_work *work, const struct er_season_fault *fault)
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

static int make_plan(const struct er_work *work, struct er_season_plan *plan)
{
    struct er_season_fault fault;
    enum er_status status = er_season_plan_make(&work->result, plan, &fault);
    if (status == ER_BAD_INPUT) {
        return tell_fault(work, &fault);
    }
    return status == ER_OK ? 0 : er_message_no_memory();
}

static int run_season(struct er_work *work)
{
    struct er_season_plan plan = {.verdict = ER_HOLDS};
    int status = er_work_check(work);
    if (status == 0) {
        status = make_plan(work, &plan);
    }
    if (status == 0) {
        status = er_work_tell(work, &er_season_report, &plan);
    }
    status = er_plan_status(work->line, status, plan.verdict);
    er_season_plan_release(&plan);
    return status;
}

static const struct er_option options[] = {ER_REPORT_OPTIONS, ER_EXPLAIN_OPTION, ER_LAST_OPTIONS};

const struct er_command er_season_command = {
    .name = "season",
    .operands = "FIELD",
    .least_operands = 1,
    .most_operands = 1,
    .summary = "How long to run in each week of the season, and does the pond last?",
    .about = "FIELD has a \"season\" in its \"water\": day of planting, crop, monthly means; and "
             "it may have \"weather\" that was measured. From planting to the end of harvest each "
             "day's need is worked out, each zone's run time for the mean day of each week, and "
             "what is left in the storage at the end of each day.",
    .exits = {"the season can be watered so", "it can't: the storage runs dry, a week takes more "
                                              "hours than the day has, or a zone gets no water"},
    .examples = {"evenrow season examples/season-pond.json",
                 "evenrow season examples/season-pond.json --format csv -o weeks.csv"},
    .options = options,
    .run = run_season};
