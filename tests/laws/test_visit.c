/* Visits to fields as they are planned. That planted faults are found: tests/reference. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "evenrow/divide.h"
#include "evenrow/visit.h"
#include "laws.h"

#define MOST_READINGS 40
#define PRESSURE_ERROR 0.14 /* m: of a gauge */
#define FLOW_ERROR 0.03     /* of a meter, a cup */

static size_t add(struct er_visit_reading *readings, size_t count, enum er_reading_kind kind,
                  size_t bed, double at)
{
    readings[count] = (struct er_visit_reading){
        .kind = kind, .bed = bed, .at = at, .value = ER_NONE, .time = ER_NONE};
    return count + 1;
}

/* What a thorough visit reads. */
static size_t list_places(struct er_visit_reading *readings)
{
    static const size_t beds[] = {0, 3, 6, 9};
    size_t count = add(readings, 0, ER_READ_SOURCE, 0, 0.0);
    count = add(readings, count, ER_READ_AFTER_PARTS, 0, 0.0);
    count = add(readings, count, ER_READ_AFTER_VALVE, 0, 0.0);
    count = add(readings, count, ER_READ_HEADER, 0, 0.0);
    count = add(readings, count, ER_READ_METER, 0, 0.0);
    for (size_t b = 0; b < 4; b++) {
        count = add(readings, count, ER_READ_BED_INLET, beds[b], 0.0);
        count = add(readings, count, ER_READ_BED_FAR_END, beds[b], 0.0);
    }
    for (size_t b = 0; b < 4; b++) {
        for (size_t e = 0; e < 5; e++) {
            count = add(readings, count, ER_READ_EMITTER, beds[b], 0.15 + 14.9 * (double)e);
        }
    }
    return count;
}

/* A fault of no size changes nothing, in any field: so its copy of the field is a good one. */
static enum law_outcome hold_no_size(struct law *law, const struct er_field *field,
                                     struct dice *dice)
{
    size_t zone = dice_whole(dice, 0, field->zone_count - 1);
    size_t bed = dice_whole(dice, 0, er_zone_beds(&field->zones[zone]) - 1);
    const struct er_fault faults[] = {
        {ER_FAULT_NONE, 0.0, 0},    {ER_FAULT_FILTER, 0.0, 0}, {ER_FAULT_PUMP, 1.0, 0},
        {ER_FAULT_VALVE, 0.0, 0},   {ER_FAULT_HEADER, 1.0, 0}, {ER_FAULT_LEAK, 1e-18, bed},
        {ER_FAULT_PLUGGED, 0.0, 0}, {ER_FAULT_TAPE, 1.0, 0},
    };
    struct er_visit_reading readings[MOST_READINGS];
    size_t count = list_places(readings);
    double planned[MOST_READINGS];
    for (size_t f = 0; f < sizeof faults / sizeof faults[0]; f++) {
        double shown[MOST_READINGS];
        if (!er_fault_possible(field, zone, faults[f].kind)) {
            continue;
        }
        enum er_status status = er_visit_predict(field, zone, &faults[f], readings, count, shown);
        if (status != ER_OK) {
            return LAW_REFUSED;
        }
        for (size_t i = 0; f > 0 && i < count; i++) {
            bool flow = readings[i].kind == ER_READ_METER || readings[i].kind == ER_READ_EMITTER;
            law_same_or_none(law, "reading", planned[i], shown[i],
                             flow ? LEAST_FLOW : LEAST_PRESSURE);
        }
        if (f == 0) {
            memcpy(planned, shown, sizeof planned);
        }
    }
    return LAW_HELD_ON;
}

static void test_no_size_changes_nothing(void **state)
{
    (void)state;
    struct law law = {
        .name = "a fault of no size", .allowed = 1e-6, .first_seed = 61000, .wanted = 200};
    law_sweep(&law, hold_no_size);
}

/* Readings that are just what the plan shows leave nothing to explain, in any field. */
static enum law_outcome hold_as_planned(struct law *law, const struct er_field *field,
                                        struct dice *dice)
{
    struct er_visit_reading readings[MOST_READINGS];
    double planned[MOST_READINGS];
    const struct er_fault none = {.kind = ER_FAULT_NONE};
    size_t zone = dice_whole(dice, 0, field->zone_count - 1);
    size_t count = 0;
    for (size_t bed = 0; bed < er_zone_beds(&field->zones[zone]) && bed < 4; bed++) {
        count = add(readings, count, ER_READ_BED_INLET, bed, 0.0);
        count = add(readings, count, ER_READ_EMITTER, bed, 0.1);
    }
    count = add(readings, count, ER_READ_METER, 0, 0.0);
    if (er_visit_predict(field, zone, &none, readings, count, planned) != ER_OK) {
        return LAW_REFUSED;
    }
    for (size_t i = 0; i < count; i++) {
        readings[i].value = planned[i];
    }
    const struct er_measured measured = {.zone = zone,
                                         .reading_count = count,
                                         .readings = readings,
                                         .pressure_accuracy = PRESSURE_ERROR,
                                         .meter_accuracy = FLOW_ERROR,
                                         .catch_accuracy = FLOW_ERROR};
    struct er_visit visit;
    assert_int_equal(er_visit_make(field, &measured, &visit), ER_OK);
    assert_true(visit.plan_is_right && visit.explained);
    law_same(law, "misfit", visit.hypotheses[visit.plan_place].misfit, 0.0, 1.0);
    er_visit_release(&visit);
    return LAW_HELD_ON;
}

static void test_as_planned_is_told(void **state)
{
    (void)state;
    struct law law = {
        .name = "readings as planned", .allowed = 1e-6, .first_seed = 62000, .wanted = 60};
    law_sweep(&law, hold_as_planned);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_as_planned_is_told),
        cmocka_unit_test(test_no_size_changes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
