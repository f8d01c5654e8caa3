/* What the parts of the splitting share. */
#ifndef ER_PLAN_SPLITTER_H
#define ER_PLAN_SPLITTER_H

#include "evenrow/split.h"
#include "plan/division.h"

struct er_splitter {
    const struct er_split_ask *ask;
    struct er_split *split;
    struct er_screen screen;
    struct er_segments segments;
    struct er_division_limits limits;
    size_t fewest, most;     /* zones that may be made */
    struct er_piece *pieces; /* room for as many as there are beds, as in the next two */
    size_t *origins;
    struct er_split_try *tries; /* the split's */
};

/* What a day gives `field`; INFINITY where it is not judged. */
struct er_division_limits er_day_limits(const struct er_field *field);

/* Divides into the first `count` of the splitter's pieces, each running alone, or in pairs where
 * that goes, and checks it. If it passes, it becomes the answer. ER_OK or ER_NO_MEMORY. */
enum er_status er_splitter_conclude(struct er_splitter *splitter, size_t count, bool in_pairs,
                                    bool *passes);

/* Puts the field's zones, which run alone, into sets of one or two that pass all but what is
 * judged of the whole day, so as to take few hours. ER_OK or ER_NO_MEMORY. */
enum er_status er_pair_zones(struct er_screen *screen, struct er_field *field);

/* The field with a set of `zones` (two places, the same twice for a zone alone) as its only one,
 * and nothing that is judged of the whole day. It shares with the field and is not released. */
struct er_field er_pair_alone(const struct er_field *field, struct er_set *set,
                              const size_t *zones);

/* Finds the zones of the answer that may run together. ER_OK or ER_NO_MEMORY. */
enum er_status er_splitter_find_pairs(struct er_splitter *splitter);

/* Says what stands in the way of every division. ER_OK or ER_NO_MEMORY. */
enum er_status er_splitter_explain(struct er_splitter *splitter);

/* Fills the list of remedies. ER_OK or ER_NO_MEMORY. */
enum er_status er_splitter_find_remedies(struct er_splitter *splitter);

#endif
