/* Every run of neighbouring beds of a field's zones, judged as a zone of its own.
 *
 * A zone that runs alone is reached by one way: whatever else the field is divided into only
 * marks out places along it, where the resting pressure is judged with the zone that stands
 * there, and the running pressure is never higher. So each segment is judged once, alone, for
 * all the divisions that have it. Rows are filled as they are asked for. */
#ifndef ER_PLAN_SEGMENTS_H
#define ER_PLAN_SEGMENTS_H

#include "check/screen.h"
#include "evenrow/divide.h"

/* Beside the bits of its fails (1 << an enum er_finding_code): flows that could not be solved. */
#define ER_UNSOLVED (1U << ER_FINDING_COUNT)
_Static_assert(ER_FINDING_COUNT < 32, "the bits of the findings fit into an unsigned");

struct er_segment {
    unsigned fails; /* those of the whole day not among them */
    double flow;    /* m3/s */
    double hours;   /* s a day; NAN without a need */
    double volume;  /* m3 a day; likewise */
};

/* Those that begin at one bed, the one of one bed first. */
struct er_segment_row {
    size_t count, room;
    struct er_segment *segments; /* owned */
};

struct er_segments {
    const struct er_field *field;
    const struct er_zone_layout *layout;
    struct er_screen *screen;
    double flow_limit;           /* m3/s, that counts instead of the field's; INFINITY: none */
    size_t beds;                 /* of all zones, as they are counted here */
    size_t *zones, *zone_starts; /* for each bed its zone, and for each zone its first bed; owned */
    struct er_segment_row *rows; /* owned */
    size_t judged;               /* segments */
};

/* An empty table. `field`, `layout` and `screen` must outlive it. ER_OK or ER_NO_MEMORY; the
 * table is to be released in any case. */
enum er_status er_segments_open(struct er_segments *segments, const struct er_field *field,
                                const struct er_zone_layout *layout, struct er_screen *screen);
void er_segments_release(struct er_segments *segments);

/* Fills the row of the segments that begin at bed `from`: to the zone's end, or to where the flow
 * is so far above what the source may give that beds more cannot bring it back. A limit that is
 * higher than before lets the row grow. ER_OK or ER_NO_MEMORY. */
enum er_status er_segments_fill(struct er_segments *segments, size_t from);

/* Whether a segment passes all but what is judged of the whole day. */
bool er_segment_passes(const struct er_segments *segments, const struct er_segment *segment);

/* The piece that a segment is. */
struct er_piece er_segment_piece(const struct er_segments *segments, size_t from, size_t beds);

/* Makes *alone, a field in which the piece is the only zone, without hours and storage; shares
 * with `field` and is released with er_field_release. ER_OK or ER_NO_MEMORY. */
enum er_status er_piece_alone(const struct er_field *field, const struct er_piece *piece,
                              const struct er_zone_layout *layout, struct er_field *alone);

#endif
