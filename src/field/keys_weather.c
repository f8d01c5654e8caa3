/* What was measured of the weather. */
#include "field/entries.h"
#include "field/writer.h"

#define WIND_HEIGHT 2.0 /* m, of instruments in a field: FAO-56, chapter 3 */

static const char *const sites[] = {"inland", "coast", NULL};

#define IN_RECORD(member) offsetof(struct er_weather_record, member)
#define ANY_TEMPERATURE                                                                            \
    {                                                                                              \
        -90.0, 70.0, false, false                                                                  \
    }
#define ANY_SHARE                                                                                  \
    {                                                                                              \
        0.0, 100.0, false, false                                                                   \
    }

static const struct er_key record_keys[] = {
    {.name = "date",
     .about = "the day, or the first of those that the record stands for",
     .kind = ER_KEY_DATE,
     .presence = ER_REQUIRED,
     .offset = IN_RECORD(date)},
    {.name = "days",
     .about = "how many days the record stands for: 7 for a week",
     .kind = ER_KEY_COUNT,
     .presence = ER_DEFAULTED,
     .range = {1.0, 31.0, false, false},
     .fallback = {1.0, 1.0},
     .offset = IN_RECORD(days)},
    {.name = "t_max",
     .about = "highest temperature of the day, on average of the days",
     .kind = ER_KEY_QUANTITY,
     .presence = ER_REQUIRED,
     .quantity = ER_TEMPERATURE,
     .range = ANY_TEMPERATURE,
     .offset = IN_RECORD(t_max)},
    {.name = "t_min",
     .about = "lowest temperature of the day, on average of the days",
     .kind = ER_KEY_QUANTITY,
     .presence = ER_REQUIRED,
     .quantity = ER_TEMPERATURE,
     .range = ANY_TEMPERATURE,
     .offset = IN_RECORD(t_min)},
    {.name = "humidity_max",
     .about = "highest relative humidity of the day, percent",
     .kind = ER_KEY_PERCENT,
     .range = ANY_SHARE,
     .offset = IN_RECORD(humidity_max)},
    {.name = "humidity_min",
     .about = "lowest relative humidity of the day, percent",
     .kind = ER_KEY_PERCENT,
     .range = ANY_SHARE,
     .offset = IN_RECORD(humidity_min)},
    {.name = "humidity",
     .about = "mean relative humidity of the day, percent",
     .kind = ER_KEY_PERCENT,
     .range = ANY_SHARE,
     .offset = IN_RECORD(humidity)},
    {.name = "dew_point",
     .about = "dew point",
     .kind = ER_KEY_QUANTITY,
     .quantity = ER_TEMPERATURE,
     .range = ANY_TEMPERATURE,
     .offset = IN_RECORD(dew_point)},
    {.name = "wind",
     .about = "wind speed at the weather's wind_height, the day's mean",
     .kind = ER_KEY_QUANTITY,
     .quantity = ER_WIND,
     .range = {0.0, 100.0, false, false},
     .offset = IN_RECORD(wind)},
    {.name = "radiation",
     .about = "solar radiation of a day",
     .kind = ER_KEY_QUANTITY,
     .quantity = ER_RADIATION,
     .range = {0.0, 60.0, false, false},
     .offset = IN_RECORD(radiation)},
    {.name = "sunshine",
     .about = "hours of bright sunshine of a day",
     .kind = ER_KEY_QUANTITY,
     .quantity = ER_TIME,
     .range = {0.0, ER_DAY, false, false},
     .offset = IN_RECORD(sunshine)},
    {.name = "rain",
     .about = "rain on all days of the record together",
     .kind = ER_KEY_QUANTITY,
     .quantity = ER_DEPTH,
     .range = ER_FROM_ZERO,
     .offset = IN_RECORD(rain)},
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
                          er_figure(reader, ER_TEMPERATURE, record->t_min),
                          er_figure(reader, ER_TEMPERATURE, record->t_max));
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
    {.name = "latitude",
     .about = "degrees, north positive, south negative",
     .kind = ER_KEY_NUMBER,
     .presence = ER_REQUIRED,
     .range = {-90.0, 90.0, false, false},
     .offset = IN_WEATHER(latitude)},
    {.name = "altitude",
     .about = "height above the sea",
     .kind = ER_KEY_QUANTITY,
     .presence = ER_REQUIRED,
     .quantity = ER_LENGTH,
     .range = {-500.0, 9000.0, false, false},
     .offset = IN_WEATHER(altitude)},
    {.name = "wind_height",
     .about = "height above the ground at which wind was measured; without it 2 m",
     .kind = ER_KEY_QUANTITY,
     .quantity = ER_LENGTH,
     .range = {0.5, 200.0, false, false},
     .offset = IN_WEATHER(wind_height)},
    {.name = "site",
     .about =
         "\"inland\", or on the \"coast\" of a large water; matters where neither radiation nor "
         "sunshine was measured",
     .kind = ER_KEY_CHOICE,
     .presence = ER_DEFAULTED,
     .words = sites,
     .offset = offsetof(struct er_weather_entry, site)},
    {.name = "records",
     .about = "what was measured, in the order of the calendar",
     .kind = ER_KEY_LIST,
     .presence = ER_REQUIRED,
     .object = &record_object,
     .least = 1,
     .offset = IN_WEATHER(records),
     .second_offset = IN_WEATHER(record_count)},
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
