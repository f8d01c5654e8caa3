/* Reference evapotranspiration, its steps, and crops through the season. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "evenrow/season.h"
#include "published.h"

static double air(const struct published_row *row, const char *figure)
{
    double pressure = er_air_pressure(row_number(row, "altitude_m"));
    return strcmp(figure, "constant") == 0 ? er_psychrometric_constant(pressure) : pressure;
}

static double saturation(const struct published_row *row, const char *figure)
{
    (void)figure;
    return er_day_saturation_pressure(row_number(row, "t_max"), row_number(row, "t_min"));
}

static double vapour(const struct published_row *row, const char *figure)
{
    double highest = row_number(row, "t_max");
    double lowest = row_number(row, "t_min");
    double most = row_number(row, "rh_max") / 100.0;
    double least = row_number(row, "rh_min") / 100.0;
    if (strcmp(figure, "of_extremes") == 0) {
        return er_vapour_of_extremes(highest, lowest, most, least);
    }
    return er_vapour_of_mean_humidity(highest, lowest, 0.5 * (most + least));
}

static double sun(const struct published_row *row, const char *figure)
{
    int day = (int)row_number(row, "day");
    if (strcmp(figure, "distance") == 0) {
        return er_sun_distance(day);
    }
    if (strcmp(figure, "declination") == 0) {
        return er_sun_declination(day);
    }
    return er_sunset_angle(row_number(row, "latitude"), day);
}

static double radiation_and_daylight(const struct published_row *row, const char *figure)
{
    double latitude = row_number(row, "latitude");
    int day = (int)row_number(row, "day");
    return strcmp(figure, "daylight") == 0 ? er_daylight_hours(latitude, day)
                                           : er_extraterrestrial_radiation(latitude, day);
}

static double of_sunshine(const struct published_row *row, const char *figure)
{
    (void)figure;
    return er_radiation_of_sunshine(row_number(row, "sunshine"), row_number(row, "daylight"),
                                    row_number(row, "extraterrestrial"));
}

static double longwave(const struct published_row *row, const char *figure)
{
    (void)figure;
    return er_net_longwave(row_number(row, "t_max"), row_number(row, "t_min"),
                           row_number(row, "ea"), row_number(row, "radiation"),
                           row_number(row, "clear_sky"));
}

static double wind(const struct published_row *row, const char *figure)
{
    (void)figure;
    return er_wind_at_two_metres(row_number(row, "wind"), row_number(row, "height"));
}

static double of_temperatures(const struct published_row *row, const char *figure)
{
    (void)figure;
    return er_radiation_of_temperatures(0.16, row_number(row, "t_max"), row_number(row, "t_min"),
                                        row_number(row, "extraterrestrial"));
}

static double from_figures(const struct published_row *row, const char *figure)
{
    const struct er_air with = {.temperature = row_number(row, "temperature"),
                                .wind = row_number(row, "wind"),
                                .saturation_pressure = row_number(row, "es"),
                                .vapour_pressure = row_number(row, "ea"),
                                .slope = row_number(row, "slope"),
                                .psychrometric = row_number(row, "constant"),
                                .net_radiation = row_number(row, "net_radiation"),
                                .soil_heat = row_number(row, "soil_heat")};
    (void)figure;
    return er_penman_monteith(&with);
}

static double net_radiation(const struct published_row *row, int day)
{
    double latitude = row_number(row, "latitude");
    double above = er_extraterrestrial_radiation(latitude, day);
    double radiation = er_radiation_of_sunshine(row_number(row, "sunshine"),
                                                er_daylight_hours(latitude, day), above);
    return er_net_shortwave(radiation) -
           er_net_longwave(row_number(row, "t_max"), row_number(row, "t_min"),
                           row_number(row, "ea"), radiation,
                           er_clear_sky_radiation(row_number(row, "altitude_m"), above));
}

static double steps(const struct published_row *row, const char *figure)
{
    double mean = 0.5 * (row_number(row, "t_max") + row_number(row, "t_min"));
    const struct er_air with = {
        .temperature = mean,
        .wind = row_number(row, "wind"),
        .saturation_pressure =
            er_day_saturation_pressure(row_number(row, "t_max"), row_number(row, "t_min")),
        .vapour_pressure = row_number(row, "ea"),
        .slope = er_saturation_slope(mean),
        .psychrometric = er_psychrometric_constant(er_air_pressure(row_number(row, "altitude_m"))),
        .net_radiation = net_radiation(row, (int)row_number(row, "day")),
        .soil_heat = row_number(row, "soil_heat")};
    if (strcmp(figure, "es") == 0) {
        return with.saturation_pressure;
    }
    if (strcmp(figure, "slope") == 0) {
        return with.slope;
    }
    if (strcmp(figure, "constant") == 0) {
        return with.psychrometric;
    }
    return strcmp(figure, "net_radiation") == 0 ? with.net_radiation : er_penman_monteith(&with);
}

/* mm/day of a record of the 15th of July. */
static double of_record(const struct published_row *row, double speed, enum er_eto_method method)
{
    struct er_weather_record record = {.days = 1,
                                       .t_max = row_number(row, "t_max"),
                                       .t_min = row_number(row, "t_min"),
                                       .humidity_max = ER_NONE,
                                       .humidity_min = ER_NONE,
                                       .humidity = ER_NONE,
                                       .dew_point = ER_NONE,
                                       .wind = speed,
                                       .radiation = ER_NONE,
                                       .sunshine = ER_NONE,
                                       .rain = ER_NONE};
    const struct er_weather weather = {.latitude = row_number(row, "latitude"),
                                       .altitude = row_number(row, "altitude_m"),
                                       .wind_height = 2.0,
                                       .record_count = 1,
                                       .records = &record};
    assert_true(er_date_make(2025, 7, 15, &record.date));
    struct er_reference reference = er_weather_reference(&weather, &record);
    assert_int_equal(reference.method, method);
    return 1000.0 * reference.eto;
}

static double with_wind(const struct published_row *row, const char *figure)
{
    (void)figure;
    return of_record(row, row_number(row, "wind"), ER_ETO_PENMAN_MONTEITH);
}

static double by_temperatures(const struct published_row *row, const char *figure)
{
    (void)figure;
    return of_record(row, ER_NONE, ER_ETO_HARGREAVES);
}

static struct er_season season_of(const struct published_row *row)
{
    return (struct er_season){.stage_days = {row_number(row, "initial"),
                                             row_number(row, "development"), row_number(row, "mid"),
                                             row_number(row, "late")}};
}

static double length(const struct published_row *row, const char *figure)
{
    struct er_season season = season_of(row);
    (void)figure;
    return (double)er_season_days(&season);
}

static double coefficient(const struct published_row *row, const char *figure)
{
    struct er_season season = season_of(row);
    (void)figure;
    season.kc[0] = row_number(row, "kc_initial");
    season.kc[1] = row_number(row, "kc_mid");
    season.kc[2] = row_number(row, "kc_end");
    return er_crop_coefficient(&season, (long)row_number(row, "day"));
}

static double under_plastic(const struct published_row *row, const char *figure)
{
    const struct er_mulch mulch = {.kind = ER_MULCH_PLASTIC, .factor = ER_NONE};
    (void)figure;
    return 100.0 * (1.0 - er_mulch_effect_of(&mulch, ER_NONE, row_text(row, "crop")).factor);
}

int main(void)
{
    static const struct published_group groups[] = {
        {"air pressure and psychrometric constant", 2, air},
        {"mean saturation vapour pressure", 1, saturation},
        {"vapour pressure from humidity", 2, vapour},
        {"sun at 20 degrees south on 3 September", 3, sun},
        {"radiation and daylight on that day", 2, radiation_and_daylight},
        {"solar radiation from sunshine", 1, of_sunshine},
        {"net long-wave radiation", 1, longwave},
        {"wind at 2 m", 1, wind},
        {"solar radiation from temperatures", 1, of_temperatures},
        {"Bangkok in April, from the figures before", 1, from_figures},
        {"Bangkok in April, steps", 5, steps},
        {"Lyon in July, wind known", 1, with_wind},
        {"Lyon in July, by Hargreaves", 1, by_temperatures},
        {"length of the season", 30, length},
        {"crop coefficient between the stages", 4, coefficient},
        {"less use under plastic", 7, under_plastic},
    };
    return published_main("evapotranspiration.json", groups, sizeof groups / sizeof *groups);
}
