/* Results as JSON and CSV, from one description of each struct. */
#include "say/record.h"

#include <string.h>

#include "say/csv.h"

static double double_at(const void *at)
{
    double value;
    memcpy(&value, at, sizeof value);
    return value;
}

static size_t count_at(const void *at)
{
    size_t count;
    memcpy(&count, at, sizeof count);
    return count;
}

/* The number of a member that is one. */
static double number_of(const struct er_teller *teller, const struct er_member *member,
                        const char *at)
{
    switch (member->kind) {
    case ER_IS_QUANTITY:
        return er_from_si(member->quantity, teller->json.system, double_at(at));
    case ER_IS_PERCENT:
        return 100.0 * double_at(at);
    case ER_IS_NUMBER:
        return double_at(at);
    case ER_IS_PLACE:
        return (double)count_at(at) + 1.0;
    default:
        return (double)count_at(at);
    }
}

static const char *text_at(const void *at)
{
    const char *text;
    memcpy(&text, at, sizeof text);
    return text;
}

static bool holds(const struct er_member *member, const char *at)
{
    return *(const bool *)(const void *)at == (member->kind == ER_IS_TRUE);
}

static void tell(struct er_teller *teller, cJSON *object, const struct er_member *member,
                 const char *at)
{
    struct er_json *json = &teller->json;
    switch (member->kind) {
    case ER_IS_TRUE:
    case ER_IS_FALSE:
        er_json_bool(json, object, member->key, holds(member, at));
        break;
    case ER_IS_RECORD:
        (void)er_tell_record(teller, object, member->key, member->members, at);
        break;
    case ER_IS_MADE:
        member->make(teller, object, member->key, at);
        break;
    case ER_IS_WORDS:
        er_json_text(json, object, member->key, member->words(teller, at));
        break;
    case ER_IS_TEXT:
        er_json_text(json, object, member->key, text_at(at));
        break;
    case ER_IS_QUANTITY:
    case ER_IS_PERCENT:
    case ER_IS_NUMBER:
    case ER_IS_COUNT:
    case ER_IS_PLACE:
        er_json_number(json, object, member->key, number_of(teller, member, at));
        break;
    }
}

cJSON *er_tell_record(struct er_teller *teller, cJSON *parent, const char *key,
                      const struct er_member *members, const void *base)
{
    if (base == NULL) {
        er_json_null(&teller->json, parent, key);
        return NULL;
    }
    cJSON *object = er_json_object(&teller->json, parent, key);
    for (const struct er_member *member = members; member->key != NULL; member++) {
        tell(teller, object, member, (const char *)base + member->offset);
    }
    return object;
}

void er_tell_list(struct er_teller *teller, cJSON *parent, const char *key,
                  const struct er_member *members, const void *base, size_t count, size_t size)
{
    cJSON *array = er_json_array(&teller->json, parent, key);
    for (size_t i = 0; i < count; i++) {
        (void)er_tell_record(teller, array, NULL, members, (const char *)base + i * size);
    }
}

static void tell_cell(struct er_teller *teller, const struct er_member *column, bool first,
                      const char *at, struct er_text *out)
{
    if (column->kind == ER_IS_WORDS || column->kind == ER_IS_TEXT) {
        const char *words = column->kind == ER_IS_TEXT ? text_at(at) : column->words(teller, at);
        er_csv_text(out, first, words != NULL ? words : "");
    } else if (column->kind == ER_IS_TRUE || column->kind == ER_IS_FALSE) {
        er_csv_text(out, first, holds(column, at) ? "yes" : "no");
    } else {
        er_csv_number(out, first, number_of(teller, column, at));
    }
}

void er_tell_csv(struct er_teller *teller, const struct er_member *columns, const void *base,
                 size_t count, size_t size, struct er_text *out)
{
    for (const struct er_member *c = columns; c->key != NULL; c++) {
        er_text_appendf(out, c == columns ? "%s" : ",%s", c->key);
        if (c->kind == ER_IS_QUANTITY) {
            er_text_append(out, "_");
            er_csv_unit(out, er_unit_name(c->quantity, teller->json.system));
        }
    }
    er_text_append(out, "\n");
    for (size_t i = 0; i < count; i++) {
        const char *row = (const char *)base + i * size;
        for (const struct er_member *c = columns; c->key != NULL; c++) {
            tell_cell(teller, c, c == columns, row + c->offset, out);
        }
        er_text_append(out, "\n");
    }
}

enum er_status er_teller_end_json(struct er_teller *teller, cJSON *root, struct er_text *out)
{
    teller->json.failed = teller->json.failed || teller->pen.out_of_memory;
    er_pen_release(&teller->pen);
    return er_json_end(&teller->json, root, out);
}

enum er_status er_teller_end_csv(struct er_teller *teller, const struct er_text *out)
{
    bool failed = out->out_of_memory || teller->pen.out_of_memory;
    er_pen_release(&teller->pen);
    return failed ? ER_NO_MEMORY : ER_OK;
}
