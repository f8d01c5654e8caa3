/* Every allocation of writing a field, and of putting parts of it into a document, fails in its
 * turn; but for those that open the catalogue, of which tests/alloc has enough. */
#include "failing_malloc.h"

#include "evenrow/catalogue.h"
#include "evenrow/writing.h"

/* Of each kind of value one: a pipe in place, a curve, a map, a choice, a list. */
#define TEXT                                                                                       \
    "{\"units\": \"us\", \"title\": \"T\", \"source\": {\"curve\": [[0, 40], [30, 20]]},\n"        \
    "\"pipes\": {\"p\": {\"inside_diameter\": 2, \"price\": 1.5}},\n"                              \
    "\"tapes\": {\"t\": {\"flow\": 0.45, \"at_pressure\": 8, \"emitter_spacing\": 12,\n"           \
    "  \"inside_diameter\": \"5/8 in\", \"connector\": {\"loss\": 0.1}}},\n"                       \
    "\"mainline\": [{\"name\": \"A\", \"pipe\": {\"inside_diameter\": 2.5}, \"length\": 20}],\n"   \
    "\"water\": {\"need\": 0.2, \"efficiency\": 80},\n"                                            \
    "\"zones\": [{\"name\": \"1\", \"note\": \"near\", \"header\": {\"pipe\": \"p\", \"feed\": "   \
    "5},\n"                                                                                        \
    "  \"regulator\": {\"holds\": 12, \"place\": \"header\"},\n"                                   \
    "  \"beds\": [{\"count\": 4, \"length\": 100, \"spacing\": 6, \"tape\": \"t\"}]},\n"           \
    " {\"name\": \"2\", \"header\": {\"pipe\": \"p\"}, \"water\": {\"need\": 0.1},\n"              \
    "  \"beds\": [{\"count\": 3, \"length\": 90, \"spacing\": 6, \"tape\": \"t\"}]}],\n"           \
    "\"sets\": [[\"1\", \"2\"]]"

static const char text[] = TEXT "}";

/* Reading this one opens the catalogue. */
static const char priced[] = TEXT
    ", \"prices\": {\"valve\": 40, \"film\": {\"width\": 48}, \"pipes\": {\"p\": {\"price\": 2}},\n"
    "  \"tapes\": {\"t\": {\"roll_price\": 180}}}}";

static enum er_status open_both(const char *json, struct er_document **document,
                                struct er_field *field, struct er_problems *problems)
{
    enum er_status status = er_document_open("field.json", json, strlen(json), document, problems);
    if (status == ER_OK) {
        status = er_field_read(*document, field, problems);
    }
    return status;
}

static enum er_status read_twice(struct er_problems *problems)
{
    struct er_document *document = NULL;
    struct er_field field = {.title = NULL};
    enum er_status status = open_both(text, &document, &field, problems);
    er_field_release(&field);
    if (status == ER_OK) {
        status = er_field_read(document, &field, problems);
        er_field_release(&field);
    }
    er_document_release(document);
    return status;
}

static enum er_status open_catalogue(struct er_problems *problems)
{
    (void)problems;
    struct er_catalogue catalogue;
    const enum er_status status = er_catalogue_open(&catalogue);
    er_catalogue_release(&catalogue);
    return status;
}

/* Only the writing is counted. */
static enum er_status write_field(struct er_problems *problems)
{
    struct er_document *document = NULL;
    struct er_field field = {.title = NULL};
    char *written = NULL;
    counting = false;
    assert_int_equal(open_both(priced, &document, &field, problems), ER_OK);
    counting = true;
    const enum er_status status = er_field_write(&field, ER_METRIC, &written);
    free(written);
    counting = false;
    er_field_release(&field);
    er_document_release(document);
    counting = true;
    return status;
}

static enum er_status put_parts(struct er_problems *problems)
{
    struct er_document *document = NULL;
    struct er_field field = {.title = NULL};
    char *written = NULL;
    enum er_status status = open_both(text, &document, &field, problems);
    if (status == ER_OK) {
        const struct er_pipe wide = {"p", 0.08, 150.0, ER_NONE, ER_NONE, ER_PIPE_PVC};
        struct er_tape tape = *field.zones[0].groups[0].tape;
        tape.at_pressure = 7.0;
        struct er_bed_group group = field.zones[0].groups[0];
        group.tape = &tape;
        const struct er_header_piece piece = {&wide, ER_ENDLESS};
        struct er_zone zones[] = {field.zones[1], field.zones[0], field.zones[1]};
        zones[0].header.pieces = &piece;
        zones[1].groups = &group;
        zones[2].name = "3";
        struct er_field changed = field;
        const size_t together[] = {2, 1, 0};
        const struct er_set set = {3, together};
        const size_t origins[] = {1, 0, SIZE_MAX};
        changed.zones = zones;
        changed.zone_count = 3;
        changed.sets = &set;
        changed.set_count = 1;
        status = er_document_put(
            document, &changed,
            ER_PART_SOURCE | ER_PART_HEADWORKS | ER_PART_MAINLINE | ER_PART_ZONES, origins);
    }
    if (status == ER_OK) {
        status = er_document_write(document, &written);
    }
    free(written);
    er_field_release(&field);
    er_document_release(document);
    return status;
}

static void each_allocation_may_fail(void **state)
{
    (void)state;
    const unsigned long catalogue = count_allocations(open_catalogue, ER_OK) - 4;
    const unsigned long twice = count_allocations(read_twice, ER_OK) + 3;
    fail_each_but(write_field, ER_OK, 200, 3, catalogue);
    fail_each_but(put_parts, ER_OK, 400, twice, catalogue);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(each_allocation_may_fail)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
