/* An assignment to a place in a tree: its pointer and its value read, and the value put there. */
#include "json/set.h"

#include <string.h>

#include "base/nearest.h"
#include "json/merge.h"
#include "json/pointer.h"
#include "json/scan.h"

#define MOST_SHOWN 60 /* bytes of an assignment or a key that messages repeat */

static void append_shown(struct er_text *text, const char *string, size_t length)
{
    er_text_append_short(text, string, length, MOST_SHOWN);
}

void er_set_origin(const char *assignment, struct er_text *origin)
{
    er_text_append(origin, "--set ");
    append_shown(origin, assignment, strlen(assignment));
}

/* An assignment under way. */
struct assignment {
    const struct er_source_text *source;
    struct er_text pointer;
    cJSON *value;
    size_t value_depth;
    struct er_problems *problems;
};

/* Reports a problem of the pointer, whose steps up to `end` were found. */
static enum er_status refuse(struct assignment *assignment, const char *end,
                             const struct er_text *text)
{
    const char *pointer = er_text_string(&assignment->pointer);
    struct er_text place;
    er_text_init(&place);
    er_text_append_bytes(&place, pointer, (size_t)(end - pointer));
    er_problems_add(assignment->problems, assignment->source->origin, 0, 0, er_text_string(&place),
                    "%s", er_text_string(text));
    bool good =
        !place.out_of_memory && !text->out_of_memory && !assignment->problems->out_of_memory;
    er_text_release(&place);
    return good ? ER_BAD_INPUT : ER_NO_MEMORY;
}

/* Appends how messages name the place that the pointer's part up to `end` leads to. */
static void append_place(struct er_text *text, const char *pointer, const char *end)
{
    if (end == pointer) {
        er_text_append(text, "the top level");
    } else {
        append_shown(text, pointer, (size_t)(end - pointer));
    }
}

static void append_missing_key(struct er_text *text, const cJSON *parent,
                               const struct er_pointer_step *step)
{
    struct er_text key;
    er_text_init(&key);
    er_pointer_decode(step, &key);
    struct er_nearest nearest;
    er_nearest_begin(&nearest, er_text_string(&key));
    for (const cJSON *child = parent->child; child != NULL; child = child->next) {
        er_nearest_offer(&nearest, child->string);
    }
    er_text_append(text, " has no key \"");
    append_shown(text, er_text_string(&key), key.length);
    er_text_append(text, "\"");
    if (nearest.best != NULL) {
        er_text_appendf(text, "; did you mean \"%s\"?", nearest.best);
    }
    if (key.out_of_memory) {
        text->out_of_memory = true;
    }
    er_text_release(&key);
}

/* Reports that there is no way from `parent`, at the pointer's part up to `end`, to `step`. */
static enum er_status refuse_step(struct assignment *assignment, const cJSON *parent,
                                  const char *end, const struct er_pointer_step *step)
{
    struct er_text text;
    er_text_init(&text);
    append_place(&text, er_text_string(&assignment->pointer), end);
    size_t index = 0;
    if (cJSON_IsObject(parent)) {
        append_missing_key(&text, parent, step);
    } else if (!cJSON_IsArray(parent)) {
        er_text_appendf(&text, " is %s: nothing can be put inside it", er_tree_kind_name(parent));
    } else if (er_pointer_is_index(step, &index)) {
        int size = cJSON_GetArraySize(parent);
        er_text_appendf(&text, " is a list of %d, counted from 0: it has no place ", size);
        append_shown(&text, step->start, step->length);
        er_text_append(&text, "; - puts a new one at its end");
    } else {
        er_text_append(&text, " is a list: expected a number, counted from 0, or - for a new one "
                              "at its end");
    }
    enum er_status status = refuse(assignment, end, &text);
    er_text_release(&text);
    return status;
}

/* Finds the parent of the place and the last step to it. */
static enum er_status find_parent(struct assignment *assignment, cJSON *root, cJSON **parent,
                                  struct er_pointer_step *last, size_t *depth)
{
    const char *rest = er_text_string(&assignment->pointer);
    const char *end = rest;
    *parent = root;
    for (*depth = 1; er_pointer_next(&rest, last) && *rest != '\0'; ++*depth) {
        cJSON *child = er_pointer_child(*parent, last);
        if (child == NULL) {
            return refuse_step(assignment, *parent, end, last);
        }
        *parent = child;
        end = rest;
    }
    return ER_OK;
}

/* Adds the value as a new member of an object. */
static enum er_status add_member(struct assignment *assignment, cJSON *parent,
                                 const struct er_pointer_step *step)
{
    struct er_text key;
    er_text_init(&key);
    er_pointer_decode(step, &key);
    bool good = !key.out_of_memory &&
                cJSON_AddItemToObject(parent, er_text_string(&key), assignment->value);
    er_text_release(&key);
    if (!good) {
        return ER_NO_MEMORY;
    }
    assignment->value = NULL;
    return ER_OK;
}

/* Puts the value in its place. */
static enum er_status put_value(struct assignment *assignment, cJSON *root)
{
    cJSON *parent = NULL;
    struct er_pointer_step step;
    size_t depth = 0;
    enum er_status status = find_parent(assignment, root, &parent, &step, &depth);
    if (status != ER_OK) {
        return status;
    }
    if (depth + assignment->value_depth > ER_JSON_DEPTH) {
        struct er_text text;
        er_text_init(&text);
        er_text_appendf(&text, "more than %d objects and arrays inside each other", ER_JSON_DEPTH);
        status = refuse(assignment, step.start + step.length, &text);
        er_text_release(&text);
        return status;
    }
    cJSON *old = er_pointer_child(parent, &step);
    if (old != NULL) {
        er_replace_child(parent, old, assignment->value);
    } else if (cJSON_IsObject(parent)) {
        return add_member(assignment, parent, &step);
    } else if (cJSON_IsArray(parent) && step.length == 1 && *step.start == '-') {
        cJSON_AddItemToArray(parent, assignment->value);
    } else {
        return refuse_step(assignment, parent, step.start - 1, &step);
    }
    assignment->value = NULL;
    return ER_OK;
}

static enum er_status put_whole(struct assignment *assignment, cJSON **root)
{
    if (!cJSON_IsObject(assignment->value)) {
        er_problems_add(assignment->problems, assignment->source->origin, 0, 0, "",
                        "expected an object, {...}, for the whole file");
        return assignment->problems->out_of_memory ? ER_NO_MEMORY : ER_BAD_INPUT;
    }
    cJSON_Delete(*root);
    *root = assignment->value;
    assignment->value = NULL;
    return ER_OK;
}

/* Reads the value: JSON if it reads as JSON, else a text. */
static enum er_status read_value(struct assignment *assignment, const char *text)
{
    struct er_source_text value = {
        .origin = assignment->source->origin,
        .text = text,
        .length = strlen(text),
        .pointer = er_text_string(&assignment->pointer),
    };
    bool is_json = false;
    struct er_problems unused;
    er_problems_init(&unused);
    enum er_status status =
        er_tree_read(&value, &assignment->value, &assignment->value_depth, &is_json, &unused);
    er_problems_release(&unused);
    if (status != ER_BAD_INPUT) {
        return status;
    }
    if (is_json) { /* but for a key given twice: told again, this time for good */
        return er_tree_read(&value, &assignment->value, &assignment->value_depth, &is_json,
                            assignment->problems);
    }
    assignment->value_depth = 0;
    assignment->value = cJSON_CreateString(text);
    return assignment->value == NULL ? ER_NO_MEMORY : ER_OK;
}

/* NULL if the assignment is well formed, else what is wrong with it. */
static const char *assignment_fault(const struct er_source_text *source, const char *pointer)
{
    for (size_t at = 0; at < source->length;) {
        unsigned long character = 0;
        size_t length = er_utf8_character(source->text + at, source->length - at, &character);
        if (length == 0) {
            return "not valid UTF-8";
        }
        at += length;
    }
    if (strchr(source->text, '=') == NULL) {
        return "expected POINTER=VALUE, and there is no = in it";
    }
    return er_pointer_fault(pointer);
}

static enum er_status apply(struct assignment *assignment, cJSON **root, int mark,
                            er_when_set *when_set)
{
    const struct er_source_text *source = assignment->source;
    const char *pointer = er_text_string(&assignment->pointer);
    const char *fault = assignment_fault(source, pointer);
    if (fault != NULL) {
        er_problems_add(assignment->problems, source->origin, 0, 0, NULL, "%s", fault);
        return assignment->problems->out_of_memory ? ER_NO_MEMORY : ER_BAD_INPUT;
    }
    enum er_status status = read_value(assignment, strchr(source->text, '=') + 1);
    if (status != ER_OK) {
        return status;
    }
    assignment->value->valueint = mark;
    if (*pointer == '\0') {
        return put_whole(assignment, root);
    }
    status = put_value(assignment, *root);
    if (status == ER_OK) {
        when_set(*root, pointer);
    }
    return status;
}

enum er_status er_set_apply(const struct er_source_text *source, cJSON **root, int mark,
                            er_when_set *when_set, struct er_problems *problems)
{
    struct assignment assignment = {.source = source, .problems = problems};
    er_text_init(&assignment.pointer);
    er_text_append_bytes(&assignment.pointer, source->text, strcspn(source->text, "="));
    enum er_status status = ER_NO_MEMORY;
    if (!assignment.pointer.out_of_memory) {
        status = apply(&assignment, root, mark, when_set);
    }
    cJSON_Delete(assignment.value);
    er_text_release(&assignment.pointer);
    return status;
}
