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

double er_member_number(const struct er_member *member, enum er_system system, const void *at)
{
    switch (member->kind) {
    case ER_IS_QUANTITY:
        return er_from_si(member->quantity, system, double_at(at));
    case ER_IS_PERCENT:
        return 100.0 * double_at(at);
    case ER_IS_NUMBER:
        return double_at(at);
    case ER_IS_PLACE:
        return (double)count_at(at) + 1.0;
    case ER_IS_COUNT:
        return (double)count_at(at);
    default:
        return ER_NONE;
    }
}

const char *er_member_unit(const struct er_member *member, enum er_system system)
{
    return member->kind == ER_IS_QUANTITY  ? er_unit_name(member->quantity, system)
           : member->kind == ER_IS_PERCENT ? "percent"
                                           : NULL;
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
        if (member->key[0] == '\0') {
            er_tell_members(teller, object, member->members, at);
        } else {
            (void)er_tell_record(teller, object, member->key, member->members, at);
        }
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
        er_json_number(json, object, member->key, er_member_number(member, json->system, at));
        break;
    }
}

void er_tell_members(struct er_teller *teller, cJSON *object, const struct er_member *members,
                     const void *base)
{
    for (const struct er_member *member = members; member->key != NULL; member++) {
        tell(teller, object, member, (const char *)base + member->offset);
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
    er_tell_members(teller, object, members, base);
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

/* ---- CSV ---- */

/* Heads: a key, the keys above it before it, its unit behind it. */
static void tell_heads(struct er_teller *teller, const struct er_member *columns, const char *above,
                       struct er_text *out)
{
    for (const struct er_member *c = columns; c->key != NULL; c++) {
        if (c->kind == ER_IS_RECORD) {
            tell_heads(
                teller, c->members,
                er_pen_text(&teller->pen, "%s%s%s", above, c->key, c->key[0] != '\0' ? "_" : ""),
                out);
            continue;
        }
        const char *unit = er_member_unit(c, teller->json.system);
        er_text_appendf(out, ",%s%s%s", above, c->key, unit != NULL ? "_" : "");
        er_csv_unit(out, unit != NULL ? unit : "");
    }
}

static void tell_cell(struct er_teller *teller, const struct er_member *column, const char *at,
                      struct er_text *out)
{
    switch (column->kind) {
    case ER_IS_WORDS:
    case ER_IS_TEXT: {
        const char *words = column->kind == ER_IS_TEXT ? text_at(at) : column->words(teller, at);
        er_csv_text(out, false, words != NULL ? words : "");
        break;
    }
    case ER_IS_TRUE:
    case ER_IS_FALSE:
        er_csv_text(out, false, holds(column, at) ? "yes" : "no");
        break;
    default:
        er_csv_number(out, false, er_member_number(column, teller->json.system, at));
    }
}

static void tell_cells(struct er_teller *teller, const struct er_member *columns, const char *row,
                       struct er_text *out)
{
    for (const struct er_member *c = columns; c->key != NULL; c++) {
        if (c->kind == ER_IS_RECORD) {
            tell_cells(teller, c->members, row + c->offset, out);
        } else {
            tell_cell(teller, c, row + c->offset, out);
        }
    }
}

/* A line made by one of these, without the comma that it begins with. */
static void take_line(struct er_text *line, struct er_text *out)
{
    er_text_append(out, er_text_string(line) + (line->length > 0 ? 1 : 0));
    er_text_append(out, "\n");
    out->out_of_memory = out->out_of_memory || line->out_of_memory;
    er_text_clear(line);
}

void er_tell_csv(struct er_teller *teller, const struct er_member *columns, const void *base,
                 size_t count, size_t size, struct er_text *out)
{
    struct er_text line;
    er_text_init(&line);
    tell_heads(teller, columns, "", &line);
    take_line(&line, out);
    for (size_t i = 0; i < count; i++) {
        tell_cells(teller, columns, (const char *)base + i * size, &line);
        take_line(&line, out);
    }
    er_text_release(&line);
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
