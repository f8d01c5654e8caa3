/* The examples tell of one invented farm, and what their notes say agrees with their figures. */
#include <dirent.h>

#include "evenrow/bill.h"
#include "evenrow/catalogue.h"
#include "evenrow/check.h"
#include "field_texts.h"

#define FOLDER EVENROW_SOURCE_DIR "/examples"

struct example {
    char text[16384];
    struct er_field field;
};

static void open_example(struct example *example, const char *name)
{
    char path[1024];
    snprintf(path, sizeof path, "%s/%s", FOLDER, name);
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    const size_t length = fread(example->text, 1, sizeof example->text - 1, file);
    assert_true(length > 0 && length < sizeof example->text - 1);
    example->text[length] = '\0';
    fclose(file);
    struct er_problems problems = {0};
    assert_int_equal(read_text(example->text, &example->field, &problems), ER_OK);
    er_problems_release(&problems);
}

/* Runs `judge` on every field file among the examples and adds up what it returns: the places
 * where it had something to judge. */
static size_t on_each(size_t (*judge)(const struct example *example))
{
    static struct example example;
    size_t found = 0;
    DIR *folder = opendir(FOLDER);
    assert_non_null(folder);
    for (const struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        const char *ending = strrchr(entry->d_name, '.');
        if (ending != NULL && strcmp(ending, ".json") == 0) {
            open_example(&example, entry->d_name);
            found += judge(&example);
            er_field_release(&example.field);
        }
    }
    closedir(folder);
    return found;
}

/* The number before `word`. */
static double number_before(const char *text, const char *word)
{
    while (word > text && strchr("0123456789.", word[-1]) != NULL) {
        word--;
    }
    return strtod(word, NULL);
}

/* Acres in a title or note are those of the report, to the digits that it shows. */
static size_t judge_acres(const struct example *example)
{
    const char *acres = strstr(example->text, " acres");
    if (acres == NULL) {
        return 0;
    }
    struct er_result result;
    struct er_failure failure;
    assert_int_equal(er_check(&example->field, ER_US, &result, &failure), ER_OK);
    double area = 0.0;
    for (size_t z = 0; z < example->field.zone_count; z++) {
        area += result.zones[z].area;
    }
    er_result_release(&result);
    assert_true(fabs(number_before(example->text, acres) - er_from_si(ER_AREA, ER_US, area)) <
                0.005);
    return 1;
}

static void test_acres_are_those_of_the_report(void **state)
{
    (void)state;
    assert_true(on_each(judge_acres) >= 1);
}

static struct er_catalogue catalogue;

/* Tape and film come on rolls as long as those of the built-in list for the same goods. */
static size_t judge_rolls(const struct example *example)
{
    const struct er_field *field = &example->field;
    size_t found = 0;
    for (size_t t = 0; field->prices != NULL && t < field->own_tape_count; t++) {
        const struct er_tape *tape = &field->own_tapes[t];
        const struct er_price own = er_tape_roll_length(field->prices, tape);
        if (!own.placeholder) {
            const struct er_prices listed = {.placeholders = &catalogue.prices};
            assert_true(fabs(own.amount - er_tape_roll_length(&listed, tape).amount) < 1e-6);
            found++;
        }
    }
    if (field->mulch != NULL && er_given(field->mulch->film.thickness)) {
        const struct er_film *own = &field->mulch->film, *listed = &catalogue.prices.film;
        assert_true(fabs(own->thickness - listed->thickness) < 1e-9);
        assert_true(fabs(own->roll_length - listed->roll_length) < 1e-6);
        found++;
    }
    return found;
}

static void test_rolls_are_those_of_the_catalogue(void **state)
{
    (void)state;
    assert_int_equal(er_catalogue_open(&catalogue), ER_OK);
    assert_true(on_each(judge_rolls) >= 2);
    er_catalogue_release(&catalogue);
}

/* Pump, weather and river are those of one farm, 700 ft up or so. */
static size_t judge_height(const struct example *example)
{
    const struct er_suction *suction = &example->field.source.suction;
    size_t found = 0;
    if (suction->given) {
        assert_true(fabs(suction->altitude - 215.0) < 10.0);
        found++;
    }
    if (example->field.weather != NULL) {
        assert_true(fabs(example->field.weather->altitude - 215.0) < 10.0);
        found++;
    }
    return found;
}

static void test_the_farm_has_one_height(void **state)
{
    (void)state;
    assert_true(on_each(judge_height) >= 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_acres_are_those_of_the_report),
        cmocka_unit_test(test_rolls_are_those_of_the_catalogue),
        cmocka_unit_test(test_the_farm_has_one_height),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
