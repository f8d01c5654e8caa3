/* What was measured of the weather. */
#include "field/entries.h"
#include "field/writer.h"

#define WIND_HEIGHT 2.0 /* m, of instruments in a field: FAO-56, chapter 3 */

static const char *const sites[] = {"inland", "coast", NULL};

#define IN_RECORD(member) offsetof(struct er_weather_record, member)
#define ANY_TEMPERATURE ER_FROM_TO(-90.0, 70.0)
#define ANY_SHARE ER_FROM_TO(0.0, 100.0)

static const struct er_key record_keys[] = {
    ER_DATE_KEY("date", IN_RECORD(date),
                "the day, or the first of those that the record stands for",
                .presence = ER_REQUIRED),
    ER_COUNT_KEY("days", IN_RECORD(days), ER_FROM_TO(1.0, 31.0),
                 "how many days the record stands for: 7 for a week", ER_DEFAULT(1.0, 1.0)),
    ER_QUANTITY_KEY("t_max", IN_RECORD(t_max), ER_TEMPERATURE, ANY_TEMPERATURE,
                    "highest temperature of the day, on average of the days",
                    .presence = ER_REQUIRED),
    ER_QUANTITY_KEY("t_min", IN_RECORD(t_min), ER_TEMPERATURE, ANY_TEMPERATURE,
                    "lowest temperature of the day, on average of the days",
                    .presence = ER_REQUIRED),
    ER_PERCENT_KEY("humidity_max", IN_RECORD(humidity_max), ANY_SHARE,
                   "highest relative humidity of the day, percent"),
    ER_PERCENT_KEY("humidity_min", IN_RECORD(humidity_min), ANY_SHARE,
                   "lowest relative humidity of the day, percent"),
    ER_PERCENT_KEY("humidity", IN_RECORD(humidity), ANY_SHARE,
                   "mean relative humidity of the day, percent"),
    ER_QUANTITY_KEY("dew_point", IN_RECORD(dew_point), ER_TEMPERATURE, ANY_TEMPERATURE,
                    "dew point"),
    ER_QUANTITY_KEY("wind", IN_RECORD(wind), ER_WIND, ER_FROM_TO(0.0, 100.0),
                    "wind speed at the weather's wind_height, the day's mean"),
    ER_QUANTITY_KEY("radiation", IN_RECORD(radiation), ER_RADIATION, ER_FROM_TO(0.0, 60.0),
                    "solar radiation of a day"),
    ER_QUANTITY_KEY("sunshine", IN_RECORD(sunshine), ER_TIME, ER_FROM_TO(0.0, ER_DAY),
                    "hours of bright sunshine of a day"),
    ER_QUANTITY_KEY("rain", IN_RECORD(rain), ER_DEPTH, ER_FROM_ZERO,
                    "rain on all days of the record together"),
};

static const struct er_rule record_rules[] = {
    {.kind = ER_AT_MOST_ONE,
     .keys = {"dew_point", "humidity", "humidity_max"},
     .why = "humidity is given in one form"},
    {.kind = ER_NEEDS, .keys = {"humidity_min", "humidity_max"}},
    {.kind = ER_AT_MOST_ONE, .keys = {"radiation", "sunshine"}},
};

static void finish_record(struct er_reader *reader, const struct er_place *place, void *entry,
                          const void *kept)
{
    (void)kept;
    const struct er_weather_record *record = entry;
    if (record->t_min > record->t_max && reader->system_known) {
        const struct er_place at = er_place_key(place, "t_min");
        er_reader_problem(reader, &at, ER_AT_VALUE, "t_min is above t_max: %s over %s",
                          er_reader_figure(reader, ER_TEMPERATURE, record->t_min),
                          er_reader_figure(reader, ER_TEMPERATURE, record->t_max));
    }
    if (record->humidity_min > record->humidity_max) {
        const struct er_place at = er_place_key(place, "humidity_min");
        er_reader_problem(reader, &at, ER_AT_VALUE, "humidity_min is above humidity_max");
    }
}

static const struct er_stray_key record_stray[] = {
    {"eto", "monthly figures of it belong in \"water\" under \"season\""},
    {NULL, NULL},
};

static const struct er_object record_object = {
    .name = "a weather record",
    .about = "the weather of one day, or of a few on end",
    ER_KEYS(record_keys),
    ER_RULES(record_rules),
    .stray = record_stray,
    .entry_size = sizeof(struct er_weather_record),
    .kept_size = sizeof(struct er_weather_record),
    .finish = finish_record,
};

#define IN_WEATHER(member) offsetof(struct er_weather_entry, weather.member)

static const struct er_key weather_keys[] = {
    ER_NUMBER_KEY("latitude", IN_WEATHER(latitude), ER_FROM_TO(-90.0, 90.0),
                  "degrees, north positive, south negative", .presence = ER_REQUIRED),
    ER_QUANTITY_KEY("altitude", IN_WEATHER(altitude), ER_LENGTH, ER_FROM_TO(-500.0, 9000.0),
                    "height above the sea", .presence = ER_REQUIRED),
    ER_QUANTITY_KEY("wind_height", IN_WEATHER(wind_height), ER_LENGTH, ER_FROM_TO(0.5, 200.0),
                    "height above the ground at which wind was measured; without it 2 m"),
    ER_CHOICE_KEY("site", offsetof(struct er_weather_entry, site), sites,
                  "\"inland\", or on the \"coast\" of a large water; matters where neither "
                  "radiation nor sunshine was measured",
                  .presence = ER_DEFAULTED),
    ER_LIST_KEY("records", IN_WEATHER(records), IN_WEATHER(record_count), &record_object,
                "what was measured, in the order of the calendar", .presence = ER_REQUIRED,
                .least = 1),
};

static void check_after(struct er_reader *reader, const struct er_place *place,
                        const struct er_weather_record *before, long date)
{
    const long last = before->date == ER_NO_DATE ? date - 1 : before->date + (long)before->days - 1;
    if (date <= last) {
        const struct er_place at = er_place_key(place, "date");
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "the record before goes on to %s: records stand in the order of the "
                          "calendar, no day in two of them",
                          er_date_figure(reader, last));
    }
}

/* Each record begins after the days of the one before. */
static void check_order(struct er_reader *reader, const struct er_place *place,
                        const struct er_weather *weather)
{
    const struct er_place records = er_place_key(place, "records");
    if ((size_t)cJSON_GetArraySize(records.node) != weather->record_count) {
        return; /* some item is no record, and that has been told */
    }
    struct er_place at = {.parent = &records};
    const cJSON *item = NULL;
    cJSON_ArrayForEach(item, records.node)
    {
        const struct er_weather_record *record = &weather->records[at.index];
        at.node = item;
        if (at.index > 0 && record->date != ER_NO_DATE) {
            check_after(reader, &at, record - 1, record->date);
        }
        at.index++;
    }
}

static void finish_weather(struct er_reader *reader, const struct er_place *place, void *entry,
                           const void *kept)
{
    (void)kept;
    struct er_weather_entry *weather_entry = entry;
    struct er_weather *weather = &weather_entry->weather;
    weather->is_coastal = weather_entry->site == 1;
    if (!er_given(weather->wind_height)) {
        weather->wind_height = WIND_HEIGHT;
    }
    check_order(reader, place, weather);
}

static void unfinish_weather(struct er_writer *writer, void *entry, size_t index)
{
    (void)writer;
    (void)index;
    struct er_weather_entry *weather_entry = entry;
    struct er_weather *weather = &weather_entry->weather;
    weather_entry->site = weather->is_coastal;
    if (weather->wind_height >= WIND_HEIGHT && weather->wind_height <= WIND_HEIGHT) {
        weather->wind_height = ER_NONE;
    }
}

const struct er_object er_weather_object = {
    .name = "the weather",
    .about = "what was measured of the weather; for the days that it covers it counts before the "
             "season's monthly figures",
    ER_KEYS(weather_keys),
    .entry_size = sizeof(struct er_weather_entry),
    .kept_size = sizeof(struct er_weather),
    .finish = finish_weather,
    .unfinish = unfinish_weather,
};
