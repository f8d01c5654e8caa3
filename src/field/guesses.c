/* Guesses: where their pointers lead, by the key tables, and what becomes of them. */
#include "field/guesses.h"

#include <stdint.h>
#include <string.h>

#include "base/nearest.h"
#include "field/entries.h"
#include "field/reader.h"
#include "json/change.h"
#include "json/pointer.h"
#include "json/write.h"

#define MEMBER "guessed"

/* Where a pointer has led so far. */
struct aim {
    const struct er_object *object; /* whose key comes next; NULL: inside a value */
    const struct er_key *key;       /* the last one; NULL: none yet */
    const cJSON *node;              /* NULL: the file does not have it */
    size_t index;                   /* the last place in a list */
};

struct key_search {
    const struct er_pointer_step *step;
    const struct er_key *found;
};

static void match_key(const struct er_key *key, void *context)
{
    struct key_search *search = context;
    if (er_pointer_is_key(search->step, key->name)) {
        search->found = key;
    }
}

/* One step on; false: there is no way. */
static bool step_on(struct aim *aim, const struct er_pointer_step *step)
{
    if (aim->object != NULL) {
        struct key_search search = {.step = step};
        er_object_each_key(aim->object, match_key, &search);
        if (search.found == NULL) {
            return false;
        }
        aim->key = search.found;
        aim->node = er_pointer_child(aim->node, step);
        const bool is_object =
            aim->key->kind == ER_KEY_OBJECT || aim->key->kind == ER_KEY_NEW_OBJECT;
        const bool in_place = cJSON_IsObject(aim->node);
        aim->object = is_object || (in_place && aim->key->kind == ER_KEY_SOIL) ? aim->key->object
                      : in_place && aim->key->kind == ER_KEY_PIPE              ? &er_pipe_object
                                                                               : NULL;
        return aim->key->kind != ER_KEY_POINTERS;
    }
    aim->node = er_pointer_child(aim->node, step);
    if (aim->node == NULL || er_pointer_is_key(step, "note")) {
        return false;
    }
    const bool has_items = aim->key->kind == ER_KEY_LIST || aim->key->kind == ER_KEY_MAP;
    aim->object = has_items ? aim->key->object : NULL;
    er_pointer_is_index(step, &aim->index);
    return true;
}

/* Whether the key, left out, has a value all the same. */
static bool has_default(const struct aim *aim)
{
    return aim->node == NULL && aim->key != NULL &&
           (aim->key->presence == ER_DEFAULTED || aim->key->assumed != NULL);
}

/* Follows a pointer to a value or a default. False: `aim` is where it broke off, *step why. */
static bool follow(const cJSON *root, const char *pointer, struct aim *aim,
                   struct er_pointer_step *step)
{
    *aim = (struct aim){.object = &er_field_object, .node = root};
    while (er_pointer_next(&pointer, step)) {
        const struct aim before = *aim;
        if (!step_on(aim, step)) {
            *aim = before;
            return false;
        }
    }
    return aim->key != NULL && (aim->node != NULL || has_default(aim));
}

bool er_guess_leads(const cJSON *root, const char *pointer)
{
    struct aim aim;
    struct er_pointer_step step;
    return er_pointer_fault(pointer) == NULL && follow(root, pointer, &aim, &step);
}

/* ---- read ---- */

static void offer_key(const struct er_key *key, void *context)
{
    er_nearest_offer(context, key->name);
}

/* Takes down that a pointer leads nowhere, and what is near. */
static void tell_nowhere(struct er_reader *reader, const struct er_place *place,
                         const char *pointer, const struct aim *aim,
                         const struct er_pointer_step *step)
{
    struct er_nearest nearest;
    struct er_text wanted;
    er_text_init(&wanted);
    if (step->start != NULL) {
        er_pointer_decode(step, &wanted);
    }
    er_nearest_begin(&nearest, er_text_string(&wanted));
    if (aim->object != NULL) {
        er_object_each_key(aim->object, offer_key, &nearest);
    } else if (cJSON_IsObject(aim->node)) {
        const cJSON *member = NULL;
        cJSON_ArrayForEach(member, aim->node) { er_nearest_offer(&nearest, member->string); }
    }
    const char *quoted = er_reader_quote(reader, pointer);
    if (nearest.best != NULL && strcmp(nearest.best, er_text_string(&wanted)) != 0) {
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "%s leads to no figure of this file, nor to a default; did you mean "
                          "\"%s\"?",
                          quoted, nearest.best);
    } else {
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "%s leads to no figure of this file, nor to a default: take it out of "
                          "the guesses, or point at a key that is there",
                          quoted);
    }
    reader->out_of_memory = reader->out_of_memory || wanted.out_of_memory;
    er_text_release(&wanted);
}

static double value_there(struct er_reader *reader, const struct aim *aim,
                          enum er_quantity quantity)
{
    const struct er_place place = {.node = aim->node};
    const struct er_key *key = aim->key;
    const bool is_word = key->kind == ER_KEY_CHOICE_OR_QUANTITY && !cJSON_IsNumber(aim->node);
    if (aim->node == NULL) {
        if (key->presence != ER_DEFAULTED || is_word || key->kind == ER_KEY_CHOICE) {
            return (double)NAN;
        }
        const double value = key->fallback[reader->system];
        return quantity == ER_QUANTITY_COUNT ? value : er_to_si(quantity, reader->system, value);
    }
    if (cJSON_IsArray(aim->node) || cJSON_IsObject(aim->node) || is_word) {
        return (double)NAN;
    }
    if (quantity != ER_QUANTITY_COUNT) {
        static const struct er_key_range any_number = ER_ANY_NUMBER;
        return er_quantity_at(reader, &place, quantity, &any_number);
    }
    return cJSON_IsNumber(aim->node) ? aim->node->valuedouble : (double)NAN;
}

/* The file's own tape or pipe that a guess is about; NULL: none. */
static const void *owner_of(const struct er_reader *reader, const char *pointer)
{
    struct er_pointer_step map, name;
    if (!er_pointer_next(&pointer, &map) || !er_pointer_next(&pointer, &name)) {
        return NULL;
    }
    const struct er_field_entry *whole = reader->field;
    for (size_t i = 0; er_pointer_is_key(&map, "tapes") && i < whole->tape_count; i++) {
        if (er_pointer_is_key(&name, whole->tapes[i].name)) {
            return &whole->tapes[i];
        }
    }
    for (size_t i = 0; er_pointer_is_key(&map, "pipes") && i < whole->pipe_count; i++) {
        if (er_pointer_is_key(&name, whole->pipes[i].name)) {
            return &whole->pipes[i];
        }
    }
    return NULL;
}

/* The guess as it will be told. Where something is wrong already its value does not matter. */
static struct er_assumption make_guess(struct er_reader *reader, const char *pointer,
                                       const struct aim *aim)
{
    const struct er_key *key = aim->key;
    enum er_quantity quantity = ER_QUANTITY_COUNT;
    if (aim->object == NULL &&
        (key->kind == ER_KEY_QUANTITY || key->kind == ER_KEY_CHOICE_OR_QUANTITY ||
         key->kind == ER_KEY_POINTS || key->kind == ER_KEY_FIGURES)) {
        quantity =
            key->kind == ER_KEY_POINTS && aim->index == 1 ? key->second_quantity : key->quantity;
    }
    const char *text = er_arena_format(&reader->arena, "a guess: %s", key->about);
    reader->out_of_memory = reader->out_of_memory || text == NULL;
    const bool plain = quantity == ER_QUANTITY_COUNT;
    return (struct er_assumption){
        .pointer = er_reader_text(reader, pointer),
        .value = reader->notices.count > 0 ? (double)NAN : value_there(reader, aim, quantity),
        .quantity = quantity,
        .unit = plain ? (key->kind == ER_KEY_PERCENT ? "percent" : "") : NULL,
        .text = text,
        .of = reader->notices.count > 0 ? NULL : owner_of(reader, pointer)};
}

/* Reads one entry; false with a problem taken down. */
static bool read_guess(struct er_reader *reader, const struct er_place *list,
                       const struct er_place *at, struct er_assumption *guess)
{
    /* Overrides take entries out, and then the others no longer stand where they stand in the
     * text: the list is told in their place. */
    const struct er_place *place = er_document_next_mark(reader->document) == 1 ? at : list;
    if (!cJSON_IsString(at->node)) {
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "expected a JSON Pointer in quotes, as \"/source/flow_limit\", found %s",
                          er_found(reader, at->node));
        return false;
    }
    const char *pointer = at->node->valuestring;
    const char *fault = er_pointer_fault(pointer);
    struct aim aim;
    struct er_pointer_step step = {.start = NULL};
    if (fault != NULL) {
        er_reader_problem(reader, place, ER_AT_VALUE, "%s: %s", er_reader_quote(reader, pointer),
                          fault);
        return false;
    }
    if (!follow(er_document_root(reader->document), pointer, &aim, &step)) {
        tell_nowhere(reader, place, pointer, &aim, &step);
        return false;
    }
    *guess = make_guess(reader, pointer, &aim);
    return true;
}

void er_read_pointers(struct er_reader *reader, const struct er_place *place,
                      const struct er_key *key, void *entry)
{
    if (!cJSON_IsArray(place->node)) {
        er_reader_problem(reader, place, ER_AT_VALUE, "expected a list of JSON Pointers, found %s",
                          er_found(reader, place->node));
        return;
    }
    const size_t room = (size_t)cJSON_GetArraySize(place->node);
    struct er_assumption *guesses = er_reader_array(reader, room, sizeof *guesses);
    struct er_names seen;
    if (guesses == NULL || !er_names_init(&seen, &reader->arena, room)) {
        reader->out_of_memory = true;
        return;
    }
    struct er_place at = {.parent = place};
    size_t count = 0;
    const cJSON *item = NULL;
    cJSON_ArrayForEach(item, place->node)
    {
        at.node = item;
        if (read_guess(reader, place, &at, &guesses[count]) && !reader->out_of_memory) {
            er_names_add(&seen, guesses[count++].pointer, 0);
        }
        at.index++;
    }
    er_names_sort(&seen);
    for (size_t i = 1; i < seen.count; i++) {
        if (strcmp(seen.sorted[i - 1].name, seen.sorted[i].name) == 0) {
            er_reader_problem(reader, place, ER_AT_VALUE, "%s is in this list twice",
                              er_reader_quote(reader, seen.sorted[i].name));
        }
    }
    const struct er_assumption *kept = guesses;
    memcpy((char *)entry + key->offset, &kept, sizeof kept);
    memcpy((char *)entry + key->second_offset, &count, sizeof count);
}

/* ---- taken out ---- */

/* Deletes the guesses that `is_set` tells, and the list when it is empty. */
static void drop(cJSON *root,
                 bool (*is_set)(const cJSON *root, const char *guess, const void *context),
                 const void *context)
{
    cJSON *list = cJSON_GetObjectItemCaseSensitive(root, MEMBER);
    if (!cJSON_IsArray(list) || list->child == NULL) {
        return;
    }
    for (cJSON *guess = list->child; guess != NULL;) {
        cJSON *next = guess->next;
        if (cJSON_IsString(guess) && is_set(root, guess->valuestring, context)) {
            cJSON_Delete(cJSON_DetachItemViaPointer(list, guess));
        }
        guess = next;
    }
    if (list->child == NULL) {
        cJSON_Delete(cJSON_DetachItemViaPointer(root, list));
    }
}

/* Whether one of the two pointers is the other, or leads to a place inside it. */
static bool is_near(const cJSON *root, const char *guess, const void *context)
{
    (void)root;
    const char *pointer = context;
    while (*guess != '\0' && *guess == *pointer) {
        guess++;
        pointer++;
    }
    return (*guess == '\0' && (*pointer == '\0' || *pointer == '/')) ||
           (*pointer == '\0' && *guess == '/');
}

void er_guesses_drop_set(cJSON *root, const char *pointer) { drop(root, is_near, pointer); }

/* Whether the patch puts something at, in or around the guess. */
static bool is_patched(const cJSON *root, const char *guess, const void *context)
{
    const cJSON *patch = context;
    struct er_pointer_step step;
    while (*guess == '/' && er_pointer_next(&guess, &step)) {
        patch = er_pointer_child(patch, &step);
        root = root == NULL ? NULL : er_pointer_child(root, &step);
        if (patch == NULL || !cJSON_IsObject(patch) || !cJSON_IsObject(root)) {
            return patch != NULL;
        }
    }
    return patch->child != NULL;
}

void er_guesses_drop_patched(cJSON *root, const cJSON *patch)
{
    if (cJSON_GetObjectItemCaseSensitive(patch, MEMBER) == NULL) {
        drop(root, is_patched, patch);
    }
}

/* ---- carried along ---- */

/* The value that a pointer leads to; NULL: none. */
static const cJSON *value_at(const cJSON *root, const char *pointer)
{
    struct er_pointer_step step;
    while (root != NULL && er_pointer_next(&pointer, &step)) {
        root = er_pointer_child(root, &step);
    }
    return root;
}

/* If the guess is of a zone, its place and what follows; else false. */
static bool is_of_zone(const char *pointer, size_t *zone, const char **rest)
{
    struct er_pointer_step step;
    *rest = pointer;
    return er_pointer_next(rest, &step) && er_pointer_is_key(&step, "zones") &&
           er_pointer_next(rest, &step) && er_pointer_is_index(&step, zone);
}

/* Adds the guess of zone `from` to each zone that was made from it. */
static void carry_to_zones(const cJSON *now, const size_t *origins, size_t from, const char *rest,
                           cJSON *list, bool *failed)
{
    const cJSON *zones = cJSON_GetObjectItemCaseSensitive(now, "zones");
    const size_t count = origins == NULL ? 0 : (size_t)cJSON_GetArraySize(zones);
    for (size_t i = 0; i < count && !*failed; i++) {
        if (origins[i] != from) {
            continue;
        }
        struct er_text pointer;
        er_text_init(&pointer);
        er_text_appendf(&pointer, "/zones/%zu%s", i, rest);
        *failed = *failed || pointer.out_of_memory;
        if (!*failed && er_guess_leads(now, er_text_string(&pointer))) {
            er_build_string(list, NULL, er_text_string(&pointer), failed);
        }
        er_text_release(&pointer);
    }
}

cJSON *er_guesses_carry(const cJSON *before, const cJSON *now, bool moves, const size_t *origins,
                        bool *failed)
{
    const cJSON *guesses = cJSON_GetObjectItemCaseSensitive(before, MEMBER);
    if (guesses == NULL) {
        return NULL;
    }
    cJSON *list = cJSON_CreateArray();
    if (list == NULL) {
        *failed = true;
        return NULL;
    }
    const cJSON *guess = NULL;
    cJSON_ArrayForEach(guess, guesses)
    {
        const char *pointer = guess->valuestring;
        const char *rest = NULL;
        size_t zone = 0;
        if (moves && is_of_zone(pointer, &zone, &rest)) {
            carry_to_zones(now, origins, zone, rest, list, failed);
        } else if (er_guess_leads(now, pointer) &&
                   er_trees_agree(value_at(before, pointer), value_at(now, pointer))) {
            er_build_string(list, NULL, pointer, failed);
        }
    }
    if (*failed || list->child == NULL) {
        cJSON_Delete(list);
        return NULL;
    }
    return list;
}
