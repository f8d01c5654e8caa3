/* Other names of the units. */
#include "base/unit_words.h"

#include <stdio.h>
#include <string.h>

#include "base/text.h"

static const struct {
    const char *word, *unit;
} words[] = {
    {"feet", "ft"},
    {"foot", "ft"},
    {"'", "ft"},
    {"inch", "in"},
    {"inches", "in"},
    {"\"", "in"},
    {"yard", "yd"},
    {"yards", "yd"},
    {"meter", "m"},
    {"meters", "m"},
    {"metre", "m"},
    {"metres", "m"},
    {"millimeters", "mm"},
    {"centimeters", "cm"},
    {"mils", "mil"},
    {"psig", "psi"},
    {"pounds", "psi"},
    {"bars", "bar"},
    {"gallon", "gal"},
    {"gallons", "gal"},
    {"gals", "gal"},
    {"liter", "L"},
    {"liters", "L"},
    {"litres", "L"},
    {"cubic meters", "m3"},
    {"acre-feet", "acre-ft"},
    {"acre feet", "acre-ft"},
    {"acre-inches", "acre-in"},
    {"acre inches", "acre-in"},
    {"gal/min", "gpm"},
    {"gallons per minute", "gpm"},
    {"gal/h", "gph"},
    {"gal/hr", "gph"},
    {"gallons per hour", "gph"},
    {"lpm", "L/min"},
    {"lph", "L/h"},
    {"liters per hour", "L/h"},
    {"inches per day", "in/day"},
    {"inches/day", "in/day"},
    {"second", "s"},
    {"seconds", "s"},
    {"sec", "s"},
    {"minute", "min"},
    {"minutes", "min"},
    {"mins", "min"},
    {"hour", "h"},
    {"hours", "h"},
    {"hr", "h"},
    {"hrs", "h"},
    {"acres", "acre"},
    {"hectares", "ha"},
    {"pounds", "lb"},
    {"lbs", "lb"},
    {"ounces", "oz"},
    {"kilograms", "kg"},
    {"grams", "g"},
    {"fps", "ft/s"},
    {"feet per second", "ft/s"},
};

/* Whether `text` is the word, in any letter case, with or without a stop behind it. */
static bool is_word(const char *text, const char *word)
{
    while (*word != '\0' && er_lower(*text) == *word) {
        text++;
        word++;
    }
    return *word == '\0' && (*text == '\0' || strcmp(text, ".") == 0);
}

const char *er_unit_meant(enum er_quantity quantity, const char *text, size_t *number)
{
    const size_t digits = strspn(text, "0123456789.-/ ");
    *number = digits;
    while (*number > 0 && text[*number - 1] == ' ') {
        (*number)--;
    }
    for (size_t i = 0; *number > 0 && i < sizeof words / sizeof words[0]; i++) {
        double value;
        char one[32];
        snprintf(one, sizeof one, "1 %s", words[i].unit);
        if (is_word(text + digits, words[i].word) &&
            er_quantity_parse(one, quantity, &value) == ER_QUANTITY_GOOD) {
            return words[i].unit;
        }
    }
    return NULL;
}
