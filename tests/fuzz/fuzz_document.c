/* Opens a field file of any bytes, changes it, tells problems in it, reads the field, and checks
 * what must hold.
 *
 * An input is a field file and, each after a byte 0x1e, what changes it: a merge patch if it
 * begins with P, an assignment if it begins with S. */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "evenrow/reading.h"
#include "json/document.h"
#include "json/pointer.h"

#define SEPARATOR 0x1e

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(int good, const char *what)
{
    if (!good) {
        fprintf(stderr, "does not hold: %s\n", what);
        abort();
    }
}

/* A call ended well and told nothing, or ended badly and told why. */
static void check_status(enum er_status status, const struct er_problems *problems)
{
    must(status == ER_OK || status == ER_BAD_INPUT, "status");
    must((status == ER_OK) == (problems->count == 0), "problems tell of bad input");
    for (size_t i = 0; i < problems->count && i < ER_PROBLEMS_KEPT; i++) {
        const struct er_problem *problem = &problems->kept[i];
        must(problem->origin != NULL && problem->text != NULL, "a problem has a text");
        must((problem->line == 0) == (problem->column == 0), "a line has a column");
        for (const char *at = problem->text; at != NULL && *at != '\0'; at++) {
            must((unsigned char)*at >= 0x20 && *at != 0x7f, "a text is safe to print");
        }
    }
}

/* Tells a problem at each of the first nodes, with no fewer than 0 left to tell. */
static void tell_problems(const struct er_document *document, const cJSON *node,
                          struct er_text *pointer, int *left)
{
    if (--*left < 0) {
        return;
    }
    struct er_problems problems;
    er_problems_init(&problems);
    er_document_problem(document, &problems, er_text_string(pointer),
                        *left % 2 == 0 ? ER_AT_KEY : ER_AT_VALUE, "%s", "wrong");
    check_status(ER_BAD_INPUT, &problems);
    er_problems_release(&problems);

    size_t length = pointer->length;
    size_t index = 0;
    for (const cJSON *child = node->child; child != NULL; child = child->next, index++) {
        if (cJSON_IsObject(node)) {
            er_pointer_append_key(pointer, child->string);
        } else {
            er_text_appendf(pointer, "/%zu", index);
        }
        tell_problems(document, child, pointer, left);
        pointer->length = length;
        pointer->data[length] = '\0';
    }
}

/* The tree is an object that, printed and read again, is the same. */
static void check_tree(const struct er_document *document)
{
    const cJSON *root = er_document_root(document);
    must(cJSON_IsObject(root), "a document is an object");
    char *printed = cJSON_PrintUnformatted(root);
    must(printed != NULL, "a tree can be printed");
    struct er_problems problems;
    er_problems_init(&problems);
    struct er_document *again = NULL;
    enum er_status status = er_document_open("again", printed, strlen(printed), &again, &problems);
    must(status == ER_OK, "a printed tree can be read");
    must(cJSON_Compare(root, er_document_root(again), 1), "a tree read again is the same");
    er_document_release(again);
    er_problems_release(&problems);
    cJSON_free(printed);

    struct er_text pointer;
    er_text_init(&pointer);
    er_text_append(&pointer, "");
    int left = 40;
    tell_problems(document, root, &pointer, &left);
    er_text_release(&pointer);
}

/* Makes one change; a change that is refused leaves the document good. */
static void change(struct er_document *document, const char *text, size_t length)
{
    struct er_problems problems;
    er_problems_init(&problems);
    enum er_status status = ER_OK;
    if (text[0] == 'P') {
        status = er_document_patch(document, "patch", text + 1, length - 1, &problems);
    } else if (text[0] == 'S') {
        status = er_document_set(document, text + 1, &problems);
    }
    check_status(status, &problems);
    er_problems_release(&problems);
}

/* The tree is a field, or else every problem has its place. */
static void read_field(const struct er_document *document)
{
    struct er_problems problems;
    er_problems_init(&problems);
    struct er_field field;
    memset(&field, 0, sizeof field);
    enum er_status status = er_field_read(document, &field, &problems);
    check_status(status, &problems);
    must(status == ER_OK || field.arena.newest == NULL, "what is no field is empty");
    er_field_release(&field);
    er_problems_release(&problems);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = malloc(size + 1);
    if (text == NULL) {
        return 0;
    }
    if (size > 0) {
        memcpy(text, data, size);
    }
    text[size] = '\0';
    char *end = memchr(text, SEPARATOR, size);
    size_t length = end != NULL ? (size_t)(end - text) : size;

    struct er_problems problems;
    er_problems_init(&problems);
    struct er_document *document = NULL;
    enum er_status status = er_document_open("field", text, length, &document, &problems);
    check_status(status, &problems);
    er_problems_release(&problems);
    while (status == ER_OK && end != NULL) {
        char *start = end + 1;
        size_t rest = size - (size_t)(start - text);
        end = memchr(start, SEPARATOR, rest);
        length = end != NULL ? (size_t)(end - start) : rest;
        start[length] = '\0'; /* an assignment is a string; a patch is taken by its length */
        change(document, start, length);
    }
    if (status == ER_OK) {
        check_tree(document);
        read_field(document);
    }
    er_document_release(document);
    free(text);
    return 0;
}
