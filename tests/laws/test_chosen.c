/* What choose ranks as best, written into the field's own file and read back, holds. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "evenrow/choose.h"
#include "evenrow/divide.h"
#include "evenrow/reading.h"
#include "evenrow/writing.h"
#include "laws.h"

static const enum er_feed all_feeds[] = {ER_FEED_FIRST, ER_FEED_MIDDLE, ER_FEED_LAST};

/* Opens the file that a field is written to. */
static struct er_document *open_written(const struct er_field *field, struct er_field *read)
{
    struct er_problems problems;
    struct er_document *document = NULL;
    char *text;
    er_problems_init(&problems);
    assert_int_equal(er_field_write(field, field->system, &text), ER_OK);
    assert_int_equal(er_document_open("written.json", text, strlen(text), &document, &problems),
                     ER_OK);
    assert_int_equal(er_field_read(document, read, &problems), ER_OK);
    er_problems_release(&problems);
    free(text);
    return document;
}

/* The verdict on a design once it stands in the file. */
static enum er_status verdict_in_file(const struct er_choose_ask *ask,
                                      const struct er_design *design, struct er_document *document,
                                      enum er_verdict *verdict)
{
    struct er_designed designed;
    struct er_field field;
    struct er_result result;
    struct er_failure failure;
    struct er_problems problems;
    er_problems_init(&problems);
    assert_int_equal(er_design_make(ask, design, &designed), ER_OK);
    assert_int_equal(er_document_put(document, &designed.field, ER_PART_MAINLINE | ER_PART_ZONES,
                                     designed.origins),
                     ER_OK);
    er_designed_release(&designed);
    assert_int_equal(er_field_read(document, &field, &problems), ER_OK);
    assert_int_equal(field.zone_count, ask->divisions[design->division]);
    enum er_status status = er_check(&field, field.system, &result, &failure);
    if (status == ER_OK) {
        *verdict = result.verdict;
        er_result_release(&result);
    }
    er_field_release(&field);
    er_problems_release(&problems);
    return status;
}

/* A field's first tapes and pipes, on up to two zones more than it has. */
static enum law_outcome holds(struct law *law, const struct er_field *drawn, struct dice *dice)
{
    (void)dice;
    struct er_field field, easy = law_variant(drawn);
    easy.limits.uniformity = 0.2; /* else few fields drawn at random have a design that holds */
    easy.limits.flow_variation = 0.9;
    struct er_document *document = open_written(&easy, &field);
    const struct er_tape *tapes[] = {drawn->zones[0].groups[0].tape};
    const struct er_pipe *pipes[] = {drawn->zones[0].header.pieces[0].pipe};
    size_t beds = 0, divisions[3], count = 0;
    for (size_t z = 0; z < field.zone_count; z++) {
        beds += er_zone_beds(&field.zones[z]);
    }
    for (size_t n = field.zone_count; n <= beds && count < 3; n++) {
        divisions[count++] = n;
    }
    const struct er_choose_ask ask = {.field = &field,
                                      .tape_count = 1,
                                      .pipe_count = 1,
                                      .feed_count = 3,
                                      .division_count = count,
                                      .tapes = tapes,
                                      .pipes = pipes,
                                      .feeds = all_feeds,
                                      .divisions = divisions,
                                      .threads = 1};
    struct er_choice choice;
    struct er_failure failure;
    enum law_outcome outcome = LAW_REFUSED;
    if (er_choose(&ask, &choice, &failure) == ER_OK) {
        outcome = LAW_NOT_CONCERNED;
        enum er_verdict verdict = ER_FAILS;
        if (choice.best_count > 0 &&
            verdict_in_file(&ask, &choice.best[0], document, &verdict) == ER_OK) {
            law_true(law, "the best design holds in its file", verdict != ER_FAILS);
            outcome = LAW_HELD_ON;
        }
    }
    er_field_release(&field);
    er_document_release(document);
    er_field_release(&easy);
    return outcome;
}

static void chosen_and_written_it_holds(void **state)
{
    (void)state;
    struct law law = {.name = "the best design holds in its file",
                      .first_seed = 640000,
                      .wanted = 20,
                      .needs = true};
    law_sweep(&law, holds);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(chosen_and_written_it_holds)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
