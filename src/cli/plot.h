/* The option that plots a row's pressure in the terminal. */
#ifndef ER_CLI_PLOT_H
#define ER_CLI_PLOT_H

#include "base/text.h"
#include "cli/options.h"
#include "evenrow/check.h"

/* A plot is for people, and in no table, object or single line: 0, or an exit status after a
 * message. */
int er_plot_format(const struct er_command_line *line);

/* Appends the plot to a report if it is asked for. 0, or an exit status after a message. */
int er_plot_append(const struct er_command_line *line, const struct er_result *result,
                   struct er_text *out);

#endif
