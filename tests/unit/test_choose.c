/* The choice among designs, held against every combination worked out one by one. */
#include <math.h>
#include <string.h>

#include "evenrow/bill.h"
#include "evenrow/choose.h"
#include "trial.h"

/* Eight beds that climb away from the feed, too many for the source at once; three tapes and
 * four pipes to choose from. */
static const char farm[] =
    "{'units': 'us', 'source': {'pressure': 22, 'flow_limit': 7.5},"
    "'tapes': {'light': {'flow': 0.30, 'at_pressure': 8, 'emitter_spacing': 12,"
    "  'inside_diameter': '5/8 in', 'roll_price': 150, 'roll_length': 7500},"
    " 'field': {'flow': 0.45, 'at_pressure': 8, 'emitter_spacing': 12,"
    "  'inside_diameter': '5/8 in', 'roll_price': 140, 'roll_length': 7500},"
    " 'wide': {'flow': 0.45, 'at_pressure': 8, 'emitter_spacing': 12,"
    "  'inside_diameter': '7/8 in', 'roll_price': 190, 'roll_length': 6000}},"
    "'pipes': {'thin': {'inside_diameter': 0.6, 'price': 0.2},"
    " 'one': {'inside_diameter': 1.049, 'price': 0.4},"
    " 'more': {'inside_diameter': 1.38, 'price': 0.7},"
    " 'two': {'inside_diameter': 2.067, 'price': 1.1}},"
    "'zones': [{'name': 'field', 'regulator': {'holds': 12},"
    " 'header': {'pipe': 'one', 'slope': 2, 'lead': 30},"
    " 'beds': [{'count': 8, 'length': 380, 'last_length': 300, 'spacing': 30, 'tape': 'field',"
    "  'slope': 0.5}]}],"
    "'water': {'need': 0.05, 'efficiency': 85, 'hours': 14} %s}";

#define TAPES 3
#define PIPES 4
#define FEEDS 3
#define DIVISIONS 3
#define DESIGNS (TAPES * PIPES * FEEDS * DIVISIONS)

struct question {
    struct er_field field;
    const struct er_tape *tapes[TAPES];
    const struct er_pipe *pipes[PIPES];
    struct er_choose_ask ask;
};

static const enum er_feed feeds[FEEDS] = {ER_FEED_FIRST, ER_FEED_MIDDLE, ER_FEED_LAST};
static const size_t divisions[DIVISIONS] = {1, 2, 3};

static void ask_about(struct question *question, const char *more)
{
    memset(question, 0, sizeof *question);
    const struct er_field *field = &question->field;
    field_open(&question->field, farm, more);
    assert_int_equal(field->own_tape_count, TAPES);
    assert_int_equal(field->own_pipe_count, PIPES);
    for (size_t t = 0; t < TAPES; t++)
        question->tapes[t] = &field->own_tapes[t];
    for (size_t p = 0; p < PIPES; p++)
        question->pipes[p] = &field->own_pipes[p];
    question->ask = (struct er_choose_ask){.field = field,
                                           .tape_count = TAPES,
                                           .pipe_count = PIPES,
                                           .feed_count = FEEDS,
                                           .division_count = DIVISIONS,
                                           .tapes = question->tapes,
                                           .pipes = question->pipes,
                                           .feeds = feeds,
                                           .divisions = divisions,
                                           .threads = 1};
}

/* One design by the plain way: made, checked, priced. */
struct tried {
    struct er_design design;
    bool holds;
    double price, uniformity;
    bool fails[ER_FINDING_COUNT];
};

static void try_design(const struct er_choose_ask *ask, struct tried *tried)
{
    struct er_designed designed;
    struct er_result result;
    struct er_failure failure;
    assert_int_equal(er_design_make(ask, &tried->design, &designed), ER_OK);
    assert_int_equal(designed.field.zone_count, ask->divisions[tried->design.division]);
    assert_int_equal(er_check(&designed.field, ER_US, &result, &failure), ER_OK);
    tried->holds = result.verdict != ER_FAILS;
    tried->uniformity = 1.0;
    for (size_t z = 0; z < designed.field.zone_count; z++) {
        double uniformity = result.zones[z].emission_uniformity;
        tried->uniformity = fmin(tried->uniformity, isnan(uniformity) ? 0.0 : uniformity);
    }
    for (size_t f = 0; f < result.finding_count; f++)
        if (er_finding_kind(result.findings[f].code)->level == ER_FAIL)
            tried->fails[result.findings[f].code] = true;
    tried->price = ask->field->prices ? er_field_cost(&designed.field, NULL)
                                      : ask->pipes[tried->design.pipe]->inside_diameter;
    er_result_release(&result);
    er_designed_release(&designed);
}

static void try_all(const struct er_choose_ask *ask, struct tried *all)
{
    size_t count = 0;
    memset(all, 0, DESIGNS * sizeof *all);
    for (size_t t = 0; t < TAPES; t++)
        for (size_t d = 0; d < DIVISIONS; d++)
            for (size_t p = 0; p < PIPES; p++)
                for (size_t f = 0; f < FEEDS; f++) {
                    all[count].design =
                        (struct er_design){.tape = t, .pipe = p, .feed = f, .division = d};
                    try_design(ask, &all[count++]);
                }
    assert_int_equal(count, DESIGNS);
}

/* Whether `one` comes before `two` in the list, by the rule in words: the lower price; of the
 * same price the more even; else the earlier. */
static bool better(const struct tried *one, const struct tried *two)
{
    if (fabs(one->price - two->price) > 0.0)
        return one->price < two->price;
    if (fabs(one->uniformity - two->uniformity) > 0.0)
        return one->uniformity > two->uniformity;
    return one < two;
}

static size_t place_among(const struct tried *all, const struct tried *one)
{
    size_t before = 0;
    for (size_t i = 0; i < DESIGNS; i++)
        before += all[i].holds && better(&all[i], one);
    return before;
}

static bool is_beaten(const struct tried *all, const struct tried *one)
{
    for (size_t i = 0; i < DESIGNS; i++) {
        const struct tried *other = &all[i];
        bool no_worse = other->price <= one->price && other->uniformity >= one->uniformity - 1e-6;
        bool better_in_one =
            other->price < one->price || other->uniformity > one->uniformity + 1e-6;
        if (other->holds && no_worse && better_in_one)
            return true;
    }
    return false;
}

static void same_design(const struct er_design *design, const struct tried *tried)
{
    assert_int_equal(design->tape, tried->design.tape);
    assert_int_equal(design->pipe, tried->design.pipe);
    assert_int_equal(design->feed, tried->design.feed);
    assert_int_equal(design->division, tried->design.division);
    assert_true(fabs(design->uniformity - tried->uniformity) < 1e-12);
    assert_true(isnan(design->cost) || fabs(design->cost - tried->price) < 1e-9);
}

static void is_the_true_best(const char *more, bool by_cost)
{
    static struct tried all[DESIGNS];
    struct question question;
    struct er_choice choice;
    struct er_failure failure;
    ask_about(&question, more);
    try_all(&question.ask, all);
    assert_int_equal(er_choose(&question.ask, &choice, &failure), ER_OK);
    assert_int_equal(choice.by_cost, by_cost);
    assert_int_equal(choice.total, DESIGNS);
    assert_int_equal(choice.judged, DESIGNS);
    size_t held = 0, fails[ER_FINDING_COUNT] = {0};
    for (size_t i = 0; i < DESIGNS; i++) {
        held += all[i].holds;
        for (size_t code = 0; code < ER_FINDING_COUNT; code++)
            fails[code] += all[i].fails[code];
        size_t place = place_among(all, &all[i]);
        if (!all[i].holds || place >= choice.best_count)
            continue;
        same_design(&choice.best[place], &all[i]);
        assert_int_equal(choice.best[place].unbeaten, !is_beaten(all, &all[i]));
    }
    assert_int_equal(choice.held, held);
    assert_int_equal(choice.best_count, held < ER_CHOICE_BEST ? held : ER_CHOICE_BEST);
    assert_true(held > ER_CHOICE_BEST && held < DESIGNS); /* else the test would say little */
    assert_memory_equal(choice.failed_by, fails, sizeof fails);
    er_field_release(&question.field);
}

static void the_best_by_cost_is_the_true_best(void **state)
{
    (void)state;
    is_the_true_best(", 'prices': {}", true);
}

static void without_prices_the_narrower_header_is_better(void **state)
{
    (void)state;
    is_the_true_best("", false);
}

static void identical(const struct er_design *one, const struct er_design *other)
{
    assert_int_equal(one->tape, other->tape);
    assert_int_equal(one->pipe, other->pipe);
    assert_int_equal(one->feed, other->feed);
    assert_int_equal(one->division, other->division);
    assert_int_equal(one->unbeaten, other->unbeaten);
    assert_memory_equal(&one->cost, &other->cost, sizeof one->cost);
    assert_memory_equal(&one->uniformity, &other->uniformity, sizeof one->uniformity);
    assert_memory_equal(&one->hours_needed, &other->hours_needed, sizeof one->hours_needed);
}

static void any_number_of_threads_gives_the_same(void **state)
{
    struct question question;
    struct er_choice one, many;
    struct er_failure failure;
    (void)state;
    ask_about(&question, ", 'prices': {}");
    assert_int_equal(er_choose(&question.ask, &one, &failure), ER_OK);
    for (size_t threads = 2; threads <= 5; threads++) {
        question.ask.threads = threads;
        assert_int_equal(er_choose(&question.ask, &many, &failure), ER_OK);
        assert_int_equal(one.best_count, many.best_count);
        for (size_t d = 0; d < one.best_count; d++)
            identical(&one.best[d], &many.best[d]);
        assert_memory_equal(one.failed_by, many.failed_by, sizeof one.failed_by);
    }
    er_field_release(&question.field);
}

static bool stop_after_forty(void *context, size_t judged, size_t total)
{
    size_t *calls = context;
    assert_int_equal(total, DESIGNS);
    assert_int_equal(judged, ++*calls);
    return judged < 40;
}

static void stopped_it_has_the_best_so_far(void **state)
{
    struct question question;
    struct er_choice choice;
    struct er_failure failure;
    size_t calls = 0;
    (void)state;
    ask_about(&question, ", 'prices': {}");
    question.ask.watch = stop_after_forty;
    question.ask.watch_context = &calls;
    assert_int_equal(er_choose(&question.ask, &choice, &failure), ER_OK);
    assert_true(choice.stopped);
    assert_int_equal(choice.judged, 40);
    assert_int_equal(calls, 40);
    assert_true(choice.best_count > 0);
    for (size_t d = 0; d < choice.best_count; d++)
        assert_true(choice.best[d].verdict != ER_FAILS);
    er_field_release(&question.field);
}

static void the_own_plan_is_told_as_it_is(void **state)
{
    struct question question;
    struct er_choice choice;
    struct er_failure failure;
    (void)state;
    ask_about(&question, ", 'prices': {}");
    assert_int_equal(er_choose(&question.ask, &choice, &failure), ER_OK);
    assert_int_equal(choice.own.verdict, ER_FAILS); /* eight beds take more than 7.5 gpm */
    assert_true(fabs(choice.own.cost - er_field_cost(question.ask.field, NULL)) < 1e-9);
    er_field_release(&question.field);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_best_by_cost_is_the_true_best),
        cmocka_unit_test(without_prices_the_narrower_header_is_better),
        cmocka_unit_test(any_number_of_threads_gives_the_same),
        cmocka_unit_test(stopped_it_has_the_best_so_far),
        cmocka_unit_test(the_own_plan_is_told_as_it_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
