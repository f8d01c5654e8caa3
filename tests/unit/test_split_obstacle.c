/* What split says stands in the way of every division, and what would help, on a field whose flows
 * and hours are worked by hand. */
#include <math.h>

#include "evenrow/split.h"
#include "evenrow/units.h"
#include "trial.h"

/* Four beds of 100 emitters that give 1 gph at any pressure: 100 gph a bed, and 20 gal / 90 % =
 * 22.22 gal a day, in 0.2222 h however the beds are divided. */
static const char farm[] =
    "{'units': 'us', 'source': {'pressure': 40, 'flow_limit': %g%s}, 'tapes': {'t': {'emitter_flow'"
    ": 1, 'holds_from': 4, 'emitter_spacing': 12, 'inside_diameter': 0.63, 'max_pressure': 50}},"
    "'zones': [{'name': 'a', 'header': {'pipe': 'pvc160-2in'}, 'beds': [{'count': 4, 'length': 100,"
    "  'spacing': 6, 'tape': 't'}]}],"
    "'water': {'need_per_length': 20, 'efficiency': 90, 'hours': %g}}";

#define GPM (3.785411784e-3 / 60.0) /* 231 in3 a minute */
#define GALLON 3.785411784e-3
#define HOUR 3600.0
#define SEARCHED 2e-4 /* relative: the least is found by halves down to 1e-4 */

static void split_farm(struct er_field *field, struct er_split *split, double limit,
                       const char *source, double hours)
{
    field_open(field, farm, limit, source, hours);
    const struct er_split_ask ask = {.field = field, .layout = {.feed = -1}, .speaks = ER_US};
    assert_int_equal(er_field_split(&ask, split), ER_OK);
}

static void drop(struct er_field *field, struct er_split *split)
{
    er_split_release(split);
    er_field_release(field);
}

static const struct er_remedy *remedy_of(const struct er_split *split, enum er_remedy_kind kind)
{
    for (size_t r = 0; r < split->remedy_count; r++) {
        if (split->remedies[r].kind == kind) {
            return &split->remedies[r];
        }
    }
    return NULL;
}

/* 2 gpm is one bed of 1.667 gpm at a time: four runs of 0.2222 h are 0.8889 h. With 0.8 h that is
 * too long by itself; with 0.889 h it fits, or with the flow of two beds, 3.333 gpm, in 0.4444 h.
 * Both are told to three figures. */
static void the_hours_stand_in_the_way(void **state)
{
    struct er_field field;
    struct er_split split;
    (void)state;
    split_farm(&field, &split, 2.0, "", 0.9);
    assert_int_equal(split.answer, ER_SPLIT_FOUND);
    assert_int_equal(split.zone_count, 4);
    drop(&field, &split);
    split_farm(&field, &split, 2.0, "", 0.8);
    assert_int_equal(split.answer, ER_SPLIT_NONE);
    assert_int_equal(split.obstacle.kind, ER_OBSTACLE_HOURS);
    assert_close(split.obstacle.needed, 8.0 / 9.0 * HOUR, SEARCHED);
    assert_close(split.obstacle.available, 0.8 * HOUR, 1e-12);
    const struct er_remedy *hours = remedy_of(&split, ER_REMEDY_HOURS);
    assert_non_null(hours);
    assert_close(hours->now, 0.8 * HOUR, 1e-12);
    assert_true(hours->amount >= 0.889 * HOUR * (1.0 - 1e-9));
    assert_true(hours->amount <= 0.894 * HOUR);
    assert_int_equal(hours->zones, 4);
    const struct er_remedy *flow = remedy_of(&split, ER_REMEDY_FLOW);
    assert_non_null(flow);
    assert_close(flow->now, 2.0 * GPM, 1e-12);
    assert_true(flow->amount >= 3.333 * GPM && flow->amount <= 3.36 * GPM);
    assert_int_equal(flow->zones, 2);
    drop(&field, &split);
}

/* The hours do; 80 gal do not, for a day takes 4 x 22.22 = 88.89 gal. */
static void the_stored_water_stands_in_the_way(void **state)
{
    struct er_field field;
    struct er_split split;
    (void)state;
    split_farm(&field, &split, 2.0, ", 'storage': 90", 20.0);
    assert_int_equal(split.answer, ER_SPLIT_FOUND);
    drop(&field, &split);
    split_farm(&field, &split, 2.0, ", 'storage': 80", 20.0);
    assert_int_equal(split.answer, ER_SPLIT_NONE);
    assert_int_equal(split.obstacle.kind, ER_OBSTACLE_STORAGE);
    assert_close(split.obstacle.needed, 800.0 / 9.0 * GALLON, SEARCHED);
    assert_close(split.obstacle.available, 80.0 * GALLON, 1e-12);
    assert_null(remedy_of(&split, ER_REMEDY_HOURS)); /* more hours bring no water */
    drop(&field, &split);
}

/* No bed goes with 1.5 gpm, and the first is told with what it takes alone. */
static void every_bed_stands_in_the_way(void **state)
{
    struct er_field field;
    struct er_split split;
    (void)state;
    split_farm(&field, &split, 1.5, "", 20.0);
    assert_int_equal(split.answer, ER_SPLIT_NONE);
    assert_int_equal(split.obstacle.kind, ER_OBSTACLE_BED);
    assert_int_equal(split.obstacle.beds, 4);
    assert_int_equal(split.obstacle.bed.first_bed, 0);
    assert_int_equal(split.obstacle.bed.bed_count, 1);
    assert_int_equal(split.obstacle.code, ER_SOURCE_FLOW);
    assert_close(split.obstacle.bed_flow, 100.0 / 60.0 * GPM, 1e-9);
    drop(&field, &split);
}

/* Two zones of two beds, 200 gph = 3.333 gpm each, behind two pieces of mainline; the tapes are
 * rated from 8 psi up, of the source's 20. Of PVC, c = 150, a bed's 1.667 gpm lose 0.0736 ft a foot
 * in 0.5 in, and 0.0102 in 0.75 in: Hazen-Williams, by hand. 12 psi are 27.7 ft. */
static const char narrow[] =
    "{'units': 'us', 'source': {'pressure': 20}, 'tapes': {'t': {'emitter_flow': 1, 'holds_from': "
    "4,"
    " 'emitter_spacing': 12, 'inside_diameter': 0.63, 'min_pressure': 8, 'max_pressure': 50}},"
    "'mainline': [{'name': 'm', 'pipe': {'inside_diameter': %g, 'c': 150}, 'length': %g},"
    "  {'name': 'n', 'from': 'm', 'pipe': {'inside_diameter': %g, 'c': 150}, 'length': %g}],"
    "'zones': [{'name': 'a', 'on': 'n', 'header': {'pipe': {'inside_diameter': %g, 'c': 150}},"
    "   'beds': [{'count': 2, 'length': 100, 'spacing': %g, 'tape': 't'}]},"
    "  {'name': 'b', 'on': 'n', 'header': {'pipe': {'inside_diameter': %g, 'c': 150}},"
    "   'beds': [{'count': 2, 'length': 100, 'spacing': %g, 'tape': 't'}]}]}";

#define INCH 0.0254
#define NO_RATING (double)NAN
static const struct er_pipe offered[] = {{"x-0.5in", 0.5 * INCH, 150, NO_RATING, NO_RATING, 0},
                                         {"x-0.75in", 0.75 * INCH, 150, NO_RATING, NO_RATING, 0},
                                         {"x-1in", 1.0 * INCH, 150, NO_RATING, NO_RATING, 0},
                                         {"x-1.5in", 1.5 * INCH, 150, NO_RATING, NO_RATING, 0}};
#define OFFERED (sizeof offered / sizeof offered[0])

/* The answer with the pipes on offer; `zones` as in the question. */
static void split_offered(const struct er_field *field, struct er_split *split, size_t zones)
{
    const struct er_pipe *pipes[OFFERED];
    for (size_t p = 0; p < OFFERED; p++) {
        pipes[p] = &offered[p];
    }
    const struct er_split_ask ask = {.field = field,
                                     .layout = {.feed = -1},
                                     .zones = zones,
                                     .speaks = ER_US,
                                     .pipe_count = OFFERED,
                                     .pipes = pipes};
    assert_int_equal(er_field_split(&ask, split), ER_OK);
    assert_int_equal(split->answer, ER_SPLIT_NONE);
}

/* One size wider helps; the widest pipe that there is stands for all, 0.75 in, and 1 in is next. */
static void assert_one_wider(const struct er_split *split, enum er_remedy_kind kind)
{
    const struct er_remedy *remedy = remedy_of(split, kind);
    assert_non_null(remedy);
    assert_close(remedy->amount, 1.0, 1e-12);
    assert_close(remedy->pipe_now->inside_diameter, 0.75 * INCH, 1e-12);
    assert_ptr_equal(remedy->pipe, &offered[2]);
    assert_int_equal(remedy->zones, 2);
}

/* 500 ft of 0.5 in lose 37 ft for one bed, too much for any division; of 0.75 in 18 ft for two. The
 * 100 ft of 0.75 in before or behind them lose 4. */
static void a_wider_mainline_helps(void **state)
{
    static const double orders[][4] = {{0.5, 500, 0.75, 100}, {0.75, 100, 0.5, 500}};
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        struct er_field field;
        struct er_split split;
        const double *of = orders[i];
        field_open(&field, narrow, of[0], of[1], of[2], of[3], 2.0, 6.0, 2.0, 6.0);
        split_offered(&field, &split, 0);
        assert_int_equal(split.obstacle.kind, ER_OBSTACLE_BED);
        assert_one_wider(&split, ER_REMEDY_MAINLINE);
        assert_null(remedy_of(&split, ER_REMEDY_HEADER));
        drop(&field, &split);
    }
}

/* Beds 500 ft apart on 0.5 in: the second lacks 37 ft. As one zone each they would pass, so the
 * question is for two zones. The other zone's beds lie close. */
static void wider_headers_help(void **state)
{
    static const double orders[][4] = {{0.5, 500, 0.75, 6}, {0.75, 6, 0.5, 500}};
    (void)state;
    for (size_t i = 0; i < 2; i++) {
        struct er_field field;
        struct er_split split;
        const double *of = orders[i];
        field_open(&field, narrow, 2.0, 10.0, 2.0, 10.0, of[0], of[1], of[2], of[3]);
        split_offered(&field, &split, 2);
        assert_one_wider(&split, ER_REMEDY_HEADER);
        assert_null(remedy_of(&split, ER_REMEDY_MAINLINE));
        drop(&field, &split);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_hours_stand_in_the_way),
        cmocka_unit_test(the_stored_water_stands_in_the_way),
        cmocka_unit_test(every_bed_stands_in_the_way),
        cmocka_unit_test(a_wider_mainline_helps),
        cmocka_unit_test(wider_headers_help),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
