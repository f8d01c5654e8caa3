/* A document: a file's text and its tree, with the overrides made to it since. */
#include "json/document.h"

#include <limits.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "json/merge.h"
#include "json/pointer.h"
#include "json/scan.h"
#include "json/set.h"
#include "json/tree.h"

/* The file comes first, then the overrides in the order they were made. A node of the tree
 * that override n put there, with all that is below it, has n as its valueint; all others
 * have 0, the file (cJSON itself keeps its number in valuedouble, and there alone we read it). */
struct er_document {
    cJSON *root;
    struct er_source_text *sources; /* each owns its origin and its text */
    size_t source_count, source_room;
};

static char *copy_bytes(const char *bytes, size_t length)
{
    char *copy = length < SIZE_MAX ? malloc(length + 1) : NULL;
    if (copy != NULL) {
        if (length > 0) {
            memcpy(copy, bytes, length);
        }
        copy[length] = '\0';
    }
    return copy;
}

static bool make_room_for_source(struct er_document *document)
{
    if (document->source_count < document->source_room) {
        return true;
    }
    size_t room = document->source_room == 0 ? 4 : 2 * document->source_room;
    if (room > INT_MAX || room > SIZE_MAX / sizeof *document->sources) {
        return false;
    }
    struct er_source_text *grown = realloc(document->sources, room * sizeof *grown);
    if (grown == NULL) {
        return false;
    }
    document->sources = grown;
    document->source_room = room;
    return true;
}

/* Adds a source with copies of its origin and text; NULL if memory ran out. */
static const struct er_source_text *add_source(struct er_document *document, const char *origin,
                                               bool has_lines, const char *text, size_t length)
{
    if (!make_room_for_source(document)) {
        return NULL;
    }
    char *origin_copy = copy_bytes(origin, strlen(origin));
    char *text_copy = copy_bytes(text, length);
    if (origin_copy == NULL || text_copy == NULL) {
        free(origin_copy);
        free(text_copy);
        return NULL;
    }
    struct er_source_text *source = &document->sources[document->source_count++];
    source->origin = origin_copy;
    source->has_lines = has_lines;
    source->text = text_copy;
    source->length = length;
    source->pointer = NULL;
    return source;
}

static void drop_last_source(struct er_document *document)
{
    struct er_source_text *source = &document->sources[--document->source_count];
    free((void *)source->origin);
    free((void *)source->text);
}

void er_document_release(struct er_document *document)
{
    if (document == NULL) {
        return;
    }
    while (document->source_count > 0) {
        drop_last_source(document);
    }
    free(document->sources);
    cJSON_Delete(document->root);
    free(document);
}

/* Reads the source into a tree that must be an object. */
static enum er_status read_object(const struct er_source_text *source, cJSON **tree,
                                  struct er_problems *problems)
{
    size_t depth = 0, offset = 0, line = 0, column = 0;
    bool is_json = false;
    enum er_status status = er_tree_read(source, tree, &depth, &is_json, problems);
    if (status != ER_OK || cJSON_IsObject(*tree)) {
        return status;
    }
    if (!er_tree_find(source, "", ER_AT_VALUE, &offset)) {
        status = ER_NO_MEMORY;
    } else {
        er_json_place(source->text, source->length, offset, &line, &column);
        er_problems_add(problems, source->origin, line, column, "",
                        "expected an object, {...}, and found %s", er_tree_kind_name(*tree));
        status = problems->out_of_memory ? ER_NO_MEMORY : ER_BAD_INPUT;
    }
    cJSON_Delete(*tree);
    *tree = NULL;
    return status;
}

enum er_status er_document_open(const char *name, const char *text, size_t length,
                                struct er_document **document, struct er_problems *problems)
{
    *document = NULL;
    struct er_document *opened = calloc(1, sizeof *opened);
    if (opened == NULL) {
        return ER_NO_MEMORY;
    }
    enum er_status status = ER_NO_MEMORY;
    const struct er_source_text *source = add_source(opened, name, true, text, length);
    if (source != NULL) {
        status = read_object(source, &opened->root, problems);
    }
    if (status != ER_OK) {
        er_document_release(opened);
        return status;
    }
    *document = opened;
    return ER_OK;
}

enum er_status er_document_assign(struct er_document *document, const char *assignment,
                                  er_when_set *when_set, struct er_problems *problems)
{
    struct er_text origin;
    er_text_init(&origin);
    er_set_origin(assignment, &origin);
    const struct er_source_text *source = NULL;
    if (!origin.out_of_memory) {
        source =
            add_source(document, er_text_string(&origin), false, assignment, strlen(assignment));
    }
    er_text_release(&origin);
    if (source == NULL) {
        return ER_NO_MEMORY;
    }
    int mark = (int)document->source_count - 1;
    enum er_status status = er_set_apply(source, &document->root, mark, when_set, problems);
    if (status != ER_OK) {
        drop_last_source(document);
    }
    return status;
}

enum er_status er_document_merge(struct er_document *document, const char *name, const char *text,
                                 size_t length, er_before_merge *before_merge,
                                 struct er_problems *problems)
{
    const struct er_source_text *source = add_source(document, name, true, text, length);
    if (source == NULL) {
        return ER_NO_MEMORY;
    }
    cJSON *patch = NULL;
    enum er_status status = read_object(source, &patch, problems);
    if (status != ER_OK) {
        drop_last_source(document);
        return status;
    }
    before_merge(document->root, patch);
    er_merge(document->root, patch, (int)document->source_count - 1);
    cJSON_Delete(patch);
    return ER_OK;
}

const cJSON *er_document_root(const struct er_document *document) { return document->root; }

int er_document_next_mark(const struct er_document *document)
{
    return (int)document->source_count;
}

bool er_document_replace(struct er_document *document, cJSON *root)
{
    struct er_text origin;
    er_text_init(&origin);
    er_text_appendf(&origin, "%s, as changed", document->sources[0].origin);
    const bool added = !origin.out_of_memory &&
                       add_source(document, er_text_string(&origin), false, "", 0) != NULL;
    er_text_release(&origin);
    if (added) {
        cJSON_Delete(document->root);
        document->root = root;
    }
    return added;
}

/* Follows `pointer` through the tree as far as it leads: *found is the length of that part,
 * and the source that put its end there is returned. */
static const struct er_source_text *find_source(const struct er_document *document,
                                                const char *pointer, size_t *found)
{
    const cJSON *node = document->root;
    int owner = node->valueint;
    const char *rest = pointer;
    struct er_pointer_step step;
    *found = 0;
    while (er_pointer_next(&rest, &step)) {
        node = er_pointer_child(node, &step);
        if (node == NULL) {
            break;
        }
        if (node->valueint != 0) {
            owner = node->valueint;
        }
        *found = (size_t)(rest - pointer);
    }
    return &document->sources[owner];
}

/* The place in the source of `pointer`, of which the tree has the first `found` bytes. */
static bool find_place(const struct er_source_text *source, const char *pointer, size_t found,
                       enum er_spot spot, size_t *line, size_t *column)
{
    *line = 0;
    *column = 0;
    if (!source->has_lines) {
        return true;
    }
    char *in_tree = copy_bytes(pointer, found);
    if (in_tree == NULL) {
        return false;
    }
    if (pointer[found] != '\0') {
        spot = ER_AT_VALUE; /* a missing key is missed in its parent's value */
    }
    size_t offset = 0;
    bool good = er_tree_find(source, in_tree, spot, &offset);
    free(in_tree);
    er_json_place(source->text, source->length, offset, line, column);
    return good;
}

void er_document_problem(const struct er_document *document, struct er_problems *problems,
                         const char *pointer, enum er_spot spot, const char *format, ...)
{
    if (problems->count >= ER_PROBLEMS_KEPT) {
        er_problems_add(problems, NULL, 0, 0, NULL, "only counted: its place would take a walk");
        return;
    }
    size_t found = 0, line = 0, column = 0;
    const struct er_source_text *source = find_source(document, pointer, &found);
    if (!find_place(source, pointer, found, spot, &line, &column)) {
        problems->out_of_memory = true;
    }
    struct er_text text;
    er_text_init(&text);
    va_list arguments;
    va_start(arguments, format);
    er_text_vappendf(&text, format, arguments);
    va_end(arguments);
    if (text.out_of_memory) {
        problems->out_of_memory = true;
    }
    er_problems_add(problems, source->origin, line, column, pointer, "%s", er_text_string(&text));
    er_text_release(&text);
}
