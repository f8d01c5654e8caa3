/* The JSON Schema says what the reader does: same keys, same verdicts. */
#define _POSIX_C_SOURCE 200809L
#include "field_texts.h"

#include <cjson/cJSON.h>
#include <dirent.h>
#include <regex.h>

#include "field/keys.h"
#include "field/usual.h"

/* A small checker by JSON Schema (draft 2020-12), of the keywords that our schema uses. A
 * keyword that it does not know fails the test. */

static bool accepts(const cJSON *root, const cJSON *schema, const cJSON *instance);

static bool has_type(const cJSON *instance, const char *type)
{
    if (strcmp(type, "object") == 0) {
        return cJSON_IsObject(instance);
    }
    if (strcmp(type, "array") == 0) {
        return cJSON_IsArray(instance);
    }
    if (strcmp(type, "string") == 0) {
        return cJSON_IsString(instance);
    }
    if (strcmp(type, "number") == 0) {
        return cJSON_IsNumber(instance);
    }
    assert_string_equal(type, "integer");
    return cJSON_IsNumber(instance) && !(instance->valuedouble > floor(instance->valuedouble));
}

static bool check_type(const cJSON *types, const cJSON *instance)
{
    if (cJSON_IsString(types)) {
        return has_type(instance, types->valuestring);
    }
    bool any = false;
    const cJSON *type = NULL;
    cJSON_ArrayForEach(type, types) { any = any || has_type(instance, type->valuestring); }
    return any;
}

static bool check_pattern(const char *pattern, const cJSON *instance)
{
    if (!cJSON_IsString(instance)) {
        return true;
    }
    regex_t compiled;
    assert_int_equal(regcomp(&compiled, pattern, REG_EXTENDED | REG_NOSUB), 0);
    const bool matches = regexec(&compiled, instance->valuestring, 0, NULL, 0) == 0;
    regfree(&compiled);
    return matches;
}

static bool check_required(const cJSON *names, const cJSON *instance)
{
    bool all = true;
    const cJSON *name = NULL;
    cJSON_ArrayForEach(name, names)
    {
        all = all && (!cJSON_IsObject(instance) ||
                      cJSON_GetObjectItemCaseSensitive(instance, name->valuestring) != NULL);
    }
    return all;
}

/* Every member by its property's schema, and those without one by `others`. */
static bool check_members(const cJSON *root, const cJSON *properties, const cJSON *others,
                          const cJSON *instance)
{
    bool all = true;
    const cJSON *member = NULL;
    if (!cJSON_IsObject(instance)) {
        return true;
    }
    cJSON_ArrayForEach(member, instance)
    {
        const cJSON *schema = cJSON_GetObjectItemCaseSensitive(properties, member->string);
        schema = schema == NULL ? others : schema;
        all = all && (schema == NULL || accepts(root, schema, member));
    }
    return all;
}

static size_t count_accepting(const cJSON *root, const cJSON *schemas, const cJSON *instance)
{
    size_t count = 0;
    const cJSON *schema = NULL;
    cJSON_ArrayForEach(schema, schemas) { count += accepts(root, schema, instance); }
    return count;
}

static bool check_items(const cJSON *root, const cJSON *schema, const cJSON *instance)
{
    bool all = true;
    const cJSON *item = NULL;
    if (cJSON_IsArray(instance)) {
        cJSON_ArrayForEach(item, instance) { all = all && accepts(root, schema, item); }
    }
    return all;
}

static bool check_prefix(const cJSON *root, const cJSON *schemas, const cJSON *instance)
{
    bool all = true;
    const cJSON *item = cJSON_IsArray(instance) ? instance->child : NULL;
    const cJSON *schema = schemas->child;
    for (; item != NULL && schema != NULL; item = item->next, schema = schema->next) {
        all = all && accepts(root, schema, item);
    }
    return all;
}

/* dependentRequired and dependentSchemas: what holds once a key is there. */
static bool check_dependent(const cJSON *root, const cJSON *keyword, const cJSON *instance)
{
    bool all = true;
    const cJSON *key = NULL;
    cJSON_ArrayForEach(key, keyword)
    {
        if (cJSON_GetObjectItemCaseSensitive(instance, key->string) == NULL) {
            continue;
        }
        all = all &&
              (cJSON_IsArray(key) ? check_required(key, instance) : accepts(root, key, instance));
    }
    return all;
}

static bool in_enum(const cJSON *values, const cJSON *instance)
{
    bool any = false;
    const cJSON *value = NULL;
    cJSON_ArrayForEach(value, values) { any = any || cJSON_Compare(value, instance, true); }
    return any;
}

static bool check_number(const char *keyword, double limit, const cJSON *instance)
{
    const double value = instance->valuedouble;
    if (!cJSON_IsNumber(instance)) {
        return true;
    }
    if (strcmp(keyword, "minimum") == 0) {
        return value >= limit;
    }
    if (strcmp(keyword, "maximum") == 0) {
        return value <= limit;
    }
    if (strcmp(keyword, "exclusiveMinimum") == 0) {
        return value > limit;
    }
    assert_string_equal(keyword, "exclusiveMaximum");
    return value < limit;
}

static bool check_length(const char *keyword, double limit, const cJSON *instance)
{
    if (!cJSON_IsArray(instance)) {
        return true;
    }
    const double count = cJSON_GetArraySize(instance);
    return strcmp(keyword, "minItems") == 0 ? count >= limit : count <= limit;
}

static const cJSON *resolve(const cJSON *root, const char *reference)
{
    static const char prefix[] = "#/$defs/";
    assert_int_equal(strncmp(reference, prefix, strlen(prefix)), 0);
    const cJSON *definitions = cJSON_GetObjectItemCaseSensitive(root, "$defs");
    const cJSON *found = cJSON_GetObjectItemCaseSensitive(definitions, reference + strlen(prefix));
    assert_non_null(found);
    return found;
}

/* Keywords that hold schemas. `known` is set to whether this is one of them. */
static bool check_applicator(const cJSON *root, const cJSON *schema, const cJSON *keyword,
                             const cJSON *instance, bool *known)
{
    const char *name = keyword->string;
    *known = true;
    if (strcmp(name, "properties") == 0 || strcmp(name, "additionalProperties") == 0) {
        return check_members(root, cJSON_GetObjectItemCaseSensitive(schema, "properties"),
                             cJSON_GetObjectItemCaseSensitive(schema, "additionalProperties"),
                             instance);
    }
    if (strcmp(name, "$ref") == 0) {
        return accepts(root, resolve(root, keyword->valuestring), instance);
    }
    if (strcmp(name, "oneOf") == 0) {
        return count_accepting(root, keyword, instance) == 1;
    }
    if (strcmp(name, "anyOf") == 0) {
        return count_accepting(root, keyword, instance) >= 1;
    }
    if (strcmp(name, "allOf") == 0) {
        return count_accepting(root, keyword, instance) == (size_t)cJSON_GetArraySize(keyword);
    }
    if (strcmp(name, "not") == 0) {
        return !accepts(root, keyword, instance);
    }
    if (strcmp(name, "items") == 0) {
        return check_items(root, keyword, instance);
    }
    if (strcmp(name, "prefixItems") == 0) {
        return check_prefix(root, keyword, instance);
    }
    if (strcmp(name, "dependentRequired") == 0 || strcmp(name, "dependentSchemas") == 0) {
        return check_dependent(root, keyword, instance);
    }
    *known = false;
    return true;
}

static bool is_annotation(const char *name)
{
    return strcmp(name, "description") == 0 || strcmp(name, "default") == 0 ||
           strcmp(name, "$schema") == 0 || strcmp(name, "title") == 0 || strcmp(name, "$defs") == 0;
}

static bool check_keyword(const cJSON *root, const cJSON *schema, const cJSON *keyword,
                          const cJSON *instance)
{
    const char *name = keyword->string;
    bool known = false;
    const bool good = check_applicator(root, schema, keyword, instance, &known);
    if (known || is_annotation(name)) {
        return good;
    }
    if (strcmp(name, "type") == 0) {
        return check_type(keyword, instance);
    }
    if (strcmp(name, "required") == 0) {
        return check_required(keyword, instance);
    }
    if (strcmp(name, "pattern") == 0) {
        return check_pattern(keyword->valuestring, instance);
    }
    if (strcmp(name, "enum") == 0) {
        return in_enum(keyword, instance);
    }
    if (strcmp(name, "const") == 0) {
        return cJSON_Compare(keyword, instance, true);
    }
    if (strcmp(name, "minItems") == 0 || strcmp(name, "maxItems") == 0) {
        return check_length(name, keyword->valuedouble, instance);
    }
    return check_number(name, keyword->valuedouble, instance);
}

static bool accepts(const cJSON *root, const cJSON *schema, const cJSON *instance)
{
    if (cJSON_IsBool(schema)) {
        return cJSON_IsTrue(schema);
    }
    bool all = true;
    const cJSON *keyword = NULL;
    cJSON_ArrayForEach(keyword, schema)
    {
        all = all && check_keyword(root, schema, keyword, instance);
    }
    return all;
}

/* The tests. */

static cJSON *open_schema(void)
{
    char *text = er_schema_text();
    assert_non_null(text);
    assert_null(strchr(text, '\t'));
    cJSON *schema = cJSON_Parse(text);
    assert_non_null(schema);
    free(text);
    return schema;
}

static bool schema_takes(const cJSON *schema, const char *text)
{
    cJSON *instance = cJSON_Parse(text);
    assert_non_null(instance);
    const bool good = accepts(schema, schema, instance);
    cJSON_Delete(instance);
    return good;
}

static bool reader_takes(const char *text)
{
    struct er_field field;
    struct er_problems problems;
    er_problems_init(&problems);
    const enum er_status status = read_text(text, &field, &problems);
    er_field_release(&field);
    er_problems_release(&problems);
    return status == ER_OK;
}

struct counting {
    const cJSON *properties;
    const cJSON *required;
    const struct er_object *object;
    int count;
};

static void find_key(const struct er_key *key, void *context)
{
    struct counting *counting = context;
    const cJSON *property = cJSON_GetObjectItemCaseSensitive(counting->properties, key->name);
    if (property == NULL) {
        print_error("not in the schema: %s of %s\n", key->name, counting->object->name);
        fail();
    }
    const cJSON *about = cJSON_GetObjectItemCaseSensitive(property, "description");
    assert_int_equal(strncmp(about->valuestring, key->about, strlen(key->about)), 0);
    bool required = false;
    const cJSON *name = NULL;
    cJSON_ArrayForEach(name, counting->required)
    {
        required = required || strcmp(name->valuestring, key->name) == 0;
    }
    assert_int_equal(required, er_object_requires(counting->object, key));
    counting->count++;
}

/* Every key of the tables is in the schema, with its line, and no other key but "note",
 * and "$schema" at the top. */
static void test_keys(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        const struct er_object *object;
    } objects[] = {
        {NULL, &er_field_object},
        {"zone", &er_zone_object},
        {"header", &er_header_object},
        {"bed-group", &er_bed_group_object},
        {"zones-water", &er_water_object},
        {"water", &er_farm_water_object},
        {"source", &er_source_object},
        {"mainline-section", &er_section_object},
        {"part", &er_part_object},
        {"part-of-the-headworks", &er_headworks_object},
        {"regulator", &er_regulator_object},
        {"pipe", &er_pipe_object},
        {"tape", &er_tape_object},
    };
    cJSON *schema = open_schema();
    const cJSON *definitions = cJSON_GetObjectItemCaseSensitive(schema, "$defs");
    for (size_t i = 0; i < sizeof objects / sizeof objects[0]; i++) {
        const cJSON *place = objects[i].name == NULL
                                 ? schema
                                 : cJSON_GetObjectItemCaseSensitive(definitions, objects[i].name);
        assert_non_null(place);
        struct counting counting = {cJSON_GetObjectItemCaseSensitive(place, "properties"),
                                    cJSON_GetObjectItemCaseSensitive(place, "required"),
                                    objects[i].object, 0};
        er_object_each_key(objects[i].object, find_key, &counting);
        assert_true(counting.count > 0);
        assert_int_equal(cJSON_GetArraySize(counting.properties),
                         counting.count + (objects[i].name == NULL ? 2 : 1));
        assert_non_null(cJSON_GetObjectItemCaseSensitive(counting.properties, "note"));
        assert_true(cJSON_IsFalse(cJSON_GetObjectItemCaseSensitive(place, "additionalProperties")));
    }
    cJSON_Delete(schema);
}

static const char good[] =
    "{\"units\": \"us\", \"note\": 1, \"title\": \"T\", \"source\": {\"pressure\": 20},"
    "\"tapes\": {\"note\": 2, \"t\": {\"flow\": 0.45, \"at_pressure\": 8,"
    "\"emitter_spacing\": \"12 in\", \"inside_diameter\": \"5/8 in\"}},"
    "\"headworks\": [{\"part\": \"filter\", \"loss\": 3}], "
    "\"mainline\": [{\"name\": \"A\", \"pipe\": \"pvc40-3in\", \"length\": 9}],"
    "\"zones\": [{\"name\": \"1\", \"header\": {\"pipe\": \"pvc40-2in\"},"
    "\"beds\": [{\"count\": 4, \"length\": 300, \"spacing\": 6, \"tape\": \"t\"}]}],"
    "\"water\": {\"hours\": 18}}";

static void check_verdicts(const char *const (*cases)[2], size_t count, bool wanted)
{
    cJSON *schema = open_schema();
    assert_true(schema_takes(schema, good));
    assert_true(reader_takes(good));
    for (size_t i = 0; i < count; i++) {
        char *text = changed(good, cases[i][0], cases[i][1]);
        const bool by_schema = schema_takes(schema, text);
        const bool by_reader = reader_takes(text);
        if (by_schema != wanted || by_reader != wanted) {
            print_error("%s: schema %d, reader %d, wanted %d\n", cases[i][1], by_schema, by_reader,
                        wanted);
            fail();
        }
        free(text);
    }
    cJSON_Delete(schema);
}

static void test_both_accept(void **state)
{
    (void)state;
    static const char *const cases[][2] = {
        {"\"title\"", "\"version\": 1.0, \"title\""},
        {"{\"pressure\": 20}", "{\"pressure\": \"1.5 BAR\"}"},
        {"{\"pressure\": 20}", "{\"pressure\": \"20psi\", \"flow_limit\": \"2.5e3L/h\"}"},
        {"{\"pressure\": 20}", "{\"curve\": [[0, \"30 m\"], [\"5 gpm\", 20]]}"},
        {"{\"pressure\": 20}", "{\"test\": {\"static\": 40, \"volume\": 5, \"time\": \"30 s\"}}"},
        {"{\"pressure\": 20}", "{\"pump\": {\"curve\": [[0, 90], [9, 80]], \"lift\": \"-3 ft\"},"
                               "\"suction\": {\"pipe\": \"pvc40-3in\", \"length\": 8}}"},
        {"\"12 in\"", "\"1 1/2 ft\""},
        {"\"12 in\"", "\"0 3/4 ft\""},
        {"\"loss\": 3", "\"loss\": \"0 psi\", \"at_flow\": \"0.5 gpm\", \"dirty_loss\": 2"},
        {"\"tape\": \"t\"", "\"tape\": \"t\", \"sides\": \"both\", \"other_slope\": -2"},
        {"\"tape\": \"t\"", "\"tape\": \"t\", \"slope\": -2, \"tapes\": 2.0"},
        {"{\"pipe\": \"pvc40-2in\"}", "{\"pipe\": {\"inside_diameter\": 2}, \"feed\": \"last\"}"},
        {"{\"pipe\": \"pvc40-2in\"}", "{\"pipe\": \"pvc40-2in\", \"feed\": \"9 ft\"}"},
        {"{\"pipe\": \"pvc40-2in\"}", "{\"sections\": [{\"pipe\": \"pvc40-2in\"}]}"},
        {"\"hours\": 18",
         "\"hours\": \"90 min\", \"eto\": 0.2, \"kc\": 1, \"season\": {\"planting\": "
         "\"2026-05-01\", \"crop\": \"tomato\", \"eto\": [1,2,3,4,5,6,7,8,9,10,11,12]}"},
        {"\"title\"", "\"sets\": [[\"1\"]], \"prices\": {}, \"title\""},
        {"\"title\"", "\"guessed\": [\"/title\", \"/limits/uniformity\"], \"title\""},
        {"\"title\"", "\"prices\": {\"note\": 1, \"tee\": 0, \"film\": {\"width\": \"4 ft\"},"
                      "\"tapes\": {\"t\": {\"roll_length\": \"1 m\"}}}, \"title\""},
        {"\"name\": \"1\"", "\"name\": \"1\", \"on\": \"headworks\", \"valve\": {}"},
    };
    check_verdicts(cases, sizeof cases / sizeof cases[0], true);
}

static void test_both_refuse(void **state)
{
    (void)state;
    static const char *const cases[][2] = {
        {"\"title\"", "\"version\": 2, \"title\""},
        {"\"title\"", "\"titel\""},
        {"\"title\": \"T\"", "\"title\": 3"},
        {"\"title\"", "\"guessed\": [\"title\"], \"title\""},
        {"\"title\"", "\"guessed\": \"/title\", \"title\""},
        {"\"units\": \"us\"", "\"units\": \"US\""},
        {"\"units\": \"us\",", ""},
        {"{\"pressure\": 20}", "{}"},
        {"{\"pressure\": 20}", "{\"pressure\": -1}"},
        {"{\"pressure\": 20}", "{\"pressure\": \"-1 psi\"}"},
        {"{\"pressure\": 20}", "{\"pressure\": \"20\"}"},
        {"{\"pressure\": 20}", "{\"pressure\": \"20 gpm\"}"},
        {"{\"pressure\": 20}", "{\"pressure\": \"20 psi gauge\"}"},
        {"{\"pressure\": 20}", "{\"pressure\": \"020 psi\"}"},
        {"{\"pressure\": 20}", "{\"pressure\": 20, \"suction\": {}}"},
        {"{\"pressure\": 20}", "{\"pressure\": 20, \"curve\": [[0, 9], [1, 8]]}"},
        {"{\"pressure\": 20}", "{\"curve\": [[0, 9]]}"},
        {"{\"pressure\": 20}", "{\"curve\": [[0, 9], [1]]}"},
        {"{\"pressure\": 20}", "{\"curve\": [[-1, 9], [1, 8]]}"},
        {"{\"pressure\": 20}", "{\"test\": {\"static\": 40}}"},
        {"{\"pressure\": 20}", "{\"test\": {\"static\": 40, \"volume\": 5}}"},
        {"{\"pressure\": 20}", "{\"pump\": {}}"},
        {"\"12 in\"", "\"0 in\""},
        {"\"12 in\"", "\"0/4 in\""},
        {"\"12 in\"", "0"},
        {"\"flow\": 0.45,", "\"flow\": 0.45, \"emitter_flow\": 1,"},
        {"\"flow\": 0.45,", ""},
        {"\"at_pressure\": 8,", ""},
        {"\"at_pressure\": 8,", "\"at_pressure\": 8, \"exponent\": 0,"},
        {"\"at_pressure\": 8,", "\"holds_from\": 8, \"exponent\": 0.5,"},
        {"\"at_pressure\": 8,", "\"at_pressure\": 8, \"holds_to\": 20,"},
        {"\"at_pressure\": 8,", "\"at_pressure\": 8, \"cv\": 1,"},
        {"\"at_pressure\": 8,", "\"at_pressure\": 8, \"connector\": 3,"},
        {"\"loss\": 3", "\"loss\": 3, \"dirty_loss\": 2"},
        {"\"part\": \"filter\", ", ""},
        {"\"count\": 4", "\"count\": 0"},
        {"\"count\": 4", "\"count\": 2.5"},
        {"\"length\": 300, ", ""},
        {"\"tape\": \"t\"", "\"tape\": \"t\", \"other_slope\": -2"},
        {"\"tape\": \"t\"", "\"tape\": \"t\", \"sides\": \"one\", \"other_length\": 2"},
        {"\"tape\": \"t\"", "\"tape\": \"t\", \"slope\": 1, \"profile\": [[0, 0], [1, 1]]"},
        {"\"tape\": \"t\"", "\"tape\": \"t\", \"slope\": \"2 %\""},
        {"{\"pipe\": \"pvc40-2in\"}", "{}"},
        {"{\"pipe\": \"pvc40-2in\"}", "{\"pipe\": {}}"},
        {"{\"pipe\": \"pvc40-2in\"}", "{\"sections\": []}"},
        {"{\"pipe\": \"pvc40-2in\"}", "{\"pipe\": \"pvc40-2in\", \"feed\": \"centre\"}"},
        {"{\"pipe\": \"pvc40-2in\"}", "{\"pipe\": \"pvc40-2in\", \"feed\": -1}"},
        {"\"name\": \"1\"", "\"name\": \"1\", \"regulator\": {\"loss\": 1}"},
        {"\"name\": \"1\"", "\"name\": \"1\", \"regulator\": {\"holds\": 9, \"place\": \"x\"}"},
        {"\"name\": \"1\"", "\"name\": \"1\", \"water\": {\"hours\": 3}"},
        {"\"name\": \"1\",", ""},
        {"\"hours\": 18", "\"hours\": 25"},
        {"\"hours\": 18", "\"need\": 0.2, \"eto\": 0.2"},
        {"\"hours\": 18", "\"eto\": 0.2, \"kc\": 1, \"crop\": \"tomato\", \"stage\": \"mid\""},
        {"\"hours\": 18", "\"season\": []"},
        {"\"title\"", "\"sets\": [[]], \"title\""},
        {"\"title\"", "\"sets\": [[1]], \"title\""},
        {"\"title\"", "\"prices\": 3, \"title\""},
        {"\"title\"", "\"prices\": {\"x\": []}, \"title\""},
        {"\"title\"", "\"prices\": {\"tee\": -1}, \"title\""},
        {"\"title\"", "\"prices\": {\"tapes\": {\"t\": {\"price\": 1}}}, \"title\""},
    };
    check_verdicts(cases, sizeof cases / sizeof cases[0], false);
}

static char *read_file(const char *path)
{
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    char *text = calloc(1, 1000000);
    assert_non_null(text);
    assert_true(fread(text, 1, 999999, file) > 0);
    fclose(file);
    return text;
}

/* Every field file among the examples is good by both. */
static void test_examples(void **state)
{
    (void)state;
    cJSON *schema = open_schema();
    DIR *folder = opendir(EVENROW_SOURCE_DIR "/examples");
    assert_non_null(folder);
    size_t count = 0;
    for (const struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        const char *ending = strrchr(entry->d_name, '.');
        if (ending == NULL || strcmp(ending, ".json") != 0) {
            continue;
        }
        char path[1000];
        snprintf(path, sizeof path, "%s/%s", EVENROW_SOURCE_DIR "/examples", entry->d_name);
        char *text = read_file(path);
        if (!schema_takes(schema, text) || !reader_takes(text)) {
            print_error("%s is not good by the schema and the reader\n", path);
            fail();
        }
        free(text);
        count++;
    }
    closedir(folder);
    cJSON_Delete(schema);
    assert_true(count >= 5);
}

/* How many of the keys, wherever they stand, the row of usual figures is told of. */
static size_t count_told(const cJSON *at, const struct er_usual *row)
{
    size_t count = 0;
    const cJSON *about = cJSON_GetObjectItemCaseSensitive(at, "description");
    const bool same = at->string != NULL && strcmp(at->string, row->key) == 0;
    if (same && cJSON_IsString(about)) {
        count +=
            strstr(about->valuestring, "; usual is ") && strstr(about->valuestring, row->meant);
    }
    const cJSON *child = NULL;
    cJSON_ArrayForEach(child, at) { count += count_told(child, row); }
    return count;
}

/* Every usual range is of a key that there is, and is told as part of its description. */
static void test_usual_ranges(void **state)
{
    (void)state;
    cJSON *schema = open_schema();
    for (size_t i = 0; i < ER_USUAL_ROWS; i++) {
        const struct er_usual *row = &er_usuals[i];
        assert_true(row->from < row->to);
        if (count_told(schema, row) == 0) {
            print_error("not told: %s of %s\n", row->key, row->object);
            fail();
        }
    }
    cJSON_Delete(schema);
}

/* No usual range asks about what the program itself puts in for a key that is left out. */
static void look_at_default(const struct er_key *key, void *context)
{
    const struct er_usual *row = er_usual_find(context, key->name);
    for (int system = ER_US; row != NULL && system <= ER_METRIC; system++) {
        const double value = er_key_default(key, (enum er_system)system) *
                             (key->kind == ER_KEY_PERCENT ? 100.0 : 1.0);
        assert_false(fabs(value) > 0.0 && (value < row->from || value > row->to));
    }
}

static void test_usual_defaults(void **state)
{
    (void)state;
    const struct er_object *const objects[] = {
        &er_zone_object,       &er_header_object, &er_bed_group_object,
        &er_farm_water_object, &er_source_object, &er_section_object,
        &er_part_object,       &er_pipe_object,   &er_tape_object};
    for (size_t i = 0; i < sizeof objects / sizeof objects[0]; i++) {
        er_object_each_key(objects[i], look_at_default, (void *)objects[i]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_keys),         cmocka_unit_test(test_both_accept),
        cmocka_unit_test(test_both_refuse),  cmocka_unit_test(test_examples),
        cmocka_unit_test(test_usual_ranges), cmocka_unit_test(test_usual_defaults),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
