/* Beds parted evenly, against every way to part them. */
#include "trial.h"

#include <math.h>
#include <stdio.h>

#include "evenrow/divide.h"

#define MOST_BEDS 9

struct bounds {
    double largest, least;
};

static double bed_flow(const struct er_zone *zone, size_t bed)
{
    size_t g = 0;
    while (bed >= zone->groups[g].count) {
        bed -= zone->groups[g++].count;
    }
    const struct er_bed_group *group = &zone->groups[g];
    double emitters = floor(er_bed_length(group, bed, false) / group->tape->emitter_spacing + 1e-9);
    return emitters * (double)group->tapes * group->tape->emitter_flow;
}

static struct bounds bounds_of(const struct er_field *field, const struct er_piece *pieces,
                               size_t count)
{
    struct bounds bounds = {0.0, (double)INFINITY};
    for (size_t p = 0; p < count; p++) {
        double flow = 0.0;
        for (size_t b = 0; b < pieces[p].bed_count; b++) {
            flow += bed_flow(&field->zones[pieces[p].zone], pieces[p].first_bed + b);
        }
        bounds.largest = fmax(bounds.largest, flow);
        bounds.least = fmin(bounds.least, flow);
    }
    return bounds;
}

/* The pieces whose first beds are the bits of `cuts`, bit b for the bed after bed b of all;
 * returns their number, 0 where a piece would reach into two zones. */
static size_t pieces_of(const struct er_field *field, unsigned cuts, struct er_piece *pieces)
{
    size_t count = 0, bed = 0;
    for (size_t z = 0; z < field->zone_count; z++) {
        for (size_t b = 0; b < er_zone_beds(&field->zones[z]); b++, bed++) {
            bool begins = bed == 0 || (cuts & 1U << (bed - 1)) != 0;
            if (b == 0 && !begins) {
                return 0;
            }
            if (begins) {
                pieces[count++] = (struct er_piece){z, b, 0};
            }
            pieces[count - 1].bed_count++;
        }
    }
    return count;
}

static bool better(struct bounds a, struct bounds b)
{
    double slack = 1e-9 * a.largest;
    return a.largest < b.largest - slack ||
           (a.largest < b.largest + slack && a.least > b.least + slack);
}

static struct bounds best_of_all(const struct er_field *field, size_t beds, size_t wanted)
{
    struct bounds best = {(double)INFINITY, 0.0};
    struct er_piece pieces[MOST_BEDS];
    for (unsigned cuts = 0; cuts < 1U << (beds - 1); cuts++) {
        if (pieces_of(field, cuts, pieces) == wanted) {
            struct bounds bounds = bounds_of(field, pieces, wanted);
            best = better(bounds, best) ? bounds : best;
        }
    }
    return best;
}

static void covers_every_bed(const struct er_field *field, const struct er_piece *pieces,
                             size_t count)
{
    size_t p = 0;
    for (size_t z = 0; z < field->zone_count; z++) {
        for (size_t b = 0; b < er_zone_beds(&field->zones[z]); p++) {
            assert_true(p < count);
            assert_int_equal(pieces[p].zone, z);
            assert_int_equal(pieces[p].first_bed, b);
            assert_true(pieces[p].bed_count > 0);
            b += pieces[p].bed_count;
            assert_true(b <= er_zone_beds(&field->zones[z]));
        }
    }
    assert_int_equal(p, count);
}

static void open_random(struct er_field *field, uint64_t *seed)
{
    char beds[2][160];
    for (size_t z = 0; z < 2; z++) {
        snprintf(beds[z], sizeof beds[z],
                 "{'count': %d, 'length': %.0f, 'last_length': %.0f, 'spacing': 5, 'tape': 't',"
                 "'tapes': %d}",
                 (int)next_number(seed, 1, 4.99), next_number(seed, 40, 300),
                 next_number(seed, 40, 300), (int)next_number(seed, 1, 2.99));
    }
    field_open(field,
               "{'units': 'us', 'source': {'pressure': 20}, 'tapes': {'t': {'flow': 0.5,"
               "'at_pressure': 8, 'emitter_spacing': 12, 'inside_diameter': 0.625}},"
               "'zones': [{'name': 'a', 'header': {'pipe': {'inside_diameter': 2}},"
               "'beds': [%s, {'count': 1, 'length': 100, 'spacing': 5, 'tape': 't'}]},"
               "{'name': 'b', 'header': {'pipe': {'inside_diameter': 2}}, 'beds': [%s]}]}",
               beds[0], beds[1]);
}

static void as_even_as_can_be(void **state)
{
    (void)state;
    uint64_t seed = 7;
    size_t tried = 0;
    for (size_t i = 0; i < 150; i++) {
        struct er_field field;
        struct er_piece pieces[MOST_BEDS];
        open_random(&field, &seed);
        size_t beds = er_zone_beds(&field.zones[0]) + er_zone_beds(&field.zones[1]);
        for (size_t count = 2; count <= beds; count++, tried++) {
            assert_int_equal(er_field_part_evenly(&field, count, pieces), ER_OK);
            covers_every_bed(&field, pieces, count);
            struct bounds got = bounds_of(&field, pieces, count);
            struct bounds best = best_of_all(&field, beds, count);
            assert_close(got.largest, best.largest, 1e-9);
            assert_close(got.least, best.least, 1e-9);
        }
        er_field_release(&field);
    }
    assert_true(tried > 500);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(as_even_as_can_be)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
