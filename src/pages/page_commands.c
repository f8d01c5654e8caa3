/* The commands and the options, for evenrow(1). */
#include <string.h>

#include "evenrow/units.h"
#include "pages/pages.h"

void er_each_option(const struct er_command *command,
                    void (*visit)(struct er_text *out, const struct er_command *command,
                                  const struct er_option *option),
                    struct er_text *out)
{
    for (const struct er_option *option = command->options; option->name != NULL; option++) {
        visit(out, command, option);
    }
}

static void append_name(struct er_text *out, const struct er_command *command,
                        const struct er_option *option)
{
    const char *end = out->length > 0 ? out->data + out->length - 1 : "\n";
    er_roff_append(out, *end == '\n' ? "" : ", ");
    er_text_append(out, "\\fB\\-\\-");
    er_roff_append(out, option->name);
    er_text_append(out, "\\fR");
    (void)command;
}

static void append_command(struct er_text *out, const struct er_command *command)
{
    er_text_append(out, ".SS evenrow ");
    er_roff_append(out, command->name);
    er_text_append(out, command->operands[0] != '\0' ? " " : "");
    er_roff_append(out, command->operands);
    er_text_append(out, "\n");
    er_roff_append(out, command->summary);
    er_text_append(out, "\n.PP\n");
    er_roff_append_paragraphs(out, command->about, ".PP");
    er_text_append(out, ".PP\nOptions:\n");
    er_each_option(command, append_name, out);
    er_text_append(out, ".\n");
}

void er_check_page_commands(struct er_text *out)
{
    size_t count;
    const struct er_command *const *commands = er_commands(&count);
    for (size_t i = 0; i < count; i++) {
        append_command(out, commands[i]);
    }
}

/* FILE is a place to be filled in; of us|metric each word is meant as it stands. */
static void append_value(struct er_text *out, const char *value)
{
    bool words = strchr(value, '|') != NULL;
    er_text_append(out, words ? " \\fB" : " \\fI");
    for (; *value != '\0'; value++) {
        if (*value == '|') {
            er_text_append(out, "\\fR|\\fB");
        } else {
            er_roff_append_bytes(out, value, 1);
        }
    }
    er_text_append(out, "\\fR");
}

static void append_default(struct er_text *out, const struct er_option *option)
{
    const char *us = option->defaults[ER_US], *metric = option->defaults[ER_METRIC];
    if (us == NULL) {
        return;
    }
    er_text_append(out, "Default: ");
    er_roff_append(out, us);
    if (strcmp(us, metric) != 0) {
        er_text_append(out, "; metric ");
        er_roff_append(out, metric);
    }
    er_text_append(out, ".\n");
}

/* Whether the command has that very option; options of one name may be told in other words. */
static bool has_option(const struct er_command *command, const struct er_option *option)
{
    const struct er_option *own = command->options;
    while (own->name != NULL &&
           (strcmp(own->name, option->name) != 0 || strcmp(own->help, option->help) != 0)) {
        own++;
    }
    return own->name != NULL;
}

/* "For check, reach and buy." */
static void append_users(struct er_text *out, const struct er_option *option)
{
    size_t count, left = 0;
    const struct er_command *const *commands = er_commands(&count);
    for (size_t i = 0; i < count; i++) {
        left += has_option(commands[i], option);
    }
    if (left == count) {
        er_text_append(out, "For every command.\n");
        return;
    }
    er_text_append(out, "For ");
    for (size_t i = 0; i < count; i++) {
        if (has_option(commands[i], option)) {
            er_roff_append_in(out, 'B', commands[i]->name);
            left--;
            er_roff_append(out, left > 1 ? ", " : left == 1 ? " and " : ".");
        }
    }
    er_text_append(out, "\n");
}

static void append_option(struct er_text *out, const struct er_option *option)
{
    er_text_append(out, ".TP\n");
    if (option->letter != '\0') {
        er_text_appendf(out, "\\fB\\-%c\\fR, ", option->letter);
    }
    er_text_append(out, "\\fB\\-\\-");
    er_roff_append(out, option->name);
    er_text_append(out, "\\fR");
    if (option->value != NULL) {
        append_value(out, option->value);
    }
    er_text_append(out, "\n");
    er_roff_append(out, option->help);
    er_text_append(out, "\n");
    append_default(out, option);
    append_users(out, option);
}

/* Each option where the first command has it. */
void er_check_page_options(struct er_text *out)
{
    size_t count;
    const struct er_command *const *commands = er_commands(&count);
    for (size_t i = 0; i < count; i++) {
        for (const struct er_option *option = commands[i]->options; option->name != NULL;
             option++) {
            size_t first = 0;
            while (!has_option(commands[first], option)) {
                first++;
            }
            if (first == i) {
                append_option(out, option);
            }
        }
    }
}
