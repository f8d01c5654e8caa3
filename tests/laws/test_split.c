/* Splitting, against every way to divide a small field's beds, each judged emitter by emitter;
 * and every field that it writes, read back and checked. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "evenrow/check.h"
#include "evenrow/split.h"
#include "evenrow/writing.h"
#include "split_fields.h"

#define FIELDS 400
#define FIRST_SEED 610000
#define NEAR 1e-6 /* relative: flows that count as equal */

struct best {
    size_t zones; /* the least that pass; 0: none */
    double largest, least;
};

static struct tally {
    size_t fields, answers[4], remedies, several;
} tally;

/* Whether the pieces, one running after another, pass. *flow: the range of their flows. */
static bool judge(const struct er_field *field, const struct er_zone_layout *layout,
                  const struct er_piece *pieces, size_t count, struct er_range *flow)
{
    struct er_field divided;
    struct er_result result;
    struct er_failure failure;
    size_t origins[MOST_BEDS];
    assert_int_equal(er_field_divide(field, pieces, count, layout, &divided, origins), ER_OK);
    enum er_status status = er_check(&divided, ER_US, &result, &failure);
    bool passes = status == ER_OK && result.verdict != ER_FAILS;
    *flow = (struct er_range){(double)INFINITY, 0.0};
    for (size_t z = 0; status == ER_OK && z < count; z++) {
        flow->min = fmin(flow->min, result.zones[z].flow);
        flow->max = fmax(flow->max, result.zones[z].flow);
    }
    if (status == ER_OK) {
        er_result_release(&result);
    }
    er_field_release(&divided);
    return passes;
}

static size_t count_beds(const struct er_field *field)
{
    size_t beds = 0;
    for (size_t z = 0; z < field->zone_count; z++) {
        beds += er_zone_beds(&field->zones[z]);
    }
    return beds;
}

static struct best judge_all(const struct er_field *field, const struct er_zone_layout *layout)
{
    struct best best = {0, (double)INFINITY, 0.0};
    struct er_piece pieces[MOST_BEDS];
    for (unsigned cuts = 0; cuts < 1U << (count_beds(field) - 1); cuts++) {
        struct er_range flow;
        size_t count = split_pieces(field, cuts, pieces);
        if (count == 0 || (best.zones > 0 && count > best.zones) ||
            !judge(field, layout, pieces, count, &flow)) {
            continue;
        }
        bool fewer = best.zones == 0 || count < best.zones;
        bool evener = flow.max < best.largest * (1.0 - NEAR) ||
                      (flow.max < best.largest * (1.0 + NEAR) && flow.min > best.least);
        if (fewer || evener) {
            best = (struct best){count, flow.max, flow.min};
        }
    }
    return best;
}

/* The written file, read back, passes as the split did. */
static void passes_as_text(struct er_document *document, const struct er_split *split)
{
    struct er_document *back = NULL;
    struct er_field field = {0};
    struct er_result result;
    struct er_failure failure;
    char *text;
    assert_int_equal(
        er_document_put(document, &split->field, ER_PART_MAINLINE | ER_PART_ZONES, split->origins),
        ER_OK);
    assert_int_equal(er_document_write(document, &text), ER_OK);
    split_field_open(text, &back, &field);
    assert_int_equal(er_check(&field, ER_US, &result, &failure), ER_OK);
    assert_int_not_equal(result.verdict, ER_FAILS);
    assert_int_equal(field.zone_count, split->zone_count);
    assert_int_equal(field.set_count, split->field.set_count);
    for (size_t z = 0; z < field.zone_count; z++) {
        double flow = split->result.zones[z].flow;
        assert_true(fabs(result.zones[z].flow - flow) <= 1e-9 * flow);
    }
    er_result_release(&result);
    er_field_release(&field);
    er_document_release(back);
    free(text);
}

/* The figure of a field that a remedy changes by itself; NULL for the others. */
static double *changed_by(const struct er_remedy *remedy, struct er_field *field)
{
    switch (remedy->kind) {
    case ER_REMEDY_FLOW:
        return &field->source.flow_limit;
    case ER_REMEDY_HOURS:
        return &field->hours;
    case ER_REMEDY_PRESSURE:
        return field->source.kind == ER_SOURCE_PRESSURE ? &field->source.pressure : NULL;
    default:
        return NULL;
    }
}

/* Each remedy of a figure does what it says, and for a limit, two percent less does not. */
static void remedies_are_least(const struct er_split_ask *ask, const struct er_split *split)
{
    for (size_t r = 0; r < split->remedy_count; r++) {
        const struct er_remedy *remedy = &split->remedies[r];
        struct er_field changed = *ask->field;
        double *figure = changed_by(remedy, &changed);
        if (figure == NULL) {
            continue;
        }
        *figure = remedy->amount + (remedy->kind == ER_REMEDY_PRESSURE ? *figure : 0.0);
        assert_int_equal(judge_all(&changed, &ask->layout).zones, remedy->zones);
        if (remedy->kind != ER_REMEDY_PRESSURE) { /* more of it may be too much, and less right */
            *figure = remedy->amount * 0.98;
            assert_int_equal(judge_all(&changed, &ask->layout).zones, 0);
        }
        tally.remedies++;
    }
}

static void agrees(const struct er_split_ask *ask, const struct er_split *split,
                   const struct best *best)
{
    if (split->answer == ER_SPLIT_FOUND) {
        const struct er_split_try *last = &split->tries[split->try_count - 1];
        assert_int_equal(split->zone_count, best->zones);
        assert_true(last->flow.max <= best->largest * (1.0 + NEAR));
        assert_true(last->flow.min >= best->least * (1.0 - NEAR));
    } else if (split->answer != ER_SPLIT_PASSES) {
        assert_int_equal(best->zones, 0);
    }
    if (split->answer == ER_SPLIT_NONE) {
        remedies_are_least(ask, split);
    }
    for (size_t t = 0; t + 1 < split->try_count; t++) {
        assert_false(split->tries[t].passes);
        assert_int_equal(split->tries[t + 1].zones, split->tries[t].zones + 1);
    }
}

static void hold(uint64_t seed)
{
    struct dice dice = {seed ^ 0x5eed};
    struct er_document *document = NULL;
    struct er_field field = {0};
    struct er_split split;
    char *text = split_field_text(seed);
    split_field_open(text, &document, &field);
    struct er_split_ask ask = {.field = &field, .speaks = ER_US};
    ask.layout.feed = (int)dice_whole(&dice, 0, 3) - 1;
    struct best best = judge_all(&field, &ask.layout);
    assert_int_equal(er_field_split(&ask, &split), ER_OK);
    agrees(&ask, &split, &best);
    if (split.answer == ER_SPLIT_FOUND || split.answer == ER_SPLIT_SETS) {
        passes_as_text(document, &split);
    }
    tally.answers[split.answer]++;
    tally.fields++;
    tally.several += field.zone_count > 1;
    er_split_release(&split);
    er_field_release(&field);
    er_document_release(document);
    free(text);
}

static void least_of_all_divisions(void **state)
{
    (void)state;
    uint64_t first = dice_seed(FIRST_SEED);
    for (uint64_t seed = first; seed < first + FIELDS; seed++) {
        hold(seed);
    }
    print_message("%zu fields, %zu of several zones: %zu pass as they are, %zu in zones, %zu in "
                  "sets, %zu in none; %zu remedies\n",
                  tally.fields, tally.several, tally.answers[ER_SPLIT_PASSES],
                  tally.answers[ER_SPLIT_FOUND], tally.answers[ER_SPLIT_SETS],
                  tally.answers[ER_SPLIT_NONE], tally.remedies);
    assert_true(tally.answers[ER_SPLIT_FOUND] > FIELDS / 5); /* else this would say little */
    assert_true(tally.answers[ER_SPLIT_NONE] > FIELDS / 20);
    assert_true(tally.remedies > 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(least_of_all_divisions)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
