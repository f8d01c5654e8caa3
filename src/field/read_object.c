/* Objects, lists of them and maps of them, read as their tables say. */
#include <string.h>

#include "field/usual.h"

static void put_size(void *entry, size_t offset, size_t value)
{
    memcpy((char *)entry + offset, &value, sizeof value);
}

static void put_pointer(void *entry, size_t offset, const void *value)
{
    memcpy((char *)entry + offset, &value, sizeof value);
}

/* Whether `place` holds an object; a problem is taken down if not. */
static bool is_object(struct er_reader *reader, const struct er_place *place,
                      const struct er_object *object)
{
    if (cJSON_IsObject(place->node)) {
        return true;
    }
    er_reader_problem(reader, place, ER_AT_VALUE, "expected %s, an object {...}, found %s",
                      object->name, er_found(reader, place->node));
    return false;
}

static void read_inner(struct er_reader *reader, const struct er_place *place,
                       const struct er_key *key, void *entry)
{
    if (is_object(reader, place, key->object)) {
        void *inner = (char *)entry + key->offset;
        er_read_object(reader, place, key->object, inner, inner);
    }
}

static void read_new_object(struct er_reader *reader, const struct er_place *place,
                            const struct er_key *key, void *entry)
{
    if (!is_object(reader, place, key->object)) {
        return;
    }
    void *object = er_reader_array(reader, 1, key->object->entry_size);
    if (object != NULL) {
        er_read_object(reader, place, key->object, object, object);
        put_pointer(entry, key->offset, object);
    }
}

/* Whether `place` holds a list of `least` items or more; a problem is taken down if not. */
static bool is_list(struct er_reader *reader, const struct er_place *place,
                    const struct er_key *key)
{
    if (!cJSON_IsArray(place->node)) {
        er_reader_problem(reader, place, ER_AT_VALUE, "expected a list [...] of objects, found %s",
                          er_found(reader, place->node));
        return false;
    }
    if (key->least > 0 && place->node->child == NULL) {
        er_reader_problem(reader, place, ER_AT_VALUE, "this list is empty: it needs %s at least",
                          key->object->name);
        return false;
    }
    return true;
}

/* How much room the members need: what is no object in a list is not kept. */
static size_t count_members(const cJSON *node, bool is_map)
{
    size_t count = 0;
    const cJSON *member = NULL;
    cJSON_ArrayForEach(member, node)
    {
        count += is_map ? !er_is_note(member) : (bool)cJSON_IsObject(member);
    }
    return count;
}

/* Reads one member, an object or not, through `scratch` into `to`. */
static void read_member(struct er_reader *reader, const struct er_place *place,
                        const struct er_object *object, void *scratch, void *to)
{
    if (!is_object(reader, place, object)) {
        return;
    }
    memset(scratch, 0, object->entry_size);
    if (place->key != NULL) {
        put_pointer(scratch, 0, er_reader_text(reader, place->key));
    }
    er_read_object(reader, place, object, scratch, to);
    memcpy(to, scratch, object->kept_size);
}

/* Reads the members of a list, or of a map into whose items their names are put first. */
static void read_members(struct er_reader *reader, const struct er_place *place,
                         const struct er_key *key, void *entry)
{
    const struct er_object *object = key->object;
    const bool is_map = key->kind == ER_KEY_MAP;
    const size_t count = count_members(place->node, is_map);
    char *kept = er_reader_array(reader, count, object->kept_size);
    void *scratch = er_reader_array(reader, 1, object->entry_size);
    if (kept == NULL || scratch == NULL) {
        return;
    }
    struct er_place at = {.parent = place};
    char *to = kept;
    const cJSON *member = NULL;
    cJSON_ArrayForEach(member, place->node)
    {
        if (is_map && er_is_note(member)) {
            continue;
        }
        at.key = is_map ? member->string : NULL;
        at.node = member;
        read_member(reader, &at, object, scratch, to);
        to += is_map || cJSON_IsObject(member) ? object->kept_size : 0;
        at.index++;
    }
    put_pointer(entry, key->offset, kept);
    put_size(entry, key->second_offset, count);
}

static void read_list(struct er_reader *reader, const struct er_place *place,
                      const struct er_key *key, void *entry)
{
    if (is_list(reader, place, key)) {
        read_members(reader, place, key, entry);
    }
}

static void read_map(struct er_reader *reader, const struct er_place *place,
                     const struct er_key *key, void *entry)
{
    if (cJSON_IsObject(place->node)) {
        read_members(reader, place, key, entry);
        return;
    }
    er_reader_problem(reader, place, ER_AT_VALUE,
                      "expected an object {\"NAME\": {...}} with %s behind each name, found %s",
                      key->object->name, er_found(reader, place->node));
}

typedef void read_key(struct er_reader *reader, const struct er_place *place,
                      const struct er_key *key, void *entry);

static read_key *const read_kinds[ER_KEY_KIND_COUNT] = {
    [ER_KEY_QUANTITY] = er_read_quantity,
    [ER_KEY_NUMBER] = er_read_number,
    [ER_KEY_PERCENT] = er_read_percent,
    [ER_KEY_COUNT] = er_read_count,
    [ER_KEY_TEXT] = er_read_text,
    [ER_KEY_CHOICE] = er_read_choice,
    [ER_KEY_CHOICE_OR_QUANTITY] = er_read_choice_or_quantity,
    [ER_KEY_OBJECT] = read_inner,
    [ER_KEY_NEW_OBJECT] = read_new_object,
    [ER_KEY_LIST] = read_list,
    [ER_KEY_MAP] = read_map,
    [ER_KEY_POINTS] = er_read_points,
    [ER_KEY_PIPE] = er_read_pipe,
    [ER_KEY_TAPE] = er_read_tape,
    [ER_KEY_SOIL] = er_read_soil,
    [ER_KEY_SECTION] = er_read_section,
    [ER_KEY_SETS] = er_read_sets,
    [ER_KEY_FIGURES] = er_read_figures,
    [ER_KEY_POINTERS] = er_read_pointers,
    [ER_KEY_DATE] = er_read_date,
};

/* What reading one object's keys goes on with. */
struct object_reading {
    struct er_reader *reader;
    const struct er_place *place;
    const struct er_object *object;
    void *entry;
};

static void read_one_key(const struct er_key *key, void *context)
{
    const struct object_reading *reading = context;
    const struct er_place at = er_place_key(reading->place, key->name);
    if (at.node != NULL) {
        const size_t problems = reading->reader->notices.count;
        read_kinds[key->kind](reading->reader, &at, key, reading->entry);
        if (reading->reader->notices.count == problems) {
            er_reader_look(reading->reader, &at, reading->object, key, reading->entry);
        }
    } else if (er_object_requires(reading->object, key)) {
        er_reader_problem(reading->reader, &at, ER_AT_VALUE, "%s needs \"%s\": %s",
                          reading->object->name, key->name, key->about);
    }
}

void er_read_object(struct er_reader *reader, const struct er_place *place,
                    const struct er_object *object, void *entry, const void *kept)
{
    er_object_defaults(reader->system, object, entry);
    if (!is_object(reader, place, object)) {
        return;
    }
    er_find_unknown_keys(reader, place, object);
    struct object_reading reading = {reader, place, object, entry};
    er_object_each_key(object, read_one_key, &reading);
    er_check_rules(reader, place, object);
    if (reader->out_of_memory) {
        return;
    }
    for (const struct er_object *at = object; at != NULL; at = at->base) {
        if (at->finish != NULL) {
            at->finish(reader, place, entry, kept);
        }
    }
}
