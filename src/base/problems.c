/* The first problems kept, their texts safe to print and not too long; the rest counted. */
#include "evenrow/problems.h"

#include <stdarg.h>
#include <string.h>

#include "base/text.h"

#define MOST_KEPT 1000 /* bytes of a text: a name of a megabyte helps nobody */

void er_problems_init(struct er_problems *problems)
{
    *problems = (struct er_problems){.count = 0};
}

void er_problems_release(struct er_problems *problems)
{
    er_arena_release(&problems->arena);
    er_problems_init(problems);
}

/* A copy of `string` that is safe to print and not too long; NULL for NULL, or if memory
 * ran out. */
static const char *keep(struct er_problems *problems, const char *string)
{
    if (string == NULL) {
        return NULL;
    }
    struct er_text cut, visible;
    er_text_init(&cut);
    er_text_init(&visible);
    er_text_append_short(&cut, string, strlen(string), MOST_KEPT);
    er_text_append_visible(&visible, er_text_string(&cut));
    const char *kept = NULL;
    if (!cut.out_of_memory && !visible.out_of_memory) {
        kept = er_arena_text(&problems->arena, er_text_string(&visible));
    }
    er_text_release(&visible);
    er_text_release(&cut);
    problems->out_of_memory = problems->out_of_memory || kept == NULL;
    return kept;
}

void er_problems_add(struct er_problems *problems, const char *origin, size_t line, size_t column,
                     const char *pointer, const char *format, ...)
{
    if (problems->count >= ER_PROBLEMS_KEPT) {
        problems->count++;
        return;
    }
    struct er_text text;
    er_text_init(&text);
    va_list arguments;
    va_start(arguments, format);
    er_text_vappendf(&text, format, arguments);
    va_end(arguments);
    problems->out_of_memory = problems->out_of_memory || text.out_of_memory;

    const struct er_problem problem = {
        .origin = keep(problems, origin),
        .line = line,
        .column = column,
        .pointer = keep(problems, pointer),
        .text = keep(problems, er_text_string(&text)),
    };
    er_text_release(&text);
    if (!problems->out_of_memory) {
        problems->kept[problems->count] = problem;
        problems->count++;
    }
}
