/* Lines for standard error, put together before they are written. */
#include "cli/message.h"
#include "report/report.h"

#include <stdarg.h>
#include <stdio.h>

/* Appends one line made from a format and its arguments. */
static void append_line(struct er_text *lines, const char *format, va_list arguments)
{
    struct er_text raw;
    er_text_init(&raw);
    er_text_vappendf(&raw, format, arguments);
    er_text_append(lines, "evenrow: ");
    er_text_append_visible(lines, er_text_string(&raw));
    er_text_append(lines, "\n");
    lines->out_of_memory = lines->out_of_memory || raw.out_of_memory;
    er_text_release(&raw);
}

void er_message_append(struct er_text *lines, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    append_line(lines, format, arguments);
    va_end(arguments);
}

void er_message_append_verdict(struct er_text *lines, const struct er_result *result)
{
    struct er_pen pen = {.system = result->speaks};
    er_message_append(lines, "checked: %s", er_verdict_words(&pen, result));
    lines->out_of_memory = lines->out_of_memory || pen.out_of_memory;
    er_pen_release(&pen);
}

int er_message_write(int status, const struct er_text *lines)
{
    if (lines->out_of_memory) {
        return er_message_no_memory();
    }
    fputs(er_text_string(lines), stderr);
    return status;
}

int er_message(int status, const char *format, ...)
{
    struct er_text lines;
    va_list arguments;
    er_text_init(&lines);
    va_start(arguments, format);
    append_line(&lines, format, arguments);
    va_end(arguments);
    status = er_message_write(status, &lines);
    er_text_release(&lines);
    return status;
}

int er_message_no_memory(void)
{
    fputs("evenrow: out of memory\n", stderr);
    return ER_EXIT_UNFINISHED;
}

/* FILE:LINE:COLUMN: POINTER: text, as far as there is each. */
static void append_problem(struct er_text *lines, const struct er_problem *problem)
{
    const char *pointer = problem->pointer != NULL ? problem->pointer : "";
    const char *colon = pointer[0] != '\0' ? ": " : "";
    if (problem->line > 0) {
        er_message_append(lines, "%s:%zu:%zu: %s%s%s", problem->origin, problem->line,
                          problem->column, pointer, colon, problem->text);
    } else {
        er_message_append(lines, "%s: %s%s%s", problem->origin, pointer, colon, problem->text);
    }
}

void er_message_append_problems(struct er_text *lines, const struct er_problems *problems)
{
    for (size_t i = 0; i < problems->count && i < ER_PROBLEMS_KEPT; i++) {
        append_problem(lines, &problems->kept[i]);
    }
    if (problems->count > ER_PROBLEMS_KEPT) {
        er_message_append(lines, "and %zu more", problems->count - ER_PROBLEMS_KEPT);
    }
}

int er_message_problems(const struct er_problems *problems)
{
    struct er_text lines;
    er_text_init(&lines);
    er_message_append_problems(&lines, problems);
    int status = er_message_write(ER_EXIT_BAD_INPUT, &lines);
    er_text_release(&lines);
    return status;
}
