/* A field is written so that reading it gives the same field. */
#include <dirent.h>

#include "base/number.h"
#include "evenrow/writing.h"
#include "field/keys.h"
#include "field_texts.h"
#include "same_result.h"
#include "json/document.h"

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
    " \"inject\": {\"concentration\": \"0.1 g/L\"},\n"                                             \
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
    "\"source\": {\"pump\": {\"curve\": [[10, 120], [200, \"20 m\"]], \"shutoff\": 130, \"lift\": "
    "7},\n"
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
    "  \"three\": {\"inside_diameter\": 3.2, \"c\": 145, \"max_pressure\": 160, \"price\": 2.1,\n"
    "    \"kind\": \"oval\"}},\n"
    "\"tapes\": {\"t\": {\"flow\": 0.45, \"at_pressure\": 8, \"exponent\": 0.48,\n"
    "    \"emitter_spacing\": 12, \"inside_diameter\": \"5/8 in\", \"c\": 138,\n"
    "    \"emitter_loss\": 4, \"cv\": 0.02, \"min_pressure\": 5, \"max_pressure\": 14,\n"
    "    \"wall\": \"8 mil\", \"connector\": {\"loss\": 0.2, \"at_flow\": 1},\n"
    "    \"roll_length\": 7500, \"roll_price\": 180},\n"
    "  \"pc\": {\"emitter_flow\": 0.25, \"holds_from\": 7, \"holds_to\": \"2.5 bar\",\n"
    "    \"at_pressure\": 10, \"emitter_spacing\": 18, \"inside_diameter\": 0.6}},\n"
    "\"zones\": [" HEADERS_AND_BEDS "],\n"
    "\"sets\": [[\"2\", \"1 \\\"upper\\\" \\u00e9 \\\\ /~\"]],\n"
    "\"water\": {\"need_per_length\": 60, \"hours\": 16,\n"
    "  \"season\": {\"planting\": \"2026-05-01\", \"crop\": \"tomato\", \"kc\": [0.5, 1.1, 0.7],\n"
    "    \"eto\": [0.05, 0.08, 0.12, 0.17, 0.2, 0.24, \"6 mm\", 0.2, 0.15, 0.1, 0.06, 0.04],\n"
    "    \"rain\": [3, 3, 4, 4, 4, 4, 4, 4, 4, 3, 3, \"80 mm\"]}},\n"
    "\"mulch\": {\"kind\": \"plastic\", \"factor\": 0.8, \"bed_top\": 28, \"bed_height\": 7,\n"
    "  \"buried\": 6, \"film\": {\"width\": \"5 ft\", \"thickness\": \"1.25 mil\", "
    "\"roll_length\": 2000,\n"
    "    \"roll_price\": 90}},\n"
    "\"inject\": {\"product\": {\"name\": \"8-4-6\", \"nitrogen\": 8, \"phosphate\": 4,\n"
    "    \"potash\": 6, \"density\": 10.2, \"conductivity\": \"800 uS/cm\"},\n"
    "  \"nutrient\": \"potassium\", \"rate\": 7, \"at\": \"screen filter\",\n"
    "  \"time\": \"90 min\", \"stock\": \"200 g/L\"},\n"
    "\"guessed\": [\"/limits/uniformity\"],\n"
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

/* What can be injected, and by what; the zone "b" gets what the whole file says. */
#define INJECT(product, rest)                                                                      \
    "\"inject\": {\"product\": {" product "}, " rest "}, \"headworks\": [{\"part\": \"p\"}],"

/* A zone with a dose of its own. */
#define DOSED(name, dose)                                                                          \
    "{\"name\": \"" name "\", \"header\": {\"pipe\": \"pvc40-2in\"}, \"inject\": {" dose "},\n"    \
    " \"beds\": [{\"count\": 4, \"length\": 100, \"spacing\": 6, \"tape\": "                       \
    "\"tape-16mm-12in-0.45\"}]}"

static const char *const others[] = {
    SMALL(
        "us", "{\"pressure\": 20}",
        "\"weather\": {\"latitude\": -34.5, \"altitude\": 650, \"wind_height\": \"10 m\",\n"
        "  \"site\": \"coast\", \"records\": [\n"
        "    {\"date\": \"2026-05-01\", \"t_max\": 79, \"t_min\": \"14 C\", \"humidity_max\": 90,\n"
        "     \"humidity_min\": 40, \"wind\": 5, \"radiation\": 550, \"rain\": 0.3},\n"
        "    {\"date\": \"2026-05-02\", \"days\": 7, \"t_max\": 80, \"t_min\": 60,\n"
        "     \"dew_point\": 55, \"sunshine\": 9.5},\n"
        "    {\"date\": \"2026-05-09\", \"t_max\": 80, \"t_min\": 60, \"humidity\": 62}]},\n"),
    SMALL("us", "{\"pressure\": 20}", ""),
    SMALL("metric", "{\"curve\": [[1, 300], [4, 250.5], [9, 30]], \"shutoff\": 310}",
          "\"water\": {\"hours\": 20},"),
    SMALL(
        "us", "{\"test\": {\"static\": 50, \"flow\": 8, \"pressure\": 10}}",
        "\"water\": {\"eto\": 0.2, \"crop\": \"tomato\", \"stage\": \"mid\", \"area\": \"bed\"},"),
    SMALL("us", "{\"test\": {\"static\": 50, \"volume\": 5, \"time\": \"17 s\"}}",
          "\"water\": {\"need\": 0.2, \"soil\": \"clay\"},"),
    SMALL("metric", "{\"pump\": {\"curve\": [[0, 30], [40, 20]]}, \"suction\": {}}",
          "\"water\": {\"soil\": {\"name\": \"red clay\", \"available_water\": 0.17, \"spread\": "
          "20}},"
          " \"mulch\": {\"kind\": \"organic\", \"bed_height\": 0},"),
    SMALL("us", "{\"pressure\": 20}",
          INJECT("\"nitrogen\": 46, \"solubility\": 5", "\"rate\": \"3 kg/ha\", \"tank\": 50")),
    SMALL("metric", "{\"pressure\": 20}",
          INJECT("\"potash\": 50, \"solubility\": \"0.11 kg/L\"",
                 "\"rate_per_length\": 2.5, \"ratio\": 100, \"at\": \"source\"")),
    SMALL("us", "{\"pressure\": 20}",
          INJECT("\"phosphate\": 20, \"density\": 10",
                 "\"nutrient\": \"phosphorus\", \"concentration\": 30, \"flow\": \"2 L/h\", "
                 "\"at\": \"p\"")),
    "{\"units\": \"us\", \"source\": {\"pressure\": 20},\n"
    "\"inject\": {\"product\": {\"nitrogen\": 32, \"density\": 11.06}, \"rate\": 7},\n"
    "\"zones\": [" DOSED("a", "\"rate\": 8") ", " DOSED("b", "\"rate_per_length\": 0.1") ", " DOSED(
        "c", "\"concentration\": 7") "]}",
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

#define MOST_KEYS 500

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
    bool found = false;
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

/* ---- what the text looks like ---- */

static const char given_and_not[] =
    "{\"units\": \"us\", \"source\": {\"pressure\": 20}, \"limits\": {\"uniformity\": 85},\n"
    "\"tapes\": {\"t\": {\"flow\": 0.45, \"at_pressure\": 8, \"emitter_spacing\": 12,\n"
    "  \"inside_diameter\": \"5/8 in\", \"cv\": 0.03, \"emitter_loss\": 0}},\n"
    "\"zones\": [{\"name\": \"a\", \"rise\": 0, \"header\": {\"pipe\": \"pvc40-2in\",\n"
    "    \"feed\": \"first\"},\n"
    "  \"beds\": [{\"count\": 4, \"length\": 100, \"last_length\": 100, \"spacing\": 6,\n"
    "    \"tape\": \"t\", \"tapes\": 1, \"gap\": 0, \"sides\": \"both\", \"slope\": 2,\n"
    "    \"other_slope\": -2, \"other_length\": 100, \"bed_width\": 30}]}]}";

/* What goes without saying is left out; a given figure that would else be told as an assumption
 * (cv) is not. */
static void test_defaults(void **state)
{
    (void)state;
    struct er_field field;
    read_good(given_and_not, &field);
    char *us = write_in(&field, ER_US);
    assert_string_equal(us, "{\n"
                            "  \"units\": \"us\",\n"
                            "  \"tapes\": {\n"
                            "    \"t\": {\n"
                            "      \"flow\": 0.45, \"at_pressure\": 8, \"emitter_spacing\": 12, "
                            "\"inside_diameter\": 0.625,\n      \"emitter_loss\": 0, \"cv\": 0.03\n"
                            "    }\n"
                            "  },\n"
                            "  \"source\": {\"pressure\": 20},\n"
                            "  \"zones\": [\n"
                            "    {\n"
                            "      \"name\": \"a\",\n"
                            "      \"header\": {\"pipe\": \"pvc40-2in\"},\n"
                            "      \"beds\": [{\"count\": 4, \"length\": 100, \"spacing\": 6, "
                            "\"tape\": \"t\", \"slope\": 2, \"sides\": \"both\"}]\n"
                            "    }\n"
                            "  ]\n"
                            "}\n");
    free(us);
    er_field_release(&field);
}

/* In other units numbers are those that people would write; defaults of the field's own units
 * are not the others', and are told. */
static void test_other_units(void **state)
{
    (void)state;
    struct er_field field;
    read_good(given_and_not, &field);
    char *metric = write_in(&field, ER_METRIC);
    assert_non_null(strstr(metric, "\"emitter_spacing\": 304.8,"));
    assert_non_null(strstr(metric, "\"inside_diameter\": 15.875,"));
    assert_non_null(strstr(metric, "\"spacing\": 1.8288,"));
    assert_non_null(strstr(metric, "\"bed_width\": 762"));
    assert_non_null(strstr(metric, "\"min_pressure\": 27.579"));
    assert_null(strstr(metric, "\"exponent\""));
    free(metric);
    er_field_release(&field);
}

/* What no file can hold: two pipes, and two tapes, of one name. */
static void test_names_given_twice(void **state)
{
    (void)state;
    struct er_field field;
    read_good(given_and_not, &field);
    struct er_zone zones[] = {field.zones[0], field.zones[0]};
    struct er_bed_group group = field.zones[0].groups[0];
    struct er_tape tape = *group.tape;
    struct er_pipe pipe = *field.zones[0].header.pieces[0].pipe;
    const struct er_header_piece piece = {&pipe, ER_ENDLESS};
    pipe.inside_diameter *= 2.0;
    tape.emitter_flow *= 2.0;
    group.tape = &tape;
    zones[1].name = "b";
    zones[1].groups = &group;
    zones[1].header.pieces = &piece;
    struct er_field twice = field;
    static const size_t together[] = {0, 1};
    const struct er_set set = {2, together};
    twice.zones = zones;
    twice.zone_count = 2;
    twice.sets = &set;
    twice.set_count = 1;

    char *text = write_in(&twice, ER_US);
    struct er_field again;
    read_good(text, &again);
    assert_same_result(&again, &twice, 1e-12);
    assert_string_equal(again.zones[1].groups[0].tape->name, "t 2");
    assert_null(again.zones[1].header.pieces[0].pipe->name);
    er_field_release(&again);
    free(text);
    er_field_release(&field);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_number_texts), cmocka_unit_test(test_number_search),
        cmocka_unit_test(test_examples),     cmocka_unit_test(test_full_fields),
        cmocka_unit_test(test_every_key),    cmocka_unit_test(test_defaults),
        cmocka_unit_test(test_other_units),  cmocka_unit_test(test_names_given_twice),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
