/* A tree made from JSON text, token by token, with the keys that stand twice in an object. */
#include "json/tree.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "json/scan.h"

/* A key of an object that is still open. */
struct open_key {
    const char *name; /* the tree's */
    size_t offset;    /* where it stands in the text */
};

struct builder {
    struct er_json_scanner scanner;
    cJSON *root;
    cJSON *open[ER_JSON_DEPTH];      /* objects and arrays not closed yet */
    size_t first_key[ER_JSON_DEPTH]; /* for each of them: where its keys begin in keys */
    size_t depth, deepest;
    struct er_text key; /* the last key read */
    size_t key_offset;
    struct er_text string; /* the last string read */
    struct open_key *keys;
    size_t key_count, key_room;
    struct er_duplicate *duplicates;
    size_t duplicate_count, duplicate_room;
};

/* Makes room for one more element of `size` bytes. Returns false if memory ran out. */
static bool make_room(void **array, size_t count, size_t *room, size_t size)
{
    if (count < *room) {
        return true;
    }
    size_t wanted = *room == 0 ? 64 : 2 * *room;
    if (wanted > SIZE_MAX / size) {
        return false;
    }
    void *grown = realloc(*array, wanted * size);
    if (grown == NULL) {
        return false;
    }
    *array = grown;
    *room = wanted;
    return true;
}

static cJSON *make_string(struct builder *builder, const struct er_json_token *token)
{
    er_text_clear(&builder->string);
    er_json_decode(builder->scanner.text, token, &builder->string);
    return builder->string.out_of_memory ? NULL
                                         : cJSON_CreateString(er_text_string(&builder->string));
}

/* The node of a token that begins a value; NULL if memory ran out. */
static cJSON *make_node(struct builder *builder, const struct er_json_token *token)
{
    switch (token->kind) {
    case ER_JSON_OBJECT:
        return cJSON_CreateObject();
    case ER_JSON_ARRAY:
        return cJSON_CreateArray();
    case ER_JSON_STRING:
        return make_string(builder, token);
    case ER_JSON_NUMBER:
        return cJSON_CreateNumber(token->number);
    case ER_JSON_TRUE:
        return cJSON_CreateTrue();
    case ER_JSON_FALSE:
        return cJSON_CreateFalse();
    default:
        return cJSON_CreateNull();
    }
}

/* Hangs a node under the object or array that is open. Returns false if memory ran out. */
static bool attach(struct builder *builder, cJSON *node)
{
    if (builder->depth == 0) {
        builder->root = node;
        return true;
    }
    cJSON *parent = builder->open[builder->depth - 1];
    if (cJSON_IsArray(parent)) {
        return cJSON_AddItemToArray(parent, node);
    }
    if (!cJSON_AddItemToObject(parent, er_text_string(&builder->key), node)) {
        return false;
    }
    builder->keys[builder->key_count].name = node->string;
    builder->keys[builder->key_count].offset = builder->key_offset;
    builder->key_count++;
    return true;
}

static enum er_status add_value(struct builder *builder, const struct er_json_token *token)
{
    cJSON *node = make_node(builder, token);
    if (node == NULL) {
        return ER_NO_MEMORY;
    }
    node->valueint = 0; /* see er_document: it is the file that put this node here */
    if (!attach(builder, node)) {
        cJSON_Delete(node);
        return ER_NO_MEMORY;
    }
    if (token->kind == ER_JSON_OBJECT || token->kind == ER_JSON_ARRAY) {
        builder->first_key[builder->depth] = builder->key_count;
        builder->open[builder->depth++] = node;
        builder->deepest = builder->depth > builder->deepest ? builder->depth : builder->deepest;
    }
    return ER_OK;
}

static enum er_status take_key(struct builder *builder, const struct er_json_token *token)
{
    er_text_clear(&builder->key);
    er_json_decode(builder->scanner.text, token, &builder->key);
    builder->key_offset = token->start;
    void *keys = builder->keys;
    bool room = make_room(&keys, builder->key_count, &builder->key_room, sizeof *builder->keys);
    builder->keys = keys;
    return room && !builder->key.out_of_memory ? ER_OK : ER_NO_MEMORY;
}

static int compare_keys(const void *a, const void *b)
{
    const struct open_key *one = a;
    const struct open_key *other = b;
    int order = strcmp(one->name, other->name);
    return order != 0 ? order : (one->offset > other->offset) - (one->offset < other->offset);
}

static enum er_status add_duplicate(struct builder *builder, size_t first, size_t second)
{
    void *duplicates = builder->duplicates;
    bool room = make_room(&duplicates, builder->duplicate_count, &builder->duplicate_room,
                          sizeof *builder->duplicates);
    builder->duplicates = duplicates;
    if (!room) {
        return ER_NO_MEMORY;
    }
    builder->duplicates[builder->duplicate_count].first = first;
    builder->duplicates[builder->duplicate_count].second = second;
    builder->duplicate_count++;
    return ER_OK;
}

/* Closes the innermost object or array, and notes the keys that it has twice. */
static enum er_status close_container(struct builder *builder)
{
    size_t first_key = builder->first_key[--builder->depth];
    size_t count = builder->key_count - first_key;
    builder->key_count = first_key;
    if (count < 2) {
        return ER_OK;
    }
    struct open_key *keys = builder->keys + first_key;
    qsort(keys, count, sizeof *keys, compare_keys);
    size_t first = 0;
    for (size_t i = 1; i < count; i++) {
        if (strcmp(keys[first].name, keys[i].name) != 0) {
            first = i;
        } else if (add_duplicate(builder, keys[first].offset, keys[i].offset) != ER_OK) {
            return ER_NO_MEMORY;
        }
    }
    return ER_OK;
}

static enum er_status take_token(struct builder *builder, const struct er_json_token *token)
{
    switch (token->kind) {
    case ER_JSON_KEY:
        return take_key(builder, token);
    case ER_JSON_OBJECT_END:
    case ER_JSON_ARRAY_END:
        return close_container(builder);
    default:
        return add_value(builder, token);
    }
}

static enum er_status report_fault(const struct er_source_text *source,
                                   const struct er_json_scanner *scanner,
                                   struct er_problems *problems)
{
    size_t line = 0, column = 0;
    if (source->has_lines) {
        er_json_place(source->text, source->length, scanner->fault_at, &line, &column);
    }
    er_problems_add(problems, source->origin, line, column, NULL, "%s",
                    er_text_string(&scanner->fault));
    return scanner->fault.out_of_memory || problems->out_of_memory ? ER_NO_MEMORY : ER_BAD_INPUT;
}

static enum er_status build(struct builder *builder, const struct er_source_text *source,
                            struct er_problems *problems)
{
    struct er_json_token token = er_json_next(&builder->scanner);
    while (token.kind != ER_JSON_END) {
        if (token.kind == ER_JSON_FAULT) {
            return report_fault(source, &builder->scanner, problems);
        }
        if (take_token(builder, &token) != ER_OK) {
            return ER_NO_MEMORY;
        }
        token = er_json_next(&builder->scanner);
    }
    return ER_OK;
}

enum er_status er_tree_read(const struct er_source_text *source, cJSON **tree, size_t *depth,
                            bool *is_json, struct er_problems *problems)
{
    struct builder builder = {.root = NULL};
    er_json_begin(&builder.scanner, source->text, source->length);
    er_text_init(&builder.key);
    er_text_init(&builder.string);

    enum er_status status = build(&builder, source, problems);
    *is_json = status == ER_OK;
    if (status == ER_OK && builder.duplicate_count > 0) {
        status = er_tree_report_duplicates(source, builder.duplicates, builder.duplicate_count,
                                           problems);
    }
    if (status != ER_OK) {
        cJSON_Delete(builder.root);
        builder.root = NULL;
    }
    *tree = builder.root;
    *depth = builder.deepest;
    free(builder.duplicates);
    free(builder.keys);
    er_text_release(&builder.string);
    er_text_release(&builder.key);
    er_json_finish(&builder.scanner);
    return status;
}

const char *er_tree_kind_name(const cJSON *value)
{
    switch (value->type & 0xff) { /* the rest of the bits are cJSON's own business */
    case cJSON_Object:
        return "an object, {...}";
    case cJSON_Array:
        return "a list, [...]";
    case cJSON_String:
        return "a text";
    case cJSON_Number:
        return "a number";
    case cJSON_True:
        return "true";
    case cJSON_False:
        return "false";
    default:
        return "null";
    }
}
