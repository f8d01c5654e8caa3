/* Opens and checks the fields of unit tests, and looks through their findings. */
#include "trial.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "evenrow/reading.h"

static char *format_text(const char *format, va_list arguments)
{
    va_list again;
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, again);
    va_end(again);
    assert_true(length > 0);
    char *text = malloc((size_t)length + 1);
    assert_non_null(text);
    vsnprintf(text, (size_t)length + 1, format, arguments);
    for (char *at = text; *at; at++) {
        if (*at == '\'') {
            *at = '"';
        }
    }
    return text;
}

static void read_field(struct er_field *field, const char *text)
{
    struct er_problems problems;
    struct er_document *document = NULL;
    er_problems_init(&problems);
    memset(field, 0, sizeof *field);
    enum er_status status =
        er_document_open("field.json", text, strlen(text), &document, &problems);
    if (status == ER_OK) {
        status = er_field_read(document, field, &problems);
    }
    for (size_t p = 0; p < problems.count && p < ER_PROBLEMS_KEPT; p++) {
        print_error("%s: %s\n", problems.kept[p].pointer ? problems.kept[p].pointer : "",
                    problems.kept[p].text);
    }
    er_problems_release(&problems);
    er_document_release(document);
    assert_int_equal(status, ER_OK);
}

static void open_field(struct er_field *field, const char *format, va_list arguments)
{
    char *text = format_text(format, arguments);
    read_field(field, text);
    free(text);
}

void field_open(struct er_field *field, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    open_field(field, format, arguments);
    va_end(arguments);
}

void trial_open(struct trial *trial, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    open_field(&trial->field, format, arguments);
    va_end(arguments);
    struct er_failure failure;
    enum er_status status = er_check(&trial->field, trial->field.system, &trial->result, &failure);
    if (status != ER_OK) {
        print_error("%s: %s after %zu passes, residual %g\n", er_status_text(status), failure.what,
                    failure.passes, failure.residual);
    }
    assert_int_equal(status, ER_OK);
}

void trial_close(struct trial *trial)
{
    er_result_release(&trial->result);
    er_field_release(&trial->field);
}

const struct er_finding *trial_finding(const struct trial *trial, enum er_finding_code code)
{
    for (size_t f = 0; f < trial->result.finding_count; f++) {
        if (trial->result.findings[f].code == code) {
            return &trial->result.findings[f];
        }
    }
    return NULL;
}

size_t trial_count(const struct trial *trial, enum er_finding_code code)
{
    size_t count = 0;
    for (size_t f = 0; f < trial->result.finding_count; f++) {
        count += trial->result.findings[f].code == code;
    }
    return count;
}

void assert_within_at(double value, double wanted, double absolute, const char *what,
                      const char *file, int line)
{
    if (fabs(value - wanted) <= absolute) {
        return;
    }
    print_error("%s is %.17g, wanted %.17g within %g\n", what, value, wanted, absolute);
    _fail(file, line);
}

void assert_close_at(double value, double wanted, double relative, const char *what,
                     const char *file, int line)
{
    assert_within_at(value, wanted, relative * fabs(wanted), what, file, line);
}

/* Source of the constants: Knuth, The Art of Computer Programming, volume 2, 3.3.4 (from
 * memory). The upper bits are the good ones. */
double next_number(uint64_t *seed, double low, double high)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return low + (high - low) * (double)(*seed >> 11) / 9007199254740992.0;
}
