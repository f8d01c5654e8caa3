/* The commands. One table (commands.c) drives the program and its help. */
#ifndef ER_CLI_COMMANDS_H
#define ER_CLI_COMMANDS_H

#include <stddef.h>

#include "cli/options.h"

struct er_command {
    const char *name;
    unsigned bit;         /* ER_FOR_... */
    const char *operands; /* as help shows them, "" for none */
    size_t least_operands, most_operands;
    const char *summary;                            /* one line */
    const char *about;                              /* paragraphs parted by '\n' */
    int (*run)(const struct er_command_line *line); /* returns the exit status */
};

/* The table; *count is its length. */
const struct er_command *er_commands(size_t *count);

/* The command of that name, or NULL. */
const struct er_command *er_command_find(const char *name);

/* Says that there is no such command, with the nearest one. Returns the exit status. */
int er_command_unknown(const char *name);

/* One for each command, in its own file. */
int er_run_check(const struct er_command_line *line);
int er_run_start(const struct er_command_line *line);
int er_run_reach(const struct er_command_line *line);
int er_run_catalog(const struct er_command_line *line);
int er_run_split(const struct er_command_line *line);
int er_run_choose(const struct er_command_line *line);
int er_run_supply(const struct er_command_line *line);
int er_run_season(const struct er_command_line *line);
int er_run_inject(const struct er_command_line *line);
int er_run_buy(const struct er_command_line *line);
int er_run_card(const struct er_command_line *line);
int er_run_farm_visit(
    const struct er_command_line *line); /* visit; hydraulics.h has the other name */
int er_run_compare(const struct er_command_line *line);
int er_run_draw(const struct er_command_line *line);
int er_run_schema(const struct er_command_line *line);

/* Writes the help of one command, or with NULL of the program. Returns the exit status. */
int er_help(const struct er_command *command);

/* Writes the version. Returns the exit status. */
int er_version(void);

#endif
