/* A pipe is the same pipe when it is told in two parts. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "laws.h"

/* Cuts section `cut` at `share` of its length; what came after it moves up one place. */
static void split_section(struct er_field *field, size_t cut, double share)
{
    struct er_section *sections =
        law_own(field, NULL, field->section_count + 1, sizeof(struct er_section));
    for (size_t s = 0; s < field->section_count; s++) {
        sections[s < cut ? s : s + 1] = field->mainline[s];
    }
    sections[cut] = sections[cut + 1];
    sections[cut].length *= share;
    sections[cut].rise *= share;
    sections[cut + 1].length -= sections[cut].length;
    sections[cut + 1].rise -= sections[cut].rise;
    sections[cut + 1].from = cut;
    field->section_count++;
    for (size_t s = cut + 2; s < field->section_count; s++) {
        size_t from = sections[s].from;
        sections[s].from += from != ER_HEADWORKS && from >= cut;
    }
    field->mainline = sections;
    struct er_zone *zones = law_own_zones(field);
    for (size_t z = 0; z < field->zone_count; z++) {
        zones[z].on += zones[z].on != ER_HEADWORKS && zones[z].on >= cut;
    }
}

static void same_but_sections(struct law *law, const struct law_pair *pair)
{
    for (size_t z = 0; z < pair->a.field->zone_count; z++) {
        law_same_zone(law, &pair->a.zones[z], &pair->b.zones[z]);
    }
    law_same_sets(law, pair);
}

/* Flow and velocity are the same in both parts, the pressure at the end is the second's. */
static void same_sections(struct law *law, const struct law_pair *pair, size_t cut)
{
    for (size_t s = 0; s < pair->a.field->section_count; s++) {
        law_same_section(law, &pair->a.sections[s], &pair->b.sections[s < cut ? s : s + 1]);
    }
    struct er_section_result first = pair->b.sections[cut];
    first.end_pressure = pair->a.sections[cut].end_pressure;
    law_same_section(law, &pair->a.sections[cut], &first);
}

static enum law_outcome holds_for_sections(struct law *law, const struct er_field *field,
                                           struct dice *dice)
{
    if (field->section_count == 0) {
        return LAW_NOT_CONCERNED;
    }
    struct er_field split = law_variant(field);
    size_t cut = dice_whole(dice, 0, field->section_count - 1);
    split_section(&split, cut, dice_between(dice, 0.01, 0.99));
    struct law_pair pair;
    bool solved = law_check_pair(law, field, &split, &pair);
    if (solved) {
        same_but_sections(law, &pair);
        same_sections(law, &pair, cut);
        law_pair_release(&pair);
    }
    er_field_release(&split);
    return solved ? LAW_HELD_ON : LAW_REFUSED;
}

/* The last piece has no end: it is cut a few metres from where it begins, beyond the header's
 * own end now and then. */
static void split_piece(struct er_field *field, struct er_zone *zone, struct dice *dice)
{
    size_t count = zone->header.piece_count;
    size_t cut = dice_whole(dice, 0, count - 1);
    struct er_header_piece *pieces = law_own(field, NULL, count + 1, sizeof(*pieces));
    for (size_t p = 0; p < count; p++) {
        pieces[p < cut ? p : p + 1] = zone->header.pieces[p];
    }
    pieces[cut] = pieces[cut + 1];
    if (cut + 1 == count) {
        pieces[cut].length = dice_scaled(dice, 0.1, 20);
    } else {
        pieces[cut].length *= dice_between(dice, 0.01, 0.99);
        pieces[cut + 1].length -= pieces[cut].length;
    }
    zone->header.pieces = pieces;
    zone->header.piece_count++;
}

static enum law_outcome holds_for_headers(struct law *law, const struct er_field *field,
                                          struct dice *dice)
{
    struct er_field split = law_variant(field);
    struct er_zone *zones = law_own_zones(&split);
    for (size_t z = 0; z < split.zone_count; z++) {
        split_piece(&split, &zones[z], dice);
    }
    struct law_pair pair;
    bool solved = law_check_pair(law, field, &split, &pair);
    if (solved) {
        same_but_sections(law, &pair);
        law_pair_release(&pair);
    }
    er_field_release(&split);
    return solved ? LAW_HELD_ON : LAW_REFUSED;
}

static void splitting_a_section_changes_nothing(void **state)
{
    (void)state;
    struct law law = {.name = "a mainline section split in two",
                      .allowed = 1e-9,
                      .first_seed = 200000,
                      .wanted = 500};
    law_sweep(&law, holds_for_sections);
}

static void splitting_a_header_changes_nothing(void **state)
{
    (void)state;
    struct law law = {.name = "a piece of header split in two",
                      .allowed = 1e-9,
                      .first_seed = 210000,
                      .wanted = 500};
    law_sweep(&law, holds_for_headers);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(splitting_a_section_changes_nothing),
                                       cmocka_unit_test(splitting_a_header_changes_nothing)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
