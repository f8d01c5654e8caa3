/* A field written as JSON in a test, read and checked; the test ends where that fails. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "evenrow/reading.h"
#include "published.h"

void plan_read(struct plan *plan, const char *format, ...)
{
    char text[8192];
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    assert_true(length > 0 && (size_t)length < sizeof text);
    struct er_document *document = NULL;
    struct er_problems problems;
    er_problems_init(&problems);
    enum er_status status = er_document_open("plan", text, (size_t)length, &document, &problems);
    if (status == ER_OK) {
        status = er_field_read(document, &plan->field, &problems);
    }
    if (status != ER_OK) {
        fail_msg("%s %s in %s",
                 problems.count && problems.kept[0].pointer ? problems.kept[0].pointer : "",
                 problems.count ? problems.kept[0].text : er_status_text(status), text);
    }
    er_document_release(document);
    er_problems_release(&problems);
}

const struct er_zone_result *plan_solve(struct plan *plan)
{
    struct er_failure failure;
    assert_int_equal(er_check(&plan->field, ER_US, &plan->result, &failure), ER_OK);
    return &plan->result.zones[0];
}

void plan_release(struct plan *plan)
{
    er_result_release(&plan->result);
    er_field_release(&plan->field);
}
