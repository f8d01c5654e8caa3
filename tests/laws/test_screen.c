/* A plan judged by estimates fails as it fails when every emitter is worked out, unless the
 * estimate itself says that it is too close to call. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>

#include <cmocka.h>

#include "check/screen.h"
#include "laws.h"

/* How far an estimate may be off: half of what counts as a close call. */
#define ESTIMATE 5e-7

#define CLOSE_TO_DRY 1e-6 /* m: a close call, where the figures of a dry row may differ */

static size_t close_calls; /* of the fields that the law was held on */

static bool has_fail(const struct er_result *result, enum er_finding_code code)
{
    for (size_t f = 0; f < result->finding_count; f++) {
        if (result->findings[f].code == code) {
            return true;
        }
    }
    return false;
}

static void same_zone(struct law *law, const struct er_zone_result *a,
                      const struct er_zone_result *b)
{
    law_same(law, "flow", a->flow, b->flow, LEAST_FLOW);
    law_same(law, "lowest", a->emitter_pressure.min, b->emitter_pressure.min, LEAST_PRESSURE);
    law_same(law, "highest", a->emitter_pressure.max, b->emitter_pressure.max, LEAST_PRESSURE);
    if (a->emitter_pressure.min > 1e-3) {
        law_same(law, "uniformity", a->emission_uniformity, b->emission_uniformity, 1.0);
    }
}

static enum law_outcome judged_alike(struct law *law, const struct er_field *field,
                                     struct dice *dice)
{
    struct er_screen screen = {.all_cautions = true};
    struct er_result check, estimate;
    struct er_failure failure;
    bool close_call = true;
    (void)dice;
    if (er_check(field, field->system, &check, &failure) != ER_OK) {
        return LAW_REFUSED;
    }
    enum law_outcome outcome = LAW_NOT_CONCERNED;
    enum er_status status = er_screen_check(&screen, field, field->system, &estimate, &close_call);
    if (status == ER_OK) {
        for (int code = 0; code < ER_FINDING_COUNT; code++) {
            bool fail = er_finding_kind((enum er_finding_code)code)->level == ER_FAIL;
            bool alike = has_fail(&check, (enum er_finding_code)code) ==
                         has_fail(&estimate, (enum er_finding_code)code);
            if (fail && !close_call) {
                law_true(law, er_finding_kind((enum er_finding_code)code)->code, alike);
            }
        }
        if (!close_call) {
            law_true(law, "nothing to find",
                     (check.finding_count == 0) == (estimate.finding_count == 0));
        }
        bool dry = has_fail(&check, ER_ROW_DRY);
        for (size_t z = 0; z < field->zone_count; z++) {
            dry = dry || fabs(check.zones[z].emitter_pressure.min) < CLOSE_TO_DRY;
        }
        for (size_t z = 0; z < field->zone_count && !dry; z++) {
            same_zone(law, &check.zones[z], &estimate.zones[z]);
        }
        close_calls += close_call;
        outcome = LAW_HELD_ON;
        er_result_release(&estimate);
    }
    er_result_release(&check);
    er_screen_release(&screen);
    return outcome;
}

static void estimates_judge_as_checks_do(void **state)
{
    struct law law = {.name = "an estimate judges as a check does",
                      .allowed = ESTIMATE,
                      .first_seed = 52000,
                      .wanted = 400};
    (void)state;
    law_sweep(&law, judged_alike);
    print_message("%zu of %zu too close to call\n", close_calls, law.fields);
    assert_true(close_calls * 5 < law.fields); /* else the law would say little */
}

/* Whether these two cautions are all there is. */
static bool only_last_cautions(const struct er_result *result)
{
    size_t last = 0;
    for (size_t f = 0; f < result->finding_count; f++) {
        last += result->findings[f].code == ER_FLUSH_WEAK ||
                result->findings[f].code == ER_FILTER_DIRTY;
    }
    return last == result->finding_count;
}

static size_t weak, dirty; /* fields whose only findings they were */

/* Limits so wide that in many fields nothing else is found, so that a screening has to look for the
 * last cautions. */
static enum law_outcome finds_the_last_cautions(struct law *law, const struct er_field *drawn,
                                                struct dice *dice)
{
    struct er_screen screen = {.all_cautions = true};
    struct er_field easy = law_variant(drawn);
    struct er_result check, estimate;
    struct er_failure failure;
    bool close_call = true;
    easy.limits.uniformity = 0.01;
    easy.limits.flow_variation = 0.999;
    easy.source.flow_limit = ER_NONE;
    easy.source.storage = ER_NONE;
    easy.limits.velocity = 100.0;
    easy.limits.flush_velocity =
        fmax(1e-3, dice_between(dice, -2.0, 2.0)); /* half of them flush anyhow */
    struct er_part filter = {.name = "filter",
                             .loss = 0.1,
                             .at_flow = 2e-4,
                             .holds = ER_NONE,
                             .min_flow = ER_NONE,
                             .max_flow = ER_NONE,
                             .max_pressure = ER_NONE};
    filter.dirty_loss = dice_between(dice, 0.0, 20.0);
    easy.headworks = &filter;
    easy.headworks_count = 1;
    easy.hours = 1e9;
    enum law_outcome outcome = LAW_NOT_CONCERNED;
    if (er_check(&easy, easy.system, &check, &failure) != ER_OK) {
        er_field_release(&easy);
        return LAW_REFUSED;
    }
    if (er_screen_check(&screen, &easy, easy.system, &estimate, &close_call) == ER_OK) {
        bool same = (check.finding_count == 0) == (estimate.finding_count == 0);
        bool one = check.finding_count == 0 || estimate.finding_count == 0 ||
                   has_fail(&check, estimate.findings[0].code);
        law_true(law, "the last cautions", close_call || (same && one));
        if (only_last_cautions(&check)) {
            weak += has_fail(&check, ER_FLUSH_WEAK);
            dirty += !has_fail(&check, ER_FLUSH_WEAK) && has_fail(&check, ER_FILTER_DIRTY);
        }
        outcome = LAW_HELD_ON;
        er_result_release(&estimate);
    }
    er_result_release(&check);
    er_screen_release(&screen);
    er_field_release(&easy);
    return outcome;
}

static void estimates_find_the_last_cautions(void **state)
{
    struct law law = {
        .name = "an estimate finds weak flushing and dirty filters",
        .first_seed = 54000,
        .wanted = 400,
    };
    (void)state;
    law_sweep(&law, finds_the_last_cautions);
    print_message("%zu flush weakly, %zu fail with dirty filters\n", weak, dirty);
    assert_true(weak >= 5 && dirty >= 1); /* else the law would say little */
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(estimates_judge_as_checks_do),
                                       cmocka_unit_test(estimates_find_the_last_cautions)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
