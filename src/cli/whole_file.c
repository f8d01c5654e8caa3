/* A file written beside its place and renamed into it; signals take it away half done. */

/* POSIX.1-2008 with realpath. NOLINTNEXTLINE(bugprone-reserved-identifier) */
#define _XOPEN_SOURCE 700

#include "cli/whole_file.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "cli/message.h"

/* So many links may lead from one to the next, as for the system itself. */
#define MOST_LINKS 40

/* The signals that end a program that does not mind them, and come while it writes. */
static const int endings[] = {SIGHUP, SIGINT, SIGQUIT, SIGPIPE, SIGTERM, SIGXCPU, SIGXFSZ};
#define ENDINGS (sizeof endings / sizeof endings[0])

/* What a signal has to take away: the unfinished file's name, NULL without one. A signal has no
 * other way to know. */
static const char *_Atomic unfinished = NULL;

static void take_away(int signal_number)
{
    const char *name = unfinished;
    if (name != NULL) {
        unlink(name);
    }
    raise(signal_number); /* once more, as it would have ended the program without us */
}

/* Lets those signals take the unfinished file away; `before` keeps what they did. */
static void guard(struct sigaction before[ENDINGS])
{
    struct sigaction action;
    memset(&action, 0, sizeof action);
    action.sa_handler = take_away;
    action.sa_flags = (int)SA_RESETHAND;
    sigemptyset(&action.sa_mask);
    for (size_t i = 0; i < ENDINGS; i++) {
        if (sigaction(endings[i], NULL, &before[i]) == 0 && before[i].sa_handler != SIG_IGN) {
            sigaction(endings[i], &action, NULL);
        }
    }
}

static void unguard(const struct sigaction before[ENDINGS])
{
    unfinished = NULL;
    for (size_t i = 0; i < ENDINGS; i++) {
        sigaction(endings[i], &before[i], NULL);
    }
}

/* What a link's text leads to: a path of its own, or one from the link's folder. Allocated. */
static char *join_link(const char *link_path, const char *text)
{
    const char *slash = strrchr(link_path, '/');
    const size_t folder = text[0] == '/' || slash == NULL ? 0 : (size_t)(slash - link_path) + 1;
    char *joined = malloc(folder + strlen(text) + 1);
    if (joined != NULL) {
        memcpy(joined, link_path, folder);
        memcpy(joined + folder, text, strlen(text) + 1);
    }
    return joined;
}

/* The file that -o will make or replace: the end of a chain of links, there or not, or the path
 * itself. Allocated; NULL if memory ran out. */
static char *real_target(const char *path)
{
    char *real = realpath(path, NULL);
    if (real != NULL || errno == ENOMEM) {
        return real;
    }
    real = strdup(path);
    char text[PATH_MAX + 1];
    for (int links = 0; real != NULL && links < MOST_LINKS; links++) {
        const ssize_t length = readlink(real, text, sizeof text - 1);
        if (length < 0) {
            break; /* no link, or not there */
        }
        text[length] = '\0';
        char *next = join_link(real, text);
        free(real);
        real = next;
    }
    return real;
}

/* Whether -o may write to `path`. *before: the file that is there; its mode is 0 if none is. */
static int may_write(const char *path, bool force, struct stat *before)
{
    struct stat link_itself;
    if (path[0] == '\0') {
        return er_message(ER_EXIT_BAD_INPUT, "-o wants the name of a file");
    }
    if (stat(path, before) != 0) {
        const int reason = errno;
        memset(before, 0, sizeof *before);
        if (reason == ELOOP) {
            return er_message(ER_EXIT_BAD_INPUT, "%s: cannot be written: %s", path,
                              strerror(reason));
        }
        if (!force && lstat(path, &link_itself) == 0) {
            return er_message(ER_EXIT_BAD_INPUT,
                              "%s: a link to a file that is not there; --force makes that file",
                              path);
        }
        return 0; /* nothing there; if it is something else, making the file will tell */
    }
    if (!S_ISREG(before->st_mode)) {
        return er_message(ER_EXIT_BAD_INPUT, "%s: not an ordinary file; -o leaves it alone", path);
    }
    if (!force) {
        return er_message(ER_EXIT_BAD_INPUT, "%s: there is a file already; --force replaces it",
                          path);
    }
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

/* How long the folder's part of a path is, with its slash; 0 where it is the current one. */
static size_t folder_length(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash != NULL ? (size_t)(slash - path) + 1 : 0;
}

/* Brings the new name down to the disk, too: a file is only safe when its folder is. A folder
 * that cannot be opened or a file system that cannot do it is no reason to fail. */
static int sync_folder(const char *target)
{
    const size_t length = folder_length(target);
    struct er_text name;
    er_text_init(&name);
    er_text_append_bytes(&name, length > 0 ? target : ".", length > 0 ? length : 1);
    const int folder =
        name.out_of_memory ? -1 : open(er_text_string(&name), O_RDONLY | O_DIRECTORY);
    er_text_release(&name);
    if (folder < 0) {
        return 0;
    }
    const bool failed = fsync(folder) != 0 && errno == EIO;
    close(folder);
    errno = EIO;
    return failed ? -1 : 0;
}

/* Gives the new file what the old one had: its owner and group as far as this user may, and its
 * mode. 0, or -1 and errno. */
static int keep_owner_and_mode(int file, const struct stat *before, struct stat *after)
{
    if (before->st_mode != 0 && fstat(file, after) == 0) {
        if (after->st_uid != before->st_uid && fchown(file, before->st_uid, before->st_gid) == 0) {
            after->st_uid = before->st_uid;
            after->st_gid = before->st_gid;
        }
        if (after->st_gid != before->st_gid && fchown(file, (uid_t)-1, before->st_gid) == 0) {
            after->st_gid = before->st_gid;
        }
    }
    return before->st_mode == 0 ? 0 : fchmod(file, before->st_mode & 0777);
}

/* What of the old file could not be kept. */
static int tell_lost(const char *path, const struct stat *before, const struct stat *after)
{
    int status = 0;
    if (before->st_mode == 0) {
        return 0;
    }
    if (before->st_uid != after->st_uid || before->st_gid != after->st_gid) {
        status = er_message(0, "%s: belonged to user %lu and group %lu; now to %lu and %lu", path,
                            (unsigned long)before->st_uid, (unsigned long)before->st_gid,
                            (unsigned long)after->st_uid, (unsigned long)after->st_gid);
    }
    if (status == 0 && before->st_nlink > 1) {
        status =
            er_message(0, "%s: the same file had %lu other name%s (hard links); %s the old text",
                       path, (unsigned long)before->st_nlink - 1, before->st_nlink > 2 ? "s" : "",
                       before->st_nlink > 2 ? "those keep" : "that one keeps");
    }
    return status;
}

/* Fills the new file, open as `file`, and gives it its name. 0, or `errno`. */
static int fill(int file, const char *temporary, const char *target, const struct er_text *text,
                bool force, const struct stat *before, struct stat *after)
{
    const bool written =
        keep_owner_and_mode(file, before, after) == 0 && write_all(file, text) == 0;
    const int reason = errno;
    if (close(file) != 0 && written) {
        return errno;
    }
    if (!written) {
        return reason;
    }
    if (put_in_place(temporary, target, force) != 0) {
        return errno;
    }
    return sync_folder(target) != 0 ? errno : 0;
}

/* `path` is how messages call the target. */
static int write_new(const char *path, const char *temporary, const char *target,
                     const struct er_text *text, bool force, const struct stat *before)
{
    struct sigaction signals[ENDINGS];
    struct stat after = *before;
    const mode_t mode = before->st_mode == 0 ? 0666 : 0600; /* until it has the old file's */
    guard(signals);
    const int file = open(temporary, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
    int reason = errno;
    const bool made = file >= 0;
    if (made) {
        unfinished = temporary;
        reason = fill(file, temporary, target, text, force, before, &after);
    }
    unguard(signals);
    if (!made) {
        return er_message(er_file_exit_status(reason), "%s: cannot be written: %s", path,
                          strerror(reason));
    }
    if (reason != 0) {
        unlink(temporary);
        return er_message(reason == EEXIST ? ER_EXIT_BAD_INPUT : ER_EXIT_UNFINISHED,
                          "%s: cannot be written: %s", path, strerror(reason));
    }
    return tell_lost(path, before, &after);
}

/* A name in the folder of `target` for the file while it is being written. */
static void append_temporary(struct er_text *name, const char *target)
{
    er_text_append_bytes(name, target, folder_length(target));
    er_text_appendf(name, ".evenrow-%ld.tmp", (long)getpid());
}

int er_write_whole_file(const char *path, bool force, const struct er_text *text)
{
    struct stat before;
    memset(&before, 0, sizeof before);
    int status = may_write(path, force, &before);
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
        status = write_new(path, er_text_string(&temporary), target, text, force, &before);
    }
    er_text_release(&temporary);
    free(target);
    return status;
}
