/* Folders of field files. */
#ifndef ER_CLI_FOLDER_H
#define ER_CLI_FOLDER_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/arena.h"

/* Whether `path` is a folder. */
bool er_is_folder(const char *path);

/* Paths of the files in a folder whose names end in ".json" and do not begin with a point,
 * sorted by name, in the arena. 0, or an exit status after a message; a folder without such a
 * file is bad input. */
int er_folder_files(const char *folder, struct er_arena *arena, const char ***paths, size_t *count);

#endif
