/* What the two halves of the schema's making share: a JSON tree that remembers whether memory
 * ran out, and the schema of one key's value. */
#ifndef ER_FIELD_SCHEMA_H
#define ER_FIELD_SCHEMA_H

#include <stdbool.h>

#include <cjson/cJSON.h>

#include "field/keys.h"

struct er_schema {
    cJSON *root;
    cJSON *definitions; /* "$defs" */
    bool out_of_memory;
};

/* Each puts one member into `object` (an item into a list where `key` is NULL). What cannot be
 * had is only remembered as out_of_memory; NULL may be put into, and gives NULL. */
cJSON *er_schema_object(struct er_schema *schema, cJSON *into, const char *key);
cJSON *er_schema_list(struct er_schema *schema, cJSON *into, const char *key);
void er_schema_string(struct er_schema *schema, cJSON *into, const char *key, const char *text);
void er_schema_number(struct er_schema *schema, cJSON *into, const char *key, double number);
void er_schema_bool(struct er_schema *schema, cJSON *into, const char *key, bool value);

/* Describes into `value` what may stand behind `key` of `object`. */
void er_schema_value(struct er_schema *schema, cJSON *value, const struct er_key *key,
                     const struct er_object *object);

/* Puts "$ref" to the definition of `object` into `value`; the definition is made if need be. */
void er_schema_refer(struct er_schema *schema, cJSON *value, const struct er_object *object);

#endif
