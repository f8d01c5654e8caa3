/* The card: its readings are those of check; tape ends that can be open at once are held against
 * sums by hand, and against a small header walked here, with equations written apart. */
#include <math.h>
#include <string.h>

#include "evenrow/card.h"
#include "evenrow/hydraulics.h"
#include "hydraulics/run.h"
#include "report/card/report.h"
#include "trial.h"

static void make_card(const struct er_field *field, struct er_result *result, struct er_card *card)
{
    struct er_failure failure;
    assert_int_equal(er_check(field, field->system, result, &failure), ER_OK);
    assert_int_equal(er_card_make(result, 1000, card, &failure), ER_OK);
}

static void release(struct er_field *field, struct er_result *result, struct er_card *card)
{
    er_card_release(card);
    er_result_release(result);
    er_field_release(field);
}

#define TAPE                                                                                       \
    "'tapes': {'t': {'flow': 0.45, 'at_pressure': 8, 'exponent': 0.5, 'emitter_spacing': 12,"      \
    " 'inside_diameter': 0.625, 'c': 140}},"

/* ---- Runs ---- */

/* Makes every gap in the text one blank, where lines may have been broken. */
static const char *unbroken(struct er_text *text)
{
    size_t kept = 0;
    for (size_t i = 0; i < text->length; i++) {
        bool blank = text->data[i] == ' ' || text->data[i] == '\n';
        if (!blank || (kept > 0 && text->data[kept - 1] != ' ')) {
            text->data[kept++] = blank ? ' ' : text->data[i];
        }
    }
    text->data[kept] = '\0';
    return text->data;
}

/* 10 m3 a day at 2 m3/h are 5 h. Half circles of 0.25 m under 1,000 m take 0.1 x 0.5 of 98.17 m3,
 * 4.909: three runs of 1:40. Of 12 hours the other zone takes 5, and 7 are for three rounds. */
static void test_runs_over_the_day(void **state)
{
    (void)state;
    static const char zones[] =
        "{'units': 'metric', 'source': {'pressure': 100}, 'tapes': {'t': {'emitter_flow': 1,"
        " 'holds_from': 1, 'emitter_spacing': 500, 'inside_diameter': 200, 'cv': 0}},"
        " 'water': {'need': 4, 'efficiency': 80, 'hours': 12, 'every': %d}, 'zones': [{'name': 'a',"
        " 'water': {'soil': {'available_water': 0.1, 'spread': 500}}, 'header': {'pipe':"
        " {'inside_diameter': 900}}, 'beds': [{'count': 10, 'length': 100, 'spacing': 2,"
        " 'tape': 't'}]}, {'name': 'b', 'header': {'pipe': {'inside_diameter': 900}}, 'beds':"
        " [{'count': 10, 'length': 100, 'spacing': 2, 'tape': 't'}]}]}";
    for (int every = 1; every <= 2; every++) {
        struct er_field field;
        struct er_result result;
        struct er_card card;
        struct er_text out;
        er_text_init(&out);
        field_open(&field, zones, every);
        make_card(&field, &result, &card);
        assert_int_equal(er_report_as(&er_card_report, ER_AS_TEXT, &card, ER_METRIC, &out), ER_OK);
        const char *text = unbroken(&out);
        assert_int_equal(result.zones[0].pulses, every == 1 ? 3 : 5);
        assert_int_equal(strstr(text, "in 3 runs of 1:40") != NULL, every == 1);
        assert_int_equal(strstr(text, "0:00, 2:20 and 4:40 (h:min)") != NULL, every == 1);
        assert_int_equal(strstr(text, ": 7:00 (h:min)") != NULL, every == 1);
        /* Runs on one of two days help nothing. */
        assert_int_equal(strstr(text, "1:40 3 times a day") != NULL, every == 2);
        er_text_release(&out);
        release(&field, &result, &card);
    }
}

/* ---- The readings ---- */

#define TWO_ZONES                                                                                  \
    "{'units': 'us', 'source': {'curve': [[0, 60], [40, 40], [80, 20]]},"                          \
    "'headworks': [{'part': 'check valve', 'loss': 1, 'at_flow': 30},"                             \
    " {'part': 'filter', 'loss': 2, 'at_flow': 30, 'dirty_loss': 6}],"                             \
    "'mainline': [{'name': 'm', 'pipe': {'inside_diameter': 2.2}, 'length': 300, 'rise': "         \
    "3}]," TAPE "'zones': [{'name': 'a', 'header': {'pipe': {'inside_diameter': 1.5}},"            \
    "  'beds': [{'count': 9, 'length': 200, 'spacing': 5, 'tape': 't', 'slope': 1}]},"             \
    " {'name': 'b', 'header': {'pipe': {'inside_diameter': 1.5}, 'feed': 'middle'},"               \
    "  'beds': [{'count': 7, 'length': 150, 'spacing': 5, 'tape': 't', 'sides': 'both'}]}],"       \
    "'sets': [['a', 'b']], 'limits': {'flush_velocity': %s, 'velocity': 50}}"

static void test_readings_are_those_of_check(void **state)
{
    (void)state;
    struct er_field field;
    struct er_result result;
    struct er_card card;
    field_open(&field, TWO_ZONES, "1");
    make_card(&field, &result, &card);
    const struct er_card_set *set = &card.sets[0];
    const struct er_set_readings *clean = &set->readings[ER_FILTERS_CLEAN];
    const struct er_set_readings *dirty = &set->readings[ER_FILTERS_DIRTY];
    assert_true(set->gets_dirty);
    assert_close(clean->flow, result.sets[0].flow, 1e-12);
    assert_close(clean->source_pressure, result.sets[0].source_pressure, 1e-12);
    assert_close(clean->after_part[1], result.sets[0].after_headworks, 1e-12);
    for (size_t z = 0; z < 2; z++) {
        const struct er_zone_readings *zone = &set->zones[z].readings[ER_FILTERS_CLEAN];
        assert_int_equal(set->zones[z].zone, z);
        assert_close(zone->flow, result.zones[z].flow, 1e-12);
        assert_close(zone->inlet_pressure, result.zones[z].inlet_pressure, 1e-12);
    }
    /* Zone a is fed at its first bed and level along the header: that bed has the most, the last
     * the least. */
    const struct er_zone_readings *a = &set->zones[0].readings[ER_FILTERS_CLEAN];
    assert_int_equal(a->last.bed, 8);
    assert_close(a->first.inlet_pressure, result.zones[0].tape_inlet_pressure.max, 1e-12);
    assert_close(a->last.inlet_pressure, result.zones[0].tape_inlet_pressure.min, 1e-12);
    assert_close(a->last.far_end_pressure, result.zones[0].far_end_pressure, 1e-12);
    /* By hand: a part loses in proportion to the square of the flow; dirt adds 6 psi at 30 gpm. */
    double square = pow(dirty->flow / er_to_si(ER_FLOW, ER_US, 30.0), 2.0);
    assert_close(dirty->after_part[0] - dirty->after_part[1],
                 er_to_si(ER_PRESSURE, ER_US, 8.0) * square, 1e-9);
    assert_true(dirty->flow < clean->flow && dirty->source_pressure > clean->source_pressure);
    release(&field, &result, &card);
}

/* Of two sides the lower, whichever comes last: the header loses nothing, so that each side's tape
 * stands at the source's pressure, and the one that climbs has the lower far end. */
static void test_lower_of_two_sides(void **state)
{
    (void)state;
    for (int uphill = 0; uphill < 2; uphill++) {
        struct er_field field;
        struct er_result result;
        struct er_card card;
        field_open(&field,
                   "{'units': 'us', 'source': {'pressure': 10}," TAPE
                   "'zones': [{'name': 'a', 'header': {'pipe': {'inside_diameter': 400}}, 'beds': "
                   "[{'count': 3, 'length': 200, 'spacing': 5, 'tape': 't', 'sides': 'both',"
                   " 'slope': %d, 'other_slope': %d}]}]}",
                   uphill == 0 ? 2 : -2, uphill == 0 ? -2 : 2);
        make_card(&field, &result, &card);
        const struct er_zone_readings *zone = &card.sets[0].zones[0].readings[ER_FILTERS_CLEAN];
        const struct er_bed_group *group = &field.zones[0].groups[0];
        double far_end[2];
        for (int side = 0; side < 2; side++) {
            struct er_run run = er_run_make(group->tape, group->length,
                                            side == 0 ? &group->ground : &group->other_ground);
            struct er_run_state at = {0};
            assert_int_equal(er_run_solve(&run, field.source.pressure, 1e-11, &at), ER_OK);
            far_end[side] = er_run_far_end_pressure(&run, &at);
        }
        assert_true(far_end[uphill] < far_end[1 - uphill] - 1.0);
        assert_close(zone->first.far_end_pressure, far_end[uphill], 1e-6);
        assert_close(zone->last.far_end_pressure, far_end[uphill], 1e-6);
        release(&field, &result, &card);
    }
}

/* Behind connectors the sides' inlets differ: by hand, of a longer and a shorter side the longer
 * takes more, and a connector loses in proportion to the square of that. */
static void test_lower_inlet_of_two_sides(void **state)
{
    (void)state;
    for (int longer = 0; longer < 2; longer++) {
        struct er_field field;
        struct er_result result;
        struct er_card card;
        field_open(&field,
                   "{'units': 'us', 'source': {'pressure': 10}, 'tapes': {'t': {'flow': 0.45,"
                   " 'at_pressure': 8, 'exponent': 0.5, 'emitter_spacing': 12, 'inside_diameter':"
                   " 0.625, 'c': 140, 'connector': {'loss': 3, 'at_flow': 1}}}, 'zones': [{'name':"
                   " 'a', 'header': {'pipe': {'inside_diameter': 400}}, 'beds': [{'count': 3,"
                   " 'length': %d, 'other_length': %d, 'spacing': 5, 'tape': 't', 'sides': 'both'}]"
                   "}]}",
                   longer == 0 ? 300 : 100, longer == 0 ? 100 : 300);
        make_card(&field, &result, &card);
        double inlet = card.sets[0].zones[0].readings[ER_FILTERS_CLEAN].first.inlet_pressure;
        const struct er_bed_group *group = &field.zones[0].groups[0];
        struct er_run run = er_run_make(group->tape, 300.0 * 0.3048, &group->ground);
        struct er_run_state at = {0};
        assert_int_equal(er_run_solve(&run, inlet, 1e-11, &at), ER_OK);
        double share = at.inlet_flow / er_to_si(ER_FLOW, ER_US, 1.0);
        double lost = er_to_si(ER_PRESSURE, ER_US, 3.0) * share * share;
        assert_close(inlet + lost, field.source.pressure, 1e-6);
        release(&field, &result, &card);
    }
}

/* ---- Ends open at once ---- */

/* An open tape is the tape that er_run_flush flushes, and its slope is that between neighbours. */
static void test_open_walk(void **state)
{
    (void)state;
    struct er_field field;
    field_open(&field, TWO_ZONES, "1");
    const struct er_bed_group *group = &field.zones[0].groups[0];
    struct er_run run = er_run_make(group->tape, group->length, &group->ground);
    for (double end_flow = 1e-7; end_flow < 3e-4; end_flow *= 3.0) {
        struct er_run_state open = er_run_walk_open(&run, end_flow);
        double flushed = 0.0;
        assert_int_equal(er_run_flush(&run, open.inlet_pressure, &flushed), ER_OK);
        assert_close(flushed, end_flow, 1e-6);
        struct er_run_state more = er_run_walk_open(&run, end_flow * 1.0001);
        double slope =
            (more.inlet_flow - open.inlet_flow) / (more.inlet_pressure - open.inlet_pressure);
        assert_close(open.flow_slope, slope, 1e-3);
        assert_true(open.inlet_flow > end_flow);
    }
    er_field_release(&field);
}

/* By hand: the header and the way to it lose nothing, so that each tape has the source's
 * pressure whatever is open, and each open end adds the same flow. */
#define NO_LOSSES                                                                                  \
    "{'units': 'us', 'source': {'pressure': 10, 'flow_limit': %s}," TAPE                           \
    "'zones': [{'name': 'a', 'header': {'pipe': {'inside_diameter': 400}},"                        \
    " 'beds': [{'count': 12, 'length': 200, 'spacing': 5, 'tape': 't', 'tapes': 2}]}],"            \
    "'limits': {'flush_velocity': %s}}"

static void test_source_limits(void **state)
{
    (void)state;
    struct er_field field;
    struct er_result result;
    struct er_card card;
    field_open(&field, NO_LOSSES, "30", "1");
    make_card(&field, &result, &card);
    const struct er_flushing *flushing = &card.sets[0].zones[0].flushing;
    const struct er_bed_group *group = &field.zones[0].groups[0];
    struct er_run run = er_run_make(group->tape, group->length, &group->ground);
    double end_flow = 0.0;
    (void)er_run_flush(&run, field.source.pressure, &end_flow);
    double closed = result.zones[0].flow;
    double adds = er_run_walk_open(&run, end_flow).inlet_flow - closed / 24.0;
    double at_once = floor((field.source.flow_limit - closed) / adds);
    assert_true(at_once >= 2.0 && at_once < 24.0);
    assert_int_equal(flushing->ends, 24);
    assert_int_equal(flushing->at_once, (size_t)at_once);
    assert_int_equal(flushing->limit, ER_FLUSH_SOURCE);
    assert_close(flushing->velocity, result.zones[0].flush_velocity, 1e-6);
    assert_close(flushing->flow, closed + at_once * adds, 1e-5);
    release(&field, &result, &card);
}

static void test_all_or_none(void **state)
{
    (void)state;
    struct er_field field;
    struct er_result result;
    struct er_card card;
    field_open(&field, NO_LOSSES, "900", "1");
    make_card(&field, &result, &card);
    assert_int_equal(card.sets[0].zones[0].flushing.at_once, 24);
    assert_int_equal(card.sets[0].zones[0].flushing.limit, ER_FLUSH_ALL);
    release(&field, &result, &card);
    field_open(&field, NO_LOSSES, "900", "9");
    make_card(&field, &result, &card);
    assert_int_equal(card.sets[0].zones[0].flushing.at_once, 0);
    assert_close(card.sets[0].zones[0].flushing.velocity, result.zones[0].flush_velocity, 1e-6);
    assert_int_equal(card.sets[0].zones[0].flushing.limit, ER_FLUSH_ENDS);
    release(&field, &result, &card);
    field_open(&field, NO_LOSSES, "1", "1");
    make_card(&field, &result, &card);
    assert_int_equal(card.sets[0].zones[0].flushing.at_once, 0);
    assert_int_equal(card.sets[0].zones[0].flushing.limit, ER_FLUSH_SOURCE);
    release(&field, &result, &card);
}

/* ---- A narrow header, walked here ---- */

#define BEDS 8
#define EMITTERS 50
#define SPACING 0.3048
#define FLUSHED (4.6 * 0.3048) /* m/s */

/* Hazen-Williams, as in any textbook. */
static double loss(double flow, double length, double c, double diameter)
{
    return 10.67 * length * pow(flow / c, 1.852) / pow(diameter, 4.8704);
}

/* What a tape takes whose inlet has `pressure`: bisection on the pressure at its last emitter, or
 * where its end is open on the end's flow. *end_flow: what comes out there. */
static double tape_takes(double pressure, bool open, double *end_flow)
{
    const double nominal = er_to_si(ER_TAPE_FLOW, ER_US, 0.45) * SPACING;
    const double at = er_to_si(ER_PRESSURE, ER_US, 8.0);
    const double diameter = 0.625 * 0.0254;
    double low = 0.0;
    double high = open ? 1e-3 : pressure;
    double flow = 0.0;
    for (int halving = 0; halving < 48; halving++) {
        double middle = 0.5 * (low + high);
        double here = open ? loss(middle, 0.5 * SPACING, 140.0, diameter) : middle;
        flow = open ? middle : 0.0;
        for (int emitter = 0; emitter < EMITTERS; emitter++) {
            flow += nominal * sqrt(here / at);
            here += loss(flow, emitter + 1 < EMITTERS ? SPACING : 0.5 * SPACING, 140.0, diameter);
        }
        if (here > pressure) {
            high = middle;
        } else {
            low = middle;
        }
    }
    *end_flow = open ? 0.5 * (low + high) : 0.0;
    return flow;
}

/* The header fed at its first bed by a source that holds `pressure`, the ends of `count` beds from
 * bed `from` on open: bisection on the pressure at the last bed. Returns the flow; *velocity: the
 * weakest end's. */
static double header_takes(double pressure, size_t count, size_t from, double *velocity)
{
    double low = 0.0;
    double high = pressure;
    double flow = 0.0;
    for (int halving = 0; halving < 44; halving++) {
        double here = 0.5 * (low + high);
        flow = 0.0;
        *velocity = HUGE_VAL;
        for (size_t bed = BEDS; bed-- > 0;) {
            bool open = bed >= from && bed < from + count;
            double end_flow;
            flow += tape_takes(here, open, &end_flow);
            if (open) {
                *velocity =
                    fmin(*velocity, end_flow / (3.14159265358979 / 4.0 * pow(0.625 * 0.0254, 2.0)));
            }
            here += bed > 0 ? loss(flow, 5.0 * 0.3048, 150.0, 0.8 * 0.0254) : 0.0;
        }
        if (here > pressure) {
            high = 0.5 * (low + high);
        } else {
            low = 0.5 * (low + high);
        }
    }
    return flow;
}

static void test_narrow_header(void **state)
{
    (void)state;
    struct er_field field;
    struct er_result result;
    struct er_card card;
    field_open(&field,
               "{'units': 'us', 'source': {'pressure': 12}," TAPE
               "'zones': [{'name': 'a', 'header': {'pipe': {'inside_diameter': 0.8, 'c': 150}},"
               " 'beds': [{'count': 8, 'length': 50, 'spacing': 5, 'tape': 't'}]}],"
               "'limits': {'flush_velocity': 4.6, 'velocity': 50}}");
    make_card(&field, &result, &card);
    const struct er_flushing *flushing = &card.sets[0].zones[0].flushing;
    size_t at_once = 0;
    double flow = 0.0, velocity = 0.0;
    for (size_t count = 1; count <= BEDS; count++) {
        double most = 0.0, weakest = HUGE_VAL;
        for (size_t from = 0; from + count <= BEDS; from++) {
            double slowest;
            most = fmax(most, header_takes(field.source.pressure, count, from, &slowest));
            weakest = fmin(weakest, slowest);
        }
        if (weakest < FLUSHED) {
            break;
        }
        at_once = count;
        flow = most;
        velocity = weakest;
    }
    assert_true(at_once > 0 && at_once < BEDS);
    assert_int_equal(flushing->at_once, at_once);
    assert_close(flushing->flow, flow, 1e-6);
    assert_close(flushing->velocity, velocity, 1e-6);
    release(&field, &result, &card);
}

/* By hand: where no pipe loses anything each open end adds the same, and the first reach carries it
 * all: its limit is passed when the source's would be. And a crew tends 5 ends each. */
static void test_pipes_and_people(void **state)
{
    (void)state;
    struct er_field field;
    struct er_result result;
    struct er_card card;
    struct er_failure failure;
    field_open(&field, NO_LOSSES, "30", "1");
    double flow = field.source.flow_limit;
    field.limits.velocity = flow / (3.14159265358979 / 4.0 * pow(400.0 * 0.0254, 2.0));
    make_card(&field, &result, &card);
    size_t held_by_source = card.sets[0].zones[0].flushing.at_once;
    er_card_release(&card);
    field.source.flow_limit = ER_NONE;
    assert_int_equal(er_card_make(&result, 1000, &card, &failure), ER_OK);
    assert_int_equal(card.sets[0].zones[0].flushing.limit, ER_FLUSH_PIPES);
    assert_int_equal(card.sets[0].zones[0].flushing.at_once, held_by_source);
    er_card_release(&card);
    field.limits.velocity = 5.0;
    for (size_t people = 1; people <= 5; people++) {
        assert_int_equal(er_card_make(&result, people, &card, &failure), ER_OK);
        const struct er_flushing *flushing = &card.sets[0].zones[0].flushing;
        assert_int_equal(flushing->at_once, people < 5 ? 5 * people : 24);
        assert_int_equal(flushing->limit, people < 5 ? ER_FLUSH_CREW : ER_FLUSH_ALL);
        er_card_release(&card);
    }
    er_result_release(&result);
    er_field_release(&field);
}

/* By hand: a mainline half as wide as the header carries the same flow, and so is the first at its
 * limit, with as many open ends as the source would feed that gives just that flow. */
static void test_narrow_mainline(void **state)
{
    (void)state;
    struct er_field field;
    struct er_result result;
    struct er_card card;
    struct er_failure failure;
    field_open(&field,
               "{'units': 'us', 'source': {'pressure': 10, 'flow_limit': 30}," TAPE
               "'mainline': [{'name': 'm', 'pipe': {'inside_diameter': 400}, 'length': 10}],"
               "'zones': [{'name': 'a', 'on': 'm', 'header': {'pipe': {'inside_diameter': 800}},"
               " 'beds': [{'count': 12, 'length': 200, 'spacing': 5, 'tape': 't', 'tapes': 2}]}],"
               "'limits': {'flush_velocity': 1}}");
    const double flow = field.source.flow_limit;
    field.limits.velocity = flow / (3.14159265358979 / 4.0 * pow(400.0 * 0.0254, 2.0));
    make_card(&field, &result, &card);
    const size_t held_by_source = card.sets[0].zones[0].flushing.at_once;
    assert_in_range(held_by_source, 1, 23);
    er_card_release(&card);
    field.source.flow_limit = ER_NONE;
    assert_int_equal(er_card_make(&result, 1000, &card, &failure), ER_OK);
    assert_int_equal(card.sets[0].zones[0].flushing.limit, ER_FLUSH_PIPES);
    assert_int_equal(card.sets[0].zones[0].flushing.at_once, held_by_source);
    release(&field, &result, &card);
}

/* By hand: at the end of a pump's curve; beyond it nobody knows what the pump does. */
static void test_curve_end_limits(void **state)
{
    (void)state;
    struct er_field field;
    struct er_result result;
    struct er_card card;
    struct er_failure failure;
    field_open(&field, NO_LOSSES, "30", "1");
    make_card(&field, &result, &card);
    size_t held_by_limit = card.sets[0].zones[0].flushing.at_once;
    er_card_release(&card);
    const struct er_point curve[] = {{0.0, field.source.pressure},
                                     {field.source.flow_limit, field.source.pressure}};
    field.source = (struct er_source){.kind = ER_SOURCE_CURVE,
                                      .curve_count = 2,
                                      .curve = curve,
                                      .flow_limit = ER_NONE,
                                      .storage = ER_NONE,
                                      .refill = ER_NONE};
    assert_int_equal(er_card_make(&result, 1000, &card, &failure), ER_OK);
    assert_int_equal(card.sets[0].zones[0].flushing.at_once, held_by_limit);
    assert_int_equal(card.sets[0].zones[0].flushing.limit, ER_FLUSH_SOURCE);
    release(&field, &result, &card);
}

/* The more velocity is wanted, the fewer ends. */
static void test_more_velocity_fewer_ends(void **state)
{
    (void)state;
    static const char *const wanted[] = {"0.5", "4.4", "4.8", "5.2", "5.6", "6", "6.5", "9"};
    size_t before[2] = {SIZE_MAX, SIZE_MAX};
    size_t fell = 0;
    for (size_t i = 0; i < sizeof wanted / sizeof wanted[0]; i++) {
        struct er_field field;
        struct er_result result;
        struct er_card card;
        field_open(&field, TWO_ZONES, wanted[i]);
        make_card(&field, &result, &card);
        for (size_t z = 0; z < 2; z++) {
            const struct er_flushing *flushing = &card.sets[0].zones[z].flushing;
            assert_true(flushing->at_once <= before[z]);
            assert_true(flushing->at_once == 0 ||
                        flushing->velocity >= field.limits.flush_velocity * (1.0 - 1e-9));
            fell += flushing->at_once < before[z];
            before[z] = flushing->at_once;
        }
        release(&field, &result, &card);
    }
    assert_true(fell > 4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_runs_over_the_day),
        cmocka_unit_test(test_readings_are_those_of_check),
        cmocka_unit_test(test_lower_of_two_sides),
        cmocka_unit_test(test_lower_inlet_of_two_sides),
        cmocka_unit_test(test_open_walk),
        cmocka_unit_test(test_source_limits),
        cmocka_unit_test(test_all_or_none),
        cmocka_unit_test(test_narrow_header),
        cmocka_unit_test(test_pipes_and_people),
        cmocka_unit_test(test_narrow_mainline),
        cmocka_unit_test(test_curve_end_limits),
        cmocka_unit_test(test_more_velocity_fewer_ends),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
