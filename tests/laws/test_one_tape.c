/* One tape alone, its inlet held at a pressure. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "laws.h"

/* The only tape of a field made by law_one_tape, made the variant's own. */
static struct er_tape *own_tape(struct er_field *variant, struct er_bed_group **bed)
{
    *bed = law_own_groups(variant, law_own_zones(variant));
    struct er_tape *tape = law_own(variant, (*bed)->tape, 1, sizeof(*tape));
    (*bed)->tape = tape;
    return tape;
}

/* On any ground: friction that goes with one power of flow, made less all along, is as if all
 * emitters gave less in the old tape, and then every pressure rises. */
static enum law_outcome holds_for_wider(struct law *law, const struct er_field *field,
                                        struct dice *dice)
{
    struct er_field narrow = law_one_tape(field, dice);
    struct er_field wide = law_variant(&narrow);
    struct er_bed_group *bed;
    own_tape(&wide, &bed)->inside_diameter *= dice_scaled(dice, 1.0001, 2);
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

/* A compensating emitter is let hold at any pressure above: where the first emitters of a row
 * stand above what they hold to and give more than the others, a longer row would bring them
 * down to the rest, and is more even indeed. */
static enum law_outcome holds_for_longer(struct law *law, const struct er_field *field,
                                         struct dice *dice)
{
    struct er_field shorter = law_one_tape(field, dice);
    struct er_bed_group *bed;
    struct er_tape *tape = own_tape(&shorter, &bed);
    tape->holds_to = er_given(tape->holds_from) ? ER_ENDLESS : ER_NONE;
    bed->ground = (struct er_ground){0};
    struct er_field longer = law_variant(&shorter);
    own_tape(&longer, &bed);
    bed->length += tape->emitter_spacing * dice_scaled(dice, 1, 60);
    bed->last_length = bed->length;
    struct law_pair pair;
    bool solved = law_check_pair(law, &shorter, &longer, &pair);
    if (solved) {
        law_not_lower(law, "emission uniformity", pair.a.zones[0].emission_uniformity,
                      pair.b.zones[0].emission_uniformity, 1);
        law_true(law, "more emitters", pair.b.zones[0].emitters > pair.a.zones[0].emitters);
        law_pair_release(&pair);
    }
    er_field_release(&longer);
    er_field_release(&shorter);
    return solved ? LAW_HELD_ON : LAW_REFUSED;
}

static void a_wider_tape_lowers_no_emitter(void **state)
{
    (void)state;
    struct law law = {.name = "a wider tape lowers no emitter",
                      .allowed = 1e-9,
                      .first_seed = 280000,
                      .wanted = 1000};
    law_sweep(&law, holds_for_wider);
}

static void a_longer_row_is_no_more_even(void **state)
{
    (void)state;
    struct law law = {.name = "a longer row on level ground is no more even",
                      .allowed = 1e-9,
                      .first_seed = 290000,
                      .wanted = 1000};
    law_sweep(&law, holds_for_longer);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_wider_tape_lowers_no_emitter),
                                       cmocka_unit_test(a_longer_row_is_no_more_even)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
