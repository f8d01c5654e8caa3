/* Parts of a field are put into a document, and nothing else of it is touched. */
#include "evenrow/writing.h"
#include "field_texts.h"
#include "same_result.h"
#include "json/document.h"

static const char farm[] =
    "{\"note\": \"whole\", \"units\": \"us\", \"title\": \"Farm\",\n"
    "\"water\": {\"eto\": 0.25, \"kc\": 1, \"efficiency\": 88, \"season\": {\"planting\": "
    "\"2026-05-01\", \"crop\": \"tomato\"}},\n"
    "\"prices\": {\"note\": \"by hand\", \"tee\": 4},\n"
    "\"source\": {\"note\": \"the well\", \"pressure\": \"50 psi\", \"flow_limit\": \"30 gpm\"},\n"
    "\"pipes\": {\"main\": {\"inside_diameter\": \"2 1/2 in\"}},\n"
    "\"tapes\": {\"t\": {\"note\": \"old stock\", \"flow\": 0.45, \"at_pressure\": 8,\n"
    "  \"emitter_spacing\": 12, \"inside_diameter\": \"5/8 in\"}},\n"
    "\"mainline\": [{\"name\": \"A\", \"pipe\": \"main\", \"length\": 100, \"note\": \"buried\"},\n"
    "  {\"name\": \"B\", \"pipe\": \"main\", \"length\": \"50 ft\", \"from\": \"A\"}],\n"
    "\"zones\": [{\"name\": \"1\", \"note\": \"sunny\", \"on\": \"A\", \"rise\": 0,\n"
    "   \"valve\": {\"note\": \"rusty\", \"part\": \"gate\", \"loss\": \"0.1 bar\"},\n"
    "   \"header\": {\"note\": \"new hose\", \"pipe\": \"main\", \"lead\": \"5 yd\", \"slope\": "
    "0},\n"
    "   \"water\": {\"note\": \"peppers\", \"kc\": 0.9, \"season\": {\"planting\":\n    "
    "\"2026-06-01\", \"crop\": \"tomato\"}},\n"
    "   \"beds\": [{\"note\": \"short\", \"count\": 10, \"length\": 200, \"last_length\": 200,\n"
    "     \"spacing\": \"72 in\", \"tape\": \"t\"}]},\n"
    "  {\"name\": \"2\", \"header\": {\"sections\": [{\"pipe\": \"main\"}]},\n"
    "   \"beds\": [{\"count\": 4, \"length\": 100, \"spacing\": 6, \"tape\": \"t\"},\n"
    "     {\"note\": \"far\", \"count\": 5, \"length\": 90, \"spacing\": 6, \"tape\": \"t\"}]}],\n"
    "\"sets\": [[\"1\", \"2\"]]}";

/* A document with the field that it holds, and another to be changed by hand and put in. */
struct putting {
    struct er_document *document;
    struct er_field own, changed;
    struct er_zone zones[4];
    struct er_bed_group groups[4];
    char *text; /* of the document, once written */
};

static void open_farm(struct putting *putting)
{
    struct er_problems problems;
    er_problems_init(&problems);
    assert_int_equal(
        er_document_open("farm.json", farm, strlen(farm), &putting->document, &problems), ER_OK);
    er_problems_release(&problems);
    read_good(farm, &putting->own);
    putting->changed = putting->own;
    for (size_t i = 0; i < 4; i++) {
        putting->zones[i] = putting->own.zones[i % 2];
        putting->groups[i] = putting->zones[i].groups[0];
    }
    putting->changed.zones = putting->zones;
    putting->text = NULL;
}

/* Each zone alone: what sets are when the file has none. */
static void run_alone(struct putting *putting, size_t zone_count)
{
    static const size_t places[] = {0, 1, 2, 3};
    static const struct er_set alone[] = {
        {1, &places[0]}, {1, &places[1]}, {1, &places[2]}, {1, &places[3]}};
    putting->changed.zone_count = zone_count;
    putting->changed.sets = alone;
    putting->changed.set_count = zone_count;
}

static const cJSON *found_at(const struct putting *putting, const char *const path[])
{
    const cJSON *node = er_document_root(putting->document);
    for (size_t i = 0; path[i] != NULL && node != NULL; i++) {
        node = cJSON_IsArray(node) ? cJSON_GetArrayItem(node, path[i][0] - '0')
                                   : cJSON_GetObjectItemCaseSensitive(node, path[i]);
    }
    return node;
}

#define AT(putting, ...) found_at((putting), (const char *const[]){__VA_ARGS__, NULL})

static void assert_words(const cJSON *node, const char *wanted)
{
    assert_true(cJSON_IsString(node));
    assert_string_equal(node->valuestring, wanted);
}

/* Puts the parts in; the document must then hold the changed field, and so must its text. */
static void put_and_compare(struct putting *putting, unsigned parts, const size_t *origins)
{
    assert_int_equal(er_document_put(putting->document, &putting->changed, parts, origins), ER_OK);
    struct er_problems problems;
    er_problems_init(&problems);
    struct er_field field;
    const enum er_status status = er_field_read(putting->document, &field, &problems);
    for (size_t i = 0; i < problems.count; i++) {
        print_error("%s: %s\n", problems.kept[i].pointer, problems.kept[i].text);
    }
    er_problems_release(&problems);
    assert_int_equal(status, ER_OK);
    assert_same_result(&field, &putting->changed, 1e-12);
    er_field_release(&field);
    assert_int_equal(er_document_write(putting->document, &putting->text), ER_OK);
    read_good(putting->text, &field);
    assert_same_result(&field, &putting->changed, 1e-12);
    er_field_release(&field);
}

static void close_farm(struct putting *putting)
{
    er_document_release(putting->document);
    er_field_release(&putting->own);
    free(putting->text);
}

static const unsigned all_parts =
    ER_PART_SOURCE | ER_PART_HEADWORKS | ER_PART_MAINLINE | ER_PART_ZONES;

/* What is put in unchanged leaves every word where it was. */
static void test_put_unchanged(void **state)
{
    (void)state;
    const size_t origins[] = {0, 1};
    struct putting putting;
    open_farm(&putting);
    char *before = NULL;
    assert_int_equal(er_document_write(putting.document, &before), ER_OK);
    put_and_compare(&putting, all_parts, origins);
    assert_string_equal(putting.text, before);
    free(before);
    close_farm(&putting);
}

/* One zone becomes two, as a split makes them. */
static void test_put_split_zone(void **state)
{
    (void)state;
    const size_t origins[] = {0, 0, 1};
    struct putting putting;
    open_farm(&putting);
    putting.zones[1] = putting.zones[0];
    putting.zones[2] = putting.own.zones[1];
    putting.zones[0].name = "1a";
    putting.zones[1].name = "1b";
    putting.groups[0].count = 6;
    putting.groups[1] = putting.groups[0];
    putting.groups[1].count = 4;
    putting.zones[0].groups = &putting.groups[0];
    putting.zones[1].groups = &putting.groups[1];
    run_alone(&putting, 3);
    put_and_compare(&putting, ER_PART_ZONES, origins);

    assert_null(AT(&putting, "sets"));
    assert_int_equal(cJSON_GetArraySize(AT(&putting, "zones")), 3);
    for (size_t i = 0; i < 2; i++) {
        const char *place = i == 0 ? "0" : "1";
        assert_words(AT(&putting, "zones", place, "name"), i == 0 ? "1a" : "1b");
        assert_words(AT(&putting, "zones", place, "note"), "sunny");
        assert_words(AT(&putting, "zones", place, "water", "note"), "peppers");
        assert_non_null(AT(&putting, "zones", place, "water", "season"));
        assert_words(AT(&putting, "zones", place, "valve", "loss"), "0.1 bar");
        assert_words(AT(&putting, "zones", place, "header", "lead"), "5 yd");
        assert_words(AT(&putting, "zones", place, "beds", "0", "note"), "short");
        assert_words(AT(&putting, "zones", place, "beds", "0", "spacing"), "72 in");
    }
    assert_null(AT(&putting, "zones", "2", "water"));
    assert_words(AT(&putting, "zones", "2", "beds", "1", "note"), "far");
    assert_words(AT(&putting, "prices", "note"), "by hand");
    assert_words(AT(&putting, "source", "pressure"), "50 psi");
    close_farm(&putting);
}

/* Another pipe and another tape under names that are taken, by the file and by the catalogue. */
static void test_put_name_clashes(void **state)
{
    (void)state;
    const size_t origins[] = {0, 1};
    const struct er_pipe mine = {"main", 0.05, 150.0, ER_NONE, ER_NONE, ER_PIPE_PVC};
    const struct er_pipe built_in = {"pvc40-2in", 0.05, 150.0, ER_NONE, ER_NONE, ER_PIPE_PVC};
    const struct er_pipe fresh = {"hose", 0.06, 140.0, ER_NONE, ER_NONE, ER_PIPE_PVC};
    const struct er_header_piece pieces[] = {
        {&mine, 10.0}, {&built_in, 10.0}, {&fresh, ER_ENDLESS}};
    struct putting putting;
    open_farm(&putting);
    struct er_tape tape = *putting.own.zones[0].groups[0].tape;
    tape.emitter_flow *= 0.75;
    putting.groups[0].tape = &tape;
    putting.zones[0].groups = &putting.groups[0];
    putting.zones[0].header.pieces = pieces;
    putting.zones[0].header.piece_count = 3;
    put_and_compare(&putting, ER_PART_ZONES, origins);

    assert_true(cJSON_IsObject(AT(&putting, "zones", "0", "header", "sections", "0", "pipe")));
    assert_true(cJSON_IsObject(AT(&putting, "zones", "0", "header", "sections", "1", "pipe")));
    assert_words(AT(&putting, "zones", "0", "header", "sections", "2", "pipe"), "hose");
    assert_non_null(AT(&putting, "pipes", "hose"));
    assert_words(AT(&putting, "pipes", "main", "inside_diameter"), "2 1/2 in");
    assert_words(AT(&putting, "zones", "0", "beds", "0", "tape"), "t 2");
    assert_non_null(AT(&putting, "tapes", "t 2"));
    assert_words(AT(&putting, "tapes", "t", "note"), "old stock");
    assert_words(AT(&putting, "zones", "0", "header", "note"), "new hose");
    close_farm(&putting);
}

/* Another source, a filter where there was none, and a mainline with a section more. */
static void test_put_supply(void **state)
{
    (void)state;
    const struct er_part filter = {"filter", 2.0, 0.002, ER_NONE, ER_NONE, ER_NONE, ER_NONE, 0.0};
    const size_t origins[] = {0, 1};
    struct putting putting;
    open_farm(&putting);
    struct er_section sections[3] = {putting.own.mainline[0], putting.own.mainline[1],
                                     putting.own.mainline[0]};
    sections[2].name = "C";
    sections[2].from = 1;
    putting.changed.mainline = sections;
    putting.changed.section_count = 3;
    putting.changed.headworks = &filter;
    putting.changed.headworks_count = 1;
    putting.changed.source.pressure *= 1.25;
    put_and_compare(&putting, all_parts, origins);
    assert_words(AT(&putting, "source", "note"), "the well");
    assert_words(AT(&putting, "source", "flow_limit"), "30 gpm");
    assert_words(AT(&putting, "mainline", "0", "note"), "buried");
    assert_words(AT(&putting, "zones", "1", "on"), "B"); /* no longer on the last */
    assert_words(AT(&putting, "zones", "0", "note"), "sunny");
    close_farm(&putting);
}

/* Zones without an origin: one with the file's own water, one with another. */
static void test_put_new_zones(void **state)
{
    (void)state;
    struct putting putting;
    open_farm(&putting);
    putting.zones[2] = putting.own.zones[1];
    putting.zones[2].name = "3";
    putting.zones[2].water.need_kind = ER_NEED_PER_LENGTH;
    putting.zones[2].water.need = 0.01;
    putting.zones[2].water.efficiency = 0.7;
    run_alone(&putting, 3);
    put_and_compare(&putting, ER_PART_ZONES, NULL);
    assert_null(AT(&putting, "zones", "0", "note"));
    assert_non_null(AT(&putting, "zones", "0", "water", "need"));
    assert_null(AT(&putting, "zones", "1", "water"));
    assert_non_null(AT(&putting, "zones", "2", "water", "need_per_length"));
    close_farm(&putting);
}

/* A problem in what was put in is told with its pointer; one elsewhere still with its line. */
static void test_problems_after_put(void **state)
{
    (void)state;
    const size_t origins[] = {1, 0};
    struct putting putting;
    open_farm(&putting);
    putting.zones[0] = putting.own.zones[1];
    putting.zones[1] = putting.own.zones[0];
    run_alone(&putting, 2);
    assert_int_equal(er_document_put(putting.document, &putting.changed, ER_PART_ZONES, origins),
                     ER_OK);
    struct er_problems problems;
    er_problems_init(&problems);
    er_document_problem(putting.document, &problems, "/zones/0/name", ER_AT_VALUE, "wrong");
    er_document_problem(putting.document, &problems, "/source/pressure", ER_AT_VALUE, "wrong");
    assert_int_equal(problems.count, 2);
    assert_string_equal(problems.kept[0].origin, "farm.json, as changed");
    assert_int_equal(problems.kept[0].line, 0);
    assert_string_equal(problems.kept[1].origin, "farm.json");
    assert_int_equal(problems.kept[1].line, 4);
    er_problems_release(&problems);
    close_farm(&putting);
}

/* What cannot be read takes nothing, and stays as it is. */
static void test_put_into_bad(void **state)
{
    (void)state;
    struct putting putting;
    open_farm(&putting);
    struct er_problems problems;
    er_problems_init(&problems);
    assert_int_equal(er_document_set(putting.document, "/source/pressure=ten", &problems), ER_OK);
    er_problems_release(&problems);
    assert_int_equal(er_document_put(putting.document, &putting.changed, all_parts, NULL),
                     ER_BAD_INPUT);
    assert_words(AT(&putting, "source", "pressure"), "ten");
    close_farm(&putting);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_put_unchanged),    cmocka_unit_test(test_put_split_zone),
        cmocka_unit_test(test_put_name_clashes), cmocka_unit_test(test_put_supply),
        cmocka_unit_test(test_put_new_zones),    cmocka_unit_test(test_problems_after_put),
        cmocka_unit_test(test_put_into_bad),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
