/* Lists that are no lists of objects: points of a curve or a profile, figures that belong
 * together, and sets of zones. */
#include <stdint.h>
#include <string.h>

#include "base/nearest.h"
#include "field/reader.h"

/* Takes down that a list of points was expected. */
static void tell_not_points(struct er_reader *reader, const struct er_place *place,
                            const struct er_key *key)
{
    er_reader_problem(reader, place, ER_AT_VALUE,
                      "expected two points or more, [[%s, %s], [%s, %s], ...], found %s",
                      er_quantity_name(key->quantity), er_quantity_name(key->second_quantity),
                      er_quantity_name(key->quantity), er_quantity_name(key->second_quantity),
                      er_found(reader, place->node));
}

static const struct er_key_range from_zero = ER_FROM_ZERO;
static const struct er_key_range any_number = ER_ANY_NUMBER;

static struct er_point read_point(struct er_reader *reader, const struct er_place *place,
                                  const struct er_key *key)
{
    if (!cJSON_IsArray(place->node) || cJSON_GetArraySize(place->node) != 2) {
        er_reader_problem(reader, place, ER_AT_VALUE, "expected a point [%s, %s], found %s",
                          er_quantity_name(key->quantity), er_quantity_name(key->second_quantity),
                          cJSON_IsArray(place->node) ? "a list that has not two items"
                                                     : er_found(reader, place->node));
        return (struct er_point){(double)NAN, (double)NAN};
    }
    const struct er_place at = {.parent = place, .node = place->node->child};
    const struct er_place value = {.parent = place, .index = 1, .node = at.node->next};
    return (struct er_point){.at = er_quantity_at(reader, &at, key->quantity, &from_zero),
                             .value =
                                 er_quantity_at(reader, &value, key->second_quantity, &any_number)};
}

void er_read_points(struct er_reader *reader, const struct er_place *place,
                    const struct er_key *key, void *entry)
{
    const int size = cJSON_IsArray(place->node) ? cJSON_GetArraySize(place->node) : 0;
    if (size < 2) {
        tell_not_points(reader, place, key);
        return;
    }
    const size_t count = (size_t)size;
    struct er_point *points = er_reader_array(reader, count, sizeof *points);
    if (points == NULL) {
        return;
    }
    struct er_place at = {.parent = place};
    const cJSON *item = NULL;
    cJSON_ArrayForEach(item, place->node)
    {
        at.node = item;
        points[at.index] = read_point(reader, &at, key);
        if (at.index > 0 && points[at.index].at <= points[at.index - 1].at) {
            er_reader_problem(reader, &at, ER_AT_VALUE,
                              "the %ss must rise from point to point: %s does not come after %s",
                              key->quantity == ER_LENGTH ? "distance" : "flow",
                              er_reader_figure(reader, key->quantity, points[at.index].at),
                              er_reader_figure(reader, key->quantity, points[at.index - 1].at));
        }
        at.index++;
    }
    const void *kept = points;
    memcpy((char *)entry + key->offset, &kept, sizeof kept);
    memcpy((char *)entry + key->second_offset, &count, sizeof count);
}

void er_read_figures(struct er_reader *reader, const struct er_place *place,
                     const struct er_key *key, void *entry)
{
    const bool bare = key->quantity == ER_QUANTITY_COUNT;
    if (!cJSON_IsArray(place->node) || (size_t)cJSON_GetArraySize(place->node) != key->least) {
        er_reader_problem(
            reader, place, ER_AT_VALUE, "expected a list of %zu figures, found %s: %s", key->least,
            cJSON_IsArray(place->node) ? "a list of another length" : er_found(reader, place->node),
            key->about);
        return;
    }
    struct er_place at = {.parent = place};
    const cJSON *item = NULL;
    cJSON_ArrayForEach(item, place->node)
    {
        at.node = item;
        const double value = bare ? er_number_at(reader, &at, key, "a bare number")
                                  : er_quantity_at(reader, &at, key->quantity, &key->range);
        memcpy((char *)entry + key->offset + at.index * sizeof value, &value, sizeof value);
        at.index++;
    }
}

/* What the sets are read with. */
struct set_reading {
    struct er_reader *reader;
    size_t *set_of;    /* by zone: its set's number from 1, 0: none yet */
    size_t zone_count; /* places in the list of zones, named or not */
};

static const char *near_zone(const struct er_reader *reader, const char *name)
{
    struct er_nearest nearest;
    er_nearest_begin(&nearest, name);
    for (size_t i = 0; i < reader->zone_names.count; i++) {
        er_nearest_offer(&nearest, reader->zone_names.sorted[i].name);
    }
    return nearest.best;
}

/* One zone of a set; SIZE_MAX with a problem taken down if it is none, or has a set already. */
static size_t read_set_zone(struct set_reading *sets, const struct er_place *place, size_t set)
{
    struct er_reader *reader = sets->reader;
    size_t zone = SIZE_MAX;
    if (!cJSON_IsString(place->node)) {
        er_reader_problem(reader, place, ER_AT_VALUE, "expected a zone's name in quotes, found %s",
                          er_found(reader, place->node));
        return SIZE_MAX;
    }
    const char *name = place->node->valuestring;
    if (!er_names_find(&reader->zone_names, name, &zone)) {
        if (er_notices_room(&reader->notices)) {
            const char *near = near_zone(reader, name);
            er_reader_problem(reader, place, ER_AT_VALUE, "no zone is called %s%s%s%s",
                              er_reader_quote(reader, name), near == NULL ? "" : "; did you mean ",
                              near == NULL ? "" : er_reader_quote(reader, near),
                              near == NULL ? "" : "?");
        } else {
            reader->notices.count++;
        }
        return SIZE_MAX;
    }
    if (sets->set_of[zone] != 0) {
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "zone %s is already in set %zu: a zone runs in one set only",
                          er_reader_quote(reader, name), sets->set_of[zone]);
        return SIZE_MAX;
    }
    sets->set_of[zone] = set;
    return zone;
}

static void read_set(struct set_reading *sets, const struct er_place *place, struct er_set *set)
{
    struct er_reader *reader = sets->reader;
    if (!cJSON_IsArray(place->node) || place->node->child == NULL) {
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "expected a set, a list of zones' names such as [\"1\", \"2\"], found %s",
                          cJSON_IsArray(place->node) ? "an empty list"
                                                     : er_found(reader, place->node));
        return;
    }
    size_t *zones = er_reader_array(reader, (size_t)cJSON_GetArraySize(place->node), sizeof *zones);
    if (zones == NULL) {
        return;
    }
    set->zones = zones;
    struct er_place at = {.parent = place};
    cJSON_ArrayForEach(at.node, place->node)
    {
        const size_t zone = read_set_zone(sets, &at, place->index + 1);
        if (zone != SIZE_MAX) {
            zones[set->zone_count++] = zone;
        }
        at.index++;
    }
}

/* Every zone must be in a set. */
static void find_left_out(struct set_reading *sets, const struct er_place *place)
{
    const struct er_names *names = &sets->reader->zone_names;
    for (size_t i = 0; i < names->count; i++) {
        const struct er_name *name = &names->sorted[i];
        if (sets->set_of[name->index] == 0) {
            er_reader_problem(sets->reader, place, ER_AT_VALUE,
                              "zone %s is in no set: every zone needs one, if \"sets\" is given",
                              er_reader_quote(sets->reader, name->name));
        }
    }
}

void er_read_sets(struct er_reader *reader, const struct er_place *place, const struct er_key *key,
                  void *entry)
{
    if (!cJSON_IsArray(place->node)) {
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "expected a list of sets such as [[\"1\", \"2\"], [\"3\"]], found %s",
                          er_found(reader, place->node));
        return;
    }
    const size_t count = (size_t)cJSON_GetArraySize(place->node);
    struct er_set *list = er_reader_array(reader, count, sizeof *list);
    struct set_reading sets = {.reader = reader};
    for (size_t i = 0; i < reader->zone_names.count; i++) {
        const size_t after = reader->zone_names.sorted[i].index + 1;
        sets.zone_count = after > sets.zone_count ? after : sets.zone_count;
    }
    sets.set_of = er_reader_array(reader, sets.zone_count, sizeof *sets.set_of);
    if (list == NULL || sets.set_of == NULL) {
        return;
    }
    struct er_place at = {.parent = place};
    cJSON_ArrayForEach(at.node, place->node)
    {
        read_set(&sets, &at, &list[at.index]);
        at.index++;
    }
    find_left_out(&sets, place);
    const void *kept = list;
    memcpy((char *)entry + key->offset, &kept, sizeof kept);
    memcpy((char *)entry + key->second_offset, &count, sizeof count);
}
