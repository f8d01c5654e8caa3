/* The whole way from a document to a field, and what every part of the reader needs. */
#include "field/reader.h"

#include <stdarg.h>
#include <string.h>

#include "base/text.h"
#include "field/entries.h"

/* So much of a text from the file is shown in a message. */
#define MOST_QUOTED 60

void *er_reader_array(struct er_reader *reader, size_t count, size_t size)
{
    void *array = er_arena_array(&reader->arena, count, size);
    reader->out_of_memory = reader->out_of_memory || array == NULL;
    return array;
}

const char *er_reader_text(struct er_reader *reader, const char *text)
{
    const char *copy = er_arena_text(&reader->arena, text);
    reader->out_of_memory = reader->out_of_memory || copy == NULL;
    return copy;
}

struct er_place er_place_key(const struct er_place *place, const char *key)
{
    return (struct er_place){
        .parent = place, .key = key, .node = cJSON_GetObjectItemCaseSensitive(place->node, key)};
}

bool er_is_note(const cJSON *member) { return strcmp(member->string, "note") == 0; }

bool er_is_schema_key(const cJSON *member) { return strcmp(member->string, "$schema") == 0; }

bool er_place_has(const struct er_place *place, const char *key)
{
    return cJSON_GetObjectItemCaseSensitive(place->node, key) != NULL;
}

/* Appends one step of a JSON Pointer (RFC 6901, section 3). */
static void append_step(struct er_text *pointer, const struct er_place *place)
{
    er_text_append(pointer, "/");
    if (place->key == NULL) {
        er_text_appendf(pointer, "%zu", place->index);
        return;
    }
    for (const char *at = place->key; *at != '\0'; at++) {
        if (*at == '~' || *at == '/') {
            er_text_append(pointer, *at == '~' ? "~0" : "~1");
        } else {
            er_text_append_bytes(pointer, at, 1);
        }
    }
}

/* The JSON Pointer of a place in `arena`; NULL if memory ran out. */
static const char *pointer_of(struct er_arena *arena, const struct er_place *place)
{
    /* The tables nest objects eight deep at most, and lists of lists add two. */
    const struct er_place *steps[16];
    size_t depth = 0;
    for (const struct er_place *at = place; at->parent != NULL && depth < 16; at = at->parent) {
        steps[depth++] = at;
    }
    struct er_text pointer;
    er_text_init(&pointer);
    while (depth > 0) {
        append_step(&pointer, steps[--depth]);
    }
    const char *kept = NULL;
    if (!pointer.out_of_memory) {
        kept = er_arena_text(arena, er_text_string(&pointer));
    }
    er_text_release(&pointer);
    return kept;
}

void er_reader_problem(struct er_reader *reader, const struct er_place *place, enum er_spot spot,
                       const char *format, ...)
{
    if (!er_notices_room(&reader->notices)) {
        reader->notices.count++;
        return;
    }
    const struct er_place *there = place;
    while (there->node == NULL && there->parent != NULL) {
        there = there->parent;
    }
    struct er_text text;
    er_text_init(&text);
    va_list arguments;
    va_start(arguments, format);
    er_text_vappendf(&text, format, arguments);
    va_end(arguments);
    struct er_arena *arena = &reader->notices.arena;
    const char *kept = text.out_of_memory ? NULL : er_arena_text(arena, er_text_string(&text));
    er_text_release(&text);
    const char *pointer = pointer_of(arena, place);
    if (kept == NULL || pointer == NULL ||
        !er_notices_add(&reader->notices, there->node, spot, pointer, kept)) {
        reader->out_of_memory = true;
    }
}

/* The length of the first characters of `text` that fit into `room` bytes. */
static size_t whole_characters(const char *text, size_t room)
{
    size_t length = strlen(text);
    if (length <= room) {
        return length;
    }
    while (room > 0 && ((unsigned char)text[room] & 0xC0U) == 0x80U) {
        room--;
    }
    return room;
}

const char *er_reader_quote(struct er_reader *reader, const char *text)
{
    if (!er_notices_room(&reader->notices)) {
        return "";
    }
    const size_t length = whole_characters(text, MOST_QUOTED);
    const char *quoted = er_arena_format(&reader->notices.arena, "\"%.*s%s\"", (int)length, text,
                                         text[length] == '\0' ? "" : "...");
    reader->out_of_memory = reader->out_of_memory || quoted == NULL;
    return quoted == NULL ? "" : quoted;
}

/* One more assumption, or NULL if memory ran out. */
static struct er_assumption *new_assumption(struct er_reader *reader)
{
    if (reader->assumption_count == reader->assumption_room) {
        const size_t room = reader->assumption_room == 0 ? 16 : 2 * reader->assumption_room;
        struct er_assumption *grown = er_reader_array(reader, room, sizeof *grown);
        if (grown == NULL) {
            return NULL;
        }
        if (reader->assumption_count > 0) {
            memcpy(grown, reader->assumptions, reader->assumption_count * sizeof *grown);
        }
        reader->assumptions = grown;
        reader->assumption_room = room;
    }
    return &reader->assumptions[reader->assumption_count++];
}

const char *er_reader_pointer(struct er_reader *reader, const struct er_place *place)
{
    const char *pointer = pointer_of(&reader->arena, place);
    reader->out_of_memory = reader->out_of_memory || pointer == NULL;
    return pointer == NULL ? "" : pointer;
}

/* `of`: the tape or pipe it belongs to. */
static void assume(struct er_reader *reader, const struct er_place *place, const struct er_key *key,
                   double value, const char *text, const void *of)
{
    if (reader->is_catalogue || er_place_has(place, key->name)) {
        return;
    }
    const struct er_place missing = er_place_key(place, key->name);
    struct er_assumption *assumption = new_assumption(reader);
    if (assumption == NULL) {
        reader->out_of_memory = true;
        return;
    }
    const bool is_quantity = key->kind == ER_KEY_QUANTITY;
    *assumption = (struct er_assumption){
        .pointer = er_reader_pointer(reader, &missing),
        .value = value,
        .quantity = is_quantity ? key->quantity : ER_QUANTITY_COUNT,
        .unit = is_quantity ? NULL : (key->kind == ER_KEY_PERCENT ? "percent" : ""),
        .text = text,
        .of = of,
        .lowered_by_eu = key->lowered_by_eu};
}

void er_reader_assume(struct er_reader *reader, const struct er_place *place,
                      const struct er_object *object, const char *key, const void *of)
{
    const struct er_key *described = er_object_key(object, key);
    const double value = described->fallback[reader->system];
    const bool is_quantity = described->kind == ER_KEY_QUANTITY;
    assume(reader, place, described,
           is_quantity ? er_to_si(described->quantity, reader->system, value) : value,
           described->assumed, of);
}

void er_reader_assume_value(struct er_reader *reader, const struct er_place *place,
                            const struct er_object *object, const char *key, double value,
                            const char *text)
{
    assume(reader, place, er_object_key(object, key), value, text, NULL);
}

/* The system is wanted before anything else can be read; that it is missing or wrong is
 * told when its key is read in turn. */
static void find_system(struct er_reader *reader, const cJSON *root)
{
    const cJSON *units = cJSON_GetObjectItemCaseSensitive(root, "units");
    const bool is_metric = cJSON_IsString(units) && strcmp(units->valuestring, "metric") == 0;
    const bool is_us = cJSON_IsString(units) && strcmp(units->valuestring, "us") == 0;
    reader->system = is_metric ? ER_METRIC : ER_US;
    reader->system_known = is_metric || is_us;
}

static void release(struct er_reader *reader)
{
    er_arena_release(&reader->arena);
    er_notices_release(&reader->notices);
    if (reader->catalogue_open) {
        er_catalogue_release(&reader->catalogue);
    }
}

enum er_status er_field_entry_read(const struct er_document *document, struct er_field_entry *entry,
                                   struct er_problems *problems)
{
    memset(entry, 0, sizeof *entry);
    struct er_reader reader = {.document = document, .field = entry};
    const struct er_place root = {.node = er_document_root(document)};
    find_system(&reader, root.node);
    er_field_entry_begin(&reader, &root);
    er_read_object(&reader, &root, &er_field_object, entry, NULL);

    enum er_status status = ER_OK;
    if (reader.out_of_memory) {
        status = ER_NO_MEMORY;
    } else if (reader.notices.count > 0) {
        er_notices_tell(&reader.notices, document, problems);
        status = problems->out_of_memory ? ER_NO_MEMORY : ER_BAD_INPUT;
    } else {
        entry->field.arena = reader.arena;
        entry->field.assumption_count = reader.assumption_count;
        entry->field.assumptions = reader.assumptions;
        entry->field.odd_count = reader.odd_count;
        entry->field.odd_figures = reader.odd_figures;
        entry->field.own_pipe_count = entry->pipe_count;
        entry->field.own_pipes = entry->pipes;
        entry->field.own_tape_count = entry->tape_count;
        entry->field.own_tapes = entry->tapes;
        reader.arena = (struct er_arena){NULL};
    }
    release(&reader);
    return status;
}

enum er_status er_field_read(const struct er_document *document, struct er_field *field,
                             struct er_problems *problems)
{
    memset(field, 0, sizeof *field);
    struct er_field_entry entry;
    const enum er_status status = er_field_entry_read(document, &entry, problems);
    if (status == ER_OK) {
        *field = entry.field;
    }
    return status;
}
