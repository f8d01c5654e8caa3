#include "report/json_build.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "base/c_locale.h"
#include "report/wrap.h"

cJSON *er_build_add(cJSON *object, const char *key, cJSON *item, bool *failed)
{
    bool added = !*failed && item != NULL &&
                 (key != NULL ? cJSON_AddItemToObject(object, key, item)
                              : cJSON_AddItemToArray(object, item));
    if (!added) {
        cJSON_Delete(item);
        *failed = true;
        return NULL;
    }
    return item;
}

/* The double nearest to `number` written with 12 significant digits: enough for every use, and
 * short to read, since the last digits of a double are noise of the arithmetic. */
static double rounded(double number)
{
    char digits[32];
    snprintf(digits, sizeof digits, "%.12g", number);
    char *comma = strchr(digits, ',');
    if (comma != NULL) { /* the decimal sign of another locale */
        *comma = '.';
    }
    return er_c_number(digits);
}

void er_build_number(cJSON *object, const char *key, double number, bool *failed)
{
    cJSON *item = isfinite(number) ? cJSON_CreateNumber(rounded(number)) : cJSON_CreateNull();
    er_build_add(object, key, item, failed);
}

void er_build_string(cJSON *object, const char *key, const char *text, bool *failed)
{
    er_build_add(object, key, text != NULL ? cJSON_CreateString(text) : cJSON_CreateNull(), failed);
}

/* Appends a scalar's JSON, or a key's. What a terminal obeys and JSON allows is escaped. */
static void append_scalar(const cJSON *item, struct er_text *out)
{
    char *printed = cJSON_PrintUnformatted(item);
    if (printed == NULL) {
        out->out_of_memory = true;
        return;
    }
    for (const char *at = printed; *at != '\0'; at++) {
        unsigned char byte = (unsigned char)at[0], next = (unsigned char)at[1];
        if (byte == 0x7F) {
            er_text_append(out, "\\u007f");
        } else if (byte == 0xC2 && next >= 0x80 && next < 0xA0) {
            er_text_appendf(out, "\\u00%02x", (unsigned)next);
            at++;
        } else {
            er_text_append_bytes(out, at, 1);
        }
    }
    cJSON_free(printed);
}

static void append_key(const cJSON *item, struct er_text *out)
{
    if (item->string != NULL) {
        const cJSON key = {.type = cJSON_String, .valuestring = item->string};
        append_scalar(&key, out);
        er_text_append(out, ": ");
    }
}

static bool holds_items(const cJSON *item)
{
    return (cJSON_IsObject(item) || cJSON_IsArray(item)) && item->child != NULL;
}

/* Appends a value on one line. Our own trees are a few levels deep. */
static void append_on_one_line(const cJSON *item, struct er_text *out)
{
    if (!holds_items(item)) {
        append_scalar(item, out);
        return;
    }
    er_text_append(out, cJSON_IsObject(item) ? "{" : "[");
    for (const cJSON *child = item->child; child != NULL; child = child->next) {
        append_key(child, out);
        append_on_one_line(child, out);
        er_text_append(out, child->next != NULL ? ", " : "");
    }
    er_text_append(out, cJSON_IsObject(item) ? "}" : "]");
}

static void append_indent(struct er_text *out, size_t depth)
{
    while (depth-- > 0) {
        er_text_append(out, "  ");
    }
}

static void append_value(const cJSON *item, size_t depth, struct er_text *out);

static void append_on_lines(const cJSON *item, size_t depth, struct er_text *out)
{
    er_text_append(out, cJSON_IsObject(item) ? "{\n" : "[\n");
    for (const cJSON *child = item->child; child != NULL; child = child->next) {
        append_indent(out, depth + 1);
        append_key(child, out);
        append_value(child, depth + 1, out);
        er_text_append(out, child->next != NULL ? ",\n" : "\n");
    }
    append_indent(out, depth);
    er_text_append(out, cJSON_IsObject(item) ? "}" : "]");
}

/* Appends a value on one line if the page is wide enough for it with its key, else with a line
 * for each of its items. */
static void append_value(const cJSON *item, size_t depth, struct er_text *out)
{
    struct er_text line;
    er_text_init(&line);
    append_key(item, &line);
    size_t key = line.length;
    append_on_one_line(item, &line);
    out->out_of_memory = out->out_of_memory || line.out_of_memory;
    bool fits = 2 * depth + er_columns(er_text_string(&line)) < ER_PAGE; /* and a comma */
    if (depth > 0 && (fits || !holds_items(item))) {
        er_text_append(out, er_text_string(&line) + key);
    } else if (!out->out_of_memory) {
        append_on_lines(item, depth, out);
    }
    er_text_release(&line);
}

void er_build_write(const cJSON *tree, struct er_text *out)
{
    append_value(tree, 0, out);
    er_text_append(out, "\n");
}
