/* POSIX.1-2008 with realpath. NOLINTNEXTLINE(bugprone-reserved-identifier) */
#define _XOPEN_SOURCE 700

#include "cli/files.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "cli/message.h"

/* Far over any field file, and small enough that an endless input ends before memory does. */
#define MOST_BYTES ((size_t)256 * 1024 * 1024)

/* The exit status for an `errno`: whether the machine was short of something, or what the user
 * named cannot be used. */
static int exit_status_of(int reason)
{
    bool short_of = reason == ENOSPC || reason == EDQUOT || reason == EIO || reason == ENOMEM ||
                    reason == EMFILE || reason == ENFILE;
    return short_of ? ER_EXIT_UNFINISHED : ER_EXIT_BAD_INPUT;
}

const char *er_file_label(const char *path)
{
    return strcmp(path, "-") == 0 ? "standard input" : path;
}

static int read_stream(FILE *stream, const char *label, struct er_text *text)
{
    char chunk[65536];
    size_t bytes;
    do {
        bytes = fread(chunk, 1, sizeof chunk, stream);
        er_text_append_bytes(text, chunk, bytes);
        if (text->out_of_memory) {
            return er_message_no_memory();
        }
        if (text->length > MOST_BYTES) {
            return er_message(ER_EXIT_BAD_INPUT, "%s: larger than 256 MiB, which is no field file",
                              label);
        }
    } while (bytes == sizeof chunk); /* fewer: the end, or an error */
    if (ferror(stream)) {
        return er_message(exit_status_of(errno), "%s: %s", label, strerror(errno));
    }
    return 0;
}

int er_read_file(const char *path, struct er_text *text)
{
    if (path[0] == '\0') {
        return er_message(ER_EXIT_BAD_INPUT,
                          "'' is no file: expected a file's name, or - for standard input");
    }
    FILE *stream = strcmp(path, "-") == 0 ? stdin : fopen(path, "rb");
    if (stream == NULL) {
        return er_message(exit_status_of(errno), "%s: %s", path, strerror(errno));
    }
    int status = read_stream(stream, er_file_label(path), text);
    fclose(stream);
    return status;
}

int er_print(const struct er_text *text)
{
    bool written = fwrite(er_text_string(text), 1, text->length, stdout) == text->length;
    written = fflush(stdout) == 0 && written;
    int reason = errno;
    if (fclose(stdout) != 0 && written) {
        written = false;
        reason = errno;
    }
    if (written) {
        return 0;
    }
    if (reason == EPIPE) { /* whoever was reading has had enough */
        return ER_EXIT_UNFINISHED;
    }
    return er_message(ER_EXIT_UNFINISHED, "standard output: %s", strerror(reason));
}

/* The file that -o will make or replace: the target of a link, or the path itself. */
static char *real_target(const char *path)
{
    char *real = realpath(path, NULL);
    return real != NULL || errno == ENOMEM ? real : strdup(path);
}

/* Whether -o may write to `path`. *mode: the permissions of the file that is there, or 0. */
static int may_write(const char *path, bool force, mode_t *mode)
{
    struct stat there;
    *mode = 0;
    if (path[0] == '\0') {
        return er_message(ER_EXIT_BAD_INPUT, "-o wants the name of a file");
    }
    if (stat(path, &there) != 0) {
        return 0; /* nothing there; if it is something else, making the file will tell */
    }
    if (!S_ISREG(there.st_mode)) {
        return er_message(ER_EXIT_BAD_INPUT, "%s: not an ordinary file; -o leaves it alone", path);
    }
    if (!force) {
        return er_message(ER_EXIT_BAD_INPUT, "%s: there is a file already; --force replaces it",
                          path);
    }
    *mode = there.st_mode & 0777;
    return 0;
}

/* Writes all of `text`, down to the disk. 0, or -1 and errno. */
static int write_all(int file, const struct er_text *text)
{
    const char *at = er_text_string(text);
    size_t left = text->length;
    while (left > 0) {
        ssize_t bytes = write(file, at, left);
        if (bytes < 0 && errno != EINTR) {
            return -1;
        }
        if (bytes > 0) {
            at += bytes;
            left -= (size_t)bytes;
        }
    }
    /* Some file systems cannot do this; that alone is no reason to fail. */
    return fsync(file) != 0 && errno != EINVAL && errno != ENOSYS ? -1 : 0;
}

/* Gives the finished file its name. Without `force` a file that came in the meantime is kept,
 * except on file systems without links, where nothing can hold the name free. */
static int put_in_place(const char *temporary, const char *target, bool force)
{
    if (!force) {
        if (link(temporary, target) == 0) {
            unlink(temporary);
            return 0;
        }
        if (errno == EEXIST) {
            return -1;
        }
    }
    return rename(temporary, target);
}

static int write_new(const char *temporary, const char *target, const struct er_text *text,
                     bool force, mode_t mode)
{
    int file = open(temporary, O_WRONLY | O_CREAT | O_EXCL, 0666);
    if (file < 0) {
        return er_message(exit_status_of(errno), "%s: cannot be written: %s", target,
                          strerror(errno));
    }
    bool written = (mode == 0 || fchmod(file, mode) == 0) && write_all(file, text) == 0;
    int reason = errno;
    if (close(file) != 0 && written) {
        written = false;
        reason = errno;
    }
    if (written && put_in_place(temporary, target, force) != 0) {
        written = false;
        reason = errno;
    }
    if (!written) {
        unlink(temporary);
        int status = reason == EEXIST ? ER_EXIT_BAD_INPUT : ER_EXIT_UNFINISHED;
        return er_message(status, "%s: cannot be written: %s", target, strerror(reason));
    }
    return 0;
}

/* A name in the folder of `target` for the file while it is being written. */
static void append_temporary(struct er_text *name, const char *target)
{
    const char *slash = strrchr(target, '/');
    size_t folder = slash != NULL ? (size_t)(slash - target) + 1 : 0;
    er_text_append_bytes(name, target, folder);
    er_text_appendf(name, ".evenrow-%ld.tmp", (long)getpid());
}

/* Writes `text` to a file, whole or not at all. */
static int write_file(const char *path, bool force, const struct er_text *text)
{
    mode_t mode;
    int status = may_write(path, force, &mode);
    if (status != 0) {
        return status;
    }
    struct er_text temporary;
    er_text_init(&temporary);
    char *target = real_target(path);
    if (target != NULL) {
        append_temporary(&temporary, target);
    }
    if (target == NULL || temporary.out_of_memory) {
        status = er_message_no_memory();
    } else {
        status = write_new(er_text_string(&temporary), target, text, force, mode);
    }
    er_text_release(&temporary);
    free(target);
    return status;
}

int er_write_output(const struct er_command_line *line, const struct er_text *text)
{
    const char *path = er_option_value(line, ER_OPTION_OUTPUT);
    if (path == NULL || strcmp(path, "-") == 0) {
        return er_print(text);
    }
    return write_file(path, er_option_given(line, ER_OPTION_FORCE), text);
}

int er_write_report_and_field(const struct er_command_line *line, const struct er_text *report,
                              const struct er_text *field)
{
    const char *path = er_option_value(line, ER_OPTION_OUTPUT_FIELD);
    if (path != NULL && strcmp(path, "-") == 0) {
        return er_print(field);
    }
    int status = 0;
    if (path != NULL) {
        status = write_file(path, er_option_given(line, ER_OPTION_FORCE), field);
    }
    return status == 0 ? er_print(report) : status;
}
