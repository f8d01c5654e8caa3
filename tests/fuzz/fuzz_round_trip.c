/* Reads a field file of any bytes. What is a field must be one again when it is written, in its
 * own units and in the others, and the same one: written once more it gives the same text. Put
 * into its own document it must change nothing that is read from it. */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "evenrow/reading.h"
#include "evenrow/writing.h"

#define MOST_ZONES 64

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void must(int good, const char *what)
{
    if (!good) {
        fprintf(stderr, "does not hold: %s\n", what);
        abort();
    }
}

static enum er_status open_text(const char *text, size_t length, struct er_document **document,
                                struct er_field *field)
{
    struct er_problems problems;
    er_problems_init(&problems);
    memset(field, 0, sizeof *field);
    enum er_status status = er_document_open("field", text, length, document, &problems);
    if (status == ER_OK) {
        status = er_field_read(*document, field, &problems);
    }
    er_problems_release(&problems);
    return status;
}

static char *written(const struct er_field *field, enum er_system system)
{
    char *text = NULL;
    must(er_field_write(field, system, &text) == ER_OK, "a field can be written");
    return text;
}

static void check_writing(const struct er_field *field, enum er_system system)
{
    char *text = written(field, system);
    struct er_document *document = NULL;
    struct er_field again;
    must(open_text(text, strlen(text), &document, &again) == ER_OK, "what is written can be read");
    must(again.system == system, "the units are as told");
    char *second = written(&again, system);
    must(strcmp(text, second) == 0, "what is written is read as it was");
    free(second);
    er_field_release(&again);
    er_document_release(document);
    free(text);
}

static void check_putting(struct er_document *document, const struct er_field *field)
{
    size_t origins[MOST_ZONES];
    for (size_t i = 0; i < MOST_ZONES; i++) {
        origins[i] = i;
    }
    char *before = NULL;
    char *after = NULL;
    must(er_document_write(document, &before) == ER_OK, "a document can be written");
    must(er_document_put(document, field,
                         ER_PART_SOURCE | ER_PART_HEADWORKS | ER_PART_MAINLINE | ER_PART_ZONES,
                         origins) == ER_OK,
         "a field can be put into its document");
    must(er_document_write(document, &after) == ER_OK, "a changed document can be written");
    struct er_document *changed = NULL;
    struct er_field again;
    must(open_text(after, strlen(after), &changed, &again) == ER_OK, "and can be read");
    char *wanted = written(field, field->system);
    char *found = written(&again, field->system);
    must(strcmp(wanted, found) == 0, "a document keeps its field");
    free(found);
    free(wanted);
    er_field_release(&again);
    er_document_release(changed);
    free(before);
    free(after);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct er_document *document = NULL;
    struct er_field field;
    if (open_text((const char *)data, size, &document, &field) == ER_OK) {
        check_writing(&field, field.system);
        check_writing(&field, field.system == ER_US ? ER_METRIC : ER_US);
        if (field.zone_count <= MOST_ZONES) {
            check_putting(document, &field);
        }
    }
    er_field_release(&field);
    er_document_release(document);
    return 0;
}
