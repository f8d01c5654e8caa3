/* What stands in the cells of comma-separated values. */
#include "say/csv.h"

#include <math.h>
#include <string.h>

/* Spreadsheets run a cell that starts with one of these as a formula. */
static bool starts_formula(const char *text)
{
    return text[0] != '\0' && strchr("=+-@\t\r", text[0]) != NULL;
}

void er_csv_text(struct er_text *out, const char *text)
{
    struct er_text visible;
    er_text_init(&visible);
    if (starts_formula(text)) {
        er_text_append(&visible, "'");
    }
    er_text_append_visible(&visible, text);
    out->out_of_memory = out->out_of_memory || visible.out_of_memory;

    const char *at = er_text_string(&visible);
    bool quoted =
        strpbrk(at, ",\"") != NULL || at[0] == ' ' || (at[0] != '\0' && at[strlen(at) - 1] == ' ');
    er_text_append(out, quoted ? "\"" : "");
    for (; *at != '\0'; at++) {
        er_text_append(out, *at == '"' ? "\"" : "");
        er_text_append_bytes(out, at, 1);
    }
    er_text_append(out, quoted ? "\"" : "");
    er_text_release(&visible);
}

void er_csv_number(struct er_text *out, double number)
{
    if (isfinite(number)) {
        er_text_appendf(out, "%.12g", number);
    }
}

void er_csv_unit(struct er_text *out, const char *unit)
{
    for (; *unit != '\0'; unit++) {
        if (*unit == '/') {
            er_text_append(out, "_per_");
        } else {
            er_text_append_bytes(out, *unit == ' ' ? "_" : unit, 1);
        }
    }
}
