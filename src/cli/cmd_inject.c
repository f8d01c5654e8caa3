/* What to inject, and when. */
#include "cli/commands.h"
#include "cli/load.h"
#include "cli/message.h"
#include "cli/shared_options.h"
#include "evenrow/inject.h"
#include "report/inject/report.h"

/* A field that does not say what to inject. */
static int nothing_told(const char *label)
{
    return er_message(ER_EXIT_BAD_INPUT,
                      "%s: nothing says what to inject; with your product's label in hand add at "
                      "the top level \"inject\": {\"product\": {\"name\": \"UAN-32\", "
                      "\"nitrogen\": 32, \"density\": \"11.06 lb/gal\"}, \"rate\": "
                      "\"7 lb/acre\"}; 'evenrow schema' tells the other keys",
                      label);
}

static int run_inject(struct er_work *work)
{
    struct er_injection injection = {0};
    struct er_failure failure;
    int status = er_work_load(work);
    if (status == 0 && work->field.inject == NULL) {
        status = nothing_told(work->label);
    }
    if (status == 0) {
        enum er_status found = er_injection_find(&work->field, work->system, &injection, &failure);
        status = er_solving_status(work->label, found, &failure);
    }
    if (status == 0) {
        status = er_work_tell(work, &er_inject_report, &injection);
    }
    status = er_plan_status(work->line, status, injection.fails ? ER_FAILS : ER_HOLDS);
    er_injection_release(&injection);
    return status;
}

static const struct er_option options[] = {ER_REPORT_OPTIONS, ER_EXPLAIN_OPTION, ER_LAST_OPTIONS};

const struct er_command er_inject_command = {
    .name = "inject",
    .operands = "FIELD",
    .least_operands = 1,
    .most_operands = 1,
    .summary = "How much fertilizer, how strong and how fast, from when to when?",
    .about = "For what the field's \"inject\" says: how much product each zone takes for a rate of "
             "nutrient per area or length of bed, or for a concentration; the stock solution, the "
             "injector's rate and its ratio; how long the water is on its way to the last emitter; "
             "and when to start and to stop, so that the system is filled before and flushed "
             "after.\nThe exit status is 1 where the plan fails or a run is too short, or where "
             "the stock would have to be stronger than it can be.",
    .exits = {"it can be injected so", "it can't: the report tells why, and what to change"},
    .examples = {"evenrow inject examples/feed-the-tape.json",
                 "evenrow inject examples/feed-the-tape.json --explain"},
    .options = options,
    .run = run_inject};
