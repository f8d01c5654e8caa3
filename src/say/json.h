/* JSON as evenrow's reports have it.
 *
 * A report is built without asking at each step: where memory runs out the builder says so at
 * the end, and what is made after that is nothing. A NULL key makes an element of an array. */
#ifndef ER_SAY_JSON_H
#define ER_SAY_JSON_H

#include "evenrow/status.h"
#include "evenrow/units.h"
#include "json/write.h"

struct er_json {
    enum er_system system; /* of quantities */
    bool failed;           /* memory ran out */
};

/* The object that a report is: it begins with the program's version. */
cJSON *er_json_root(struct er_json *json);

/* Each returns the new member, or NULL. */
cJSON *er_json_object(struct er_json *json, cJSON *parent, const char *key);
cJSON *er_json_array(struct er_json *json, cJSON *parent, const char *key);

/* null for NULL. */
void er_json_text(struct er_json *json, cJSON *parent, const char *key, const char *text);

/* Rounded to 12 significant digits; null for NAN and infinities. */
void er_json_number(struct er_json *json, cJSON *parent, const char *key, double number);

/* The same for a figure in SI, told in the builder's units. */
void er_json_quantity(struct er_json *json, cJSON *parent, const char *key,
                      enum er_quantity quantity, double value);

void er_json_bool(struct er_json *json, cJSON *parent, const char *key, bool value);
void er_json_null(struct er_json *json, cJSON *parent, const char *key);

/* The member "units": an object that names those of some quantities. Returns it. */
struct er_json_unit {
    const char *key;
    enum er_quantity quantity;
};
cJSON *er_json_units(struct er_json *json, cJSON *root, const struct er_json_unit *units,
                     size_t count);

/* Appends `root`, which is not empty, as text and frees it: indented by two blanks, a newline at
 * its end; what fits on a line of ER_PAGE columns stands on one. ER_OK or ER_NO_MEMORY. */
enum er_status er_json_end(struct er_json *json, cJSON *root, struct er_text *out);

#endif
