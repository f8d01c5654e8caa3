/* Every allocation of opening and changing a document fails in its turn: the call must end
 * in ER_NO_MEMORY, and nothing may be lost. It takes the place of glibc's malloc, which is
 * still there under another name. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "evenrow/reading.h"
#include "field/document.h"

#if defined(__SANITIZE_ADDRESS__)
#define CAN_FAIL 0 /* the sanitizer has taken malloc's place already */
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define CAN_FAIL 0
#endif
#endif
#if !defined(CAN_FAIL)
#if defined(__GLIBC__)
#define CAN_FAIL 1
#else
#define CAN_FAIL 0
#endif
#endif

static bool counting;
static unsigned long allocations; /* asked for since counting began */
static unsigned long failing;     /* which of them fails, from 1; 0: none */
static bool and_all_after;
static long blocks; /* allocated and not yet freed */

#if CAN_FAIL
extern void *__libc_malloc(size_t size);
extern void *__libc_calloc(size_t count, size_t size);
extern void *__libc_realloc(void *block, size_t size);
extern void __libc_free(void *block);

static bool fails(void)
{
    if (!counting) {
        return false;
    }
    allocations++;
    return failing != 0 && (allocations == failing || (and_all_after && allocations > failing));
}

static void *counted(void *block)
{
    blocks += counting && block != NULL;
    return block;
}

void *malloc(size_t size) { return fails() ? NULL : counted(__libc_malloc(size)); }

void *calloc(size_t count, size_t size)
{
    return fails() ? NULL : counted(__libc_calloc(count, size));
}

void *realloc(void *block, size_t size)
{
    if (fails()) {
        return NULL;
    }
    void *grown = __libc_realloc(block, size);
    return block == NULL ? counted(grown) : grown;
}

void free(void *block)
{
    blocks -= counting && block != NULL;
    __libc_free(block);
}
#endif

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

/* One run with the given allocation failing; returns whether that one was reached. */
static bool run(enum er_status (*calls)(struct er_problems *), enum er_status wanted,
                unsigned long which)
{
    allocations = 0;
    blocks = 0;
    failing = which;
    counting = true;
    struct er_problems problems;
    er_problems_init(&problems);
    enum er_status status = calls(&problems);
    er_problems_release(&problems);
    counting = false;
    bool reached = which != 0 && allocations >= which;
    if (status != (reached ? ER_NO_MEMORY : wanted) || blocks != 0) {
        print_error("allocation %lu of %lu: %s, %ld blocks lost\n", which, allocations,
                    er_status_text(status), blocks);
    }
    assert_int_equal(blocks, 0);
    assert_int_equal(status, reached ? ER_NO_MEMORY : wanted);
    return reached;
}

static void fail_each(enum er_status (*calls)(struct er_problems *), enum er_status wanted,
                      unsigned long least)
{
    run(calls, wanted, 0);
    assert_true(!CAN_FAIL || allocations >= least);
    if (!CAN_FAIL) {
        skip();
    }
    for (int round = 0; round < 2; round++) {
        and_all_after = round == 1;
        unsigned long which = 1;
        while (run(calls, wanted, which)) {
            which++;
        }
    }
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
