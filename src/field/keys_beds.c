/* Groups of alike beds. */
#include "field/entries.h"
#include "field/usual.h"
#include "field/writer.h"

static const char *const sides[] = {"one", "both", NULL};

#define IN_GROUP(member) offsetof(struct er_bed_group_entry, group.member)

static const struct er_key bed_keys[] = {
    ER_COUNT_KEY("count", IN_GROUP(count), ER_FROM_ONE, "number of beds", .presence = ER_REQUIRED),
    ER_QUANTITY_KEY("length", IN_GROUP(length), ER_LENGTH, ER_ABOVE_ZERO, "tape length of one bed",
                    .presence = ER_REQUIRED),
    ER_QUANTITY_KEY("spacing", IN_GROUP(spacing), ER_LENGTH, ER_ABOVE_TO(0.0, 1000.0),
                    "from bed to bed, centre to centre", .presence = ER_REQUIRED),
    ER_QUANTITY_KEY("last_length", IN_GROUP(last_length), ER_LENGTH, ER_ABOVE_ZERO,
                    "tape length of the group's last bed, in a field that tapers; without it "
                    "\"length\""),
    ER_QUANTITY_KEY("gap", IN_GROUP(gap), ER_LENGTH, ER_FROM_TO(0.0, 10000.0),
                    "extra distance before the group's first bed, such as a drive row",
                    ER_DEFAULT(0.0, 0.0)),
    ER_TAPE_KEY("tape", IN_GROUP(tape), "the tape's name", .presence = ER_REQUIRED),
    ER_COUNT_KEY("tapes", IN_GROUP(tapes), ER_FROM_ONE, "tapes per bed", ER_DEFAULT(1.0, 1.0)),
    ER_COUNT_KEY("rows", IN_GROUP(rows), ER_FROM_ONE, "rows of plants per bed",
                 ER_DEFAULT(1.0, 1.0)),
    ER_PERCENT_KEY("slope", IN_GROUP(ground.slope), ER_FROM_TO(-100.0, 100.0),
                   "percent along the bed, going away from the header: positive is uphill",
                   ER_DEFAULT(0.0, 0.0)),
    ER_POINTS_KEY("profile", IN_GROUP(ground.points), IN_GROUP(ground.count), ER_LENGTH, ER_LENGTH,
                  "ground along the bed, [[distance from the header, elevation], ...]"),
    ER_CHOICE_KEY("sides", offsetof(struct er_bed_group_entry, sides), sides,
                  "\"both\": tapes leave the header on both sides", .presence = ER_DEFAULTED),
    ER_QUANTITY_KEY("other_length", IN_GROUP(other_length), ER_LENGTH, ER_ABOVE_ZERO,
                    "tape length on the second side; without it \"length\""),
    ER_PERCENT_KEY("other_slope", IN_GROUP(other_ground.slope), ER_FROM_TO(-100.0, 100.0),
                   "percent along the second side, away from the header; without it -slope"),
    ER_POINTS_KEY("other_profile", IN_GROUP(other_ground.points), IN_GROUP(other_ground.count),
                  ER_LENGTH, ER_LENGTH,
                  "ground along the second side, [[distance from the header, elevation], ...]"),
    ER_QUANTITY_KEY("bed_width", IN_GROUP(bed_width), ER_SMALL_LENGTH, ER_ABOVE_ZERO,
                    "wetted or rooted width, for depths on the bed", ER_DEFAULT(30.0, 760.0)),
    ER_QUANTITY_KEY("plant_spacing", IN_GROUP(plant_spacing), ER_SMALL_LENGTH, ER_ABOVE_ZERO,
                    "from plant to plant along the row"),
};

static const struct er_rule bed_rules[] = {
    {.kind = ER_AT_MOST_ONE, .keys = {"slope", "profile"}, .why = NULL},
    {.kind = ER_AT_MOST_ONE, .keys = {"other_slope", "other_profile"}, .why = NULL},
    {.kind = ER_ONLY_WITH, .keys = {"other_length", "sides"}, .word = "both"},
    {.kind = ER_ONLY_WITH, .keys = {"other_slope", "sides"}, .word = "both"},
    {.kind = ER_ONLY_WITH, .keys = {"other_profile", "sides"}, .word = "both"},
};

static void complete_second_side(struct er_reader *reader, const struct er_place *place,
                                 struct er_bed_group *group)
{
    er_ground_complete(reader, place, "other_profile", &group->other_ground);
    const bool other_given =
        er_place_has(place, "other_slope") || er_place_has(place, "other_profile");
    if (group->both_sides && er_place_has(place, "profile") && !other_given) {
        const struct er_place at = er_place_key(place, "other_profile");
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "with a \"profile\" and both sides the second side needs "
                          "\"other_profile\" or \"other_slope\"");
    }
    if (!other_given) {
        group->other_ground.slope = -group->ground.slope;
    } else if (!er_given(group->other_ground.slope)) {
        group->other_ground.slope = 0.0;
    }
    if (!er_given(group->other_length)) {
        group->other_length = group->length;
    }
}

/* A tape too short for its first emitter would be a pipe with no outlet. */
static void check_fit(struct er_reader *reader, const struct er_place *place, const char *key,
                      const struct er_tape *tape, double length)
{
    if (!(tape->emitter_spacing > 0.0) || !(length > 0.0) || er_tape_emitters(tape, length) > 0) {
        return;
    }
    const struct er_place at = er_place_key(place, key);
    er_reader_problem(reader, &at, ER_AT_VALUE,
                      "no emitter fits on the shortest tape: %s long, with emitters %s apart",
                      er_reader_figure(reader, ER_LENGTH, length),
                      er_reader_figure(reader, ER_SMALL_LENGTH, tape->emitter_spacing));
}

static void check_fits(struct er_reader *reader, const struct er_place *place,
                       const struct er_bed_group *group)
{
    if (group->tape == NULL || !reader->system_known || group->count == 0) {
        return;
    }
    const bool tapers = group->count > 1 && group->last_length < group->length;
    check_fit(reader, place, tapers ? "last_length" : "length", group->tape,
              er_bed_length(group, tapers ? group->count - 1 : 0, false));
    if (group->both_sides) {
        check_fit(reader, place, "other_length", group->tape,
                  er_bed_length(group, tapers ? group->count - 1 : 0, true));
    }
}

/* Beds that overlap: widths and spacings have bare numbers of different units. */
static void check_width(struct er_reader *reader, const struct er_place *place,
                        const struct er_bed_group *group)
{
    const struct er_place at = er_place_key(place, "bed_width");
    if (at.node != NULL && group->bed_width > group->spacing * (1.0 + 1e-9)) {
        er_reader_odd(reader, &at,
                      (struct er_odd_figure){.value = group->bed_width,
                                             .to = group->spacing,
                                             .quantity = ER_SMALL_LENGTH,
                                             .meant = "a bed is no wider than \"spacing\", which "
                                                      "is from center to center"});
    }
}

static void finish_beds(struct er_reader *reader, const struct er_place *place, void *entry,
                        const void *kept)
{
    (void)kept;
    struct er_bed_group_entry *beds = entry;
    struct er_bed_group *group = &beds->group;
    group->both_sides = beds->sides == 1;
    if (!er_given(group->last_length)) {
        group->last_length = group->length;
    }
    er_ground_complete(reader, place, "profile", &group->ground);
    complete_second_side(reader, place, group);
    check_fits(reader, place, group);
    check_width(reader, place, group);
}

/* What would be the same if it were left out. */
static void forget_what_follows(struct er_bed_group *group)
{
    if (!(group->last_length < group->length || group->last_length > group->length)) {
        group->last_length = ER_NONE;
    }
    if (!(group->other_length < group->length || group->other_length > group->length)) {
        group->other_length = ER_NONE;
    }
    const double other = group->other_ground.slope + group->ground.slope;
    if (group->ground.count == 0 && !(other < 0.0 || other > 0.0)) {
        group->other_ground.slope = ER_NONE;
    }
}

static void unfinish_beds(struct er_writer *writer, void *entry, size_t index)
{
    (void)writer;
    (void)index;
    struct er_bed_group_entry *beds = entry;
    struct er_bed_group *group = &beds->group;
    beds->sides = group->both_sides;
    if (!group->both_sides) {
        group->other_length = ER_NONE;
        group->other_ground = (struct er_ground){.slope = ER_NONE};
    }
    forget_what_follows(group);
    er_ground_forget_slope(&group->ground, 0.0);
    er_ground_forget_slope(&group->other_ground, ER_NONE);
}

static const struct er_stray_key bed_stray[] = {
    {"width", "write \"bed_width\" for the bed, \"spacing\" for centre to centre"},
    {"emitter_spacing", "it belongs in the tape"},
    {"other_last_length", "the second side tapers as the first does"},
    {NULL, NULL},
};

const struct er_object er_bed_group_object = {
    .name = "a bed group",
    .about = "alike beds side by side",
    ER_KEYS(bed_keys),
    ER_RULES(bed_rules),
    .stray = bed_stray,
    .entry_size = sizeof(struct er_bed_group_entry),
    .kept_size = sizeof(struct er_bed_group),
    .finish = finish_beds,
    .unfinish = unfinish_beds,
};
