#include <string.h>

#include "cli/commands.h"
#include "cli/files.h"
#include "cli/load.h"
#include "cli/message.h"
#include "report/draw.h"

/* What the command has in hand. */
struct work {
    const struct er_command_line *line;
    const char *label; /* the field file, for messages */
    struct er_field field;
    enum er_system system; /* of the picture */
    struct er_result result;
    struct er_rows rows;
    struct er_text picture;
    enum er_verdict verdict; /* on the plan, or on its season where that is drawn */
};

static int measure_rows(struct work *work)
{
    struct er_failure failure;
    enum er_status status = er_rows_measure(&work->field, &work->rows, &failure);
    return er_solving_status(work->label, status, &failure);
}

/* The pictures that show single rows. */
static int draw_rows(struct work *work, bool plan)
{
    int status = measure_rows(work);
    if (status != 0) {
        return status;
    }
    enum er_status drawn =
        plan ? er_draw_plan(&work->result, &work->rows, work->system, &work->picture)
             : er_draw_pressure(&work->result, &work->rows, work->system, &work->picture);
    return drawn == ER_OK ? 0 : er_message_no_memory();
}

static int draw_supply(struct work *work)
{
    enum er_status drawn = er_draw_supply(&work->result, work->system, &work->picture);
    return drawn == ER_OK ? 0 : er_message_no_memory();
}

static int draw_season(struct work *work)
{
    struct er_season_plan plan;
    struct er_season_fault fault;
    enum er_status status = er_season_plan_make(&work->result, &plan, &fault);
    if (status == ER_BAD_INPUT) {
        er_season_plan_release(&plan);
        return er_message(ER_EXIT_BAD_INPUT,
                          "%s: there is no season to draw: 'evenrow season' tells what is missing",
                          work->label);
    }
    if (status == ER_OK) {
        status = er_draw_season(&plan, work->system, &work->picture);
        work->verdict = plan.verdict;
    }
    er_season_plan_release(&plan);
    return status == ER_OK ? 0 : er_message_no_memory();
}

static int draw(struct work *work)
{
    const char *what = er_option_value(work->line, ER_OPTION_WHAT);
    if (what == NULL || strcmp(what, "plan") == 0) {
        return draw_rows(work, true);
    }
    if (strcmp(what, "pressure") == 0) {
        return draw_rows(work, false);
    }
    return strcmp(what, "supply") == 0 ? draw_supply(work) : draw_season(work);
}

static int run(struct work *work)
{
    int status = er_load_field(work->line, &work->field);
    if (status != 0) {
        return status;
    }
    work->system = er_units_named(er_option_value(work->line, ER_OPTION_UNITS), work->field.system);
    status = er_check_field(work->label, &work->field, work->system, &work->result);
    if (status == 0) {
        work->verdict = work->result.verdict;
        status = draw(work);
    }
    if (status == 0) {
        status = er_write_output(work->line, &work->picture);
    }
    return er_plan_status(work->line, status, work->verdict);
}

int er_run_draw(const struct er_command_line *line)
{
    struct work work = {.line = line, .label = er_file_label(line->operands[0])};
    er_text_init(&work.picture);
    int status = run(&work);
    er_text_release(&work.picture);
    er_rows_release(&work.rows);
    er_result_release(&work.result);
    er_field_release(&work.field);
    return status;
}
