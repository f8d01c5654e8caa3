/* Units as people say them: what a message tells them to type. */
#include <string.h>

#include "base/unit_words.h"
#include "trial.h"

static void words_lead_to_units(void **state)
{
    static const struct {
        enum er_quantity quantity;
        const char *text, *unit; /* NULL: none */
        size_t number;
    } cases[] = {
        {ER_LENGTH, "200 feet", "ft", 3},
        {ER_LENGTH, "200'", "ft", 3},
        {ER_SMALL_LENGTH, "1 1/2 Inches", "in", 5},
        {ER_LENGTH, "-3.5 Foot.", "ft", 4},
        {ER_VOLUME, "5 gallons", "gal", 1},
        {ER_PRESSURE, "3 bars", "bar", 1},
        {ER_TIME, "22 seconds", "s", 2},
        {ER_FLOW, "12 gallons per minute", "gpm", 2},
        {ER_PRESSURE, "40 pounds", "psi", 2},
        {ER_MASS, "40 pounds", "lb", 2},
        {ER_LENGTH, "5 gallons", NULL, 0},
        {ER_LENGTH, "feet", NULL, 0},
        {ER_LENGTH, "200 feets", NULL, 0},
        {ER_LENGTH, "", NULL, 0},
        {ER_TAPE_FLOW, "5 gallons", NULL, 0},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        size_t number = 0;
        const char *unit = er_unit_meant(cases[i].quantity, cases[i].text, &number);
        if (cases[i].unit == NULL) {
            assert_null(unit);
        } else {
            assert_non_null(unit);
            assert_string_equal(unit, cases[i].unit);
            assert_int_equal(number, cases[i].number);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(words_lead_to_units)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
