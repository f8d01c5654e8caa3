/* Which tape, which header pipe, where to feed it, how many zones?
 *
 * Every combination is a design. Each is judged by what it takes to hold; those that hold are
 * ranked: those without cautions first, then by cost; designs alike in that by emission
 * uniformity, then in the order of the lists. */
#ifndef EVENROW_CHOOSE_H
#define EVENROW_CHOOSE_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/check.h"
#include "evenrow/field.h"
#include "evenrow/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Called after every design judged, by any thread, but by one at a time. False: stop. */
typedef bool er_choose_watch(void *context, size_t judged, size_t total);

/* What to choose from. All of it, and the field, must outlive what is made from it. */
struct er_choose_ask {
    const struct er_field *field;
    size_t tape_count, pipe_count, feed_count, division_count;
    const struct er_tape *const *tapes; /* of every bed */
    const struct er_pipe *const *pipes; /* of every header, all along */
    const enum er_feed *feeds;          /* of every header; not ER_FEED_AT */
    const size_t *divisions; /* numbers of zones, not below the field's own nor above its beds */
    /* The built-in list (catalogue.h), by which all costs where the field has no prices. NULL: such
     * a field has no costs, and designs are ranked by the rest. */
    const struct er_prices *list;
    double waste;           /* share of every length that is bought besides, for `bought` */
    size_t threads;         /* 1 or more; the answer is the same for any number */
    er_choose_watch *watch; /* NULL: none */
    void *watch_context;
};

/* One combination, and how it stands. */
struct er_design {
    size_t tape, pipe, feed, division; /* places in the ask's lists */
    enum er_verdict verdict;
    unsigned long fails;    /* a bit for each enum er_finding_code that fails */
    unsigned long cautions; /* and for each that asks for care */
    double cost;            /* er_field_cost: what choosing can change */
    double bought;          /* the cost of all that er_materials_count lists; of the best and own */
    double uniformity;      /* the least even zone's emission uniformity, a fraction */
    double hours_needed;    /* s a day; NAN without a need */
    double lowest_pressure; /* m, at an emitter */
    double largest_flow;    /* m3/s, of a set */
    bool unbeaten; /* no design that holds is better in cost or uniformity and as good in the other,
                      one with cautions counting only against others with cautions */
};

#define ER_CHOICE_BEST 10

struct er_choice {
    size_t total, judged, held;
    bool stopped;                       /* before all were judged: the best so far */
    bool placeholders;                  /* some price was not the field's own */
    size_t unfit;                       /* designs with a bed too short for one emitter */
    size_t unsolved;                    /* designs whose flows could not be solved */
    size_t failed_by[ER_FINDING_COUNT]; /* designs with such a fail; one may have several */
    size_t best_count;
    struct er_design best[ER_CHOICE_BEST];
    struct er_design own; /* the field as it is, whether it holds or not; its places mean nothing */
};

/* Judges every design and ranks those that hold. What it tells of the best is what er_check
 * says of them. ER_OK, also when stopped; ER_NO_MEMORY; ER_NOT_CLOSED where the field as it is
 * can't be solved, with *failure filled. */
enum er_status er_choose(const struct er_choose_ask *ask, struct er_choice *choice,
                         struct er_failure *failure);

/* What is tried where nobody says what: of the catalogue's tapes those with emitters as far apart
 * as on some bed of the field, and from the field's own number of zones to four more, where it has
 * beds enough. */
bool er_choose_tries_tape(const struct er_field *field, const struct er_tape *tape);
size_t er_choose_tries_zones(const struct er_field *field);

/* A design as a field: the beds' tape and the headers' pipe changed, then the zones laid out. Where
 * a header is fed elsewhere than in the ask's field, the mainline goes on from the old feed point
 * to the new one. */
struct er_designed {
    struct er_field field;
    struct er_field changed; /* what `field` was laid out from, and shares with it */
    size_t *origins;         /* places of the ask's zones that these were made from */
};

/* Makes the field of a design. ER_OK or ER_NO_MEMORY; release it in either case, before the
 * ask's field. */
enum er_status er_design_make(const struct er_choose_ask *ask, const struct er_design *design,
                              struct er_designed *designed);
void er_designed_release(struct er_designed *designed);

#ifdef __cplusplus
}
#endif

#endif
