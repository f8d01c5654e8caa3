/* From a field back to the field file.
 *
 * Every number is written with the fewest digits that er_field_read turns into the very same
 * number in SI; where no decimal number does, into the nearest there is. In other units than the
 * field's own a number of at most 12 digits may miss by the error of a conversion (1e-15 of it):
 * 12 in are 304.8 mm. Texts are laid out for
 * people: indented, short lists and objects on one line. */
#ifndef EVENROW_WRITING_H
#define EVENROW_WRITING_H

#include <stddef.h>

#include "evenrow/field.h"
#include "evenrow/reading.h"
#include "evenrow/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Writes the whole of `field` as a field file with bare numbers in the units of `system`.
 * er_field_read makes the same field of it, but for what no field holds: notes, what
 * "season" reads, pipes and tapes that are defined and not used, and in what form the need was
 * given. Left out are values that are the default in `system`; of the defaults that are told as
 * assumptions (struct er_assumption) only those that the field lists as assumed, so that what was
 * given stays given. Pipes and tapes are defined in the file unless they are the catalogue's;
 * where two different ones have one name, the second pipe is written in place and the second
 * tape gets another name. Names must be UTF-8, of zones and of sections each one only once.
 * The caller frees *text, which ends in NUL. ER_OK or ER_NO_MEMORY. */
enum er_status er_field_write(const struct er_field *field, enum er_system system, char **text);

/* Writes a document as it stands, with the overrides made to it, its notes, and the quantities
 * that it gives as texts ("5/8 in"), in its order. The caller frees *text, which ends in NUL.
 * ER_OK or ER_NO_MEMORY. */
enum er_status er_document_write(const struct er_document *document, char **text);

/* Parts of a field, to be put together with |. */
enum er_field_part {
    ER_PART_SOURCE = 1,
    ER_PART_HEADWORKS = 2,
    ER_PART_MAINLINE = 4,
    ER_PART_ZONES = 8 /* and the sets */
};

/* Puts `parts` of `field` into a document in the place of its own, in the document's units, so
 * that er_field_read gives these parts as they are in `field` and all others as before.
 *
 * With ER_PART_ZONES, zone_origins[i] is the place, in the document's own zones, of the one that
 * the field's zone i was made from; SIZE_MAX: none (or NULL for all: none). A zone with an origin
 * keeps its "water", word for word, and its "note", and in it and in the other parts whatever is
 * as before stays as it was written, with its notes. A zone without one gets the water that it
 * has in `field`, which can then not do without an "efficiency" or a need that the document
 * gives for all zones.
 *
 * Pipes and tapes that the parts name are added to the document's own, unless they or the
 * catalogue have that very one; if the name is another's, the pipe is written in place and the
 * tape gets a name that is free. Zones or a mainline that are not among the parts must fit the
 * new ones: sections are named by them.
 *
 * ER_OK; ER_BAD_INPUT if er_field_read refuses the document as it stood before; ER_NO_MEMORY.
 * The last two leave the document as it was. */
enum er_status er_document_put(struct er_document *document, const struct er_field *field,
                               unsigned parts, const size_t *zone_origins);

#ifdef __cplusplus
}
#endif

#endif
