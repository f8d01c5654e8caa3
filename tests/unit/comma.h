/* The locale with a decimal comma that the build makes (tests/shared/comma.locale). */
#ifndef EVENROW_TESTS_COMMA_H
#define EVENROW_TESTS_COMMA_H

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>

/* Takes it on. Skips only where ctest gives no LOCPATH, since there is no localedef. */
static inline void take_decimal_comma(void)
{
    if (getenv("LOCPATH") == NULL) {
        print_message("the build has made no locale with a decimal comma\n");
        skip();
    }
    assert_non_null(setlocale(LC_NUMERIC, "comma"));
    char text[16];
    snprintf(text, sizeof text, "%.1f", 1.5);
    assert_string_equal(text, "1,5");
}

#endif
