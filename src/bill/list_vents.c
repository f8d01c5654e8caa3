/* High points, where air gathers and where a draining pipe sucks. */
#include <math.h>

#include "bill/list.h"

/* Less is no rise, but rounding. */
#define LEVEL 1e-6 /* m */

/* The highest that the ground along the header lies, from its first bed to its last. */
static double highest_header(const struct er_zone *zone)
{
    const struct er_ground *ground = &zone->header.ground;
    const double span = er_header_span(zone);
    double highest = fmax(er_ground_elevation(ground, 0.0), er_ground_elevation(ground, span));
    for (size_t i = 0; i < ground->count; i++) {
        if (ground->points[i].at < span) {
            highest = fmax(highest, ground->points[i].value);
        }
    }
    return highest;
}

size_t er_high_headers(const struct er_field *field)
{
    size_t count = 0;
    for (size_t z = 0; z < field->zone_count; z++) {
        const struct er_zone *zone = &field->zones[z];
        const double feed = er_ground_elevation(&zone->header.ground, er_feed_distance(zone));
        count += zone->rise + highest_header(zone) - feed > LEVEL;
    }
    return count;
}

/* A section's end is high where the section rises to it and none goes on higher. */
static bool ends_high(const struct er_field *field, size_t section)
{
    if (!(field->mainline[section].rise > LEVEL)) {
        return false;
    }
    for (size_t s = 0; s < field->section_count; s++) {
        if (field->mainline[s].from == section && field->mainline[s].rise > LEVEL) {
            return false;
        }
    }
    return true;
}

/* The headworks are high where the mainline only falls from them. */
static bool headworks_are_high(const struct er_field *field)
{
    bool falls = false;
    for (size_t s = 0; s < field->section_count; s++) {
        if (field->mainline[s].from == ER_HEADWORKS) {
            if (field->mainline[s].rise > LEVEL) {
                return false;
            }
            falls = falls || field->mainline[s].rise < -LEVEL;
        }
    }
    return falls;
}

size_t er_high_mainline(const struct er_field *field)
{
    size_t count = headworks_are_high(field);
    for (size_t s = 0; s < field->section_count; s++) {
        count += ends_high(field, s);
    }
    return count;
}
