/* What the program says on standard error, and the statuses it ends with. */
#ifndef ER_CLI_MESSAGE_H
#define ER_CLI_MESSAGE_H

#include "base/text.h"
#include "evenrow/check.h"
#include "evenrow/problems.h"

enum er_exit {
    ER_EXIT_HOLDS = 0,      /* the plan holds, cautions or not; or the work is done */
    ER_EXIT_FAILS = 1,      /* the plan fails; with --strict: or has a caution */
    ER_EXIT_BAD_INPUT = 2,  /* the input or the command line is wrong; nothing was computed */
    ER_EXIT_UNFINISHED = 3, /* the program could not finish; nothing on standard output */
};

/* Writes "evenrow: " and a text made as printf makes it, as one line to standard error, with
 * control characters as visible escapes. Returns `status`; where memory was short for the
 * message it says only that, and returns ER_EXIT_UNFINISHED. */
int er_message(int status, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 2, 3)))
#endif
    ;

/* The same in two steps, for messages that are made before they may be written:
 * appends such a line to `lines`, then writes all of them. */
void er_message_append(struct er_text *lines, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 2, 3)))
#endif
    ;
void er_message_append_problems(struct er_text *lines, const struct er_problems *problems);

/* And one that tells the verdict of a field file that has just been made. */
void er_message_append_verdict(struct er_text *lines, const struct er_result *result);

int er_message_write(int status, const struct er_text *lines);

/* Says that memory ran out, and returns ER_EXIT_UNFINISHED. */
int er_message_no_memory(void);

/* Writes a line for each problem and how many more there are. Returns ER_EXIT_BAD_INPUT, or
 * as er_message where memory was short. */
int er_message_problems(const struct er_problems *problems);

#endif
