/* What the program says of itself. */
#include <stdbool.h>
#include <string.h>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/message.h"
#include "evenrow/units.h"
#include "say/wrap.h"

#define OPTION_COLUMN 28 /* where the words about an option begin */

/* Writes and releases what has been made, if memory was enough for it. */
static int print(struct er_text *out)
{
    int status = out->out_of_memory ? er_message_no_memory() : er_print(out);
    er_text_release(out);
    return status;
}

/* The paragraphs of `text`, which are parted by '\n', each with an empty line behind it. */
static void append_paragraphs(struct er_text *out, const char *text)
{
    struct er_text one;
    er_text_init(&one);
    while (*text != '\0') {
        size_t bytes = strcspn(text, "\n");
        er_text_clear(&one);
        er_text_append_bytes(&one, text, bytes);
        er_paragraph(out, "", "", er_text_string(&one));
        er_text_append(out, "\n");
        text += bytes + (text[bytes] == '\n');
    }
    out->out_of_memory = out->out_of_memory || one.out_of_memory;
    er_text_release(&one);
}

/* What an option does, and what stands for it where it is not given. */
static void append_words(struct er_text *out, const struct er_option *option)
{
    const char *us = option->defaults[ER_US], *metric = option->defaults[ER_METRIC];
    er_text_append(out, option->help);
    if (us != NULL && strcmp(us, metric) == 0) {
        er_text_appendf(out, " Default: %s.", us);
    } else if (us != NULL) {
        er_text_appendf(out, " Default: %s; metric %s.", us, metric);
    }
}

/* "  --format text|json|csv  How ...", over as many lines as it takes. */
static void append_option(struct er_text *out, const struct er_option *option)
{
    struct er_text head;
    er_text_init(&head);
    if (option->letter != '\0') {
        er_text_appendf(&head, "  -%c, --%s", option->letter, option->name);
    } else {
        er_text_appendf(&head, "  --%s", option->name);
    }
    er_text_appendf(&head, option->value != NULL ? " %s" : "%s",
                    option->value != NULL ? option->value : "");
    if (head.length + 2 > OPTION_COLUMN) {
        er_text_appendf(out, "%s\n", er_text_string(&head));
        er_text_clear(&head);
    }
    while (head.length < OPTION_COLUMN && !head.out_of_memory) {
        er_text_append(&head, " ");
    }
    static const char blanks[OPTION_COLUMN + 1] = "                            ";
    struct er_text words;
    er_text_init(&words);
    append_words(&words, option);
    er_paragraph(out, er_text_string(&head), blanks, er_text_string(&words));
    out->out_of_memory = out->out_of_memory || head.out_of_memory || words.out_of_memory;
    er_text_release(&words);
    er_text_release(&head);
}

/* The exit statuses that a command can end with. */
static void append_exit_statuses(struct er_text *out, const struct er_command *command)
{
    static const char *const usual[] = {
        NULL, NULL, "the input or the command line is wrong; nothing was worked out",
        "the program could not finish, for want of memory or of room on a disk, or since the plan "
        "could not be solved; nothing was written"};
    er_text_append(out, "\nExit status\n");
    for (size_t i = 0; i < sizeof usual / sizeof usual[0]; i++) {
        const char *words = command->exits[i] != NULL ? command->exits[i] : usual[i];
        const char number[] = {' ', ' ', (char)('0' + i), ' ', ' ', '\0'};
        if (words != NULL) {
            er_paragraph(out, number, "     ", words);
        }
    }
}

/* As they are typed, however long. */
static void append_examples(struct er_text *out, const struct er_command *command)
{
    er_text_append(out, "\nExamples\n");
    for (size_t i = 0; i < sizeof command->examples / sizeof command->examples[0]; i++) {
        if (command->examples[i] != NULL) {
            er_text_appendf(out, "  %s\n", command->examples[i]);
        }
    }
}

static void append_command_help(struct er_text *out, const struct er_command *command)
{
    er_text_appendf(out, "evenrow %s", command->name);
    er_text_appendf(out, command->operands[0] != '\0' ? " %s" : "%s", command->operands);
    er_text_append(out, " [OPTION]...\n\n");
    append_paragraphs(out, command->summary);
    append_paragraphs(out, command->about);
    er_text_append(out, "Options\n");
    for (const struct er_option *option = command->options; option->name != NULL; option++) {
        append_option(out, option);
    }
    append_exit_statuses(out, command);
    append_examples(out, command);
}

static void append_program_help(struct er_text *out)
{
    er_text_append(out, "evenrow COMMAND [ARGUMENT]...\n\n");
    append_paragraphs(out, "Plans drip irrigation: which beds make a zone, what every row gets, "
                           "how long to run, and whether the source keeps up.");
    er_text_append(out, "Commands\n");
    size_t count;
    const struct er_command *const *commands = er_commands(&count);
    for (size_t i = 0; i < count; i++) {
        struct er_text head;
        er_text_init(&head);
        er_text_appendf(&head, "  %-8s ", commands[i]->name);
        er_paragraph(out, er_text_string(&head), "           ", commands[i]->summary);
        out->out_of_memory = out->out_of_memory || head.out_of_memory;
        er_text_release(&head);
    }
    er_text_append(
        out, "\n'evenrow help COMMAND' tells more about a command, 'evenrow --version' the\n"
             "version. To begin with: a first plan, its check, a sheet for the pump house:\n\n"
             "  evenrow start --beds 12 --length \"200 ft\" -o field.json\n"
             "  evenrow check field.json\n"
             "  evenrow card field.json --format html -o card.html\n");
}

int er_help(const struct er_command *command)
{
    struct er_text out;
    er_text_init(&out);
    if (command != NULL) {
        append_command_help(&out, command);
    } else {
        append_program_help(&out);
    }
    return print(&out);
}

int er_version(void)
{
    struct er_text out;
    er_text_init(&out);
    er_text_append(&out, "evenrow " EVENROW_VERSION "\n");
    return print(&out);
}
