/* Days of the calendar, counted.
 *
 * The Gregorian rules of leap years hold for all years from 1 to 9999, also for those before
 * the calendar came into use (as ISO 8601 has it). No clock is read, and no time zone matters. */
#ifndef EVENROW_DATE_H
#define EVENROW_DATE_H

#include <limits.h>
#include <stdbool.h>

#ifdef __cplusplus
extern "C" {
#endif

#define ER_NO_DATE LONG_MIN /* a day that was not given, or that never comes */

#define ER_MONTHS 12

/* A day as it is written. Days are counted from 1970-01-01, which is day 0. */
struct er_calendar_day {
    int year, month, day; /* month and day from 1 */
};

/* Days of a month (1 to 12) of `year`. */
int er_month_days(int year, int month);

/* The count of a day, put into *date; false, with nothing put there, if there is no such day or
 * its year is not within 1 to 9999. */
bool er_date_make(int year, int month, int day, long *date);

/* Reads "2026-05-01": four digits, two and two. false as above. */
bool er_date_parse(const char *text, long *date);

/* The day of a count; year 0 and before, and 10000 and after, follow the same rules. */
struct er_calendar_day er_date_split(long date);

/* The place of a day in its year: 1 on the 1st of January, to 365 or 366. */
int er_day_of_year(long date);

#ifdef __cplusplus
}
#endif

#endif
