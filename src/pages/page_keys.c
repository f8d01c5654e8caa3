/* The keys of the field file and of a file of readings, object by object, and the quantities, for
 * evenrow-field(5). */
#include <math.h>
#include <string.h>

#include "evenrow/arena.h"
#include "field/keys.h"
#include "pages/pages.h"

/* The objects of a file, each once, in the order in which they are first met. */
struct walk {
    struct er_text *out;
    struct er_arena arena;
    struct node *first, **end;
};

struct node {
    const struct er_object *object;
    struct node *next;
};

static void meet(struct walk *walk, const struct er_object *object)
{
    if (object == NULL) {
        return;
    }
    meet(walk, object->base);
    for (const struct node *node = walk->first; node != NULL; node = node->next) {
        if (node->object == object) {
            return;
        }
    }
    struct node *node = er_arena_array(&walk->arena, 1, sizeof *node);
    if (node == NULL) {
        walk->out->out_of_memory = true;
        return;
    }
    *node = (struct node){object, NULL};
    *walk->end = node;
    walk->end = &node->next;
}

static void meet_behind(const struct er_key *key, void *context)
{
    meet(context, key->kind == ER_KEY_PIPE ? &er_pipe_object : key->object);
}

static void append_words(struct er_text *out, const struct er_key *key)
{
    for (const char *const *word = key->words; *word != NULL; word++) {
        er_roff_append(out, word == key->words ? "" : word[1] == NULL ? " or " : ", ");
        er_text_append(out, "\\(dq");
        er_roff_append_in(out, 'B', *word);
        er_text_append(out, "\\(dq");
    }
}

static void append_quantity(struct er_text *out, enum er_quantity quantity)
{
    er_roff_append_in(out, 'I',
                      quantity == ER_QUANTITY_COUNT ? "number" : er_quantity_name(quantity));
}

static void append_named(struct er_text *out, const char *what, const struct er_object *object)
{
    er_roff_append(out, what);
    er_roff_append_in(out, 'I', object->name);
}

/* What stands behind the key, where that is neither a number nor a text. */
static void append_compound(struct er_text *out, const struct er_key *key)
{
    switch (key->kind) {
    case ER_KEY_LIST:
        append_named(out, "a list, each item ", key->object);
        break;
    case ER_KEY_MAP:
        append_named(out, "an object, behind each name ", key->object);
        break;
    case ER_KEY_POINTS:
        er_text_append(out, "a list of pairs [");
        append_quantity(out, key->quantity);
        er_text_append(out, ", ");
        append_quantity(out, key->second_quantity);
        er_text_append(out, "]");
        break;
    case ER_KEY_PIPE:
        append_named(out, "the name of a pipe, or ", &er_pipe_object);
        break;
    case ER_KEY_SOIL:
        append_named(out, "the name of a soil, or ", key->object);
        break;
    case ER_KEY_SETS:
        er_roff_append(out, "a list of lists of zones' names");
        break;
    case ER_KEY_POINTERS:
        er_roff_append(out, "a list of JSON Pointers");
        break;
    case ER_KEY_FIGURES:
        er_text_appendf(out, "a list of %zu, each a ", key->least);
        append_quantity(out, key->quantity);
        break;
    default:
        append_named(out, "", key->object);
        break;
    }
}

static void append_kind(struct er_text *out, const struct er_key *key)
{
    switch (key->kind) {
    case ER_KEY_QUANTITY:
        append_quantity(out, key->quantity);
        break;
    case ER_KEY_NUMBER:
        append_quantity(out, ER_QUANTITY_COUNT);
        break;
    case ER_KEY_PERCENT:
        er_roff_append(out, "a number of percent");
        break;
    case ER_KEY_COUNT:
        er_roff_append(out, "a whole number");
        break;
    case ER_KEY_TEXT:
        er_roff_append(out, "a text");
        break;
    case ER_KEY_CHOICE:
        append_words(out, key);
        break;
    case ER_KEY_CHOICE_OR_QUANTITY:
        append_words(out, key);
        er_roff_append(out, ", or a ");
        append_quantity(out, key->quantity);
        break;
    case ER_KEY_TAPE:
        er_roff_append(out, "the name of a tape");
        break;
    case ER_KEY_SECTION:
        er_roff_append(out, "the name of a mainline section, or \"headworks\"");
        break;
    case ER_KEY_DATE:
        er_roff_append(out, "a day, as \"2026-05-01\"");
        break;
    default:
        append_compound(out, key);
        break;
    }
}

/* An end of the range as a bare number, or NAN where that differs with the system of units, or
 * there is none. */
static double plain_end(const struct er_key *key, double end)
{
    if (isinf(end) || key->kind != ER_KEY_QUANTITY) {
        return isinf(end) ? (double)NAN : end;
    }
    double us = er_from_si(key->quantity, ER_US, end);
    return us < er_from_si(key->quantity, ER_METRIC, end) ||
                   us > er_from_si(key->quantity, ER_METRIC, end)
               ? (double)NAN
               : us;
}

static void append_range(struct er_text *out, const struct er_key *key)
{
    if (key->kind != ER_KEY_QUANTITY && key->kind != ER_KEY_NUMBER && key->kind != ER_KEY_PERCENT &&
        key->kind != ER_KEY_COUNT) {
        return;
    }
    double low = plain_end(key, key->range.low), high = plain_end(key, key->range.high);
    if (!isnan(low)) {
        er_text_appendf(out, key->range.low_open ? ", above %.6g" : ", at least %.6g", low);
    }
    if (!isnan(high)) {
        er_text_appendf(out, key->range.high_open ? ", below %.6g" : ", at most %.6g", high);
    }
}

static void append_default(struct er_text *out, const struct er_key *key)
{
    if (key->presence != ER_DEFAULTED) {
        return;
    }
    if (key->words != NULL) {
        er_text_appendf(out, "; default \\(dq%s\\(dq", key->words[0]);
        return;
    }
    er_text_appendf(out, "; default %.6g", key->fallback[ER_US]);
    if (key->kind == ER_KEY_QUANTITY) {
        er_text_append(out, " ");
        er_roff_append(out, er_unit_name(key->quantity, ER_US));
        er_text_appendf(out, ", metric %.6g ", key->fallback[ER_METRIC]);
        er_roff_append(out, er_unit_name(key->quantity, ER_METRIC));
    }
}

/* Appends `text` with its first letter made large. */
static void append_large(struct er_text *out, const char *text)
{
    static const char lower[] = "abcdefghijklmnopqrstuvwxyz";
    const char *letter = strchr(lower, text[0]);
    if (letter != NULL && text[0] != '\0') {
        er_text_append_bytes(out, &"ABCDEFGHIJKLMNOPQRSTUVWXYZ"[letter - lower], 1);
        text++;
    }
    er_roff_append(out, text);
}

static void append_key(struct er_text *out, const struct er_object *object,
                       const struct er_key *key)
{
    er_text_append(out, ".TP\n");
    er_roff_append_in(out, 'B', key->name);
    er_text_append(out, "\n");
    append_large(out, key->about);
    er_text_append(out, ".\n.br\n[");
    append_kind(out, key);
    append_range(out, key);
    er_text_append(out, er_object_requires(object, key) ? "; required" : "");
    append_default(out, key);
    er_text_append(out, "]\n");
}

static void append_keys_of_rule(struct er_text *out, const struct er_rule *rule)
{
    for (size_t i = 0; rule->keys[i] != NULL; i++) {
        er_roff_append(out, i == 0 ? "" : rule->keys[i + 1] == NULL ? " and " : ", ");
        er_roff_append_in(out, 'B', rule->keys[i]);
    }
}

static void append_rule(struct er_text *out, const struct er_rule *rule)
{
    static const char *const of_these[] = {
        [ER_EXACTLY_ONE] = "Exactly one of ",
        [ER_AT_LEAST_ONE] = "At least one of ",
        [ER_AT_MOST_ONE] = "At most one of ",
    };
    er_text_append(out, ".PP\n");
    if (rule->kind == ER_NEEDS || rule->kind == ER_ONLY_WITH) {
        er_roff_append_in(out, 'B', rule->keys[0]);
        er_roff_append(out, rule->kind == ER_NEEDS ? " needs " : " goes only with ");
        er_roff_append_in(out, 'B', rule->keys[1]);
        if (rule->kind == ER_ONLY_WITH) {
            er_text_appendf(out, " \\(dq%s\\(dq", rule->word);
        }
    } else {
        er_roff_append(out, of_these[rule->kind]);
        append_keys_of_rule(out, rule);
    }
    if (rule->why != NULL) {
        er_roff_append(out, ": ");
        er_roff_append(out, rule->why);
    }
    er_text_append(out, ".\n");
}

static void append_base(struct er_text *out, const struct er_object *object)
{
    er_text_append(out, ".PP\nIt has the keys of ");
    er_roff_append_in(out, 'I', object->base->name);
    er_text_append(out, object->key_count > 0 ? ", and those below" : "");
    for (const char *const *name = object->also_required; name != NULL && *name != NULL; name++) {
        er_roff_append(out, "; here ");
        er_roff_append_in(out, 'B', *name);
        er_roff_append(out, " is required");
    }
    er_text_append(out, ".\n");
}

static void append_object(struct er_text *out, const struct er_object *object)
{
    er_text_append(out, ".SS ");
    append_large(out, object->name);
    er_text_append(out, "\n");
    append_large(out, object->about);
    er_text_append(out, ".\n");
    if (object->base != NULL) {
        append_base(out, object);
    }
    for (size_t i = 0; i < object->key_count; i++) {
        append_key(out, object, &object->keys[i]);
    }
    for (size_t i = 0; i < object->rule_count; i++) {
        append_rule(out, &object->rules[i]);
    }
}

static void append_objects(struct er_text *out, const struct er_object *whole)
{
    struct walk walk = {.out = out};
    walk.end = &walk.first;
    meet(&walk, whole);
    for (const struct node *node = walk.first; node != NULL; node = node->next) {
        append_object(out, node->object);
        er_object_each_key(node->object, meet_behind, &walk);
    }
    er_arena_release(&walk.arena);
}

void er_check_page_keys(struct er_text *out) { append_objects(out, &er_field_object); }

void er_check_page_readings(struct er_text *out) { append_objects(out, &er_measured_object); }

void er_check_page_quantities(struct er_text *out)
{
    for (int i = 0; i < ER_QUANTITY_COUNT; i++) {
        enum er_quantity quantity = (enum er_quantity)i;
        const char *us = er_unit_name(quantity, ER_US);
        const char *metric = er_unit_name(quantity, ER_METRIC);
        er_text_append(out, ".TP\n");
        er_roff_append_in(out, 'I', er_quantity_name(quantity));
        er_text_append(out, "\n");
        er_roff_append(out, us);
        if (strcmp(us, metric) != 0) {
            er_roff_append(out, "; metric ");
            er_roff_append(out, metric);
        }
        er_roff_append(out, ".\nUnderstood: ");
        er_roff_append(out, er_unit_names(quantity));
        er_text_append(out, ".\n");
    }
}
