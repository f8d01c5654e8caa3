/* Objects, written as their tables say. */
#include <stdio.h>
#include <string.h>

#include "field/writer.h"
#include "json/write.h"

/* What writing one object's keys goes on with. */
struct object_writing {
    struct er_writer *writer;
    const struct er_object *object;
    const void *entry;
    const void *of; /* whose assumptions count: what was kept of a tape or pipe, else NULL */
    cJSON *node;
};

static const void *at(const struct object_writing *writing, size_t offset)
{
    return (const char *)writing->entry + offset;
}

static double double_at(const struct object_writing *writing, size_t offset)
{
    double value = 0.0;
    memcpy(&value, at(writing, offset), sizeof value);
    return value;
}

static size_t size_at(const struct object_writing *writing, size_t offset)
{
    size_t value = 0;
    memcpy(&value, at(writing, offset), sizeof value);
    return value;
}

static int int_at(const struct object_writing *writing, size_t offset)
{
    int value = 0;
    memcpy(&value, at(writing, offset), sizeof value);
    return value;
}

static const void *pointer_at(const struct object_writing *writing, size_t offset)
{
    const void *value = NULL;
    memcpy(&value, at(writing, offset), sizeof value);
    return value;
}

static cJSON *add(const struct object_writing *writing, cJSON *parent, const char *key, cJSON *item)
{
    return er_build_add(parent, key, item, &writing->writer->failed);
}

static void add_text(const struct object_writing *writing, cJSON *parent, const char *key,
                     const char *text)
{
    er_build_string(parent, key, text, &writing->writer->failed);
}

static void add_number(const struct object_writing *writing, cJSON *parent, const char *key,
                       double number)
{
    er_write_number(writing->writer, parent, key, number);
}

/* Whether the default may stand for the value, which is the same. */
static bool goes_without_saying(const struct object_writing *writing, const struct er_key *key)
{
    const struct er_writer *writer = writing->writer;
    return !writer->writes_defaults &&
           (key->assumed == NULL || er_writer_assumed(writer, key, writing->of));
}

/* Whether a figure is left out: it was not given, has no end, or is the default. */
static bool is_left_out(const struct object_writing *writing, const struct er_key *key,
                        double value)
{
    if (!isfinite(value)) {
        return true;
    }
    const double usual = er_key_default(key, writing->writer->system);
    return value <= usual && value >= usual && goes_without_saying(writing, key);
}

static void write_quantity(const struct object_writing *writing, const struct er_key *key)
{
    const double value = double_at(writing, key->offset);
    if (!is_left_out(writing, key, value)) {
        add_number(writing, writing->node, key->name,
                   er_writer_quantity(writing->writer, key->quantity, &key->range, value));
    }
}

static void write_bare_number(const struct object_writing *writing, const struct er_key *key)
{
    const double value = double_at(writing, key->offset);
    if (!is_left_out(writing, key, value)) {
        add_number(writing, writing->node, key->name, value);
    }
}

static void write_percent(const struct object_writing *writing, const struct er_key *key)
{
    const double value = double_at(writing, key->offset);
    if (!is_left_out(writing, key, value)) {
        add_number(writing, writing->node, key->name, er_writer_percent(&key->range, value));
    }
}

static void write_count(const struct object_writing *writing, const struct er_key *key)
{
    const double value = (double)size_at(writing, key->offset);
    if (!is_left_out(writing, key, value)) {
        add_number(writing, writing->node, key->name, value);
    }
}

static void write_text(const struct object_writing *writing, const struct er_key *key)
{
    const char *text = pointer_at(writing, key->offset);
    if (text != NULL) {
        add_text(writing, writing->node, key->name, text);
    }
}

static void write_choice(const struct object_writing *writing, const struct er_key *key)
{
    const int choice = int_at(writing, key->offset);
    const bool usual = key->presence == ER_DEFAULTED && choice == 0;
    if (choice >= 0 && !(usual && goes_without_saying(writing, key))) {
        add_text(writing, writing->node, key->name, key->words[choice]);
    }
}

static void write_choice_or_quantity(const struct object_writing *writing, const struct er_key *key)
{
    if (key->words[int_at(writing, key->offset)] != NULL) {
        write_choice(writing, key);
        return;
    }
    add_number(writing, writing->node, key->name,
               er_writer_quantity(writing->writer, key->quantity, &key->range,
                                  double_at(writing, key->second_offset)));
}

static void write_entry(struct er_writer *writer, const struct er_object *object, void *entry,
                        size_t index, const void *of, cJSON *node);

/* An object whose entry lies in this one. Empty, it is left out where it may be. */
static void write_inner(const struct object_writing *writing, const struct er_key *key)
{
    void *inner = er_writer_array(writing->writer, 1, key->object->entry_size);
    cJSON *node = add(writing, writing->node, key->name, cJSON_CreateObject());
    if (inner == NULL || node == NULL) {
        return;
    }
    memcpy(inner, at(writing, key->offset), key->object->entry_size);
    write_entry(writing->writer, key->object, inner, 0, NULL, node);
    if (node->child == NULL && !er_object_requires(writing->object, key)) {
        cJSON_Delete(cJSON_DetachItemViaPointer(writing->node, node));
    }
}

static void write_new_object(const struct object_writing *writing, const struct er_key *key)
{
    const void *object = pointer_at(writing, key->offset);
    if (object != NULL) {
        cJSON *node = add(writing, writing->node, key->name, cJSON_CreateObject());
        er_write_object(writing->writer, key->object, object, 0, node);
    }
}

static void write_list(const struct object_writing *writing, const struct er_key *key)
{
    const char *items = pointer_at(writing, key->offset);
    const size_t count = size_at(writing, key->second_offset);
    if (count == 0) {
        return;
    }
    cJSON *list = add(writing, writing->node, key->name, cJSON_CreateArray());
    for (size_t i = 0; i < count && list != NULL; i++) {
        cJSON *node = add(writing, list, NULL, cJSON_CreateObject());
        er_write_object(writing->writer, key->object, items + i * key->object->kept_size, i, node);
    }
}

static void *new_entry(struct er_writer *writer, const struct er_object *object, const void *kept);
static void undo_finish(struct er_writer *writer, const struct er_object *object, void *entry,
                        size_t index);
static void write_keys(struct er_writer *writer, const struct er_object *object, const void *entry,
                       const void *of, cJSON *node);

/* A member of a map; left out if it has no name. The name is the first in every entry of a map. */
static void write_member(const struct object_writing *writing, const struct er_object *object,
                         const void *kept, size_t index, cJSON *map)
{
    void *entry = new_entry(writing->writer, object, kept);
    if (entry == NULL) {
        return;
    }
    undo_finish(writing->writer, object, entry, index);
    const char *name = *(const char *const *)entry;
    if (name != NULL) {
        cJSON *node = add(writing, map, name, cJSON_CreateObject());
        write_keys(writing->writer, object, entry, NULL, node);
    }
}

/* The whole file's maps are written empty: the definitions will be put into them, when all that
 * is named is known. */
static void write_map(const struct object_writing *writing, const struct er_key *key)
{
    const char *items = pointer_at(writing, key->offset);
    const size_t count = size_at(writing, key->second_offset);
    if (count == 0 && writing->object != &er_field_object) {
        return;
    }
    cJSON *map = add(writing, writing->node, key->name, cJSON_CreateObject());
    for (size_t i = 0; i < count && map != NULL; i++) {
        write_member(writing, key->object, items + i * key->object->kept_size, i, map);
    }
}

static void write_points(const struct object_writing *writing, const struct er_key *key)
{
    static const struct er_key_range from_zero = ER_FROM_ZERO;
    static const struct er_key_range any_number = ER_ANY_NUMBER;
    const struct er_writer *writer = writing->writer;
    const struct er_point *points = pointer_at(writing, key->offset);
    const size_t count = size_at(writing, key->second_offset);
    if (count == 0) {
        return;
    }
    cJSON *list = add(writing, writing->node, key->name, cJSON_CreateArray());
    for (size_t i = 0; i < count && list != NULL; i++) {
        cJSON *point = add(writing, list, NULL, cJSON_CreateArray());
        add_number(writing, point, NULL,
                   er_writer_quantity(writer, key->quantity, &from_zero, points[i].at));
        add_number(writing, point, NULL,
                   er_writer_quantity(writer, key->second_quantity, &any_number, points[i].value));
    }
}

static void write_pipe(const struct object_writing *writing, const struct er_key *key)
{
    const struct er_pipe *pipe = pointer_at(writing, key->offset);
    if (pipe == NULL) {
        return;
    }
    const char *name = er_writer_pipe_name(writing->writer, pipe);
    if (name != NULL) {
        add_text(writing, writing->node, key->name, name);
        return;
    }
    cJSON *node = add(writing, writing->node, key->name, cJSON_CreateObject());
    er_write_object(writing->writer, &er_pipe_object, pipe, 0, node);
}

/* By its name, where its figures are the catalogue's. */
static void write_soil(const struct object_writing *writing, const struct er_key *key)
{
    const struct er_soil *soil = pointer_at(writing, key->offset);
    if (soil == NULL) {
        return;
    }
    const struct er_catalogue *catalogue = &writing->writer->catalogue;
    for (size_t i = 0; i < catalogue->soil_count; i++) {
        if (er_entries_agree(key->object, soil, &catalogue->soils[i], sizeof *soil)) {
            add_text(writing, writing->node, key->name, soil->name);
            return;
        }
    }
    cJSON *node = add(writing, writing->node, key->name, cJSON_CreateObject());
    er_write_object(writing->writer, key->object, soil, 0, node);
}

static void write_tape(const struct object_writing *writing, const struct er_key *key)
{
    const struct er_tape *tape = pointer_at(writing, key->offset);
    const char *name = tape == NULL ? NULL : er_writer_tape_name(writing->writer, tape);
    if (name != NULL) {
        add_text(writing, writing->node, key->name, name);
    }
}

static void write_section(const struct object_writing *writing, const struct er_key *key)
{
    const size_t section = size_at(writing, key->offset);
    if (section == ER_HEADWORKS) {
        add_text(writing, writing->node, key->name, "headworks");
    } else if (section != ER_SECTION_LEFT_OUT) {
        add_text(writing, writing->node, key->name, writing->writer->field->mainline[section].name);
    }
}

static void write_sets(const struct object_writing *writing, const struct er_key *key)
{
    const struct er_zone *zones = writing->writer->field->zones;
    const struct er_set *sets = pointer_at(writing, key->offset);
    const size_t count = size_at(writing, key->second_offset);
    if (count == 0) {
        return;
    }
    cJSON *list = add(writing, writing->node, key->name, cJSON_CreateArray());
    for (size_t i = 0; i < count && list != NULL; i++) {
        cJSON *set = add(writing, list, NULL, cJSON_CreateArray());
        for (size_t j = 0; j < sets[i].zone_count && set != NULL; j++) {
            add_text(writing, set, NULL, zones[sets[i].zones[j]].name);
        }
    }
}

/* Figures are all there, or none is. */
static void write_figures(const struct object_writing *writing, const struct er_key *key)
{
    const bool bare = key->quantity == ER_QUANTITY_COUNT;
    if (isnan(double_at(writing, key->offset))) {
        return;
    }
    cJSON *list = add(writing, writing->node, key->name, cJSON_CreateArray());
    for (size_t i = 0; i < key->least && list != NULL; i++) {
        const double value = double_at(writing, key->offset + i * sizeof value);
        add_number(writing, list, NULL,
                   bare ? value
                        : er_writer_quantity(writing->writer, key->quantity, &key->range, value));
    }
}

static void write_pointers(const struct object_writing *writing, const struct er_key *key)
{
    const struct er_assumption *guesses = pointer_at(writing, key->offset);
    const size_t count = size_at(writing, key->second_offset);
    cJSON *list = count == 0 ? NULL : add(writing, writing->node, key->name, cJSON_CreateArray());
    for (size_t i = 0; i < count && list != NULL; i++) {
        add_text(writing, list, NULL, guesses[i].pointer);
    }
}

static void write_date(const struct object_writing *writing, const struct er_key *key)
{
    long date = ER_NO_DATE;
    memcpy(&date, at(writing, key->offset), sizeof date);
    if (date != ER_NO_DATE) {
        const struct er_calendar_day day = er_date_split(date);
        char text[40];
        snprintf(text, sizeof text, "%04d-%02d-%02d", day.year, day.month, day.day);
        add_text(writing, writing->node, key->name, text);
    }
}

typedef void write_kind(const struct object_writing *writing, const struct er_key *key);

static write_kind *const write_kinds[ER_KEY_KIND_COUNT] = {
    [ER_KEY_QUANTITY] = write_quantity,
    [ER_KEY_NUMBER] = write_bare_number,
    [ER_KEY_PERCENT] = write_percent,
    [ER_KEY_COUNT] = write_count,
    [ER_KEY_TEXT] = write_text,
    [ER_KEY_CHOICE] = write_choice,
    [ER_KEY_CHOICE_OR_QUANTITY] = write_choice_or_quantity,
    [ER_KEY_OBJECT] = write_inner,
    [ER_KEY_NEW_OBJECT] = write_new_object,
    [ER_KEY_LIST] = write_list,
    [ER_KEY_MAP] = write_map,
    [ER_KEY_POINTS] = write_points,
    [ER_KEY_PIPE] = write_pipe,
    [ER_KEY_TAPE] = write_tape,
    [ER_KEY_SOIL] = write_soil,
    [ER_KEY_SECTION] = write_section,
    [ER_KEY_SETS] = write_sets,
    [ER_KEY_FIGURES] = write_figures,
    [ER_KEY_POINTERS] = write_pointers,
    [ER_KEY_DATE] = write_date,
};

static void write_one_key(const struct er_key *key, void *context)
{
    const struct object_writing *writing = context;
    if (!writing->writer->failed) {
        write_kinds[key->kind](writing, key);
    }
}

static void undo_finish(struct er_writer *writer, const struct er_object *object, void *entry,
                        size_t index)
{
    for (const struct er_object *one = object; one != NULL && !writer->failed; one = one->base) {
        if (one->unfinish != NULL) {
            one->unfinish(writer, entry, index);
        }
    }
}

static void write_keys(struct er_writer *writer, const struct er_object *object, const void *entry,
                       const void *of, cJSON *node)
{
    struct object_writing writing = {writer, object, entry, of, node};
    er_object_each_key(object, write_one_key, &writing);
}

/* Writes an entry, in which what was kept is all there is so far. */
static void write_entry(struct er_writer *writer, const struct er_object *object, void *entry,
                        size_t index, const void *of, cJSON *node)
{
    undo_finish(writer, object, entry, index);
    write_keys(writer, object, entry, of, node);
}

/* A new entry with what was kept, and with everything else left out. */
static void *new_entry(struct er_writer *writer, const struct er_object *object, const void *kept)
{
    void *entry = er_writer_array(writer, 1, object->entry_size);
    if (entry != NULL) {
        er_object_defaults(writer->system, object, entry);
        memcpy(entry, kept, object->kept_size);
    }
    return entry;
}

void er_write_object(struct er_writer *writer, const struct er_object *object, const void *kept,
                     size_t index, cJSON *node)
{
    void *entry = node == NULL ? NULL : new_entry(writer, object, kept);
    if (entry != NULL) {
        const bool may_assume = object == &er_pipe_object || object == &er_tape_object;
        write_entry(writer, object, entry, index, may_assume ? kept : NULL, node);
    }
}

const struct er_field_entry *er_writer_field_entry(struct er_writer *writer)
{
    struct er_field_entry *entry = new_entry(writer, &er_field_object, writer->field);
    if (entry != NULL) {
        undo_finish(writer, &er_field_object, entry, 0);
    }
    return writer->failed ? NULL : entry;
}

void er_write_field_key(struct er_writer *writer, const struct er_field_entry *entry,
                        const char *key, cJSON *node)
{
    struct object_writing writing = {writer, &er_field_object, entry, NULL, node};
    write_one_key(er_object_key(&er_field_object, key), &writing);
}
