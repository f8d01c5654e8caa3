/* Files that are written whole or not at all. */
#ifndef ER_CLI_WHOLE_FILE_H
#define ER_CLI_WHOLE_FILE_H

#include <stdbool.h>

#include "base/text.h"

/* The exit status for an `errno`: whether the machine was short of something, or what the user
 * named cannot be used. */
int er_file_exit_status(int reason);

/* Writes `text` to the file, under another name in the same folder until it is whole; a signal
 * that ends the program takes that file away. With `force` it replaces an ordinary file that is
 * there and keeps its mode and, where it may, its owner; what is lost of it is said on standard
 * error. 0, or an exit status after a message. */
int er_write_whole_file(const char *path, bool force, const struct er_text *text);

#endif
