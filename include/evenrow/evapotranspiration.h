/* Reference evapotranspiration from the weather, step by step.
 *
 * Source of every formula, by its number: Allen, Pereira, Raes and Smith, Crop evapotranspiration,
 * FAO Irrigation and Drainage Paper 56 (1998), "FAO-56". The functions that carry a number keep
 * that paper's units, so that its tables and examples can be followed: temperatures in C, vapour
 * and air pressure in kPa, radiation in MJ/m2 a day, wind in m/s, evapotranspiration in mm/day.
 * Latitudes are in degrees, north positive; days of the year count from 1.
 * No function fails; arguments out of their range give what the formula gives. */
#ifndef EVENROW_EVAPOTRANSPIRATION_H
#define EVENROW_EVAPOTRANSPIRATION_H

#include <stdbool.h>

#include "evenrow/field.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Pressure of the air (kPa) at `altitude` (m above the sea). FAO-56, equation 7. */
double er_air_pressure(double altitude);

/* Psychrometric constant (kPa/C) at an air pressure (kPa). FAO-56, equation 8. */
double er_psychrometric_constant(double air_pressure);

/* Saturation vapour pressure (kPa) at a temperature (C). FAO-56, equation 11; of the dew point
 * it is the actual vapour pressure, equation 14. */
double er_saturation_pressure(double temperature);

/* The same of a day: the mean of those at its highest and lowest temperature. Equation 12. */
double er_day_saturation_pressure(double highest, double lowest);

/* Slope of the saturation vapour pressure (kPa/C) at a temperature (C). Equation 13. */
double er_saturation_slope(double temperature);

/* Actual vapour pressure (kPa) from the highest and lowest temperature (C) and the relative
 * humidity (fractions): its highest and lowest, FAO-56, equation 17; its highest alone,
 * equation 18; its mean alone, equation 19. */
double er_vapour_of_extremes(double highest, double lowest, double most_humid, double least_humid);
double er_vapour_of_most_humid(double lowest, double most_humid);
double er_vapour_of_mean_humidity(double highest, double lowest, double humidity);

/* Inverse relative distance from earth to sun, and the sun's declination (rad). Equations 23, 24.
 */
double er_sun_distance(int day_of_year);
double er_sun_declination(int day_of_year);

/* Sunset hour angle (rad), 0 where the sun does not rise and pi where it does not set.
 * FAO-56, equation 25. */
double er_sunset_angle(double latitude, int day_of_year);

/* Extraterrestrial radiation (MJ/m2 a day). FAO-56, equation 21. */
double er_extraterrestrial_radiation(double latitude, int day_of_year);

/* Daylight hours. FAO-56, equation 34. */
double er_daylight_hours(double latitude, int day_of_year);

/* Solar radiation (MJ/m2 a day) from hours of bright sunshine out of the hours of daylight, and
 * the extraterrestrial radiation; with a = 0.25 and b = 0.50. Sunshine counts up to the hours of
 * daylight. FAO-56, equation 35. */
double er_radiation_of_sunshine(double sunshine, double daylight, double extraterrestrial);

/* Clear-sky solar radiation (MJ/m2 a day) at `altitude` (m). FAO-56, equation 37. */
double er_clear_sky_radiation(double altitude, double extraterrestrial);

/* Net short-wave radiation (MJ/m2 a day), albedo 0.23. FAO-56, equation 38. */
double er_net_shortwave(double radiation);

/* Net outgoing long-wave radiation (MJ/m2 a day) from the highest and lowest temperature (C), the
 * actual vapour pressure (kPa), solar and clear-sky radiation (MJ/m2 a day). Their ratio counts
 * up to 1; without any sun (a polar night) 0.7 stands for it, our own choice.
 * FAO-56, equation 39. */
double er_net_longwave(double highest, double lowest, double vapour_pressure, double radiation,
                       double clear_sky);

/* Wind speed at 2 m from that at `height` (m, 0.5 or more). FAO-56, equation 47. */
double er_wind_at_two_metres(double wind, double height);

/* Solar radiation (MJ/m2 a day) from the range of temperatures; `adjustment` is 0.16 inland and
 * 0.19 on a coast. No more than the clear sky's, which the caller sees to. Equation 50. */
double er_radiation_of_temperatures(double adjustment, double highest, double lowest,
                                    double extraterrestrial);

/* What the Penman-Monteith equation is fed with. */
struct er_air {
    double temperature;         /* C, mean of the highest and the lowest */
    double wind;                /* m/s at 2 m */
    double saturation_pressure; /* kPa */
    double vapour_pressure;     /* kPa */
    double slope;               /* kPa/C */
    double psychrometric;       /* kPa/C */
    double net_radiation;       /* MJ/m2 a day */
    double soil_heat;           /* MJ/m2 a day into the soil; 0 over a day or a week, equation 42 */
};

/* Reference evapotranspiration (mm/day) by Penman-Monteith. FAO-56, equation 6. */
double er_penman_monteith(const struct er_air *air);

/* The same by Hargreaves, from temperatures (C) and extraterrestrial radiation (MJ/m2 a day)
 * alone. FAO-56, equation 52. */
double er_hargreaves(double highest, double lowest, double extraterrestrial);

/* How a figure for some days was found. */
enum er_eto_method {
    ER_ETO_MONTHLY,         /* from the season's monthly means */
    ER_ETO_PENMAN_MONTEITH, /* FAO-56, equation 6 */
    ER_ETO_HARGREAVES,      /* FAO-56, equation 52: only temperatures are known */
    ER_ETO_METHODS
};

struct er_reference {
    double eto; /* m/day, never below zero */
    enum er_eto_method method;
    /* What Penman-Monteith lacked, and FAO-56's procedures for missing data put in its place. */
    bool no_humidity;  /* the dew point is taken as the lowest temperature, equation 48 */
    bool no_wind;      /* 2 m/s */
    bool no_radiation; /* from the range of temperatures, equation 50 */
};

/* What Penman-Monteith is fed with for the days of one record, and the extraterrestrial radiation
 * (MJ/m2 a day) on its middle day. Where humidity, wind or radiation were not measured,
 * FAO-56's procedures for missing data stand in. */
struct er_air er_weather_air(const struct er_weather *weather,
                             const struct er_weather_record *record);
double er_weather_extraterrestrial(const struct er_weather *weather,
                                   const struct er_weather_record *record);

/* Reference evapotranspiration of the days of one record. With nothing but temperatures it is
 * Hargreaves', else Penman-Monteith's. Sun and daylight are those of the record's middle day. */
struct er_reference er_weather_reference(const struct er_weather *weather,
                                         const struct er_weather_record *record);

/* The record that covers a day (date.h), or NULL; `weather` may be NULL. */
const struct er_weather_record *er_weather_on(const struct er_weather *weather, long date);

#ifdef __cplusplus
}
#endif

#endif
