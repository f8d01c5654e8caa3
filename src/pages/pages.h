/* The parts of manual pages and completions that are made from the program's own tables. */
#ifndef ER_PAGES_PAGES_H
#define ER_PAGES_PAGES_H

#include "base/text.h"
#include "cli/commands.h"

/* A part and its name in a frame, where it stands as @NAME@. */
struct er_check_page_part {
    const char *name;
    void (*append)(struct er_text *out);
};

/* For evenrow(1): page_commands.c */
void er_check_page_commands(struct er_text *out);
void er_check_page_options(struct er_text *out);

/* For evenrow-field(5): page_keys.c */
void er_check_page_quantities(struct er_text *out);
void er_check_page_keys(struct er_text *out);
void er_check_page_readings(struct er_text *out);

/* For the shells: completions.c */
void er_check_page_command_names(struct er_text *out);
void er_check_page_word_table(struct er_text *out);
void er_check_page_zsh_commands(struct er_text *out);
void er_check_page_zsh_arguments(struct er_text *out);
void er_check_page_fish(struct er_text *out);

/* Calls `visit` for every option of the command, in the table's order. */
void er_each_option(const struct er_command *command,
                    void (*visit)(struct er_text *out, const struct er_command *command,
                                  const struct er_option *option),
                    struct er_text *out);

/* Appends running text to the source of a manual page: what roff would take for its own is
 * escaped, and lines end where sentences do, and before they grow long. */
void er_roff_append(struct er_text *out, const char *text);

/* The same of the first `count` bytes. */
void er_roff_append_bytes(struct er_text *out, const char *text, size_t count);

/* The same, for a word in bold or italics: \fB...\fR. */
void er_roff_append_in(struct er_text *out, char font, const char *text);

/* The same for paragraphs parted by '\n', with `macro` between them. */
void er_roff_append_paragraphs(struct er_text *out, const char *text, const char *macro);

#endif
