/* Parts of a field put into the document that it came from. */
#include <string.h>

#include "field/guesses.h"
#include "field/writer.h"
#include "json/change.h"
#include "json/merge.h"
#include "json/write.h"

/* The keys that make up each part. */
static const struct part_key {
    enum er_field_part part;
    const char *key;
} part_keys[] = {{ER_PART_SOURCE, "source"},
                 {ER_PART_HEADWORKS, "headworks"},
                 {ER_PART_MAINLINE, "mainline"},
                 {ER_PART_ZONES, "zones"},
                 {ER_PART_ZONES, "sets"}};

/* Parts on their way into a document. */
struct putting {
    struct er_writer writer;
    const struct er_field *own;   /* what the document says as it stands */
    const struct er_field *field; /* where the parts come from */
    unsigned parts;
    const size_t *origins;
    cJSON *before; /* the parts as the writer puts them, of the document's own field */
    cJSON *now;    /* and of the new one */
    cJSON *root;   /* the changed copy of the document's tree */
    int mark;      /* of what is put in */
};

static cJSON *member_of(const cJSON *object, const char *key)
{
    return cJSON_GetObjectItemCaseSensitive(object, key);
}

/* What people and their editors write for themselves is no figure, and is never changed. */
static bool stays(const cJSON *member) { return er_is_note(member) || er_is_schema_key(member); }

/* Writes the parts of one of the two fields. */
static cJSON *write_parts(struct putting *putting, const struct er_field *field)
{
    struct er_writer *writer = &putting->writer;
    writer->field = field;
    const struct er_field_entry *entry = er_writer_field_entry(writer);
    cJSON *tree = cJSON_CreateObject();
    writer->failed = writer->failed || tree == NULL;
    for (size_t i = 0; i < sizeof part_keys / sizeof *part_keys && !writer->failed; i++) {
        if ((putting->parts & part_keys[i].part) != 0) {
            er_write_field_key(writer, entry, part_keys[i].key, tree);
        }
    }
    return tree;
}

/* Puts a value into the changed tree, where NULL takes away what is there. */
static void put(struct putting *putting, const char *key, cJSON *value)
{
    cJSON *old = member_of(putting->root, key);
    if (value == NULL || putting->writer.failed) {
        cJSON_Delete(value);
        cJSON_Delete(old == NULL ? NULL : cJSON_DetachItemViaPointer(putting->root, old));
        return;
    }
    value->valueint = putting->mark;
    if (old != NULL) {
        er_replace_child(putting->root, old, value);
    } else {
        er_build_add(putting->root, key, value, &putting->writer.failed);
    }
}

/* Puts a part that is one value; where it is as before it stays as it is written. */
static void put_part(struct putting *putting, const char *key)
{
    const cJSON *before = member_of(putting->before, key);
    const cJSON *now = member_of(putting->now, key);
    if (er_trees_agree(before, now)) {
        return;
    }
    cJSON *changed = NULL;
    if (now != NULL) {
        changed = er_tree_change(member_of(putting->root, key), before, now, stays);
        putting->writer.failed = putting->writer.failed || changed == NULL;
    }
    put(putting, key, changed);
}

/* The items of a list, to find them by their places. NULL if memory ran out. */
static const cJSON **items_of(struct er_writer *writer, const cJSON *list)
{
    const cJSON **items =
        er_writer_array(writer, (size_t)cJSON_GetArraySize(list), sizeof(const cJSON *));
    size_t count = 0;
    const cJSON *item = NULL;
    cJSON_ArrayForEach(item, list)
    {
        if (items != NULL) {
            items[count++] = item;
        }
    }
    return items;
}

/* The water that a zone has which says nothing of it; NULL if no zone of the document is such. */
static const struct er_water *common_water(const struct putting *putting)
{
    size_t index = 0;
    const cJSON *zone = NULL;
    cJSON_ArrayForEach(zone, member_of(putting->root, "zones"))
    {
        if (member_of(zone, "water") == NULL) {
            return &putting->own->zones[index].water;
        }
        index++;
    }
    return NULL;
}

/* Writes the water of a zone that comes from nowhere: whole, lest the file's be taken over. */
static void write_water(struct putting *putting, const struct er_zone *zone,
                        const struct er_water *common, cJSON *node)
{
    struct er_writer *writer = &putting->writer;
    if (common != NULL && er_water_agrees(writer, common, &zone->water)) {
        return;
    }
    cJSON *water = er_build_add(node, "water", cJSON_CreateObject(), &writer->failed);
    writer->writes_defaults = member_of(putting->root, "water") != NULL;
    er_write_object(writer, &er_water_object, &zone->water, 0, water);
    writer->writes_defaults = false;
}

/* A zone made from another: its water stays word for word. */
static cJSON *change_zone(struct putting *putting, const cJSON *kept, const cJSON *before,
                          const cJSON *now)
{
    bool *failed = &putting->writer.failed;
    cJSON *zone = er_tree_change(kept, before, now, stays);
    const cJSON *water = member_of(kept, "water");
    if (zone != NULL && water != NULL && member_of(zone, "water") == NULL) {
        er_build_add(zone, "water", cJSON_Duplicate(water, true), failed);
    }
    return zone;
}

static void put_zones(struct putting *putting)
{
    struct er_writer *writer = &putting->writer;
    const cJSON **kept = items_of(writer, member_of(putting->root, "zones"));
    const cJSON **before = items_of(writer, member_of(putting->before, "zones"));
    const struct er_water *common = common_water(putting);
    cJSON *zones = cJSON_CreateArray();
    writer->failed = writer->failed || zones == NULL;
    size_t index = 0;
    const cJSON *now = NULL;
    cJSON_ArrayForEach(now, member_of(putting->now, "zones"))
    {
        const size_t i = index++;
        const size_t origin = putting->origins == NULL ? SIZE_MAX : putting->origins[i];
        if (writer->failed) {
            break;
        }
        if (origin < putting->own->zone_count) {
            er_build_add(zones, NULL, change_zone(putting, kept[origin], before[origin], now),
                         &writer->failed);
            continue;
        }
        cJSON *zone = er_build_add(zones, NULL, cJSON_Duplicate(now, true), &writer->failed);
        write_water(putting, &putting->field->zones[i], common, zone);
    }
    put(putting, "zones", zones);
}

/* Sets name zones: they stay only as what they are. */
static void put_sets(struct putting *putting)
{
    cJSON *now = member_of(putting->now, "sets");
    if (now == NULL || !er_trees_agree(member_of(putting->before, "sets"), now)) {
        cJSON *sets = now == NULL ? NULL : cJSON_DetachItemViaPointer(putting->now, now);
        put(putting, "sets", sets);
    }
}

/* Whether the mainline is put in, and its sections are others than before. */
static bool has_other_sections(const struct putting *putting)
{
    const struct er_field *own = putting->own;
    const struct er_field *field = putting->field;
    if ((putting->parts & ER_PART_MAINLINE) == 0) {
        return false;
    }
    bool same = own->section_count == field->section_count;
    for (size_t i = 0; same && i < field->section_count; i++) {
        same = strcmp(own->mainline[i].name, field->mainline[i].name) == 0;
    }
    return !same;
}

/* So that each zone is told anew which section it is on. */
static void forget_sections(const struct putting *putting)
{
    cJSON *zone = NULL;
    cJSON_ArrayForEach(zone, member_of(putting->before, "zones"))
    {
        cJSON_DeleteItemFromObjectCaseSensitive(zone, "on");
    }
}

static void put_parts(struct putting *putting)
{
    struct er_writer *writer = &putting->writer;
    writer->names_sections = has_other_sections(putting);
    putting->before = write_parts(putting, putting->own);
    putting->now = write_parts(putting, putting->field);
    if (writer->names_sections) {
        forget_sections(putting);
    }
    for (size_t i = 0; i < sizeof part_keys / sizeof *part_keys && !writer->failed; i++) {
        if ((putting->parts & part_keys[i].part) != 0 && part_keys[i].part != ER_PART_ZONES) {
            put_part(putting, part_keys[i].key);
        }
    }
    if ((putting->parts & ER_PART_ZONES) != 0 && !writer->failed) {
        put_zones(putting);
        put_sets(putting);
    }
    er_write_definitions(writer, putting->root, putting->mark);
}

/* Guesses go where their zones go. */
static void put_guesses(struct putting *putting, const cJSON *before)
{
    const bool moves = (putting->parts & ER_PART_ZONES) != 0;
    put(putting, "guessed",
        er_guesses_carry(before, putting->root, moves, putting->origins, &putting->writer.failed));
}

/* What the document defines keeps its names. */
static void know_definitions(struct er_writer *writer, const struct er_field_entry *own)
{
    for (size_t i = 0; i < own->pipe_count; i++) {
        er_writer_know(writer, &writer->pipes, own->pipes[i].name, &own->pipes[i]);
    }
    for (size_t i = 0; i < own->tape_count; i++) {
        er_writer_know(writer, &writer->tapes, own->tapes[i].name, &own->tapes[i]);
    }
}

/* Puts the parts into a copy of the document's tree, and then the copy in its place. */
static enum er_status put_into(struct er_document *document, struct putting *putting,
                               const struct er_field_entry *own)
{
    struct er_writer *writer = &putting->writer;
    enum er_status status = er_writer_init(writer, own->field.system);
    putting->root = cJSON_Duplicate(er_document_root(document), true);
    if (status == ER_OK && putting->root != NULL) {
        writer->water_elsewhere = true;
        know_definitions(writer, own);
        put_parts(putting);
        put_guesses(putting, er_document_root(document));
    }
    if (status == ER_OK && (putting->root == NULL || writer->failed)) {
        status = ER_NO_MEMORY;
    }
    if (status == ER_OK) {
        status = er_document_replace(document, putting->root) ? ER_OK : ER_NO_MEMORY;
    }
    if (status != ER_OK) {
        cJSON_Delete(putting->root);
    }
    cJSON_Delete(putting->before);
    cJSON_Delete(putting->now);
    er_writer_release(writer);
    return status;
}

enum er_status er_document_put(struct er_document *document, const struct er_field *field,
                               unsigned parts, const size_t *zone_origins)
{
    struct er_problems problems;
    er_problems_init(&problems);
    struct er_field_entry own;
    enum er_status status = er_field_entry_read(document, &own, &problems);
    er_problems_release(&problems);
    if (status != ER_OK) {
        return status;
    }
    struct putting putting = {.own = &own.field,
                              .field = field,
                              .parts = parts,
                              .origins = zone_origins,
                              .mark = er_document_next_mark(document)};
    status = put_into(document, &putting, &own);
    er_field_release(&own.field);
    return status;
}
