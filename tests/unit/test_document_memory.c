/* Every allocation of opening and changing a document fails in its turn. */
#include "failing_malloc.h"

#include "json/document.h"

static enum er_status open_text(const char *text, struct er_document **document,
                                struct er_problems *problems)
{
    return er_document_open("field.json", text, strlen(text), document, problems);
}

/* A run of calls that all go well. */
static enum er_status change_much(struct er_problems *problems)
{
    const char *patch = "{\"a\": {\"b\": null, \"x\": [1, {\"y\": \"\\u00e9\"}]}, \"n\": {}}";
    struct er_document *document = NULL;
    enum er_status status =
        open_text("{\"a\": {\"b\": [1, 2, \"three\"]}, \"c\": true}", &document, problems);
    if (status == ER_OK) {
        status = er_document_set(document, "/a/d=12 psi", problems);
    }
    if (status == ER_OK) {
        status = er_document_patch(document, "wet.json", patch, strlen(patch), problems);
    }
    if (status == ER_OK) {
        status = er_document_set(document, "/a/x/-={\"k\":[null]}", problems);
    }
    if (status == ER_OK) {
        status = er_document_set(document, "={\"z\":1}", problems);
    }
    er_document_release(document);
    return status;
}

/* Opens a good document, and then makes a change that is refused. */
static enum er_status change(const char *assignment, struct er_problems *problems)
{
    struct er_document *document = NULL;
    enum er_status status = open_text("{\"a\": {\"b\": [1, 2]}}", &document, problems);
    if (status == ER_OK) {
        status = er_document_set(document, assignment, problems);
    }
    er_document_release(document);
    return status;
}

static enum er_status miss_a_key(struct er_problems *problems)
{
    return change("/b/x=1", problems);
}
static enum er_status miss_a_place(struct er_problems *problems)
{
    return change("/a/b/7=1", problems);
}
static enum er_status miss_an_equals(struct er_problems *problems)
{
    return change("/a", problems);
}
static enum er_status set_twice(struct er_problems *problems)
{
    return change("/a={\"k\":1,\"k\":2}", problems);
}

static enum er_status open_broken(struct er_problems *problems)
{
    struct er_document *document = NULL;
    return open_text("{\"a\": [1, 2,]}", &document, problems);
}

static enum er_status open_list(struct er_problems *problems)
{
    struct er_document *document = NULL;
    return open_text("[1, \"two\"]", &document, problems);
}

static enum er_status open_twice(struct er_problems *problems)
{
    struct er_document *document = NULL;
    return open_text("{\"a\": {\"k\": 1, \"k\": 2}, \"a\": 3}", &document, problems);
}

static enum er_status tell_a_problem(struct er_problems *problems)
{
    struct er_document *document = NULL;
    enum er_status status = open_text("{\"a\": {\"b\": [1, 2]}}", &document, problems);
    if (status == ER_OK) {
        er_document_problem(document, problems, "/a/b/1", ER_AT_VALUE, "%d is wrong", 2);
        status = problems->out_of_memory ? ER_NO_MEMORY : ER_BAD_INPUT;
    }
    er_document_release(document);
    return status;
}

static void each_allocation_may_fail(void **state)
{
    (void)state;
    fail_each(change_much, ER_OK, 40);
    fail_each(miss_a_key, ER_BAD_INPUT, 10);
    fail_each(miss_a_place, ER_BAD_INPUT, 10);
    fail_each(miss_an_equals, ER_BAD_INPUT, 10);
    fail_each(set_twice, ER_BAD_INPUT, 10);
    fail_each(open_broken, ER_BAD_INPUT, 8);
    fail_each(open_list, ER_BAD_INPUT, 8);
    fail_each(open_twice, ER_BAD_INPUT, 10);
    fail_each(tell_a_problem, ER_BAD_INPUT, 10);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(each_allocation_may_fail)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
