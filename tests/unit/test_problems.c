/* The list of problems, and 'did you mean'. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "base/nearest.h"
#include "evenrow/problems.h"

static void a_problem_keeps_its_place_and_text(void **state)
{
    (void)state;
    struct er_problems problems;
    er_problems_init(&problems);
    char pointer[] = "/zones/0";
    er_problems_add(&problems, "field.json", 3, 14, pointer, "%s is %.1f, not %d", "spacing", 1.5,
                    2);
    pointer[1] = 'X';
    er_problems_add(&problems, "standard input", 0, 0, NULL, "empty");
    assert_int_equal(problems.count, 2);
    assert_string_equal(problems.kept[0].origin, "field.json");
    assert_int_equal(problems.kept[0].line, 3);
    assert_int_equal(problems.kept[0].column, 14);
    assert_string_equal(problems.kept[0].pointer, "/zones/0");
    assert_string_equal(problems.kept[0].text, "spacing is 1.5, not 2");
    assert_null(problems.kept[1].pointer);
    assert_false(problems.out_of_memory);
    er_problems_release(&problems);
    assert_int_equal(problems.count, 0);
}

static void problems_beyond_the_kept_are_counted(void **state)
{
    (void)state;
    struct er_problems problems;
    er_problems_init(&problems);
    for (int i = 0; i < 1000; i++) {
        er_problems_add(&problems, "field.json", 1, 1, "/x", "number %d", i);
    }
    assert_int_equal(problems.count, 1000);
    assert_string_equal(problems.kept[ER_PROBLEMS_KEPT - 1].text, "number 19");
    er_problems_release(&problems);
}

static void texts_from_outside_play_no_tricks(void **state)
{
    (void)state;
    struct er_problems problems;
    er_problems_init(&problems);
    er_problems_add(&problems, "a\nb", 1, 1, "/\x1b[2J", "unknown key \"%s\"", "\x1b]0;x\x07");
    assert_string_equal(problems.kept[0].origin, "a\\nb");
    assert_string_equal(problems.kept[0].pointer, "/\\x1b[2J");
    assert_string_equal(problems.kept[0].text, "unknown key \"\\x1b]0;x\\x07\"");
    er_problems_release(&problems);
}

static void a_text_without_end_is_cut(void **state)
{
    (void)state;
    struct er_problems problems;
    er_problems_init(&problems);
    char *name = malloc(1000001);
    assert_non_null(name);
    for (size_t i = 0; i < 1000000; i += 2) {
        memcpy(name + i, "\xc3\xa9", 2);
    }
    name[1000000] = '\0';
    er_problems_add(&problems, "field.json", 1, 1, name, "unknown key %s", name);
    free(name);
    const char *text = problems.kept[0].text;
    assert_true(strlen(text) < 2000);
    assert_string_equal(text + strlen(text) - 5, "\xc3\xa9...");
    assert_null(strchr(text, '\\')); /* no character was cut in two */
    assert_true(strlen(problems.kept[0].pointer) < 2000);
    er_problems_release(&problems);
}

static const char *const keys[] = {"spacing", "slope",     "length",        "tape",
                                   "tapes",   "bed_width", "plant_spacing", "c"};

static const char *nearest_key(const char *wanted)
{
    return er_nearest_of(wanted, keys, sizeof keys / sizeof *keys);
}

static void slips_of_the_keyboard_are_near(void **state)
{
    (void)state;
    assert_string_equal(nearest_key("lenght"), "length");   /* swapped */
    assert_string_equal(nearest_key("spacng"), "spacing");  /* left out */
    assert_string_equal(nearest_key("sslope"), "slope");    /* put in */
    assert_string_equal(nearest_key("slobe"), "slope");     /* changed */
    assert_string_equal(nearest_key("SPACING"), "spacing"); /* letter case */
    assert_string_equal(nearest_key("C"), "c");
    assert_string_equal(nearest_key("bed-width"), "bed_width");
    assert_string_equal(nearest_key("bedWidth"), "bed_width");
    assert_string_equal(nearest_key("Tape"), "tape"); /* nearer than tapes */
    assert_string_equal(nearest_key("plantspacing"), "plant_spacing");
}

static void other_words_are_not(void **state)
{
    (void)state;
    assert_null(nearest_key("pressure"));
    assert_null(nearest_key(""));
    assert_null(nearest_key("x"));
    assert_null(nearest_key("t"));
    assert_null(er_nearest_of("tape", keys, 0));
}

static void a_long_name_is_never_near_and_costs_nothing(void **state)
{
    (void)state;
    enum { LONG = 2000000 };
    char *name = malloc(LONG + 1);
    assert_non_null(name);
    memset(name, 'a', LONG);
    name[LONG] = '\0';
    const char *candidate = name;
    assert_null(nearest_key(name));
    assert_null(er_nearest_of("length", &candidate, 1));
    free(name);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_problem_keeps_its_place_and_text),
        cmocka_unit_test(problems_beyond_the_kept_are_counted),
        cmocka_unit_test(texts_from_outside_play_no_tricks),
        cmocka_unit_test(a_text_without_end_is_cut),
        cmocka_unit_test(slips_of_the_keyboard_are_near),
        cmocka_unit_test(other_words_are_not),
        cmocka_unit_test(a_long_name_is_never_near_and_costs_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
