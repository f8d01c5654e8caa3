/* A wider pipe never lowers what lies beyond it.
 *
 * 'The far end' has to be said with care, for a pipe that passes more also draws more through
 * the pipes before it, and a bed or a zone that stands there gets less:
 *
 * - A mainline section: all zones beyond it gain, or keep what they have (a regulator holds).
 *   Zones that branch off before it may lose.
 * - A piece of a header fed at one end, its zone alone: the outermost bed does not lose, whatever
 *   the source and the parts. Walk from that bed: for the pressure it has, a wider piece asks
 *   for less pressure at the feed point and, with the beds passed on the way standing lower, no
 *   more flow; so the supply meets it with something to spare. Beds before the piece may lose.
 * - A header all of whose pieces grow wider by the same factor, its feed point held: no bed
 *   loses, on neither side. It is as if all outlets took less in the old header: friction there
 *   goes with one power of flow, so that the factor can be put on the takings instead. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "laws.h"
#include "places.h"

static const struct er_pipe *wider(struct er_field *field, const struct er_pipe *pipe,
                                   double factor)
{
    struct er_pipe *own = law_own(field, pipe, 1, sizeof(*own));
    own->inside_diameter *= factor;
    return own;
}

static bool lies_beyond(const struct er_field *field, size_t zone, size_t section)
{
    size_t on = field->zones[zone].on;
    while (on != section && on != ER_HEADWORKS) {
        on = field->mainline[on].from;
    }
    return on == section;
}

static bool feeds_any(const struct er_field *field, size_t section)
{
    bool any = false;
    for (size_t zone = 0; zone < field->zone_count; zone++) {
        any = any || lies_beyond(field, zone, section);
    }
    return any;
}

static enum law_outcome holds_for_sections(struct law *law, const struct er_field *field,
                                           struct dice *dice)
{
    size_t section = field->section_count ? dice_whole(dice, 0, field->section_count - 1) : 0;
    if (field->section_count == 0 || !feeds_any(field, section)) {
        return LAW_NOT_CONCERNED;
    }
    struct er_field wide = law_variant(field);
    struct er_section *own = &law_own_mainline(&wide)[section];
    own->pipe = wider(&wide, own->pipe, dice_scaled(dice, 1.0001, 2));
    struct law_emitters_pair pair;
    bool solved = law_list_pair(law, field, &wide, &pair);
    if (solved) {
        for (size_t i = 0; i < pair.before.count; i++) {
            if (lies_beyond(field, pair.before.list[i].zone, section)) {
                law_emitter_not_lower(law, &pair, i);
            }
        }
        law_emitters_pair_release(&pair);
    }
    er_field_release(&wide);
    return solved ? LAW_HELD_ON : LAW_REFUSED;
}

static enum law_outcome holds_for_one_piece(struct law *law, const struct er_field *field,
                                            struct dice *dice)
{
    struct er_field narrow = law_zone_alone(field, dice_whole(dice, 0, field->zone_count - 1));
    struct er_zone *zone = law_own_zones(&narrow);
    bool from_first = dice_chance(dice, 0.5);
    zone->header.feed = from_first ? ER_FEED_FIRST : ER_FEED_LAST;
    struct er_field wide = law_variant(&narrow);
    struct er_zone *wide_zone = law_own_zones(&wide);
    struct er_header_piece *pieces = law_own_pieces(&wide, wide_zone);
    struct er_header_piece *piece = &pieces[dice_whole(dice, 0, zone->header.piece_count - 1)];
    piece->pipe = wider(&wide, piece->pipe, dice_scaled(dice, 1.0001, 2));
    size_t outermost = from_first ? bed_count(zone) - 1 : 0;
    struct law_emitters_pair pair;
    bool solved = law_list_pair(law, &narrow, &wide, &pair);
    if (solved) {
        for (size_t i = 0; i < pair.before.count; i++) {
            if (pair.before.list[i].bed == outermost) {
                law_emitter_not_lower(law, &pair, i);
            }
        }
        law_emitters_pair_release(&pair);
    }
    er_field_release(&wide);
    er_field_release(&narrow);
    return solved ? LAW_HELD_ON : LAW_REFUSED;
}

/* A zone alone at a source that holds its pressure, with nothing between but the lead. */
static struct er_field held_zone(const struct er_field *field, struct dice *dice)
{
    struct er_field held = law_zone_alone(field, dice_whole(dice, 0, field->zone_count - 1));
    struct er_zone *zone = law_own_zones(&held);
    zone->on = ER_HEADWORKS;
    zone->valve = NULL;
    zone->regulator = NULL;
    held.section_count = 0;
    held.headworks_count = 0;
    held.source.kind = ER_SOURCE_PRESSURE;
    held.source.pressure = dice_scaled(dice, 2, 40);
    return held;
}

static enum law_outcome holds_for_whole_header(struct law *law, const struct er_field *field,
                                               struct dice *dice)
{
    struct er_field narrow = held_zone(field, dice);
    struct er_field wide = law_variant(&narrow);
    struct er_zone *zone = law_own_zones(&wide);
    struct er_header_piece *pieces = law_own_pieces(&wide, zone);
    double factor = dice_scaled(dice, 1.0001, 2);
    for (size_t p = 0; p < zone->header.piece_count; p++) {
        pieces[p].pipe = wider(&wide, pieces[p].pipe, factor);
    }
    struct law_emitters_pair pair;
    bool solved = law_list_pair(law, &narrow, &wide, &pair);
    if (solved) {
        for (size_t i = 0; i < pair.before.count; i++) {
            law_emitter_not_lower(law, &pair, i);
        }
        law_emitters_pair_release(&pair);
    }
    er_field_release(&wide);
    er_field_release(&narrow);
    return solved ? LAW_HELD_ON : LAW_REFUSED;
}

static void a_wider_section_lowers_nothing_beyond(void **state)
{
    (void)state;
    struct law law = {.name = "a wider section lowers nothing beyond it",
                      .allowed = 1e-9,
                      .first_seed = 250000,
                      .wanted = 500};
    law_sweep(&law, holds_for_sections);
}

static void a_wider_piece_never_lowers_the_outermost_bed(void **state)
{
    (void)state;
    struct law law = {.name = "a wider piece of header lowers no far end",
                      .allowed = 1e-9,
                      .first_seed = 260000,
                      .wanted = 500};
    law_sweep(&law, holds_for_one_piece);
}

static void a_wider_header_lowers_no_bed(void **state)
{
    (void)state;
    struct law law = {.name = "a wider header lowers no bed",
                      .allowed = 1e-9,
                      .first_seed = 270000,
                      .wanted = 500};
    law_sweep(&law, holds_for_whole_header);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_wider_section_lowers_nothing_beyond),
        cmocka_unit_test(a_wider_piece_never_lowers_the_outermost_bed),
        cmocka_unit_test(a_wider_header_lowers_no_bed)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
