/* What the completions of the shells offer, in each shell's own way. */
#include <string.h>

#include "pages/pages.h"

/* The bytes of the first sentence, or of what stands before its first colon or semicolon. */
static size_t first_words(const char *text)
{
    size_t length = 0;
    while (text[length] != '\0' && !(strchr(":;.?!", text[length]) != NULL &&
                                     (text[length + 1] == ' ' || text[length + 1] == '\0'))) {
        length++;
    }
    return text[length] == '?' ? length + 1 : length;
}

static bool is_choice(const char *value) { return value != NULL && strchr(value, '|') != NULL; }

/* The operands without the brackets that say they may be left out. */
static void append_operands(struct er_text *out, const char *operands)
{
    for (; *operands != '\0'; operands++) {
        if (strchr("[].", *operands) == NULL) {
            er_text_append_bytes(out, operands, 1);
        }
    }
}

/* "us|metric" as "us metric", which all three shells take for a list. */
static void append_choices(struct er_text *out, const char *choices)
{
    for (; *choices != '\0'; choices++) {
        if (strchr("[]", *choices) == NULL) {
            er_text_append_bytes(out, *choices == '|' ? " " : choices, 1);
        }
    }
}

void er_check_page_command_names(struct er_text *out)
{
    size_t count;
    const struct er_command *const *commands = er_commands(&count);
    for (size_t i = 0; i < count; i++) {
        er_text_appendf(out, i == 0 ? "%s" : " %s", commands[i]->name);
    }
}

/* For bash: COMMAND OPTION VALUE, a line each. */

static void append_word_line(struct er_text *out, const struct er_command *command,
                             const struct er_option *option)
{
    const char *blank = option->value != NULL ? " " : "";
    const char *value = option->value != NULL ? option->value : "";
    er_text_appendf(out, "\n%s --%s%s%s", command->name, option->name, blank, value);
    if (option->letter != '\0') {
        er_text_appendf(out, "\n%s -%c%s%s", command->name, option->letter, blank, value);
    }
}

void er_check_page_word_table(struct er_text *out)
{
    size_t count;
    const struct er_command *const *commands = er_commands(&count);
    for (size_t i = 0; i < count; i++) {
        er_text_appendf(out, i == 0 ? "%s ." : "\n%s .", commands[i]->name);
        er_text_append(out, commands[i]->operands[0] != '\0' ? " " : "");
        append_operands(out, commands[i]->operands);
        er_each_option(commands[i], append_word_line, out);
    }
}

/* For zsh, between single quotes; `escaped` are the characters that its specifications want
 * behind a backslash. */
static void append_zsh(struct er_text *out, const char *text, size_t count, const char *escaped)
{
    for (size_t i = 0; i < count; i++) {
        if (text[i] == '\'') {
            er_text_append(out, "'\\''");
        } else {
            er_text_append(out, strchr(escaped, text[i]) != NULL ? "\\" : "");
            er_text_append_bytes(out, &text[i], 1);
        }
    }
}

void er_check_page_zsh_commands(struct er_text *out)
{
    size_t count;
    const struct er_command *const *commands = er_commands(&count);
    for (size_t i = 0; i < count; i++) {
        er_text_appendf(out, i == 0 ? "    '%s:" : "\n    '%s:", commands[i]->name);
        append_zsh(out, commands[i]->summary, first_words(commands[i]->summary), "\\:");
        er_text_append(out, "'");
    }
}

/* "[what it does]:VALUE:what may stand there" */
static void append_zsh_rest(struct er_text *out, const struct er_option *option)
{
    er_text_append(out, "[");
    append_zsh(out, option->help, first_words(option->help), "\\[]");
    er_text_append(out, "]");
    if (option->value != NULL) {
        er_text_append(out, ":");
        append_zsh(out, option->value, strlen(option->value), "\\:");
        er_text_append(out, ":");
    }
    if (is_choice(option->value)) {
        er_text_append(out, "(");
        append_choices(out, option->value);
        er_text_append(out, ")");
    } else if (option->value != NULL) {
        er_text_append(out, strcmp(option->value, "FILE") == 0 ? "_files" : " ");
    }
    er_text_append(out, "'");
}

static void append_zsh_option(struct er_text *out, const struct er_command *command,
                              const struct er_option *option)
{
    (void)command;
    bool takes = option->value != NULL;
    if (option->letter != '\0') {
        er_text_appendf(out, takes ? " \\\n        '*-%c+" : " \\\n        '*-%c", option->letter);
        append_zsh_rest(out, option);
    }
    er_text_appendf(out, takes ? " \\\n        '*--%s=" : " \\\n        '*--%s", option->name);
    append_zsh_rest(out, option);
}

static void append_zsh_operands(struct er_text *out, const struct er_command *command)
{
    if (command->most_operands == 0) {
        return;
    }
    er_text_append(out, " \\\n        '*:");
    append_operands(out, command->operands);
    if (is_choice(command->operands)) {
        er_text_append(out, ":(");
        append_choices(out, command->operands);
        er_text_append(out, ")'");
    } else {
        er_text_append(out, ":_files'");
    }
}

void er_check_page_zsh_arguments(struct er_text *out)
{
    size_t count;
    const struct er_command *const *commands = er_commands(&count);
    for (size_t i = 0; i < count; i++) {
        er_text_appendf(out, i == 0 ? "    %s)\n" : "\n    %s)\n", commands[i]->name);
        er_text_append(out, "      _arguments");
        er_each_option(commands[i], append_zsh_option, out);
        append_zsh_operands(out, commands[i]);
        er_text_append(out, "\n      ;;");
    }
}

/* For fish, between single quotes. */
static void append_fish(struct er_text *out, const char *text, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        er_text_append(out, text[i] == '\'' || text[i] == '\\' ? "\\" : "");
        er_text_append_bytes(out, &text[i], 1);
    }
}

static void append_fish_option(struct er_text *out, const struct er_command *command,
                               const struct er_option *option)
{
    er_text_appendf(out, "\ncomplete -c evenrow -n '__evenrow_in %s' -l %s", command->name,
                    option->name);
    if (option->letter != '\0') {
        er_text_appendf(out, " -s %c", option->letter);
    }
    if (is_choice(option->value)) {
        er_text_append(out, " -x -a '");
        append_choices(out, option->value);
        er_text_append(out, "'");
    } else if (option->value != NULL) {
        er_text_append(out, strcmp(option->value, "FILE") == 0 ? " -r -F" : " -x");
    }
    er_text_append(out, " -d '");
    append_fish(out, option->help, first_words(option->help));
    er_text_append(out, "'");
}

static void append_fish_command(struct er_text *out, const struct er_command *command)
{
    er_text_appendf(out, "complete -c evenrow -n __evenrow_first -a %s -d '", command->name);
    append_fish(out, command->summary, first_words(command->summary));
    er_text_append(out, "'");
    if (is_choice(command->operands)) {
        er_text_appendf(out, "\ncomplete -c evenrow -n '__evenrow_in %s' -a '", command->name);
        append_choices(out, command->operands);
        er_text_append(out, "'");
    } else if (command->most_operands > 0) {
        er_text_appendf(out, "\ncomplete -c evenrow -n '__evenrow_in %s' -F", command->name);
    }
    er_each_option(command, append_fish_option, out);
}

void er_check_page_fish(struct er_text *out)
{
    size_t count;
    const struct er_command *const *commands = er_commands(&count);
    for (size_t i = 0; i < count; i++) {
        er_text_append(out, i == 0 ? "" : "\n");
        append_fish_command(out, commands[i]);
    }
}
