/* Printing and reading under a "C" locale that is put in force for the one call. */
#define _POSIX_C_SOURCE 200809L /* uselocale, which holds for this thread only */

#include "base/c_locale.h"

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>

int er_c_vsnprintf(char *buffer, size_t room, const char *format, va_list arguments)
{
    locale_t plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    if (plain == (locale_t)0) {
        return -1;
    }
    locale_t before = uselocale(plain);
    int length = vsnprintf(buffer, room, format, arguments);
    uselocale(before);
    freelocale(plain);
    return length;
}

double er_c_number(const char *text)
{
    /* Where the C library cannot even make its "C" locale, the one in force has to do. */
    locale_t plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    if (plain == (locale_t)0) {
        return strtod(text, NULL);
    }
    locale_t before = uselocale(plain);
    double value = strtod(text, NULL);
    uselocale(before);
    freelocale(plain);
    return value;
}

static const char *skip_digits(const char *text)
{
    while (*text >= '0' && *text <= '9') {
        text++;
    }
    return text;
}

/* The end of the digits at `text`; NULL if there is none. */
static const char *some_digits(const char *text)
{
    const char *end = skip_digits(text);
    return end == text ? NULL : end;
}

const char *er_number_end(const char *text)
{
    const char *start = *text == '-' ? text + 1 : text;
    const char *end = some_digits(start);
    if (end == NULL || (*start == '0' && end != start + 1)) {
        return NULL;
    }
    if (*end == '.') {
        end = some_digits(end + 1);
        if (end == NULL) {
            return NULL;
        }
    }
    if (*end == 'e' || *end == 'E') {
        end++;
        end = some_digits(*end == '+' || *end == '-' ? end + 1 : end);
    }
    return end;
}
