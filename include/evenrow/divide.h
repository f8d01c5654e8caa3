/* A field's beds put into other zones.
 *
 * Every new zone is a piece of an old one: neighbouring beds, with a piece of header and a
 * feed point of their own. The mainline goes on from the old feed point along the old header,
 * both ways, to the new feed points: one section from each to the next, the first with the old
 * zone's lead and rise in it, all with the share for fittings of the section that the old zone
 * joins. Valve, regulator, water and the pieces of the header, counted outward from the new feed
 * point, are the old zone's. */
#ifndef EVENROW_DIVIDE_H
#define EVENROW_DIVIDE_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/field.h"
#include "evenrow/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Neighbouring bed positions of one of the field's zones. */
struct er_piece {
    size_t zone;
    size_t first_bed; /* from 0 along the header */
    size_t bed_count;
};

/* How the new zones are laid out. */
struct er_zone_layout {
    const struct er_pipe *pipe; /* of the new mainline sections; NULL: that of the section the old
                                   zone joins, or of its header's first piece where it joins at
                                   the headworks */
    int feed;                   /* an enum er_feed but ER_FEED_AT; -1: as the old zone's, and the
                                   middle where that is a distance */
    bool whole_zones; /* zones that stay one piece are fed as `feed` says, too, and the mainline
                         goes on to their new feed points; else they stay as they are */
};

/* Bed positions of a zone. */
size_t er_zone_beds(const struct er_zone *zone);

/* Makes *divided, a field in which the pieces are the zones, each in a set of its own; where no
 * zone is cut the field's sets stay. Pieces cover every bed of every zone once, in the field's
 * order. A zone that is one piece stays as it is, unless the layout says otherwise. *divided shares
 * what has not changed with `field`, which must outlive it, and is released with er_field_release;
 * origins[p] gets the place of the zone that zone p came from, as er_document_put wants it. ER_OK
 * or ER_NO_MEMORY. */
enum er_status er_field_divide(const struct er_field *field, const struct er_piece *pieces,
                               size_t piece_count, const struct er_zone_layout *layout,
                               struct er_field *divided, size_t *origins);

/* Parts the field's beds into `count` pieces (from the number of zones to the number of bed
 * positions) whose nominal flows are as even as whole beds allow: the largest is as small as can
 * be, then the smallest as large as can be. ER_OK or ER_NO_MEMORY. */
enum er_status er_field_part_evenly(const struct er_field *field, size_t count,
                                    struct er_piece *pieces);

#ifdef __cplusplus
}
#endif

#endif
