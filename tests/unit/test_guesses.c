/* What a file calls a guess: read, told, taken out by what is set, carried along with its zone. */
#include <cjson/cJSON.h>

#include "field_texts.h"

#include "base/text.h"
#include "evenrow/check.h"
#include "evenrow/writing.h"
#include "report/report.h"
#include "json/document.h"

static const char farm[] =
    "{\"$schema\": \"here.json\", \"units\": \"us\", \"source\": {\"pressure\": 40,\n"
    "  \"flow_limit\": 30},\n"
    "\"tapes\": {\"a/b\": {\"flow\": 0.45, \"at_pressure\": 8, \"emitter_spacing\": 12,\n"
    "  \"inside_diameter\": 0.625}, \"spare\": {\"flow\": 0.3, \"at_pressure\": 8,\n"
    "  \"emitter_spacing\": 12, \"inside_diameter\": 0.625}},\n"
    "\"zones\": [{\"name\": \"1\", \"regulator\": {\"holds\": 10}, \"header\": {\"pipe\":\n"
    "  \"pvc40-2in\"}, \"beds\": [{\"count\": 4, \"length\": \"30 yd\", \"spacing\": 6,\n"
    "  \"tape\": \"a/b\"}]}, {\"name\": \"2\", \"regulator\": {\"holds\": 10}, \"header\":\n"
    "  {\"pipe\": \"pvc40-2in\"}, \"beds\": [{\"count\": 6, \"length\": 80, \"spacing\": 6,\n"
    "  \"slope\": -1, \"tape\": \"a/b\"}]}],\n"
    "\"water\": {\"need\": 0.2},\n"
    "\"guessed\": [\"/source/flow_limit\", \"/zones/0/beds/0/length\",\n"
    "  \"/zones/1/beds/0/slope\", \"/tapes/a~1b/flow\", \"/limits/uniformity\",\n"
    "  \"/tapes/a~1b/cv\", \"/tapes/spare/flow\", \"/water/hours\"]}";

#define GUESSES 8

static struct er_document *open_text(const char *text)
{
    struct er_problems problems;
    er_problems_init(&problems);
    struct er_document *document = NULL;
    assert_int_equal(er_document_open("f.json", text, strlen(text), &document, &problems), ER_OK);
    er_problems_release(&problems);
    return document;
}

/* All guesses of a document, one after the other with a blank between. */
static void assert_guesses(const struct er_document *document, const char *wanted)
{
    char found[600] = "";
    const cJSON *guess = NULL;
    cJSON_ArrayForEach(guess,
                       cJSON_GetObjectItemCaseSensitive(er_document_root(document), "guessed"))
    {
        const size_t length = strlen(found);
        snprintf(found + length, sizeof found - length, "%s%s", length > 0 ? " " : "",
                 guess->valuestring);
    }
    assert_string_equal(found, wanted);
}

static void test_read(void **state)
{
    (void)state;
    struct er_field field;
    read_good(farm, &field);
    assert_int_equal(field.guess_count, GUESSES);
    const struct er_assumption *guesses = field.guesses;
    assert_string_equal(guesses[0].pointer, "/source/flow_limit");
    assert_string_equal(
        guesses[0].text,
        "a guess: the most that the source may give: a well's yield, a meter, a permit");
    assert_near(guesses[0].value, er_to_si(ER_FLOW, ER_US, 30.0));
    assert_near(guesses[1].value, 90.0 * 0.3048); /* 30 yd of three feet */
    assert_int_equal(guesses[1].quantity, ER_LENGTH);
    assert_near(guesses[2].value, -1.0);
    assert_string_equal(guesses[2].unit, "percent");
    assert_near(guesses[4].value, 85.0); /* a default */
    assert_near(guesses[5].value, 0.03);
    assert_near(guesses[7].value, 20.0 * 3600.0);
    er_field_release(&field);
}

/* The verdict says on how many guesses it rests; "assumed" has each place once. */
static void test_told(void **state)
{
    (void)state;
    struct er_field field;
    read_good(farm, &field);
    struct er_result result;
    struct er_failure failure;
    assert_int_equal(er_check(&field, ER_US, &result, &failure), ER_OK);
    /* all but the flow of the spare tape, of which nothing is made */
    assert_int_equal(result.guess_count, GUESSES - 1);
    size_t places = 0, cv = 0, spare = 0;
    for (size_t i = 0; i < result.assumption_count; i++) {
        for (size_t g = 0; g < field.guess_count; g++) {
            places += strcmp(result.assumptions[i].pointer, field.guesses[g].pointer) == 0;
        }
        cv += strcmp(result.assumptions[i].pointer, "/tapes/a~1b/cv") == 0;
        spare += strstr(result.assumptions[i].pointer, "spare") != NULL;
    }
    assert_int_equal(places, GUESSES - 1);
    assert_int_equal(cv, 1);
    assert_int_equal(spare, 0);
    struct er_text out;
    er_text_init(&out);
    assert_int_equal(er_report_as(&er_verdict_report, ER_AS_TEXT, &result, ER_US, &out), ER_OK);
    assert_non_null(strstr(er_text_string(&out), "HOLDS, on 7 guesses: every row"));
    er_text_release(&out);
    er_result_release(&result);
    er_field_release(&field);
}

/* The efficiency that is assumed is no better than EU; a tape may be called as it likes. */
static void test_efficiency(void **state)
{
    static const char text[] =
        "{\"units\": \"us\", \"source\": {\"pressure\": 40, \"flow_limit\": 30}, \"tapes\":\n"
        "  {\"efficiency\": {\"flow\": 0.45, \"at_pressure\": 8, \"emitter_spacing\": 12,\n"
        "  \"inside_diameter\": 0.625, \"cv\": 0.2}}, \"zones\": [{\"name\": \"1\", "
        "\"regulator\":\n"
        "  {\"holds\": 10}, \"header\": {\"pipe\": \"pvc40-2in\"}, \"beds\": [{\"count\": 4,\n"
        "  \"length\": 100, \"spacing\": 6, \"tape\": \"efficiency\"}]}], \"water\": {\"need\": "
        "0.2}}";
    (void)state;
    struct er_field field;
    read_good(text, &field);
    struct er_result result;
    struct er_failure failure;
    assert_int_equal(er_check(&field, ER_US, &result, &failure), ER_OK);
    size_t seen = 0;
    for (size_t i = 0; i < result.assumption_count; i++) {
        const struct er_assumption *one = &result.assumptions[i];
        if (strcmp(one->pointer, "/tapes/efficiency/c") == 0) {
            assert_near(one->value, 140.0);
            seen++;
        } else if (strcmp(one->pointer, "/water/efficiency") == 0) {
            assert_near(one->value, 100.0 * result.zones[0].emission_uniformity);
            assert_true(one->value < 80.0);
            seen++;
        }
    }
    assert_int_equal(seen, 2);
    er_result_release(&result);
    er_field_release(&field);
}

/* One entry put in the place of the first: what is said, and where. */
static void assert_refused(const char *entry, const char *says, const char *pointer)
{
    char *text = changed(farm, "\"/source/flow_limit\"", entry);
    struct er_field field;
    struct er_problems problems;
    er_problems_init(&problems);
    assert_int_equal(read_text(text, &field, &problems), ER_BAD_INPUT);
    assert_int_equal(problems.count, 1);
    assert_non_null(strstr(problems.kept[0].text, says));
    assert_string_equal(problems.kept[0].pointer, pointer);
    assert_int_equal(problems.kept[0].line, 12);
    assert_int_equal(problems.kept[0].column, strcmp(pointer, "/guessed") == 0 ? 12 : 13);
    er_problems_release(&problems);
    free(text);
}

static void test_refused(void **state)
{
    (void)state;
    assert_refused("\"/source/flow_limt\"", "did you mean \"flow_limit\"?", "/guessed/0");
    assert_refused("\"/tapes/spar/flow\"", "did you mean \"spare\"?", "/guessed/0");
    assert_refused("\"/zones/2/rise\"", "leads to no figure", "/guessed/0");
    assert_refused("\"/zones/x/rise\"", "leads to no figure", "/guessed/0");
    assert_refused("\"/source/pressure/x\"", "leads to no figure", "/guessed/0");
    assert_refused("\"/source/storage\"", "leads to no figure", "/guessed/0");
    assert_refused("\"/guessed/0\"", "leads to no figure", "/guessed/0");
    assert_refused("\"\"", "leads to no figure", "/guessed/0");
    assert_refused("\"need\"", "begins with a slash", "/guessed/0");
    assert_refused("\"/a~2\"", "~ is written ~0", "/guessed/0");
    assert_refused("7", "expected a JSON Pointer", "/guessed/0");
    assert_refused("\"/water/hours\"", "twice", "/guessed");
}

#define REST                                                                                       \
    "/zones/1/beds/0/slope /tapes/a~1b/flow /limits/uniformity /tapes/a~1b/cv /tapes/spare/flow "  \
    "/water/hours"

static void test_set(void **state)
{
    (void)state;
    static const struct {
        const char *set, *wanted;
    } cases[] = {
        {"/source/flow_limit=20", "/zones/0/beds/0/length " REST},
        {"/zones/0/beds/0/length=70", "/source/flow_limit " REST},
        {"/zones/0/beds=[]", "/source/flow_limit " REST},
        {"/zones/0/beds/0/length/x=1", NULL}, /* cannot be done: nothing is taken out */
        {"/source/flow=20", "/source/flow_limit /zones/0/beds/0/length " REST},
        {"/limits={}", "/source/flow_limit /zones/0/beds/0/length /zones/1/beds/0/slope "
                       "/tapes/a~1b/flow /tapes/a~1b/cv /tapes/spare/flow /water/hours"},
        {"/guessed=[\"/water/need\"]", "/water/need"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct er_document *document = open_text(farm);
        struct er_problems problems;
        er_problems_init(&problems);
        const enum er_status status = er_document_set(document, cases[i].set, &problems);
        er_problems_release(&problems);
        assert_int_equal(status, cases[i].wanted == NULL ? ER_BAD_INPUT : ER_OK);
        assert_guesses(document, cases[i].wanted == NULL
                                     ? "/source/flow_limit /zones/0/beds/0/length " REST
                                     : cases[i].wanted);
        er_document_release(document);
    }
}

static void test_patch(void **state)
{
    (void)state;
    static const struct {
        const char *patch, *wanted;
    } cases[] = {
        {"{\"source\": {\"flow_limit\": null}}", "/zones/0/beds/0/length " REST},
        {"{\"source\": {\"pressure\": 50}}", "/source/flow_limit /zones/0/beds/0/length " REST},
        {"{\"source\": 5}", "/zones/0/beds/0/length " REST},
        {"{\"zones\": []}", "/source/flow_limit /tapes/a~1b/flow /limits/uniformity "
                            "/tapes/a~1b/cv /tapes/spare/flow /water/hours"},
        {"{\"tapes\": {\"a/b\": {\"flow\": 0.4}}, \"limits\": {\"uniformity\": 80}}",
         "/source/flow_limit /zones/0/beds/0/length /zones/1/beds/0/slope /tapes/a~1b/cv "
         "/tapes/spare/flow /water/hours"},
        {"{\"guessed\": null}", ""},
        {"{\"guessed\": [\"/source/flow_limit\"], \"source\": {\"flow_limit\": 3}}",
         "/source/flow_limit"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct er_document *document = open_text(farm);
        struct er_problems problems;
        er_problems_init(&problems);
        assert_int_equal(er_document_patch(document, "p.json", cases[i].patch,
                                           strlen(cases[i].patch), &problems),
                         ER_OK);
        er_problems_release(&problems);
        assert_guesses(document, cases[i].wanted);
        er_document_release(document);
    }
}

/* Zone 2 comes first, zone 1 twice after it, and the second of these has no longer a slope. */
static void test_carried(void **state)
{
    (void)state;
    struct er_document *document = open_text(farm);
    struct er_field own, moved;
    read_good(farm, &own);
    moved = own;
    struct er_zone zones[3] = {own.zones[1], own.zones[0], own.zones[0]};
    zones[2].name = "3";
    static const size_t places[] = {0, 1, 2};
    static const struct er_set alone[] = {{1, &places[0]}, {1, &places[1]}, {1, &places[2]}};
    moved.zones = zones;
    moved.zone_count = 3;
    moved.sets = alone;
    moved.set_count = 3;
    moved.source.flow_limit *= 2.0; /* worked out: no guess any more */
    static const size_t origins[] = {1, 0, 0};
    assert_int_equal(er_document_put(document, &moved, ER_PART_SOURCE | ER_PART_ZONES, origins),
                     ER_OK);
    assert_guesses(document, "/zones/1/beds/0/length /zones/2/beds/0/length "
                             "/zones/0/beds/0/slope /tapes/a~1b/flow /limits/uniformity "
                             "/tapes/a~1b/cv /tapes/spare/flow /water/hours");
    const cJSON *schema = cJSON_GetObjectItemCaseSensitive(er_document_root(document), "$schema");
    assert_true(cJSON_IsString(schema));
    assert_string_equal(schema->valuestring, "here.json");
    er_document_release(document);
    er_field_release(&own);
}

/* A field written whole keeps its guesses, but of what is not written. */
static void test_written(void **state)
{
    (void)state;
    struct er_field field, again;
    read_good(farm, &field);
    char *text = NULL;
    assert_int_equal(er_field_write(&field, ER_METRIC, &text), ER_OK);
    read_good(text, &again);
    assert_null(strstr(text, "spare"));
    assert_int_equal(again.guess_count, GUESSES - 1);
    assert_string_equal(again.guesses[1].pointer, "/zones/0/beds/0/length");
    assert_near(again.guesses[1].value, field.guesses[1].value);
    free(text);
    er_field_release(&again);
    er_field_release(&field);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_read),       cmocka_unit_test(test_told),
        cmocka_unit_test(test_efficiency), cmocka_unit_test(test_refused),
        cmocka_unit_test(test_set),        cmocka_unit_test(test_patch),
        cmocka_unit_test(test_carried),    cmocka_unit_test(test_written),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
