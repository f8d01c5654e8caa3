/* What the tests of the field reader share: reading a text, and one changed in one place. */
#ifndef ER_TESTS_FIELD_TEXTS_H
#define ER_TESTS_FIELD_TEXTS_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "evenrow/reading.h"

/* Reads a whole field file's text. The caller releases the field. */
static inline enum er_status read_text(const char *text, struct er_field *field,
                                       struct er_problems *problems)
{
    struct er_document *document = NULL;
    enum er_status status = er_document_open("field.json", text, strlen(text), &document, problems);
    memset(field, 0, sizeof *field);
    if (status == ER_OK) {
        status = er_field_read(document, field, problems);
    }
    er_document_release(document);
    return status;
}

/* Reads a text that must be good; the test fails with its problems if it is not. */
static inline void read_good(const char *text, struct er_field *field)
{
    struct er_problems problems;
    er_problems_init(&problems);
    const enum er_status status = read_text(text, field, &problems);
    for (size_t i = 0; i < problems.count && i < ER_PROBLEMS_KEPT; i++) {
        print_error("%zu:%zu: %s\n", problems.kept[i].line, problems.kept[i].column,
                    problems.kept[i].text);
    }
    er_problems_release(&problems);
    assert_int_equal(status, ER_OK);
}

/* `text` with `to` in the place of `from`, which must stand there just once. Freed by the
 * caller. */
static inline char *changed(const char *text, const char *from, const char *to)
{
    const char *at = strstr(text, from);
    if (at == NULL || strstr(at + 1, from) != NULL) {
        print_error("not once in the text: %s\n", from);
        fail();
        return NULL;
    }
    const size_t size = strlen(text) + strlen(to) + 1;
    char *result = malloc(size);
    assert_non_null(result);
    snprintf(result, size, "%.*s%s%s", (int)(at - text), text, to, at + strlen(from));
    return result;
}

static inline void assert_near(double value, double wanted)
{
    if (isnan(wanted) ? !isnan(value) : !(fabs(value - wanted) <= 1e-12 * fabs(wanted))) {
        print_error("found %.17g, wanted %.17g\n", value, wanted);
        fail();
    }
}

#endif
