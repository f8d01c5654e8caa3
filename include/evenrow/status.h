/* How a call ended. Every function of evenrow that can fail returns one of these.
 *
 * The outputs of a call are valid only when it returned ER_OK. A problem that
 * has a place in somebody's file is also put, with that place, into an
 * er_problems list (problems.h). */
#ifndef EVENROW_STATUS_H
#define EVENROW_STATUS_H

#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

enum er_status {
    ER_OK = 0,
    ER_BAD_INPUT,  /* what was given cannot be used; the problems list says where and why */
    ER_NO_MEMORY,  /* memory ran out; nothing was changed */
    ER_NOT_CLOSED, /* a solution did not close to its tolerance; there is no answer */
    ER_IO,         /* a file could not be read or written; errno says more */
    ER_STATUS_COUNT
};

/* What could not be solved, where a call ended with ER_NOT_CLOSED. */
struct er_failure {
    char what[160]; /* what did not close: "zone 2", "set 1" */
    size_t passes;
    double residual; /* relative */
    bool in_row; /* it was one row of tape that did not close; passes and residual say nothing */
};

/* A short text for `status`, lower case, never NULL, also for a value out of range. */
const char *er_status_text(enum er_status status);

#ifdef __cplusplus
}
#endif

#endif
