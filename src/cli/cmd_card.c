#include <string.h>

#include "cli/commands.h"
#include "cli/files.h"
#include "cli/flags.h"
#include "cli/load.h"
#include "cli/message.h"
#include "evenrow/card.h"
#include "evenrow/season.h"
#include "report/card_report.h"

#define MOST_PEOPLE 1000

/* What the command has in hand. */
struct work {
    const struct er_command_line *line;
    const char *label;
    enum er_system system; /* of the card */
    struct er_field field;
    struct er_result result;
    struct er_season_plan season;
    struct er_field peak_field; /* in the season's peak week; shares with `field` and `season` */
    struct er_result peak;      /* likewise */
    bool in_peak;               /* the card is for that week */
    struct er_text report;
};

/* Where only a season tells run times, works out those of its longest week. A season that cannot be
 * planned leaves blanks: 'evenrow season' tells why. */
static int find_peak(struct work *work)
{
    struct er_season_fault fault;
    if (!er_season_tells_runs(&work->field)) {
        return 0;
    }
    enum er_status status = er_season_plan_make(&work->result, &work->season, &fault);
    if (status == ER_BAD_INPUT) {
        return 0;
    }
    if (status == ER_OK) {
        status = er_season_peak_field(&work->season, &work->peak_field);
    }
    if (status != ER_OK) {
        return er_message_no_memory();
    }
    work->in_peak = true;
    return er_check_field(work->label, &work->peak_field, work->system, &work->peak);
}

static int make_report(struct work *work)
{
    struct er_flags flags;
    er_flags_begin(&flags, work->line, work->system);
    size_t people = er_flag_count(&flags, ER_OPTION_HANDS, MOST_PEOPLE);
    int exit_status = er_flags_end(&flags);
    if (exit_status != 0) {
        return exit_status;
    }
    const char *format = er_option_value(work->line, ER_OPTION_CARD_FORMAT);
    struct er_card card = {0};
    struct er_failure failure = {0};
    enum er_status status =
        er_card_make(work->in_peak ? &work->peak : &work->result, people, &card, &failure);
    exit_status = er_solving_status(work->label, status, &failure);
    if (exit_status != 0) {
        return exit_status;
    }
    card.season = work->in_peak ? &work->season : NULL;
    status = er_report_as(&er_card_report,
                          format != NULL && strcmp(format, "html") == 0 ? ER_AS_HTML : ER_AS_TEXT,
                          &card, work->system, &work->report);
    er_card_release(&card);
    return status == ER_OK ? 0 : er_message_no_memory();
}

static int run(struct work *work)
{
    int status = er_load_field(work->line, &work->field);
    if (status == 0) {
        work->system =
            er_units_named(er_option_value(work->line, ER_OPTION_UNITS), work->field.system);
        status = er_check_field(work->label, &work->field, work->system, &work->result);
    }
    if (status == 0) {
        status = find_peak(work);
    }
    if (status == 0) {
        status = make_report(work);
    }
    if (status == 0) {
        status = er_write_output(work->line, &work->report);
    }
    return er_plan_status(work->line, status,
                          work->in_peak ? work->season.verdict : work->result.verdict);
}

int er_run_card(const struct er_command_line *line)
{
    struct work work = {.line = line, .label = er_file_label(line->operands[0])};
    er_text_init(&work.report);
    int status = run(&work);
    er_text_release(&work.report);
    er_result_release(&work.peak);
    er_season_plan_release(&work.season);
    er_result_release(&work.result);
    er_field_release(&work.field);
    return status;
}
