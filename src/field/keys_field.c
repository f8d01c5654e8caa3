/* The whole file. */
#include <string.h>

#include "field/entries.h"
#include "field/writer.h"

static const char *const systems[] = {"us", "metric", NULL};

#define IN_LIMITS(member) offsetof(struct er_limits, member)

static const struct er_key limit_keys[] = {
    {.name = "uniformity",
     .about = "least emission uniformity of a zone, percent",
     .kind = ER_KEY_PERCENT,
     .presence = ER_DEFAULTED,
     .range = {0.0, 100.0, false, false},
     .fallback = {85.0, 85.0},
     .offset = IN_LIMITS(uniformity)},
    {.name = "flow_variation",
     .about = "largest flow variation in a zone, percent",
     .kind = ER_KEY_PERCENT,
     .presence = ER_DEFAULTED,
     .range = {0.0, 100.0, false, false},
     .fallback = {20.0, 20.0},
     .offset = IN_LIMITS(flow_variation)},
    {.name = "velocity",
     .about = "highest velocity in mainline, header and lead",
     .kind = ER_KEY_QUANTITY,
     .presence = ER_DEFAULTED,
     .quantity = ER_VELOCITY,
     .range = ER_ABOVE_ZERO,
     .fallback = {5.0, 1.5},
     .offset = IN_LIMITS(velocity)},
    {.name = "flush_velocity",
     .about = "least velocity at a tape's end when it is flushed",
     .kind = ER_KEY_QUANTITY,
     .presence = ER_DEFAULTED,
     .quantity = ER_VELOCITY,
     .range = ER_FROM_ZERO,
     .fallback = {1.0, 0.3},
     .offset = IN_LIMITS(flush_velocity)},
};

static const struct er_object limits_object = {
    .name = "the limits",
    .about = "limits that the findings are judged by",
    ER_KEYS(limit_keys),
    .entry_size = sizeof(struct er_limits),
    .kept_size = sizeof(struct er_limits),
};

#define IN_FIELD(member) offsetof(struct er_field_entry, member)

/* In the order of reading: what is named comes before what names it. */
static const struct er_key field_keys[] = {
    {.name = "version",
     .about = "version of the field file's format",
     .kind = ER_KEY_COUNT,
     .presence = ER_DEFAULTED,
     .range = {1.0, 1.0, false, false},
     .fallback = {1.0, 1.0},
     .offset = IN_FIELD(version)},
    {.name = "title",
     .about = "shown at the head of reports",
     .kind = ER_KEY_TEXT,
     .offset = IN_FIELD(field.title)},
    {.name = "units",
     .about = "the unit system of bare numbers: \"us\" or \"metric\"",
     .kind = ER_KEY_CHOICE,
     .presence = ER_REQUIRED,
     .words = systems,
     .offset = IN_FIELD(units)},
    {.name = "pipes",
     .about = "the file's own pipes, by name; they come before the catalogue's",
     .kind = ER_KEY_MAP,
     .object = &er_pipe_object,
     .offset = IN_FIELD(pipes),
     .second_offset = IN_FIELD(pipe_count)},
    {.name = "tapes",
     .about = "the file's own tapes, by name; they come before the catalogue's",
     .kind = ER_KEY_MAP,
     .object = &er_tape_object,
     .offset = IN_FIELD(tapes),
     .second_offset = IN_FIELD(tape_count)},
    {.name = "source",
     .about = "where the water and the pressure come from",
     .kind = ER_KEY_OBJECT,
     .presence = ER_REQUIRED,
     .object = &er_source_object,
     .offset = IN_FIELD(source)},
    {.name = "headworks",
     .about = "parts between the source and the mainline, in flow order",
     .kind = ER_KEY_LIST,
     .object = &er_headworks_object,
     .offset = IN_FIELD(field.headworks),
     .second_offset = IN_FIELD(field.headworks_count)},
    {.name = "mainline",
     .about = "pipe sections from the headworks to the zones",
     .kind = ER_KEY_LIST,
     .object = &er_section_object,
     .offset = IN_FIELD(field.mainline),
     .second_offset = IN_FIELD(field.section_count)},
    {.name = "mulch",
     .about = "what covers the beds",
     .kind = ER_KEY_NEW_OBJECT,
     .object = &er_mulch_object,
     .offset = IN_FIELD(field.mulch)},
    {.name = "water",
     .about = "what the crop needs and when water may run",
     .kind = ER_KEY_OBJECT,
     .object = &er_farm_water_object,
     .offset = IN_FIELD(water)},
    {.name = "inject",
     .about = "what is injected into the water, and how much",
     .kind = ER_KEY_NEW_OBJECT,
     .object = &er_inject_object,
     .offset = IN_FIELD(field.inject)},
    {.name = "zones",
     .about = "a list of what each valve opens",
     .kind = ER_KEY_LIST,
     .presence = ER_REQUIRED,
     .object = &er_zone_object,
     .least = 1,
     .offset = IN_FIELD(field.zones),
     .second_offset = IN_FIELD(field.zone_count)},
    {.name = "sets",
     .about = "zones that run at the same time, [[zone, ...], ...]; without it each runs alone",
     .kind = ER_KEY_SETS,
     .offset = IN_FIELD(field.sets),
     .second_offset = IN_FIELD(field.set_count)},
    {.name = "limits",
     .about = "limits that the findings are judged by",
     .kind = ER_KEY_OBJECT,
     .object = &limits_object,
     .offset = IN_FIELD(field.limits)},
    {.name = "weather",
     .about = "what was measured of the weather, for \"season\"",
     .kind = ER_KEY_NEW_OBJECT,
     .object = &er_weather_object,
     .offset = IN_FIELD(field.weather)},
    {.name = "prices",
     .about = "what things cost; given, even empty, it asks for costs",
     .kind = ER_KEY_NEW_OBJECT,
     .object = &er_prices_object,
     .offset = IN_FIELD(field.prices)},
    {.name = "guessed",
     .about = "pointers to the figures, given or left to their default, that are guesses",
     .kind = ER_KEY_POINTERS,
     .offset = IN_FIELD(field.guesses),
     .second_offset = IN_FIELD(field.guess_count)},
};

/* The names of a map's members, in the order in which they are read. */
static void collect_members(struct er_reader *reader, const cJSON *map, struct er_names *names)
{
    if (!cJSON_IsObject(map)) {
        return;
    }
    if (!er_names_init(names, &reader->arena, (size_t)cJSON_GetArraySize(map))) {
        reader->out_of_memory = true;
        return;
    }
    const cJSON *member = NULL;
    cJSON_ArrayForEach(member, map)
    {
        if (!er_is_note(member)) {
            er_names_add(names, member->string, names->count);
        }
    }
    er_names_sort(names);
}

void er_field_entry_begin(struct er_reader *reader, const struct er_place *root)
{
    const struct er_place mainline = er_place_key(root, "mainline");
    const struct er_place zones = er_place_key(root, "zones");
    collect_members(reader, er_place_key(root, "pipes").node, &reader->pipe_names);
    collect_members(reader, er_place_key(root, "tapes").node, &reader->tape_names);
    er_reader_collect(reader, &mainline, "section", &reader->section_names);
    er_reader_collect(reader, &zones, "zone", &reader->zone_names);
}

/* Without "sets" each zone runs alone, in the order of the file. */
static void make_single_sets(struct er_reader *reader, struct er_field *field)
{
    struct er_set *sets = er_reader_array(reader, field->zone_count, sizeof *sets);
    size_t *zones = er_reader_array(reader, field->zone_count, sizeof *zones);
    if (sets == NULL || zones == NULL) {
        return;
    }
    for (size_t i = 0; i < field->zone_count; i++) {
        zones[i] = i;
        sets[i] = (struct er_set){.zone_count = 1, .zones = &zones[i]};
    }
    field->sets = sets;
    field->set_count = field->zone_count;
}

static void finish_field(struct er_reader *reader, const struct er_place *place, void *entry,
                         const void *kept)
{
    (void)kept;
    struct er_field_entry *whole = entry;
    struct er_field *field = &whole->field;
    if (reader->notices.count > 0) {
        return; /* nothing will be made of it */
    }
    field->system = reader->system;
    field->source = whole->source.source;
    field->hours = whole->water.hours;
    if (!er_place_has(place, "sets")) {
        make_single_sets(reader, field);
    }
    bool has_season = false;
    for (size_t i = 0; i < field->zone_count; i++) {
        field->has_water = field->has_water || field->zones[i].water.need_kind != ER_NEED_NONE;
        has_season = has_season || field->zones[i].water.season != NULL;
    }
    if (!field->has_water && !has_season && !er_place_has(place, "water")) {
        field->hours = (double)NAN;
    }
    er_field_assume_water(reader, place, field);
    er_field_notice_factors(reader, place, field);
}

/* Whether each zone runs alone, in the order of the file. */
static bool has_single_sets(const struct er_field *field)
{
    bool single = field->set_count == field->zone_count;
    for (size_t i = 0; single && i < field->set_count; i++) {
        single = field->sets[i].zone_count == 1 && field->sets[i].zones[0] == i;
    }
    return single;
}

bool er_water_agrees(struct er_writer *writer, const struct er_water *one,
                     const struct er_water *other)
{
    struct er_water_entry entries[2];
    const struct er_water *waters[] = {one, other};
    for (size_t i = 0; i < 2; i++) {
        memset(&entries[i], 0, sizeof entries[i]);
        er_object_defaults(writer->system, &er_water_object, &entries[i]);
        entries[i].water = *waters[i];
        er_water_object.unfinish(writer, &entries[i], 0);
    }
    return er_entries_agree(&er_water_object, &entries[0], &entries[1], sizeof entries[0]);
}

/* Water that all zones have is the whole file's; without hours the file has none. */
static void unfinish_field_water(struct er_writer *writer, struct er_field_entry *whole)
{
    const struct er_field *field = writer->field;
    whole->water.hours = field->hours;
    bool alike = field->zone_count > 0 && er_given(field->hours) && !writer->water_elsewhere;
    for (size_t i = 1; i < field->zone_count && alike; i++) {
        alike = er_water_agrees(writer, &field->zones[0].water, &field->zones[i].water);
    }
    if (alike) {
        whole->water.water.water = field->zones[0].water;
        writer->water_elsewhere = true;
    }
}

static void unfinish_field(struct er_writer *writer, void *entry, size_t index)
{
    (void)index;
    struct er_field_entry *whole = entry;
    whole->units = (int)writer->system;
    whole->source.source = whole->field.source;
    unfinish_field_water(writer, whole);
    if (has_single_sets(&whole->field)) {
        whole->field.set_count = 0;
    }
}

const struct er_object er_field_object = {
    .name = "a field file",
    .about = "a farm's drip system: where the water comes from, what it passes through, and the "
             "beds it feeds",
    ER_KEYS(field_keys),
    .entry_size = sizeof(struct er_field_entry),
    .kept_size = sizeof(struct er_field),
    .finish = finish_field,
    .unfinish = unfinish_field,
};
