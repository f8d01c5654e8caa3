/* What the tests of the report writers share: what every page of theirs is held to. */
#ifndef ER_TESTS_REPORT_PAGES_H
#define ER_TESTS_REPORT_PAGES_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include <cjson/cJSON.h>

#include "say/wrap.h"

/* No line over 80 characters, none that ends in a blank, and ASCII alone. */
static inline void assert_fits_page(const char *text)
{
    size_t lines = 0;
    while (*text != '\0') {
        size_t length = strcspn(text, "\n");
        assert_in_range(length, 0, ER_PAGE);
        assert_true(length == 0 || text[length - 1] != ' ');
        for (size_t i = 0; i < length; i++) {
            assert_in_range(text[i], ' ', '~');
        }
        assert_int_equal(text[length], '\n');
        text += length + 1;
        lines++;
    }
    assert_true(lines > 0);
}

static inline const char *string_at(const cJSON *object, const char *key)
{
    const char *text = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(object, key));
    assert_non_null(text);
    return text;
}

/* In a line of CSV, those within quotes too. */
static inline size_t count_commas(const char *line)
{
    size_t commas = 0;
    for (; *line != '\n'; line++) {
        commas += *line == ',';
    }
    return commas;
}

#endif
