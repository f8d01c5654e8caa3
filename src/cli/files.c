/* Whole files read and written, and how each failure of that ends the program. */
#include "cli/files.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

#include "cli/message.h"
#include "cli/whole_file.h"

/* Far over any field file, and small enough that an endless input ends before memory does. */
#define MOST_BYTES ((size_t)256 * 1024 * 1024)

int er_file_exit_status(int reason)
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
    char chunk[4096];
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
        return er_message(er_file_exit_status(errno), "%s: %s", label, strerror(errno));
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
        return er_message(er_file_exit_status(errno), "%s: %s", path, strerror(errno));
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

int er_write_output(const struct er_command_line *line, const struct er_text *text)
{
    const char *path = er_option_value(line, ER_OPTION_OUTPUT);
    if (path == NULL || strcmp(path, "-") == 0) {
        return er_print(text);
    }
    return er_write_whole_file(path, er_option_given(line, ER_OPTION_FORCE), text);
}
