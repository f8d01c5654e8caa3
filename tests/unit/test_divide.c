/* Zones cut into pieces, against geometry worked out by hand. */
#include "trial.h"

#include "evenrow/divide.h"

/* Two groups of beds with a drive row between, on a header with a profile, fed at 70 ft.
 * Beds of the first group stand at 0, 10, 20, 30, 40 ft; those of the second, half of each
 * spacing and the gap further on, at 40 + 5 + 3 + 12 = 60, 66, 72, 78 ft. */
#define HILL                                                                                       \
    "{'units': 'us', 'source': {'pressure': 40, 'flow_limit': 60},"                                \
    "'pipes': {'main': {'inside_diameter': 3}, 'head': {'inside_diameter': 2}},"                   \
    "'tapes': {'t': {'flow': 0.5, 'at_pressure': 8, 'emitter_spacing': 12,"                        \
    "'inside_diameter': 0.625}},"                                                                  \
    "'mainline': [{'name': 'A', 'pipe': 'main', 'length': 300, 'rise': 4, 'fittings': 10}],"       \
    "'zones': [{'name': 'hill', 'rise': 2, 'valve': {'loss': 1},"                                  \
    "'header': {'pipe': 'head', 'feed': %s, 'lead': 5,"                                            \
    "'profile': [[0, 100], [25, 101], [65, 99], [75, 104]]},"                                      \
    "'beds': [{'count': 5, 'length': 100, 'last_length': 200, 'spacing': 10, 'gap': 7,"            \
    "'tape': 't', 'sides': 'both', 'other_length': 50},"                                           \
    "{'count': 4, 'length': 90, 'spacing': 6, 'gap': 12, 'tape': 't', 'tapes': 2}]}]}"

#define FOOT 0.3048

static void cut(struct er_field *field, const char *feed, struct er_field *divided,
                const struct er_zone_layout *layout)
{
    static const struct er_piece pieces[] = {{0, 0, 3}, {0, 3, 4}, {0, 7, 2}};
    size_t origins[3];
    field_open(field, HILL, feed);
    assert_int_equal(er_field_divide(field, pieces, 3, layout, divided, origins), ER_OK);
    assert_int_equal(divided->zone_count, 3);
    assert_int_equal(divided->set_count, 3);
    assert_int_equal(origins[0] + origins[1] + origins[2], 0);
}

/* Feed points at 10, (30 + 66) / 2 = 48 and 75 ft, from the old one at 70 ft: the first two lie
 * toward the first bed. Heights of the ground: 100.4, 99.85, 104 and at 70 ft 101.5. */
static void the_mainline_goes_on_along_the_header(void **state)
{
    (void)state;
    struct er_zone_layout layout = {.feed = -1};
    struct er_field field, divided;
    cut(&field, "70", &divided, &layout);
    assert_int_equal(divided.section_count, 4);
    const struct er_section *onward = &divided.mainline[1];
    assert_string_equal(onward[0].name, "to hill-3");
    assert_close(onward[0].length, (75.0 - 70.0 + 5.0) * FOOT, 1e-12);
    assert_close(onward[0].rise, (104.0 - 101.5 + 2.0) * FOOT, 1e-12);
    assert_int_equal(onward[0].from, 0);
    assert_string_equal(onward[1].name, "to hill-2");
    assert_close(onward[1].length, (70.0 - 48.0 + 5.0) * FOOT, 1e-12);
    assert_close(onward[1].rise, (99.85 - 101.5 + 2.0) * FOOT, 1e-12);
    assert_int_equal(onward[1].from, 0);
    assert_string_equal(onward[2].name, "to hill-1");
    assert_close(onward[2].length, (48.0 - 10.0) * FOOT, 1e-12);
    assert_close(onward[2].rise, (100.4 - 99.85) * FOOT, 1e-12);
    assert_int_equal(onward[2].from, 2);
    for (size_t s = 0; s < 3; s++) {
        assert_ptr_equal(onward[s].pipe, field.mainline[0].pipe);
        assert_close(onward[s].fittings, 0.1, 1e-12);
    }
    for (size_t z = 0; z < 3; z++) {
        assert_int_equal(divided.zones[z].on, 3 - z);
        assert_int_equal(divided.zones[z].header.feed, ER_FEED_MIDDLE);
        assert_within(divided.zones[z].rise, 0.0, 0.0);
        assert_within(divided.zones[z].header.lead, 0.0, 0.0);
        assert_ptr_equal(divided.zones[z].valve, field.zones[0].valve);
    }
    er_field_release(&divided);
    er_field_release(&field);
}

/* The first bed's place stays a feed point, so that the first piece keeps the old way there. */
static void the_old_feed_point_keeps_its_way(void **state)
{
    (void)state;
    struct er_field field, divided;
    struct er_pipe pipe = {.name = "other", .inside_diameter = 0.1, .c = 150};
    struct er_zone_layout layout = {.pipe = &pipe, .feed = -1};
    cut(&field, "'first'", &divided, &layout);
    assert_int_equal(divided.section_count, 3);
    assert_int_equal(divided.zones[0].on, 0);
    assert_close(divided.zones[0].rise, 2.0 * FOOT, 1e-12);
    assert_close(divided.zones[0].header.lead, 5.0 * FOOT, 1e-12);
    assert_close(divided.mainline[1].length, (30.0 + 5.0) * FOOT, 1e-12);
    assert_close(divided.mainline[1].rise, (100.75 - 100.0 + 2.0) * FOOT, 1e-12);
    assert_close(divided.mainline[2].length, (72.0 - 30.0) * FOOT, 1e-12);
    assert_close(divided.mainline[2].rise, (102.5 - 100.75) * FOOT, 1e-12);
    assert_ptr_equal(divided.mainline[1].pipe, &pipe);
    assert_int_equal(divided.mainline[2].from, 1);
    er_field_release(&divided);
    er_field_release(&field);
}

static void same_ground(const struct er_ground *cut, const struct er_ground *old, double start,
                        double span)
{
    for (double at = 0.0; at <= span; at += span / 50.0) {
        double wanted = er_ground_elevation(old, start + at) - er_ground_elevation(old, start);
        assert_within(er_ground_elevation(cut, at), wanted, 1e-9);
    }
}

/* Beds keep their lengths, on both sides of a taper, and their distances: beds 3 and 4 of the
 * first group, two of the second; its profile begins between two points. */
static void beds_stay_where_they_are(void **state)
{
    (void)state;
    struct er_zone_layout layout = {.feed = ER_FEED_LAST};
    struct er_field field, divided;
    cut(&field, "'first'", &divided, &layout);
    const struct er_zone *middle = &divided.zones[1];
    assert_int_equal(middle->group_count, 2);
    const struct er_bed_group *taper = &middle->groups[0];
    assert_int_equal(taper->count, 2);
    assert_close(taper->length, 175.0 * FOOT, 1e-12);
    assert_close(taper->last_length, 200.0 * FOOT, 1e-12);
    assert_close(er_bed_length(taper, 0, true), 87.5 * FOOT, 1e-12);
    assert_close(er_bed_length(taper, 1, true), 100.0 * FOOT, 1e-12);
    assert_within(taper->gap, 0.0, 0.0);
    assert_close(middle->groups[1].gap, 12.0 * FOOT, 1e-12);
    assert_int_equal(middle->groups[1].count, 2);
    const struct er_zone *last = &divided.zones[2];
    assert_int_equal(last->group_count, 1);
    assert_within(last->groups[0].gap, 0.0, 0.0);
    const struct er_ground *old = &field.zones[0].header.ground;
    same_ground(&divided.zones[0].header.ground, old, 0.0, 20.0 * FOOT);
    same_ground(&middle->header.ground, old, 30.0 * FOOT, 36.0 * FOOT);
    same_ground(&last->header.ground, old, 72.0 * FOOT, 6.0 * FOOT);
    er_field_release(&divided);
    er_field_release(&field);
}

/* A piece that begins beyond the last point of the profile, whose last segment goes on. */
static void the_last_slope_goes_on(void **state)
{
    (void)state;
    static const struct er_piece pieces[] = {{0, 0, 8}, {0, 8, 1}};
    struct er_zone_layout layout = {.feed = -1};
    struct er_field field, divided;
    size_t origins[2];
    field_open(&field, HILL, "'last'");
    assert_int_equal(er_field_divide(&field, pieces, 2, &layout, &divided, origins), ER_OK);
    same_ground(&divided.zones[1].header.ground, &field.zones[0].header.ground, 78.0 * FOOT, 3.0);
    assert_int_equal(divided.zones[1].on, 0); /* its feed point is the old one */
    assert_close(divided.mainline[1].rise, (102.5 - 105.5 + 2.0) * FOOT, 1e-12);
    er_field_release(&divided);
    er_field_release(&field);
}

/* Names are free ones, and a zone that stays whole is left alone. */
static void names_are_free(void **state)
{
    (void)state;
    static const struct er_piece pieces[] = {{0, 0, 1}, {0, 1, 1}, {1, 0, 2}};
    struct er_zone_layout layout = {.feed = ER_FEED_LAST};
    struct er_field field, divided;
    size_t origins[3];
    field_open(
        &field,
        "{'units': 'us', 'source': {'pressure': 20, 'flow_limit': 60},"
        "'tapes': {'t': {'flow': 0.5, 'at_pressure': 8, 'emitter_spacing': 12,"
        "'inside_diameter': 0.625}},"
        "'mainline': [{'name': 'to a-2', 'pipe': {'inside_diameter': 2}, 'length': 9}],"
        "'zones': [{'name': 'a', 'header': {'pipe': {'inside_diameter': 2}, 'feed': 'middle'},"
        "'beds': [{'count': 2, 'length': 99, 'spacing': 5, 'tape': 't'}]},"
        "{'name': 'a-1', 'header': {'pipe': {'inside_diameter': 2}},"
        "'beds': [{'count': 2, 'length': 99, 'spacing': 5, 'tape': 't'}]}]}");
    assert_int_equal(er_field_divide(&field, pieces, 3, &layout, &divided, origins), ER_OK);
    assert_string_equal(divided.zones[0].name, "a-2");
    assert_string_equal(divided.zones[1].name, "a-3");
    assert_string_equal(divided.zones[2].name, "a-1");
    assert_string_equal(divided.mainline[1].name, "to a-3");
    assert_string_equal(divided.mainline[2].name, "to a-2 (2)");
    assert_int_equal(divided.zones[2].header.feed, ER_FEED_FIRST);
    assert_ptr_equal(divided.zones[2].groups, field.zones[1].groups);
    assert_int_equal(origins[2], 1);
    er_field_release(&divided);
    er_field_release(&field);
}

/* A zone that is not cut: it stays as it is; or, if the layout wants that, it is fed at its last
 * bed, 78 ft along, and the mainline goes on there from the old feed point at the first. */
static void a_whole_zone_may_be_fed_elsewhere(void **state)
{
    (void)state;
    static const struct er_piece whole = {0, 0, 9};
    struct er_zone_layout layout = {.feed = ER_FEED_LAST};
    struct er_field field, divided;
    size_t origin;
    field_open(&field, HILL, "'first'");
    assert_int_equal(er_field_divide(&field, &whole, 1, &layout, &divided, &origin), ER_OK);
    assert_int_equal(divided.section_count, 1);
    assert_int_equal(divided.zones[0].header.feed, ER_FEED_FIRST);
    er_field_release(&divided);
    layout.whole_zones = true;
    assert_int_equal(er_field_divide(&field, &whole, 1, &layout, &divided, &origin), ER_OK);
    assert_int_equal(divided.section_count, 2);
    assert_string_equal(divided.zones[0].name, "hill");
    assert_int_equal(divided.zones[0].header.feed, ER_FEED_LAST);
    assert_int_equal(divided.zones[0].on, 1);
    assert_within(divided.zones[0].header.lead, 0.0, 0.0);
    assert_close(divided.mainline[1].length, (78.0 + 5.0) * FOOT, 1e-12);
    assert_close(divided.mainline[1].rise, (105.5 - 100.0 + 2.0) * FOOT, 1e-12);
    assert_ptr_equal(divided.sets, field.sets);
    er_field_release(&divided);
    er_field_release(&field);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_mainline_goes_on_along_the_header),
        cmocka_unit_test(the_old_feed_point_keeps_its_way),
        cmocka_unit_test(beds_stay_where_they_are),
        cmocka_unit_test(the_last_slope_goes_on),
        cmocka_unit_test(names_are_free),
        cmocka_unit_test(a_whole_zone_may_be_fed_elsewhere),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
