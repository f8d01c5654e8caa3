/* The whole file. */
#include <string.h>

#include "field/entries.h"
#include "field/writer.h"

static const char *const systems[] = {"us", "metric", NULL};

#define IN_LIMITS(member) offsetof(struct er_limits, member)

static const struct er_key limit_keys[] = {
    ER_PERCENT_KEY("uniformity", IN_LIMITS(uniformity), ER_FROM_TO(0.0, 100.0),
                   "least emission uniformity of a zone, percent", ER_DEFAULT(85.0, 85.0)),
    ER_PERCENT_KEY("flow_variation", IN_LIMITS(flow_variation), ER_FROM_TO(0.0, 100.0),
                   "largest flow variation in a zone, percent", ER_DEFAULT(20.0, 20.0)),
    ER_QUANTITY_KEY("velocity", IN_LIMITS(velocity), ER_VELOCITY, ER_ABOVE_ZERO,
                    "highest velocity in mainline, header and lead", ER_DEFAULT(5.0, 1.5)),
    ER_QUANTITY_KEY("flush_velocity", IN_LIMITS(flush_velocity), ER_VELOCITY, ER_FROM_ZERO,
                    "least velocity at a tape's end when it is flushed", ER_DEFAULT(1.0, 0.3)),
};

const struct er_object er_limits_object = {
    .name = "the limits",
    .about = "limits that the findings are judged by",
    ER_KEYS(limit_keys),
    .entry_size = sizeof(struct er_limits),
    .kept_size = sizeof(struct er_limits),
};

#define IN_FIELD(member) offsetof(struct er_field_entry, member)

/* In the order of reading: what is named comes before what names it. */
static const struct er_key field_keys[] = {
    ER_COUNT_KEY("version", IN_FIELD(version), ER_FROM_TO(1.0, 1.0),
                 "version of the field file's format", ER_DEFAULT(1.0, 1.0)),
    ER_TEXT_KEY("title", IN_FIELD(field.title), "shown at the head of reports"),
    ER_CHOICE_KEY("units", IN_FIELD(units), systems,
                  "the unit system of bare numbers: \"us\" or \"metric\"", .presence = ER_REQUIRED),
    ER_MAP_KEY("pipes", IN_FIELD(pipes), IN_FIELD(pipe_count), &er_pipe_object,
               "the file's own pipes, by name; they come before the catalogue's"),
    ER_MAP_KEY("tapes", IN_FIELD(tapes), IN_FIELD(tape_count), &er_tape_object,
               "the file's own tapes, by name; they come before the catalogue's"),
    ER_OBJECT_KEY("source", IN_FIELD(source), &er_source_object,
                  "where the water and the pressure come from", .presence = ER_REQUIRED),
    ER_LIST_KEY("headworks", IN_FIELD(field.headworks), IN_FIELD(field.headworks_count),
                &er_headworks_object, "parts between the source and the mainline, in flow order"),
    ER_LIST_KEY("mainline", IN_FIELD(field.mainline), IN_FIELD(field.section_count),
                &er_section_object, "pipe sections from the headworks to the zones"),
    ER_NEW_OBJECT_KEY("mulch", IN_FIELD(field.mulch), &er_mulch_object, "what covers the beds"),
    ER_OBJECT_KEY("water", IN_FIELD(water), &er_farm_water_object,
                  "what the crop needs and when water may run"),
    ER_NEW_OBJECT_KEY("inject", IN_FIELD(field.inject), &er_inject_object,
                      "what is injected into the water, and how much"),
    ER_LIST_KEY("zones", IN_FIELD(field.zones), IN_FIELD(field.zone_count), &er_zone_object,
                "a list of what each valve opens", .presence = ER_REQUIRED, .least = 1),
    ER_SETS_KEY("sets", IN_FIELD(field.sets), IN_FIELD(field.set_count),
                "zones that run at the same time, [[zone, ...], ...]; without it each runs alone"),
    ER_OBJECT_KEY("limits", IN_FIELD(field.limits), &er_limits_object,
                  "limits that the findings are judged by"),
    ER_NEW_OBJECT_KEY("weather", IN_FIELD(field.weather), &er_weather_object,
                      "what was measured of the weather, for \"season\""),
    ER_NEW_OBJECT_KEY("prices", IN_FIELD(field.prices), &er_prices_object,
                      "what things cost; given, even empty, it asks for costs"),
    ER_POINTERS_KEY("guessed", IN_FIELD(field.guesses), IN_FIELD(field.guess_count),
                    "pointers to the figures, given or left to their default, that are guesses"),
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
