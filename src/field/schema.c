/* The JSON Schema of the field file, made from the tables that the reader reads by. */
#include "field/schema.h"

#include <string.h>

#include "base/text.h"
#include "evenrow/reading.h"

/* Puts `item` where it belongs; frees it if that cannot be done. */
static cJSON *put(struct er_schema *schema, cJSON *into, const char *key, cJSON *item)
{
    const bool done =
        item != NULL && into != NULL &&
        (key == NULL ? cJSON_AddItemToArray(into, item) : cJSON_AddItemToObject(into, key, item));
    if (done) {
        return item;
    }
    cJSON_Delete(item);
    schema->out_of_memory = true;
    return NULL;
}

cJSON *er_schema_object(struct er_schema *schema, cJSON *into, const char *key)
{
    return put(schema, into, key, cJSON_CreateObject());
}

cJSON *er_schema_list(struct er_schema *schema, cJSON *into, const char *key)
{
    return put(schema, into, key, cJSON_CreateArray());
}

void er_schema_string(struct er_schema *schema, cJSON *into, const char *key, const char *text)
{
    put(schema, into, key, cJSON_CreateString(text));
}

void er_schema_number(struct er_schema *schema, cJSON *into, const char *key, double number)
{
    put(schema, into, key, cJSON_CreateNumber(number));
}

void er_schema_bool(struct er_schema *schema, cJSON *into, const char *key, bool value)
{
    put(schema, into, key, cJSON_CreateBool(value));
}

/* What an object's keys are put into. */
struct making {
    struct er_schema *schema;
    const struct er_object *object;
    cJSON *properties;
    cJSON *required;
};

static void add_key(const struct er_key *key, void *context)
{
    const struct making *making = context;
    cJSON *value = er_schema_object(making->schema, making->properties, key->name);
    er_schema_value(making->schema, value, key, making->object);
    if (er_object_requires(making->object, key)) {
        er_schema_string(making->schema, making->required, NULL, key->name);
    }
}

/* {"oneOf": [{"required": [key]}, ...]} or the same with "anyOf". */
static void add_one_of(struct er_schema *schema, cJSON *all, const struct er_rule *rule)
{
    cJSON *condition = er_schema_object(schema, all, NULL);
    cJSON *choices =
        er_schema_list(schema, condition, rule->kind == ER_EXACTLY_ONE ? "oneOf" : "anyOf");
    for (size_t i = 0; rule->keys[i] != NULL; i++) {
        cJSON *choice = er_schema_object(schema, choices, NULL);
        er_schema_string(schema, er_schema_list(schema, choice, "required"), NULL, rule->keys[i]);
    }
}

/* {"not": {"required": [key, other]}} for every two keys. */
static void add_at_most_one(struct er_schema *schema, cJSON *all, const struct er_rule *rule)
{
    for (size_t i = 0; rule->keys[i] != NULL; i++) {
        for (size_t j = i + 1; rule->keys[j] != NULL; j++) {
            cJSON *condition = er_schema_object(schema, all, NULL);
            cJSON *both = er_schema_object(schema, condition, "not");
            cJSON *keys = er_schema_list(schema, both, "required");
            er_schema_string(schema, keys, NULL, rule->keys[i]);
            er_schema_string(schema, keys, NULL, rule->keys[j]);
        }
    }
}

static void add_need(struct er_schema *schema, cJSON *all, const struct er_rule *rule)
{
    cJSON *condition = er_schema_object(schema, all, NULL);
    cJSON *needs = er_schema_object(schema, condition, "dependentRequired");
    er_schema_string(schema, er_schema_list(schema, needs, rule->keys[0]), NULL, rule->keys[1]);
}

static void add_only_with(struct er_schema *schema, cJSON *all, const struct er_rule *rule)
{
    cJSON *condition = er_schema_object(schema, all, NULL);
    cJSON *needs = er_schema_object(schema, condition, "dependentSchemas");
    cJSON *need = er_schema_object(schema, needs, rule->keys[0]);
    cJSON *properties = er_schema_object(schema, need, "properties");
    cJSON *word = er_schema_object(schema, properties, rule->keys[1]);
    er_schema_string(schema, word, "const", rule->word);
    er_schema_string(schema, er_schema_list(schema, need, "required"), NULL, rule->keys[1]);
}

static void add_rule(struct er_schema *schema, cJSON *all, const struct er_rule *rule)
{
    switch (rule->kind) {
    case ER_EXACTLY_ONE:
    case ER_AT_LEAST_ONE:
        add_one_of(schema, all, rule);
        break;
    case ER_AT_MOST_ONE:
        add_at_most_one(schema, all, rule);
        break;
    case ER_NEEDS:
        add_need(schema, all, rule);
        break;
    case ER_ONLY_WITH:
        add_only_with(schema, all, rule);
        break;
    }
}

static void add_rules(struct er_schema *schema, cJSON *into, const struct er_object *object)
{
    cJSON *all = NULL;
    for (const struct er_object *at = object; at != NULL; at = at->base) {
        for (size_t i = 0; i < at->rule_count; i++) {
            if (all == NULL) {
                all = er_schema_list(schema, into, "allOf");
            }
            add_rule(schema, all, &at->rules[i]);
        }
    }
}

static void describe_object(struct er_schema *schema, cJSON *into, const struct er_object *object)
{
    er_schema_string(schema, into, "description", object->about);
    er_schema_string(schema, into, "type", "object");
    cJSON *properties = er_schema_object(schema, into, "properties");
    cJSON *required = cJSON_CreateArray();
    struct making making = {schema, object, properties, required};
    er_object_each_key(object, add_key, &making);
    er_schema_bool(schema, properties, "note", true);
    if (object == &er_field_object) {
        er_schema_bool(schema, properties, "$schema", true);
    }
    if (cJSON_GetArraySize(required) > 0) {
        put(schema, into, "required", required);
    } else {
        schema->out_of_memory = schema->out_of_memory || required == NULL;
        cJSON_Delete(required);
    }
    er_schema_bool(schema, into, "additionalProperties", false);
    add_rules(schema, into, object);
}

/* "a mainline section" is "mainline-section" among the definitions. */
static void definition_name(struct er_text *name, const struct er_object *object)
{
    for (const char *at = strchr(object->name, ' ') + 1; *at != '\0'; at++) {
        if (*at == ' ') {
            er_text_append(name, "-");
        } else if (*at != '\'') {
            er_text_append_bytes(name, at, 1);
        }
    }
}

void er_schema_refer(struct er_schema *schema, cJSON *value, const struct er_object *object)
{
    struct er_text name;
    struct er_text reference;
    er_text_init(&name);
    er_text_init(&reference);
    definition_name(&name, object);
    const char *text = er_text_string(&name);
    if (cJSON_GetObjectItemCaseSensitive(schema->definitions, text) == NULL) {
        describe_object(schema, er_schema_object(schema, schema->definitions, text), object);
    }
    er_text_appendf(&reference, "#/$defs/%s", text);
    er_schema_string(schema, value, "$ref", er_text_string(&reference));
    schema->out_of_memory = schema->out_of_memory || name.out_of_memory || reference.out_of_memory;
    er_text_release(&name);
    er_text_release(&reference);
}

/* cJSON indents by tabs, and puts one behind each colon; in a text of JSON a tab is escaped. */
static void append_with_blanks(struct er_text *text, const char *printed)
{
    bool at_start = true;
    for (const char *at = printed; *at != '\0'; at++) {
        if (*at == '\t') {
            er_text_append(text, at_start ? "  " : " ");
        } else {
            er_text_append_bytes(text, at, 1);
            at_start = *at == '\n';
        }
    }
    er_text_append(text, "\n");
}

static char *print(struct er_schema *schema)
{
    char *printed = schema->out_of_memory ? NULL : cJSON_Print(schema->root);
    if (printed == NULL) {
        return NULL;
    }
    struct er_text text;
    er_text_init(&text);
    append_with_blanks(&text, printed);
    cJSON_free(printed);
    return er_text_take(&text);
}

char *er_schema_text(void)
{
    struct er_schema schema = {.root = cJSON_CreateObject()};
    cJSON *root = schema.root;
    er_schema_string(&schema, root, "$schema", "https://json-schema.org/draft/2020-12/schema");
    er_schema_string(&schema, root, "title", "evenrow field file, version 1");
    cJSON *definitions = cJSON_CreateObject();
    schema.definitions = definitions;
    describe_object(&schema, root, &er_field_object);
    put(&schema, root, "$defs", definitions);
    char *text = print(&schema);
    cJSON_Delete(schema.root);
    return text;
}
