/* When the crop grows, and monthly weather: what "season" plans by. */
#include "field/entries.h"
#include "field/writer.h"

#define IN_SEASON(member) offsetof(struct er_season, member)

static const struct er_key season_keys[] = {
    ER_DATE_KEY("planting", IN_SEASON(planting), "day of planting, as \"2026-05-01\""),
    ER_TEXT_KEY("crop", IN_SEASON(crop),
                "a crop of the catalogue, for its stages and kc; without it the water's"),
    ER_FIGURES_KEY("stages", IN_SEASON(stage_days), 4, ER_QUANTITY_COUNT, ER_FROM_TO(0.0, 400.0),
                   "days of the initial, development, mid-season and late stage; without it the "
                   "crop's"),
    ER_FIGURES_KEY("kc", IN_SEASON(kc), 3, ER_QUANTITY_COUNT, ER_FROM_ZERO,
                   "crop coefficient in the initial stage, in mid-season and at the end; without "
                   "it the crop's"),
    ER_FIGURES_KEY("eto", IN_SEASON(eto), ER_MONTHS, ER_DEPTH_PER_DAY, ER_FROM_ZERO,
                   "reference evapotranspiration per day, the means of January to December"),
    ER_FIGURES_KEY("rain", IN_SEASON(rain), ER_MONTHS, ER_DEPTH, ER_FROM_ZERO,
                   "rain in all of each month, January to December"),
};

static const struct er_stray_key season_stray[] = {
    {"mulch_factor", "it belongs in \"water\", beside \"season\""},
    {"days", "write \"stages\", four lengths in days"},
    {NULL, NULL},
};

static void finish_season(struct er_reader *reader, const struct er_place *place, void *entry,
                          const void *kept)
{
    (void)kept;
    const struct er_season *season = entry;
    const struct er_place at = er_place_key(place, "stages");
    double sum = 0.0;
    for (size_t i = 0; i < 4; i++) {
        sum += season->stage_days[i];
        if (season->stage_days[i] > floor(season->stage_days[i])) {
            er_reader_problem(reader, &at, ER_AT_VALUE, "expected whole days, found %g",
                              season->stage_days[i]);
            return;
        }
    }
    if (sum <= 0.0) {
        er_reader_problem(reader, &at, ER_AT_VALUE, "a season has one day at least");
    }
}

const struct er_object er_season_object = {
    .name = "a season",
    .about = "when the crop grows, and the weather that is usual there",
    ER_KEYS(season_keys),
    .stray = season_stray,
    .entry_size = sizeof(struct er_season),
    .kept_size = sizeof(struct er_season),
    .finish = finish_season,
};

/* What completing one season goes on with. */
struct completing {
    struct er_reader *reader;
    struct er_place place; /* the season's */
    const char *zone;
    const struct er_crop *crop; /* NULL: none */
    bool crop_is_wrong;         /* it is named, and no such is known: that has been told */
};

static void tell(const struct completing *completing, const char *what, const char *why)
{
    er_reader_problem(
        completing->reader, &completing->place, ER_AT_VALUE, "%s%s%s%s%s", what, why,
        completing->zone == NULL ? "" : " (zone ",
        completing->zone == NULL ? "" : er_reader_quote(completing->reader, completing->zone),
        completing->zone == NULL ? "" : ")");
}

static void complete_stages(const struct completing *completing, struct er_season *season)
{
    if (er_given(season->stage_days[0]) || completing->crop_is_wrong) {
        return;
    }
    if (completing->crop == NULL) {
        tell(completing, "the season needs \"stages\", four lengths in days, or a \"crop\"", "");
        return;
    }
    for (size_t i = 0; i < 4; i++) {
        season->stage_days[i] = completing->crop->stage_days[i];
    }
    if (!er_given(season->stage_days[0])) {
        tell(completing, "give \"stages\", four lengths in days: the catalogue has none for ",
             completing->crop->name);
    }
}

static void complete_kc(const struct completing *completing, struct er_season *season)
{
    if (er_given(season->kc[0]) || completing->crop_is_wrong) {
        return;
    }
    if (completing->crop == NULL) {
        tell(completing, "the season needs \"kc\", three crop coefficients, or a \"crop\"", "");
        return;
    }
    season->kc[0] = completing->crop->kc_initial;
    season->kc[1] = completing->crop->kc_mid;
    season->kc[2] = completing->crop->kc_end;
}

/* Whether `key` stands in the season, be it right or wrong. */
static bool stands_there(const struct completing *completing, const char *key)
{
    return er_place_has(&completing->place, key);
}

/* Whether `key` stands in the whole file's season. */
static bool stands_in_the_farms(const struct completing *completing, const char *key)
{
    const struct er_place *root = &completing->place;
    while (root->parent != NULL) {
        root = root->parent;
    }
    const struct er_place water = er_place_key(root, "water");
    const struct er_place season = er_place_key(&water, "season");
    return er_place_has(&season, key);
}

/* A zone takes over what it does not say itself; but a crop of its own brings its own figures. */
static void take_over(const struct completing *completing, const struct er_place *water,
                      struct er_season *season)
{
    const struct er_season *farms = completing->reader->field->water.water.water.season;
    if (farms != NULL) {
        er_object_inherit(&er_season_object, &completing->place, season, farms);
    }
    if (!er_place_has(water, "crop") && !stands_there(completing, "crop")) {
        return;
    }
    if (!stands_there(completing, "crop")) {
        season->crop = NULL;
    }
    for (size_t i = 0; i < 4 && !stands_there(completing, "stages"); i++) {
        season->stage_days[i] = ER_NONE;
    }
    for (size_t i = 0; i < 3 && !stands_there(completing, "kc"); i++) {
        season->kc[i] = ER_NONE;
    }
}

/* The crop whose figures count: the season's own, else the water's. */
static void settle_crop(struct completing *completing, struct er_season *season, const char *waters,
                        const struct er_crop *crop)
{
    completing->crop = crop;
    if (season->crop != NULL) {
        const struct er_place at = er_place_key(&completing->place, "crop");
        completing->crop = er_reader_crop(completing->reader, &at, season->crop);
    } else {
        season->crop = waters;
    }
    completing->crop_is_wrong = season->crop != NULL && completing->crop == NULL;
}

const struct er_crop *er_season_complete(struct er_reader *reader, const struct er_place *place,
                                         const char *zone, struct er_water_entry *entry,
                                         const struct er_crop *crop)
{
    const struct er_season *given = entry->water.season;
    struct er_season *season =
        given == NULL ? NULL : er_reader_array(reader, 1, sizeof(struct er_season));
    if (season == NULL) {
        return NULL;
    }
    *season = *given;
    struct completing completing = {
        .reader = reader, .place = er_place_key(place, "season"), .zone = zone};
    if (zone != NULL) {
        take_over(&completing, place, season);
    }
    settle_crop(&completing, season, entry->crop, crop);
    if (season->planting == ER_NO_DATE && !stands_there(&completing, "planting") &&
        !stands_in_the_farms(&completing, "planting")) {
        tell(&completing, "the season needs \"planting\", a day such as \"2026-05-01\"", "");
    }
    if (!stands_there(&completing, "stages")) {
        complete_stages(&completing, season);
    }
    season->own_kc = er_given(season->kc[0]);
    if (!stands_there(&completing, "kc")) {
        complete_kc(&completing, season);
    }
    season->mulch_factor = entry->mulch_factor;
    entry->water.season = season;
    return completing.crop;
}
