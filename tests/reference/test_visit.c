/* Faults planted in fields that the reference solves, read there with noise, and found again. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "../trust/trust.h"
#include "evenrow/divide.h"
#include "evenrow/reading.h"
#include "evenrow/visit.h"
#include "planted.h"
#include "random_field.h"
#include "visit/fault.h"

#define MOST_READINGS 80
#define BEDS_READ 4
#define CUPS_A_BED 5
#define PRESSURE_ERROR 0.14 /* m: of a gauge */
#define FLOW_ERROR 0.03     /* of a meter, a cup */
#define SHARE_OF_GAUGE 0.02

/* A number from a normal distribution: the sum of twelve even ones. */
static double normal(struct dice *dice)
{
    double sum = -6.0;
    for (int i = 0; i < 12; i++) {
        sum += dice_between(dice, 0.0, 1.0);
    }
    return sum;
}

/* ---- what is read ---- */

/* What a thorough visit reads; `parts` of it: without emitters, without the gauge behind the
 * valve. */
enum visit_parts { ALL_PLACES, NO_EMITTERS, NO_VALVE_GAUGE };

struct visiting {
    struct er_visit_reading readings[MOST_READINGS];
    double deviation[MOST_READINGS]; /* of the instrument that reads it, and of the tape */
    size_t count;
    struct er_measured measured;
    struct er_visit visit;
};

static void add(struct visiting *at, enum er_reading_kind kind, size_t bed, bool second, double x)
{
    at->readings[at->count++] = (struct er_visit_reading){.kind = kind,
                                                          .bed = bed,
                                                          .second_side = second,
                                                          .at = x,
                                                          .value = ER_NONE,
                                                          .time = ER_NONE};
}

static void add_bed(struct visiting *at, const struct reference_run *run, bool emitters,
                    double spacing)
{
    add(at, ER_READ_BED_INLET, run->bed, run->second_side, 0.0);
    add(at, ER_READ_BED_FAR_END, run->bed, run->second_side, 0.0);
    size_t cups = run->count < CUPS_A_BED ? run->count : CUPS_A_BED;
    for (size_t c = 0; emitters && c < cups; c++) {
        size_t e = cups > 1 ? c * (run->count - 1) / (cups - 1) : 0;
        add(at, ER_READ_EMITTER, run->bed, run->second_side, ((double)e + 0.5) * spacing);
    }
}

static const struct er_tape *tape_of(const struct er_zone *zone, size_t bed)
{
    const struct er_bed_group *group = zone->groups;
    for (; bed >= group->count; group++) {
        bed -= group->count;
    }
    return group->tape;
}

/* Gauges and meter, then beds evenly along the header, both sides where there are two. */
static void list_places(const struct planted *healthy, enum visit_parts parts, struct visiting *at)
{
    const struct er_zone *zone = &healthy->field.zones[healthy->zone];
    size_t beds = er_zone_beds(zone);
    at->count = 0;
    add(at, ER_READ_SOURCE, 0, false, 0.0);
    add(at, ER_READ_AFTER_PARTS, 0, false, 0.0);
    if (parts != NO_VALVE_GAUGE && zone->valve != NULL) {
        add(at, ER_READ_AFTER_VALVE, 0, false, 0.0);
    }
    add(at, ER_READ_HEADER, 0, false, 0.0);
    add(at, ER_READ_METER, 0, false, 0.0);
    size_t read = beds < BEDS_READ ? beds : BEDS_READ;
    for (size_t b = 0; b < read; b++) {
        size_t bed = read > 1 ? b * (beds - 1) / (read - 1) : 0;
        double spacing = tape_of(zone, bed)->emitter_spacing;
        for (int side = 0; side < 2; side++) {
            const struct reference_run *run = planted_run(healthy, bed, side == 1);
            if (run != NULL) {
                add_bed(at, run, parts != NO_EMITTERS, spacing);
            }
        }
    }
}

/* Fills in what is read there, and how far off that may be. */
static void read_places(const struct planted *planted, struct visiting *at)
{
    const struct er_zone *zone = &planted->field.zones[planted->zone];
    for (size_t i = 0; i < at->count; i++) {
        struct er_visit_reading *reading = &at->readings[i];
        reading->value = planted_read(planted, reading);
        at->deviation[i] = hypot(PRESSURE_ERROR, SHARE_OF_GAUGE * reading->value);
        if (reading->kind == ER_READ_METER) {
            at->deviation[i] = FLOW_ERROR * reading->value;
        } else if (reading->kind == ER_READ_EMITTER) {
            at->deviation[i] = hypot(FLOW_ERROR, tape_of(zone, reading->bed)->cv) * reading->value;
        }
    }
}

/* Puts the errors in, and asks the program. */
static void visit(const struct er_field *field, size_t zone, double noise, struct dice *dice,
                  struct visiting *at)
{
    for (size_t i = 0; i < at->count; i++) {
        at->readings[i].value =
            fmax(0.0, at->readings[i].value + noise * at->deviation[i] * normal(dice));
    }
    at->measured = (struct er_measured){.zone = zone,
                                        .reading_count = at->count,
                                        .readings = at->readings,
                                        .pressure_accuracy = PRESSURE_ERROR,
                                        .meter_accuracy = FLOW_ERROR,
                                        .catch_accuracy = FLOW_ERROR};
    assert_int_equal(er_visit_make(field, &at->measured, &at->visit), ER_OK);
}

static bool is_at_bed(enum er_fault_kind kind)
{
    return kind == ER_FAULT_LEAK || kind == ER_FAULT_OPEN_END;
}

/* Whether `kind` is among those that cannot be told from the likeliest. */
static bool is_named(const struct er_visit *visit, enum er_fault_kind kind)
{
    for (size_t h = 0; h < visit->hypothesis_count; h++) {
        if (visit->hypotheses[h].fault.kind == kind) {
            return visit->hypotheses[h].as_good;
        }
    }
    return false;
}

/* Whether the fault was ranked first, near its value and its bed. */
static bool was_found(const struct er_visit *visit, const struct er_fault *fault, double near)
{
    const struct er_hypothesis *first = &visit->hypotheses[0];
    if (fault->kind == ER_FAULT_NONE) {
        return visit->plan_is_right && visit->explained;
    }
    bool at_bed = !is_at_bed(fault->kind) ||
                  (first->first_bed <= fault->bed && fault->bed <= first->last_bed);
    return first->fault.kind == fault->kind && !visit->plan_is_right && at_bed &&
           (fault->kind == ER_FAULT_OPEN_END || fabs(first->fault.value - fault->value) <= near);
}

/* ---- random fields ---- */

#define FIELDS 50
#define SEEN 60.0        /* an effect, below which a fault may well be taken for another */
#define LEAST_HEALTHY 1. /* m at each emitter */
#define LEAST_FAULTY .1  /* m: below it digits under all tolerances decide what flows */

#define FIELDS_COMPARED 100
#define ALIKE 3e-4 /* an open end is closed on its header within 0.1 mm */

static const uint64_t FIRST_SEED = 5000;
static const uint64_t MORE_SEEDS = 6000;

struct kind_tally {
    size_t planted, found, named, alike;
};

/* How far the readings are from the healthy ones, in squares of their deviations. */
static double effect(const struct planted *healthy, const struct visiting *at)
{
    double sum = 0.0;
    for (size_t i = 0; i < at->count; i++) {
        double off = at->readings[i].value - planted_read(healthy, &at->readings[i]);
        sum += at->deviation[i] > 0.0 ? pow(off / at->deviation[i], 2.0) : 0.0;
    }
    return sum;
}

static bool can_plant(const struct planted *healthy, enum er_fault_kind kind)
{
    const struct er_part *valve = healthy->field.zones[healthy->zone].valve;
    if (kind == ER_FAULT_VALVE && valve != NULL) {
        return er_given(valve->at_flow) && !er_given(valve->holds);
    }
    return er_fault_possible(&healthy->field, healthy->zone, kind);
}

/* A share of what is healthy, well below or above it. */
static double less_or_more(struct dice *dice)
{
    return dice_chance(dice, 0.5) ? dice_between(dice, 0.5, 0.85) : dice_between(dice, 1.2, 1.8);
}

static struct er_fault draw_fault(struct dice *dice, const struct planted *healthy,
                                  enum er_fault_kind kind)
{
    const struct er_zone *zone = &healthy->field.zones[healthy->zone];
    struct er_fault fault = {.kind = kind};
    fault.bed = is_at_bed(kind) ? dice_whole(dice, 0, er_zone_beds(zone) - 1) : 0;
    switch (kind) {
    case ER_FAULT_FILTER:
    case ER_FAULT_VALVE:
        fault.value = dice_between(dice, 2, 10);
        break;
    case ER_FAULT_PUMP:
    case ER_FAULT_HEADER:
        fault.value = dice_between(dice, 0.5, 0.9);
        break;
    case ER_FAULT_REGULATOR:
        fault.value = zone->regulator->holds * less_or_more(dice);
        break;
    case ER_FAULT_LEAK:
        fault.value = planted_flow(healthy) * dice_between(dice, 0.1, 0.5);
        break;
    case ER_FAULT_PLUGGED:
        fault.value = dice_between(dice, 0.1, 0.5);
        break;
    case ER_FAULT_TAPE:
        fault.value = less_or_more(dice);
        break;
    default:
        break;
    }
    return fault;
}

/* How near the value must be: what a fault's effect leaves in doubt, 4 standard deviations of it,
 * and a tenth of what was changed. */
static double near_enough(const struct planted *healthy, const struct er_fault *fault, double seen)
{
    if (seen <= 0) {
        return (double)INFINITY; /* nothing of it shows */
    }
    double size = fault->value;
    if (fault->kind == ER_FAULT_REGULATOR) {
        size -= healthy->field.zones[healthy->zone].regulator->holds;
    } else if (fault->kind == ER_FAULT_PUMP || fault->kind == ER_FAULT_HEADER ||
               fault->kind == ER_FAULT_TAPE) {
        size -= 1.0;
    }
    return fabs(size) * (0.1 + 4.0 / sqrt(seen));
}

/* A field's zone without and with a fault. */
typedef void use_planted(const struct planted *healthy, const struct er_fault *fault,
                         const struct planted *planted, struct dice *dice, void *context);

/* Draws a field and plants each fault that it can have; uses those that leave no emitter dry.
 * Returns whether the field works without one. */
static bool plant_in_field(uint64_t seed, use_planted *use, void *context)
{
    struct er_field field;
    struct planted healthy;
    struct dice dice = {~seed};
    random_field(seed, &field);
    if (field.headworks_count > 0) { /* so that it may clog */
        ((struct er_part *)(uintptr_t)field.headworks)[0].dirty_loss = 2;
    }
    planted_healthy(&field, dice_whole(&dice, 0, field.zone_count - 1), &healthy);
    bool works = healthy.solved && planted_lowest(&healthy) > LEAST_HEALTHY;
    for (int kind = 0; works && kind < ER_FAULT_KINDS; kind++) {
        if (can_plant(&healthy, (enum er_fault_kind)kind)) {
            struct er_fault fault = draw_fault(&dice, &healthy, (enum er_fault_kind)kind);
            struct planted planted;
            planted_make(&healthy, &fault, &dice, &planted);
            if (planted.solved && planted_lowest(&planted) > LEAST_FAULTY) {
                use(&healthy, &fault, &planted, &dice, context);
            }
            planted_release(&planted);
        }
    }
    planted_release(&healthy);
    er_field_release(&field);
    return works;
}

static const char *const kind_names[ER_FAULT_KINDS] = {
    "nothing",       "clogged filter", "worn pump", "valve part closed", "regulator off",
    "narrow header", "leak",           "open end",  "plugged emitters",  "other tape"};

/* What the program thinks that gauges show. */
struct comparison {
    uint64_t seed;
    size_t figures, apart;
    double largest;
};

/* Every place is compared, relative to the larger of what is there and 1 m or the nominal flow.
 * Which emitters are plugged the program does not know. */
static void compare_shown(const struct planted *healthy, const struct er_fault *fault,
                          const struct planted *planted, struct dice *dice, void *context)
{
    struct comparison *comparison = context;
    struct visiting at;
    double shown[MOST_READINGS];
    (void)dice;
    if (fault->kind == ER_FAULT_PLUGGED) {
        return;
    }
    list_places(healthy, ALL_PLACES, &at);
    assert_int_equal(
        er_visit_predict(&healthy->field, healthy->zone, fault, at.readings, at.count, shown),
        ER_OK);
    for (size_t i = 0; i < at.count; i++) {
        const struct er_visit_reading *reading = &at.readings[i];
        double wanted = planted_read(planted, reading);
        double least = reading->kind == ER_READ_METER ? planted_flow(healthy) : 1.0;
        if (reading->kind == ER_READ_EMITTER) {
            least = tape_of(&healthy->field.zones[healthy->zone], reading->bed)->emitter_flow;
        }
        double off = fabs(shown[i] - wanted) / fmax(fabs(wanted), least);
        comparison->figures++;
        comparison->largest = fmax(comparison->largest, off);
        if (!(off <= ALIKE) && comparison->apart++ < 5) {
            print_message("seed %llu: %s %g, bed %zu: %.9g, not %.9g (kind %d, bed %zu)\n",
                          (unsigned long long)comparison->seed, kind_names[fault->kind],
                          fault->value, fault->bed, shown[i], wanted, (int)reading->kind,
                          reading->bed);
        }
    }
}

static void test_faults_show_the_same(void **state)
{
    (void)state;
    struct comparison comparison = {0};
    size_t fields = 0;
    for (comparison.seed = dice_seed(MORE_SEEDS); fields < FIELDS_COMPARED; comparison.seed++) {
        fields += plant_in_field(comparison.seed, compare_shown, &comparison);
    }
    struct trust_check check = {.set = "reference",
                                .subject = "Faults, random fields",
                                .name = "what gauges, meter and cups show",
                                .kind = "computed",
                                .source = "faults put into equations written apart from the "
                                          "program's, solved by the GNU Scientific Library",
                                .rows = comparison.figures,
                                .largest = comparison.largest,
                                .tolerance = ALIKE};
    trust_print(&check);
    assert_int_equal(comparison.apart, 0);
}

/* Looks for the fault where its effect can be seen. Without any error in them, the readings of a
 * healthy field leave nothing to explain. */
static void look_for_fault(const struct planted *healthy, const struct er_fault *fault,
                           const struct planted *planted, struct dice *dice, void *context)
{
    struct kind_tally *tally = &((struct kind_tally *)context)[fault->kind];
    struct er_fault there = *fault;
    struct visiting at;
    list_places(healthy, ALL_PLACES, &at);
    read_places(planted, &at);
    double seen = effect(healthy, &at);
    if (fault->kind == ER_FAULT_NONE) {
        visit(&healthy->field, healthy->zone, 0.0, dice, &at);
        assert_true(at.visit.plan_is_right && at.visit.explained);
        assert_true(at.visit.hypotheses[at.visit.plan_place].misfit < 1e-6);
        er_visit_release(&at.visit);
    } else if (seen < SEEN) {
        return;
    }
    there.value = fault->kind == ER_FAULT_PLUGGED ? planted->share_plugged : there.value;
    visit(&healthy->field, healthy->zone, 1.0, dice, &at);
    tally->planted++;
    tally->found += was_found(&at.visit, &there, near_enough(healthy, &there, seen));
    tally->named += is_named(&at.visit, there.kind);
    tally->alike += at.visit.alike;
    er_visit_release(&at.visit);
}

/* A fault is among those named, nearly always alone or first; a healthy field is called so. */
static void test_random_fields(void **state)
{
    (void)state;
    struct kind_tally tally[ER_FAULT_KINDS] = {{0}};
    size_t fields = 0;
    for (uint64_t seed = dice_seed(FIRST_SEED); fields < FIELDS; seed++) {
        fields += plant_in_field(seed, look_for_fault, tally);
    }
    for (int kind = 0; kind < ER_FAULT_KINDS; kind++) {
        const struct kind_tally *t = &tally[kind];
        print_message("%-18s planted %3zu times, found %3zu, named %3zu, of %.2f named\n",
                      kind_names[kind], t->planted, t->found, t->named,
                      (double)t->alike / (double)t->planted);
    }
    for (int kind = 0; kind < ER_FAULT_KINDS; kind++) {
        const struct kind_tally *t = &tally[kind];
        /* One in twenty readings is two standard deviations off, and so is what rests on them. */
        assert_true(t->planted >= 3);
        assert_true(t->named + 1 + t->planted / 20 >= t->planted);
        assert_true(t->found + 2 + t->planted / 8 >= t->planted);
        assert_true(kind == ER_FAULT_NONE || 10 * t->alike <= 13 * t->planted);
    }
}

/* ---- one field, by what is read ---- */

#define TRIALS 10
#define FOUND_LEAST 9 /* of them */

/* A pump, a filter, one zone with a valve and a regulator that is just held open, ten beds. */
static const char field_text[] =
    "{\"version\": 1, \"units\": \"metric\","
    "\"source\": {\"pump\": {\"curve\": [[0, 30], [3, 28], [6, 22], [9, 12]], \"lift\": 2}},"
    "\"headworks\": [{\"part\": \"filter\", \"loss\": 12, \"at_flow\": 4, \"dirty_loss\": 30}],"
    "\"tapes\": {\"t\": {\"flow\": 5, \"at_pressure\": 55, \"exponent\": 0.5,"
    "  \"emitter_spacing\": 1200, \"inside_diameter\": 16, \"cv\": 0.03,"
    "  \"min_pressure\": 20, \"max_pressure\": 100}},"
    "\"zones\": [{\"name\": \"a\","
    "  \"valve\": {\"part\": \"valve\", \"loss\": 10, \"at_flow\": 4},"
    "  \"regulator\": {\"part\": \"regulator\", \"holds\": 90, \"loss\": 15, \"at_flow\": 4},"
    "  \"header\": {\"pipe\": {\"inside_diameter\": 38, \"c\": 140}, \"lead\": 5},"
    "  \"beds\": [{\"count\": 10, \"length\": 60, \"spacing\": 1.8, \"tape\": \"t\"}]}]}";

static int read_farm(void **state)
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

static int release_farm(void **state)
{
    er_field_release(*state);
    free(*state);
    return 0;
}

/* Called for each of TRIALS visits to the farm with the fault in it. */
typedef bool look_at_visit(const struct er_visit *visit, const void *context);

static size_t count_visits(const struct er_field *field, const struct er_fault *fault,
                           uint64_t seed, enum visit_parts parts, look_at_visit *look,
                           const void *context)
{
    struct planted healthy;
    size_t count = 0;
    planted_healthy(field, 0, &healthy);
    for (uint64_t trial = 0; trial < TRIALS; trial++) {
        struct dice dice = {seed + trial};
        struct planted planted;
        struct visiting at;
        planted_make(&healthy, fault, &dice, &planted);
        assert_true(healthy.solved && planted.solved);
        list_places(&healthy, parts, &at);
        read_places(&planted, &at);
        visit(field, 0, 1.0, &dice, &at);
        count += look(&at.visit, context);
        er_visit_release(&at.visit);
        planted_release(&planted);
    }
    planted_release(&healthy);
    return count;
}

struct sized {
    struct er_fault fault;
    double near; /* how far off the fitted value may be */
};

static bool look_for_sized(const struct er_visit *visit, const void *context)
{
    const struct sized *sized = context;
    return was_found(visit, &sized->fault, sized->near);
}

static void test_planted_faults_are_found(void **state)
{
    const struct sized planted[] = {
        {{ER_FAULT_NONE, 0.0, 0}, 0.0},      {{ER_FAULT_FILTER, 9.0, 0}, 1.5},
        {{ER_FAULT_PUMP, 0.75, 0}, 0.05},    {{ER_FAULT_VALVE, 16.0, 0}, 1.5},
        {{ER_FAULT_REGULATOR, 5.5, 0}, 0.4}, {{ER_FAULT_HEADER, 0.6, 0}, 0.05},
        {{ER_FAULT_LEAK, 3e-4, 6}, 6e-5},    {{ER_FAULT_OPEN_END, 0.0, 6}, 0.0},
        {{ER_FAULT_PLUGGED, 0.2, 0}, 0.08},  {{ER_FAULT_TAPE, 0.75, 0}, 0.05},
    };
    for (size_t p = 0; p < sizeof planted / sizeof planted[0]; p++) {
        size_t found = count_visits(*state, &planted[p].fault, 1000 * (p + 1), ALL_PLACES,
                                    look_for_sized, &planted[p]);
        print_message("planted %-18s found %zu times of %d\n", kind_names[p], found, TRIALS);
        assert_true(found >= FOUND_LEAST);
    }
}

/* Two faults that act alike on all that was read, and the reading that tells them apart. */
struct two_alike {
    struct er_fault fault;
    enum er_fault_kind other;
    enum er_reading_kind tells;
};

static bool look_for_both(const struct er_visit *visit, const void *context)
{
    const struct two_alike *two = context;
    return is_named(visit, two->fault.kind) && is_named(visit, two->other) &&
           !visit->plan_is_right && visit->telling.found &&
           visit->telling.reading.kind == two->tells;
}

/* Behind a valve that lets too little through, the regulator passes what there is. */
static void test_valve_and_regulator_are_alike(void **state)
{
    const struct two_alike two = {
        {ER_FAULT_VALVE, 16.0, 0}, ER_FAULT_REGULATOR, ER_READ_AFTER_VALVE};
    assert_true(count_visits(*state, &two.fault, 77000, NO_VALVE_GAUGE, look_for_both, &two) >=
                FOUND_LEAST);
}

/* Without a cup held under one, nobody knows whether some give nothing or all give less. */
static void test_plugged_and_other_tape_are_alike(void **state)
{
    const struct two_alike two = {{ER_FAULT_PLUGGED, 0.25, 0}, ER_FAULT_TAPE, ER_READ_EMITTER};
    assert_true(count_visits(*state, &two.fault, 77000, NO_EMITTERS, look_for_both, &two) >=
                FOUND_LEAST);
}

static bool look_for_kind(const struct er_visit *visit, const void *context)
{
    return is_named(visit, ((const struct er_fault *)context)->kind);
}

/* A slight fault that another can look like: it is always among those named. */
static void test_slight_fault_is_named(void **state)
{
    const struct er_fault fault = {ER_FAULT_HEADER, 0.75, 0};
    assert_true(count_visits(*state, &fault, 88000, ALL_PLACES, look_for_kind, &fault) >=
                FOUND_LEAST);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_planted_faults_are_found),
        cmocka_unit_test(test_valve_and_regulator_are_alike),
        cmocka_unit_test(test_plugged_and_other_tape_are_alike),
        cmocka_unit_test(test_slight_fault_is_named),
        cmocka_unit_test(test_faults_show_the_same),
        cmocka_unit_test(test_random_fields),
    };
    return cmocka_run_group_tests(tests, read_farm, release_farm);
}
