#include "cli/options.h"

#include <string.h>

#include "base/nearest.h"
#include "cli/commands.h"
#include "cli/message.h"

static const struct er_option all_options[ER_OPTION_COUNT] = {
    {ER_OPTION_FORMAT,
     "format",
     0,
     "text|json|csv",
     ER_FOR_CHECK | ER_FOR_CATALOG,
     "How the result is written; text is for people and what you get without this.",
     {NULL, NULL}},
    {ER_OPTION_OUTPUT,
     "output",
     'o',
     "FILE",
     ER_FOR_ALL,
     "Writes to FILE instead of standard output, whole or not at all. A file that is there "
     "already is kept.",
     {NULL, NULL}},
    {ER_OPTION_FORCE, "force", 0, NULL, ER_FOR_ALL, "Lets -o replace a file.", {NULL, NULL}},
    {ER_OPTION_SET,
     "set",
     0,
     "POINTER=VALUE",
     ER_FOR_CHECK,
     "Changes the field before it is checked: the place that the JSON Pointer names gets VALUE, "
     "as in --set /zones/0/beds/0/length=250. May be given again; --set and --patch work in the "
     "order given.",
     {NULL, NULL}},
    {ER_OPTION_PATCH,
     "patch",
     0,
     "FILE",
     ER_FOR_CHECK,
     "Changes the field by a JSON Merge Patch before it is checked. May be given again.",
     {NULL, NULL}},
    {ER_OPTION_UNITS,
     "units",
     0,
     "us|metric",
     ER_FOR_CHECK | ER_FOR_START | ER_FOR_CATALOG,
     "Units of what is written. check: the field's own without this; start and catalog: us.",
     {NULL, NULL}},
    {ER_OPTION_STRICT,
     "strict",
     0,
     NULL,
     ER_FOR_CHECK,
     "A caution, too, ends with exit status 1.",
     {NULL, NULL}},
    {ER_OPTION_QUIET,
     "quiet",
     0,
     NULL,
     ER_FOR_CHECK | ER_FOR_START,
     "check: prints the verdict's line alone. start: says nothing on standard error.",
     {NULL, NULL}},
    {ER_OPTION_TITLE, "title", 0, "TEXT", ER_FOR_START, "Title of the plan.", {NULL, NULL}},
    {ER_OPTION_BEDS, "beds", 0, "COUNT", ER_FOR_START, "Number of beds.", {"10", "10"}},
    {ER_OPTION_LENGTH, "length", 0, "LENGTH", ER_FOR_START, "Length of a bed.", {"100 ft", "30 m"}},
    {ER_OPTION_SPACING,
     "spacing",
     0,
     "LENGTH",
     ER_FOR_START,
     "From the centre of a bed to that of the next.",
     {"6 ft", "1.8 m"}},
    {ER_OPTION_BED_WIDTH,
     "bed-width",
     0,
     "LENGTH",
     ER_FOR_START,
     "Wetted or rooted width of a bed.",
     {"30 in", "760 mm"}},
    {ER_OPTION_SLOPE,
     "slope",
     0,
     "PERCENT",
     ER_FOR_START,
     "Slope along the beds, going away from the header; uphill is positive.",
     {"0", "0"}},
    {ER_OPTION_TAPES, "tapes", 0, "COUNT", ER_FOR_START, "Tapes on a bed.", {"1", "1"}},
    {ER_OPTION_TAPE_FLOW,
     "tape-flow",
     0,
     "FLOW",
     ER_FOR_START,
     "Nominal flow of the tape.",
     {"0.45 gpm/100ft", "3.3 L/h/m"}},
    {ER_OPTION_TAPE_PRESSURE,
     "tape-pressure",
     0,
     "PRESSURE",
     ER_FOR_START,
     "Pressure at which the tape gives that flow.",
     {"8 psi", "55 kPa"}},
    {ER_OPTION_TAPE_DIAMETER,
     "tape-diameter",
     0,
     "LENGTH",
     ER_FOR_START,
     "Inside diameter of the tape.",
     {"5/8 in", "16 mm"}},
    {ER_OPTION_EMITTER_SPACING,
     "emitter-spacing",
     0,
     "LENGTH",
     ER_FOR_START,
     "From one emitter to the next.",
     {"12 in", "300 mm"}},
    {ER_OPTION_BUCKET,
     "bucket",
     0,
     "VOLUME:TIME",
     ER_FOR_START,
     "A bucket test of the source: how much ran from it, wide open, in how long, as in "
     "\"5 gal:30 s\". Bare numbers are gal or L, and seconds.",
     {"5 gal:30 s", "20 L:30 s"}},
    {ER_OPTION_SOURCE_FLOW,
     "source-flow",
     0,
     "FLOW",
     ER_FOR_START,
     "Instead of a bucket test: the flow that the source can give at --source-pressure. With "
     "--pond it has a default, and that of --bucket does not count.",
     {"30 gpm", "7 m3/h"}},
    {ER_OPTION_SOURCE_PRESSURE,
     "source-pressure",
     0,
     "PRESSURE",
     ER_FOR_START,
     "Pressure at the source: with --source-flow at that flow, else with the water shut.",
     {"40 psi", "280 kPa"}},
    {ER_OPTION_POND,
     "pond",
     0,
     "VOLUME",
     ER_FOR_START,
     "Usable volume of the pond or tank that the source draws from.",
     {NULL, NULL}},
    {ER_OPTION_NEED,
     "need",
     0,
     "DEPTH",
     ER_FOR_START,
     "What the crop uses in a day at its peak.",
     {"0.2 in/day", "5 mm/day"}},
    {ER_OPTION_HELP, "help", 'h', NULL, ER_FOR_ALL, "Shows this help.", {NULL, NULL}},
    {ER_OPTION_VERSION, "version", 0, NULL, ER_FOR_ALL, "Shows the version.", {NULL, NULL}},
};

const struct er_option *er_options(void) { return all_options; }

bool er_option_given(const struct er_command_line *line, enum er_option_id id)
{
    for (size_t i = 0; i < line->use_count; i++) {
        if (line->uses[i].option->id == id) {
            return true;
        }
    }
    return false;
}

const char *er_option_value(const struct er_command_line *line, enum er_option_id id)
{
    for (size_t i = line->use_count; i > 0; i--) {
        if (line->uses[i - 1].option->id == id) {
            return line->uses[i - 1].value;
        }
    }
    return NULL;
}

/* The option whose long name is the first `length` bytes of `name`, or NULL. */
static const struct er_option *find_long(const char *name, size_t length)
{
    for (size_t i = 0; i < ER_OPTION_COUNT; i++) {
        if (strncmp(all_options[i].name, name, length) == 0 &&
            all_options[i].name[length] == '\0') {
            return &all_options[i];
        }
    }
    return NULL;
}

static const struct er_option *find_letter(char letter)
{
    for (size_t i = 0; i < ER_OPTION_COUNT; i++) {
        if (all_options[i].letter != '\0' && all_options[i].letter == letter) {
            return &all_options[i];
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
    for (size_t i = 0; i < ER_OPTION_COUNT; i++) {
        if (all_options[i].commands & line->command->bit) {
            er_nearest_offer(&nearest, all_options[i].name);
        }
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
    line->uses[line->use_count++] = (struct er_option_use){option, value};
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
    const struct er_option *option = is_long ? find_long(name, length) : find_letter(name[0]);
    if (option == NULL || (option->commands & line->command->bit) == 0) {
        return unknown_option(line, argument, name, is_long ? length : strlen(name));
    }
    const char *attached = NULL;
    if (name[length] != '\0') {
        attached = name + length + (is_long ? 1 : 0);
    }
    return read_value(line, reading, option, attached);
}

/* Whether there are as many operands as the command wants. */
static int count_operands(const struct er_command_line *line)
{
    const struct er_command *command = line->command;
    if (line->operand_count < command->least_operands) {
        return er_message(ER_EXIT_BAD_INPUT, "%s wants %s; see 'evenrow %s --help'", command->name,
                          command->operands, command->name);
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
