/* What the tests of laws share.
 *
 * A law is a sentence that must be true of any field. It is held against fields drawn at random
 * (random_field.h): each is solved, changed in a way whose outcome the law foretells, and solved
 * again. Nothing is compared with a number from outside; what must not change, or must not
 * fall, is. Where memory runs out the test program ends. */
#ifndef LAWS_H
#define LAWS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "dice.h"
#include "evenrow/check.h"
#include "hydraulics/network.h"

/* The least that figures are compared relative to: below it they are told as good as none. */
static const double LEAST_PRESSURE = 1;    /* m */
static const double LEAST_FLOW = 1e-12;    /* m3/s: a drop in half a day */
static const double LEAST_VELOCITY = 1e-6; /* m/s: 4 cm in half a day */

/* One law while it is held against many fields. */
struct law {
    const char *name; /* 44 letters at most */
    double allowed;   /* deviation, relative */
    uint64_t first_seed;
    size_t wanted; /* fields */
    bool needs;    /* the fields have needs, ratings and limits too (random_needs.h) */

    uint64_t seed; /* of the field at hand */
    size_t fields; /* that the law was held on */
    size_t refused, not_concerned;
    size_t figures, broken;
    size_t compared, risen; /* by law_not_lower: figures, and those that did rise */
    double largest;         /* deviation */
    uint64_t largest_seed;
    size_t at_edge; /* zones of which some figures were left out: see law_same_zone */
};

enum law_outcome { LAW_HELD_ON, LAW_REFUSED, LAW_NOT_CONCERNED };

/* Holds the law on one field; `dice` is for the change it makes. */
typedef enum law_outcome law_on_field(struct law *law, const struct er_field *field,
                                      struct dice *dice);

/* Draws fields until the law has been held on as many as are wanted, prints how it went, and
 * asserts that it was held on them all and never broken. The program may refuse a field as
 * not closed, once in 500. */
void law_sweep(struct law *law, law_on_field *hold);

/* `figure` and `other` must be the same; no number is none of either. */
void law_same(struct law *law, const char *what, double figure, double other, double least);

/* The same for figures that may be missing; they must then be missing in both. */
void law_same_or_none(struct law *law, const char *what, double figure, double other, double least);

/* `after` must not be lower than `before`; how far it is counts as deviation. */
void law_not_lower(struct law *law, const char *what, double after, double before, double least);

/* What is no figure; it counts as one of no deviation, or of an endless one. */
void law_true(struct law *law, const char *what, bool holds);

/* Every figure of two zones or sections must be alike. What hangs on the lowest emitter is left
 * out where that emitter stands within a millimetre of running dry: its flow there grows without
 * bound with its pressure, so that digits below all tolerances decide. Run times and the like
 * go with one over the efficiency, which may be the zone's uniformity and as good as nothing:
 * they are held as closely as the efficiency is. */
void law_same_zone(struct law *law, const struct er_zone_result *a, const struct er_zone_result *b);
void law_same_section(struct law *law, const struct er_section_result *a,
                      const struct er_section_result *b);

/* A field like `field`, which it shares all its parts with. What is to be changed in it is
 * made its own first. Release it before `field`. */
struct er_field law_variant(const struct er_field *field);
void *law_own(struct er_field *variant, const void *array, size_t count, size_t size);
struct er_zone *law_own_zones(struct er_field *variant);
struct er_section *law_own_mainline(struct er_field *variant);
struct er_bed_group *law_own_groups(struct er_field *variant, struct er_zone *zone);
struct er_header_piece *law_own_pieces(struct er_field *variant, struct er_zone *zone);

/* Makes a zone of `field` the only one, so that it runs alone. */
struct er_field law_zone_alone(const struct er_field *field, size_t zone);

/* One tape of one bed of `field`, its inlet held at a random pressure. */
struct er_field law_one_tape(const struct er_field *field, struct dice *dice);

/* Two fields solved. */
struct law_pair {
    struct er_result a, b;
};

/* Solves both. Returns false when one was refused; else release the pair. */
bool law_check_pair(const struct law *law, const struct er_field *a, const struct er_field *b,
                    struct law_pair *pair);
void law_pair_release(struct law_pair *pair);

/* Every figure of the sets and of the day must be alike, and the verdict. */
void law_same_sets(struct law *law, const struct law_pair *pair);

/* Solves one set of `field`. Returns false when it was refused; release the network either way. */
bool law_solve_set(const struct law *law, const struct er_field *field, size_t set,
                   struct er_network *network);

/* Visits the emitters of one outlet's tape, from the last to the first. */
void law_visit_tape(const struct er_network *network, const struct er_outlet *outlet,
                    er_emitter_visit *visit, void *context);

/* Every emitter of a field in its sets' order; a bed's tapes are alike, one stands for all. */
struct law_emitter {
    size_t zone;  /* place in the field's zones */
    size_t bed;   /* position along the header, from 0 */
    size_t place; /* on its tape, from 0 at the header */
    const struct er_tape *tape;
    double pressure, flow;
};

struct law_emitters {
    size_t count, room;
    struct law_emitter *list;
};

/* Returns false when the field was refused; else free the list. */
bool law_list_emitters(const struct law *law, const struct er_field *field,
                       struct law_emitters *emitters);

/* Two such lists, of fields that differ in pressures and flows alone. */
struct law_emitters_pair {
    struct law_emitters before, after;
};

/* Returns false when either field was refused; else release the pair. */
bool law_list_pair(const struct law *law, const struct er_field *before,
                   const struct er_field *after, struct law_emitters_pair *pair);
void law_emitters_pair_release(struct law_emitters_pair *pair);

/* Pressure and flow of emitter `i` must not be lower after than before. */
void law_emitter_not_lower(struct law *law, const struct law_emitters_pair *pair, size_t i);

#endif
