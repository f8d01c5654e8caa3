/* The sheet for the pump house. */
#include "cli/commands.h"
#include "cli/flags.h"
#include "cli/load.h"
#include "cli/message.h"
#include "cli/shared_options.h"
#include "evenrow/card.h"
#include "evenrow/season.h"
#include "report/card/report.h"

#define MOST_PEOPLE 1000

/* The plan in its season's longest week. */
struct peak {
    bool found; /* else the card is for the plan as it is */
    struct er_season_plan season;
    struct er_field field; /* shares with the plan and the season */
    struct er_result result;
};

/* Where only a season tells run times, works out those of its longest week. A season that cannot be
 * planned leaves blanks: 'evenrow season' tells why. */
static int find_peak(const struct er_work *work, struct peak *peak)
{
    struct er_season_fault fault;
    if (!er_season_tells_runs(&work->field)) {
        return 0;
    }
    enum er_status status = er_season_plan_make(&work->result, &peak->season, &fault);
    if (status == ER_BAD_INPUT) {
        return 0;
    }
    if (status == ER_OK) {
        status = er_season_peak_field(&peak->season, &peak->field);
    }
    if (status != ER_OK) {
        return er_message_no_memory();
    }
    peak->found = true;
    return er_check_field(work->label, &peak->field, work->system, &peak->result);
}

static int read_people(const struct er_work *work, size_t *people)
{
    struct er_flags flags;
    er_flags_begin(&flags, work->line, work->system);
    *people = er_flag_count(&flags, ER_OPTION_HANDS, MOST_PEOPLE);
    return er_flags_end(&flags);
}

static int tell_card(struct er_work *work, const struct peak *peak, size_t people)
{
    struct er_card card = {0};
    struct er_failure failure = {0};
    enum er_status made =
        er_card_make(peak->found ? &peak->result : &work->result, people, &card, &failure);
    int status = er_solving_status(work->label, made, &failure);
    card.season = peak->found ? &peak->season : NULL;
    if (status == 0) {
        status = er_work_tell(work, &er_card_report, &card);
    }
    er_card_release(&card);
    return status;
}

static int run_card(struct er_work *work)
{
    struct peak peak = {.found = false};
    size_t people = 0;
    int status = er_work_check(work);
    if (status == 0) {
        status = find_peak(work, &peak);
    }
    if (status == 0) {
        status = read_people(work, &people);
    }
    if (status == 0) {
        status = tell_card(work, &peak, people);
    }
    status =
        er_plan_status(work->line, status, peak.found ? peak.season.verdict : work->result.verdict);
    er_result_release(&peak.result);
    er_season_plan_release(&peak.season);
    return status;
}

static const struct er_option options[] = {
    ER_VALUE(ER_OPTION_FORMAT, "format", "text|html",
             "How the card is written: html prints on one page for each set."),
    ER_VALUE(ER_OPTION_HANDS, "hands", "COUNT", "People who flush, 5 open tape ends each.",
             ER_USUAL("2", "2")),
    ER_OUTPUT_OPTION,
    ER_FORCE_OPTION,
    ER_CHANGE_OPTIONS,
    ER_LAST_OPTIONS};

const struct er_command er_card_command = {
    .name = "card",
    .operands = "FIELD",
    .least_operands = 1,
    .most_operands = 1,
    .summary = "A sheet for the pump house: valves, hours, gauge readings, flushing, a log.",
    .about = "For each set which valves to open, when and how long; what meter and gauges should "
             "show with the filter clean and due for cleaning; what it means when they do not; in "
             "which order to flush, and how many tape ends may be open at once; and blanks for a "
             "log. The figures are those of 'evenrow check'.\nWith --format html it is one file "
             "that needs nothing else, for a browser to print. Of a plan that fails each sheet "
             "says so at its top, and the exit status is 1.",
    .exits = {"the plan holds, with cautions or without",
              "the plan fails; the card says so at its head"},
    .examples = {"evenrow card examples/pond-slope.json",
                 "evenrow card examples/pond-slope.json --format html -o card.html"},
    .options = options,
    .run = run_card};
