/* The arithmetic that is shown: every line worked again from the numbers on the page. */
#include <dirent.h>
#include <stdio.h>

#include "board_check.h"
#include "field_texts.h"
#include "report/explain.h"
#include "report_pages.h"

#define SYSTEMS 2

/* A page of text, and what came out of working it again. */
struct page {
    struct er_text text;
    struct board_report board;
};

static void check_page(struct page *page, size_t least)
{
    assert_fits_page(er_text_string(&page->text));
    board_check(er_text_string(&page->text), &page->board);
    if (page->board.faults > 0) {
        print_error("%zu faults; the first: %s\n", page->board.faults, page->board.first_fault);
    }
    assert_int_equal(page->board.faults, 0);
    assert_true(page->board.checked >= least);
}

static size_t faults_with(struct page *page, size_t place, int steps)
{
    char *text = page->text.data;
    char kept = text[place];
    text[place] = (char)('0' + (kept - '0' + steps) % 10);
    struct board_report changed;
    board_check(text, &changed);
    text[place] = kept;
    return changed.faults;
}

/* A result whose last digit is wrong is noticed, and so is an input whose first one is. */
static void each_digit_counts(struct page *page)
{
    const struct board_places *results = &page->board.results;
    const struct board_places *inputs = &page->board.inputs;
    for (size_t i = 0; i < results->count; i++) {
        assert_true(faults_with(page, results->at[i], 5) > 0);
    }
    assert_true(inputs->count > 0);
    for (size_t i = 0; i < inputs->count; i++) {
        assert_true(faults_with(page, inputs->at[i], 1) > 0);
    }
}

/* ---- the evaluator itself ---- */

static size_t faults_of(const char *page)
{
    struct board_report report;
    board_check(page, &report);
    return report.faults;
}

static void evaluator_works(void **state)
{
    (void)state;
    assert_int_equal(faults_of("  a = 1 + 2 * 3^2 - 4 / 8 = 18.5 m, words = none\n"), 0);
    assert_int_equal(faults_of("  a = 2^3 - -1 = 9 m\n"), 0);
    assert_int_equal(faults_of("  a = min(7, 3 + 1) * max(1, sqrt(9)) = 12\n"), 0);
    assert_int_equal(faults_of("  a = 10 / 3 = 3.33\n"), 0);
    assert_int_equal(faults_of("  a = 10 / 3 = 3.34\n"), 0); /* one in the last digit */
    assert_int_equal(faults_of("  a = 10 / 3 = 3.35\n"), 1);
    assert_int_equal(faults_of("  a = b * c\n    b = 2 ft * 0.3048 = 0.6096 m\n    c = 3\n"
                               "    a = 1.8288 m\n    a = 1.8288 m * 3.28084 = 6.0000 ft\n"),
                     0);
    assert_int_equal(faults_of("  a = b * c\n    b = 2\n    a = 6\n"), 1); /* no c */
    assert_int_equal(faults_of("  a = b * c\n    b = 2\n    c = 3\n"), 1); /* no a */
    assert_int_equal(faults_of("  a = b\n    b = 2 ft * 0.3 = 0.7 m\n    a = 0.7\n"), 0);
    assert_int_equal(faults_of("  a = b\n    b = 2 ft * 0.3 = 0.8 m\n    a = 0.8\n"), 1);
    assert_int_equal(faults_of("  a = 1 +\n"), 1);
}

/* ---- pages ---- */

typedef void look_at(const struct er_field *field, enum er_system system);

/* Reads a field file, if there is one, and it is good. */
static bool read_file(const char *path, struct er_field *field)
{
    static char text[1 << 18];
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        return false;
    }
    size_t length = fread(text, 1, sizeof text - 1, file);
    fclose(file);
    text[length] = '\0';
    struct er_problems problems;
    er_problems_init(&problems);
    bool good = strlen(text) == length && read_text(text, field, &problems) == ER_OK;
    er_problems_release(&problems);
    return good;
}

/* Looks at every good field file FOLDER/NAMEsuffix in both systems; returns how many there are. */
static size_t for_each_field(const char *folder, const char *suffix, look_at *look)
{
    DIR *open = opendir(folder);
    size_t count = 0;
    assert_non_null(open);
    for (struct dirent *entry = readdir(open); entry != NULL; entry = readdir(open)) {
        char path[1024];
        struct er_field field;
        snprintf(path, sizeof path, "%s/%s%s", folder, entry->d_name, suffix);
        if (entry->d_name[0] != '.' && read_file(path, &field)) {
            look(&field, ER_US);
            look(&field, ER_METRIC);
            er_field_release(&field);
            count++;
        }
    }
    closedir(open);
    return count;
}

#define EXAMPLES EVENROW_SOURCE_DIR "/examples"
#define CASES EVENROW_SOURCE_DIR "/tests/cli/cases"

static bool explain_check(const struct er_field *field, enum er_system system, struct page *page)
{
    struct er_result result;
    struct er_failure failure;
    er_text_init(&page->text);
    if (er_check(field, system, &result, &failure) != ER_OK) {
        return false;
    }
    assert_int_equal(er_explain_check(&result, system, &page->text), ER_OK);
    er_result_release(&result);
    return true;
}

/* The last number before `end`. */
static double last_result_before(const char *page, const char *end)
{
    double last = (double)NAN;
    for (const char *at = strstr(page, "  p = "); at != NULL && at < end;
         at = strstr(at + 1, "  p = ")) {
        const char *line_end = at + strcspn(at, "\n");
        const char *equals = at;
        for (const char *next = at; next != NULL && next < line_end;
             next = strstr(next + 1, " = ")) {
            equals = next;
        }
        last = strtod(equals + 3, NULL);
    }
    return last;
}

/* The pressures that are written down step by step end where the solver has the header's. */
static void supply_meets_header(const struct page *page, enum er_system system)
{
    const char *text = er_text_string(&page->text);
    const char *feed = strstr(text, "    pf = ");
    assert_non_null(feed);
    double near = er_from_si(ER_PRESSURE, system, er_to_si(ER_PRESSURE, ER_US, 0.005));
    assert_true(fabs(last_result_before(text, feed) - strtod(feed + 9, NULL)) < near);
}

static void look_at_check(const struct er_field *field, enum er_system system)
{
    struct page page;
    assert_true(explain_check(field, system, &page));
    check_page(&page, 15);
    each_digit_counts(&page);
    supply_meets_header(&page, system);
    er_text_release(&page.text);
}

static void check_of_every_example(void **state)
{
    (void)state;
    assert_true(for_each_field(EXAMPLES, "", look_at_check) >= 6);
}

static void look_at_case(const struct er_field *field, enum er_system system)
{
    struct page page;
    if (explain_check(field, system, &page)) {
        check_page(&page, 0);
    }
    er_text_release(&page.text);
}

/* Sources of every kind, compensating tapes, dry rows, unlike tapes, faults. */
static void check_of_every_case(void **state)
{
    (void)state;
    assert_true(for_each_field(CASES, "/field.json", look_at_case) >= 50);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(evaluator_works),
        cmocka_unit_test(check_of_every_example),
        cmocka_unit_test(check_of_every_case),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
