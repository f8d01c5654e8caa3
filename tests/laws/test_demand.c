/* What a plan asks of its source is enough, and a thousandth less is not.
 *
 * A source is put into the field that holds the pressure found, and the field is checked as any
 * other: then the lowest tape inlet of each set has what was wanted and no regulator is short.
 * Where the answer is that no source can do it, a source that holds 5,000 m does not. Filters
 * due for cleaning are here filters that lose so much for good. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "evenrow/demand.h"
#include "laws.h"
#include "random_needs.h"

static const double NEAR = 1e-6; /* m */

/* The field with one of its sets alone, and a source that holds `pressure`. */
static struct er_field with_source(const struct er_field *field, size_t set, double pressure)
{
    struct er_field variant = law_variant(field);
    variant.sets = &field->sets[set];
    variant.set_count = 1;
    variant.source = (struct er_source){.kind = ER_SOURCE_PRESSURE,
                                        .pressure = pressure,
                                        .flow_limit = ER_NONE,
                                        .storage = ER_NONE,
                                        .refill = ER_NONE};
    return variant;
}

static const struct er_part *own_dirty_part(struct er_field *variant, const struct er_part *part)
{
    struct er_part *own = part ? law_own(variant, part, 1, sizeof *own) : NULL;
    if (own) {
        own->loss += own->dirty_loss;
        own->dirty_loss = 0.0;
    }
    return own;
}

/* Makes what the filters lose when they are dirty a part of their loss. */
static void dirty_for_good(struct er_field *variant)
{
    struct er_part *headworks =
        law_own(variant, variant->headworks, variant->headworks_count, sizeof(struct er_part));
    for (size_t p = 0; p < variant->headworks_count; p++) {
        headworks[p].loss += headworks[p].dirty_loss;
        headworks[p].dirty_loss = 0.0;
    }
    variant->headworks = headworks;
    struct er_zone *zones = law_own_zones(variant);
    for (size_t z = 0; z < variant->zone_count; z++) {
        zones[z].valve = own_dirty_part(variant, zones[z].valve);
        zones[z].regulator = own_dirty_part(variant, zones[z].regulator);
    }
}

static bool is_starved(const struct er_result *result)
{
    for (size_t f = 0; f < result->finding_count; f++) {
        if (result->findings[f].code == ER_REGULATOR_STARVED) {
            return true;
        }
    }
    return false;
}

/* The lowest tape inlet of the one set, and whether a regulator is short. False: refused. */
static bool inlet_with(const struct er_field *field, size_t set, bool dirty, double pressure,
                       double *lowest, bool *starved)
{
    struct er_result result;
    struct er_failure failure;
    struct er_field variant = with_source(field, set, pressure);
    if (dirty) {
        dirty_for_good(&variant);
    }
    bool solved = er_check(&variant, ER_METRIC, &result, &failure) == ER_OK;
    *lowest = (double)INFINITY;
    for (size_t z = 0; solved && z < variant.sets[0].zone_count; z++) {
        *lowest = fmin(*lowest, result.zones[variant.sets[0].zones[z]].tape_inlet_pressure.min);
    }
    *starved = solved && is_starved(&result);
    if (solved) {
        er_result_release(&result);
    }
    er_field_release(&variant);
    return solved;
}

/* That much is enough, and a thousandth less is not. */
static bool duty_holds(struct law *law, const struct er_field *field, size_t set, bool dirty,
                       const struct er_duty *duty, double wanted)
{
    double lowest;
    bool starved;
    if (!inlet_with(field, set, dirty, duty->pressure + NEAR, &lowest, &starved)) {
        return false;
    }
    law_true(law, "the lowest inlet has what is wanted", lowest >= wanted - NEAR);
    law_true(law, "no regulator is short", !starved);
    if (!(duty->pressure > 0.01)) {
        return true; /* a thousandth would be lost in the digits */
    }
    if (!inlet_with(field, set, dirty, 0.999 * duty->pressure, &lowest, &starved)) {
        return false;
    }
    law_true(law, "a thousandth less is short", lowest < wanted || starved);
    if (!inlet_with(field, set, dirty, duty->pressure, &lowest, &starved)) {
        return false;
    }
    if (duty->set_by.kind == ER_DEMAND_INLET) {
        law_true(law, "the lowest inlet has just that", fabs(lowest - wanted) <= NEAR);
    }
    return true;
}

static bool obstacle_holds(struct law *law, const struct er_field *field,
                           const struct er_demand_obstacle *obstacle)
{
    struct er_field strong = with_source(field, obstacle->set, 5000.0);
    struct er_result result;
    struct er_failure failure;
    if (obstacle->dirty) {
        dirty_for_good(&strong);
    }
    bool solved = er_check(&strong, ER_METRIC, &result, &failure) == ER_OK;
    if (solved) {
        double lowest = result.zones[obstacle->at.zone].tape_inlet_pressure.min;
        if (obstacle->at.kind == ER_DEMAND_INLET) {
            law_true(law, "no source can do it", lowest < obstacle->wanted);
            law_true(law, "that is all it gets", fabs(lowest - obstacle->pressure) <= NEAR);
        } else {
            law_true(law, "no source lets it regulate", is_starved(&result));
        }
        er_result_release(&result);
    }
    er_field_release(&strong);
    return solved;
}

static enum law_outcome holds(struct law *law, const struct er_field *field, struct dice *dice)
{
    const struct er_demand_request request = {.inlet_pressure = dice_scaled(dice, 0.5, 12.0),
                                              .efficiency = 0.7};
    struct er_demand demand;
    struct er_failure failure;
    if (er_demand_find(field, &request, ER_METRIC, &demand, &failure) != ER_OK) {
        return LAW_REFUSED;
    }
    bool solved = true;
    for (size_t s = 0; s < field->set_count && solved; s++) {
        const struct er_set_demand *set = &demand.sets[s];
        if (set->reachable) {
            solved = duty_holds(law, field, s, false, &set->clean, request.inlet_pressure) &&
                     duty_holds(law, field, s, true, &set->dirty, request.inlet_pressure);
        }
    }
    for (size_t o = 0; o < demand.obstacle_count && solved; o++) {
        solved = obstacle_holds(law, field, &demand.obstacles[o]);
    }
    er_demand_release(&demand);
    return solved ? LAW_HELD_ON : LAW_REFUSED;
}

static void demand_is_enough_and_no_less_is(void **state)
{
    (void)state;
    struct law law = {.name = "the source asked for is just enough",
                      .allowed = 1e-9,
                      .first_seed = 430000,
                      .wanted = 150,
                      .needs = true};
    law_sweep(&law, holds);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(demand_is_enough_and_no_less_is)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
