/* What farms usually have: figures outside are possible, and are asked about. */
#ifndef ER_FIELD_USUAL_H
#define ER_FIELD_USUAL_H

#include "field/reader.h"

struct er_usual {
    const char *object, *key; /* by name, as in their tables */
    double from, to;   /* SI, percent or a plain number; a figure of 0 is never asked about */
    const char *meant; /* what may have been meant, after "usual is 2 to 4; " */
    bool bare;         /* only a number without a unit is asked about */
};

#define ER_USUAL_ROWS 54
extern const struct er_usual er_usuals[ER_USUAL_ROWS];

/* The row of that key of the object or its bases; NULL: none. */
const struct er_usual *er_usual_find(const struct er_object *object, const char *key);

/* Takes down the figure that was read into `entry`, at `place`, if it looks like a slip. */
void er_reader_look(struct er_reader *reader, const struct er_place *place,
                    const struct er_object *object, const struct er_key *key, const void *entry);

/* Takes down that a figure of `usual` at `place` looks like a slip; those after the first of one
 * row (the same `meant`) are only counted. `figure`'s pointer and count are put in here. */
void er_reader_odd(struct er_reader *reader, const struct er_place *place,
                   struct er_odd_figure figure);

#endif
