/* Items added with one flag for all failures; trees as text, on one line where they fit. */
#include "json/write.h"

#include <math.h>

#include "base/number.h"

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

void er_build_string(cJSON *object, const char *key, const char *text, bool *failed)
{
    er_build_add(object, key, text != NULL ? cJSON_CreateString(text) : cJSON_CreateNull(), failed);
}

/* Appends a scalar's JSON, or a key's. What a terminal obeys and JSON allows is escaped. */
static void append_scalar(const cJSON *item, struct er_text *out)
{
    if (cJSON_IsNumber(item) && isfinite(item->valuedouble)) {
        er_text_append_number(out, item->valuedouble);
        return;
    }
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

/* Appends a value on one line. No tree is deeper than a document may be (ER_JSON_DEPTH). */
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

static bool holds_objects(const cJSON *item)
{
    bool found = cJSON_IsObject(item);
    for (const cJSON *child = item->child; child != NULL && !found; child = child->next) {
        found = holds_objects(child);
    }
    return found;
}

/* Whether every item is a plain value, or a list of them that fits on a line. */
static bool can_be_filled(const cJSON *item, size_t depth, const struct er_layout *layout,
                          struct er_text *out)
{
    bool fits = layout->fills && depth > 0;
    struct er_text one;
    er_text_init(&one);
    for (const cJSON *child = item->child; child != NULL && fits; child = child->next) {
        er_text_clear(&one);
        append_key(child, &one);
        append_on_one_line(child, &one);
        out->out_of_memory = out->out_of_memory || one.out_of_memory;
        fits = !holds_objects(child) &&
               2 * (depth + 1) + er_columns(er_text_string(&one)) < layout->columns;
    }
    er_text_release(&one);
    return fits;
}

/* Appends the items with as many on each line as fit. */
static void append_filled(const cJSON *item, size_t depth, const struct er_layout *layout,
                          struct er_text *out)
{
    size_t used = layout->columns;
    struct er_text one;
    er_text_init(&one);
    for (const cJSON *child = item->child; child != NULL; child = child->next) {
        er_text_clear(&one);
        append_key(child, &one);
        append_on_one_line(child, &one);
        er_text_append(&one, child->next != NULL ? "," : "");
        const size_t wanted = er_columns(er_text_string(&one));
        if (child != item->child && used + 1 + wanted <= layout->columns) {
            er_text_append(out, " ");
            used += 1 + wanted;
        } else {
            er_text_append(out, child != item->child ? "\n" : "");
            append_indent(out, depth);
            used = 2 * depth + wanted;
        }
        er_text_append(out, er_text_string(&one));
    }
    er_text_append(out, "\n");
    out->out_of_memory = out->out_of_memory || one.out_of_memory;
    er_text_release(&one);
}

static void append_value(const cJSON *item, size_t depth, const struct er_layout *layout,
                         struct er_text *out);

static void append_on_lines(const cJSON *item, size_t depth, const struct er_layout *layout,
                            struct er_text *out)
{
    er_text_append(out, cJSON_IsObject(item) ? "{\n" : "[\n");
    if (can_be_filled(item, depth, layout, out)) {
        append_filled(item, depth + 1, layout, out);
    } else {
        for (const cJSON *child = item->child; child != NULL; child = child->next) {
            append_indent(out, depth + 1);
            append_key(child, out);
            append_value(child, depth + 1, layout, out);
            er_text_append(out, child->next != NULL ? ",\n" : "\n");
        }
    }
    append_indent(out, depth);
    er_text_append(out, cJSON_IsObject(item) ? "}" : "]");
}

/* Appends a value on one line if that is wide enough for it with its key, else on several. */
static void append_value(const cJSON *item, size_t depth, const struct er_layout *layout,
                         struct er_text *out)
{
    struct er_text line;
    er_text_init(&line);
    append_key(item, &line);
    size_t key = line.length;
    append_on_one_line(item, &line);
    out->out_of_memory = out->out_of_memory || line.out_of_memory;
    bool fits = 2 * depth + er_columns(er_text_string(&line)) < layout->columns; /* and a comma */
    if (depth > 0 && (fits || !holds_items(item))) {
        er_text_append(out, er_text_string(&line) + key);
    } else if (!out->out_of_memory) {
        append_on_lines(item, depth, layout, out);
    }
    er_text_release(&line);
}

void er_json_write(const cJSON *tree, const struct er_layout *layout, struct er_text *out)
{
    append_value(tree, 0, layout, out);
    er_text_append(out, "\n");
}
