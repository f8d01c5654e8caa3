/* The one rule by which numbers are told. */
#include <math.h>

#include "base/figure.h"
#include "trial.h"

static void assert_told(void (*append)(struct er_text *text, double number), double number,
                        const char *wanted)
{
    struct er_text text;
    er_text_init(&text);
    append(&text, number);
    assert_string_equal(er_text_string(&text), wanted);
    er_text_release(&text);
}

static void three_figures_count(void **state)
{
    static const struct {
        double number;
        const char *told;
    } cases[] = {
        {18.16, "18.2"},     {15.0, "15"},          {4.004, "4"},
        {0.7163, "0.716"},   {0.03, "0.03"},        {0.0012345, "0.0012"},
        {99.96, "100"},      {9.996, "10"},         {999.6, "1000"},
        {7855.0, "7860"},    {9994.0, "9990"},      {9996.0, "10,000"},
        {12345.0, "12,300"}, {139998.0, "140,000"}, {1234567.0, "1,230,000"},
        {0.0, "0"},          {-0.0, "0"},           {1e-9, "0"},
        {-1e-9, "0"},        {-3.456, "-3.46"},     {-12345.0, "-12,300"},
        {(double)NAN, "-"},  {2e15, "2e+15"},       {0.00005, "0.0001"},
        {0.1, "0.1"},        {0.1005, "0.101"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_told(er_text_append_figure, cases[i].number, cases[i].told);
    }
}

static void a_figure_differs_from_its_limit(void **state)
{
    static const struct {
        double number, limit;
        const char *told;
    } cases[] = {
        {84.07, 85.0, "84.1"},        {84.96, 85.0, "84.96"},   {84.9996, 85.0, "84.9996"},
        {85.0, 85.0, "85"},           {20.004, 20.0, "20.004"}, {12345.0, 12300.0, "12,340"},
        {0.00012, 0.0001, "0.00012"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct er_text text;
        er_text_init(&text);
        er_text_append_beside(&text, cases[i].number, cases[i].limit);
        assert_string_equal(er_text_string(&text), cases[i].told);
        er_text_release(&text);
    }
}

static void figures_of_a_list_stay_as_given(void **state)
{
    (void)state;
    assert_told(er_text_append_given, 2.067, "2.067");
    assert_told(er_text_append_given, 52.5018, "52.5");
    assert_told(er_text_append_given, 7.874015748, "7.87");
    assert_told(er_text_append_given, 0.1 + 0.2, "0.3");
    assert_told(er_text_append_given, 12345.0, "12,345");
    assert_told(er_text_append_given, (double)NAN, "-");
}

static void whole_numbers_are_whole(void **state)
{
    (void)state;
    assert_told(er_text_append_whole, 9840.4, "9840");
    assert_told(er_text_append_whole, 48000.0, "48,000");
    assert_told(er_text_append_whole, 1234567.0, "1,234,567");
    assert_told(er_text_append_whole, -12345.0, "-12,345");
    assert_told(er_text_append_whole, -0.4, "0");
    assert_told(er_text_append_whole, (double)NAN, "-");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(three_figures_count),
        cmocka_unit_test(a_figure_differs_from_its_limit),
        cmocka_unit_test(figures_of_a_list_stay_as_given),
        cmocka_unit_test(whole_numbers_are_whole),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
