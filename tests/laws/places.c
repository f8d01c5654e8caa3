/* Beds counted and placed along a header by sums of spacings, for tests to compare with. */
#include "places.h"

size_t bed_count(const struct er_zone *zone)
{
    size_t beds = 0;
    for (size_t g = 0; g < zone->group_count; g++) {
        beds += zone->groups[g].count;
    }
    return beds;
}

struct bed_place place_of_bed(const struct er_zone *zone, size_t bed)
{
    struct bed_place place = {.group = zone->groups};
    for (; bed >= place.group->count; place.group++) {
        const struct er_bed_group *next = place.group + 1;
        bed -= place.group->count;
        place.at += ((double)place.group->count - 0.5) * place.group->spacing +
                    0.5 * next->spacing + next->gap;
    }
    place.index = bed;
    place.at += (double)bed * place.group->spacing;
    return place;
}

double header_span(const struct er_zone *zone)
{
    return place_of_bed(zone, bed_count(zone) - 1).at;
}

double feed_place(const struct er_zone *zone)
{
    switch (zone->header.feed) {
    case ER_FEED_LAST:
        return header_span(zone);
    case ER_FEED_MIDDLE:
        return header_span(zone) / 2;
    case ER_FEED_AT:
        return zone->header.feed_distance;
    case ER_FEED_FIRST:
        break;
    }
    return 0;
}
