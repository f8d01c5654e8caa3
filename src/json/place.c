/* Where in a text the places of its tree stand. */
#include <stdlib.h>
#include <string.h>

#include "json/pointer.h"
#include "json/scan.h"
#include "json/tree.h"

/* Reads on inside the object or array just opened, to the member or element that `step` leads
 * to. On success *key_offset is its key (an element has none: its value), *token its value's
 * first token. Returns false if it is not there, or memory ran out (`key` tells). */
static bool enter(struct er_json_scanner *scanner, const struct er_pointer_step *step,
                  struct er_json_token *token, size_t *key_offset, struct er_text *key)
{
    bool in_object = token->kind == ER_JSON_OBJECT;
    size_t wanted = 0;
    if (!in_object && !(token->kind == ER_JSON_ARRAY && er_pointer_is_index(step, &wanted))) {
        return false;
    }
    for (size_t index = 0;; index++) {
        bool found = index == wanted;
        *token = er_json_next(scanner);
        *key_offset = token->start;
        if (in_object && token->kind == ER_JSON_KEY) {
            er_text_clear(key);
            er_json_decode(scanner->text, token, key);
            found = er_pointer_is_key(step, er_text_string(key));
            *token = er_json_next(scanner);
        }
        if (token->kind == ER_JSON_OBJECT_END || token->kind == ER_JSON_ARRAY_END ||
            token->kind == ER_JSON_FAULT || key->out_of_memory) {
            return false;
        }
        if (found) {
            return true;
        }
        er_json_skip(scanner, token);
    }
}

bool er_tree_find(const struct er_source_text *source, const char *pointer, enum er_spot spot,
                  size_t *offset)
{
    struct er_json_scanner scanner;
    er_json_begin(&scanner, source->text, source->length);
    struct er_text key;
    er_text_init(&key);

    struct er_json_token token = er_json_next(&scanner);
    size_t value_offset = token.start;
    size_t key_offset = token.start;
    bool whole = true;
    struct er_pointer_step step;
    while (whole && er_pointer_next(&pointer, &step)) {
        size_t next_key_offset = 0;
        whole = enter(&scanner, &step, &token, &next_key_offset, &key);
        if (whole) {
            key_offset = next_key_offset;
            value_offset = token.start;
        }
    }
    *offset = whole && spot == ER_AT_KEY ? key_offset : value_offset;

    bool good = !key.out_of_memory && !scanner.fault.out_of_memory;
    er_text_release(&key);
    er_json_finish(&scanner);
    return good;
}

/* The way from the top of a text to where a scanner stands. */
struct path {
    struct er_json_token key[ER_JSON_DEPTH]; /* for each open object: its last key */
    size_t index[ER_JSON_DEPTH];             /* for each open array: its elements so far */
};

/* Notes a token on the path. */
static void follow(struct path *path, const struct er_json_scanner *scanner,
                   const struct er_json_token *token)
{
    bool opening = token->kind == ER_JSON_OBJECT || token->kind == ER_JSON_ARRAY;
    bool closing = token->kind == ER_JSON_OBJECT_END || token->kind == ER_JSON_ARRAY_END;
    if (token->kind == ER_JSON_KEY) {
        path->key[scanner->depth - 1] = *token;
        return;
    }
    size_t depth = scanner->depth - (opening ? 1 : 0); /* of the one that this value is in */
    if (!closing && depth > 0) {
        path->index[depth - 1]++;
    }
    if (opening) {
        path->index[depth] = 0;
    }
}

static void append_path(struct er_text *pointer, const struct path *path,
                        const struct er_json_scanner *scanner, struct er_text *key)
{
    for (size_t i = 0; i < scanner->depth; i++) {
        if (scanner->text[scanner->opened[i]] == '{') {
            er_text_clear(key);
            er_json_decode(scanner->text, &path->key[i], key);
            er_pointer_append_key(pointer, er_text_string(key));
        } else {
            er_text_appendf(pointer, "/%zu", path->index[i] - 1);
        }
    }
}

static int compare_duplicates(const void *a, const void *b)
{
    const struct er_duplicate *one = a;
    const struct er_duplicate *other = b;
    return (one->second > other->second) - (one->second < other->second);
}

/* Reports one key given twice; the scanner has just read the second. */
static enum er_status report_duplicate(const struct er_source_text *source,
                                       const struct er_duplicate *duplicate,
                                       const struct path *path,
                                       const struct er_json_scanner *scanner,
                                       struct er_problems *problems)
{
    struct er_text pointer, key;
    er_text_init(&pointer);
    er_text_init(&key);
    er_text_append(&pointer, source->pointer != NULL ? source->pointer : "");
    append_path(&pointer, path, scanner, &key);

    size_t line = 0, column = 0, first_line = 0, first_column = 0;
    if (source->has_lines) {
        er_json_place(source->text, source->length, duplicate->second, &line, &column);
        er_json_place(source->text, source->length, duplicate->first, &first_line, &first_column);
        er_problems_add(problems, source->origin, line, column, er_text_string(&pointer),
                        "the key \"%s\" is given twice: first in line %zu, and again here",
                        er_text_string(&key), first_line);
    } else {
        er_problems_add(problems, source->origin, 0, 0, er_text_string(&pointer),
                        "the key \"%s\" is given twice", er_text_string(&key));
    }
    bool good = !pointer.out_of_memory && !key.out_of_memory && !problems->out_of_memory;
    er_text_release(&key);
    er_text_release(&pointer);
    return good ? ER_OK : ER_NO_MEMORY;
}

enum er_status er_tree_report_duplicates(const struct er_source_text *source,
                                         struct er_duplicate *duplicates, size_t count,
                                         struct er_problems *problems)
{
    qsort(duplicates, count, sizeof *duplicates, compare_duplicates);
    struct er_json_scanner scanner;
    er_json_begin(&scanner, source->text, source->length);
    struct path path;
    enum er_status status = ER_OK;
    size_t next = 0;
    while (next < count && status == ER_OK && problems->count < ER_PROBLEMS_KEPT) {
        struct er_json_token token = er_json_next(&scanner);
        if (token.kind == ER_JSON_END || token.kind == ER_JSON_FAULT) {
            break;
        }
        follow(&path, &scanner, &token);
        if (token.kind == ER_JSON_KEY && token.start == duplicates[next].second) {
            status = report_duplicate(source, &duplicates[next], &path, &scanner, problems);
            next++;
        }
    }
    er_json_finish(&scanner);
    for (; next < count && status == ER_OK; next++) { /* the rest is only counted */
        er_problems_add(problems, source->origin, 0, 0, NULL, "a key given twice");
    }
    return status == ER_OK ? ER_BAD_INPUT : status;
}
