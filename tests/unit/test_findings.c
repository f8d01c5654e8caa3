/* Every finding: one change to a sound plan that raises it, and one a little smaller that does
 * not; what it says; and that a figure just at its limit is not over it. */
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "check/judge.h"
#include "evenrow/reading.h"
#include "finding_cases.h"
#include "trial.h"

/* Two alike zones, each alone in its set. The tape compensates, so that all is known: 1,000
 * emitters of 1 L/h are 1 m3/h, the filter takes 1 m of the 12, the regulator holds 8; 4 mm
 * with 90 percent on 450 m2 are 2 m3, 2 h a zone and 4 h and 4 m3 a day. */
static const char sound[] =
    "{'units': 'metric', 'source': {'curve': [[0, '12 m'], [4, '12 m']]},"
    "'headworks': [{'part': 'filter', 'loss': '1 m', 'at_flow': 1}],"
    "'pipes': {'main': {'inside_diameter': 50}, 'header': {'inside_diameter': 40}},"
    "'tapes': {'pc': {'emitter_flow': 1, 'holds_from': '4 m', 'emitter_spacing': 300,"
    " 'inside_diameter': 16, 'min_pressure': '3 m', 'max_pressure': '20 m'}},"
    "'mainline': [{'name': 'A', 'pipe': 'main', 'length': 10}],"
    "'zones': [{'name': 'low field', 'regulator': {'holds': '8 m'}, 'header': {'pipe': 'header'},"
    " 'beds': [{'count': 10, 'length': 30, 'spacing': 1.5, 'tape': 'pc'}]},"
    "{'name': 'top field', 'regulator': {'holds': '8 m'}, 'header': {'pipe': 'header'},"
    " 'beds': [{'count': 10, 'length': 30, 'spacing': 1.5, 'tape': 'pc'}]}],"
    "'water': {'need': 4, 'efficiency': 90, 'soil': 'loam'}, 'limits': {}}";

static void to_quotes(char *text)
{
    for (; *text; text++) {
        if (*text == '\'') {
            *text = '"';
        }
    }
}

static void assign(struct er_document *document, const char *assignment,
                   struct er_problems *problems)
{
    char text[300];
    assert_true(strlen(assignment) < sizeof text);
    strcpy(text, assignment);
    to_quotes(text);
    assert_int_equal(er_document_set(document, text, problems), ER_OK);
}

static void show(const struct er_problems *problems)
{
    for (size_t p = 0; p < problems->count && p < ER_PROBLEMS_KEPT; p++) {
        print_error("%s: %s\n", problems->kept[p].pointer, problems->kept[p].text);
    }
}

static void check_again(struct trial *trial)
{
    struct er_failure failure;
    assert_int_equal(er_check(&trial->field, ER_METRIC, &trial->result, &failure), ER_OK);
}

/* The sound plan with up to four changes, as POINTER=VALUE. */
static void change(struct trial *trial, const char *const *changes)
{
    char text[sizeof sound];
    struct er_problems problems;
    struct er_document *document = NULL;
    er_problems_init(&problems);
    memset(trial, 0, sizeof *trial);
    memcpy(text, sound, sizeof sound);
    to_quotes(text);
    assert_int_equal(er_document_open("field.json", text, strlen(text), &document, &problems),
                     ER_OK);
    for (size_t c = 0; c < 4 && changes[c]; c++) {
        assign(document, changes[c], &problems);
    }
    enum er_status status = er_field_read(document, &trial->field, &problems);
    show(&problems);
    er_problems_release(&problems);
    er_document_release(document);
    assert_int_equal(status, ER_OK);
    check_again(trial);
}

static const size_t case_count = sizeof cases / sizeof cases[0];

/* The finding of a case's code at its kind of place. */
static const struct er_finding *find(const struct trial *trial, const struct finding_case *one,
                                     size_t *count)
{
    const struct er_finding *first = NULL;
    *count = 0;
    for (size_t f = 0; f < trial->result.finding_count; f++) {
        const struct er_finding *finding = &trial->result.findings[f];
        if (finding->code != one->code || finding->place != one->place) {
            continue;
        }
        first = first ? first : finding;
        (*count)++;
    }
    return first;
}

static void list(const struct trial *trial, size_t number)
{
    print_error("case %zu, %s:\n", number, cases[number].name);
    for (size_t f = 0; f < trial->result.finding_count; f++) {
        print_error("  %s at %d/%zu: %s\n", er_finding_kind(trial->result.findings[f].code)->code,
                    (int)trial->result.findings[f].place, trial->result.findings[f].index,
                    trial->result.findings[f].text);
    }
}

static bool is_raised(const struct trial *trial, const struct finding_case *one)
{
    size_t count;
    const struct er_finding *finding = find(trial, one, &count);
    if (!finding || count != one->count || finding->index != one->index) {
        return false;
    }
    for (size_t s = 0; s < 4; s++) {
        if (!strstr(finding->text, one->says[s])) {
            return false;
        }
    }
    return trial->result.verdict == ER_FAILS || one->level == ER_CAUTION;
}

static void test_every_finding(void **state)
{
    (void)state;
    size_t wrong = 0;
    for (size_t c = 0; c < case_count; c++) {
        struct trial trial;
        size_t count;
        change(&trial, cases[c].raise);
        if (!is_raised(&trial, &cases[c])) {
            print_error("not raised as it should be: ");
            list(&trial, c);
            wrong++;
        }
        trial_close(&trial);
        change(&trial, cases[c].twin);
        if (find(&trial, &cases[c], &count)) {
            print_error("raised by its twin: ");
            list(&trial, c);
            wrong++;
        }
        trial_close(&trial);
    }
    assert_int_equal(wrong, 0);
}

static void test_every_code_has_a_case(void **state)
{
    (void)state;
    for (int code = 0; code < ER_FINDING_COUNT; code++) {
        const struct er_finding_kind *kind = er_finding_kind((enum er_finding_code)code);
        size_t found = 0;
        for (size_t c = 0; c < case_count; c++) {
            if ((int)cases[c].code != code) {
                continue;
            }
            assert_string_equal(kind->code, cases[c].name);
            assert_int_equal(kind->level, cases[c].level);
            found++;
        }
        assert_true(found > 0);
        assert_true(strlen(kind->when) > 0);
        /* Cautions come after the fails. */
        assert_true(code == 0 ||
                    er_finding_kind((enum er_finding_code)(code - 1))->level <= kind->level);
    }
}

static void test_sound_plan(void **state)
{
    (void)state;
    const char *const none[4] = {NULL};
    struct trial trial;
    change(&trial, none);
    if (trial.result.finding_count > 0) {
        list(&trial, 0);
    }
    assert_int_equal(trial.result.finding_count, 0);
    assert_int_equal(trial.result.verdict, ER_HOLDS);
    assert_close(trial.result.day.hours_needed, 4.0 * 3600.0, 1e-9);
    assert_close(trial.result.day.volume, 4.0, 1e-9);
    trial_close(&trial);
}

static void test_verdict_and_order(void **state)
{
    (void)state;
    const char *const caution[4] = {"/headworks/0/max_flow=0.5"};
    const char *const both[4] = {"/headworks/0/max_flow=0.5", "/source/flow_limit=0.5",
                                 "/tapes/pc/max_pressure='7 m'", "/zones/1/beds/0/slope=30"};
    struct trial trial;
    change(&trial, caution);
    assert_int_equal(trial.result.verdict, ER_WITH_CAUTION);
    trial_close(&trial);
    change(&trial, both);
    assert_int_equal(trial.result.verdict, ER_FAILS);
    assert_true(trial.result.finding_count > 5);
    for (size_t f = 1; f < trial.result.finding_count; f++) {
        const struct er_finding *before = &trial.result.findings[f - 1];
        const struct er_finding *here = &trial.result.findings[f];
        assert_true(before->code < here->code ||
                    (before->code == here->code &&
                     (before->place < here->place ||
                      (before->place == here->place && before->index < here->index))));
    }
    trial_close(&trial);
}

/* To feed a header in the middle is advised only where it is fed from an end. */
static void test_advice_on_the_feed(void **state)
{
    (void)state;
    const char *const feeds[] = {"'first'", "'last'", "'middle'", "3"};
    for (size_t f = 0; f < 4; f++) {
        char feed[60];
        struct trial trial;
        snprintf(feed, sizeof feed, "/zones/0/header/feed=%s", feeds[f]);
        const char *const fast[4] = {"/limits/velocity=0.05", feed};
        change(&trial, fast);
        const struct finding_case velocity = {.code = ER_VELOCITY_HIGH, .place = ER_PLACE_ZONE};
        size_t count;
        const struct er_finding *finding = find(&trial, &velocity, &count);
        assert_non_null(finding);
        assert_int_equal(finding->index, 0);
        assert_int_equal(strstr(finding->text, "feed the header in the middle") != NULL, f < 2);
        trial_close(&trial);
    }
}

/* Each limit set to just the figure that came out, and to a part in 1e10 beyond: not over. A
 * part in 1e8: over. */
static void at_limit(double by, bool raised)
{
    struct trial trial;
    const char *const uneven[4] = {"/zones/1/beds/0/slope=20"};
    change(&trial, uneven);
    struct er_zone_result zone = trial.result.zones[1];
    trial.field.limits = (struct er_limits){
        .uniformity = zone.emission_uniformity * (1.0 + by),
        .flow_variation = zone.flow_variation * (1.0 - by),
        .velocity = trial.result.sections[0].velocity * (1.0 - by),
        .flush_velocity = zone.flush_velocity * (1.0 + by),
    };
    trial.field.hours = trial.result.day.hours_needed * (1.0 - by);
    trial.field.source.flow_limit = trial.result.sets[0].flow * (1.0 - by);
    er_result_release(&trial.result);
    check_again(&trial);
    const enum er_finding_code codes[] = {ER_UNIFORMITY_LOW, ER_FLOW_UNEVEN, ER_FLUSH_WEAK,
                                          ER_HOURS_SHORT, ER_SOURCE_FLOW};
    for (size_t c = 0; c < 5; c++) {
        assert_int_equal(trial_finding(&trial, codes[c]) != NULL, raised);
    }
    const struct finding_case velocity = {.code = ER_VELOCITY_HIGH, .place = ER_PLACE_SECTION};
    size_t count;
    assert_int_equal(find(&trial, &velocity, &count) != NULL, raised);
    trial_close(&trial);
}

static void test_exactly_at_the_limit(void **state)
{
    (void)state;
    at_limit(0.0, false);
    at_limit(1e-10, false);
    at_limit(1e-8, true);
}

/* Every other day gives twice as much at a time, and the same in a day. */
static void test_every_other_day(void **state)
{
    (void)state;
    const char *const every[4] = {"/water/every=2"};
    struct trial trial;
    change(&trial, every);
    assert_close(trial.result.zones[0].run_time, 4.0 * 3600.0, 1e-9);
    assert_close(trial.result.day.hours_needed, 4.0 * 3600.0, 1e-9);
    assert_close(trial.result.day.volume, 4.0, 1e-9);
    trial_close(&trial);
}

/* Of two zones that dirt lets down, the worse is named. */
static void test_worst_of_dirt(void **state)
{
    (void)state;
    const char *const dirt[4] = {
        "/tapes/pc/min_pressure='7 m'", "/sets=[['low field', 'top field']]",
        "/zones/0/valve={'part': 'valve', 'loss': 0, 'dirty_loss': '2 m', 'at_flow': 1}",
        "/zones/1/valve={'part': 'valve', 'loss': 0, 'dirty_loss': '3 m', 'at_flow': 1}"};
    struct trial trial;
    change(&trial, dirt);
    const struct er_finding *finding = trial_finding(&trial, ER_FILTER_DIRTY);
    assert_non_null(finding);
    assert_non_null(strstr(finding->text, "\"top field\""));
    trial_close(&trial);
    /* The less even of two, too, where the tape no longer compensates. */
    const char *const starved[4] = {
        "/tapes/pc/min_pressure='0.1 m'", "/sets=[['low field', 'top field']]",
        "/zones/0/valve={'part': 'valve', 'loss': 0, 'dirty_loss': '8 m', 'at_flow': 1}",
        "/zones/1/valve={'part': 'valve', 'loss': 0, 'dirty_loss': '10 m', 'at_flow': 1}"};
    change(&trial, starved);
    trial.field.limits.uniformity = 0.999999 * trial.result.zones[0].emission_uniformity;
    er_result_release(&trial.result);
    check_again(&trial);
    finding = trial_finding(&trial, ER_FILTER_DIRTY);
    assert_non_null(finding);
    assert_non_null(strstr(finding->text, "(uniformity-low): zone \"top field\""));
    trial_close(&trial);
}

/* The texts speak the units they are asked to. */
static void test_units_of_texts(void **state)
{
    (void)state;
    const char *const low[4] = {"/source/flow_limit=0.9"};
    struct trial trial;
    struct er_failure failure;
    change(&trial, low);
    er_result_release(&trial.result);
    assert_int_equal(er_check(&trial.field, ER_US, &trial.result, &failure), ER_OK);
    const struct er_finding *finding = trial_finding(&trial, ER_SOURCE_FLOW);
    assert_non_null(finding);
    assert_non_null(strstr(finding->text, "4.4 gpm")); /* 1 m3/h */
    assert_null(strstr(finding->text, "m3/h"));
    trial_close(&trial);
}

/* Fed in the middle, first and last bed have as little: it is not what looks like rounding that
 * chooses between them. */
static void test_as_bad(void **state)
{
    (void)state;
    static const struct {
        const char *slope, *bed;
    } headers[] = {{"/zones/0/header/slope=1e-7", "on bed 1,"},
                   {"/zones/0/header/slope=-1e-7", "on bed 1,"},
                   {"/zones/0/header/slope=1", "on bed 10,"},
                   {"/zones/0/header/slope=-1", "on bed 1,"}};
    for (size_t h = 0; h < sizeof headers / sizeof headers[0]; h++) {
        const char *const changes[4] = {"/zones/0/header/feed='middle'",
                                        "/tapes/pc/min_pressure='8 m'", headers[h].slope};
        struct trial trial;
        change(&trial, changes);
        const struct er_finding *finding = trial_finding(&trial, ER_PRESSURE_LOW);
        assert_non_null(finding);
        assert_non_null(strstr(finding->text, headers[h].bed));
        trial_close(&trial);
    }
}

/* What rounds to nothing has no sign. */
static void test_no_minus_zero(void **state)
{
    (void)state;
    struct er_arena arena = {NULL};
    struct er_judge judge = {.arena = &arena, .speaks = ER_METRIC};
    assert_string_equal(er_say(&judge, ER_PRESSURE, -1e-9), "0 kPa");
    assert_string_equal(er_say(&judge, ER_PRESSURE, er_to_si(ER_PRESSURE, ER_METRIC, -0.0006)),
                        "-0.0006 kPa");
    er_arena_release(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_no_minus_zero),
        cmocka_unit_test(test_sound_plan),
        cmocka_unit_test(test_every_finding),
        cmocka_unit_test(test_every_code_has_a_case),
        cmocka_unit_test(test_verdict_and_order),
        cmocka_unit_test(test_advice_on_the_feed),
        cmocka_unit_test(test_exactly_at_the_limit),
        cmocka_unit_test(test_every_other_day),
        cmocka_unit_test(test_units_of_texts),
        cmocka_unit_test(test_worst_of_dirt),
        cmocka_unit_test(test_as_bad),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
