/* The commands. Each stands whole in its own file; commands.c lists them for the program, its help,
 * the manual and the completions. */
#ifndef ER_CLI_COMMANDS_H
#define ER_CLI_COMMANDS_H

#include <stddef.h>

#include "cli/options.h"
#include "cli/work.h"

struct er_command {
    const char *name;
    const char *operands; /* as help shows them, "" for none */
    size_t least_operands, most_operands;
    const char *summary;     /* one line */
    const char *about;       /* paragraphs parted by '\n' */
    const char *exits[4];    /* what its exit statuses mean; NULL: as everywhere, or never */
    const char *examples[3]; /* command lines that work as typed beside examples/ */
    const struct er_option *options;  /* ends with a name of NULL */
    int (*run)(struct er_work *work); /* returns the exit status */
};

/* The table; *count is its length. */
const struct er_command *const *er_commands(size_t *count);

/* The command of that name, or NULL. */
const struct er_command *er_command_find(const char *name);

/* Says that there is no such command, with the nearest one. Returns the exit status. */
int er_command_unknown(const char *name);

/* One for each command, in its own file. */
extern const struct er_command er_start_command, er_check_command, er_reach_command,
    er_split_command, er_choose_command, er_supply_command, er_season_command, er_inject_command,
    er_buy_command, er_visit_command, er_card_command, er_compare_command, er_draw_command,
    er_catalog_command, er_schema_command;

/* Writes the help of one command, or with NULL of the program. Returns the exit status. */
int er_help(const struct er_command *command);

/* Writes the version. Returns the exit status. */
int er_version(void);

#endif
