/* The layout of a report: lines that break, figures with their decimals, tables. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report_pages.h"
#include "say/table.h"
#include "say/wrap.h"

static double psi(double value) { return er_to_si(ER_PRESSURE, ER_US, value); }

/* ---- wrapping ---- */

static void line_breaks_at_the_last_blank_that_fits(void **state)
{
    (void)state;
    assert_int_equal(er_line_bytes("ab cd ef", 5), 5);
    assert_int_equal(er_line_bytes("ab cd ef", 4), 2);
    assert_int_equal(er_line_bytes("ab  cd", 3), 2);
    assert_int_equal(er_line_bytes("abcdef", 4), 4);
    assert_int_equal(er_line_bytes("ab", 4), 2);
    assert_int_equal(er_line_bytes("", 4), 0);
    assert_int_equal(er_line_bytes("\xc3\xa9\xc3\xa9\xc3\xa9", 2), 4); /* two of three letters */
}

static void paragraph_keeps_to_the_page(void **state)
{
    (void)state;
    struct er_text out;
    er_text_init(&out);
    char word[200];
    memset(word, 'x', sizeof word - 1);
    word[sizeof word - 1] = '\0';
    er_paragraph(&out, "- ", "  ", "one two");
    er_paragraph(&out, "- ", "  ", word);
    er_paragraph(&out, "", "", "a\x1b[2Jb");
    er_paragraph(&out, "", "", "");
    const char *text = er_text_string(&out);
    assert_fits_page(text);
    assert_memory_equal(text, "- one two\n- xxx", 15);
    assert_non_null(strstr(text, "\na\\x1b[2Jb\n\n"));
    er_text_release(&out);
}

/* ---- tables ---- */

static void number_in_running_text_ends_without_zeros(void **state)
{
    (void)state;
    static const struct {
        double number;
        const char *text;
    } cases[] = {{85.0, "85"},    {0.5, "0.5"},       {0.0, "0"},
                 {-0.0, "0"},     {1200.0, "1200"},   {47.23, "47.2"},
                 {-0.00001, "0"}, {0.0375, "0.0375"}, {12345.0, "12,300"}};
    struct er_pen pen = {.system = ER_US};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_string_equal(er_pen_number(&pen, cases[i].number), cases[i].text);
    }
    assert_string_equal(er_pen_number(&pen, (double)NAN), "-");
    er_pen_release(&pen);
}

static void table_lines_up_by_decimal_points(void **state)
{
    (void)state;
    static const struct er_column columns[] = {{"zone", ER_COLUMN_WORDS, ER_NO_UNIT},
                                               {"beds", ER_COLUMN_WHOLE, ER_NO_UNIT},
                                               {"in", ER_COLUMN_NUMBER, ER_PRESSURE},
                                               {"far\nend", ER_COLUMN_NUMBER, ER_PRESSURE}};
    struct er_pen pen = {.system = ER_US};
    struct er_table *table = er_pen_table(&pen, columns, 4, 2);
    er_table_text(table, 0, 0, "\xc3\xa9t\xc3\xa9");
    er_table_number(table, 0, 1, 16.0);
    er_table_number(table, 0, 2, psi(10.25));
    er_table_number(table, 0, 3, psi(9.0));
    er_table_text(table, 1, 0, "b\tc");
    er_table_number(table, 1, 3, psi(-0.01));
    struct er_text out;
    er_text_init(&out);
    er_table_write(table, &out);
    assert_string_equal(er_text_string(&out), "                    far\n"
                                              "              in    end\n"
                                              "zone  beds   psi    psi\n"
                                              "----  ----  ----  -----\n"
                                              "\xc3\xa9t\xc3\xa9     16  10.2   9\n"
                                              "b\\tc     -   -    -0.01\n");
    er_pen_release(&pen);
    er_text_release(&out);
}

static void table_wraps_its_longest_words_and_no_figures(void **state)
{
    (void)state;
    static const struct er_column columns[] = {{"zone", ER_COLUMN_WORDS, ER_NO_UNIT},
                                               {"what", ER_COLUMN_WORDS, ER_NO_UNIT},
                                               {"flow", ER_COLUMN_NUMBER, ER_NO_UNIT}};
    struct er_pen pen = {.system = ER_US};
    struct er_table *table = er_pen_table(&pen, columns, 3, 1);
    er_table_text(table, 0, 0,
                  "the long rows behind the old barn, from the lane down to the creek and back");
    er_table_text(table, 0, 1, "watermelons");
    er_table_number(table, 0, 2, 123456.0);
    struct er_text out;
    er_text_init(&out);
    er_table_write(table, &out);
    const char *text = er_text_string(&out);
    assert_fits_page(text);
    assert_non_null(strstr(text, "lane down to    watermelons  123,000\nthe creek and back\n"));
    er_pen_release(&pen);
    er_text_release(&out);
}

static void listed_figures_keep_their_own_decimals(void **state)
{
    (void)state;
    static const struct er_column columns[] = {{"bore", ER_COLUMN_GIVEN, ER_NO_UNIT},
                                               {"C", ER_COLUMN_GIVEN, ER_NO_UNIT},
                                               {"to", ER_COLUMN_GIVEN, ER_NO_UNIT},
                                               {"%", ER_COLUMN_NUMBER, ER_NO_UNIT}};
    static const double figures[2][4] = {{0.615, 150.0, 7.874015748, 0.0517},
                                         {6.065, 140.0, 59.05511811, 100.0}};
    struct er_pen pen = {.system = ER_US};
    struct er_table *table = er_pen_table(&pen, columns, 4, 2);
    for (size_t row = 0; row < 2; row++) {
        for (size_t column = 0; column < 4; column++) {
            er_table_number(table, row, column, figures[row][column]);
        }
    }
    struct er_text out;
    er_text_init(&out);
    er_table_write(table, &out);
    assert_string_equal(er_text_string(&out), " bore    C     to         %\n"
                                              "-----  ---  -----  --------\n"
                                              "0.615  150   7.87    0.0517\n"
                                              "6.065  140  59.1   100\n");
    er_pen_release(&pen);
    er_text_release(&out);
}

static void empty_table_is_nothing(void **state)
{
    (void)state;
    static const struct er_column columns[] = {{"zone", ER_COLUMN_WORDS, ER_NO_UNIT}};
    struct er_pen pen = {.system = ER_US};
    struct er_table *table = er_pen_table(&pen, columns, 1, 0);
    struct er_text out;
    er_text_init(&out);
    er_table_write(table, &out);
    assert_false(out.out_of_memory || pen.out_of_memory);
    assert_int_equal(out.length, 0);
    er_pen_release(&pen);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(line_breaks_at_the_last_blank_that_fits),
        cmocka_unit_test(paragraph_keeps_to_the_page),
        cmocka_unit_test(number_in_running_text_ends_without_zeros),
        cmocka_unit_test(table_lines_up_by_decimal_points),
        cmocka_unit_test(table_wraps_its_longest_words_and_no_figures),
        cmocka_unit_test(listed_figures_keep_their_own_decimals),
        cmocka_unit_test(empty_table_is_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
