/* All commands. */
#include "cli/commands.h"

#include <string.h>

#include "base/nearest.h"
#include "cli/message.h"

/* In the order in which a grower comes to need them. */
static const struct er_command *const all_commands[] = {
    &er_start_command,  &er_check_command,   &er_reach_command,  &er_split_command,
    &er_choose_command, &er_supply_command,  &er_season_command, &er_inject_command,
    &er_buy_command,    &er_visit_command,   &er_card_command,   &er_compare_command,
    &er_draw_command,   &er_catalog_command, &er_schema_command};

#define COMMANDS (sizeof all_commands / sizeof all_commands[0])

const struct er_command *const *er_commands(size_t *count)
{
    *count = COMMANDS;
    return all_commands;
}

const struct er_command *er_command_find(const char *name)
{
    for (size_t i = 0; i < COMMANDS; i++) {
        if (strcmp(all_commands[i]->name, name) == 0) {
            return all_commands[i];
        }
    }
    return NULL;
}

int er_command_unknown(const char *name)
{
    struct er_nearest nearest;
    er_nearest_begin(&nearest, name);
    for (size_t i = 0; i < COMMANDS; i++) {
        er_nearest_offer(&nearest, all_commands[i]->name);
    }
    if (nearest.best != NULL) {
        return er_message(ER_EXIT_BAD_INPUT, "no command is called '%s'; did you mean '%s'?", name,
                          nearest.best);
    }
    return er_message(ER_EXIT_BAD_INPUT, "no command is called '%s'; 'evenrow --help' lists them",
                      name);
}
