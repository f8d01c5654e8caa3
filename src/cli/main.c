/* evenrow: a planner for drip irrigation zones. */
#include <string.h>

#include "cli/commands.h"
#include "cli/message.h"

/* Help and version are asked for with or without a command. */
static int run_without_command(const char *first, const char *second)
{
    if (strcmp(first, "--version") == 0) {
        return er_version();
    }
    bool asked =
        strcmp(first, "help") == 0 || strcmp(first, "--help") == 0 || strcmp(first, "-h") == 0;
    if (!asked) {
        return er_message(ER_EXIT_BAD_INPUT,
                          "'%s' stands where a command should; 'evenrow --help' lists them", first);
    }
    if (second == NULL) {
        return er_help(NULL);
    }
    const struct er_command *command = er_command_find(second);
    return command != NULL ? er_help(command) : er_command_unknown(second);
}

static int run_command(const struct er_command *command, int count, const char *const *arguments)
{
    struct er_command_line line;
    int status = er_options_parse(command, count, arguments, &line);
    if (status == 0 && er_option_given(&line, ER_OPTION_HELP)) {
        status = er_help(command);
    } else if (status == 0 && er_option_given(&line, ER_OPTION_VERSION)) {
        status = er_version();
    } else if (status == 0) {
        struct er_work work;
        status = er_work_begin(&work, &line);
        status = status != 0 ? status : command->run(&work);
        er_work_release(&work);
    }
    er_arena_release(&line.arena);
    return status;
}

int main(int count, char **arguments)
{
    const char *const *given = (const char *const *)arguments;
    if (count < 2) {
        const int status = er_help(NULL);
        return status != 0 ? status : ER_EXIT_BAD_INPUT; /* nothing was done */
    }
    if (given[1][0] == '-' || strcmp(given[1], "help") == 0) {
        return run_without_command(given[1], count > 2 ? given[2] : NULL);
    }
    const struct er_command *command = er_command_find(given[1]);
    if (command == NULL) {
        return er_command_unknown(given[1]);
    }
    return run_command(command, count - 2, given + 2);
}
