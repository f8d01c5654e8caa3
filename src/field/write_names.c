/* Pipes and tapes, which are defined in one place of the file and named in others. */
#include <string.h>

#include "field/writer.h"
#include "json/write.h"

/* Compared figures: both not given, or the same. */
static bool figures_agree(const char *one, const char *other)
{
    double a = 0.0;
    double b = 0.0;
    memcpy(&a, one, sizeof a);
    memcpy(&b, other, sizeof b);
    return (isnan(a) && isnan(b)) || (a <= b && a >= b);
}

static bool pointers_agree(const struct er_key *key, const char *one, const char *other)
{
    const void *a = NULL;
    const void *b = NULL;
    memcpy(&a, one, sizeof a);
    memcpy(&b, other, sizeof b);
    if (a == NULL || b == NULL || a == b) {
        return a == b;
    }
    return key->kind == ER_KEY_TEXT ? strcmp(a, b) == 0
                                    : er_entries_agree(key->object, a, b, key->object->kept_size);
}

/* Of the kinds of keys that pipes, tapes, parts and water have. */
static bool keys_agree(const struct er_key *key, const char *one, const char *other)
{
    switch (key->kind) {
    case ER_KEY_QUANTITY:
    case ER_KEY_NUMBER:
    case ER_KEY_PERCENT:
        return figures_agree(one + key->offset, other + key->offset);
    case ER_KEY_CHOICE:
        return memcmp(one + key->offset, other + key->offset, sizeof(int)) == 0;
    case ER_KEY_TEXT:
    case ER_KEY_NEW_OBJECT:
    case ER_KEY_SOIL:
        return pointers_agree(key, one + key->offset, other + key->offset);
    case ER_KEY_FIGURES:
        for (size_t i = 0; i < key->least; i++) {
            const size_t at = key->offset + i * sizeof(double);
            if (!figures_agree(one + at, other + at)) {
                return false;
            }
        }
        return true;
    case ER_KEY_DATE:
        return memcmp(one + key->offset, other + key->offset, sizeof(long)) == 0;
    default:
        return false;
    }
}

bool er_entries_agree(const struct er_object *object, const void *one, const void *other,
                      size_t size)
{
    for (const struct er_object *at = object; at != NULL; at = at->base) {
        for (size_t i = 0; i < at->key_count; i++) {
            if (at->keys[i].offset < size && !keys_agree(&at->keys[i], one, other)) {
                return false;
            }
        }
    }
    return true;
}

/* A pipe or a tape, as the search for its name sees it. */
struct named {
    struct er_definitions *definitions;
    const struct er_object *object;
    const char *name; /* its own; NULL: none */
    const void *item;
};

static bool is_the_same(const struct named *named, const void *item)
{
    return item == named->item ||
           er_entries_agree(named->object, item, named->item, named->object->kept_size);
}

/* The name under which it is defined already; NULL if it is not. */
static const char *find_definition(const struct named *named)
{
    const struct er_definitions *definitions = named->definitions;
    for (size_t i = 0; i < definitions->count; i++) {
        if (definitions->list[i].item == named->item) {
            return definitions->list[i].name;
        }
    }
    for (size_t i = 0; i < definitions->count && named->name != NULL; i++) {
        const struct er_definition *definition = &definitions->list[i];
        /* The name is the first member of pipes and tapes. */
        const char *name = *(const char *const *)definition->item;
        if (name != NULL && strcmp(name, named->name) == 0 &&
            is_the_same(named, definition->item)) {
            return definition->name;
        }
    }
    return NULL;
}

static bool is_taken(const struct er_definitions *definitions, const char *name)
{
    for (size_t i = 0; i < definitions->count; i++) {
        const char *other = definitions->list[i].name;
        if (other != NULL && strcmp(other, name) == 0) {
            return true;
        }
    }
    return false;
}

/* The catalogue's pipe or tape of that name, or NULL. */
static const void *find_in_catalogue(const struct er_writer *writer,
                                     const struct er_definitions *definitions, const char *name)
{
    const struct er_catalogue *catalogue = &writer->catalogue;
    const bool is_pipe = definitions == &writer->pipes;
    const size_t count = is_pipe ? catalogue->pipe_count : catalogue->tape_count;
    for (size_t i = 0; i < count; i++) {
        const void *item = is_pipe ? (const void *)&catalogue->pipes[i].pipe
                                   : (const void *)&catalogue->tapes[i].tape;
        if (strcmp(*(const char *const *)item, name) == 0) {
            return item;
        }
    }
    return NULL;
}

static const char *define(struct er_writer *writer, struct er_definitions *definitions,
                          const char *name, const void *item, bool is_new)
{
    if (definitions->count == definitions->room) {
        const size_t room = definitions->room == 0 ? 16 : 2 * definitions->room;
        struct er_definition *grown = er_writer_array(writer, room, sizeof *grown);
        if (grown == NULL) {
            return NULL;
        }
        if (definitions->count > 0) {
            memcpy(grown, definitions->list, definitions->count * sizeof *grown);
        }
        definitions->list = grown;
        definitions->room = room;
    }
    definitions->list[definitions->count++] = (struct er_definition){name, item, is_new};
    return name;
}

void er_writer_know(struct er_writer *writer, struct er_definitions *definitions, const char *name,
                    const void *item)
{
    define(writer, definitions, name, item, false);
}

/* Whether a new definition may have that name: "note" is no name in any object. */
static bool is_free(const struct er_writer *writer, const struct er_definitions *definitions,
                    const char *name)
{
    return strcmp(name, "note") != 0 && !is_taken(definitions, name) &&
           (writer->may_shadow || find_in_catalogue(writer, definitions, name) == NULL);
}

/* Its name under its own, if it can have that; else NULL. */
static const char *own_name(struct er_writer *writer, const struct named *named)
{
    const char *known = find_definition(named);
    if (known != NULL || named->name == NULL) {
        return known;
    }
    const void *built_in = find_in_catalogue(writer, named->definitions, named->name);
    if (built_in != NULL && !is_taken(named->definitions, named->name) &&
        is_the_same(named, built_in)) {
        return define(writer, named->definitions, named->name, named->item, false);
    }
    return is_free(writer, named->definitions, named->name)
               ? define(writer, named->definitions, named->name, named->item, true)
               : NULL;
}

const char *er_writer_pipe_name(struct er_writer *writer, const struct er_pipe *pipe)
{
    const struct named named = {&writer->pipes, &er_pipe_object, pipe->name, pipe};
    return own_name(writer, &named);
}

const char *er_writer_tape_name(struct er_writer *writer, const struct er_tape *tape)
{
    const struct named named = {&writer->tapes, &er_tape_object, tape->name, tape};
    const char *name = own_name(writer, &named);
    for (size_t number = tape->name == NULL ? 1 : 2; name == NULL && !writer->failed; number++) {
        const char *base = tape->name == NULL ? "tape" : tape->name;
        const char *tried = er_arena_format(&writer->arena, "%s %zu", base, number);
        writer->failed = writer->failed || tried == NULL;
        const bool clashes = tried == NULL ||
                             find_in_catalogue(writer, &writer->tapes, tried) != NULL ||
                             !is_free(writer, &writer->tapes, tried);
        name = clashes ? NULL : define(writer, &writer->tapes, tried, tape, true);
    }
    return name;
}

/* Puts the new ones into the map, which is made where it is not there yet and left out empty. */
static void write_map(struct er_writer *writer, const struct er_definitions *definitions,
                      const struct er_object *object, const char *key, cJSON *root, int mark)
{
    cJSON *map = cJSON_GetObjectItemCaseSensitive(root, key);
    for (size_t i = 0; i < definitions->count && !writer->failed; i++) {
        const struct er_definition *definition = &definitions->list[i];
        if (!definition->is_new) {
            continue;
        }
        if (map == NULL) {
            map = er_build_add(root, key, cJSON_CreateObject(), &writer->failed);
        }
        cJSON *node = er_build_add(map, definition->name, cJSON_CreateObject(), &writer->failed);
        if (node != NULL) {
            node->valueint = mark;
            er_write_object(writer, object, definition->item, i, node);
        }
    }
}

void er_write_definitions(struct er_writer *writer, cJSON *root, int mark)
{
    write_map(writer, &writer->pipes, &er_pipe_object, "pipes", root, mark);
    write_map(writer, &writer->tapes, &er_tape_object, "tapes", root, mark);
}
