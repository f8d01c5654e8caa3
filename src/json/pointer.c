/* JSON Pointers taken apart, step by step, and followed in a tree. */
#include "json/pointer.h"

#include <stdint.h>
#include <string.h>

bool er_pointer_next(const char **rest, struct er_pointer_step *step)
{
    if (**rest == '\0') {
        return false;
    }
    step->start = *rest + 1;
    step->length = strcspn(step->start, "/");
    *rest = step->start + step->length;
    return true;
}

const char *er_pointer_fault(const char *pointer)
{
    if (*pointer != '\0' && *pointer != '/') {
        return "a JSON Pointer begins with a slash: /source/flow_limit";
    }
    for (const char *tilde = pointer; (tilde = strchr(tilde, '~')) != NULL; tilde++) {
        if (tilde[1] != '0' && tilde[1] != '1') {
            return "in a JSON Pointer ~ is written ~0, and a slash inside a key ~1";
        }
    }
    return NULL;
}

/* Reads one character of a step, which may be an escape, and moves *at past it. */
static char next_character(const char **at)
{
    char found = *(*at)++;
    if (found == '~') {
        found = *(*at)++ == '1' ? '/' : '~';
    }
    return found;
}

void er_pointer_decode(const struct er_pointer_step *step, struct er_text *key)
{
    const char *at = step->start;
    while (at < step->start + step->length) {
        char character = next_character(&at);
        er_text_append_bytes(key, &character, 1);
    }
}

bool er_pointer_is_key(const struct er_pointer_step *step, const char *key)
{
    const char *at = step->start;
    while (at < step->start + step->length) {
        if (next_character(&at) != *key || *key == '\0') {
            return false;
        }
        key++;
    }
    return *key == '\0';
}

bool er_pointer_is_index(const struct er_pointer_step *step, size_t *index)
{
    if (step->length == 0 || (step->length > 1 && step->start[0] == '0')) {
        return false;
    }
    size_t value = 0;
    for (size_t i = 0; i < step->length; i++) {
        char digit = step->start[i];
        if (digit < '0' || digit > '9') {
            return false;
        }
        size_t units = (size_t)(digit - '0');
        value = value > (SIZE_MAX - units) / 10 ? SIZE_MAX : value * 10 + units;
    }
    *index = value;
    return true;
}

cJSON *er_pointer_child(const cJSON *parent, const struct er_pointer_step *step)
{
    size_t index = 0;
    bool in_array = cJSON_IsArray(parent);
    if (!cJSON_IsObject(parent) && !(in_array && er_pointer_is_index(step, &index))) {
        return NULL;
    }
    for (cJSON *child = parent->child; child != NULL; child = child->next) {
        if (in_array ? index-- == 0 : er_pointer_is_key(step, child->string)) {
            return child;
        }
    }
    return NULL;
}

void er_pointer_append_key(struct er_text *pointer, const char *key)
{
    er_text_append(pointer, "/");
    for (; *key != '\0'; key++) {
        if (*key == '~' || *key == '/') {
            er_text_append(pointer, *key == '~' ? "~0" : "~1");
        } else {
            er_text_append_bytes(pointer, key, 1);
        }
    }
}
