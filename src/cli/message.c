#include "cli/message.h"

#include <stdarg.h>
#include <stdio.h>

#include "base/text.h"

int er_message(int status, const char *format, ...)
{
    struct er_text raw, line;
    va_list arguments;
    er_text_init(&raw);
    er_text_init(&line);
    va_start(arguments, format);
    er_text_vappendf(&raw, format, arguments);
    va_end(arguments);
    er_text_append(&line, "evenrow: ");
    er_text_append_visible(&line, er_text_string(&raw));
    er_text_append(&line, "\n");
    if (raw.out_of_memory || line.out_of_memory) {
        fputs("evenrow: out of memory\n", stderr);
    } else {
        fputs(er_text_string(&line), stderr);
    }
    er_text_release(&line);
    er_text_release(&raw);
    return status;
}

int er_message_no_memory(void)
{
    fputs("evenrow: out of memory\n", stderr);
    return ER_EXIT_UNFINISHED;
}

/* FILE:LINE:COLUMN: POINTER: text, as far as there is each. */
static void problem_message(const struct er_problem *problem)
{
    const char *pointer = problem->pointer != NULL ? problem->pointer : "";
    const char *colon = pointer[0] != '\0' ? ": " : "";
    if (problem->line > 0) {
        er_message(0, "%s:%zu:%zu: %s%s%s", problem->origin, problem->line, problem->column,
                   pointer, colon, problem->text);
    } else {
        er_message(0, "%s: %s%s%s", problem->origin, pointer, colon, problem->text);
    }
}

int er_message_problems(const struct er_problems *problems)
{
    size_t kept = problems->count < ER_PROBLEMS_KEPT ? problems->count : ER_PROBLEMS_KEPT;
    for (size_t i = 0; i < kept; i++) {
        problem_message(&problems->kept[i]);
    }
    if (problems->count > kept) {
        er_message(0, "and %zu more", problems->count - kept);
    }
    return ER_EXIT_BAD_INPUT;
}
