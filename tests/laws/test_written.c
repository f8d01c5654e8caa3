/* A field written out and read back, in either system of units, is the field it was. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "evenrow/reading.h"
#include "evenrow/writing.h"
#include "laws.h"

static void tell_problems(const struct law *law, const struct er_problems *problems)
{
    for (size_t p = 0; p < problems->count && p < ER_PROBLEMS_KEPT; p++) {
        print_error("seed %llu: %s: %s\n", (unsigned long long)law->seed,
                    problems->kept[p].pointer ? problems->kept[p].pointer : "",
                    problems->kept[p].text);
    }
}

static void read_text(const struct law *law, const char *text, struct er_field *field)
{
    struct er_problems problems;
    struct er_document *document = NULL;
    er_problems_init(&problems);
    enum er_status status =
        er_document_open("written.json", text, strlen(text), &document, &problems);
    if (status == ER_OK) {
        status = er_field_read(document, field, &problems);
    }
    tell_problems(law, &problems);
    er_problems_release(&problems);
    er_document_release(document);
    assert_int_equal(status, ER_OK);
}

static void through_text(const struct law *law, const struct er_field *field, enum er_system system,
                         struct er_field *back)
{
    char *text;
    assert_int_equal(er_field_write(field, system, &text), ER_OK);
    read_text(law, text, back);
    free(text);
    assert_int_equal(back->system, system);
}

/* All but the last: odd-figure is raised in reading, which a field drawn has not been through. */
static size_t judged(const struct er_result *result)
{
    size_t count = result->finding_count;
    while (count > 0 && result->findings[count - 1].code == ER_ODD_FIGURE) {
        count--;
    }
    return count;
}

static void same_results(struct law *law, const struct law_pair *pair)
{
    const struct er_field *field = pair->a.field;
    assert_int_equal(pair->b.field->zone_count, field->zone_count);
    assert_int_equal(pair->b.field->set_count, field->set_count);
    assert_int_equal(pair->b.field->section_count, field->section_count);
    for (size_t z = 0; z < field->zone_count; z++) {
        law_same_zone(law, &pair->a.zones[z], &pair->b.zones[z]);
    }
    law_same_sets(law, pair);
    law_true(law, "number of findings", judged(&pair->a) == judged(&pair->b));
    for (size_t s = 0; s < field->section_count; s++) {
        law_same_section(law, &pair->a.sections[s], &pair->b.sections[s]);
    }
    for (size_t f = 0; f < judged(&pair->a) && f < judged(&pair->b); f++) {
        const char *one = pair->a.findings[f].text, *other = pair->b.findings[f].text;
        if (strcmp(one, other) != 0) {
            print_message("%s\n", other);
        }
        law_true(law, one, strcmp(one, other) == 0);
    }
}

static enum law_outcome same_results_of(struct law *law, const struct er_field *a,
                                        const struct er_field *b)
{
    struct law_pair pair;
    if (!law_check_pair(law, a, b, &pair)) {
        return LAW_REFUSED;
    }
    same_results(law, &pair);
    law_pair_release(&pair);
    return LAW_HELD_ON;
}

static enum law_outcome holds_for_reading_back(struct law *law, const struct er_field *field,
                                               struct dice *dice)
{
    struct er_field back;
    through_text(law, field, dice_chance(dice, 0.5) ? ER_US : ER_METRIC, &back);
    enum law_outcome outcome = same_results_of(law, field, &back);
    er_field_release(&back);
    return outcome;
}

static enum law_outcome holds_for_both_systems(struct law *law, const struct er_field *field,
                                               struct dice *dice)
{
    (void)dice;
    struct er_field us, metric;
    through_text(law, field, ER_US, &us);
    through_text(law, field, ER_METRIC, &metric);
    enum law_outcome outcome = same_results_of(law, &us, &metric);
    er_field_release(&metric);
    er_field_release(&us);
    return outcome;
}

static void written_out_and_read_back(void **state)
{
    (void)state;
    struct law law = {.name = "written out and read back",
                      .allowed = 1e-9,
                      .first_seed = 330000,
                      .wanted = 300,
                      .needs = true};
    law_sweep(&law, holds_for_reading_back);
}

static void in_us_and_metric_units(void **state)
{
    (void)state;
    struct law law = {.name = "written in us and in metric units",
                      .allowed = 1e-9,
                      .first_seed = 340000,
                      .wanted = 300,
                      .needs = true};
    law_sweep(&law, holds_for_both_systems);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(written_out_and_read_back),
                                       cmocka_unit_test(in_us_and_metric_units)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
