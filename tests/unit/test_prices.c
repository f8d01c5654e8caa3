/* The prices of a field file: read, written back, and the built-in list. */
#include "field_texts.h"

#include "evenrow/bill.h"
#include "evenrow/catalogue.h"
#include "evenrow/writing.h"

#define FOOT 0.3048
#define INCH 0.0254

/* A farm without prices; "spare" is used nowhere. */
static const char farm[] =
    "{\"units\": \"us\", \"source\": {\"pressure\": 20},\n"
    "\"pipes\": {\"blue\": {\"inside_diameter\": 2}},\n"
    "\"tapes\": {\"t\": {\"flow\": 0.45, \"at_pressure\": 8, \"emitter_spacing\": 12,\n"
    "    \"inside_diameter\": \"5/8 in\"},\n"
    "  \"spare\": {\"flow\": 0.5, \"at_pressure\": 8, \"emitter_spacing\": 12,\n"
    "    \"inside_diameter\": \"5/8 in\"}},\n"
    "\"zones\": [{\"name\": \"1\", \"header\": {\"pipe\": \"blue\"},\n"
    "  \"beds\": [{\"count\": 4, \"length\": 100, \"spacing\": 6, \"tape\": \"t\"}]}]}";

static const char all_prices[] =
    "{\"currency\": \"\xE2\x82\xAC\", \"tape_fitting\": 1, \"tape_coupling\": 2, \"tape_end\": 3,\n"
    "\"pipe_coupling\": 4, \"pipe_end\": 5, \"tee\": 6, \"valve\": 7, \"regulator\": 8,\n"
    "\"filter\": 9, \"gauge\": 10, \"test_point\": 11, \"air_vent\": 12, \"flush_valve\": 13,\n"
    "\"check_valve\": 14, \"backflow_assembly\": 15, \"injector\": 16.5,\n"
    "\"film\": {\"roll_price\": 110, \"roll_length\": 4000, \"width\": 48, \"thickness\": \"1 "
    "mil\"},\n"
    "\"pipes\": {\"blue\": {\"price\": 0.3, \"length\": 20}, \"pvc40-2in\": {\"price\": 2.1}},\n"
    "\"tapes\": {\"spare\": {\"roll_price\": 190.55}, \"t\": {\"roll_length\": \"2000 m\"},\n"
    "  \"tape-16mm-12in-0.45\": {\"roll_price\": 170, \"roll_length\": 7500}}}";

/* The farm with `prices` as its last key. Freed by the caller. */
static char *farm_with(const char *prices)
{
    const size_t size = sizeof farm + strlen(prices) + 20;
    char *text = malloc(size);
    assert_non_null(text);
    snprintf(text, size, "%.*s,\n\"prices\": %s}", (int)(sizeof farm - 2), farm, prices);
    return text;
}

static void open_with(const char *prices, struct er_field *field)
{
    char *text = farm_with(prices);
    read_good(text, field);
    free(text);
}

static void check_all_prices(const struct er_prices *prices)
{
    assert_non_null(prices);
    assert_string_equal(prices->currency, "\xE2\x82\xAC");
    for (size_t i = 0; i + 1 < ER_GOOD_COUNT; i++) {
        assert_near(prices->each[i], (double)i + 1.0);
    }
    assert_near(prices->each[ER_INJECTOR], 16.5);
    assert_near(prices->film.roll_price, 110.0);
    assert_near(prices->film.roll_length, 4000.0 * FOOT);
    assert_near(prices->film.width, 48.0 * INCH);
    assert_near(prices->film.thickness, 0.001 * INCH);
    assert_int_equal(prices->pipe_count, 2);
    assert_string_equal(prices->pipes[0].name, "blue");
    assert_near(prices->pipes[0].price, 0.3 / FOOT);
    assert_near(prices->pipes[0].length, 20.0 * FOOT);
    assert_near(prices->pipes[0].pipe->inside_diameter, 2.0 * INCH);
    assert_string_equal(prices->pipes[1].name, "pvc40-2in");
    assert_near(prices->pipes[1].price, 2.1 / FOOT);
    assert_near(prices->pipes[1].length, (double)NAN);
    assert_near(prices->pipes[1].pipe->inside_diameter, 2.058 * INCH);
    assert_int_equal(prices->tape_count, 3);
    assert_string_equal(prices->tapes[0].name, "spare");
    assert_near(prices->tapes[0].roll_price, 190.55);
    assert_near(prices->tapes[0].roll_length, (double)NAN);
    assert_string_equal(prices->tapes[0].tape->name, "spare");
    assert_near(prices->tapes[1].roll_price, (double)NAN);
    assert_near(prices->tapes[1].roll_length, 2000.0);
    assert_near(prices->tapes[2].roll_length, 7500.0 * FOOT);
    assert_string_equal(prices->tapes[2].tape->name, "tape-16mm-12in-0.45");
}

static void every_price_is_read(void **state)
{
    (void)state;
    struct er_field field;
    open_with(all_prices, &field);
    check_all_prices(field.prices);
    assert_ptr_equal(field.prices->pipes[0].pipe, field.zones[0].header.pieces[0].pipe);
    assert_ptr_equal(field.prices->tapes[1].tape, field.zones[0].groups[0].tape);
    er_field_release(&field);
}

static void prices_are_wanted_only_where_they_are_given(void **state)
{
    (void)state;
    struct er_field field;
    read_good(farm, &field);
    assert_null(field.prices);
    er_field_release(&field);
    open_with("{}", &field);
    assert_non_null(field.prices);
    assert_null(field.prices->currency);
    assert_near(field.prices->each[ER_VALVE], (double)NAN);
    assert_near(field.prices->film.width, (double)NAN);
    assert_int_equal(field.prices->pipe_count + field.prices->tape_count, 0);
    assert_non_null(field.prices->placeholders);
    er_field_release(&field);
}

static void a_price_per_length_is_per_the_files_unit(void **state)
{
    (void)state;
    struct er_field field;
    char *text = changed(farm, "\"us\"", "\"metric\"");
    char *priced = changed(text, "\"tape\": \"t\"}]}]}",
                           "\"tape\": \"t\"}]}],"
                           "\"prices\": {\"pipes\": {\"blue\": {\"price\": 3, \"length\": 6}}}}");
    read_good(priced, &field);
    assert_near(field.prices->pipes[0].price, 3.0);
    assert_near(field.prices->pipes[0].length, 6.0);
    er_field_release(&field);
    free(priced);
    free(text);
}

/* Reads what er_field_write makes of the field. The caller releases both. */
static void write_and_read(const struct er_field *field, enum er_system system,
                           struct er_field *back)
{
    char *text = NULL;
    assert_int_equal(er_field_write(field, system, &text), ER_OK);
    read_good(text, back);
    free(text);
}

static void prices_are_written_back(void **state)
{
    (void)state;
    for (int system = ER_US; system <= ER_METRIC; system++) {
        struct er_field field;
        struct er_field back;
        open_with(all_prices, &field);
        write_and_read(&field, (enum er_system)system, &back);
        check_all_prices(back.prices); /* "spare" is defined, though no bed has it */
        er_field_release(&back);
        er_field_release(&field);
        open_with("{}", &field);
        write_and_read(&field, (enum er_system)system, &back);
        assert_non_null(back.prices); /* empty, and still there */
        er_field_release(&back);
        er_field_release(&field);
        read_good(farm, &field);
        write_and_read(&field, (enum er_system)system, &back);
        assert_null(back.prices);
        er_field_release(&back);
        er_field_release(&field);
    }
}

/* Where two tapes have one name, the price goes with its own. */
static void a_price_follows_a_tape_that_gets_another_name(void **state)
{
    (void)state;
    struct er_field field;
    struct er_field back;
    open_with("{\"tapes\": {\"t\": {\"roll_price\": 50}}}", &field);
    struct er_tape other = *field.zones[0].groups[0].tape;
    other.at_pressure *= 2.0;
    struct er_bed_group group = field.zones[0].groups[0];
    group.tape = &other;
    struct er_zone zone = field.zones[0];
    zone.groups = &group;
    struct er_field candidate = field;
    candidate.zones = &zone;
    write_and_read(&candidate, ER_US, &back);
    assert_string_equal(back.zones[0].groups[0].tape->name, "t");
    assert_int_equal(back.prices->tape_count, 1);
    assert_string_equal(back.prices->tapes[0].name, "t 2");
    assert_near(back.prices->tapes[0].tape->at_pressure,
                field.zones[0].groups[0].tape->at_pressure);
    er_field_release(&back);
    er_field_release(&field);
}

static bool is_pipe(const struct er_catalogue *catalogue, const char *name)
{
    for (size_t i = 0; i < catalogue->pipe_count; i++) {
        if (strcmp(catalogue->pipes[i].pipe.name, name) == 0) {
            return true;
        }
    }
    return false;
}

static void check_sizes(const struct er_size_price *sizes, size_t count)
{
    assert_true(count > 0);
    for (size_t i = 0; i < count; i++) {
        assert_true(sizes[i].price > 0.0 && sizes[i].length > 0.0);
        assert_true(i == 0 || sizes[i].up_to > sizes[i - 1].up_to);
    }
}

static void the_built_in_list_is_whole(void **state)
{
    (void)state;
    struct er_catalogue catalogue;
    assert_int_equal(er_catalogue_open(&catalogue), ER_OK);
    const struct er_prices *prices = &catalogue.prices;
    for (size_t i = 0; i < ER_GOOD_COUNT; i++) {
        assert_true(prices->each[i] > 0.0);
    }
    assert_true(prices->film.roll_price > 0.0 && prices->film.roll_length > 0.0);
    assert_true(prices->film.width > 0.0 && prices->film.thickness > 0.0);
    assert_int_equal(prices->pipe_count, catalogue.pipe_count);
    for (size_t i = 0; i < prices->pipe_count; i++) {
        assert_true(is_pipe(&catalogue, prices->pipes[i].name));
        assert_true(prices->pipes[i].price > 0.0 && prices->pipes[i].length > 0.0);
    }
    check_sizes(prices->pipe_sizes, prices->pipe_size_count);
    check_sizes(prices->tape_sizes, prices->tape_size_count);
    assert_int_equal(catalogue.placeholder_count, ER_GOOD_COUNT + 1 + prices->pipe_count +
                                                      prices->pipe_size_count +
                                                      2 * prices->tape_size_count);
    for (size_t i = 0; i < prices->tape_size_count; i++) { /* with the shortest roll of each */
        assert_true(prices->tape_sizes[i].short_length > 0.0 &&
                    prices->tape_sizes[i].short_length < prices->tape_sizes[i].length);
        assert_true(prices->tape_sizes[i].short_price > 0.0);
    }
    for (size_t i = 0; i < catalogue.placeholder_count; i++) {
        const struct er_placeholder *line = &catalogue.placeholders[i];
        assert_true(line->each > 0.0);
        assert_true(line->about[0] != '\0');
        assert_non_null(strstr(line->source, "placeholder: an invented figure"));
        assert_true(isnan(line->length) == isnan(line->per_length));
    }
    er_catalogue_release(&catalogue);
}

/* The README's chapter on the field file names every one of the goods. */
static void the_readme_names_the_goods(void **state)
{
    (void)state;
    static char readme[200000];
    FILE *file = fopen(EVENROW_SOURCE_DIR "/README.md", "rb");
    assert_non_null(file);
    const size_t length = fread(readme, 1, sizeof readme - 1, file);
    fclose(file);
    assert_true(length > 0 && length < sizeof readme - 1);
    const char *chapter = strstr(readme, "**prices**");
    assert_non_null(chapter);
    for (size_t i = 0; i < ER_GOOD_COUNT; i++) {
        char key[50];
        snprintf(key, sizeof key, "`%s`", er_good_key((enum er_good)i));
        if (strstr(chapter, key) == NULL) {
            print_error("not in the README: %s\n", key);
            fail();
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_price_is_read),
        cmocka_unit_test(prices_are_wanted_only_where_they_are_given),
        cmocka_unit_test(a_price_per_length_is_per_the_files_unit),
        cmocka_unit_test(prices_are_written_back),
        cmocka_unit_test(a_price_follows_a_tape_that_gets_another_name),
        cmocka_unit_test(the_built_in_list_is_whole),
        cmocka_unit_test(the_readme_names_the_goods),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
