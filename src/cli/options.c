/* The command line, read once. */
#include "cli/options.h"

#include <string.h>

#include "base/nearest.h"
#include "cli/commands.h"
#include "cli/message.h"

bool er_option_given(const struct er_command_line *line, enum er_option_id id)
{
    return line->last[id].option != NULL;
}

const char *er_option_value(const struct er_command_line *line, enum er_option_id id)
{
    return line->last[id].value;
}

const struct er_option *er_option_of(const struct er_command_line *line, enum er_option_id id)
{
    const struct er_option *option = line->command->options;
    while (option->name != NULL && option->id != id) {
        option++;
    }
    return option;
}

/* The command's option whose long name is the first `length` bytes of `name`, or NULL. */
static const struct er_option *find_long(const struct er_command *command, const char *name,
                                         size_t length)
{
    for (const struct er_option *option = command->options; option->name != NULL; option++) {
        if (strncmp(option->name, name, length) == 0 && option->name[length] == '\0') {
            return option;
        }
    }
    return NULL;
}

static const struct er_option *find_letter(const struct er_command *command, char letter)
{
    for (const struct er_option *option = command->options; option->name != NULL; option++) {
        if (option->letter != '\0' && option->letter == letter) {
            return option;
        }
    }
    return NULL;
}

/* Says that `argument` begins no option of the command; `name` is what stands behind the
 * dashes, of `length` bytes. */
static int unknown_option(const struct er_command_line *line, const char *argument,
                          const char *name, size_t length)
{
    char wanted[64];
    int shown = (int)strcspn(argument, "=");
    struct er_nearest nearest;
    if (length >= sizeof wanted) {
        length = sizeof wanted - 1;
    }
    memcpy(wanted, name, length);
    wanted[length] = '\0';
    er_nearest_begin(&nearest, wanted);
    for (const struct er_option *one = line->command->options; one->name != NULL; one++) {
        er_nearest_offer(&nearest, one->name);
    }
    if (nearest.best != NULL) {
        return er_message(ER_EXIT_BAD_INPUT, "%s has no option '%.*s'; did you mean '--%s'?",
                          line->command->name, shown, argument, nearest.best);
    }
    return er_message(ER_EXIT_BAD_INPUT, "%s has no option '%.*s'; see 'evenrow %s --help'",
                      line->command->name, shown, argument, line->command->name);
}

/* Whether `value` is one of the choices "a|b|c". */
static bool is_choice(const char *choices, const char *value)
{
    size_t length = strlen(value);
    for (;;) {
        size_t one = strcspn(choices, "|");
        if (one == length && strncmp(choices, value, length) == 0) {
            return true;
        }
        if (choices[one] == '\0') {
            return false;
        }
        choices += one + 1;
    }
}

/* Notes one use of an option. `value` is NULL if there was none. */
static int add_use(struct er_command_line *line, const struct er_option *option, const char *value)
{
    if (option->value != NULL && strchr(option->value, '|') != NULL &&
        !is_choice(option->value, value)) {
        return er_message(ER_EXIT_BAD_INPUT, "--%s is %s, not '%s'", option->name, option->value,
                          value);
    }
    line->last[option->id] = (struct er_option_use){option, value};
    line->uses[line->use_count++] = line->last[option->id];
    return 0;
}

/* What one argument turned out to be. */
struct reading {
    int count; /* arguments behind the command */
    const char *const *arguments;
    int at; /* the next one to read */
};

/* Reads the value of an option that takes one: `attached`, or the next argument. */
static int read_value(struct er_command_line *line, struct reading *reading,
                      const struct er_option *option, const char *attached)
{
    if (option->value == NULL && attached != NULL) {
        return er_message(ER_EXIT_BAD_INPUT, "--%s takes no value", option->name);
    }
    if (option->value == NULL || attached != NULL) {
        return add_use(line, option, attached);
    }
    if (reading->at == reading->count) {
        return er_message(ER_EXIT_BAD_INPUT, "--%s wants a value: %s", option->name, option->value);
    }
    return add_use(line, option, reading->arguments[reading->at++]);
}

/* Reads an argument that begins with dashes. */
static int read_option(struct er_command_line *line, struct reading *reading, const char *argument)
{
    bool is_long = argument[1] == '-';
    const char *name = argument + (is_long ? 2 : 1);
    size_t length = is_long ? strcspn(name, "=") : 1;
    const struct er_option *option =
        is_long ? find_long(line->command, name, length) : find_letter(line->command, name[0]);
    if (option == NULL) {
        return unknown_option(line, argument, name, is_long ? length : strlen(name));
    }
    const char *attached = NULL;
    if (name[length] != '\0') {
        attached = name + length + (is_long ? 1 : 0);
    }
    return read_value(line, reading, option, attached);
}

static bool takes_one_field(const struct er_command *command)
{
    return command->most_operands == 1 && strstr(command->operands, "FIELD") != NULL;
}

/* Whether there are as many operands as the command wants. */
static int count_operands(const struct er_command_line *line)
{
    const struct er_command *command = line->command;
    if (line->operand_count < command->least_operands) {
        return er_message(ER_EXIT_BAD_INPUT, "%s wants %s; see 'evenrow %s --help'", command->name,
                          command->operands, command->name);
    }
    if (line->operand_count > command->most_operands && takes_one_field(command)) {
        return er_message(
            ER_EXIT_BAD_INPUT,
            "%s takes one field file; to compare several, run 'evenrow compare %s %s'",
            command->name, line->operands[0], line->operands[1]);
    }
    if (line->operand_count > command->most_operands) {
        return er_message(ER_EXIT_BAD_INPUT, "%s has no use for '%s'; see 'evenrow %s --help'",
                          command->name, line->operands[command->most_operands], command->name);
    }
    return 0;
}

int er_options_parse(const struct er_command *command, int argument_count,
                     const char *const *arguments, struct er_command_line *line)
{
    struct reading reading = {argument_count, arguments, 0};
    size_t room = (size_t)argument_count;
    bool options_ended = false;
    *line = (struct er_command_line){.command = command};
    line->uses = er_arena_array(&line->arena, room, sizeof *line->uses);
    line->operands = er_arena_array(&line->arena, room, sizeof *line->operands);
    if (line->uses == NULL || line->operands == NULL) {
        return er_message_no_memory();
    }
    while (reading.at < argument_count) {
        const char *argument = arguments[reading.at++];
        if (options_ended || argument[0] != '-' || argument[1] == '\0') {
            line->operands[line->operand_count++] = argument;
        } else if (strcmp(argument, "--") == 0) {
            options_ended = true;
        } else {
            int status = read_option(line, &reading, argument);
            if (status != 0) {
                return status;
            }
            if (er_option_given(line, ER_OPTION_HELP) || er_option_given(line, ER_OPTION_VERSION)) {
                return 0;
            }
        }
    }
    return count_operands(line);
}
