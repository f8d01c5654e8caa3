/* Days of the calendar. The Gregorian rules are ISO 8601's. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "evenrow/date.h"

static long made(int year, int month, int day)
{
    long date = ER_NO_DATE;
    assert_true(er_date_make(year, month, day, &date));
    return date;
}

/* 2000-01-01 is 10957 days after 1970-01-01 (printed in many a manual of POSIX time: 946684800 s);
 * from 0001-01-01 to 9999-12-31 there are 25 x 146097 - 366 days, 146097 in 400 years. */
static void test_counts(void **state)
{
    (void)state;
    assert_int_equal(made(1970, 1, 1), 0);
    assert_int_equal(made(1969, 12, 31), -1);
    assert_int_equal(made(2000, 1, 1), 946684800 / 86400);
    assert_int_equal(made(2400, 3, 1) - made(2000, 3, 1), 146097);
    assert_int_equal(made(9999, 12, 31) - made(1, 1, 1) + 1, 25 * 146097 - 366);
}

static void test_leap_years(void **state)
{
    (void)state;
    long date = 77;
    assert_int_equal(er_month_days(2024, 2), 29);
    assert_int_equal(er_month_days(2025, 2), 28);
    assert_int_equal(er_month_days(1900, 2), 28);
    assert_int_equal(er_month_days(2000, 2), 29);
    assert_false(er_date_make(2025, 2, 29, &date));
    assert_false(er_date_make(2025, 13, 1, &date));
    assert_false(er_date_make(2025, 0, 1, &date));
    assert_false(er_date_make(2025, 4, 31, &date));
    assert_false(er_date_make(0, 1, 1, &date));
    assert_false(er_date_make(10000, 1, 1, &date));
    assert_int_equal(date, 77);
}

static void test_days_of_the_year(void **state)
{
    (void)state;
    assert_int_equal(er_day_of_year(made(2025, 1, 1)), 1);
    assert_int_equal(er_day_of_year(made(2025, 9, 3)), 246);  /* FAO-56, example 8 (from memory) */
    assert_int_equal(er_day_of_year(made(2025, 4, 15)), 105); /* FAO-56, example 17 (from memory) */
    assert_int_equal(er_day_of_year(made(2025, 12, 31)), 365);
    assert_int_equal(er_day_of_year(made(2024, 12, 31)), 366);
}

/* Day after day through the years, each follows the one before, and is split as it was made. */
static void test_every_day(void **state)
{
    (void)state;
    static const int spans[][2] = {{1, 12}, {1890, 2110}, {9990, 9999}};
    for (size_t s = 0; s < 3; s++) {
        long next = made(spans[s][0], 1, 1);
        for (int year = spans[s][0]; year <= spans[s][1]; year++) {
            for (int month = 1; month <= 12; month++) {
                for (int day = 1; day <= er_month_days(year, month); day++) {
                    struct er_calendar_day split = er_date_split(next);
                    assert_int_equal(made(year, month, day), next);
                    assert_int_equal(split.year, year);
                    assert_int_equal(split.month, month);
                    assert_int_equal(split.day, day);
                    next++;
                }
            }
        }
    }
}

static void test_beyond_the_years(void **state)
{
    (void)state;
    struct er_calendar_day before = er_date_split(made(1, 1, 1) - 1);
    struct er_calendar_day after = er_date_split(made(9999, 12, 31) + 1);
    assert_int_equal(before.year, 0);
    assert_int_equal(before.month, 12);
    assert_int_equal(before.day, 31);
    assert_int_equal(after.year, 10000);
    assert_int_equal(after.day, 1);
}

static void test_texts(void **state)
{
    (void)state;
    static const char *const wrong[] = {"",           "2026-5-1",    "2026-05-1",  "2026/05/01",
                                        "20260501",   "2026-05-01 ", "2026-05-32", "2026-02-29",
                                        "0000-01-01", "+026-05-01",  "2026-05-0a", "May 1, 2026",
                                        "12026-05-01"};
    long date = ER_NO_DATE;
    assert_true(er_date_parse("2026-05-01", &date));
    assert_int_equal(date, made(2026, 5, 1));
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        assert_false(er_date_parse(wrong[i], &date));
    }
    assert_int_equal(date, made(2026, 5, 1));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_counts),           cmocka_unit_test(test_leap_years),
        cmocka_unit_test(test_days_of_the_year), cmocka_unit_test(test_every_day),
        cmocka_unit_test(test_beyond_the_years), cmocka_unit_test(test_texts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
