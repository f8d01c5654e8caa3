/* The JSON Schema of what may stand behind one key. */
#include <math.h>
#include <string.h>

#include "base/text.h"
#include "field/schema.h"
#include "field/usual.h"

/* A JSON number (RFC 8259, section 6), or a fraction, with a whole number before it or not. */
#define NUMBER_PATTERN                                                                             \
    "(0|[1-9][0-9]*)(\\.[0-9]+)?([eE][-+]?[0-9]+)?|"                                               \
    "((0|[1-9][0-9]*)[ \t]+)?(0|[1-9][0-9]*)/[1-9][0-9]*"

/* Texts that are not under zero, and texts that are above it: some digit before the unit or
 * the exponent is no zero. */
#define NOT_NEGATIVE "^[^-]"
#define POSITIVE "^[0. \t]*[1-9]"

#define POINTER_PATTERN "^(/([^~/]|~[01])*)+$"
#define DATE_PATTERN "^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$"

static void append_either_case(struct er_text *pattern, char letter)
{
    const char *const lower = "abcdefghijklmnopqrstuvwxyz";
    const char *const upper = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";
    const char *at = strchr(lower, letter);
    const char *above = strchr(upper, letter);
    if (at != NULL) {
        er_text_appendf(pattern, "[%c%c]", *at, upper[at - lower]);
    } else if (above != NULL) {
        er_text_appendf(pattern, "[%c%c]", lower[above - upper], *above);
    } else {
        er_text_append_bytes(pattern, &letter, 1);
    }
}

/* The pattern of a quantity's texts, from the units table's list "psi, kPa, bar". */
static void append_pattern(struct er_text *pattern, enum er_quantity quantity)
{
    er_text_append(pattern, "^-?(" NUMBER_PATTERN ")[ \t]*(");
    for (const char *at = er_unit_names(quantity); *at != '\0'; at++) {
        if (*at == ',') {
            er_text_append(pattern, "|");
        } else if (*at != ' ') {
            append_either_case(pattern, *at);
        }
    }
    er_text_append(pattern, ")$");
}

/* "length of bed" is "quantity-length-of-bed" among the definitions. */
static void definition_name(struct er_text *name, enum er_quantity quantity)
{
    er_text_append(name, "quantity-");
    for (const char *at = er_quantity_name(quantity); *at != '\0'; at++) {
        er_text_append_bytes(name, *at == ' ' ? "-" : at, 1);
    }
}

static void define_quantity(struct er_schema *schema, const char *name, enum er_quantity quantity)
{
    struct er_text text;
    er_text_init(&text);
    cJSON *definition = er_schema_object(schema, schema->definitions, name);
    er_text_appendf(
        &text, "a bare number is in %s (us) or %s (metric); a text names its unit: one of %s",
        er_unit_name(quantity, ER_US), er_unit_name(quantity, ER_METRIC), er_unit_names(quantity));
    if (quantity != ER_TEMPERATURE) {
        const struct er_sizes sizes = er_sizes_told(quantity, ER_METRIC);
        er_text_appendf(&text,
                        "; at most %.10g %s in size, and at least %.10g where the key must "
                        "be above 0",
                        sizes.most, er_unit_name(quantity, ER_METRIC), sizes.least);
    }
    er_schema_string(schema, definition, "description", er_text_string(&text));
    cJSON *types = er_schema_list(schema, definition, "type");
    er_schema_string(schema, types, NULL, "number");
    er_schema_string(schema, types, NULL, "string");
    er_text_clear(&text);
    append_pattern(&text, quantity);
    er_schema_string(schema, definition, "pattern", er_text_string(&text));
    schema->out_of_memory = schema->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

static void refer_to_quantity(struct er_schema *schema, cJSON *value, enum er_quantity quantity)
{
    struct er_text name;
    er_text_init(&name);
    definition_name(&name, quantity);
    if (cJSON_GetObjectItemCaseSensitive(schema->definitions, er_text_string(&name)) == NULL) {
        define_quantity(schema, er_text_string(&name), quantity);
    }
    struct er_text reference;
    er_text_init(&reference);
    er_text_appendf(&reference, "#/$defs/%s", er_text_string(&name));
    er_schema_string(schema, value, "$ref", er_text_string(&reference));
    schema->out_of_memory = schema->out_of_memory || name.out_of_memory || reference.out_of_memory;
    er_text_release(&name);
    er_text_release(&reference);
}

static void add_ends(struct er_schema *schema, cJSON *value, double low, bool low_open, double high,
                     bool high_open)
{
    if (!isinf(low)) {
        er_schema_number(schema, value, low_open ? "exclusiveMinimum" : "minimum", low);
    }
    if (!isinf(high)) {
        er_schema_number(schema, value, high_open ? "exclusiveMaximum" : "maximum", high);
    }
}

static bool same(double a, double b) { return !(a < b || a > b); }

/* The range of a quantity, as far as it is the same number in both unit systems; a text can be
 * held to its sign. */
static void add_quantity_range(struct er_schema *schema, cJSON *value, enum er_quantity quantity,
                               const struct er_key_range *range)
{
    const double low = er_from_si(quantity, ER_US, range->low);
    const double high = er_from_si(quantity, ER_US, range->high);
    const bool low_same = same(low, er_from_si(quantity, ER_METRIC, range->low));
    const bool high_same = same(high, er_from_si(quantity, ER_METRIC, range->high));
    add_ends(schema, value, low_same ? low : -(double)INFINITY, range->low_open,
             high_same ? high : (double)INFINITY, range->high_open);
    if (low_same && same(low, 0.0)) {
        er_schema_string(schema, value, "pattern", range->low_open ? POSITIVE : NOT_NEGATIVE);
    }
}

static void add_quantity(struct er_schema *schema, cJSON *value, enum er_quantity quantity,
                         const struct er_key_range *range)
{
    refer_to_quantity(schema, value, quantity);
    add_quantity_range(schema, value, quantity, range);
}

static void add_number(struct er_schema *schema, cJSON *value, const struct er_key *key)
{
    const struct er_key_range *range = &key->range;
    const bool whole = key->kind == ER_KEY_COUNT;
    er_schema_string(schema, value, "type", whole ? "integer" : "number");
    add_ends(schema, value, range->low, range->low_open, range->high, range->high_open);
    if (key->presence == ER_DEFAULTED) {
        er_schema_number(schema, value, "default", key->fallback[ER_US]);
    }
}

static void add_words(struct er_schema *schema, cJSON *value, const struct er_key *key)
{
    cJSON *words = er_schema_list(schema, value, "enum");
    for (const char *const *word = key->words; *word != NULL; word++) {
        er_schema_string(schema, words, NULL, *word);
    }
}

static void add_points(struct er_schema *schema, cJSON *value, const struct er_key *key)
{
    static const struct er_key_range from_zero = ER_FROM_ZERO;
    static const struct er_key_range any_number = ER_ANY_NUMBER;
    er_schema_string(schema, value, "type", "array");
    er_schema_number(schema, value, "minItems", 2.0);
    cJSON *point = er_schema_object(schema, value, "items");
    er_schema_string(schema, point, "type", "array");
    er_schema_number(schema, point, "minItems", 2.0);
    er_schema_number(schema, point, "maxItems", 2.0);
    cJSON *pair = er_schema_list(schema, point, "prefixItems");
    add_quantity(schema, er_schema_object(schema, pair, NULL), key->quantity, &from_zero);
    add_quantity(schema, er_schema_object(schema, pair, NULL), key->second_quantity, &any_number);
}

static void add_figures(struct er_schema *schema, cJSON *value, const struct er_key *key)
{
    const struct er_key_range *range = &key->range;
    er_schema_string(schema, value, "type", "array");
    er_schema_number(schema, value, "minItems", (double)key->least);
    er_schema_number(schema, value, "maxItems", (double)key->least);
    cJSON *figure = er_schema_object(schema, value, "items");
    if (key->quantity != ER_QUANTITY_COUNT) {
        add_quantity(schema, figure, key->quantity, range);
        return;
    }
    er_schema_string(schema, figure, "type", "number");
    add_ends(schema, figure, range->low, range->low_open, range->high, range->high_open);
}

static void add_list(struct er_schema *schema, cJSON *value, const struct er_key *key)
{
    er_schema_string(schema, value, "type", "array");
    if (key->least > 0) {
        er_schema_number(schema, value, "minItems", (double)key->least);
    }
    er_schema_refer(schema, er_schema_object(schema, value, "items"), key->object);
}

static void add_map(struct er_schema *schema, cJSON *value, const struct er_key *key)
{
    er_schema_string(schema, value, "type", "object");
    cJSON *properties = er_schema_object(schema, value, "properties");
    er_schema_bool(schema, properties, "note", true);
    er_schema_refer(schema, er_schema_object(schema, value, "additionalProperties"), key->object);
}

static void add_sets(struct er_schema *schema, cJSON *value)
{
    er_schema_string(schema, value, "type", "array");
    cJSON *set = er_schema_object(schema, value, "items");
    er_schema_string(schema, set, "type", "array");
    er_schema_number(schema, set, "minItems", 1.0);
    cJSON *zone = er_schema_object(schema, set, "items");
    er_schema_string(schema, zone, "type", "string");
}

static void add_pointers(struct er_schema *schema, cJSON *value)
{
    er_schema_string(schema, value, "type", "array");
    cJSON *pointer = er_schema_object(schema, value, "items");
    er_schema_string(schema, pointer, "type", "string");
    er_schema_string(schema, pointer, "pattern", POINTER_PATTERN);
}

/* A name, or the thing itself in place. */
static void add_named(struct er_schema *schema, cJSON *value, const struct er_object *object)
{
    cJSON *either = er_schema_list(schema, value, "anyOf");
    cJSON *name = er_schema_object(schema, either, NULL);
    er_schema_string(schema, name, "type", "string");
    er_schema_refer(schema, er_schema_object(schema, either, NULL), object);
}

static void add_choice_or_quantity(struct er_schema *schema, cJSON *value, const struct er_key *key)
{
    cJSON *either = er_schema_list(schema, value, "anyOf");
    add_words(schema, er_schema_object(schema, either, NULL), key);
    add_quantity(schema, er_schema_object(schema, either, NULL), key->quantity, &key->range);
}

static void append_usual(struct er_text *text, const struct er_usual *usual,
                         const struct er_key *key)
{
    if (key->kind != ER_KEY_QUANTITY) {
        er_text_appendf(text, "; usual is %.6g to %.6g: %s", usual->from, usual->to, usual->meant);
        return;
    }
    er_text_append(text, "; usual is ");
    for (int i = ER_US; i <= ER_METRIC; i++) {
        const enum er_system system = (enum er_system)i;
        const double from = er_from_si(key->quantity, system, usual->from);
        const double to = er_from_si(key->quantity, system, usual->to);
        er_text_appendf(text, to < 100.0 ? "%s%.3g to %.3g %s" : "%s%.3g to %.0f %s",
                        system == ER_US ? "" : " (", from, to, er_unit_name(key->quantity, system));
    }
    er_text_appendf(text, "): %s", usual->meant);
}

/* The key's line, with its default where that is a quantity or a word, and what is usual. */
static void add_description(struct er_schema *schema, cJSON *value, const struct er_key *key,
                            const struct er_usual *usual)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, key->about);
    if (key->presence == ER_DEFAULTED && key->kind == ER_KEY_QUANTITY) {
        er_text_appendf(&text, " (default %.6g %s in us, %.6g %s in metric)", key->fallback[ER_US],
                        er_unit_name(key->quantity, ER_US), key->fallback[ER_METRIC],
                        er_unit_name(key->quantity, ER_METRIC));
    } else if (key->presence == ER_DEFAULTED && key->words != NULL) {
        er_text_appendf(&text, " (default \"%s\")", key->words[0]);
    }
    if (usual != NULL) {
        append_usual(&text, usual, key);
    }
    er_schema_string(schema, value, "description", er_text_string(&text));
    schema->out_of_memory = schema->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

void er_schema_value(struct er_schema *schema, cJSON *value, const struct er_key *key,
                     const struct er_object *object)
{
    add_description(schema, value, key, er_usual_find(object, key->name));
    switch (key->kind) {
    case ER_KEY_QUANTITY:
        add_quantity(schema, value, key->quantity, &key->range);
        break;
    case ER_KEY_NUMBER:
    case ER_KEY_PERCENT:
    case ER_KEY_COUNT:
        add_number(schema, value, key);
        break;
    case ER_KEY_TEXT:
    case ER_KEY_TAPE:
    case ER_KEY_SECTION:
        er_schema_string(schema, value, "type", "string");
        break;
    case ER_KEY_CHOICE:
        add_words(schema, value, key);
        break;
    case ER_KEY_CHOICE_OR_QUANTITY:
        add_choice_or_quantity(schema, value, key);
        break;
    case ER_KEY_OBJECT:
    case ER_KEY_NEW_OBJECT:
        er_schema_refer(schema, value, key->object);
        break;
    case ER_KEY_LIST:
        add_list(schema, value, key);
        break;
    case ER_KEY_MAP:
        add_map(schema, value, key);
        break;
    case ER_KEY_POINTS:
        add_points(schema, value, key);
        break;
    case ER_KEY_PIPE:
        add_named(schema, value, &er_pipe_object);
        break;
    case ER_KEY_SOIL:
        add_named(schema, value, key->object);
        break;
    case ER_KEY_SETS:
        add_sets(schema, value);
        break;
    case ER_KEY_POINTERS:
        add_pointers(schema, value);
        break;
    case ER_KEY_FIGURES:
        add_figures(schema, value, key);
        break;
    case ER_KEY_DATE:
        er_schema_string(schema, value, "type", "string");
        er_schema_string(schema, value, "pattern", DATE_PATTERN);
        break;
    case ER_KEY_KIND_COUNT:
        break;
    }
}
