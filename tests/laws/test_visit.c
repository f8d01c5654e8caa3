/* Faults planted in a solved field, read with noise, and found again. */
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
#include "evenrow/reading.h"
#include "evenrow/visit.h"
#include "laws.h"

#define TRIALS 10
#define FOUND_LEAST 9 /* of them */
#define MOST_READINGS 40
#define PRESSURE_ERROR 0.14 /* m: of a gauge */
#define FLOW_ERROR 0.03     /* of a meter, a cup */
#define TAPE_CV 0.03
#define SHARE_OF_GAUGE 0.02

/* A pump, a filter, one zone with a valve and a regulator that is just held open, ten beds. */
static const char field_text[] =
    "{\"version\": 1, \"units\": \"metric\","
    "\"source\": {\"pump\": {\"curve\": [[0, 30], [3, 28], [6, 22], [9, 12]], \"lift\": 2}},"
    "\"headworks\": [{\"part\": \"filter\", \"loss\": 12, \"at_flow\": 4, \"dirty_loss\": 30}],"
    "\"tapes\": {\"t\": {\"flow\": 5, \"at_pressure\": 55, \"exponent\": 0.5,"
    "  \"emitter_spacing\": 300, \"inside_diameter\": 16, \"cv\": 0.03,"
    "  \"min_pressure\": 20, \"max_pressure\": 100}},"
    "\"zones\": [{\"name\": \"a\","
    "  \"valve\": {\"part\": \"valve\", \"loss\": 10, \"at_flow\": 4},"
    "  \"regulator\": {\"part\": \"regulator\", \"holds\": 90, \"loss\": 15, \"at_flow\": 4},"
    "  \"header\": {\"pipe\": {\"inside_diameter\": 38, \"c\": 140}, \"lead\": 5},"
    "  \"beds\": [{\"count\": 10, \"length\": 60, \"spacing\": 1.8, \"tape\": \"t\"}]}]}";

static int read_field(void **state)
{
    struct er_field *field = calloc(1, sizeof *field);
    struct er_document *document = NULL;
    struct er_problems problems;
    er_problems_init(&problems);
    assert_non_null(field);
    enum er_status status =
        er_document_open("field", field_text, strlen(field_text), &document, &problems);
    if (status == ER_OK) {
        status = er_field_read(document, field, &problems);
    }
    for (size_t i = 0; i < problems.count; i++) {
        printf("%s %s\n", problems.kept[i].pointer, problems.kept[i].text);
    }
    assert_int_equal(status, ER_OK);
    er_document_release(document);
    er_problems_release(&problems);
    *state = field;
    return 0;
}

static int release_field(void **state)
{
    er_field_release(*state);
    free(*state);
    return 0;
}

/* A number from a normal distribution: the sum of twelve even ones. */
static double normal(struct dice *dice)
{
    double sum = -6.0;
    for (int i = 0; i < 12; i++) {
        sum += dice_between(dice, 0.0, 1.0);
    }
    return sum;
}

static size_t add(struct er_visit_reading *readings, size_t count, enum er_reading_kind kind,
                  size_t bed, double at)
{
    readings[count] = (struct er_visit_reading){
        .kind = kind, .bed = bed, .at = at, .value = ER_NONE, .time = ER_NONE};
    return count + 1;
}

/* What a thorough visit reads; `parts` of it: without emitters, without the gauge behind the
 * valve. */
enum visit_parts { ALL_PLACES, NO_EMITTERS, NO_VALVE_GAUGE };

static size_t list_places(enum visit_parts parts, struct er_visit_reading *readings)
{
    static const size_t beds[] = {0, 3, 6, 9};
    size_t count = add(readings, 0, ER_READ_SOURCE, 0, 0.0);
    count = add(readings, count, ER_READ_AFTER_PARTS, 0, 0.0);
    if (parts != NO_VALVE_GAUGE) {
        count = add(readings, count, ER_READ_AFTER_VALVE, 0, 0.0);
    }
    count = add(readings, count, ER_READ_HEADER, 0, 0.0);
    count = add(readings, count, ER_READ_METER, 0, 0.0);
    for (size_t b = 0; b < 4; b++) {
        count = add(readings, count, ER_READ_BED_INLET, beds[b], 0.0);
        count = add(readings, count, ER_READ_BED_FAR_END, beds[b], 0.0);
    }
    for (size_t b = 0; parts != NO_EMITTERS && b < 4; b++) {
        for (size_t e = 0; e < 5; e++) {
            count = add(readings, count, ER_READ_EMITTER, beds[b], 0.15 + 14.9 * (double)e);
        }
    }
    return count;
}

/* Fills in what the faulty field shows, with the errors of instruments and of manufacture. */
static void read_faulty(const struct er_field *field, const struct er_fault *fault,
                        struct dice *dice, struct er_measured *measured)
{
    double shown[MOST_READINGS];
    assert_int_equal(
        er_visit_predict(field, 0, fault, measured->readings, measured->reading_count, shown),
        ER_OK);
    for (size_t i = 0; i < measured->reading_count; i++) {
        struct er_visit_reading *reading = &measured->readings[i];
        double error = hypot(PRESSURE_ERROR, SHARE_OF_GAUGE * shown[i]);
        if (reading->kind == ER_READ_METER) {
            error = FLOW_ERROR * shown[i];
        } else if (reading->kind == ER_READ_EMITTER) {
            error = hypot(FLOW_ERROR, TAPE_CV) * shown[i];
        }
        reading->value = fmax(0.0, shown[i] + error * normal(dice));
        bool emitter = reading->kind == ER_READ_EMITTER;
        if (emitter && fault->kind == ER_FAULT_PLUGGED && dice_chance(dice, fault->value)) {
            reading->value = 0.0;
        }
    }
}

/* One visit to a field with a fault in it. The caller releases it; `measured` must stay. */
static void visit_faulty(const struct er_field *field, const struct er_fault *fault, uint64_t seed,
                         enum visit_parts parts, struct er_measured *measured,
                         struct er_visit_reading *readings, struct er_visit *visit)
{
    struct dice dice = {seed};
    *measured = (struct er_measured){.reading_count = list_places(parts, readings),
                                     .readings = readings,
                                     .pressure_accuracy = PRESSURE_ERROR,
                                     .meter_accuracy = FLOW_ERROR,
                                     .catch_accuracy = FLOW_ERROR};
    read_faulty(field, fault, &dice, measured);
    assert_int_equal(er_visit_make(field, measured, visit), ER_OK);
}

/* Whether the fault was ranked first, near its value and its bed. */
static bool was_found(const struct er_visit *visit, const struct er_fault *fault, double near)
{
    const struct er_fault *first = &visit->hypotheses[0].fault;
    if (fault->kind == ER_FAULT_NONE) {
        return visit->plan_is_right;
    }
    bool at_bed = first->kind == ER_FAULT_LEAK || first->kind == ER_FAULT_OPEN_END;
    if (at_bed && (visit->hypotheses[0].first_bed > fault->bed ||
                   visit->hypotheses[0].last_bed < fault->bed)) {
        return false;
    }
    return first->kind == fault->kind && fabs(first->value - fault->value) <= near &&
           !visit->plan_is_right;
}

struct planted {
    const char *name;
    struct er_fault fault;
    double near; /* how far off the fitted value may be */
};

static void test_planted_faults_are_found(void **state)
{
    const struct er_field *field = *state;
    const struct planted planted[] = {
        {"nothing", {ER_FAULT_NONE, 0.0, 0}, 0.0},
        {"clogged filter", {ER_FAULT_FILTER, 9.0, 0}, 1.5},
        {"worn pump", {ER_FAULT_PUMP, 0.75, 0}, 0.05},
        {"valve part closed", {ER_FAULT_VALVE, 16.0, 0}, 1.5},
        {"regulator low", {ER_FAULT_REGULATOR, 5.5, 0}, 0.4},
        {"narrow header", {ER_FAULT_HEADER, 0.6, 0}, 0.05},
        {"leak", {ER_FAULT_LEAK, 3e-4, 6}, 6e-5},
        {"open end", {ER_FAULT_OPEN_END, 0.0, 6}, 0.0},
        {"plugged emitters", {ER_FAULT_PLUGGED, 0.2, 0}, 0.08},
        {"other tape", {ER_FAULT_TAPE, 0.75, 0}, 0.05},
    };
    for (size_t p = 0; p < sizeof planted / sizeof planted[0]; p++) {
        size_t found = 0;
        for (uint64_t trial = 0; trial < TRIALS; trial++) {
            struct er_visit_reading readings[MOST_READINGS];
            struct er_measured measured;
            struct er_visit visit;
            visit_faulty(field, &planted[p].fault, 1000 * (p + 1) + trial, ALL_PLACES, &measured,
                         readings, &visit);
            found += was_found(&visit, &planted[p].fault, planted[p].near);
            er_visit_release(&visit);
        }
        printf("planted %-18s found %zu times of %d\n", planted[p].name, found, TRIALS);
        assert_true(found >= FOUND_LEAST);
    }
}

/* Whether `kind` is among those that cannot be told from the likeliest. */
static bool is_among(const struct er_visit *visit, enum er_fault_kind kind)
{
    for (size_t h = 0; h < visit->hypothesis_count; h++) {
        if (visit->hypotheses[h].fault.kind == kind) {
            return visit->hypotheses[h].as_good;
        }
    }
    return false;
}

/* Two faults that act alike on all that was read are both named, and the reading that tells. */
static void two_alike(const struct er_field *field, const struct er_fault *fault,
                      enum er_fault_kind other, enum visit_parts parts, enum er_reading_kind tells)
{
    size_t named = 0;
    for (uint64_t trial = 0; trial < TRIALS; trial++) {
        struct er_visit_reading readings[MOST_READINGS];
        struct er_measured measured;
        struct er_visit visit;
        visit_faulty(field, fault, 77000 + trial, parts, &measured, readings, &visit);
        named += is_among(&visit, fault->kind) && is_among(&visit, other) && !visit.plan_is_right &&
                 visit.telling.found && visit.telling.reading.kind == tells;
        er_visit_release(&visit);
    }
    printf("alike: fault %d and %d named %zu times of %d\n", (int)fault->kind, (int)other, named,
           TRIALS);
    assert_true(named >= FOUND_LEAST);
}

/* Behind a valve that lets too little through, the regulator passes what there is. */
static void test_valve_and_regulator_are_alike(void **state)
{
    const struct er_fault valve = {ER_FAULT_VALVE, 16.0, 0};
    two_alike(*state, &valve, ER_FAULT_REGULATOR, NO_VALVE_GAUGE, ER_READ_AFTER_VALVE);
}

/* Without a cup held under one, nobody knows whether some give nothing or all give less. */
static void test_plugged_and_other_tape_are_alike(void **state)
{
    const struct er_fault plugged = {ER_FAULT_PLUGGED, 0.25, 0};
    two_alike(*state, &plugged, ER_FAULT_TAPE, NO_EMITTERS, ER_READ_EMITTER);
}

/* A slight fault that another can look like: it is always among those named. */
static void test_slight_fault_is_named(void **state)
{
    const struct er_fault fault = {ER_FAULT_HEADER, 0.75, 0};
    size_t named = 0;
    for (uint64_t trial = 0; trial < TRIALS; trial++) {
        struct er_visit_reading readings[MOST_READINGS];
        struct er_measured measured;
        struct er_visit visit;
        visit_faulty(*state, &fault, 88000 + trial, ALL_PLACES, &measured, readings, &visit);
        named += is_among(&visit, fault.kind);
        er_visit_release(&visit);
    }
    printf("slight: named %zu times of %d\n", named, TRIALS);
    assert_true(named >= FOUND_LEAST);
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
    size_t count = list_places(ALL_PLACES, readings);
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
        cmocka_unit_test(test_planted_faults_are_found),
        cmocka_unit_test(test_valve_and_regulator_are_alike),
        cmocka_unit_test(test_plugged_and_other_tape_are_alike),
        cmocka_unit_test(test_slight_fault_is_named),
        cmocka_unit_test(test_as_planned_is_told),
        cmocka_unit_test(test_no_size_changes_nothing),
    };
    return cmocka_run_group_tests(tests, read_field, release_field);
}
