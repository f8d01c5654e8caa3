#include <stdio.h>
#include <string.h>

#include "cli/commands.h"
#include "cli/explain.h"
#include "cli/files.h"
#include "cli/forms.h"
#include "cli/message.h"
#include "cli/reach.h"
#include "report/reach_report.h"

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

int er_run_reach(const struct er_command_line *line)
{
    struct er_reach_ask ask;
    struct er_text out;
    er_text_init(&out);
    int status = er_reach_ask_read(line, &ask);
    if (status == 0) {
        status = er_explain_format(line);
    }
    if (status == 0) {
        status = find_cells(&ask);
    }
    if (status == 0) {
        status = er_make_report(line, &er_reach_report, &ask.answer, ask.answer.system, &out);
    }
    if (status == 0) {
        status = er_write_output(line, &out);
    }
    er_text_release(&out);
    er_reach_ask_release(&ask);
    return status;
}
