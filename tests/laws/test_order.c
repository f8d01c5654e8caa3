/* The order in which a file lists its zones changes nothing. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "laws.h"

enum { MOST_ZONES = 8 };

/* new_place[z] is where zone z comes to stand. */
static void shuffle(struct dice *dice, size_t count, size_t *new_place)
{
    for (size_t z = 0; z < count; z++) {
        new_place[z] = z;
    }
    for (size_t left = count; left > 1; left--) {
        size_t other = dice_whole(dice, 0, left - 1), kept = new_place[left - 1];
        new_place[left - 1] = new_place[other];
        new_place[other] = kept;
    }
}

/* Sets stay in their order, which is the order of watering; in a set the zones are named from
 * the last to the first. */
static void reorder(struct er_field *field, const size_t *new_place)
{
    const struct er_zone *old = field->zones;
    struct er_zone *zones = law_own_zones(field);
    for (size_t z = 0; z < field->zone_count; z++) {
        zones[new_place[z]] = old[z];
    }
    struct er_set *sets = law_own(field, field->sets, field->set_count, sizeof(*sets));
    for (size_t s = 0; s < field->set_count; s++) {
        size_t count = sets[s].zone_count;
        size_t *places = law_own(field, sets[s].zones, count, sizeof(*places));
        for (size_t z = 0; z < count; z++) {
            places[count - 1 - z] = new_place[sets[s].zones[z]];
        }
        sets[s].zones = places;
    }
    field->sets = sets;
}

/* Findings are listed by how bad they are, and then in the order of the file. */
static bool is_among(const struct er_finding *finding, const struct er_result *result,
                     const size_t *new_place)
{
    size_t index = finding->place == ER_PLACE_ZONE ? new_place[finding->index] : finding->index;
    const char *instead = "none";
    for (size_t f = 0; f < result->finding_count; f++) {
        const struct er_finding *other = &result->findings[f];
        if (other->code == finding->code && other->place == finding->place &&
            other->index == index) {
            instead = other->text;
        }
    }
    bool found = strcmp(instead, finding->text) == 0;
    if (!found) {
        print_message("instead: %s\n", instead);
    }
    return found;
}

static void same_by_name(struct law *law, const struct law_pair *pair, const size_t *new_place)
{
    const struct er_field *field = pair->a.field;
    for (size_t z = 0; z < field->zone_count; z++) {
        law_same_zone(law, &pair->a.zones[z], &pair->b.zones[new_place[z]]);
    }
    law_same_sets(law, pair);
    law_true(law, "number of findings", pair->a.finding_count == pair->b.finding_count);
    for (size_t s = 0; s < field->section_count; s++) {
        law_same_section(law, &pair->a.sections[s], &pair->b.sections[s]);
    }
    for (size_t f = 0; f < pair->a.finding_count; f++) {
        const struct er_finding *finding = &pair->a.findings[f];
        law_true(law, finding->text, is_among(finding, &pair->b, new_place));
    }
}

static enum law_outcome holds(struct law *law, const struct er_field *field, struct dice *dice)
{
    if (field->zone_count < 2) {
        return LAW_NOT_CONCERNED;
    }
    size_t new_place[MOST_ZONES];
    assert_true(field->zone_count <= MOST_ZONES);
    shuffle(dice, field->zone_count, new_place);
    struct er_field reordered = law_variant(field);
    reorder(&reordered, new_place);
    struct law_pair pair;
    bool solved = law_check_pair(law, field, &reordered, &pair);
    if (solved) {
        same_by_name(law, &pair, new_place);
        law_pair_release(&pair);
    }
    er_field_release(&reordered);
    return solved ? LAW_HELD_ON : LAW_REFUSED;
}

static void order_of_zones_changes_nothing(void **state)
{
    (void)state;
    struct law law = {.name = "the order of zones",
                      .allowed = 1e-9,
                      .first_seed = 300000,
                      .wanted = 500,
                      .needs = true};
    law_sweep(&law, holds);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(order_of_zones_changes_nothing)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
