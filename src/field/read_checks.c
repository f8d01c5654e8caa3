/* What an object may not hold: unknown keys, and keys that do not go together. */
#include <string.h>

#include "base/nearest.h"
#include "base/text.h"
#include "field/reader.h"

/* So many keys are listed where none is near to an unknown one. */
#define MOST_KEYS_LISTED 14

/* What an unknown key may have been meant to be: a search, and the list of all keys. */
struct known_keys {
    struct er_nearest nearest;
    struct er_text list;
    size_t count;
};

static void offer_key(const struct er_key *key, void *context)
{
    struct known_keys *known = context;
    er_nearest_offer(&known->nearest, key->name);
    er_text_appendf(&known->list, "%s\"%s\"", known->count > 0 ? ", " : "", key->name);
    known->count++;
}

static const char *stray_text(const struct er_object *object, const char *name)
{
    const struct er_stray_key *stray = object->stray;
    for (; stray != NULL && stray->name != NULL; stray++) {
        if (strcmp(stray->name, name) == 0) {
            return stray->say;
        }
    }
    return NULL;
}

static void tell_unknown_key(struct er_reader *reader, const struct er_place *place,
                             const struct er_object *object)
{
    struct known_keys known = {.count = 0};
    er_nearest_begin(&known.nearest, place->key);
    er_text_init(&known.list);
    er_object_each_key(object, offer_key, &known);
    const char *quoted = er_reader_quote(reader, place->key);
    const char *stray = stray_text(object, place->key);
    if (stray != NULL) {
        er_reader_problem(reader, place, ER_AT_KEY, "unknown key %s in %s; %s", quoted,
                          object->name, stray);
    } else if (known.nearest.best != NULL) {
        er_reader_problem(reader, place, ER_AT_KEY, "unknown key %s in %s; did you mean \"%s\"?",
                          quoted, object->name, known.nearest.best);
    } else if (known.count <= MOST_KEYS_LISTED) {
        er_reader_problem(reader, place, ER_AT_KEY, "unknown key %s in %s; its keys are %s", quoted,
                          object->name, er_text_string(&known.list));
    } else {
        er_reader_problem(reader, place, ER_AT_KEY,
                          "unknown key %s in %s; \"evenrow schema\" lists its keys", quoted,
                          object->name);
    }
    reader->out_of_memory = reader->out_of_memory || known.list.out_of_memory;
    er_text_release(&known.list);
}

void er_find_unknown_keys(struct er_reader *reader, const struct er_place *place,
                          const struct er_object *object)
{
    const cJSON *member = NULL;
    cJSON_ArrayForEach(member, place->node)
    {
        const bool for_editors = object == &er_field_object && er_is_schema_key(member);
        if (er_is_note(member) || for_editors || er_object_key(object, member->string) != NULL) {
            continue;
        }
        const struct er_place at = {.parent = place, .key = member->string, .node = member};
        if (er_notices_room(&reader->notices)) {
            tell_unknown_key(reader, &at, object);
        } else {
            reader->notices.count++;
        }
    }
}

/* The keys of a rule as a sentence has them: "a", "b" and "c". */
static const char *rule_keys(struct er_reader *reader, const struct er_rule *rule, const char *link)
{
    struct er_text list;
    er_text_init(&list);
    for (size_t i = 0; rule->keys[i] != NULL; i++) {
        const char *before = rule->keys[i + 1] == NULL ? link : ", ";
        er_text_appendf(&list, "%s\"%s\"", i == 0 ? "" : before, rule->keys[i]);
    }
    const char *text =
        list.out_of_memory ? NULL : er_arena_text(&reader->notices.arena, er_text_string(&list));
    er_text_release(&list);
    reader->out_of_memory = reader->out_of_memory || text == NULL;
    return text == NULL ? "" : text;
}

static void tell_broken_rule(struct er_reader *reader, const struct er_place *place,
                             const struct er_object *object, const struct er_rule *rule,
                             size_t given, const char *last)
{
    const struct er_place at = last == NULL ? *place : er_place_key(place, last);
    const char *more = rule->why == NULL ? "" : "; ";
    const char *why = rule->why == NULL ? "" : rule->why;
    switch (rule->kind) {
    case ER_EXACTLY_ONE:
    case ER_AT_LEAST_ONE:
        if (given == 0) {
            er_reader_problem(reader, place, ER_AT_VALUE, "%s needs %s%s%s", object->name,
                              rule_keys(reader, rule, " or "), more, why);
            break;
        }
        er_reader_problem(reader, &at, ER_AT_KEY, "%s has just one of %s%s%s", object->name,
                          rule_keys(reader, rule, " and "), more, why);
        break;
    case ER_AT_MOST_ONE:
        er_reader_problem(reader, &at, ER_AT_KEY, "%s has one of %s at most%s%s", object->name,
                          rule_keys(reader, rule, " and "), more, why);
        break;
    case ER_NEEDS:
        er_reader_problem(reader, &at, ER_AT_KEY, "\"%s\" needs \"%s\" beside it%s%s",
                          rule->keys[0], rule->keys[1], more, why);
        break;
    case ER_ONLY_WITH:
        er_reader_problem(reader, &at, ER_AT_KEY, "\"%s\" is only for \"%s\": \"%s\"%s%s",
                          rule->keys[0], rule->keys[1], rule->word, more, why);
        break;
    }
}

/* Whether the choice `name` is left out, or is a word other than `word`. What is no word of it
 * at all has been told already. */
static bool is_other_word(const struct er_place *place, const struct er_object *object,
                          const char *name, const char *word)
{
    const cJSON *node = cJSON_GetObjectItemCaseSensitive(place->node, name);
    if (node == NULL) {
        return true;
    }
    if (!cJSON_IsString(node) || strcmp(node->valuestring, word) == 0) {
        return false;
    }
    const char *const *known = er_object_key(object, name)->words;
    while (*known != NULL && strcmp(*known, node->valuestring) != 0) {
        known++;
    }
    return *known != NULL;
}

/* How many of the rule's keys are given; the last of them in the order of the file. */
static size_t count_given(const struct er_place *place, const struct er_rule *rule,
                          const char **last)
{
    size_t given = 0;
    const cJSON *member = NULL;
    cJSON_ArrayForEach(member, place->node)
    {
        for (size_t i = 0; rule->keys[i] != NULL; i++) {
            if (strcmp(rule->keys[i], member->string) == 0) {
                given++;
                *last = rule->keys[i];
            }
        }
    }
    return given;
}

static void check_rule(struct er_reader *reader, const struct er_place *place,
                       const struct er_object *object, const struct er_rule *rule)
{
    const char *last = NULL;
    const size_t given = count_given(place, rule, &last);
    const bool first = er_place_has(place, rule->keys[0]);
    bool broken = false;
    switch (rule->kind) {
    case ER_EXACTLY_ONE:
        broken = given != 1;
        break;
    case ER_AT_LEAST_ONE:
        broken = given == 0;
        break;
    case ER_AT_MOST_ONE:
        broken = given > 1;
        break;
    case ER_NEEDS:
        broken = first && !er_place_has(place, rule->keys[1]);
        break;
    case ER_ONLY_WITH:
        broken = first && is_other_word(place, object, rule->keys[1], rule->word);
        last = rule->keys[0];
        break;
    }
    if (broken) {
        tell_broken_rule(reader, place, object, rule, given, last);
    }
}

void er_check_rules(struct er_reader *reader, const struct er_place *place,
                    const struct er_object *object)
{
    for (const struct er_object *at = object; at != NULL; at = at->base) {
        for (size_t i = 0; i < at->rule_count; i++) {
            check_rule(reader, place, object, &at->rules[i]);
        }
    }
}
