/* The catalogue's listings, as text, JSON and CSV. */
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "report/catalog/report.h"
#include "report_pages.h"

static struct er_text write_catalogue(enum er_told_as form, enum er_catalogue_kind kind,
                                      enum er_system system)
{
    struct er_catalogue catalogue;
    struct er_text out;
    er_text_init(&out);
    assert_int_equal(er_catalogue_open(&catalogue), ER_OK);
    const struct er_listing listing = {&catalogue, kind};
    assert_int_equal(er_report_as(&er_catalogue_report, form, &listing, system, &out), ER_OK);
    er_catalogue_release(&catalogue);
    return out;
}

static void catalogue_text_fits_and_numbers_its_sources(void **state)
{
    (void)state;
    for (enum er_system system = ER_US; system <= ER_METRIC; system++) {
        struct er_text out = write_catalogue(ER_AS_TEXT, ER_CATALOGUE_KINDS, system);
        const char *text = er_text_string(&out);
        assert_fits_page(text);
        for (const char *number = strchr(text, '['); number != NULL;
             number = strchr(number + 1, '[')) {
            unsigned place;
            char note[32];
            assert_int_equal(sscanf(number, "[%u]\n", &place), 1);
            snprintf(note, sizeof note, "\n%4u  ", place);
            assert_non_null(strstr(number, note)); /* further down, in the same list or after */
        }
        er_text_release(&out);
    }
}

static void catalogue_data_gives_a_source_for_every_entry(void **state)
{
    (void)state;
    struct er_text out = write_catalogue(ER_AS_JSON, ER_CATALOGUE_KINDS, ER_US);
    cJSON *root = cJSON_Parse(er_text_string(&out));
    assert_non_null(root);
    size_t entries = 0;
    for (unsigned k = 0; k < ER_CATALOGUE_KINDS; k++) {
        const char *kind = er_catalogue_kind_name((enum er_catalogue_kind)k);
        const cJSON *entry = cJSON_GetObjectItem(root, kind)->child;
        assert_non_null(entry);
        for (; entry != NULL; entry = entry->next, entries++) {
            assert_true(string_at(entry, "name")[0] != '\0');
            assert_true(string_at(entry, "source")[0] != '\0');
        }
    }
    assert_true(entries > 100);
    const cJSON *units = cJSON_GetObjectItem(root, "units");
    assert_string_equal(string_at(cJSON_GetObjectItem(units, "soils"), "available_water"), "in/ft");
    cJSON_Delete(root);
    er_text_release(&out);
}

static void catalogue_csv_is_even(void **state)
{
    (void)state;
    for (unsigned k = 0; k < ER_CATALOGUE_KINDS; k++) {
        struct er_text out = write_catalogue(ER_AS_CSV, (enum er_catalogue_kind)k, ER_METRIC);
        const char *line = er_text_string(&out);
        size_t columns = count_commas(line);
        size_t lines = 0;
        for (; *line != '\0'; line = strchr(line, '\n') + 1, lines++) {
            size_t commas = 0;
            bool quoted = false;
            for (const char *at = line; *at != '\n'; at++) {
                quoted = *at == '"' ? !quoted : quoted;
                commas += *at == ',' && !quoted;
            }
            assert_int_equal(commas, columns);
        }
        assert_true(lines > 1);
        er_text_release(&out);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(catalogue_text_fits_and_numbers_its_sources),
        cmocka_unit_test(catalogue_data_gives_a_source_for_every_entry),
        cmocka_unit_test(catalogue_csv_is_even),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
