/* The option that shows the arithmetic. */
#ifndef ER_CLI_EXPLAIN_H
#define ER_CLI_EXPLAIN_H

#include "cli/options.h"
#include "evenrow/status.h"

/* Whether the arithmetic is asked for. */
bool er_explain_asked(const struct er_command_line *line);

/* It is for people, and in no table or object: 0, or an exit status after a message. */
int er_explain_format(const struct er_command_line *line);

#endif
