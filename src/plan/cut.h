/* The geometry of a piece of a zone: some neighbouring beds of it, with a header of their own. */
#ifndef ER_PLAN_CUT_H
#define ER_PLAN_CUT_H

#include "evenrow/divide.h"

/* Distance (m) along the header from the zone's first bed to bed position `bed`. */
double er_bed_distance(const struct er_zone *zone, size_t bed);

/* Whether the piece is the whole of its zone. */
bool er_piece_is_zone(const struct er_field *field, const struct er_piece *piece);

/* Fills *cut with the piece's beds and header as a zone of their own, whose feed point is as the
 * layout says; name, join, rise and lead are the old zone's. What must be new is made in `arena`.
 * *feed_at: distance (m) from the old zone's first bed to the new feed point.
 * ER_OK or ER_NO_MEMORY. */
enum er_status er_zone_cut(const struct er_field *field, const struct er_piece *piece,
                           const struct er_zone_layout *layout, struct er_arena *arena,
                           struct er_zone *cut, double *feed_at);

/* Whether a feed point at `feed_at` is where the old zone's is, so that the way to it stays. */
bool er_feed_stays(const struct er_zone *old, double feed_at);

/* The section on which the mainline goes on along the old header from `from_feed` to a new feed
 * point at `feed_at` (m from the old zone's first bed, both). From the old zone's own feed point
 * it has the old way there in it, lead and rise, and starts at the old join. Else the caller sets
 * `from`; it has no name yet. */
struct er_section er_section_onward(const struct er_field *field, const struct er_zone *old,
                                    const struct er_zone_layout *layout, double from_feed,
                                    double feed_at);

/* Joins a zone at the end of a section that leads to its feed point. */
void er_zone_join(struct er_zone *zone, size_t section);

#endif
