/* Printing and reading of numbers with a decimal point, whatever locale the
 * program around the library has set. */
#ifndef ER_BASE_C_LOCALE_H
#define ER_BASE_C_LOCALE_H

#include <stdarg.h>
#include <stddef.h>

/* vsnprintf in the "C" locale. Returns the length wanted, or a negative number
 * if that failed, which here means that memory ran out. */
int er_c_vsnprintf(char *buffer, size_t room, const char *format, va_list arguments)
#if defined(__GNUC__)
    __attribute__((format(printf, 3, 0)))
#endif
    ;

/* The number at the start of `text`, which er_number_end has found good, rounded to the
 * nearest double. An infinity when it is too large for one. */
double er_c_number(const char *text);

/* The end of the JSON number (RFC 8259, section 6) at the start of `text`;
 * NULL if there is none, also where one is begun but not ended ("1.", "2e", "01"). */
const char *er_number_end(const char *text);

#endif
