/* evenrow-pages FRAME PAGE: writes PAGE, which is FRAME with each @PART@ filled in from the
 * program's tables. It is built and run by the build, and not installed. */
#include <errno.h>
#include <stdio.h>
#include <string.h>

#include "cli/files.h"
#include "cli/message.h"
#include "pages/pages.h"

static void append_version(struct er_text *out) { er_text_append(out, EVENROW_VERSION); }

static const struct er_check_page_part parts[] = {
    {"VERSION", append_version},
    {"COMMANDS", er_check_page_commands},
    {"OPTIONS", er_check_page_options},
    {"QUANTITIES", er_check_page_quantities},
    {"KEYS", er_check_page_keys},
    {"READINGS", er_check_page_readings},
    {"COMMAND-NAMES", er_check_page_command_names},
    {"WORD-TABLE", er_check_page_word_table},
    {"ZSH-COMMANDS", er_check_page_zsh_commands},
    {"ZSH-ARGUMENTS", er_check_page_zsh_arguments},
    {"FISH", er_check_page_fish},
};

/* The bytes of "@NAME@" at `text`; 0 if no such thing stands there. */
static size_t mark_length(const char *text)
{
    if (text[0] != '@') {
        return 0;
    }
    size_t letters = strspn(text + 1, "ABCDEFGHIJKLMNOPQRSTUVWXYZ-");
    return letters > 0 && text[letters + 1] == '@' ? letters + 2 : 0;
}

static const struct er_check_page_part *find_part(const char *name, size_t length)
{
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        if (strlen(parts[i].name) == length && strncmp(parts[i].name, name, length) == 0) {
            return &parts[i];
        }
    }
    return NULL;
}

static int fill_in(const char *frame, struct er_text *page)
{
    while (*frame != '\0') {
        size_t mark = mark_length(frame);
        if (mark == 0) {
            er_text_append_bytes(page, frame++, 1);
            continue;
        }
        const struct er_check_page_part *part = find_part(frame + 1, mark - 2);
        if (part == NULL) {
            return er_message(ER_EXIT_BAD_INPUT, "there is no part %.*s", (int)mark, frame);
        }
        part->append(page);
        frame += mark;
    }
    return page->out_of_memory ? er_message_no_memory() : 0;
}

static int write_page(const char *path, const struct er_text *page)
{
    FILE *stream = fopen(path, "wb");
    if (stream == NULL) {
        return er_message(ER_EXIT_UNFINISHED, "%s: %s", path, strerror(errno));
    }
    bool written = fwrite(er_text_string(page), 1, page->length, stream) == page->length;
    written = fclose(stream) == 0 && written;
    return written ? 0 : er_message(ER_EXIT_UNFINISHED, "%s: cannot be written", path);
}

int main(int count, char **arguments)
{
    if (count != 3) {
        return er_message(ER_EXIT_BAD_INPUT, "evenrow-pages wants FRAME and PAGE");
    }
    struct er_text frame, page;
    er_text_init(&frame);
    er_text_init(&page);
    int status = er_read_file(arguments[1], &frame);
    if (status == 0) {
        status = fill_in(er_text_string(&frame), &page);
    }
    if (status == 0) {
        status = write_page(arguments[2], &page);
    }
    er_text_release(&page);
    er_text_release(&frame);
    return status;
}
