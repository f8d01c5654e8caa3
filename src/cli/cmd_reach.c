#include <string.h>

#include "cli/commands.h"
#include "cli/explain.h"
#include "cli/files.h"
#include "cli/message.h"
#include "cli/reach.h"
#include "report/explain.h"

/* Finds the longest row for one inlet pressure and slope. 0, or an exit status. */
static int find_cell(const struct er_reach_answer *answer, const struct er_reach_table *table,
                     size_t cell, struct er_reach *reach)
{
    double inlet = table->inlets[cell / answer->slope_count];
    double slope = answer->slopes[cell % answer->slope_count];
    const struct er_reach_limits limits = {.uniformity = answer->uniformity,
                                           .flow_variation = answer->flow_variation,
                                           .emitters_per_plant = table->emitters_per_plant,
                                           .longest = answer->longest};
    if (er_reach_find(table->tape, slope, inlet, &limits, reach) != ER_OK) {
        enum er_system system = answer->system;
        return er_message(ER_EXIT_UNFINISHED,
                          "a row with %g %s at its inlet on a slope of %g percent could not be "
                          "solved",
                          er_from_si(ER_PRESSURE, system, inlet), er_unit_name(ER_PRESSURE, system),
                          100.0 * slope);
    }
    return 0;
}

static int find_cells(struct er_reach_ask *ask)
{
    const struct er_reach_answer *answer = &ask->answer;
    struct er_reach_table *tables =
        er_arena_array(&ask->arena, answer->table_count, sizeof *tables);
    for (size_t t = 0; tables != NULL && t < answer->table_count; t++) {
        size_t count = answer->tables[t].inlet_count * answer->slope_count;
        struct er_reach *cells = er_arena_array(&ask->arena, count, sizeof *cells);
        if (cells == NULL) {
            return er_message_no_memory();
        }
        for (size_t cell = 0; cell < count; cell++) {
            int status = find_cell(answer, &answer->tables[t], cell, &cells[cell]);
            if (status != 0) {
                return status;
            }
        }
        tables[t] = answer->tables[t];
        tables[t].cells = cells;
    }
    ask->answer.tables = tables;
    return tables != NULL ? 0 : er_message_no_memory();
}

static enum er_status make_report(const struct er_command_line *line,
                                  const struct er_reach_answer *answer, struct er_text *out)
{
    const char *format = er_option_value(line, ER_OPTION_FORMAT);
    if (format == NULL || strcmp(format, "text") == 0) {
        return er_report_reach_text(answer, out);
    }
    return strcmp(format, "json") == 0 ? er_report_reach_json(answer, out)
                                       : er_report_reach_csv(answer, out);
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
    if (status == 0 && make_report(line, &ask.answer, &out) != ER_OK) {
        status = er_message_no_memory();
    }
    if (status == 0 && er_explain_asked(line)) {
        status = er_explain_status(er_explain_reach(&ask.answer, &out));
    }
    if (status == 0) {
        status = er_write_output(line, &out);
    }
    er_text_release(&out);
    er_reach_ask_release(&ask);
    return status;
}
