/* Every allocation of a row of calls fails in its turn: they must end in ER_NO_MEMORY, and
 * nothing may be lost. This takes the place of glibc's malloc, which is still there under another
 * name. For one file of a test program only. */
#ifndef ER_TESTS_FAILING_MALLOC_H
#define ER_TESTS_FAILING_MALLOC_H

#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "evenrow/problems.h"
#include "evenrow/status.h"

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

/* How many allocations a row of calls makes when all goes well. */
static unsigned long count_allocations(enum er_status (*calls)(struct er_problems *),
                                       enum er_status wanted)
{
    run(calls, wanted, 0);
    return allocations;
}

/* Makes each allocation fail but those from `skipped` on, `skipped_count` of them. Then again
 * with all that follow it, where some are skipped for the sake of time at every fifth. */
static void fail_each_but(enum er_status (*calls)(struct er_problems *), enum er_status wanted,
                          unsigned long least, unsigned long skipped, unsigned long skipped_count)
{
    const unsigned long count = count_allocations(calls, wanted);
    assert_true(!CAN_FAIL || count >= least);
    if (!CAN_FAIL) {
        skip();
    }
    for (int round = 0; round < 2; round++) {
        and_all_after = round == 1;
        const unsigned long step = and_all_after && skipped_count > 0 ? 5 : 1;
        unsigned long which = 1;
        while (run(calls, wanted, which)) {
            which += which < skipped && which + step >= skipped ? skipped_count + step : step;
        }
    }
}

static inline void fail_each(enum er_status (*calls)(struct er_problems *), enum er_status wanted,
                             unsigned long least)
{
    fail_each_but(calls, wanted, least, 0, 0);
}

#endif
