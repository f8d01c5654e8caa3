/* A field is written so that reading it gives the same field, and parts of one are put into a
 * document without touching the rest. */
#include <dirent.h>

#include "base/number.h"
#include "evenrow/check.h"
#include "evenrow/writing.h"
#include "field/document.h"
#include "field/keys.h"
#include "field_texts.h"
#include "report/figures.h"

/* ---- numbers ---- */

static void assert_number_text(double number, const char *wanted)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append_number(&text, number);
    assert_string_equal(er_text_string(&text), wanted);
    er_text_release(&text);
}

static void test_number_texts(void **state)
{
    (void)state;
    assert_number_text(0.0, "0");
    assert_number_text(0.1, "0.1");
    assert_number_text(-2.5, "-2.5");
    assert_number_text(456192.0, "456192");
    assert_number_text(1e7, "10000000");
    assert_number_text(1e-7, "1e-07");
    assert_number_text(1.0 / 3.0, "0.3333333333333333");
    assert_number_text(0.1 + 0.2, "0.30000000000000004");
    assert_int_equal(er_number_digits(0.625), 3);
    assert_int_equal(er_number_digits(1200.0), 2);
    assert_int_equal(er_number_digits(0.1 + 0.2), 17);
}

static double read_feet(double number, const void *context)
{
    (void)context;
    return er_to_si(ER_LENGTH, ER_US, number);
}

/* Every length in feet of a few digits is found again from its metres. */
static void test_number_search(void **state)
{
    (void)state;
    for (int i = 1; i < 20000; i++) {
        const double feet = i / 100.0;
        const double metres = read_feet(feet, NULL);
        const double found =
            er_number_for(metres, 0.0, er_from_si(ER_LENGTH, ER_US, metres), read_feet, NULL);
        assert_true(found >= feet && found <= feet);
    }
}

/* ---- fields ---- */

static char *write_in(const struct er_field *field, enum er_system system)
{
    char *text = NULL;
    assert_int_equal(er_field_write(field, system, &text), ER_OK);
    assert_non_null(text);
    return text;
}

/* Two numbers are the same, or both are none; but for rounding where the units were changed. */
static void assert_figure(double value, double wanted, double relative)
{
    const bool same = isnan(wanted) ? isnan(value)
                                    : (value <= wanted && value >= wanted) ||
                                          fabs(value - wanted) <= relative * fabs(wanted);
    if (!same) {
        print_error("found %.17g, wanted %.17g\n", value, wanted);
        fail();
    }
}

static void assert_same_zones(const struct er_result *result, const struct er_result *wanted,
                              double relative)
{
    size_t count = 0;
    const struct er_figure *figures = er_figures(&count);
    assert_int_equal(result->field->zone_count, wanted->field->zone_count);
    for (size_t i = 0; i < result->field->zone_count; i++) {
        assert_string_equal(result->field->zones[i].name, wanted->field->zones[i].name);
        for (size_t j = 0; j < count; j++) {
            assert_figure(er_figure_value(&figures[j], &result->zones[i], ER_METRIC),
                          er_figure_value(&figures[j], &wanted->zones[i], ER_METRIC), relative);
        }
        assert_figure(result->zones[i].holding, wanted->zones[i].holding, relative);
        assert_figure(result->zones[i].flush_velocity, wanted->zones[i].flush_velocity, relative);
    }
}

static void assert_same_supply(const struct er_result *result, const struct er_result *wanted,
                               double relative)
{
    assert_int_equal(result->field->set_count, wanted->field->set_count);
    for (size_t i = 0; i < result->field->set_count; i++) {
        assert_figure(result->sets[i].flow, wanted->sets[i].flow, relative);
        assert_figure(result->sets[i].source_pressure, wanted->sets[i].source_pressure, relative);
        assert_figure(result->sets[i].after_headworks, wanted->sets[i].after_headworks, relative);
    }
    assert_int_equal(result->field->section_count, wanted->field->section_count);
    for (size_t i = 0; i < result->field->section_count; i++) {
        assert_figure(result->sections[i].velocity, wanted->sections[i].velocity, relative);
        assert_figure(result->sections[i].end_pressure, wanted->sections[i].end_pressure, relative);
    }
    assert_figure(result->day.hours_needed, wanted->day.hours_needed, relative);
    assert_figure(result->day.hours_available, wanted->day.hours_available, relative);
    assert_figure(result->day.days_of_supply, wanted->day.days_of_supply, relative);
    assert_figure(result->suction.npsh_available, wanted->suction.npsh_available, relative);
}

static void assert_same_findings(const struct er_result *result, const struct er_result *wanted)
{
    assert_int_equal(result->verdict, wanted->verdict);
    assert_int_equal(result->finding_count, wanted->finding_count);
    for (size_t i = 0; i < result->finding_count; i++) {
        assert_int_equal(result->findings[i].code, wanted->findings[i].code);
        assert_string_equal(result->findings[i].text, wanted->findings[i].text);
    }
}

static void assert_same_result(const struct er_field *field, const struct er_field *wanted,
                               double relative)
{
    struct er_result results[2];
    struct er_failure failure;
    assert_int_equal(er_check(field, ER_US, &results[0], &failure), ER_OK);
    assert_int_equal(er_check(wanted, ER_US, &results[1], &failure), ER_OK);
    assert_same_zones(&results[0], &results[1], relative);
    assert_same_supply(&results[0], &results[1], relative);
    assert_same_findings(&results[0], &results[1]);
    er_result_release(&results[0]);
    er_result_release(&results[1]);
}

static void assert_same_assumptions(const struct er_field *field, const struct er_field *wanted)
{
    assert_int_equal(field->assumption_count, wanted->assumption_count);
    for (size_t i = 0; i < field->assumption_count; i++) {
        const char *pointer = wanted->assumptions[i].pointer;
        bool found = false;
        for (size_t j = 0; j < field->assumption_count; j++) {
            found = found || strcmp(field->assumptions[j].pointer, pointer) == 0;
        }
        assert_true(found);
    }
}

/* Writes a field in its own units and in the others, and reads it again each time. */
static void assert_comes_back(const struct er_field *field)
{
    const enum er_system own = field->system;
    for (int i = 0; i < 2; i++) {
        const enum er_system system = i == 0 ? own : (own == ER_US ? ER_METRIC : ER_US);
        char *text = write_in(field, system);
        struct er_field again;
        read_good(text, &again);
        assert_int_equal(again.system, system);
        assert_same_result(&again, field, 1e-12);
        if (system == own) {
            assert_same_assumptions(&again, field);
        }
        char *second = write_in(&again, system);
        assert_string_equal(second, text);
        free(second);
        er_field_release(&again);
        free(text);
    }
}

static void assert_text_comes_back(const char *text)
{
    struct er_field field;
    read_good(text, &field);
    assert_comes_back(&field);
    er_field_release(&field);
}

static char *file_text(const char *path)
{
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    char *text = calloc(1, 65536);
    assert_non_null(text);
    assert_true(fread(text, 1, 65535, file) > 0);
    assert_true(feof(file));
    fclose(file);
    return text;
}

static void test_examples(void **state)
{
    (void)state;
    const char *folder = EVENROW_SOURCE_DIR "/examples";
    DIR *listing = opendir(folder);
    assert_non_null(listing);
    int count = 0;
    for (struct dirent *entry = readdir(listing); entry != NULL; entry = readdir(listing)) {
        if (strstr(entry->d_name, ".json") == NULL) {
            continue;
        }
        char path[1024];
        snprintf(path, sizeof path, "%s/%s", folder, entry->d_name);
        char *text = file_text(path);
        assert_text_comes_back(text);
        free(text);
        count++;
    }
    closedir(listing);
    assert_true(count >= 5);
}

/* Between them these have every key of the format, each away from its default. */
#define HEADERS_AND_BEDS                                                                           \
    "{\"name\": \"1 \\\"upper\\\" \\u00e9 \\\\ /~\", \"on\": \"C\", \"rise\": 2,\n"                \
    " \"valve\": {\"part\": \"gate\", \"loss\": 1}, \"regulator\": {\"holds\": 12, \"loss\": 1,\n" \
    "   \"place\": \"header\"},\n"                                                                 \
    " \"header\": {\"sections\": [{\"pipe\": \"three\", \"length\": 30}, {\"pipe\": \"two\"}],\n"  \
    "   \"feed\": 20, \"slope\": 1.5, \"lead\": 40},\n"                                            \
    " \"beds\": [{\"count\": 16, \"length\": 300, \"last_length\": 200, \"spacing\": 6,\n"         \
    "   \"gap\": 3, \"tape\": \"t\", \"tapes\": 2, \"rows\": 2, \"slope\": -2,\n"                  \
    "   \"bed_width\": 32, \"plant_spacing\": 18},\n"                                              \
    "  {\"count\": 2, \"length\": 100, \"spacing\": 5, \"tape\": \"pc\", \"sides\": \"both\",\n"   \
    "   \"profile\": [[0, 10], [50, 11], [80, 9]], \"other_length\": 150,\n"                       \
    "   \"other_slope\": 3}],\n"                                                                   \
    " \"water\": {\"need\": \"1.4 in/week\", \"area\": \"bed\", \"efficiency\": 80,\n"             \
    "   \"leaching\": 10, \"every\": 2, \"soil\": \"sandy loam\", \"root_depth\": 10,\n"           \
    "   \"allowed_depletion\": 40, \"wetted_width\": 20}},\n"                                      \
    "{\"name\": \"2\", \"header\": {\"pipe\": {\"inside_diameter\": \"78 mm\", \"c\": 141},\n"     \
    "   \"profile\": [[0, 0], [\"10 ft\", \"-6 in\"]], \"feed\": \"last\"},\n"                     \
    " \"beds\": [{\"count\": 3, \"length\": 100, \"spacing\": 5, \"tape\": \"t\",\n"               \
    "   \"sides\": \"both\", \"other_profile\": [[0, 5], [50, 6]]}]}"

static const char full_pump[] =
    "{\"title\": \"Lower field\", \"units\": \"us\",\n"
    "\"source\": {\"pump\": {\"curve\": [[0, 120], [200, \"20 m\"]], \"lift\": 7},\n"
    "  \"flow_limit\": 60, \"storage\": \"2 acre-ft\", \"refill\": \"3 gph\",\n"
    "  \"suction\": {\"pipe\": \"three\", \"length\": 12, \"height\": 5, \"altitude\": 1500,\n"
    "    \"temperature\": \"25 C\", \"npsh_required\": 9}},\n"
    "\"headworks\": [{\"part\": \"screen filter\", \"loss\": 3, \"at_flow\": 40, \"holds\": 30,\n"
    "  \"min_flow\": 2, \"max_flow\": 80, \"max_pressure\": 100, \"dirty_loss\": 5}],\n"
    "\"mainline\": [\n"
    "  {\"name\": \"A\", \"pipe\": \"three\", \"length\": 200, \"rise\": -3, \"fittings\": 10},\n"
    "  {\"name\": \"B\", \"pipe\": {\"inside_diameter\": \"2 1/2 in\"}, \"length\": 10},\n"
    "  {\"name\": \"C\", \"pipe\": \"pvc40-3in\", \"length\": 10, \"from\": \"A\"},\n"
    "  {\"name\": \"D\", \"pipe\": \"three\", \"length\": 10, \"from\": \"headworks\"}],\n"
    "\"pipes\": {\"two\": {\"inside_diameter\": 2.7},\n"
    "  \"three\": {\"inside_diameter\": 3.2, \"c\": 145, \"max_pressure\": 160, \"price\": 2.1}},\n"
    "\"tapes\": {\"t\": {\"flow\": 0.45, \"at_pressure\": 8, \"exponent\": 0.48,\n"
    "    \"emitter_spacing\": 12, \"inside_diameter\": \"5/8 in\", \"c\": 138,\n"
    "    \"emitter_loss\": 4, \"cv\": 0.02, \"min_pressure\": 5, \"max_pressure\": 14,\n"
    "    \"wall\": \"8 mil\", \"connector\": {\"loss\": 0.2, \"at_flow\": 1},\n"
    "    \"roll_length\": 7500, \"roll_price\": 180},\n"
    "  \"pc\": {\"emitter_flow\": 0.25, \"holds_from\": 7, \"holds_to\": \"2.5 bar\",\n"
    "    \"at_pressure\": 10, \"emitter_spacing\": 18, \"inside_diameter\": 0.6}},\n"
    "\"zones\": [" HEADERS_AND_BEDS "],\n"
    "\"sets\": [[\"2\", \"1 \\\"upper\\\" \\u00e9 \\\\ /~\"]],\n"
    "\"water\": {\"need_per_length\": 60, \"hours\": 16},\n"
    "\"prices\": {\"currency\": \"EUR\", \"tape_fitting\": 1, \"tape_coupling\": 0.8,\n"
    "  \"tape_end\": 0.5, \"pipe_coupling\": 2, \"pipe_end\": 3, \"tee\": 4, \"valve\": 60,\n"
    "  \"regulator\": 30, \"filter\": 150, \"gauge\": 12, \"test_point\": 2, \"air_vent\": 9,\n"
    "  \"flush_valve\": 7, \"check_valve\": 40, \"backflow_assembly\": 300, \"injector\": 200,\n"
    "  \"film\": {\"roll_price\": 160, \"roll_length\": 4000, \"width\": 48, \"thickness\": "
    "0.001},\n"
    "  \"pipes\": {\"three\": {\"price\": 1.9, \"length\": 20}},\n"
    "  \"tapes\": {\"t\": {\"roll_price\": 170, \"roll_length\": 7400}}},\n"
    "\"limits\": {\"uniformity\": 80, \"flow_variation\": 15, \"velocity\": 6,\n"
    "  \"flush_velocity\": 0.5}}\n";

/* A small field in which a source and water can be put. */
#define SMALL(units, source, more)                                                                 \
    "{\"units\": \"" units "\", \"source\": " source ", " more                                     \
    " \"tapes\": {\"t\": {\"emitter_flow\": 1, \"at_pressure\": \"8 psi\",\n"                      \
    "  \"emitter_spacing\": \"12 in\", \"inside_diameter\": \"16 mm\"}},\n"                        \
    "\"zones\": [{\"name\": \"a\", \"header\": {\"pipe\": \"pvc40-2in\"},\n"                       \
    "  \"beds\": [{\"count\": 4, \"length\": \"100 ft\", \"spacing\": \"2 m\", \"tape\": "         \
    "\"t\"}]},\n"                                                                                  \
    " {\"name\": \"b\", \"header\": {\"pipe\": \"pvc40-2in\"}, \"on\": \"headworks\",\n"           \
    "  \"beds\": [{\"count\": 1, \"length\": \"30 m\", \"spacing\": \"2 m\", \"tape\": \"t\"}]}]}"

static const char *const others[] = {
    SMALL("us", "{\"pressure\": 20}", ""),
    SMALL("metric", "{\"curve\": [[0, 300], [4, 250.5], [9, 30]]}", "\"water\": {\"hours\": 20},"),
    SMALL(
        "us", "{\"test\": {\"static\": 50, \"flow\": 8, \"pressure\": 10}}",
        "\"water\": {\"eto\": 0.2, \"crop\": \"tomato\", \"stage\": \"mid\", \"area\": \"bed\"},"),
    SMALL("us", "{\"test\": {\"static\": 50, \"volume\": 5, \"time\": \"17 s\"}}",
          "\"water\": {\"need\": 0.2, \"soil\": \"clay\"},"),
    SMALL("metric", "{\"pump\": {\"curve\": [[0, 30], [40, 20]]}, \"suction\": {}}",
          "\"water\": {\"soil\": \"clay\"},"),
};

static void test_full_fields(void **state)
{
    (void)state;
    assert_text_comes_back(full_pump);
    for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
        assert_text_comes_back(others[i]);
    }
}

/* ---- every key is written ---- */

#define MOST_KEYS 400

/* Keys of the tables that were found in some written file. */
struct seen {
    const struct er_key *keys[MOST_KEYS];
    size_t count;
};

static bool has_seen(const struct seen *seen, const struct er_key *key)
{
    for (size_t i = 0; i < seen->count; i++) {
        if (seen->keys[i] == key) {
            return true;
        }
    }
    return false;
}

static void look_at(struct seen *seen, const struct er_object *object, const cJSON *node);

static void look_into(struct seen *seen, const struct er_key *key, const cJSON *member)
{
    if (key->object == NULL || cJSON_IsString(member)) {
        return;
    }
    if (key->kind != ER_KEY_LIST && key->kind != ER_KEY_MAP) {
        look_at(seen, key->object, member);
        return;
    }
    const cJSON *item = NULL;
    cJSON_ArrayForEach(item, member) { look_at(seen, key->object, item); }
}

static void look_at(struct seen *seen, const struct er_object *object, const cJSON *node)
{
    const cJSON *member = NULL;
    cJSON_ArrayForEach(member, node)
    {
        const struct er_key *key = er_object_key(object, member->string);
        assert_non_null(key);
        if (!has_seen(seen, key)) {
            assert_true(seen->count < MOST_KEYS);
            seen->keys[seen->count++] = key;
        }
        look_into(seen, key, member);
    }
}

static void look_at_written(struct seen *seen, const char *text)
{
    struct er_field field;
    read_good(text, &field);
    char *written = write_in(&field, field.system);
    struct er_problems problems;
    er_problems_init(&problems);
    struct er_document *document = NULL;
    assert_int_equal(er_document_open("w", written, strlen(written), &document, &problems), ER_OK);
    look_at(seen, &er_field_object, er_document_root(document));
    er_document_release(document);
    er_problems_release(&problems);
    free(written);
    er_field_release(&field);
}

/* What a field does not hold, or holds in another form. */
static bool is_never_written(const struct er_key *key)
{
    static const char *const never[] = {"version", "eto",          "kc",     "crop",
                                        "stage",   "mulch_factor", "volume", "time"};
    bool found = key->kind == ER_KEY_OPEN;
    for (size_t i = 0; i < sizeof never / sizeof *never; i++) {
        found = found || strcmp(key->name, never[i]) == 0;
    }
    return found;
}

static void assert_written(const struct er_key *key, void *context)
{
    const struct seen *seen = context;
    if (key->object != NULL) {
        er_object_each_key(key->object, assert_written, context);
    }
    if (!has_seen(seen, key) && !is_never_written(key)) {
        print_error("never written: \"%s\", %s\n", key->name, key->about);
        fail();
    }
}

static void test_every_key(void **state)
{
    (void)state;
    struct seen seen = {.count = 0};
    look_at_written(&seen, full_pump);
    for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
        look_at_written(&seen, others[i]);
    }
    er_object_each_key(&er_field_object, assert_written, &seen);
    assert_true(seen.count > 100);
}

/* ---- parts put into a document ---- */

static const char farm[] =
    "{\"note\": \"whole\", \"units\": \"us\", \"title\": \"Farm\",\n"
    "\"water\": {\"eto\": 0.25, \"kc\": 1, \"efficiency\": 88, \"season\": {\"any\": 1}},\n"
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
    "   \"water\": {\"note\": \"peppers\", \"kc\": 0.9, \"season\": {}},\n"
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
    const struct er_pipe mine = {"main", 0.05, 150.0, ER_NONE, ER_NONE};
    const struct er_pipe built_in = {"pvc40-2in", 0.05, 150.0, ER_NONE, ER_NONE};
    const struct er_pipe fresh = {"hose", 0.06, 140.0, ER_NONE, ER_NONE};
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
        cmocka_unit_test(test_number_texts),       cmocka_unit_test(test_number_search),
        cmocka_unit_test(test_examples),           cmocka_unit_test(test_full_fields),
        cmocka_unit_test(test_every_key),          cmocka_unit_test(test_put_unchanged),
        cmocka_unit_test(test_put_split_zone),     cmocka_unit_test(test_put_name_clashes),
        cmocka_unit_test(test_put_supply),         cmocka_unit_test(test_put_new_zones),
        cmocka_unit_test(test_problems_after_put), cmocka_unit_test(test_put_into_bad),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
