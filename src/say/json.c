/* Members of a JSON object, one by one, and the object as text. */
#include "say/json.h"

#include <math.h>

#include "base/number.h"
#include "say/wrap.h"

/* Enough for every use, and short to read, since the last digits of a double are noise of the
 * arithmetic. */
#define DIGITS 12

cJSON *er_json_root(struct er_json *json)
{
    cJSON *root = cJSON_CreateObject();
    json->failed = json->failed || root == NULL;
    er_json_text(json, root, "evenrow", EVENROW_VERSION);
    return root;
}

cJSON *er_json_object(struct er_json *json, cJSON *parent, const char *key)
{
    return er_build_add(parent, key, cJSON_CreateObject(), &json->failed);
}

cJSON *er_json_array(struct er_json *json, cJSON *parent, const char *key)
{
    return er_build_add(parent, key, cJSON_CreateArray(), &json->failed);
}

void er_json_text(struct er_json *json, cJSON *parent, const char *key, const char *text)
{
    er_build_string(parent, key, text, &json->failed);
}

void er_json_number(struct er_json *json, cJSON *parent, const char *key, double number)
{
    cJSON *item = isfinite(number) ? cJSON_CreateNumber(er_number_rounded(number, DIGITS))
                                   : cJSON_CreateNull();
    er_build_add(parent, key, item, &json->failed);
}

void er_json_quantity(struct er_json *json, cJSON *parent, const char *key,
                      enum er_quantity quantity, double value)
{
    er_json_number(json, parent, key, er_from_si(quantity, json->system, value));
}

void er_json_bool(struct er_json *json, cJSON *parent, const char *key, bool value)
{
    er_build_add(parent, key, cJSON_CreateBool(value), &json->failed);
}

void er_json_null(struct er_json *json, cJSON *parent, const char *key)
{
    er_build_add(parent, key, cJSON_CreateNull(), &json->failed);
}

cJSON *er_json_units(struct er_json *json, cJSON *root, const struct er_json_unit *units,
                     size_t count)
{
    cJSON *object = er_json_object(json, root, "units");
    for (size_t i = 0; i < count; i++) {
        er_json_text(json, object, units[i].key, er_unit_name(units[i].quantity, json->system));
    }
    return object;
}

enum er_status er_json_end(struct er_json *json, cJSON *root, struct er_text *out)
{
    const struct er_layout layout = {.columns = ER_PAGE};
    if (root != NULL && !json->failed) {
        er_json_write(root, &layout, out);
    }
    bool failed = root == NULL || json->failed || out->out_of_memory;
    cJSON_Delete(root);
    return failed ? ER_NO_MEMORY : ER_OK;
}
