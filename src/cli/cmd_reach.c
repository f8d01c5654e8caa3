/* How long rows may be. */
#include <stdio.h>

#include "cli/commands.h"
#include "cli/message.h"
#include "cli/reach.h"
#include "cli/shared_options.h"

/* Finds the longest row for one inlet pressure and ground. 0, or an exit status. */
static int find_row(const struct er_reach_answer *answer, const struct er_reach_table *table,
                    const struct er_ground *ground, double inlet, struct er_reach *reach)
{
    const struct er_reach_limits limits = {.uniformity = answer->uniformity,
                                           .flow_variation = answer->flow_variation,
                                           .emitters_per_plant = table->emitters_per_plant,
                                           .longest = answer->longest};
    if (er_reach_find_on(table->tape, ground, inlet, &limits, reach) != ER_OK) {
        char slope[64] = "its profile";
        if (ground->count == 0) {
            snprintf(slope, sizeof slope, "a slope of %g percent", 100.0 * ground->slope);
        }
        return er_message(ER_EXIT_UNFINISHED,
                          "a row with %g %s at its inlet on %s could not be solved",
                          er_from_si(ER_PRESSURE, answer->system, inlet),
                          er_unit_name(ER_PRESSURE, answer->system), slope);
    }
    return 0;
}

static int find_cells(struct er_reach_ask *ask)
{
    const struct er_reach_answer *answer = &ask->answer;
    struct er_reach_table *tables =
        er_arena_array(&ask->arena, answer->table_count, sizeof *tables);
    if (tables == NULL) {
        return er_message_no_memory();
    }
    int status = 0;
    for (size_t t = 0; status == 0 && t < answer->table_count; t++) {
        const struct er_reach_table *table = &answer->tables[t];
        size_t count = table->inlet_count * answer->slope_count;
        struct er_reach *cells = er_arena_array(&ask->arena, count, sizeof *cells);
        struct er_reach_own *own = er_arena_array(&ask->arena, table->own_count, sizeof *own);
        if (cells == NULL || own == NULL) {
            return er_message_no_memory();
        }
        for (size_t cell = 0; status == 0 && cell < count; cell++) {
            const struct er_ground even = {.slope = answer->slopes[cell % answer->slope_count]};
            status = find_row(answer, table, &even, table->inlets[cell / answer->slope_count],
                              &cells[cell]);
        }
        for (size_t i = 0; status == 0 && i < table->own_count; i++) {
            own[i] = table->own[i];
            status = find_row(answer, table, &own[i].ground, own[i].inlet, &own[i].reach);
        }
        tables[t] = *table;
        tables[t].cells = cells;
        tables[t].own = own;
    }
    ask->answer.tables = tables;
    return status;
}

static int run_reach(struct er_work *work)
{
    struct er_reach_ask ask;
    int status = er_reach_ask_read(work, &ask);
    if (status == 0) {
        status = find_cells(&ask);
    }
    if (status == 0) {
        status = er_work_tell(work, &er_reach_report, &ask.answer);
    }
    er_reach_ask_release(&ask);
    return status;
}

static const struct er_option options[] = {
    ER_REPORT_OPTIONS,
    ER_TAPE_OPTIONS,
    ER_VALUE(ER_OPTION_TAPE, "tape", "NAME",
             "A tape of the field file or of the catalogue, instead of one told by flags."),
    ER_VALUE(ER_OPTION_EXPONENT, "exponent", "X", "The emitter's exponent: 0.5 for most tape.",
             ER_USUAL("0.5", "0.5")),
    ER_VALUE(ER_OPTION_CV, "cv", "CV", "The tape's coefficient of manufacturing variation.",
             ER_USUAL("0.03", "0.03")),
    ER_VALUE(ER_OPTION_PLANT_SPACING, "plant-spacing", "LENGTH",
             "From plant to plant along the row; without this each emitter counts by itself."),
    ER_VALUE(ER_OPTION_INLETS, "inlets", "PRESSURE,...",
             "Pressures at the row's inlet, one line of the table each; without this five within "
             "the tape's rating."),
    ER_VALUE(ER_OPTION_SLOPES, "slopes", "PERCENT,...",
             "Slopes along the row, one column each; uphill is positive. Without this two of the "
             "field's own are added.",
             ER_USUAL("-3,-2,-1,0,1,2,3", "-3,-2,-1,0,1,2,3")),
    ER_VALUE(
        ER_OPTION_UNIFORMITY, "uniformity", "PERCENT",
        "The emission uniformity that a row must keep. Given alone, flow variation is not judged."),
    ER_VALUE(ER_OPTION_FLOW_VARIATION, "flow-variation", "PERCENT",
             "The flow variation that a row must not pass. Given alone, uniformity is not judged."),
    ER_VALUE(ER_OPTION_LONGEST, "longest", "LENGTH", "Rows longer than that are not tried.",
             ER_USUAL("2500 ft", "800 m")),
    ER_EXPLAIN_OPTION,
    ER_LAST_OPTIONS};

const struct er_command er_reach_command = {
    .name = "reach",
    .operands = "[FIELD]",
    .most_operands = 1,
    .summary = "How long may a row be, for this tape, pressure and slope?",
    .about = "The longest row for each pressure at its inlet and each slope along it, to one "
             "emitter, and what stops it there: uniformity, flow variation, the tape's rating, or "
             "a dry end. Downhill a row may keep the limits again when it is longer still; the "
             "length told is the last one at which every shorter row keeps them, too.\nWith FIELD, "
             "a field file, the tapes of its beds are taken, with its plants and limits; - reads "
             "it from standard input. Without, a tape is named by --tape or told by flags, and the "
             "limits are 85 percent of uniformity and 20 of flow variation. Values take a unit, as "
             "in --inlets \"6 psi,8 psi\"; a bare number is in the units of the report.",
    .exits = {"done"},
    .examples = {"evenrow reach --tape tape-16mm-12in-0.50",
                 "evenrow reach examples/pond-slope.json --slopes=-2,0,2"},
    .options = options,
    .run = run_reach};
