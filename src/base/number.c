/* The fewest digits that are read back as the same number, and the number to write for a value. */
#include "base/number.h"

#include <math.h>
#include <stdarg.h>

#include "base/c_locale.h"

#define MOST_DIGITS 17 /* tell any two doubles apart */

/* What comes out of a conversion is off by a few units in the last place. A number of this many
 * digits is found again through them; one of more may have to be searched. */
#define SAFE_DIGITS 12
#define FARTHEST_NEIGHBOUR 8

/* Two numbers are the same, be one of them -0. */
static bool same(double a, double b) { return a <= b && a >= b; }

static int print(char *text, size_t room, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    const int length = er_c_vsnprintf(text, room, format, arguments);
    va_end(arguments);
    return length;
}

double er_number_rounded(double number, int digits)
{
    char text[40];
    return print(text, sizeof text, "%.*e", digits - 1, number) > 0 ? er_c_number(text) : number;
}

int er_number_digits(double number)
{
    int digits = 1;
    while (digits < MOST_DIGITS && !same(er_number_rounded(number, digits), number)) {
        digits++;
    }
    return digits;
}

void er_text_append_number(struct er_text *text, double number)
{
    /* Up to 15 digits %g finds the shortest by leaving out zeros at the end. */
    int digits = 15;
    while (digits < MOST_DIGITS && !same(er_number_rounded(number, digits), number)) {
        digits++;
    }
    er_text_appendf(text, "%.*g", digits, number);
}

/* A search among numbers for the one that is read into what is wanted. */
struct search {
    double wanted;
    er_number_reading *reading;
    const void *context;
    double best, distance; /* how far what `best` is read into is from what is wanted */
};

/* Tries one number; returns whether it is the one. */
static bool try_number(struct search *search, double number)
{
    const double distance = fabs(search->reading(number, search->context) - search->wanted);
    if (distance < search->distance) {
        search->distance = distance;
        search->best = number;
    }
    return distance <= 0.0;
}

double er_number_for(double wanted, double slack, double guess, er_number_reading *reading,
                     const void *context)
{
    struct search search = {wanted, reading, context, guess, (double)INFINITY};
    if (try_number(&search, er_number_rounded(guess, SAFE_DIGITS)) ||
        search.distance <= slack * fabs(wanted)) {
        return search.best;
    }
    for (int digits = SAFE_DIGITS + 1; digits <= MOST_DIGITS; digits++) {
        if (try_number(&search, er_number_rounded(guess, digits))) {
            return search.best;
        }
    }
    double above = guess;
    double below = guess;
    for (int i = 0; i < FARTHEST_NEIGHBOUR; i++) {
        above = nextafter(above, (double)INFINITY);
        below = nextafter(below, -(double)INFINITY);
        if (try_number(&search, above) || try_number(&search, below)) {
            break;
        }
    }
    return search.best;
}
