/* Files in and out. */
#ifndef ER_CLI_FILES_H
#define ER_CLI_FILES_H

#include "base/text.h"
#include "cli/options.h"

/* Reads a whole file, or standard input for "-" (which it closes), and appends it to `text`.
 * 0, or an exit status after a message. */
int er_read_file(const char *path, struct er_text *text);

/* How messages call a file: its path, or "standard input" for "-". */
const char *er_file_label(const char *path);

/* Writes `text` to standard output and closes it, so that a full disk is noticed. To be called
 * once in a run. 0, or an exit status after a message. */
int er_print(const struct er_text *text);

/* Writes `text` where -o says, whole or not at all, or to standard output.
 * 0, or an exit status after a message. */
int er_write_output(const struct er_command_line *line, const struct er_text *text);

#endif
