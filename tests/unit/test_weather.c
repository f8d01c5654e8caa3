/* Weather: what is measured, what is missing, and far from the equator. */
#include "field_texts.h"

#include "evenrow/evapotranspiration.h"

static long day_of(const char *text)
{
    long date = ER_NO_DATE;
    assert_true(er_date_parse(text, &date));
    return date;
}

static struct er_weather_record bare_record(const char *date, double highest, double lowest)
{
    return (struct er_weather_record){.date = day_of(date),
                                      .days = 1,
                                      .t_max = highest,
                                      .t_min = lowest,
                                      .humidity_max = ER_NONE,
                                      .humidity_min = ER_NONE,
                                      .humidity = ER_NONE,
                                      .dew_point = ER_NONE,
                                      .wind = ER_NONE,
                                      .radiation = ER_NONE,
                                      .sunshine = ER_NONE,
                                      .rain = ER_NONE};
}

/* Where the sun does not rise, or does not set, there is still a figure. */
static void test_polar(void **state)
{
    (void)state;
    static const double latitudes[] = {90.0, 75.0, 66.6, -75.0, -90.0};
    assert_near(er_daylight_hours(75.0, 172), 24.0);
    assert_near(er_daylight_hours(75.0, 355), 0.0);
    assert_near(er_daylight_hours(-75.0, 172), 0.0);
    assert_near(er_extraterrestrial_radiation(75.0, 355), 0.0);
    for (size_t i = 0; i < sizeof latitudes / sizeof *latitudes; i++) {
        const struct er_weather weather = {.latitude = latitudes[i], .wind_height = 2.0};
        for (int season = 0; season < 2; season++) {
            struct er_weather_record record =
                bare_record(season == 0 ? "2025-06-21" : "2025-12-21", 4.0, -6.0);
            struct er_reference reference = er_weather_reference(&weather, &record);
            assert_true(isfinite(reference.eto) && reference.eto >= 0.0);
            record.sunshine = 3600.0;
            reference = er_weather_reference(&weather, &record);
            assert_true(isfinite(reference.eto) && reference.eto >= 0.0);
            assert_int_equal(reference.method, ER_ETO_PENMAN_MONTEITH);
        }
    }
}

/* Each way to tell of the same air, wind and sun gives the same; what is missing is told. */
static void test_missing_data(void **state)
{
    (void)state;
    const struct er_weather weather = {.latitude = 45.72, .altitude = 200.0, .wind_height = 10.0};
    struct er_weather_record record = bare_record("2025-07-15", 26.6, 14.8);
    record.dew_point = 14.8;
    struct er_reference dew = er_weather_reference(&weather, &record);
    assert_false(dew.no_humidity);
    assert_true(dew.no_wind && dew.no_radiation);
    record.dew_point = ER_NONE;
    record.humidity_max = 1.0;
    assert_near(er_weather_reference(&weather, &record).eto, dew.eto);
    record.humidity_min = er_saturation_pressure(14.8) / er_saturation_pressure(26.6);
    assert_near(er_weather_reference(&weather, &record).eto, dew.eto);
    record.humidity_max = record.humidity_min = ER_NONE;
    record.humidity = er_saturation_pressure(14.8) / er_day_saturation_pressure(26.6, 14.8);
    assert_near(er_weather_reference(&weather, &record).eto, dew.eto);
    record.wind = 2.0 / er_wind_at_two_metres(1.0, 10.0);
    struct er_reference windy = er_weather_reference(&weather, &record);
    assert_near(windy.eto, dew.eto);
    assert_false(windy.no_wind);
    record.radiation =
        er_radiation_of_temperatures(0.16, 26.6, 14.8, er_extraterrestrial_radiation(45.72, 196));
    struct er_reference sunny = er_weather_reference(&weather, &record);
    assert_near(sunny.eto, dew.eto);
    assert_false(sunny.no_radiation);
    /* A wide range of temperatures does not make the sky clearer than clear. */
    record = bare_record("2025-07-15", 40.0, 0.0);
    record.wind = 1.0;
    struct er_reference clear = er_weather_reference(&weather, &record);
    record.radiation = er_clear_sky_radiation(200.0, er_extraterrestrial_radiation(45.72, 196));
    assert_near(er_weather_reference(&weather, &record).eto, clear.eto);
}

/* A clear sky lets 77 percent through at 1000 m (FAO-56, equation 37, by hand). In a polar night
 * the share of the clear sky's radiation is none, and 0.7 stands for it. */
static void test_clear_sky_and_none(void **state)
{
    (void)state;
    assert_near(er_clear_sky_radiation(1000.0, 40.0), 0.77 * 40.0);
    assert_near(er_clear_sky_radiation(0.0, 40.0), 30.0);
    assert_near(er_net_longwave(-5.0, -15.0, 0.2, 0.0, 0.0),
                er_net_longwave(-5.0, -15.0, 0.2, 7.0, 10.0));
    assert_near(er_net_longwave(20.0, 10.0, 1.0, 12.0, 10.0),
                er_net_longwave(20.0, 10.0, 1.0, 10.0, 10.0));
}

/* A record may begin on the day after the one before it ends, and not on that day itself. */
static void test_order_of_records(void **state)
{
    (void)state;
    static const char good[] =
        "{\"units\": \"metric\", \"source\": {\"pressure\": 100}, \"tapes\": {\"t\": "
        "{\"emitter_flow\": 1,"
        " \"holds_from\": 1, \"emitter_spacing\": 500, \"inside_diameter\": 16}}, \"zones\": "
        "[{\"name\": \"a\","
        " \"header\": {\"pipe\": \"layflat-2in\"}, \"beds\": [{\"count\": 1, \"length\": 10, "
        "\"spacing\": 2, \"tape\": \"t\"}]}]"
        ", \"weather\": {\"latitude\": 40, \"altitude\": 100, \"records\":"
        "  [{\"date\": \"2026-07-02\", \"days\": 5, \"t_max\": 32, \"t_min\": 15},"
        "   {\"date\": \"2026-07-07\", \"t_max\": 32, \"t_min\": 15}]}}";
    struct er_field field;
    read_good(good, &field);
    assert_int_equal(field.weather->record_count, 2);
    er_field_release(&field);
    char *early = changed(good, "2026-07-07", "2026-07-06");
    struct er_problems problems;
    er_problems_init(&problems);
    assert_int_equal(read_text(early, &field, &problems), ER_BAD_INPUT);
    assert_int_equal(problems.count, 1);
    assert_string_equal(problems.kept[0].pointer, "/weather/records/1/date");
    er_problems_release(&problems);
    free(early);
}

static void test_weather_on_a_day(void **state)
{
    (void)state;
    struct er_weather_record records[] = {bare_record("2025-07-01", 20, 10),
                                          bare_record("2025-07-02", 20, 10),
                                          bare_record("2025-07-12", 20, 10)};
    const struct er_weather weather = {.record_count = 3, .records = records};
    records[1].days = 7;
    assert_null(er_weather_on(NULL, records[0].date));
    assert_null(er_weather_on(&weather, day_of("2025-06-30")));
    assert_ptr_equal(er_weather_on(&weather, day_of("2025-07-01")), &records[0]);
    assert_ptr_equal(er_weather_on(&weather, day_of("2025-07-02")), &records[1]);
    assert_ptr_equal(er_weather_on(&weather, day_of("2025-07-08")), &records[1]);
    assert_null(er_weather_on(&weather, day_of("2025-07-09")));
    assert_ptr_equal(er_weather_on(&weather, day_of("2025-07-12")), &records[2]);
    assert_null(er_weather_on(&weather, day_of("2025-07-13")));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_polar),
        cmocka_unit_test(test_missing_data),
        cmocka_unit_test(test_order_of_records),
        cmocka_unit_test(test_clear_sky_and_none),
        cmocka_unit_test(test_weather_on_a_day),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
