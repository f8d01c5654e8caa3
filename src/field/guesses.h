/* "guessed" of a field file: pointers to figures that nobody has measured. */
#ifndef ER_FIELD_GUESSES_H
#define ER_FIELD_GUESSES_H

#include <stdbool.h>
#include <stddef.h>

#include <cjson/cJSON.h>

/* Takes out the guesses at, in or around the place of `pointer`, which has just been set. */
void er_guesses_drop_set(cJSON *root, const char *pointer);

/* The same for all that a merge patch is about to put into `root`. Needs no memory. */
void er_guesses_drop_patched(cJSON *root, const cJSON *patch);

/* The guesses of `before` that `now`, made from it, still has, as a list for it: zone i of `now`
 * has those of zone origins[i] (SIZE_MAX or NULL for all: none) where it has the place; where
 * another part has another value than before, that is no guess. With `moves` false the zones
 * stand where they stood. NULL: there are none, or memory ran out, and then *failed. */
cJSON *er_guesses_carry(const cJSON *before, const cJSON *now, bool moves, const size_t *origins,
                        bool *failed);

/* Whether `pointer` leads to something that the reader takes for a guess. */
bool er_guess_leads(const cJSON *root, const char *pointer);

#endif
