/* The field files of a folder, listed and sorted. */

/* POSIX.1-2008 with opendir. NOLINTNEXTLINE(bugprone-reserved-identifier) */
#define _POSIX_C_SOURCE 200809L

#include "cli/folder.h"

#include <dirent.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "cli/message.h"

bool er_is_folder(const char *path)
{
    struct stat there;
    return stat(path, &there) == 0 && S_ISDIR(there.st_mode);
}

static bool is_field_file(const char *name)
{
    size_t length = strlen(name);
    return name[0] != '.' && length > 5 && strcmp(name + length - 5, ".json") == 0;
}

/* Puts the next name of a field file into *name, NULL at the end. 0, or `errno`. */
static int next_file(DIR *stream, const char **name)
{
    const struct dirent *entry;
    do {
        errno = 0;
        entry = readdir(stream);
    } while (entry != NULL && !is_field_file(entry->d_name));
    *name = entry != NULL ? entry->d_name : NULL;
    return entry != NULL ? 0 : errno;
}

static int count_files(DIR *stream, size_t *count)
{
    const char *name;
    int reason;
    *count = 0;
    while ((reason = next_file(stream, &name)) == 0 && name != NULL) {
        ++*count;
    }
    rewinddir(stream);
    return reason;
}

/* The same again, keeping the paths; files that came in the meantime have no room. */
static int keep_files(DIR *stream, const char *folder, struct er_arena *arena, const char **paths,
                      size_t room, size_t *count)
{
    const char *slash = folder[strlen(folder) - 1] == '/' ? "" : "/";
    const char *name;
    int reason;
    *count = 0;
    while ((reason = next_file(stream, &name)) == 0 && name != NULL && *count < room) {
        paths[*count] = er_arena_format(arena, "%s%s%s", folder, slash, name);
        if (paths[(*count)++] == NULL) {
            return ENOMEM;
        }
    }
    return reason;
}

static int compare_paths(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static int list_files(DIR *stream, const char *folder, struct er_arena *arena, const char ***paths,
                      size_t *count)
{
    size_t room;
    int reason = count_files(stream, &room);
    if (reason != 0) {
        return reason;
    }
    *paths = er_arena_array(arena, room, sizeof **paths);
    if (*paths == NULL) {
        return ENOMEM;
    }
    reason = keep_files(stream, folder, arena, *paths, room, count);
    qsort(*paths, *count, sizeof **paths, compare_paths);
    return reason;
}

int er_folder_files(const char *folder, struct er_arena *arena, const char ***paths, size_t *count)
{
    DIR *stream = opendir(folder);
    int reason = stream == NULL ? errno : list_files(stream, folder, arena, paths, count);
    if (stream != NULL) {
        closedir(stream);
    }
    if (reason == ENOMEM) {
        return er_message_no_memory();
    }
    if (reason != 0) {
        return er_message(ER_EXIT_BAD_INPUT, "%s: %s", folder, strerror(reason));
    }
    if (*count == 0) {
        return er_message(ER_EXIT_BAD_INPUT, "%s: no file in this folder ends in .json", folder);
    }
    return 0;
}
