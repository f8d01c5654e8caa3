/* A field seen in a mirror is the same field. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "laws.h"
#include "places.h"

/* The ground along a line of `span` m, told from its other end. */
static struct er_ground turned_round(struct er_field *field, const struct er_ground *ground,
                                     double span)
{
    if (ground->count == 0 || !(span > 0)) {
        return (struct er_ground){.slope = -ground->slope};
    }
    struct er_point *points = law_own(field, NULL, ground->count + 1, sizeof(*points));
    points[0].value = er_ground_elevation(ground, span);
    size_t count = 1;
    for (size_t i = ground->count; i-- > 0;) {
        const struct er_point *point = &ground->points[i];
        if (point->at < span - 1e-9) {
            points[count].at = span - point->at;
            points[count++].value = point->value - ground->points[0].value;
        }
    }
    return (struct er_ground){.count = count, .points = points};
}

/* The bed that was last is first. A gap stands before another group than it did. */
static void turn_groups(struct er_field *field, struct er_zone *zone)
{
    const struct er_bed_group *old = zone->groups;
    struct er_bed_group *groups = law_own_groups(field, zone);
    for (size_t g = 0; g < zone->group_count; g++) {
        const struct er_bed_group *from = &old[zone->group_count - 1 - g];
        groups[g] = *from;
        groups[g].gap = g > 0 ? old[zone->group_count - g].gap : 0;
        groups[g].length = from->last_length;
        groups[g].last_length = from->length;
        groups[g].other_length *= from->last_length / from->length;
    }
}

static void turn_header(struct er_field *field, struct er_zone *zone)
{
    struct er_header *header = &zone->header;
    double span = header_span(zone);
    header->ground = turned_round(field, &header->ground, span);
    header->feed_distance = span - header->feed_distance;
    if (header->feed == ER_FEED_FIRST) {
        header->feed = ER_FEED_LAST;
    } else if (header->feed == ER_FEED_LAST) {
        header->feed = ER_FEED_FIRST;
    }
    turn_groups(field, zone);
}

static void swap_sides(struct er_field *field, struct er_zone *zone)
{
    struct er_bed_group *groups = law_own_groups(field, zone);
    for (size_t g = 0; g < zone->group_count; g++) {
        struct er_bed_group *group = &groups[g];
        const struct er_bed_group old = *group;
        if (group->both_sides) {
            group->length = old.other_length;
            group->last_length = old.other_length * (old.last_length / old.length);
            group->other_length = old.length;
            group->ground = old.other_ground;
            group->other_ground = old.ground;
        }
    }
}

static enum law_outcome hold_after(struct law *law, const struct er_field *field,
                                   void (*change)(struct er_field *field, struct er_zone *zone))
{
    struct er_field mirrored = law_variant(field);
    struct er_zone *zones = law_own_zones(&mirrored);
    for (size_t z = 0; z < field->zone_count; z++) {
        change(&mirrored, &zones[z]);
    }
    struct law_pair pair;
    bool solved = law_check_pair(law, field, &mirrored, &pair);
    if (solved) {
        for (size_t z = 0; z < field->zone_count; z++) {
            law_same_zone(law, &pair.a.zones[z], &pair.b.zones[z]);
        }
        law_same_sets(law, &pair);
        law_true(law, "number of findings", pair.a.finding_count == pair.b.finding_count);
        law_pair_release(&pair);
    }
    er_field_release(&mirrored);
    return solved ? LAW_HELD_ON : LAW_REFUSED;
}

static enum law_outcome holds_turned(struct law *law, const struct er_field *field,
                                     struct dice *dice)
{
    (void)dice;
    return hold_after(law, field, turn_header);
}

static enum law_outcome holds_swapped(struct law *law, const struct er_field *field,
                                      struct dice *dice)
{
    (void)dice;
    bool any = false;
    for (size_t z = 0; z < field->zone_count; z++) {
        for (size_t g = 0; g < field->zones[z].group_count; g++) {
            any = any || field->zones[z].groups[g].both_sides;
        }
    }
    return any ? hold_after(law, field, swap_sides) : LAW_NOT_CONCERNED;
}

static void headers_turned_round(void **state)
{
    (void)state;
    struct law law = {.name = "headers turned round, with their beds",
                      .allowed = 1e-9,
                      .first_seed = 310000,
                      .wanted = 500,
                      .needs = true};
    law_sweep(&law, holds_turned);
}

static void sides_swapped(void **state)
{
    (void)state;
    struct law law = {.name = "the two sides of a header swapped",
                      .allowed = 1e-9,
                      .first_seed = 320000,
                      .wanted = 500,
                      .needs = true};
    law_sweep(&law, holds_swapped);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(headers_turned_round),
                                       cmocka_unit_test(sides_swapped)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
