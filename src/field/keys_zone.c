/* Zones: what one valve opens. */
#include "field/entries.h"
#include "field/writer.h"

/* No zone is larger, and no field has more emitters. */
#define MOST_BEDS 100000.0
#define MOST_EMITTERS 1e10

/* A feed point that is beyond the last bed by no more than rounding stands at it. */
static const double FEED_SLACK = 1e-9;

#define IN_ZONE(member) offsetof(struct er_zone_entry, zone.member)

static const struct er_key zone_keys[] = {
    ER_TEXT_KEY("name", IN_ZONE(name), "the zone's name", .presence = ER_REQUIRED),
    ER_SECTION_KEY("on", IN_ZONE(on),
                   "mainline section at whose end the zone joins, or \"headworks\"; without it the "
                   "last"),
    ER_QUANTITY_KEY("rise", IN_ZONE(rise), ER_LENGTH, ER_ANY_NUMBER,
                    "elevation of the header's feed point above the join", ER_DEFAULT(0.0, 0.0)),
    ER_NEW_OBJECT_KEY("valve", IN_ZONE(valve), &er_part_object,
                      "the zone's valve, at the join's elevation"),
    ER_NEW_OBJECT_KEY("regulator", IN_ZONE(regulator), &er_regulator_object,
                      "the zone's pressure regulator, after the valve"),
    ER_OBJECT_KEY("header", offsetof(struct er_zone_entry, header), &er_header_object,
                  "the pipe across the beds' ends", .presence = ER_REQUIRED),
    ER_LIST_KEY("beds", IN_ZONE(groups), IN_ZONE(group_count), &er_bed_group_object,
                "groups of alike beds, in order along the header, from the first bed to the last",
                .presence = ER_REQUIRED, .least = 1),
    ER_OBJECT_KEY("water", offsetof(struct er_zone_entry, water), &er_water_object,
                  "what is different for this zone from the whole file's water"),
    ER_OBJECT_KEY("inject", offsetof(struct er_zone_entry, inject), &er_zone_inject_object,
                  "how much this zone should get, if not what the whole file's inject says"),
};

/* The distance from the first bed to the last, in m. */
static double last_bed_at(const struct er_zone *zone)
{
    double at = 0.0;
    for (size_t i = 0; i < zone->group_count; i++) {
        const struct er_bed_group *group = &zone->groups[i];
        if (i > 0) {
            at += zone->groups[i - 1].spacing / 2.0 + group->spacing / 2.0 + group->gap;
        }
        at += ((double)group->count - 1.0) * group->spacing;
    }
    return at;
}

static void check_feed(struct er_reader *reader, const struct er_place *place, struct er_zone *zone)
{
    struct er_header *header = &zone->header;
    const double last = last_bed_at(zone);
    if (header->feed != ER_FEED_AT || !(header->feed_distance > last) || !reader->system_known) {
        return;
    }
    if (header->feed_distance <= last * (1.0 + FEED_SLACK)) {
        header->feed_distance = last;
        return;
    }
    const struct er_place header_place = er_place_key(place, "header");
    const struct er_place at = er_place_key(&header_place, "feed");
    er_reader_problem(reader, &at, ER_AT_VALUE,
                      "the feed point lies beyond the last bed, which is %s from the first",
                      er_reader_figure(reader, ER_LENGTH, last));
}

/* Emitters of a group of not too many beds. */
static double count_emitters(const struct er_bed_group *group)
{
    double emitters = 0.0;
    const bool alike = !(group->last_length < group->length || group->last_length > group->length);
    const size_t unlike = alike ? 1 : group->count;
    for (size_t i = 0; i < unlike; i++) {
        emitters += (double)er_tape_emitters(group->tape, er_bed_length(group, i, false));
        if (group->both_sides) {
            emitters += (double)er_tape_emitters(group->tape, er_bed_length(group, i, true));
        }
    }
    return emitters * (double)group->tapes * (alike ? (double)group->count : 1.0);
}

static void check_size(struct er_reader *reader, const struct er_place *place,
                       const struct er_zone *zone)
{
    double beds = 0.0;
    for (size_t i = 0; i < zone->group_count; i++) {
        beds += (double)zone->groups[i].count;
    }
    if (beds > MOST_BEDS) {
        const struct er_place at = er_place_key(place, "beds");
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "a zone may have 100,000 beds at most, this one has %.15g", beds);
        return;
    }
    const double before = reader->emitters;
    for (size_t i = 0; i < zone->group_count && reader->emitters <= MOST_EMITTERS; i++) {
        if (zone->groups[i].tape != NULL) {
            reader->emitters += count_emitters(&zone->groups[i]);
        }
    }
    if (reader->emitters > MOST_EMITTERS && before <= MOST_EMITTERS) {
        const struct er_place at = er_place_key(place, "beds");
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "a field may have 10 billion emitters at most; with this zone it has "
                          "more: check counts, lengths and emitter spacing");
    }
}

static void complete_water(struct er_reader *reader, const struct er_place *place,
                           struct er_zone_entry *entry)
{
    const struct er_place water = er_place_key(place, "water");
    const struct er_water_entry *farm = &reader->field->water.water;
    if (water.node != NULL) {
        er_water_inherit(&water, &entry->water, farm);
        er_water_complete(reader, &water, entry->zone.name, &entry->water);
        entry->zone.water = entry->water.water;
        return;
    }
    if (!reader->farm_water_complete) {
        const struct er_place farm_place = er_place_key(place->parent->parent, "water");
        entry->water = *farm;
        er_water_complete(reader, &farm_place, NULL, &entry->water);
        reader->farm_water = entry->water.water;
        reader->farm_water_complete = true;
    }
    entry->zone.water = reader->farm_water;
}

/* A zone's own dose says how much, and not of what. */
static void complete_dose(struct er_reader *reader, const struct er_place *place,
                          struct er_zone_entry *entry)
{
    const struct er_place own = er_place_key(place, "inject");
    const struct er_inject *farm = reader->field->field.inject;
    if (farm != NULL) {
        entry->zone.dose = er_dose_complete(&entry->inject, farm->dose);
    } else if (own.node != NULL && !er_place_has(place->parent->parent, "inject")) {
        er_reader_problem(reader, &own, ER_AT_KEY,
                          "a zone's \"inject\" says how much, the top level's \"inject\" of what: "
                          "that one is missing");
    }
}

static void finish_zone(struct er_reader *reader, const struct er_place *place, void *entry,
                        const void *kept)
{
    (void)kept;
    struct er_zone_entry *zone_entry = entry;
    struct er_zone *zone = &zone_entry->zone;
    const size_t sections = reader->field->field.section_count;
    if (zone->on == ER_SECTION_LEFT_OUT) {
        zone->on = sections > 0 ? sections - 1 : ER_HEADWORKS;
    }
    if (zone->regulator != NULL) {
        /* The part is the first member of what it was read into. */
        const void *regulator = zone->regulator;
        zone->regulator_at_header = ((const struct er_regulator_entry *)regulator)->place == 0;
    }
    zone->header = zone_entry->header.header;
    check_feed(reader, place, zone);
    check_size(reader, place, zone);
    complete_water(reader, place, zone_entry);
    complete_dose(reader, place, zone_entry);
}

/* A regulator as it was read, with its place. */
static const struct er_part *unfinish_regulator(struct er_writer *writer,
                                                const struct er_zone *zone)
{
    struct er_regulator_entry *regulator = er_writer_array(writer, 1, sizeof *regulator);
    if (regulator == NULL) {
        return NULL;
    }
    regulator->part = *zone->regulator;
    regulator->place = zone->regulator_at_header ? 0 : -1;
    return &regulator->part;
}

static void unfinish_zone(struct er_writer *writer, void *entry, size_t index)
{
    (void)index;
    struct er_zone_entry *zone_entry = entry;
    struct er_zone *zone = &zone_entry->zone;
    const size_t sections = writer->field->section_count;
    const size_t last = sections > 0 ? sections - 1 : ER_HEADWORKS;
    if (zone->on == last && !writer->names_sections) {
        zone->on = ER_SECTION_LEFT_OUT;
    }
    if (zone->regulator != NULL) {
        zone->regulator = unfinish_regulator(writer, zone);
    }
    zone_entry->header.header = zone->header;
    if (writer->field->inject != NULL) {
        zone_entry->inject = er_dose_given(zone->dose, writer->field->inject->dose);
    }
    if (!writer->water_elsewhere) {
        zone_entry->water.water = zone->water;
    }
}

const struct er_object er_zone_object = {
    .name = "a zone",
    .about = "what one valve opens",
    ER_KEYS(zone_keys),
    .entry_size = sizeof(struct er_zone_entry),
    .kept_size = sizeof(struct er_zone),
    .finish = finish_zone,
    .unfinish = unfinish_zone,
};
