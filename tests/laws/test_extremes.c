/* Each figure of an example set to extremes: what the reader takes ends in an answer. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "dice.h"
#include "evenrow/check.h"
#include "evenrow/reading.h"
#include "json/document.h"

/* Fields with so many times the example's emitters are only large: their time is not this test's.
 */
#define MUCH_LARGER 2.0

static const char *const extremes[] = {"1e-9", "1e-4", "0.1", "97", "1e4", "1e9", "1e15", "-50"};

struct tally {
    const char *path, *text;
    double emitters; /* of the example */
    size_t every;    /* of so many settings one is tried */
    size_t met;
    size_t tried, answered, wrong;
};

static double count_emitters(const struct er_field *field)
{
    double sum = 0.0;
    for (size_t z = 0; z < field->zone_count; z++) {
        for (size_t g = 0; g < field->zones[z].group_count; g++) {
            const struct er_bed_group *group = &field->zones[z].groups[g];
            sum += 2.0 * (double)group->count * (double)group->tapes *
                   fmax(group->length, group->last_length) / group->tape->emitter_spacing;
        }
    }
    return sum;
}

static void try_one(struct tally *tally, const char *pointer, const char *value)
{
    if (tally->met++ % tally->every != 0) {
        return;
    }
    tally->tried++;
    char assignment[400];
    struct er_problems problems;
    struct er_document *document = NULL;
    struct er_field field = {.title = NULL};
    struct er_result result;
    struct er_failure failure;
    er_problems_init(&problems);
    snprintf(assignment, sizeof assignment, "%s=%s", pointer, value);
    assert_int_equal(
        er_document_open(tally->path, tally->text, strlen(tally->text), &document, &problems),
        ER_OK);
    if (er_document_set(document, assignment, &problems) == ER_OK &&
        er_field_read(document, &field, &problems) == ER_OK &&
        count_emitters(&field) < MUCH_LARGER * tally->emitters) {
        const enum er_status status = er_check(&field, ER_METRIC, &result, &failure);
        if (status == ER_OK) {
            tally->answered++;
            er_result_release(&result);
        } else {
            print_error("%s: %s ends in status %d\n", tally->path, assignment, (int)status);
            tally->wrong++;
        }
    }
    er_field_release(&field);
    er_document_release(document);
    er_problems_release(&problems);
}

/* Calls itself, no deeper than the file nests. */
static void try_all(struct tally *tally, const cJSON *node, const char *pointer)
{
    if (cJSON_IsNumber(node)) {
        for (size_t i = 0; i < sizeof extremes / sizeof extremes[0]; i++) {
            try_one(tally, pointer, extremes[i]);
        }
    }
    size_t index = 0;
    const cJSON *child = NULL;
    cJSON_ArrayForEach(child, node)
    {
        char below[300];
        if (child->string) {
            snprintf(below, sizeof below, "%s/%s", pointer, child->string);
        } else {
            snprintf(below, sizeof below, "%s/%zu", pointer, index);
        }
        try_all(tally, child, below);
        index++;
    }
}

/* Of large examples only some settings are tried: others with each number in EVENROW_SEED. */
static void try_file(const char *path, size_t every)
{
    static char text[20000];
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    text[fread(text, 1, sizeof text - 1, file)] = '\0';
    fclose(file);
    struct er_problems problems;
    struct er_document *document = NULL;
    er_problems_init(&problems);
    assert_int_equal(er_document_open(path, text, strlen(text), &document, &problems), ER_OK);
    struct er_field field = {.title = NULL};
    assert_int_equal(er_field_read(document, &field, &problems), ER_OK);
    struct tally tally = {.path = path,
                          .text = text,
                          .emitters = count_emitters(&field),
                          .every = every,
                          .met = (size_t)(dice_seed(0) / 1000000 % every)};
    er_field_release(&field);
    try_all(&tally, er_document_root(document), "");
    er_document_release(document);
    er_problems_release(&problems);
    print_message("%s: %zu tried, %zu answered\n", path, tally.tried, tally.answered);
    assert_true(tally.answered > tally.tried / 4);
    assert_int_equal(tally.wrong, 0);
}

static void test_extremes(void **state)
{
    (void)state;
    try_file(EVENROW_SOURCE_DIR "/examples/ready-to-buy.json", 1);
    try_file(EVENROW_SOURCE_DIR "/examples/metric-river.json", 11);
    try_file(EVENROW_SOURCE_DIR "/examples/pond-slope.json", 11);
    try_file(EVENROW_SOURCE_DIR "/examples/garden-hydrant.json", 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_extremes)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
