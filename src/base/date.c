/* Days counted from 1970 by the Gregorian rules, and back. */
#include "evenrow/date.h"

#include <stddef.h>
#include <string.h>

#define FIRST_YEAR 1
#define LAST_YEAR 9999
#define DAYS_BEFORE_1970 719162L /* from 0001-01-01: 1969 x 365 and 477 leap days */

static bool is_leap(long year) { return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0; }

static long floored(long number, long divisor)
{
    long quotient = number / divisor;
    return quotient - (number % divisor < 0);
}

/* Days from 1970-01-01 to the 1st of January of `year`. */
static long year_start(long year)
{
    long before = year - 1;
    return before * 365 + floored(before, 4) - floored(before, 100) + floored(before, 400) -
           DAYS_BEFORE_1970;
}

static int month_days(long year, int month)
{
    static const int days[ER_MONTHS] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return days[month - 1] + (month == 2 && is_leap(year));
}

int er_month_days(int year, int month) { return month_days(year, month); }

bool er_date_make(int year, int month, int day, long *date)
{
    if (year < FIRST_YEAR || year > LAST_YEAR || month < 1 || month > ER_MONTHS || day < 1 ||
        day > er_month_days(year, month)) {
        return false;
    }
    long count = year_start(year) + day - 1;
    for (int before = 1; before < month; before++) {
        count += er_month_days(year, before);
    }
    *date = count;
    return true;
}

static int digits_at(const char *text, int count)
{
    int number = 0;
    for (int i = 0; i < count; i++) {
        number = 10 * number + (text[i] - '0');
    }
    return number;
}

bool er_date_parse(const char *text, long *date)
{
    static const char form[] = "0000-00-00";
    if (strlen(text) != sizeof form - 1) {
        return false;
    }
    for (size_t i = 0; i < sizeof form - 1; i++) {
        bool digit = text[i] >= '0' && text[i] <= '9';
        if (form[i] == '0' ? !digit : text[i] != form[i]) {
            return false;
        }
    }
    return er_date_make(digits_at(text, 4), digits_at(text + 5, 2), digits_at(text + 8, 2), date);
}

/* The year in which a day lies. */
static long year_of(long date)
{
    long year = 1970 + floored(date, 366);
    if (date < 0) {
        year = 1970 + floored(date, 365);
    }
    while (year_start(year) > date) {
        year--;
    }
    while (year_start(year + 1) <= date) {
        year++;
    }
    return year;
}

struct er_calendar_day er_date_split(long date)
{
    long year = year_of(date);
    long left = date - year_start(year);
    int month = 1;
    while (left >= month_days(year, month)) {
        left -= month_days(year, month);
        month++;
    }
    return (struct er_calendar_day){(int)year, month, (int)left + 1};
}

int er_day_of_year(long date) { return (int)(date - year_start(year_of(date))) + 1; }
