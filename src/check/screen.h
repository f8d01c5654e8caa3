/* A check by estimates, for searches that judge plans by the thousand.
 *
 * What a row takes at its inlet pressure is learnt once for all plans that have such rows;
 * a plan is then solved along its headers and pipes alone. Every fail is judged by the code
 * that er_check judges by, with figures that are right within some 1e-7. A plan with a figure
 * nearer to its limit than 1e-6 is a close call, and er_check has to decide it. */
#ifndef ER_CHECK_SCREEN_H
#define ER_CHECK_SCREEN_H

#include "check/flushed.h"
#include "evenrow/check.h"
#include "hydraulics/response_pool.h"

/* What has been learnt of rows. All zeros is an empty one. The tapes and profiles of every
 * field screened must outlive it, in their places. Each thread needs its own. */
struct er_screen {
    struct er_response_pool pool;
    bool all_cautions; /* of a plan with no other finding: set by the caller, on the first use */
    struct er_flushed flushed;
};

/* As er_check, with these differences: the cautions filter-dirty and flush-weak are judged only
 * with all_cautions, in sets without any other finding, and without a text; what needs the single
 * emitters (low quarter, Christiansen, statistical uniformity, emitter flows) and the flushing are
 * NAN. *close_call: er_check may judge otherwise. ER_NOT_CLOSED, too, only means that er_check has
 * to decide. */
enum er_status er_screen_check(struct er_screen *screen, const struct er_field *field,
                               enum er_system speaks, struct er_result *result, bool *close_call);

void er_screen_release(struct er_screen *screen);

#endif
