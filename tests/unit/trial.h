/* What the tests of the solving and judging share: a JSON text opened as a field, and checked.
 *
 * Texts are written with ' in the place of ", and are formats, so that a test can put its own
 * numbers in. Every function fails the test that calls it when something is wrong. */
#ifndef ER_TESTS_TRIAL_H
#define ER_TESTS_TRIAL_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "evenrow/check.h"
#include "evenrow/field.h"

/* A field and what its check found. */
struct trial {
    struct er_field field;
    struct er_result result;
};

/* Reads a field from a text; the caller releases it. */
void field_open(struct er_field *field, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* The same, and checks it, speaking the field's own units. The caller closes the trial. */
void trial_open(struct trial *trial, const char *format, ...) __attribute__((format(printf, 2, 3)));
void trial_close(struct trial *trial);

/* The first finding of a code, NULL if there is none; and how many there are. */
const struct er_finding *trial_finding(const struct trial *trial, enum er_finding_code code);
size_t trial_count(const struct trial *trial, enum er_finding_code code);

/* |value - wanted| <= relative x |wanted|; fails for NAN, and says where. */
#define assert_close(value, wanted, relative)                                                      \
    assert_close_at((value), (wanted), (relative), #value, __FILE__, __LINE__)
void assert_close_at(double value, double wanted, double relative, const char *what,
                     const char *file, int line);

/* |value - wanted| <= absolute. */
#define assert_within(value, wanted, absolute)                                                     \
    assert_within_at((value), (wanted), (absolute), #value, __FILE__, __LINE__)
void assert_within_at(double value, double wanted, double absolute, const char *what,
                      const char *file, int line);

/* The next of a row of numbers between `low` and `high` that is the same in every run. */
double next_number(uint64_t *seed, double low, double high);

#endif
