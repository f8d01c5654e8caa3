/* The arithmetic of a visit, and the reading of what was measured. */
#include "field_texts.h"

#include "evenrow/check.h"
#include "evenrow/hydraulics.h"
#include "evenrow/visit.h"
#include "report/visit/words.h"

#define GALLON 3.785411784e-3 /* m3 */

static void assert_off(double value, double wanted, double allowed)
{
    if (!(fabs(value - wanted) <= allowed)) {
        print_error("%.12g is not %.12g within %.3g\n", value, wanted, allowed);
        fail();
    }
}

/* Seconds to fill one container at 18 emitters: a printed exercise, B.Tech. examination Sprinkler
 * and Micro Irrigation Systems IDE-2.4.8, 2023-24. Mean 75.0, sums of the sixths 190 and 264;
 * the coefficients of variation worked out from the printed times. */
static const double fill_times[] = {64, 79, 67, 71, 75, 81, 68, 85, 75,
                                    69, 85, 77, 89, 68, 81, 90, 65, 61};
#define TIMES (sizeof fill_times / sizeof fill_times[0])

static void test_eighteen_fill_times(void **state)
{
    (void)state;
    double flows[TIMES];
    struct er_catch c;
    for (size_t i = 0; i < TIMES; i++) {
        flows[i] = 1e-4 / fill_times[i];
    }
    assert_int_equal(er_catch_evaluate(flows, fill_times, TIMES, &c), ER_OK);
    assert_int_equal(c.count, 18);
    assert_true(c.by_times);
    assert_int_equal(c.sixth, 3);
    assert_off(c.mean_time, 75.0, 1e-12);
    assert_off(c.sixth_low, 190.0, 1e-12);
    assert_off(c.sixth_high, 264.0, 1e-12);
    assert_off(c.variation, 0.1181, 5e-5);
    assert_off(c.statistical, 0.882, 5e-4);
    assert_off(c.statistical_of_sixths, 0.891, 5e-4);
    assert_off(c.low_quarter, 0.856, 5e-4); /* four and a half emitters */
    assert_off(c.emission, 1.0 - 1.27 * 0.1181, 1e-4);
    /* 0.1181 sqrt((1 + 2 x 0.01395) / 36) */
    assert_off(c.error, 0.01996, 2e-5);
    /* within 3 %: (1.96 x 0.1181 / 0.03)^2 x 1.0279 / 2 = 30.6, so 36 by sixths */
    assert_int_equal(er_catch_wanted(&c, 0.03), 36);
    assert_int_equal(er_catch_wanted(&c, 0.2), 18);
}

/* Without times the sixths are of flows: 1 to 6, and again; sums 2 and 12. */
static void test_flows_without_times(void **state)
{
    (void)state;
    const double flows[] = {6, 1, 5, 2, 4, 3, 3, 4, 2, 5, 1, 6};
    struct er_catch c;
    assert_int_equal(er_catch_evaluate(flows, NULL, 12, &c), ER_OK);
    assert_false(c.by_times);
    assert_true(isnan(c.mean_time));
    assert_off(c.mean, 3.5, 1e-12);
    assert_off(c.variation, sqrt(35.0 / 11.0) / 3.5, 1e-12);
    assert_int_equal(c.sixth, 2);
    assert_off(c.sixth_low, 2.0, 1e-12);
    assert_off(c.sixth_high, 12.0, 1e-12);
    assert_off(c.statistical_of_sixths, 1.0 - 10.0 / 21.0, 1e-12);
    assert_off(c.low_quarter, (1 + 1 + 2) / 3.0 / 3.5, 1e-12);
}

static void test_too_few_to_say(void **state)
{
    (void)state;
    const double flows[] = {0, 0, 0};
    struct er_catch c;
    assert_int_equal(er_catch_evaluate(flows, NULL, 1, &c), ER_OK);
    assert_false(er_given(c.variation));
    assert_int_equal(er_catch_evaluate(flows, NULL, 3, &c), ER_OK);
    assert_true(isnan(c.statistical) && isnan(c.low_quarter));
    const double five[] = {1, 2, 3, 4, 5};
    assert_int_equal(er_catch_evaluate(five, NULL, 5, &c), ER_OK);
    assert_int_equal(c.sixth, 0);
    assert_true(isnan(c.statistical_of_sixths));
    assert_true(er_given(c.statistical));
}

struct graded {
    double statistical, emission;
    enum er_evenness_class best, worst;
};

/* The borders of ASAE EP458 (from memory), and its gaps. */
static void test_classes(void **state)
{
    (void)state;
    const struct graded graded[] = {
        {1.0, 1.0, ER_CLASS_EXCELLENT, ER_CLASS_EXCELLENT},
        {0.95, 0.94, ER_CLASS_EXCELLENT, ER_CLASS_EXCELLENT},
        {0.92, 0.90, ER_CLASS_EXCELLENT, ER_CLASS_GOOD},
        {0.90, 0.87, ER_CLASS_GOOD, ER_CLASS_GOOD},
        {0.85, 0.81, ER_CLASS_GOOD, ER_CLASS_GOOD},
        {0.84, 0.80, ER_CLASS_GOOD, ER_CLASS_FAIR},
        {0.80, 0.75, ER_CLASS_FAIR, ER_CLASS_FAIR},
        {0.72, 0.65, ER_CLASS_FAIR, ER_CLASS_POOR},
        {0.65, 0.56, ER_CLASS_POOR, ER_CLASS_POOR},
        {0.62, 0.52, ER_CLASS_POOR, ER_CLASS_UNACCEPTABLE},
        {0.59, 0.49, ER_CLASS_UNACCEPTABLE, ER_CLASS_UNACCEPTABLE},
        {-0.4, -0.9, ER_CLASS_UNACCEPTABLE, ER_CLASS_UNACCEPTABLE},
    };
    for (size_t i = 0; i < sizeof graded / sizeof graded[0]; i++) {
        struct er_evenness_grade statistical = er_grade_statistical(graded[i].statistical);
        struct er_evenness_grade emission = er_grade_emission(graded[i].emission);
        assert_int_equal(statistical.best, graded[i].best);
        assert_int_equal(statistical.worst, graded[i].worst);
        assert_int_equal(emission.best, graded[i].best);
        assert_int_equal(emission.worst, graded[i].worst);
    }
    assert_string_equal(er_evenness_class_name(ER_CLASS_FAIR), "fair");
}

/* Pressures 6, 8 and 10: mean 8, s 2, variation 0.25; x 0.5: 0.125. Against a flow variation of
 * 0.25: 0.015625 / 0.0625 = 25 % by pressure; a tape of 0.1: 0.01 / 0.0625 = 16 %; rest 59 %. */
static void test_variance_by_hand(void **state)
{
    (void)state;
    const double pressures[] = {8, 6, 10};
    struct er_variance_split split = er_variance_split_make(0.25, pressures, 3, 0.5, 0.1);
    assert_off(split.pressure_variation, 0.25, 1e-12);
    assert_off(split.flow_by_pressure, 0.125, 1e-12);
    assert_off(split.pressure_share, 0.25, 1e-12);
    assert_off(split.manufacture_share, 0.16, 1e-12);
    assert_off(split.rest_share, 0.59, 1e-12);
    assert_false(split.passes_all);

    split = er_variance_split_make(0.13, pressures, 3, 0.5, 0.1);
    assert_true(split.passes_all);
    assert_off(split.pressure_share + split.manufacture_share, 1.0, 1e-12);
    assert_off(split.rest_share, 0.0, 1e-12);

    split = er_variance_split_make(0.25, pressures, 2, 0.5, 0.1);
    assert_true(isnan(split.pressure_share) && isnan(split.rest_share));
}

/* ---- files of readings ---- */

static const char farm[] =
    "{\"units\": \"us\", \"source\": {\"curve\": [[0, 40], [20, 30]]},"
    "\"headworks\": [{\"part\": \"filter\", \"loss\": 1, \"at_flow\": 5, \"dirty_loss\": 3}],"
    "\"tapes\": {\"t\": {\"flow\": 0.45, \"at_pressure\": 8, \"emitter_spacing\": 12,"
    "  \"inside_diameter\": 0.625, \"max_pressure\": 60}},"
    "\"zones\": [{\"name\": \"a\", \"header\": {\"pipe\": {\"inside_diameter\": 2}},"
    "  \"regulator\": {\"part\": \"r\", \"holds\": 10},"
    "  \"beds\": [{\"count\": 6, \"length\": 100, \"spacing\": 6, \"tape\": \"t\"},"
    "            {\"count\": 2, \"length\": 80, \"spacing\": 6, \"tape\": \"t\","
    "             \"sides\": \"both\"}]}]}";

struct farm {
    struct er_field field;
    struct er_measured measured;
    struct er_problems problems;
    enum er_status status;
};

static void open_farm_of(struct farm *f, const char *text, const char *readings)
{
    memset(f, 0, sizeof *f);
    er_problems_init(&f->problems);
    struct er_document *document = NULL;
    assert_int_equal(er_document_open("farm", text, strlen(text), &document, &f->problems), ER_OK);
    assert_int_equal(er_field_read(document, &f->field, &f->problems), ER_OK);
    er_document_release(document);
    document = NULL;
    assert_int_equal(
        er_document_open("readings", readings, strlen(readings), &document, &f->problems), ER_OK);
    f->status = er_measured_read(document, &f->field, &f->measured, &f->problems);
    er_document_release(document);
}

static void open_farm(struct farm *f, const char *readings) { open_farm_of(f, farm, readings); }

static void close_farm(struct farm *f)
{
    er_measured_release(&f->measured);
    er_field_release(&f->field);
    er_problems_release(&f->problems);
}

static void test_readings_in_si(void **state)
{
    (void)state;
    struct farm f;
    open_farm(&f, "{\"units\": \"us\", \"date\": \"2026-06-01\", \"source\": \"200 kPa\","
                  "\"flow\": 5, \"beds\": [{\"bed\": 8, \"side\": \"second\", \"far_end\": 7}],"
                  "\"container_ml\": 100, \"catch_seconds\": 60, \"emitters\": ["
                  "{\"bed\": 1, \"at\": \"far-end\", \"seconds\": 50},"
                  "{\"bed\": 2, \"at\": \"10 ft\", \"ml\": 30}]}");
    assert_int_equal(f.status, ER_OK);
    const struct er_visit_reading *r = f.measured.readings;
    assert_int_equal(f.measured.reading_count, 5);
    assert_string_equal(f.measured.date, "2026-06-01");
    assert_int_equal(r[0].kind, ER_READ_SOURCE);
    assert_off(r[0].value, 200e3 / (998.2 * 9.80665), 1e-9);
    assert_int_equal(r[1].kind, ER_READ_METER);
    assert_off(r[1].value, 5.0 * GALLON / 60.0, 1e-12);
    assert_int_equal(r[2].kind, ER_READ_BED_FAR_END);
    assert_int_equal(r[2].bed, 7);
    assert_true(r[2].second_side);
    assert_off(r[3].value, 100e-6 / 50.0, 1e-15);
    assert_off(r[3].at, 99.5 * 0.3048, 1e-9);
    assert_off(r[3].time, 50.0, 0.0);
    assert_off(r[4].value, 30e-6 / 60.0, 1e-15);
    assert_off(r[4].at, 10.0 * 0.3048, 1e-9);
    assert_true(isnan(r[4].time));
    assert_off(f.measured.meter_accuracy, 0.03, 1e-12);
    close_farm(&f);
}

struct bad {
    const char *readings, *pointer, *text;
};

static void test_bad_readings(void **state)
{
    (void)state;
    const struct bad bad[] = {
        {"{\"units\": \"us\"}", "", "nothing was read"},
        {"{\"units\": \"us\", \"flow\": 5, \"zone\": \"b\"}", "/zone", "no zone \"b\""},
        {"{\"units\": \"us\", \"flow\": -5}", "/flow", "expected"},
        {"{\"units\": \"us\", \"beds\": [{\"bed\": 9, \"inlet\": 5}]}", "/beds/0/bed", "8 beds"},
        {"{\"units\": \"us\", \"beds\": [{\"bed\": 1, \"side\": \"second\", \"inlet\": 5}]}",
         "/beds/0/side", "no second side"},
        {"{\"units\": \"us\", \"emitters\": [{\"bed\": 1, \"at\": \"inlet\", \"seconds\": 5}]}",
         "/emitters/0/seconds", "container_ml"},
        {"{\"units\": \"us\", \"emitters\": [{\"bed\": 1, \"at\": \"inlet\", \"ml\": 5}]}",
         "/emitters/0/ml", "catch_seconds"},
        {"{\"units\": \"us\", \"catch_seconds\": 60, \"emitters\": [{\"bed\": 1, \"at\": 101,"
         " \"ml\": 5}]}",
         "/emitters/0/at", "ends at 100 ft"},
        {"{\"units\": \"us\", \"flow\": 5, \"flwo\": 5}", "/flwo", "flow"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        struct farm f;
        open_farm(&f, bad[i].readings);
        assert_int_equal(f.status, ER_BAD_INPUT);
        assert_int_equal(f.measured.reading_count, 0);
        assert_string_equal(f.problems.kept[0].pointer, bad[i].pointer);
        assert_non_null(strstr(f.problems.kept[0].text, bad[i].text));
        close_farm(&f);
    }
}

/* What the plan shows at its gauges is what the check finds. */
static void test_plan_shows_what_check_finds(void **state)
{
    (void)state;
    struct farm f;
    open_farm(&f, "{\"units\": \"us\", \"flow\": 5}");
    struct er_result result;
    struct er_failure failure;
    assert_int_equal(er_check(&f.field, ER_US, &result, &failure), ER_OK);
    const struct er_fault none = {.kind = ER_FAULT_NONE};
    struct er_visit_reading readings[] = {
        {.kind = ER_READ_SOURCE},
        {.kind = ER_READ_AFTER_PARTS},
        {.kind = ER_READ_HEADER},
        {.kind = ER_READ_METER},
        {.kind = ER_READ_BED_FAR_END,
         .bed = result.zones[0].lowest_bed,
         .second_side = result.zones[0].lowest_second_side},
    };
    const double wanted[] = {result.sets[0].source_pressure, result.sets[0].after_headworks,
                             result.zones[0].inlet_pressure, result.sets[0].flow,
                             result.zones[0].far_end_pressure};
    double shown[5];
    assert_int_equal(er_visit_predict(&f.field, 0, &none, readings, 5, shown), ER_OK);
    for (size_t i = 0; i < 5; i++) {
        assert_off(shown[i], wanted[i], 1e-9 * fabs(wanted[i]));
    }
    er_result_release(&result);
    close_farm(&f);
}

/* A leak's flow at the meter is what the plan's meter shows and the leak, where a regulator keeps
 * the beds' pressure; a clogged filter takes its loss between the first two gauges. */
static void test_faults_do_what_they_say(void **state)
{
    (void)state;
    struct farm f;
    open_farm(&f, "{\"units\": \"us\", \"flow\": 5}");
    struct er_visit_reading readings[] = {{.kind = ER_READ_METER},
                                          {.kind = ER_READ_SOURCE},
                                          {.kind = ER_READ_AFTER_PARTS},
                                          {.kind = ER_READ_BED_INLET, .bed = 7},
                                          {.kind = ER_READ_HEADER}};
    const struct er_fault none = {.kind = ER_FAULT_NONE};
    const struct er_fault leak = {ER_FAULT_LEAK, 1e-4, 3};
    const struct er_fault filter = {ER_FAULT_FILTER, 2.0, 0};
    const struct er_fault regulator = {ER_FAULT_REGULATOR, 5.0, 0};
    double planned[5];
    double shown[5];
    assert_int_equal(er_visit_predict(&f.field, 0, &none, readings, 5, planned), ER_OK);
    assert_int_equal(er_visit_predict(&f.field, 0, &leak, readings, 5, shown), ER_OK);
    assert_off(shown[0] - planned[0], 1e-4, 2e-6);
    assert_true(shown[3] < planned[3]);
    assert_int_equal(er_visit_predict(&f.field, 0, &filter, readings, 5, shown), ER_OK);
    assert_off((shown[1] - shown[2]) - (planned[1] - planned[2]), 2.0, 1e-6);
    assert_int_equal(er_visit_predict(&f.field, 0, &regulator, readings, 5, shown), ER_OK);
    assert_off(shown[4], 5.0, 1e-6);
    close_farm(&f);
}

/* Walks a tape whose end is open from that end to the inlet: its emitters' flow in all, and the
 * pressure that the end's flow takes at the inlet. */
static double walk_open_tape(const struct er_run *run, double end_flow, double *inlet_pressure)
{
    const struct er_tape *tape = run->tape;
    double reach = tape->emitter_spacing + tape->emitter_loss;
    double last = run->first_reach + (double)(run->emitters - 1) * tape->emitter_spacing;
    double pressure =
        er_friction_head(end_flow, run->length - last, tape->c, tape->inside_diameter);
    double flow = end_flow;
    for (size_t e = run->emitters; e > 0; e--) {
        flow += er_emitter_flow(tape, pressure, NULL);
        double length = e > 1 ? reach : run->first_reach + tape->emitter_loss;
        pressure += er_friction_head(flow, length, tape->c, tape->inside_diameter);
    }
    *inlet_pressure = pressure;
    return flow - end_flow;
}

/* An open end shows at the meter what a walk of the tape, made apart, lets out of it; each tape of
 * the bed counts. */
static void test_open_end_against_a_walk(void **state)
{
    (void)state;
    struct farm f;
    open_farm(&f, "{\"units\": \"us\", \"flow\": 5}");
    struct er_visit_reading readings[] = {{.kind = ER_READ_METER},
                                          {.kind = ER_READ_BED_INLET, .bed = 7}};
    const struct er_fault none = {.kind = ER_FAULT_NONE};
    const struct er_fault open = {ER_FAULT_OPEN_END, 0.0, 7};
    double closed_flow[2]; /* one tape to the bed, and two */
    double open_flow[2];
    double shown[2];
    struct er_bed_group *group = (struct er_bed_group *)(uintptr_t)&f.field.zones[0].groups[1];
    for (size_t tapes = 1; tapes <= 2; tapes++) {
        group->tapes = tapes;
        assert_int_equal(er_visit_predict(&f.field, 0, &none, readings, 2, shown), ER_OK);
        closed_flow[tapes - 1] = shown[0];
        assert_int_equal(er_visit_predict(&f.field, 0, &open, readings, 2, shown), ER_OK);
        open_flow[tapes - 1] = shown[0];
        struct er_run run = er_run_make(group->tape, group->length, &group->ground);
        double end_flow = 0.0;
        double inlet_pressure;
        assert_int_equal(er_run_flush(&run, shown[1], &end_flow), ER_OK);
        double emitters = walk_open_tape(&run, end_flow, &inlet_pressure);
        assert_off(inlet_pressure, shown[1], 0.02 * shown[1]);
        struct er_run_state shut = {0};
        assert_int_equal(er_run_solve(&run, shown[1], 1e-9, &shut), ER_OK);
        double more = (double)tapes * (end_flow + emitters - shut.inlet_flow);
        /* The beds beside it have a little less. */
        assert_off(open_flow[tapes - 1] - closed_flow[tapes - 1], more, 0.05 * more);
    }
    close_farm(&f);
}

/* With nothing read but emitters, the share that is plugged is that of those that gave nothing:
 * 6 of 18. */
static void test_share_plugged_is_counted(void **state)
{
    (void)state;
    struct farm f;
    open_farm(&f, "{\"units\": \"us\", \"flow\": 5}");
    struct er_form form;
    assert_int_equal(er_form_make(&f.field, 0, &form), ER_OK);
    struct er_measured measured = f.measured;
    measured.readings = &form.readings[form.reading_count - 18];
    measured.reading_count = 18;
    for (size_t i = 0; i < 18; i += 3) {
        measured.readings[i].value = 0.0;
    }
    struct er_visit visit;
    assert_int_equal(er_visit_make(&f.field, &measured, &visit), ER_OK);
    assert_int_equal(visit.hypotheses[0].fault.kind, ER_FAULT_PLUGGED);
    assert_int_equal(visit.hypotheses[0].plugged, 6);
    assert_off(visit.hypotheses[0].fault.value, 6.0 / 18.0, 0.03);
    assert_int_equal(visit.alike, 1);
    er_visit_release(&visit);
    er_form_release(&form);
    close_farm(&f);
}

/* A meter alone, `off` of its standard deviations (3 % of what is planned) above the plan. Some
 * fault explains it wholly with one figure, which costs 2; less than 4 more is not told apart. So
 * the plan is right as long as off^2 < 6. */
static bool plan_is_right_by_meter(double off)
{
    struct farm f;
    struct er_visit visit;
    const struct er_fault none = {.kind = ER_FAULT_NONE};
    struct er_visit_reading meter = {.kind = ER_READ_METER, .time = ER_NONE};
    open_farm(&f, "{\"units\": \"us\", \"flow\": 5}");
    assert_int_equal(er_visit_predict(&f.field, 0, &none, &meter, 1, &meter.value), ER_OK);
    meter.value *= 1.0 + 0.03 * off;
    struct er_measured measured = f.measured;
    measured.readings = &meter;
    measured.reading_count = 1;
    assert_int_equal(er_visit_make(&f.field, &measured, &visit), ER_OK);
    bool right = visit.plan_is_right;
    assert_true(visit.explained);
    er_visit_release(&visit);
    close_farm(&f);
    return right;
}

static void test_how_far_off_the_plan_is_wrong(void **state)
{
    (void)state;
    assert_true(plan_is_right_by_meter(2.42));
    assert_false(plan_is_right_by_meter(2.48));
}

/* The form's 18 emitters, by turns `off` standard deviations (the cups' 3 % and the tape's own)
 * above and below the plan, the first one by `first`; what the plan's hypothesis says of them. */
static struct er_hypothesis by_turns(double off, double first, bool *explained)
{
    struct farm f;
    struct er_form form;
    struct er_visit visit;
    open_farm(&f, "{\"units\": \"us\", \"flow\": 5}");
    assert_int_equal(er_form_make(&f.field, 0, &form), ER_OK);
    struct er_measured measured = f.measured;
    measured.readings = &form.readings[form.reading_count - 18];
    measured.reading_count = 18;
    double one = hypot(0.03, f.field.zones[0].groups[0].tape->cv);
    for (size_t i = 0; i < 18; i++) {
        double here = i == 0 ? first : i % 2 == 1 ? off : -off;
        measured.readings[i].value *= 1.0 + one * here;
    }
    assert_int_equal(er_visit_make(&f.field, &measured, &visit), ER_OK);
    struct er_hypothesis plan = visit.hypotheses[visit.plan_place];
    assert_true(visit.plan_is_right);
    *explained = visit.explained;
    er_visit_release(&visit);
    er_form_release(&form);
    close_farm(&f);
    return plan;
}

/* 18 squares are 18 on average, and over 18 + 3 sqrt(36) = 36 rarely; one reading counts against a
 * hypothesis from 3 deviations on. */
static void test_when_nothing_explains(void **state)
{
    (void)state;
    bool explained = false;
    assert_off(by_turns(1.37, -1.37, &explained).misfit, 18.0 * 1.37 * 1.37, 1e-6);
    assert_true(explained);
    by_turns(1.47, -1.47, &explained);
    assert_false(explained);
    assert_true(by_turns(0.0, 2.97, &explained).worst_reading == SIZE_MAX);
    assert_int_equal(by_turns(0.0, 3.03, &explained).worst_reading, 0);
}

static double deviation_at(const struct farm *f, const struct er_visit_reading *reading,
                           double shown)
{
    if (reading->kind == ER_READ_METER) {
        return 0.03 * shown;
    }
    if (reading->kind == ER_READ_EMITTER) {
        return hypot(0.03, f->field.zones[0].groups[0].tape->cv) * shown;
    }
    return hypot(f->measured.pressure_accuracy, 0.02 * shown);
}

/* Whether the likeliest two are told apart by a reading; and if so, by the one of all that were not
 * taken where they lie farthest apart, in deviations, and never under two. */
static bool tells_most(const char *readings)
{
    char text[200];
    struct farm f;
    struct er_visit visit;
    snprintf(text, sizeof text, "{\"units\": \"us\", %s}", readings);
    open_farm(&f, text);
    assert_int_equal(er_visit_make(&f.field, &f.measured, &visit), ER_OK);
    bool found = visit.telling.found;
    struct er_visit_reading places[] = {{.kind = ER_READ_SOURCE},
                                        {.kind = ER_READ_AFTER_PARTS},
                                        {.kind = ER_READ_HEADER},
                                        {.kind = ER_READ_METER},
                                        {.kind = ER_READ_BED_INLET, .bed = 0},
                                        {.kind = ER_READ_BED_FAR_END, .bed = 0},
                                        {.kind = ER_READ_BED_INLET, .bed = 7},
                                        {.kind = ER_READ_BED_FAR_END, .bed = 7},
                                        {.kind = ER_READ_EMITTER, .bed = 7, .at = 0.1524},
                                        visit.telling.reading};
    size_t count = sizeof places / sizeof places[0] - (found ? 0 : 1);
    size_t other = found ? visit.telling.other : 1;
    double first[10], second[10];
    double widest = 0.0;
    double chosen = 0.0;
    if (visit.alike > 1 && !visit.plan_is_right) {
        assert_int_equal(
            er_visit_predict(&f.field, 0, &visit.hypotheses[0].fault, places, count, first), ER_OK);
        assert_int_equal(
            er_visit_predict(&f.field, 0, &visit.hypotheses[other].fault, places, count, second),
            ER_OK);
        for (size_t i = 0; i < count; i++) {
            double apart = fabs(first[i] - second[i]) / deviation_at(&f, &places[i], first[i]);
            bool read = false;
            for (size_t m = 0; m < f.measured.reading_count; m++) {
                read = read || (f.measured.readings[m].kind == places[i].kind &&
                                f.measured.readings[m].bed == places[i].bed);
            }
            widest = read ? widest : fmax(widest, apart);
            chosen = apart;
        }
        assert_true(found ? chosen > 2.0 && chosen >= widest * (1.0 - 1e-6) : widest <= 2.0);
    }
    er_visit_release(&visit);
    close_farm(&f);
    return found;
}

static void test_most_telling_reading(void **state)
{
    (void)state;
    size_t found = 0;
    char readings[80];
    for (int flow = 2; flow < 10; flow++) {
        snprintf(readings, sizeof readings, "\"flow\": %d", flow);
        found += tells_most(readings);
        for (int header = 4; header < 12; header++) {
            snprintf(readings, sizeof readings, "\"header\": %d, \"flow\": %d", header, flow);
            found += tells_most(readings);
        }
        snprintf(readings, sizeof readings, "\"beds\": [{\"bed\": 8, \"inlet\": %d}]", flow);
        found += tells_most(readings);
    }
    assert_true(found >= 20);
}

/* Behind a valve that holds a pressure the gauge shows what it holds. */
static void test_valve_that_holds(void **state)
{
    (void)state;
    struct farm f;
    open_farm(&f, "{\"units\": \"us\", \"flow\": 5}");
    const struct er_part valve = {.loss = 1.0,
                                  .at_flow = ER_NONE,
                                  .holds = 9.0,
                                  .min_flow = ER_NONE,
                                  .max_flow = ER_NONE,
                                  .max_pressure = ER_NONE};
    ((struct er_zone *)(uintptr_t)f.field.zones)[0].valve = &valve;
    const struct er_fault none = {.kind = ER_FAULT_NONE};
    const struct er_visit_reading gauge = {.kind = ER_READ_AFTER_VALVE};
    double shown;
    assert_int_equal(er_visit_predict(&f.field, 0, &none, &gauge, 1, &shown), ER_OK);
    assert_off(shown, 9.0, 1e-12);
    close_farm(&f);
}

/* A filter that is nearly blocked takes at the planned flow many times what the source has: 3 times
 * here, and is found so. */
static void test_filter_nearly_blocked(void **state)
{
    (void)state;
    struct farm f;
    struct er_visit visit;
    open_farm(&f, "{\"units\": \"us\", \"source\": 40, \"after_headworks\": 5, \"flow\": 2}");
    const struct er_fault none = {.kind = ER_FAULT_NONE};
    double shown[3];
    assert_int_equal(er_visit_predict(&f.field, 0, &none, f.measured.readings, 3, shown), ER_OK);
    const struct er_fault filter = {ER_FAULT_FILTER, 3.0 * shown[0], 0};
    assert_int_equal(er_visit_predict(&f.field, 0, &filter, f.measured.readings, 3, shown), ER_OK);
    for (size_t i = 0; i < 3; i++) {
        f.measured.readings[i].value = shown[i];
    }
    assert_int_equal(er_visit_make(&f.field, &f.measured, &visit), ER_OK);
    assert_int_equal(visit.hypotheses[0].fault.kind, ER_FAULT_FILTER);
    assert_off(visit.hypotheses[0].fault.value, filter.value, 0.01 * filter.value);
    er_visit_release(&visit);
    close_farm(&f);
}

/* One of everything that has a rating. By the plan: 40 psi at the source and before the filter, 37
 * after it, 20 at the header and at the beds. */
static const char rated[] =
    "{\"units\": \"us\", \"source\": {\"pressure\": 40},"
    "\"headworks\": [{\"part\": \"check\", \"loss\": 0, \"max_pressure\": 95},"
    "  {\"part\": \"filter\", \"loss\": 3, \"max_pressure\": %d}%s],"
    "\"mainline\": [{\"name\": \"main\", \"pipe\": {\"inside_diameter\": 3, \"max_pressure\": %d},"
    "  \"length\": 10}],"
    "\"tapes\": {\"t\": {\"flow\": 0.45, \"at_pressure\": 8, \"emitter_spacing\": 12,"
    "  \"inside_diameter\": 0.625, \"max_pressure\": 25,"
    "  \"connector\": {\"part\": \"elbow\", \"loss\": 0, \"max_pressure\": 22}}},"
    "\"zones\": [{\"name\": \"a\", \"on\": \"%s\","
    "  \"valve\": {\"part\": \"valve\", \"loss\": 0, \"max_pressure\": 70},"
    "  \"regulator\": {\"part\": \"regulator\", \"holds\": 20, \"max_pressure\": 65%s},"
    "  \"header\": {\"pipe\": {\"inside_diameter\": 3, \"max_pressure\": 80}, \"slope\": -20},"
    "  \"beds\": [{\"count\": 2, \"length\": 20, \"spacing\": 6, \"tape\": \"t\"}]}]}";

struct over {
    const char *readings; /* "": none is over a rating */
    enum er_rated what;
    const char *name; /* NULL: nothing is */
    double rating;    /* psi */
    bool behind;
};

static void try_ratings(const char *text, const struct over *over, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        char readings[200];
        struct farm f;
        struct er_visit visit;
        snprintf(readings, sizeof readings, "{\"units\": \"us\", %s}", over[i].readings);
        open_farm_of(&f, text, readings);
        assert_int_equal(f.status, ER_OK);
        assert_int_equal(er_visit_make(&f.field, &f.measured, &visit), ER_OK);
        print_message("%s\n", readings);
        assert_int_equal(visit.danger.found, over[i].name != NULL);
        if (over[i].name != NULL) {
            assert_int_equal(visit.danger.what, over[i].what);
            assert_string_equal(visit.danger.name != NULL ? visit.danger.name : "", over[i].name);
            assert_off(visit.danger.rating, er_to_si(ER_PRESSURE, ER_US, over[i].rating), 1e-9);
            assert_int_equal(visit.danger.behind, over[i].behind);
        }
        er_visit_release(&visit);
        close_farm(&f);
    }
}

/* What has more pressure than it is rated for is told; at the rating it is not. Of several it is
 * what is over by the largest share, and what was read at the place itself goes first. */
static void test_readings_over_ratings(void **state)
{
    (void)state;
    static const struct over weak_main[] = {
        {"\"source\": 52.9", 0, NULL, 0, false},
        {"\"source\": 53.1", ER_RATED_SECTION, "main", 50, true},
        {"\"source\": 96", ER_RATED_PART, "check", 95, false},
        {"\"after_headworks\": 50", 0, NULL, 0, false},
        {"\"after_headworks\": 50.1", ER_RATED_SECTION, "main", 50, false},
        {"\"after_headworks\": 115", ER_RATED_SECTION, "main", 50, false},
        {"\"after_valve\": 50", 0, NULL, 0, false},
        {"\"after_valve\": 51", ER_RATED_SECTION, "main", 50, false},
        {"\"header\": 24.4", 0, NULL, 0, false}, /* bed 2 lies 1.2 ft lower: 0.52 psi */
        {"\"header\": 24.6", ER_RATED_TAPE, "t", 25, true},
        {"\"header\": 81", ER_RATED_HEADER, "", 80, false},
        {"\"beds\": [{\"bed\": 2, \"far_end\": 25.0}]", 0, NULL, 0, false},
        {"\"beds\": [{\"bed\": 2, \"far_end\": 25.1}]", ER_RATED_TAPE, "t", 25, false},
        {"\"beds\": [{\"bed\": 2, \"inlet\": 22}]", 0, NULL, 0, false},
        {"\"beds\": [{\"bed\": 2, \"inlet\": 22.1}]", ER_RATED_PART, "elbow", 22, false},
        {"\"header\": 30, \"beds\": [{\"bed\": 1, \"inlet\": 26}]", ER_RATED_PART, "elbow", 22,
         false},
        {"\"flow\": 500", 0, NULL, 0, false},
    };
    static const struct over weak_filter[] = {
        {"\"source\": 60", 0, NULL, 0, false},
        {"\"source\": 60.1", ER_RATED_PART, "filter", 60, true},
        {"\"after_headworks\": 60.1", ER_RATED_PART, "filter", 60, false},
        {"\"after_valve\": 65", 0, NULL, 0, false},
        {"\"after_valve\": 65.1", ER_RATED_PART, "regulator", 65, false},
        {"\"after_valve\": 200", ER_RATED_PART, "regulator", 65, false},
    };
    /* The zone is on the headworks; its regulator comes after the lead. */
    static const struct over weak_valve[] = {
        {"\"source\": 72.9", 0, NULL, 0, false},
        {"\"source\": 73.1", ER_RATED_PART, "valve", 70, true},
        {"\"after_headworks\": 70.1", ER_RATED_PART, "valve", 70, false},
        {"\"after_valve\": 70", 0, NULL, 0, false},
        {"\"after_valve\": 81", ER_RATED_PART, "valve", 70, false},
        {"\"header\": 66", ER_RATED_PART, "regulator", 65, false},
    };
    static const struct over regulated[] = {{"\"source\": 59", 0, NULL, 0, false}};
    char text[sizeof rated + 100];
    snprintf(text, sizeof text, rated, 60, "", 50, "main", "");
    try_ratings(text, weak_main, sizeof weak_main / sizeof weak_main[0]);
    snprintf(text, sizeof text, rated, 60, "", 90, "main", "");
    try_ratings(text, weak_filter, sizeof weak_filter / sizeof weak_filter[0]);
    snprintf(text, sizeof text, rated, 75, "", 90, "headworks", ", \"place\": \"header\"");
    try_ratings(text, weak_valve, sizeof weak_valve / sizeof weak_valve[0]);
    snprintf(text, sizeof text, rated, 60, ", {\"part\": \"main regulator\", \"holds\": 45}", 50,
             "main", "");
    try_ratings(text, regulated, 1);
}

static void test_form_has_eighteen_emitters(void **state)
{
    (void)state;
    struct farm f;
    open_farm(&f, "{\"units\": \"us\", \"flow\": 5}");
    struct er_form form;
    assert_int_equal(er_form_make(&f.field, 0, &form), ER_OK);
    size_t emitters = 0;
    for (size_t i = 0; i < form.reading_count; i++) {
        const struct er_visit_reading *reading = &form.readings[i];
        emitters += reading->kind == ER_READ_EMITTER;
        assert_true(reading->value > 0.0);
        assert_true(reading->bed < 8);
    }
    assert_int_equal(emitters, 18);
    er_form_release(&form);
    close_farm(&f);
}

/* What text and data say beside the readings, worked out by hand: a line from 50 m of head at
 * 1 m3/h to 40 m at 3; a variation of 10 percent, 64 percent of whose square is left over. */
static void test_figures_beside_the_readings(void **state)
{
    (void)state;
    const struct er_point curve[] = {{1.0 / 3600.0, 50.0}, {3.0 / 3600.0, 40.0}};
    const struct er_field field = {
        .source = {
            .kind = ER_SOURCE_CURVE, .curve_count = 2, .curve = curve, .shutoff = (double)NAN}};
    struct er_visit_reading readings[] = {{.kind = ER_READ_METER, .value = 2.0 / 3600.0},
                                          {.kind = ER_READ_SOURCE, .value = 44.0}};
    struct er_measured measured = {.reading_count = 2, .readings = readings};
    const struct er_visit visit = {.field = &field,
                                   .measured = &measured,
                                   .emitters = {.variation = 0.10},
                                   .split = {.rest_share = 0.64}};
    assert_off(er_visit_source_by_curve(&visit), 45.0, 1e-9);
    assert_off(er_visit_rest(&visit), 0.08, 1e-12);
    measured.reading_count = 1; /* no gauge was read */
    assert_true(isnan(er_visit_source_by_curve(&visit)));

    struct er_range range =
        er_visit_uniformity(&(struct er_catch){.statistical = 0.90, .error = 0.02});
    assert_off(range.min, 0.90 - 1.96 * 0.02, 1e-12);
    assert_off(range.max, 0.90 + 1.96 * 0.02, 1e-12);
    range = er_visit_uniformity(&(struct er_catch){.statistical = 0.99, .error = 0.02});
    assert_off(range.max, 1.0, 0.0);
    range =
        er_visit_uniformity(&(struct er_catch){.statistical = (double)NAN, .error = (double)NAN});
    assert_true(isnan(range.min) && isnan(range.max));
}

/* Nothing flows uphill of what the source holds, and the valve's loss is told for no flow: to close
 * the valve by nothing leaves the gauges as they are. */
static void test_valve_without_flow(void **state)
{
    (void)state;
    static const char text[] =
        "{\"units\": \"metric\", \"source\": {\"pressure\": \"3 m\"}, \"tapes\": {\"t\": "
        "{\"emitter_flow\": 1, \"at_pressure\": \"8 m\", \"emitter_spacing\": 300, "
        "\"inside_diameter\": 16}}, \"zones\": [{\"name\": \"a\", \"rise\": 2, \"valve\": "
        "{\"part\": \"valve\", \"loss\": \"2 m\"}, \"header\": {\"pipe\": "
        "{\"inside_diameter\": 40}}, \"beds\": [{\"count\": 2, \"length\": 30, \"spacing\": 1.5, "
        "\"tape\": \"t\"}]}]}";
    const struct er_visit_reading header = {.kind = ER_READ_HEADER};
    const struct er_fault none = {ER_FAULT_NONE, 0.0, 0}, valve = {ER_FAULT_VALVE, 0.0, 0};
    struct er_field field;
    double planned, shown;
    read_good(text, &field);
    assert_int_equal(er_visit_predict(&field, 0, &none, &header, 1, &planned), ER_OK);
    assert_int_equal(er_visit_predict(&field, 0, &valve, &header, 1, &shown), ER_OK);
    assert_true(planned < 0.0);
    assert_off(shown, planned, 1e-9);
    er_field_release(&field);
}

/* Read 1 m under a header's zero where the plan has 2 m: half of it is missing, and a person is
 * told no percent of a pressure that is none. */
static void test_plan_below_zero(void **state)
{
    (void)state;
    const struct er_zone zone = {.name = "a"};
    const struct er_field field = {.zone_count = 1, .zones = &zone};
    struct er_visit_reading reading = {.kind = ER_READ_HEADER, .value = -1.0};
    const struct er_measured measured = {.reading_count = 1, .readings = &reading};
    double predicted = -2.0, deviation = 0.5;
    struct er_hypothesis plan = {
        .predicted = &predicted, .best_reading = SIZE_MAX, .worst_reading = SIZE_MAX};
    const struct er_visit visit = {.field = &field,
                                   .measured = &measured,
                                   .emitters = {.variation = (double)NAN, .emission = (double)NAN},
                                   .split = {.pressure_share = (double)NAN},
                                   .deviation = &deviation,
                                   .hypothesis_count = 1,
                                   .hypotheses = &plan,
                                   .plan_is_right = true,
                                   .explained = true};
    const struct er_result checked = {.verdict = ER_HOLDS};
    const struct er_visit_told told = {&visit, &checked, 0.03};
    struct er_text said;
    er_text_init(&said);
    assert_int_equal(er_report_as(&er_visit_report, ER_AS_JSON, &told, ER_METRIC, &said), ER_OK);
    assert_non_null(strstr(er_text_string(&said), "\"off_percent\": -50,"));
    er_text_clear(&said);
    assert_int_equal(er_report_as(&er_visit_report, ER_AS_TEXT, &told, ER_METRIC, &said), ER_OK);
    assert_non_null(strstr(er_text_string(&said),
                           "header, where it is fed    -19.6  -9.79       -            2\n"));
    er_text_release(&said);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_figures_beside_the_readings),
        cmocka_unit_test(test_eighteen_fill_times),
        cmocka_unit_test(test_flows_without_times),
        cmocka_unit_test(test_too_few_to_say),
        cmocka_unit_test(test_classes),
        cmocka_unit_test(test_variance_by_hand),
        cmocka_unit_test(test_readings_in_si),
        cmocka_unit_test(test_bad_readings),
        cmocka_unit_test(test_plan_shows_what_check_finds),
        cmocka_unit_test(test_faults_do_what_they_say),
        cmocka_unit_test(test_open_end_against_a_walk),
        cmocka_unit_test(test_share_plugged_is_counted),
        cmocka_unit_test(test_how_far_off_the_plan_is_wrong),
        cmocka_unit_test(test_when_nothing_explains),
        cmocka_unit_test(test_most_telling_reading),
        cmocka_unit_test(test_valve_without_flow),
        cmocka_unit_test(test_plan_below_zero),
        cmocka_unit_test(test_valve_that_holds),
        cmocka_unit_test(test_filter_nearly_blocked),
        cmocka_unit_test(test_readings_over_ratings),
        cmocka_unit_test(test_form_has_eighteen_emitters),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
