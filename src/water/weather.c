/* From what was measured of the weather to reference evapotranspiration. */
#include <math.h>
#include <stddef.h>

#include "evenrow/date.h"
#include "evenrow/evapotranspiration.h"

#define USUAL_WIND 2.0         /* m/s at 2 m, where none was measured: FAO-56, chapter 3 */
#define INLAND_ADJUSTMENT 0.16 /* of equation 50 */
#define COAST_ADJUSTMENT 0.19
#define MILLIMETRE 1e-3

static double vapour_pressure(const struct er_weather_record *record)
{
    if (er_given(record->dew_point)) {
        return er_saturation_pressure(record->dew_point);
    }
    if (er_given(record->humidity_max) && er_given(record->humidity_min)) {
        return er_vapour_of_extremes(record->t_max, record->t_min, record->humidity_max,
                                     record->humidity_min);
    }
    if (er_given(record->humidity_max)) {
        return er_vapour_of_most_humid(record->t_min, record->humidity_max);
    }
    if (er_given(record->humidity)) {
        return er_vapour_of_mean_humidity(record->t_max, record->t_min, record->humidity);
    }
    return er_saturation_pressure(record->t_min);
}

static double solar_radiation(const struct er_weather *weather,
                              const struct er_weather_record *record, int day_of_year)
{
    double extraterrestrial = er_extraterrestrial_radiation(weather->latitude, day_of_year);
    if (er_given(record->radiation)) {
        return record->radiation;
    }
    if (er_given(record->sunshine)) {
        return er_radiation_of_sunshine(record->sunshine / 3600.0,
                                        er_daylight_hours(weather->latitude, day_of_year),
                                        extraterrestrial);
    }
    double adjustment = weather->is_coastal ? COAST_ADJUSTMENT : INLAND_ADJUSTMENT;
    double radiation =
        er_radiation_of_temperatures(adjustment, record->t_max, record->t_min, extraterrestrial);
    return fmin(radiation, er_clear_sky_radiation(weather->altitude, extraterrestrial));
}

static int middle_day(const struct er_weather_record *record)
{
    return er_day_of_year(record->date + ((long)record->days - 1) / 2);
}

double er_weather_extraterrestrial(const struct er_weather *weather,
                                   const struct er_weather_record *record)
{
    return er_extraterrestrial_radiation(weather->latitude, middle_day(record));
}

struct er_air er_weather_air(const struct er_weather *weather,
                             const struct er_weather_record *record)
{
    double clear_sky =
        er_clear_sky_radiation(weather->altitude, er_weather_extraterrestrial(weather, record));
    double radiation = solar_radiation(weather, record, middle_day(record));
    double mean = 0.5 * (record->t_max + record->t_min);
    struct er_air air = {
        .temperature = mean,
        .wind = er_given(record->wind) ? er_wind_at_two_metres(record->wind, weather->wind_height)
                                       : USUAL_WIND,
        .saturation_pressure = er_day_saturation_pressure(record->t_max, record->t_min),
        .vapour_pressure = vapour_pressure(record),
        .slope = er_saturation_slope(mean),
        .psychrometric = er_psychrometric_constant(er_air_pressure(weather->altitude)),
    };
    air.net_radiation =
        er_net_shortwave(radiation) -
        er_net_longwave(record->t_max, record->t_min, air.vapour_pressure, radiation, clear_sky);
    return air;
}

struct er_reference er_weather_reference(const struct er_weather *weather,
                                         const struct er_weather_record *record)
{
    struct er_reference reference = {
        .no_humidity = !er_given(record->dew_point) && !er_given(record->humidity_max) &&
                       !er_given(record->humidity),
        .no_wind = !er_given(record->wind),
        .no_radiation = !er_given(record->radiation) && !er_given(record->sunshine),
    };
    double eto;
    if (reference.no_humidity && reference.no_wind && reference.no_radiation) {
        reference.method = ER_ETO_HARGREAVES;
        eto = er_hargreaves(record->t_max, record->t_min,
                            er_weather_extraterrestrial(weather, record));
    } else {
        reference.method = ER_ETO_PENMAN_MONTEITH;
        struct er_air air = er_weather_air(weather, record);
        eto = er_penman_monteith(&air);
    }
    reference.eto = MILLIMETRE * fmax(0.0, eto);
    return reference;
}

const struct er_weather_record *er_weather_on(const struct er_weather *weather, long date)
{
    size_t low = 0;
    size_t high = weather == NULL ? 0 : weather->record_count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        const struct er_weather_record *record = &weather->records[middle];
        if (date < record->date) {
            high = middle;
        } else if (date >= record->date + (long)record->days) {
            low = middle + 1;
        } else {
            return record;
        }
    }
    return NULL;
}
