/* Whole zones and sets: what must come out alike when a plan is said in another way, and what
 * must come out at all when it is extreme. */
#include <math.h>

#include "evenrow/hydraulics.h"
#include "trial.h"

#define TAPES                                                                                      \
    "'tapes': {'t': {'emitter_flow': 1, 'at_pressure': '5.6 m', 'emitter_spacing': 300,"           \
    " 'inside_diameter': 16}, 'pc': {'emitter_flow': 1.2, 'holds_from': '4 m',"                    \
    " 'emitter_spacing': 400, 'inside_diameter': 16}, 'flat': {'emitter_flow': 1, 'at_pressure':"  \
    " '5.6 m', 'exponent': 0.15, 'emitter_spacing': 300, 'inside_diameter': 16}}"

/* A field of one zone: its source, what is in its header besides the pipe, its beds. */
#define FIELD                                                                                      \
    "{'units': 'metric', 'source': {%s}, " TAPES ", 'zones': [{'name': '1',"                       \
    " 'header': {'pipe': {'inside_diameter': 40} %s}, 'beds': [%s]}]}"

#define SOURCE "'curve': [[0, '14 m'], [4, '10 m'], [20, '2 m']]"
#define ALIKE 1e-8

/* The figures of a zone that must agree when two plans are the same. */
static void zones_alike(const struct er_zone_result *a, const struct er_zone_result *b)
{
    assert_int_equal(a->beds, b->beds);
    assert_close(a->emitters, b->emitters, 0.0);
    assert_close(a->flow, b->flow, ALIKE);
    assert_close(a->inlet_pressure, b->inlet_pressure, ALIKE);
    assert_close(a->tape_inlet_pressure.min, b->tape_inlet_pressure.min, ALIKE);
    assert_close(a->tape_inlet_pressure.max, b->tape_inlet_pressure.max, ALIKE);
    assert_close(a->far_end_pressure, b->far_end_pressure, ALIKE);
    assert_close(a->emitter_pressure.min, b->emitter_pressure.min, ALIKE);
    assert_close(a->emitter_pressure.max, b->emitter_pressure.max, ALIKE);
    assert_close(a->emission_uniformity, b->emission_uniformity, ALIKE);
    assert_close(a->low_quarter, b->low_quarter, ALIKE);
    assert_within(a->header_velocity, b->header_velocity, ALIKE);
}

static void same_zone(const char *header_a, const char *beds_a, const char *header_b,
                      const char *beds_b)
{
    struct trial a, b;
    trial_open(&a, FIELD, SOURCE, header_a, beds_a);
    trial_open(&b, FIELD, SOURCE, header_b, beds_b);
    assert_true(a.result.zones[0].flow > 0.0);
    zones_alike(&a.result.zones[0], &b.result.zones[0]);
    trial_close(&a);
    trial_close(&b);
}

static void test_mirror(void **state)
{
    (void)state;
    const char *beds =
        "{'count': 7, 'length': 90, 'last_length': 60, 'spacing': 1.8, 'tape': 't', 'slope': 0.5},"
        "{'count': 5, 'length': 60, 'spacing': 2.4, 'gap': 3, 'tape': 'pc'}";
    const char *mirrored =
        "{'count': 5, 'length': 60, 'spacing': 2.4, 'tape': 'pc'},"
        "{'count': 7, 'length': 60, 'last_length': 90, 'spacing': 1.8, 'gap': 3, 'tape': 't',"
        " 'slope': 0.5}";
    same_zone(", 'feed': 'first', 'slope': 2", beds, ", 'feed': 'last', 'slope': -2", mirrored);
    /* The span: 6 x 1.8 + 0.9 + 1.2 + 3 + 4 x 2.4 = 25.5 m. */
    same_zone(", 'feed': 7.5, 'slope': -1", beds, ", 'feed': 18, 'slope': 1", mirrored);
    same_zone(", 'feed': 'middle', 'slope': 3", beds, ", 'feed': 12.75, 'slope': -3", mirrored);
    same_zone(", 'feed': 'last'", beds, ", 'feed': 25.5", beds);
}

/* Ten beds fed in the middle of a level header take twice what five take, fed half a spacing
 * before the first; the half spacing is a lead of the same pipe. */
static void test_middle_is_two_halves(void **state)
{
    (void)state;
    struct trial whole, half;
    trial_open(&whole, FIELD, "'pressure': '8 m'", ", 'feed': 'middle'",
               "{'count': 10, 'length': 80, 'spacing': 2, 'tape': 't'}");
    trial_open(&half, FIELD, "'pressure': '8 m'", ", 'lead': 1",
               "{'count': 5, 'length': 80, 'spacing': 2, 'tape': 't'}");
    assert_close(whole.result.zones[0].flow, 2.0 * half.result.zones[0].flow, ALIKE);
    assert_close(whole.result.zones[0].far_end_pressure, half.result.zones[0].far_end_pressure,
                 ALIKE);
    assert_close(whole.result.zones[0].header_velocity, half.result.zones[0].header_velocity,
                 ALIKE);
    trial_close(&whole);
    trial_close(&half);
}

static void test_both_sides(void **state)
{
    (void)state;
    same_zone("",
              "{'count': 6, 'length': 50, 'spacing': 2, 'tape': 't', 'sides': 'both',"
              " 'slope': 1, 'other_slope': 1}",
              "",
              "{'count': 6, 'length': 50, 'spacing': 2, 'tape': 't', 'sides': 'both',"
              " 'profile': [[0, 3], [100, 4]], 'other_length': 50, 'other_profile': [[0, 0], "
              "[10, 0.1]]}");
    /* Two alike tapes on one bed take what one on each side does. */
    struct trial both, twin;
    trial_open(&both, FIELD, SOURCE, "",
               "{'count': 6, 'length': 50, 'spacing': 2, 'tape': 't', 'sides': 'both'}");
    trial_open(&twin, FIELD, SOURCE, "",
               "{'count': 6, 'length': 50, 'spacing': 2, 'tape': 't', 'tapes': 2}");
    assert_int_equal(both.result.zones[0].beds, 12);
    assert_int_equal(twin.result.zones[0].beds, 6);
    assert_close(both.result.zones[0].tape_length, 600.0, 1e-12);
    assert_close(twin.result.zones[0].tape_length, 600.0, 1e-12);
    assert_close(both.result.zones[0].area, 2.0 * twin.result.zones[0].area, 1e-12);
    assert_close(both.result.zones[0].flow, twin.result.zones[0].flow, ALIKE);
    assert_close(both.result.zones[0].emitters, twin.result.zones[0].emitters, 0.0);
    assert_close(both.result.zones[0].far_end_pressure, twin.result.zones[0].far_end_pressure,
                 ALIKE);
    trial_close(&both);
    trial_close(&twin);
}

/* The other side's slope goes on by itself: the same hillside, upward on the one side and
 * downward on the other. */
static void test_other_slope(void **state)
{
    (void)state;
    same_zone("",
              "{'count': 4, 'length': 50, 'spacing': 2, 'tape': 't', 'sides': 'both', 'slope': 2}",
              "",
              "{'count': 4, 'length': 50, 'spacing': 2, 'tape': 't', 'sides': 'both',"
              " 'slope': -2, 'other_slope': 2}");
}

static void test_groups_split(void **state)
{
    (void)state;
    same_zone("", "{'count': 9, 'length': 50, 'spacing': 2, 'tape': 't'}", "",
              "{'count': 4, 'length': 50, 'spacing': 2, 'tape': 't'},"
              "{'count': 5, 'length': 50, 'spacing': 2, 'tape': 't'}");
    same_zone(", 'slope': 1", "{'count': 9, 'length': 50, 'spacing': 2, 'tape': 't'}",
              ", 'profile': [[0, 4], [3, 4.03], [9, 4.09]]",
              "{'count': 9, 'length': 50, 'spacing': 2, 'tape': 't'}");
}

/* A header of one pipe is the same when it is written in pieces, also where a piece ends just
 * at a bed, or within a rounding of it. */
static void test_header_pieces(void **state)
{
    (void)state;
    const char *plan =
        "{'units': 'metric', 'source': {" SOURCE "}, " TAPES ", 'pipes': {'a': {'inside_diameter':"
        " 40}, 'b': {'inside_diameter': 25}}, 'zones': [{'name': '1', 'header': {'sections': [%s],"
        " 'feed': %s}, 'beds': [{'count': 9, 'length': 50, 'spacing': 0.3, 'tape': 't'}]}]}";
    const char *feeds[] = {"'first'", "'last'", "1.2", "0.9"};
    for (size_t f = 0; f < 4; f++) {
        struct trial one, pieces, at, beside;
        trial_open(&one, plan, "{'pipe': 'a'}", feeds[f]);
        trial_open(&pieces, plan, "{'pipe': 'a', 'length': 0.7}, {'pipe': 'a', 'length': 1}",
                   feeds[f]);
        zones_alike(&one.result.zones[0], &pieces.result.zones[0]);
        trial_open(&at, plan, "{'pipe': 'a', 'length': 0.9}, {'pipe': 'b'}", feeds[f]);
        trial_open(&beside, plan, "{'pipe': 'a', 'length': 0.90000000000001}, {'pipe': 'b'}",
                   feeds[f]);
        zones_alike(&at.result.zones[0], &beside.result.zones[0]);
        assert_true(at.result.zones[0].flow < one.result.zones[0].flow);
        trial_close(&one);
        trial_close(&pieces);
        trial_close(&at);
        trial_close(&beside);
    }
}

/* Fed exactly at a bed, or a rounding to either side of it. */
static void test_feed_at_a_bed(void **state)
{
    (void)state;
    const char *beds = "{'count': 9, 'length': 50, 'spacing': 0.3, 'tape': 't'}";
    same_zone(", 'feed': 0.9", beds, ", 'feed': 0.90000000000001", beds);
    same_zone(", 'feed': 0.9", beds, ", 'feed': 0.89999999999999", beds);
    same_zone(", 'feed': 'middle'", beds, ", 'feed': 1.2", beds);
}

/* One bed with one emitter, worked by hand: the header's reach is nothing, the tape's reach is
 * 150 mm; its friction is 2e-9 m and does not matter. */
static void test_one_emitter(void **state)
{
    (void)state;
    struct trial trial;
    trial_open(&trial, FIELD, "'pressure': '1.4 m'", "",
               "{'count': 1, 'length': 0.3, 'spacing': 1, 'tape': 't'}");
    const struct er_zone_result *zone = &trial.result.zones[0];
    assert_close(zone->emitters, 1.0, 0.0);
    assert_close(zone->flow, 0.5e-3 / 3600.0, 1e-7);
    assert_close(zone->mean_emitter_flow, zone->flow, 1e-12);
    assert_close(zone->emitter_flow.min, zone->emitter_flow.max, 1e-15);
    assert_true(zone->flow_variation <= 0.0 && zone->header_velocity <= 0.0);
    assert_close(zone->christiansen, 1.0, 1e-14);
    trial_close(&trial);
}

static void test_five_thousand_beds(void **state)
{
    (void)state;
    struct trial trial;
    trial_open(&trial,
               "{'units': 'metric', 'source': {'pressure': '12 m'}, " TAPES ", 'zones': [{'name': "
               "'1', 'header': {'pipe': {'inside_diameter': 400}}, 'beds': [{'count': 5000,"
               " 'length': 60, 'last_length': 20, 'spacing': 1.5, 'tape': 't'}]}]}");
    const struct er_zone_result *zone = &trial.result.zones[0];
    assert_int_equal(zone->beds, 5000);
    assert_close(zone->tape_length, 5000 * 40.0, 1e-10);
    assert_close(zone->flow, zone->mean_emitter_flow * zone->emitters, 1e-9);
    assert_true(zone->emitter_flow.min > 0.0);
    trial_close(&trial);
}

/* Eight unlike zones on a mainline that branches. */
#define BRANCHING                                                                                  \
    "{'units': 'metric', 'source': {%s}, " TAPES ", 'headworks': [{'part': 'filter', 'loss':"      \
    " '2 m', 'at_flow': 10}], 'pipes': {'main': {'inside_diameter': 50}, 'side':"                  \
    " {'inside_diameter': 32}, 'header': {'inside_diameter': 40}}, 'mainline': [%s],"              \
    "'zones': [%s], 'sets': [%s]}"
#define SECTIONS                                                                                   \
    "{'name': 'A', 'pipe': 'main', 'length': 40}, {'name': 'B', 'pipe': 'side', 'length': 30,"     \
    " 'rise': 1}, {'name': 'C', 'pipe': 'side', 'length': 60, 'from': 'A', 'rise': -2},"           \
    " {'name': 'D', 'pipe': 'side', 'length': 10, 'from': 'headworks', 'fittings': 20}"
#define BEDS(count, length, tape)                                                                  \
    "'header': {'pipe': 'header'}, 'beds': [{'count': " #count ", 'length': " #length              \
    ", 'spacing': 1.5, 'tape': '" tape "'}]}"
#define Z1 "{'name': '1', 'on': 'A', " BEDS(10, 60, "t")
#define Z2 "{'name': '2', 'on': 'B', 'regulator': {'holds': '6 m'}, " BEDS(8, 50, "t")
#define Z3 "{'name': '3', 'on': 'B', 'rise': 2, " BEDS(6, 70, "pc")
#define Z4 "{'name': '4', 'on': 'C', 'valve': {'loss': '1 m', 'at_flow': 2}, " BEDS(12, 40, "t")
#define Z5 "{'name': '5', 'on': 'C', 'regulator': {'holds': '30 m'}, " BEDS(5, 90, "t")
#define Z6 "{'name': '6', 'on': 'D', " BEDS(9, 45, "pc")
#define Z7 "{'name': '7', 'on': 'headworks', " BEDS(7, 60, "t")
#define Z8 "{'name': '8', 'on': 'A', 'rise': 60, " BEDS(7, 60, "t")
#define PUMP "'pump': {'curve': [[0, 30], [6, 24], [20, 4]], 'lift': 2}"

static const struct er_zone_result *named(const struct trial *trial, const char *name)
{
    for (size_t z = 0; z < trial->field.zone_count; z++) {
        if (trial->field.zones[z].name[0] == name[0]) {
            return &trial->result.zones[z];
        }
    }
    fail();
    return NULL;
}

static double section_loss(const struct trial *trial, size_t section, double flow)
{
    const struct er_section *at = &trial->field.mainline[section];
    return er_friction_head(flow, at->length * (1.0 + at->fittings), at->pipe->c,
                            at->pipe->inside_diameter) +
           at->rise;
}

/* Every pressure down the tree follows from the flows that were found. */
static void test_eight_zones(void **state)
{
    (void)state;
    struct trial trial;
    trial_open(&trial, BRANCHING, PUMP, SECTIONS,
               Z1 "," Z2 "," Z3 "," Z4 "," Z5 "," Z6 "," Z7 "," Z8,
               "['1', '2', '3', '4', '5', '6', '7', '8']");
    const struct er_zone_result *zone = trial.result.zones;
    double total = 0.0;
    for (size_t z = 0; z < 8; z++) {
        total += zone[z].flow;
        assert_within(zone[z].flow, zone[z].mean_emitter_flow * zone[z].emitters,
                      1e-9 * zone[z].flow);
    }
    assert_close(trial.result.sets[0].flow, total, 1e-9);
    double slope;
    double source = er_source_pressure(&trial.field.source, total, &slope);
    double head = source - er_part_loss(&trial.field.headworks[0], total, false, &slope);
    assert_close(trial.result.sets[0].source_pressure, source, 1e-9);
    assert_close(trial.result.sets[0].after_headworks, head, 1e-9);
    double b_flow = zone[1].flow + zone[2].flow;
    double c_flow = zone[3].flow + zone[4].flow;
    double a = head - section_loss(&trial, 0, b_flow + c_flow + zone[0].flow + zone[7].flow);
    double b = a - section_loss(&trial, 1, b_flow);
    double c = a - section_loss(&trial, 2, c_flow);
    double d = head - section_loss(&trial, 3, zone[5].flow);
    assert_within(zone[0].join_pressure, a, 1e-8);
    assert_within(zone[1].join_pressure, b, 1e-8);
    assert_within(zone[2].join_pressure, b, 1e-8);
    assert_within(zone[3].join_pressure, c, 1e-8);
    assert_within(zone[5].join_pressure, d, 1e-8);
    assert_within(zone[6].join_pressure, head, 1e-8);
    assert_close(trial.result.sections[1].flow, b_flow, 1e-9);
    assert_within(trial.result.sections[2].end_pressure, c, 1e-8);
    /* Regulators: one holds, one is starved. */
    assert_close(zone[1].inlet_pressure, 6.0, 1e-9);
    assert_true(zone[4].inlet_pressure < 30.0);
    assert_within(zone[4].inlet_pressure, c, 1e-8);
    assert_within(zone[2].inlet_pressure, b - 2.0, 1e-8);
    /* Zone 8 lies 60 m up: nothing flows, the others are not disturbed by it. */
    assert_true(zone[7].flow <= 0.0);
    assert_int_equal(zone[7].dry_rows, 7);
    assert_within(zone[7].inlet_pressure, a - 60.0, 1e-8);
    assert_true(isnan(zone[7].emission_uniformity));
    trial_close(&trial);
}

static void test_order_does_not_matter(void **state)
{
    (void)state;
    struct trial a, b;
    trial_open(&a, BRANCHING, PUMP, SECTIONS, Z1 "," Z2 "," Z3 "," Z4 "," Z5 "," Z6 "," Z7,
               "['1', '2', '3', '4', '5', '6', '7']");
    trial_open(&b, BRANCHING, PUMP, SECTIONS, Z5 "," Z3 "," Z7 "," Z1 "," Z6 "," Z2 "," Z4,
               "['6', '3', '1', '7', '5', '2', '4']");
    const char *names[] = {"1", "2", "3", "4", "5", "6", "7"};
    for (size_t n = 0; n < 7; n++) {
        zones_alike(named(&a, names[n]), named(&b, names[n]));
    }
    trial_close(&a);
    trial_close(&b);
}

static void test_section_in_two(void **state)
{
    (void)state;
    struct trial a, b;
    trial_open(&a, BRANCHING, PUMP, SECTIONS, Z1 "," Z2 "," Z4, "['1', '2', '4']");
    trial_open(&b, BRANCHING, PUMP,
               "{'name': 'first half', 'pipe': 'main', 'length': 13, 'rise': 5}, {'name': 'A',"
               " 'pipe': 'main', 'length': 27, 'rise': -5}, {'name': 'B', 'pipe': 'side',"
               " 'length': 30, 'rise': 1}, {'name': 'C', 'pipe': 'side', 'length': 60,"
               " 'from': 'A', 'rise': -2}",
               Z1 "," Z2 "," Z4, "['1', '2', '4']");
    for (size_t z = 0; z < 3; z++) {
        zones_alike(&a.result.zones[z], &b.result.zones[z]);
    }
    trial_close(&a);
    trial_close(&b);
}

static void test_sets_are_apart(void **state)
{
    (void)state;
    struct trial both, one, two;
    trial_open(&both, BRANCHING, PUMP, SECTIONS, Z1 "," Z4, "['1'], ['4']");
    trial_open(&one, BRANCHING, PUMP, SECTIONS, Z1, "['1']");
    trial_open(&two, BRANCHING, PUMP, SECTIONS, Z4, "['4']");
    zones_alike(&both.result.zones[0], &one.result.zones[0]);
    zones_alike(&both.result.zones[1], &two.result.zones[0]);
    assert_close(both.result.sets[1].flow, two.result.sets[0].flow, ALIKE);
    /* Section A is recorded in its busiest set, C in the only one that uses it, D in none. */
    size_t busiest = one.result.sets[0].flow > two.result.sets[0].flow ? 0 : 1;
    assert_int_equal(both.result.sections[0].set, busiest);
    assert_close(both.result.sections[0].flow, both.result.sets[busiest].flow, ALIKE);
    assert_int_equal(both.result.sections[2].set, 1);
    assert_true(both.result.sections[3].flow <= 0.0);
    assert_int_equal(both.result.sections[3].set, 0);
    assert_close(both.result.sections[3].end_pressure, both.result.sets[0].after_headworks, 1e-12);
    trial_close(&both);
    trial_close(&one);
    trial_close(&two);
}

static void test_loss_not_overcome(void **state)
{
    (void)state;
    const char *plan =
        "{'units': 'metric', 'source': {'pressure': '3 m'}, 'headworks': [{'part': 'valve',"
        " 'loss': '%s m'}], " TAPES ", 'zones': [{'name': '1', 'header': {'pipe':"
        " {'inside_diameter': 40}}, 'beds': [{'count': 3, 'length': 30, 'spacing': 2,"
        " 'tape': 't'}]}]}";
    const char *losses[] = {"3", "3.5", "100"};
    for (size_t l = 0; l < 3; l++) {
        struct trial trial;
        trial_open(&trial, plan, losses[l]);
        assert_true(trial.result.zones[0].flow <= 0.0);
        assert_true(trial.result.zones[0].emitter_flow.max <= 0.0);
        assert_int_equal(trial.result.zones[0].dry_rows, 3);
        trial_close(&trial);
    }
    struct trial trial;
    trial_open(&trial, plan, "2.999");
    assert_true(trial.result.zones[0].flow > 0.0);
    assert_close(trial.result.zones[0].inlet_pressure, 0.001, 1e-6);
    trial_close(&trial);
}

/* Connectors: a loss by flow, a fixed loss, a regulator at each tape. */
static void test_connectors(void **state)
{
    (void)state;
    const char *plan =
        "{'units': 'metric', 'source': {'pressure': '%s m'}, 'tapes': {'t': {'emitter_flow': 1,"
        " 'at_pressure': '5.6 m', 'emitter_spacing': 300, 'inside_diameter': 16, 'connector': %s}},"
        " 'zones': [{'name': '1', 'header': {'pipe': {'inside_diameter': '1 m'}}, 'beds':"
        " [{'count': 3, 'length': 30, 'spacing': 2, 'tape': 't', 'tapes': 2}]}]}";
    struct trial trial;
    trial_open(&trial, plan, "8", "{'loss': '0.4 m', 'at_flow': 0.1}");
    double share = trial.result.zones[0].flow / 6.0 / er_to_si(ER_FLOW, ER_METRIC, 0.1);
    assert_close(trial.result.zones[0].tape_inlet_pressure.min, 8.0 - 0.4 * share * share, 1e-9);
    trial_close(&trial);
    trial_open(&trial, plan, "8", "{'loss': '0.4 m'}");
    assert_close(trial.result.zones[0].tape_inlet_pressure.max, 7.6, 1e-9);
    trial_close(&trial);
    trial_open(&trial, plan, "8", "{'holds': '5 m'}");
    assert_close(trial.result.zones[0].tape_inlet_pressure.max, 5.0, 1e-12);
    assert_close(trial.result.zones[0].tape_inlet_pressure.min, 5.0, 1e-12);
    trial_close(&trial);
    trial_open(&trial, plan, "0.3", "{'loss': '0.4 m'}");
    assert_true(trial.result.zones[0].flow <= 0.0);
    trial_close(&trial);
}

/* Beds and headers far beyond use still close, and say that they are dry. */
static void test_far_too_long(void **state)
{
    (void)state;
    struct trial trial;
    trial_open(&trial, FIELD, "'pressure': '10 m'", "",
               "{'count': 3, 'length': 6000, 'spacing': 2, 'tape': 't'}");
    assert_close(trial.result.zones[0].flow,
                 trial.result.zones[0].mean_emitter_flow * trial.result.zones[0].emitters, 1e-9);
    trial_close(&trial);
    trial_open(&trial, FIELD, "'pressure': '10 m'", "",
               "{'count': 3, 'length': 3000, 'spacing': 2, 'tape': 'flat'}");
    assert_true(trial.result.zones[0].emitter_flow.min <= 0.0);
    assert_non_null(trial_finding(&trial, ER_ROW_DRY));
    trial_close(&trial);
    trial_open(&trial, FIELD, "'pressure': '10 m'", "",
               "{'count': 3000, 'length': 100, 'spacing': 2, 'tape': 'pc'}");
    assert_true(trial.result.zones[0].flow > 0.0);
    assert_non_null(trial_finding(&trial, ER_PRESSURE_LOW));
    trial_close(&trial);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_mirror),
        cmocka_unit_test(test_middle_is_two_halves),
        cmocka_unit_test(test_both_sides),
        cmocka_unit_test(test_other_slope),
        cmocka_unit_test(test_groups_split),
        cmocka_unit_test(test_header_pieces),
        cmocka_unit_test(test_feed_at_a_bed),
        cmocka_unit_test(test_one_emitter),
        cmocka_unit_test(test_five_thousand_beds),
        cmocka_unit_test(test_eight_zones),
        cmocka_unit_test(test_order_does_not_matter),
        cmocka_unit_test(test_section_in_two),
        cmocka_unit_test(test_sets_are_apart),
        cmocka_unit_test(test_loss_not_overcome),
        cmocka_unit_test(test_connectors),
        cmocka_unit_test(test_far_too_long),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
