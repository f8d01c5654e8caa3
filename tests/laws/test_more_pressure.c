/* More pressure at the source never lowers any flow.
 *
 * Every pipe, part, regulator and emitter passes no less when the pressure before it rises, and
 * a source whose whole curve is lifted leaves more at any flow. So what a tape, a header, a zone,
 * a section takes never falls as its inlet's pressure rises, and from the source on each inlet's
 * does rise: a sum of takings that had grown so much as to lower it would be less than before.
 * It holds for sets of several zones too. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "laws.h"

/* Lifts the source's pressure by `lift` m at every flow. */
static void lift_source(struct er_field *field, double lift)
{
    struct er_source *source = &field->source;
    struct er_point *curve =
        law_own(field, source->curve, source->curve_count, sizeof(struct er_point));
    for (size_t i = 0; i < source->curve_count; i++) {
        curve[i].value += lift;
    }
    source->curve = curve;
    source->pressure += lift;
    source->static_pressure += lift;
    source->test_pressure += lift;
}

static void tapes_not_lower(struct law *law, const struct law_emitters_pair *pair)
{
    const struct law_emitters *before = &pair->before, *after = &pair->after;
    double flow_before = 0, flow_after = 0;
    for (size_t i = 0; i < before->count; i++) {
        flow_before += before->list[i].flow;
        flow_after += after->list[i].flow;
        if (i + 1 == before->count || before->list[i + 1].place == 0) {
            law_not_lower(law, "a tape's flow", flow_after, flow_before, LEAST_FLOW);
            flow_before = flow_after = 0;
        }
    }
}

static enum law_outcome holds(struct law *law, const struct er_field *field, struct dice *dice)
{
    struct er_field lifted = law_variant(field);
    lift_source(&lifted, dice_scaled(dice, 1e-6, 10));
    struct law_emitters_pair pair;
    bool solved = law_list_pair(law, field, &lifted, &pair);
    if (solved) {
        for (size_t i = 0; i < pair.before.count; i++) {
            law_emitter_not_lower(law, &pair, i);
        }
        tapes_not_lower(law, &pair);
        law_emitters_pair_release(&pair);
    }
    er_field_release(&lifted);
    return solved ? LAW_HELD_ON : LAW_REFUSED;
}

static void more_pressure_lowers_no_flow(void **state)
{
    (void)state;
    struct law law = {.name = "more source pressure lowers no flow",
                      .allowed = 1e-9,
                      .first_seed = 240000,
                      .wanted = 1000};
    law_sweep(&law, holds);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(more_pressure_lowers_no_flow)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
