/* Results as JSON and CSV, from one description of each struct. */
#include "say/record.h"

#include "say/csv.h"

double er_member_number(const struct er_member *member, enum er_system system, const void *at)
{
    switch (member->kind) {
    case ER_IS_QUANTITY:
        return er_from_si(member->quantity, system, *(const double *)at);
    case ER_IS_PERCENT:
        return 100.0 * *(const double *)at;
    case ER_IS_NUMBER:
        return *(const double *)at;
    case ER_IS_PLACE:
        return (double)*(const size_t *)at + 1.0;
    case ER_IS_COUNT:
        return (double)*(const size_t *)at;
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

/* Of a member that is words, or a text. NULL: there is none. */
static const char *words_of(struct er_teller *teller, const struct er_member *member,
                            const void *at)
{
    return member->kind == ER_IS_WORDS ? member->words(teller, at) : *(const char *const *)at;
}

static bool holds(const struct er_member *member, const void *at)
{
    return *(const bool *)at == (member->kind == ER_IS_TRUE);
}

static void tell(struct er_teller *teller, cJSON *object, const struct er_member *member,
                 const void *at)
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
    case ER_IS_TEXT:
        er_json_text(json, object, member->key, words_of(teller, member, at));
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
    for (size_t i = 0; base != NULL && i < count; i++) {
        (void)er_tell_record(teller, array, NULL, members, (const char *)base + i * size);
    }
}

/* ---- CSV: a comma behind each cell, of which a line's last one becomes its end ---- */

/* Heads: a key, the keys above it before it, its unit behind it. */
static void tell_heads(struct er_teller *teller, const struct er_member *columns, const char *above,
                       struct er_text *out)
{
    for (const struct er_member *c = columns; c->key != NULL; c++) {
        if (c->kind == ER_IS_RECORD) {
            const char *parting = c->key[0] != '\0' ? "_" : "";
            tell_heads(teller, c->members,
                       er_pen_text(&teller->pen, "%s%s%s", above, c->key, parting), out);
            continue;
        }
        const char *unit = er_member_unit(c, teller->json.system);
        er_text_appendf(out, "%s%s%s", above, c->key, unit != NULL ? "_" : "");
        er_csv_unit(out, unit != NULL ? unit : "");
        er_text_append(out, ",");
    }
}

static void tell_cell(struct er_teller *teller, const struct er_member *column, const void *at,
                      struct er_text *out)
{
    const char *words;
    switch (column->kind) {
    case ER_IS_WORDS:
    case ER_IS_TEXT:
        words = words_of(teller, column, at);
        er_csv_text(out, words != NULL ? words : "");
        break;
    case ER_IS_TRUE:
    case ER_IS_FALSE:
        er_csv_text(out, holds(column, at) ? "yes" : "no");
        break;
    default:
        er_csv_number(out, er_member_number(column, teller->json.system, at));
    }
    er_text_append(out, ",");
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

static void end_line(struct er_text *out)
{
    if (!out->out_of_memory) {
        out->data[out->length - 1] = '\n';
    }
}

void er_tell_csv(struct er_teller *teller, const struct er_member *columns, const void *base,
                 size_t count, size_t size, struct er_text *out)
{
    tell_heads(teller, columns, "", out);
    end_line(out);
    for (size_t i = 0; base != NULL && i < count; i++) {
        tell_cells(teller, columns, (const char *)base + i * size, out);
        end_line(out);
    }
}
