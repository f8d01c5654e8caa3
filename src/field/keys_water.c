/* What the crop needs, and when water may run. */
#include "evenrow/season.h"
#include "field/entries.h"
#include "field/writer.h"

#define IN_SOIL(member) offsetof(struct er_soil, member)

static const struct er_key soil_keys[] = {
    ER_TEXT_KEY("name", IN_SOIL(name),
                "a soil of the catalogue, for what is not given here; or any name, if all is"),
    ER_NUMBER_KEY("available_water", IN_SOIL(available_water), ER_ABOVE_BELOW(0.0, 1.0),
                  "water that plants can take, per depth of soil, as a fraction: 0.17 in/in"),
    ER_QUANTITY_KEY("spread", IN_SOIL(spread), ER_SMALL_LENGTH, ER_ABOVE_ZERO,
                    "how wide one tape wets the soil"),
};

/* What it does not say itself is the named soil's. */
static void finish_soil(struct er_reader *reader, const struct er_place *place, void *entry,
                        const void *kept)
{
    (void)kept;
    struct er_soil *soil = entry;
    const bool has_water = er_place_has(place, "available_water");
    soil->own_spread = er_place_has(place, "spread");
    soil->source = "the field file";
    if (has_water && soil->own_spread) {
        soil->name = soil->name == NULL ? "this soil" : soil->name;
        return;
    }
    if (soil->name == NULL) {
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "the soil needs \"name\", a soil of the catalogue, or both "
                          "\"available_water\" and \"spread\"");
        return;
    }
    const struct er_place at = er_place_key(place, "name");
    const struct er_soil *named = er_reader_soil(reader, &at, soil->name);
    if (named != NULL) {
        soil->available_water = has_water ? soil->available_water : named->available_water;
        soil->spread = soil->own_spread ? soil->spread : named->spread;
        soil->source = named->source;
    }
}

static void unfinish_soil(struct er_writer *writer, void *entry, size_t index)
{
    (void)writer;
    (void)index;
    struct er_soil *soil = entry;
    if (!soil->own_spread) {
        soil->spread = ER_NONE;
    }
}

const struct er_object er_soil_object = {
    .name = "a soil",
    .about = "a soil whose figures are not the catalogue's",
    ER_KEYS(soil_keys),
    .entry_size = sizeof(struct er_soil),
    .kept_size = sizeof(struct er_soil),
    .finish = finish_soil,
    .unfinish = unfinish_soil,
};

static const char *const stages[] = {"initial", "mid", "end", NULL}; /* as enum er_stage */
static const char *const areas[] = {"spacing", "bed", NULL};

#define IN_WATER(member) offsetof(struct er_water_entry, member)

static const struct er_key water_keys[] = {
    ER_QUANTITY_KEY("need", IN_WATER(need), ER_DEPTH_PER_DAY, ER_FROM_ZERO,
                    "depth per day that the crop uses at its peak"),
    ER_QUANTITY_KEY("need_per_length", IN_WATER(need_per_length), ER_VOLUME_PER_LENGTH,
                    ER_FROM_ZERO, "volume per length of bed per day"),
    ER_QUANTITY_KEY("eto", IN_WATER(eto), ER_DEPTH_PER_DAY, ER_FROM_ZERO,
                    "reference evapotranspiration per day; the need is eto x kc"),
    ER_NUMBER_KEY("kc", IN_WATER(kc), ER_FROM_ZERO, "crop coefficient"),
    ER_TEXT_KEY("crop", IN_WATER(crop), "a crop of the catalogue, for its crop coefficient"),
    ER_CHOICE_KEY("stage", IN_WATER(stage), stages, "the crop's stage"),
    ER_NUMBER_KEY("mulch_factor", IN_WATER(mulch_factor), ER_ABOVE_ZERO,
                  "multiplies eto x kc, of the season too; without it \"mulch\" says: its factor, "
                  "or under plastic the catalogue's, which multiplies only a kc of the catalogue"),
    ER_CHOICE_KEY("area", IN_WATER(area), areas,
                  "the area that the depth covers: bed length x spacing, or bed length x bed_width",
                  .presence = ER_DEFAULTED),
    ER_PERCENT_KEY("efficiency", IN_WATER(water.efficiency), ER_ABOVE_TO(0.0, 100.0),
                   "percent of the applied water that the crop can use; without it the smaller of "
                   "90 and the zone's emission uniformity",
                   .fallback = {90.0, 90.0},
                   .assumed = "share of the water that the crop can use: the smaller of 90 "
                              "percent, usual for drip, and the zone's emission uniformity",
                   .lowered_by_eu = true),
    ER_PERCENT_KEY("leaching", IN_WATER(water.leaching), ER_FROM_BELOW(0.0, 100.0),
                   "percent of the applied water let past the roots for salts",
                   ER_DEFAULT(0.0, 0.0)),
    ER_NUMBER_KEY("every", IN_WATER(water.every), ER_ABOVE_ZERO, "days between irrigations",
                  ER_DEFAULT(1.0, 1.0)),
    ER_SOIL_KEY("soil", IN_WATER(water.soil), &er_soil_object,
                "a soil of the catalogue, for the most that one irrigation may give; or its own "
                "figures"),
    ER_QUANTITY_KEY("root_depth", IN_WATER(water.root_depth), ER_SMALL_LENGTH, ER_ABOVE_ZERO,
                    "depth of the roots; without it the crop's smaller one of the catalogue, else "
                    "12 in (300 mm)",
                    ER_DEFAULT(12.0, 300.0),
                    .assumed = "root depth of a vegetable crop; \"evenrow catalog crops\" lists "
                               "ranges, a spade shows the crop's own"),
    ER_PERCENT_KEY("allowed_depletion", IN_WATER(water.allowed_depletion), ER_ABOVE_TO(0.0, 100.0),
                   "percent of the soil's available water that may be used up between irrigations; "
                   "without it the crop's of the catalogue, else 50",
                   ER_DEFAULT(50.0, 50.0),
                   .assumed = "share of the soil's water that may be used up between irrigations; "
                              "\"evenrow catalog crops\" lists it by crop"),
    ER_QUANTITY_KEY("wetted_width", IN_WATER(water.wetted_width), ER_SMALL_LENGTH, ER_ABOVE_ZERO,
                    "width of soil that one tape wets; without it what is usual in the soil"),
    ER_NEW_OBJECT_KEY("season", IN_WATER(water.season), &er_season_object,
                      "planting date, stage lengths and monthly eto, for \"season\""),
};

static const struct er_rule water_rules[] = {
    {.kind = ER_AT_MOST_ONE,
     .keys = {"need", "need_per_length", "eto"},
     .why = "the need is given in one form"},
    {.kind = ER_AT_MOST_ONE,
     .keys = {"need", "need_per_length", "kc", "crop"},
     .why = "\"kc\" and \"crop\" each go with \"eto\""},
};

static const struct er_stray_key water_stray[] = {
    {"hours", "the hours are the whole farm's: they belong in the top level's \"water\""},
    {NULL, NULL},
};

/* A default that plays no part need not be told. */
static void forget_default(struct er_writer *writer, const char *name, double *value)
{
    const double usual = er_key_default(er_object_key(&er_water_object, name), writer->system);
    if (!writer->writes_defaults && !(*value < usual || *value > usual)) {
        *value = ER_NONE;
    }
}

static void unfinish_water(struct er_writer *writer, void *entry, size_t index)
{
    (void)index;
    struct er_water_entry *water_entry = entry;
    struct er_water *water = &water_entry->water;
    water_entry->need = water->need_kind == ER_NEED_DEPTH ? water->need : ER_NONE;
    water_entry->need_per_length = water->need_kind == ER_NEED_PER_LENGTH ? water->need : ER_NONE;
    water_entry->area = water->area_is_bed;
    if (water->season != NULL) {
        water_entry->mulch_factor = water->season->mulch_factor;
    }
    if (water->soil == NULL || water->need_kind == ER_NEED_NONE) {
        forget_default(writer, "root_depth", &water->root_depth);
        forget_default(writer, "allowed_depletion", &water->allowed_depletion);
    }
}

const struct er_object er_water_object = {
    .name = "a zone's water",
    .about = "what is different for this zone from the whole file's water",
    ER_KEYS(water_keys),
    ER_RULES(water_rules),
    .stray = water_stray,
    .entry_size = sizeof(struct er_water_entry),
    .kept_size = sizeof(struct er_water),
    .unfinish = unfinish_water,
};

static const struct er_key farm_water_keys[] = {
    ER_QUANTITY_KEY("hours", offsetof(struct er_farm_water_entry, hours), ER_TIME,
                    ER_ABOVE_TO(0.0, ER_DAY), "hours of the day in which water may run",
                    ER_DEFAULT(20.0, 20.0),
                    .assumed = "hours of the day in which water may run; leaves time for repairs"),
};

const struct er_object er_farm_water_object = {
    .name = "the water",
    .about = "what the crop needs and when water may run",
    .base = &er_water_object,
    ER_KEYS(farm_water_keys),
    .entry_size = sizeof(struct er_farm_water_entry),
    .kept_size = sizeof(struct er_farm_water_entry),
};

static void forget_kc(struct er_water_entry *entry)
{
    entry->kc = (double)NAN;
    entry->crop = NULL;
    entry->stage = -1;
}

/* What of the farm's need still counts for a zone that gives its own, in whatever form. */
static struct er_water_entry without_replaced(const struct er_place *place,
                                              const struct er_water_entry *from)
{
    struct er_water_entry rest = *from;
    const bool whole = er_place_has(place, "need") || er_place_has(place, "need_per_length");
    const bool kc = er_place_has(place, "kc");
    const bool crop = er_place_has(place, "crop") || er_place_has(place, "stage");
    if (whole || kc || crop || er_place_has(place, "eto")) {
        rest.need = (double)NAN;
        rest.need_per_length = (double)NAN;
    }
    if (whole) {
        rest.eto = (double)NAN;
    }
    if (whole || kc) {
        forget_kc(&rest);
    } else if (crop) {
        rest.kc = (double)NAN;
    }
    return rest;
}

void er_water_inherit(const struct er_place *place, struct er_water_entry *entry,
                      const struct er_water_entry *from)
{
    const struct er_water_entry rest = without_replaced(place, from);
    er_object_inherit(&er_water_object, place, entry, &rest);
}

/* Whether the key is given for the zone or for the whole farm. What is given but is not in
 * `entry` was wrong, and that has been told. */
static bool is_given(const struct er_place *place, const char *key)
{
    const struct er_place *root = place;
    while (root->parent != NULL) {
        root = root->parent;
    }
    const struct er_place farm = er_place_key(root, "water");
    return er_place_has(place, key) || er_place_has(&farm, key);
}

static void tell_missing(struct er_reader *reader, const struct er_place *place, const char *zone,
                         const char *key, const char *say)
{
    if (is_given(place, key)) {
        return;
    }
    const struct er_place at = er_place_key(place, key);
    if (zone == NULL) {
        er_reader_problem(reader, &at, ER_AT_VALUE, "%s", say);
    } else {
        er_reader_problem(reader, &at, ER_AT_VALUE, "%s (zone %s)", say,
                          er_reader_quote(reader, zone));
    }
}

/* The crop coefficient, given or that of `crop`; NAN with a problem taken down. */
static double find_kc(struct er_reader *reader, const struct er_place *place, const char *zone,
                      const struct er_water_entry *entry, const struct er_crop *crop)
{
    if (er_given(entry->kc)) {
        return entry->kc;
    }
    if (entry->crop == NULL) {
        const char *say = entry->stage < 0 ? "\"eto\" needs \"kc\", or \"crop\" and \"stage\""
                                           : "\"stage\" needs \"crop\"";
        if (!is_given(place, "kc")) {
            tell_missing(reader, place, zone, "crop", say);
        }
        return (double)NAN;
    }
    if (entry->stage < 0) {
        tell_missing(reader, place, zone, "stage",
                     "\"crop\" needs \"stage\": \"initial\", \"mid\" or \"end\"");
    }
    if (crop == NULL || entry->stage < 0) {
        return (double)NAN;
    }
    const double coefficients[] = {crop->kc_initial, crop->kc_mid, crop->kc_end};
    return coefficients[entry->stage];
}

static void complete_need(struct er_reader *reader, const struct er_place *place, const char *zone,
                          struct er_water_entry *entry, const struct er_crop *crop)
{
    struct er_water *water = &entry->water;
    /* A crop alone may stand there for the season. */
    const bool has_kc =
        er_given(entry->kc) || entry->stage >= 0 || (entry->crop != NULL && water->season == NULL);
    if (er_given(entry->need)) {
        water->need_kind = ER_NEED_DEPTH;
        water->need = entry->need;
    } else if (er_given(entry->need_per_length)) {
        water->need_kind = ER_NEED_PER_LENGTH;
        water->need = entry->need_per_length;
    } else if (er_given(entry->eto)) {
        water->need_kind = ER_NEED_DEPTH;
        water->need_from_eto = true;
        water->eto = entry->eto;
        water->kc = find_kc(reader, place, zone, entry, crop);
        water->mulch = er_mulch_effect_of(reader->field->field.mulch, entry->mulch_factor,
                                          crop == NULL ? NULL : crop->name);
        water->need = water->eto * water->kc * water->mulch.factor;
    } else if (has_kc) {
        tell_missing(reader, place, zone, "eto",
                     "a crop coefficient needs \"eto\", the reference evapotranspiration per day");
    }
}

/* The catalogue's crop that the need counts with, or the season; NULL: none, or not known. */
static const struct er_crop *find_crop(struct er_reader *reader, const struct er_place *place,
                                       const struct er_water_entry *entry)
{
    const bool counts = entry->water.season != NULL || er_given(entry->eto);
    if (entry->crop == NULL || er_given(entry->kc) || !counts) {
        return NULL;
    }
    const struct er_place at = er_place_key(place, "crop");
    return er_reader_crop(reader, &at, entry->crop);
}

/* The roots of the crop that grows there, where the file does not give its own. */
static void complete_roots(struct er_reader *reader, const struct er_place *place,
                           struct er_water *water, const struct er_crop *crop)
{
    water->roots_of = crop == NULL ? NULL : er_reader_text(reader, crop->name);
    if (crop != NULL && !is_given(place, "root_depth")) {
        water->root_depth = crop->root_depth_min;
    }
    if (crop != NULL && !is_given(place, "allowed_depletion")) {
        water->allowed_depletion = crop->depletion;
    }
}

void er_water_complete(struct er_reader *reader, const struct er_place *place, const char *zone,
                       struct er_water_entry *entry)
{
    struct er_water *water = &entry->water;
    const struct er_crop *crop = find_crop(reader, place, entry);
    water->need_kind = ER_NEED_NONE;
    water->need = (double)NAN;
    water->need_from_eto = false;
    water->area_is_bed = entry->area == 1;
    complete_need(reader, place, zone, entry, crop);
    const struct er_crop *grown = er_season_complete(reader, place, zone, entry, crop);
    if (water->soil != NULL) {
        complete_roots(reader, place, water, crop != NULL ? crop : grown);
    }
}
