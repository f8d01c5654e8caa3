/* A field's beds put into other zones (evenrow/divide.h). */
#include "evenrow/divide.h"

#include <stdbool.h>
#include <string.h>

#include "plan/cut.h"

struct divider {
    const struct er_field *field;
    const struct er_piece *pieces;
    size_t piece_count;
    const struct er_zone_layout *layout;
    struct er_field *divided;
    struct er_section *sections; /* the old ones, then the new */
    size_t section_count;
    struct er_zone *zones;
    double *feeds; /* m along the old header, for each piece */
};

static bool zone_name_taken(const struct divider *divider, size_t zones, const char *name)
{
    for (size_t z = 0; z < divider->field->zone_count; z++) {
        if (strcmp(divider->field->zones[z].name, name) == 0) {
            return true;
        }
    }
    for (size_t z = 0; z < zones; z++) {
        if (strcmp(divider->zones[z].name, name) == 0) {
            return true;
        }
    }
    return false;
}

/* "OLD-1" with the next number from *number on that is free; NULL: no memory. */
static const char *name_zone(const struct divider *divider, size_t piece, const char *old,
                             size_t *number)
{
    const char *name;
    do {
        name = er_arena_format(&divider->divided->arena, "%s-%zu", old, ++*number);
    } while (name != NULL && zone_name_taken(divider, piece, name));
    return name;
}

static bool section_name_taken(const struct divider *divider, const char *name)
{
    for (size_t s = 0; s < divider->section_count; s++) {
        if (strcmp(divider->sections[s].name, name) == 0) {
            return true;
        }
    }
    return strcmp(name, "headworks") == 0; /* what the file calls their outlet */
}

/* "to ZONE"; NULL: no memory. */
static const char *name_section(const struct divider *divider, const char *zone)
{
    struct er_arena *arena = &divider->divided->arena;
    const char *name = er_arena_format(arena, "to %s", zone);
    for (size_t number = 2; name != NULL && section_name_taken(divider, name); number++) {
        name = er_arena_format(arena, "to %s (%zu)", zone, number);
    }
    return name;
}

/* Adds the section that goes on from `from_feed` to the piece's feed point, and joins the piece
 * at its end. `before`: the section that ends at from_feed; not used at the old feed point. */
static enum er_status add_section(struct divider *divider, size_t piece, double from_feed,
                                  size_t before)
{
    const struct er_zone *old = &divider->field->zones[divider->pieces[piece].zone];
    struct er_zone *zone = &divider->zones[piece];
    struct er_section section =
        er_section_onward(divider->field, old, divider->layout, from_feed, divider->feeds[piece]);
    if (!er_feed_stays(old, from_feed)) {
        section.from = before;
    }
    section.name = name_section(divider, zone->name);
    if (section.name == NULL) {
        return ER_NO_MEMORY;
    }
    er_zone_join(zone, divider->section_count);
    divider->sections[divider->section_count++] = section;
    return ER_OK;
}

/* The mainline from the old feed point to the pieces `first` to `last` of one zone: toward the
 * last bed, then toward the first. */
static enum er_status add_mainline(struct divider *divider, size_t first, size_t last)
{
    const struct er_zone *old = &divider->field->zones[divider->pieces[first].zone];
    double start = er_feed_distance(old);
    double from = start;
    size_t before = old->on;
    enum er_status status = ER_OK;
    for (size_t p = first; status == ER_OK && p <= last; p++) {
        if (divider->feeds[p] > start && !er_feed_stays(old, divider->feeds[p])) {
            status = add_section(divider, p, from, before);
            from = divider->feeds[p];
            before = divider->zones[p].on;
        }
    }
    from = start;
    before = old->on;
    for (size_t p = last + 1; status == ER_OK && p > first; p--) {
        if (divider->feeds[p - 1] < start && !er_feed_stays(old, divider->feeds[p - 1])) {
            status = add_section(divider, p - 1, from, before);
            from = divider->feeds[p - 1];
            before = divider->zones[p - 1].on;
        }
    }
    return status;
}

/* The zones made of the pieces `first` to `last`, which are all those of one old zone. */
static enum er_status divide_zone(struct divider *divider, size_t first, size_t last)
{
    size_t number = 0;
    for (size_t p = first; p <= last; p++) {
        struct er_zone *zone = &divider->zones[p];
        enum er_status status = er_zone_cut(divider->field, &divider->pieces[p], divider->layout,
                                            &divider->divided->arena, zone, &divider->feeds[p]);
        if (status != ER_OK) {
            return status;
        }
        if (last > first) {
            zone->name = name_zone(divider, p, zone->name, &number);
        }
        if (zone->name == NULL) {
            return ER_NO_MEMORY;
        }
    }
    bool moves = last > first || divider->layout->whole_zones;
    return moves ? add_mainline(divider, first, last) : ER_OK;
}

static enum er_status reserve(struct divider *divider)
{
    const struct er_field *field = divider->field;
    struct er_arena *arena = &divider->divided->arena;
    size_t most = field->section_count + divider->piece_count;
    divider->sections = er_arena_array(arena, most, sizeof *divider->sections);
    divider->zones = er_arena_array(arena, divider->piece_count, sizeof *divider->zones);
    divider->feeds = er_arena_array(arena, divider->piece_count, sizeof *divider->feeds);
    if (divider->sections == NULL || divider->zones == NULL || divider->feeds == NULL) {
        return ER_NO_MEMORY;
    }
    for (size_t s = 0; s < field->section_count; s++) {
        divider->sections[s] = field->mainline[s];
    }
    divider->section_count = field->section_count;
    return ER_OK;
}

/* Each zone in a set of its own. */
static enum er_status set_alone(struct er_field *field)
{
    struct er_set *sets = er_arena_array(&field->arena, field->zone_count, sizeof *sets);
    size_t *zones = er_arena_array(&field->arena, field->zone_count, sizeof *zones);
    if (sets == NULL || zones == NULL) {
        return ER_NO_MEMORY;
    }
    for (size_t z = 0; z < field->zone_count; z++) {
        zones[z] = z;
        sets[z] = (struct er_set){1, &zones[z]};
    }
    field->sets = sets;
    field->set_count = field->zone_count;
    return ER_OK;
}

static enum er_status divide(struct divider *divider, size_t *origins)
{
    enum er_status status = reserve(divider);
    size_t first = 0;
    for (size_t p = 0; status == ER_OK && p < divider->piece_count; p++) {
        origins[p] = divider->pieces[p].zone;
        bool ends = p + 1 == divider->piece_count || divider->pieces[p + 1].zone != origins[p];
        if (ends) {
            status = divide_zone(divider, first, p);
            first = p + 1;
        }
    }
    struct er_field *divided = divider->divided;
    divided->mainline = divider->sections;
    divided->section_count = divider->section_count;
    divided->zones = divider->zones;
    divided->zone_count = divider->piece_count;
    bool cut = divider->piece_count > divider->field->zone_count;
    return status == ER_OK && cut ? set_alone(divided) : status;
}

enum er_status er_field_divide(const struct er_field *field, const struct er_piece *pieces,
                               size_t piece_count, const struct er_zone_layout *layout,
                               struct er_field *divided, size_t *origins)
{
    *divided = *field;
    divided->arena = (struct er_arena){0};
    struct divider divider = {.field = field,
                              .pieces = pieces,
                              .piece_count = piece_count,
                              .layout = layout,
                              .divided = divided};
    enum er_status status = divide(&divider, origins);
    if (status != ER_OK) {
        er_field_release(divided);
    }
    return status;
}
