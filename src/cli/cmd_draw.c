/* Pictures. */
#include <string.h>

#include "cli/commands.h"
#include "cli/files.h"
#include "cli/load.h"
#include "cli/message.h"
#include "cli/shared_options.h"
#include "draw/draw.h"

/* What is drawn; the picture is the work's report. */
struct drawing {
    struct er_work *work;
    struct er_rows rows;
    enum er_verdict verdict; /* on the plan, or on its season where that is drawn */
};

static int measure_rows(struct drawing *drawing)
{
    struct er_failure failure;
    enum er_status status = er_rows_measure(&drawing->work->field, &drawing->rows, &failure);
    return er_solving_status(drawing->work->label, status, &failure);
}

/* The pictures that show single rows. */
static int draw_rows(struct drawing *drawing, bool plan)
{
    int status = measure_rows(drawing);
    if (status != 0) {
        return status;
    }
    enum er_status drawn = plan ? er_draw_plan(&drawing->work->result, &drawing->rows,
                                               drawing->work->system, &drawing->work->report)
                                : er_draw_pressure(&drawing->work->result, &drawing->rows,
                                                   drawing->work->system, &drawing->work->report);
    return drawn == ER_OK ? 0 : er_message_no_memory();
}

static int draw_supply(struct drawing *drawing)
{
    enum er_status drawn =
        er_draw_supply(&drawing->work->result, drawing->work->system, &drawing->work->report);
    return drawn == ER_OK ? 0 : er_message_no_memory();
}

static int draw_season(struct drawing *drawing)
{
    struct er_season_plan plan;
    struct er_season_fault fault;
    enum er_status status = er_season_plan_make(&drawing->work->result, &plan, &fault);
    if (status == ER_BAD_INPUT) {
        er_season_plan_release(&plan);
        return er_message(ER_EXIT_BAD_INPUT,
                          "%s: there is no season to draw: 'evenrow season' tells what is missing",
                          drawing->work->label);
    }
    if (status == ER_OK) {
        status = er_draw_season(&plan, drawing->work->system, &drawing->work->report);
        drawing->verdict = plan.verdict;
    }
    er_season_plan_release(&plan);
    return status == ER_OK ? 0 : er_message_no_memory();
}

static int draw(struct drawing *drawing)
{
    const char *what = er_option_value(drawing->work->line, ER_OPTION_WHAT);
    if (what == NULL || strcmp(what, "plan") == 0) {
        return draw_rows(drawing, true);
    }
    if (strcmp(what, "pressure") == 0) {
        return draw_rows(drawing, false);
    }
    return strcmp(what, "supply") == 0 ? draw_supply(drawing) : draw_season(drawing);
}

static int run_draw(struct er_work *work)
{
    struct drawing drawing = {.work = work};
    int status = er_work_check(work);
    drawing.verdict = work->result.verdict;
    if (status == 0) {
        status = draw(&drawing);
    }
    if (status == 0) {
        status = er_write_output(work->line, &work->report);
    }
    er_rows_release(&drawing.rows);
    return er_plan_status(work->line, status, drawing.verdict);
}

static const struct er_option options[] = {ER_OUTPUT_OPTION, ER_FORCE_OPTION, ER_CHANGE_OPTIONS,
                                           ER_VALUE(ER_OPTION_WHAT, "what",
                                                    "plan|pressure|supply|season",
                                                    "What is drawn; without this the plan."),
                                           ER_LAST_OPTIONS};

const struct er_command er_draw_command = {
    .name = "draw",
    .operands = "FIELD",
    .least_operands = 1,
    .most_operands = 1,
    .summary = "A picture of the plan, of its pressures, its source or its season.",
    .about = "Writes one SVG picture, which every browser shows and prints. The plan shows source, "
             "mainline, zones and beds to scale, each bed shaded by what its emitters give over "
             "the zone's mean; 'pressure' the lowest and the highest row of each zone; 'supply' "
             "the source's curve with each set of zones on it; 'season' the hours of each week and "
             "what is left in the storage. The shades can be told apart in grey and by people who "
             "see colours otherwise.\nThe field file tells lengths and no directions: how the "
             "zones lie to one another is a scheme, and the picture says so. A plan that fails is "
             "drawn, too; the exit status is then 1.",
    .exits = {"the plan holds, with cautions or without",
              "the plan fails; it is drawn all the same"},
    .examples = {"evenrow draw examples/pond-slope.json -o plan.svg",
                 "evenrow draw examples/season-pond.json --what season -o season.svg"},
    .options = options,
    .run = run_draw};
