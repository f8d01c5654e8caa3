/* Which segments are put together, on beds whose flows go with their lengths: level ground and
 * wide pipes. */
#include "trial.h"

#include <math.h>

#include "plan/division.h"

/* Seven beds of 60, 70, 200, 30, 150, 50 and 80 ft. */
#define BED(length) "{'count': 1, 'length': " #length ", 'spacing': 6, 'tape': 't'}"
#define SEVEN_BEDS                                                                                 \
    "{'units': 'us', 'source': {'pressure': 10, 'flow_limit': 90},"                                \
    "'tapes': {'t': {'flow': 0.5, 'at_pressure': 8, 'emitter_spacing': 12, 'inside_diameter': 1,"  \
    "'exponent': 0.5}},"                                                                           \
    "'zones': [{'name': 'a', 'header': {'pipe': {'inside_diameter': 6}}, 'beds': [" BED(           \
        60) "," BED(70) "," BED(200) "," BED(30) "," BED(150) "," BED(50) "," BED(80) "]}],"       \
                                                                                      "'water': "  \
                                                                                      "{'need': "  \
                                                                                      "0.2, "      \
                                                                                      "'efficienc" \
                                                                                      "y': 90}}"

#define BEDS 7

struct table {
    struct er_field field;
    struct er_zone_layout layout;
    struct er_screen screen;
    struct er_segments segments;
};

static void open_table(struct table *table)
{
    table->layout = (struct er_zone_layout){.feed = ER_FEED_FIRST};
    table->screen = (struct er_screen){0};
    field_open(&table->field, SEVEN_BEDS);
    assert_int_equal(
        er_segments_open(&table->segments, &table->field, &table->layout, &table->screen), ER_OK);
}

static void close_table(struct table *table)
{
    er_segments_release(&table->segments);
    er_screen_release(&table->screen);
    er_field_release(&table->field);
}

static struct er_division_limits any(void)
{
    return (struct er_division_limits){(double)INFINITY, (double)INFINITY, 0.0, (double)INFINITY};
}

/* Hours and volume of a day of the pieces. */
static struct er_division_limits day_of(const struct er_segments *segments,
                                        const struct er_piece *pieces, size_t count)
{
    struct er_division_limits day = {0.0, 0.0, 0.0, 0.0};
    for (size_t p = 0; p < count; p++) {
        const struct er_segment *segment =
            &segments->rows[pieces[p].first_bed].segments[pieces[p].bed_count - 1];
        day.hours += segment->hours;
        day.volume += segment->volume;
    }
    return day;
}

/* In five zones the largest can be 200 ft, the third bed alone. Of the divisions with that, the
 * least is largest, 60 ft, in 60 + 70 + 200 + (30 150) + (50 80), though the sum of squares is
 * less in (60 70) + 200 + 30 + 150 + (50 80). Found by going through all of them. */
static void most_even_by_the_largest_then_the_least(void **state)
{
    (void)state;
    static const size_t beds[] = {1, 1, 1, 2, 2};
    struct table table;
    struct er_piece pieces[BEDS];
    struct er_division_limits limits = any();
    size_t count;
    open_table(&table);
    assert_int_equal(er_division_find(&table.segments, &limits, 5, 5, pieces, &count), ER_OK);
    assert_int_equal(count, 5);
    assert_int_equal(er_division_even(&table.segments, &limits, 5, pieces), ER_OK);
    for (size_t p = 0; p < 5; p++) {
        assert_int_equal(pieces[p].bed_count, beds[p]);
    }
    close_table(&table);
}

/* A limit that a division just keeps leaves it; one that it just does not keep leaves none. All
 * seven beds take 640 ft x 6 ft x 0.2 in / 0.9, however they are divided. */
static void limits_bind(void **state)
{
    (void)state;
    struct table table;
    struct er_piece pieces[BEDS];
    struct er_division_limits limits = any();
    size_t count;
    open_table(&table);
    assert_int_equal(er_division_find(&table.segments, &limits, 1, BEDS, pieces, &count), ER_OK);
    assert_int_equal(count, 1);
    struct er_division_limits day = day_of(&table.segments, pieces, 1);
    assert_close(day.volume, 640.0 * 0.3048 * 6.0 * 0.3048 * 0.2 * 0.0254 / 0.9, 1e-6);
    for (int hours = 0; hours <= 1; hours++) {
        for (double share = 0.999; share < 1.002; share += 0.002) {
            limits = any();
            *(hours ? &limits.hours : &limits.volume) = share * (hours ? day.hours : day.volume);
            assert_int_equal(er_division_find(&table.segments, &limits, 1, BEDS, pieces, &count),
                             ER_OK);
            assert_int_equal(count, share > 1.0 ? 1 : 0);
        }
    }
    close_table(&table);
}

/* A zone may take no more than the third bed does: 60 70, 200, 30 150, 50 80 are four. */
static void fewest_within_a_flow(void **state)
{
    (void)state;
    struct table table;
    struct er_piece pieces[BEDS];
    size_t count;
    open_table(&table);
    assert_int_equal(er_segments_fill(&table.segments, 2), ER_OK);
    table.segments.flow_limit = 1.001 * table.segments.rows[2].segments[0].flow;
    struct er_division_limits limits = any();
    assert_int_equal(er_division_find(&table.segments, &limits, 1, BEDS, pieces, &count), ER_OK);
    assert_int_equal(count, 4);
    table.segments.flow_limit *= 0.99;
    assert_int_equal(er_division_find(&table.segments, &limits, 1, BEDS, pieces, &count), ER_OK);
    assert_int_equal(count, 0);
    close_table(&table);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(most_even_by_the_largest_then_the_least),
        cmocka_unit_test(limits_bind),
        cmocka_unit_test(fewest_within_a_flow),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
