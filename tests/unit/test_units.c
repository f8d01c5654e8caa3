/* Quantities and units: conversions against printed factors, and what a text may hold. */
#include <locale.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "comma.h"
#include "evenrow/units.h"

static void assert_close(double got, double wanted, double relative)
{
    if (fabs(got - wanted) > relative * fabs(wanted)) {
        print_error("got %.17g, wanted %.17g\n", got, wanted);
    }
    assert_true(fabs(got - wanted) <= relative * fabs(wanted));
}

static double parsed(const char *text, enum er_quantity quantity)
{
    double value = (double)NAN;
    if (er_quantity_parse(text, quantity, &value) != ER_QUANTITY_GOOD) {
        print_error("not understood: %s\n", text);
    }
    assert_true(value == value); /* a number */
    return value;
}

static void assert_fault(const char *text, enum er_quantity quantity, enum er_quantity_fault fault)
{
    double value = 12345.0;
    enum er_quantity_fault found = er_quantity_parse(text, quantity, &value);
    if (found != fault) {
        print_error("%s: fault %d, wanted %d\n", text, (int)found, (int)fault);
    }
    assert_int_equal(found, fault);
    assert_true(value == 12345.0); /* left alone */
}

/* Factors as NIST Special Publication 811 (2008), appendix B.8 prints them, to 7 digits.
 * Figures from memory. A head is the pressure over 998.2 kg/m3 x 9.80665 m/s2. */
static void factors_are_those_of_nist(void **state)
{
    (void)state;
    const double head = 998.2 * 9.80665;
    const struct {
        const char *text;
        enum er_quantity quantity;
        double si;
    } printed[] = {
        {"1 mil", ER_SMALL_LENGTH, 2.54e-5},
        {"1 in", ER_SMALL_LENGTH, 2.54e-2},
        {"1 ft", ER_LENGTH, 3.048e-1},
        {"1 yd", ER_LENGTH, 9.144e-1},
        {"1 gal", ER_VOLUME, 3.785412e-3},
        {"1 gpm", ER_FLOW, 6.309020e-5},
        {"1 psi", ER_PRESSURE, 6.894757e3 / head},
        {"1 bar", ER_PRESSURE, 1e5 / head},
        {"1 kPa", ER_PRESSURE, 1e3 / head},
        {"1 ft2", ER_AREA, 9.290304e-2},
        {"1 ha", ER_AREA, 1e4},
        {"1 ft/s", ER_VELOCITY, 3.048e-1},
        {"1 L", ER_VOLUME, 1e-3},
        {"1 lb", ER_MASS, 4.535924e-1},
        {"1 oz", ER_MASS, 2.834952e-2},
        {"1 lb/gal", ER_DENSITY, 1.198264e2},
        {"1 oz/gal", ER_DENSITY, 7.489152},
    };
    for (size_t i = 0; i < sizeof printed / sizeof *printed; i++) {
        assert_close(parsed(printed[i].text, printed[i].quantity), printed[i].si, 5e-7);
    }
}

/* Definitions: an acre is 43,560 square feet, an acre-foot that times one foot; a US gallon is
 * 231 cubic inches; a pound-force 4.4482216152605 N. */
static void factors_follow_from_definitions(void **state)
{
    (void)state;
    const double foot = 0.3048;
    const double gallon = 231.0 * 0.0254 * 0.0254 * 0.0254;
    assert_close(parsed("1 acre", ER_AREA), 43560.0 * foot * foot, 1e-14);
    assert_close(parsed("1 acre-ft", ER_VOLUME), 43560.0 * foot * foot * foot, 1e-14);
    assert_close(parsed("12 acre-in", ER_VOLUME), parsed("1 acre-ft", ER_VOLUME), 1e-14);
    assert_close(parsed("1 gal", ER_VOLUME), gallon, 1e-14);
    assert_close(parsed("60 gph", ER_FLOW), parsed("1 gpm", ER_FLOW), 1e-14);
    assert_close(parsed("1 gpm/100ft", ER_TAPE_FLOW), gallon / 60.0 / (100.0 * foot), 1e-14);
    assert_close(parsed("60 gph/100ft", ER_TAPE_FLOW), parsed("1 gpm/100ft", ER_TAPE_FLOW), 1e-14);
    assert_close(parsed("1 L/h/m", ER_TAPE_FLOW), 1e-3 / 3600.0, 1e-14);
    assert_close(parsed("1 L/min", ER_FLOW), 1e-3 / 60.0, 1e-14);
    assert_close(parsed("1 L/s", ER_FLOW), 1e-3, 1e-14);
    assert_close(parsed("1 L/h", ER_EMITTER_FLOW), 1e-3 / 3600.0, 1e-14);
    assert_close(parsed("1 m3/h", ER_FLOW), 1.0 / 3600.0, 1e-14);
    assert_close(parsed("1 gal/100ft", ER_VOLUME_PER_LENGTH), gallon / (100.0 * foot), 1e-14);
    assert_close(parsed("1 L/m", ER_VOLUME_PER_LENGTH), 1e-3, 1e-14);
    assert_close(parsed("7 in/week", ER_DEPTH_PER_DAY), 0.0254, 1e-14);
    assert_close(parsed("7 mm/week", ER_DEPTH_PER_DAY), 0.001, 1e-14);
    assert_close(parsed("1 in", ER_DEPTH_PER_DAY), 0.0254, 1e-14);
    assert_close(parsed("1 mm/day", ER_DEPTH_PER_DAY), 0.001, 1e-14);
    assert_close(parsed("1 psi", ER_PRESSURE) / foot,
                 4.4482216152605 / (0.0254 * 0.0254) / (998.2 * 9.80665) / foot, 1e-14);
    assert_close(parsed("1 psi", ER_PRESSURE) / foot, 2.3108, 1e-5);
    assert_close(parsed("10 ft", ER_PRESSURE), 3.048, 1e-14);
    assert_close(parsed("2 m", ER_HEAD), 2.0, 1e-14);
    assert_close(parsed("90 min", ER_TIME), 5400.0, 1e-14);
    assert_close(parsed("1 h", ER_TIME), 3600.0, 1e-14);
    assert_close(parsed("2 s", ER_TIME), 2.0, 1e-14);
    assert_close(parsed("3 cm", ER_LENGTH), 0.03, 1e-14);
    const double pound = 0.45359237;
    assert_close(parsed("1 lb/acre", ER_MASS_PER_AREA), pound / (43560.0 * foot * foot), 1e-14);
    assert_close(parsed("1 kg/ha", ER_MASS_PER_AREA), 1e-4, 1e-14);
    assert_close(parsed("1 lb/100ft", ER_MASS_PER_LENGTH), pound / (100.0 * foot), 1e-14);
    assert_close(parsed("16 oz/100ft", ER_MASS_PER_LENGTH),
                 parsed("1 lb/100ft", ER_MASS_PER_LENGTH), 1e-14);
    assert_close(parsed("1 g/m", ER_MASS_PER_LENGTH), 1e-3, 1e-14);
    assert_close(parsed("1 kg/L", ER_DENSITY), 1e3, 1e-14);
    assert_close(parsed("1 g/L", ER_DENSITY), parsed("1 g/L", ER_CONCENTRATION), 1e-14);
    assert_close(parsed("1 ppm", ER_CONCENTRATION), parsed("1 mg/L", ER_CONCENTRATION), 1e-14);
    assert_close(parsed("1000 mg/L", ER_CONCENTRATION), 1.0, 1e-14);
    assert_close(parsed("1 dS/m", ER_CONDUCTIVITY), parsed("1000 uS/cm", ER_CONDUCTIVITY), 1e-14);
    assert_close(parsed("10 mS/cm", ER_CONDUCTIVITY), parsed("1 S/m", ER_CONDUCTIVITY), 1e-14);
    assert_close(parsed("1 gal", ER_SMALL_VOLUME), gallon, 1e-14);
    assert_close(parsed("50 g", ER_MASS), 0.05, 1e-14);
    assert_close(parsed("1 mph", ER_WIND), 5280.0 * foot / 3600.0, 1e-14);
    assert_close(parsed("36 km/h", ER_WIND), 10.0, 1e-14);
    assert_close(parsed("1 ft/s", ER_WIND), foot, 1e-14);
    assert_close(parsed("100 Ly/day", ER_RADIATION), 4.184, 1e-14);
    assert_close(parsed("250 W/m2", ER_RADIATION), 21.6, 1e-14);
    assert_close(parsed("1 MJ/m2/day", ER_RADIATION), 1.0, 1e-14);
}

/* Fixed points of the scales: 32 F is 0 C, 212 F is 100 C, -40 is the same on both. */
static void temperatures_have_an_offset(void **state)
{
    (void)state;
    assert_true(fabs(parsed("32 F", ER_TEMPERATURE)) < 1e-12);
    assert_close(parsed("212 F", ER_TEMPERATURE), 100.0, 1e-14);
    assert_close(parsed("-40 F", ER_TEMPERATURE), -40.0, 1e-14);
    assert_close(parsed("20 c", ER_TEMPERATURE), 20.0, 1e-14);
    assert_close(er_to_si(ER_TEMPERATURE, ER_US, 68.0), 20.0, 1e-14);
    assert_close(er_from_si(ER_TEMPERATURE, ER_US, 20.0), 68.0, 1e-14);
}

static void fractions_and_numbers_are_read(void **state)
{
    (void)state;
    assert_close(parsed("5/8 in", ER_SMALL_LENGTH), 0.015875, 1e-14);
    assert_close(parsed("5/8in", ER_SMALL_LENGTH), 0.015875, 1e-14);
    assert_close(parsed("1 1/2in", ER_SMALL_LENGTH), 0.0381, 1e-14);
    assert_close(parsed("1 \t 1/2  IN", ER_SMALL_LENGTH), 0.0381, 1e-14);
    assert_close(parsed("-1/2 ft", ER_LENGTH), -0.1524, 1e-14);
    assert_close(parsed("-1 1/2 ft", ER_LENGTH), -0.4572, 1e-14);
    assert_close(parsed("0/3 ft", ER_LENGTH), 0.0, 0.0);
    assert_close(parsed("16mm", ER_SMALL_LENGTH), 0.016, 1e-14);
    assert_close(parsed("1e2 mm", ER_LENGTH), 0.1, 1e-14);
    assert_close(parsed("1.5E-1M", ER_LENGTH), 0.15, 1e-14);
    assert_close(parsed("-0.5e+1 m", ER_LENGTH), -5.0, 1e-14);
    assert_close(parsed("1.2 BAR", ER_PRESSURE), parsed("120 kpa", ER_PRESSURE), 1e-14);
    assert_close(parsed("40 Gpm", ER_FLOW), er_to_si(ER_FLOW, ER_US, 40.0), 1e-14);
}

static void other_texts_are_refused(void **state)
{
    (void)state;
    static const char *const no_number[] = {
        "",         "in",          "01 in",       ".5 in",    "+1 in",   " 1 in",
        "nan in",   "inf in",      "- 1 in",      "-in",      "1. in",   "1e in",
        "1/0 in",   "1/00 in",     "0/0 in",      "1.5/2 in", "1/02 in", "01/2 in",
        "1e1/2 in", "\xc2\xbd in", "infinity ft", "--1 in",   "1/ in",
    };
    for (size_t i = 0; i < sizeof no_number / sizeof *no_number; i++) {
        assert_fault(no_number[i], ER_LENGTH, ER_QUANTITY_NO_NUMBER);
    }
    static const char *const bad_unit[] = {
        "1 in ",  "1 inch", "1 psi", "1 in x", "1,5 in", "0x10 in",     "1 i n",
        "1 1 in", "1 \"",   "1 '",   "1\nin",  "1 m\n",  "1 \xc2\xb5m", "1 -1/2 in",
    };
    for (size_t i = 0; i < sizeof bad_unit / sizeof *bad_unit; i++) {
        assert_fault(bad_unit[i], ER_LENGTH, ER_QUANTITY_BAD_UNIT);
    }
    assert_fault("1", ER_LENGTH, ER_QUANTITY_NO_UNIT);
    assert_fault("1 ", ER_LENGTH, ER_QUANTITY_NO_UNIT);
    assert_fault("5/8", ER_LENGTH, ER_QUANTITY_NO_UNIT);
    assert_fault("1 1/2 ", ER_LENGTH, ER_QUANTITY_NO_UNIT);
    assert_fault("1e999 in", ER_LENGTH, ER_QUANTITY_OUT_OF_RANGE);
    assert_fault("-1e308 ha", ER_AREA, ER_QUANTITY_OUT_OF_RANGE);
    assert_fault("1 gpm", ER_TAPE_FLOW, ER_QUANTITY_BAD_UNIT);
    assert_fault("1 in", ER_PRESSURE, ER_QUANTITY_BAD_UNIT);
    assert_fault("1 mm/day", ER_DEPTH, ER_QUANTITY_BAD_UNIT);
}

static void a_very_long_number_is_no_harm(void **state)
{
    (void)state;
    char text[5000];
    memset(text, '3', sizeof text);
    text[1] = '.';
    strcpy(text + sizeof text - 4, " ft");
    assert_close(parsed(text, ER_LENGTH), 0.3048 * 10.0 / 3.0, 1e-14);
    text[1] = '3';
    assert_fault(text, ER_LENGTH, ER_QUANTITY_OUT_OF_RANGE);
}

/* Each quantity has a name, its own units are among those it names, and the units of the two
 * systems lead to SI and back. */
static void the_table_is_whole(void **state)
{
    (void)state;
    for (int i = 0; i < ER_QUANTITY_COUNT; i++) {
        enum er_quantity quantity = (enum er_quantity)i;
        assert_true(strlen(er_quantity_name(quantity)) > 0);
        for (int j = 0; j < 2; j++) {
            enum er_system system = j == 0 ? ER_US : ER_METRIC;
            char text[64];
            snprintf(text, sizeof text, "7 %s", er_unit_name(quantity, system));
            assert_non_null(strstr(er_unit_names(quantity), text + 2));
            double si = er_to_si(quantity, system, 7.0);
            assert_close(parsed(text, quantity), si, 0.0);
            assert_close(er_from_si(quantity, system, si), 7.0, 1e-14);
        }
    }
    assert_string_equal(er_unit_names(ER_PRESSURE), "psi, kPa, bar, m, ft");
    assert_string_equal(er_unit_name(ER_TAPE_FLOW, ER_METRIC), "L/h/m");
}

static void a_decimal_comma_in_the_locale_changes_nothing(void **state)
{
    (void)state;
    take_decimal_comma();
    double value = parsed("1.5 m", ER_LENGTH);
    setlocale(LC_ALL, "C");
    assert_close(value, 1.5, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(factors_are_those_of_nist),
        cmocka_unit_test(factors_follow_from_definitions),
        cmocka_unit_test(temperatures_have_an_offset),
        cmocka_unit_test(fractions_and_numbers_are_read),
        cmocka_unit_test(other_texts_are_refused),
        cmocka_unit_test(a_very_long_number_is_no_harm),
        cmocka_unit_test(the_table_is_whole),
        cmocka_unit_test(a_decimal_comma_in_the_locale_changes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
