#include "report/json_text.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "base/c_locale.h"

cJSON *er_json_add(cJSON *object, const char *key, cJSON *item, bool *failed)
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

void er_json_number(cJSON *object, const char *key, double number, bool *failed)
{
    cJSON *item = isfinite(number) ? cJSON_CreateNumber(rounded(number)) : cJSON_CreateNull();
    er_json_add(object, key, item, failed);
}

void er_json_string(cJSON *object, const char *key, const char *text, bool *failed)
{
    er_json_add(object, key, text != NULL ? cJSON_CreateString(text) : cJSON_CreateNull(), failed);
}

/* Appends one byte of printed JSON in our own dress: outside strings cJSON writes tabs, for
 * indentation and after a colon, and inside them never. Returns how many bytes were used. */
static size_t append_dressed(const char *at, bool line_start, struct er_text *out)
{
    unsigned char byte = (unsigned char)at[0], next = (unsigned char)at[1];
    if (byte == '\t') {
        er_text_append(out, line_start ? "  " : " ");
        return 1;
    }
    if (byte == 0x7F) {
        er_text_append(out, "\\u007f");
        return 1;
    }
    if (byte == 0xC2 && next >= 0x80 && next < 0xA0) {
        er_text_appendf(out, "\\u00%02x", (unsigned)next);
        return 2;
    }
    er_text_append_bytes(out, at, 1);
    return 1;
}

void er_json_write(const cJSON *tree, struct er_text *out)
{
    char *printed = cJSON_Print(tree);
    if (printed == NULL) {
        out->out_of_memory = true;
        return;
    }
    bool line_start = true;
    for (const char *at = printed; *at != '\0';) {
        bool indents = line_start && *at == '\t';
        line_start = indents || *at == '\n';
        at += append_dressed(at, indents, out);
    }
    er_text_append(out, "\n");
    cJSON_free(printed);
}
