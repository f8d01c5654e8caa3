/* The formulas of FAO-56 as they are printed, one function each. */
#include "evenrow/evapotranspiration.h"

#include <math.h>

/* As the equations print them that evenrow/evapotranspiration.h names; but for DARK_RATIO, which is
 * our own choice. */
#define PI 3.14159265358979323846
#define SOLAR_CONSTANT 0.0820     /* MJ/m2 a minute */
#define STEFAN_BOLTZMANN 4.903e-9 /* MJ/m2 K4 a day */
#define FREEZING 273.16           /* K, as FAO-56 has it */
#define ALBEDO 0.23
#define MM_OF_RADIATION 0.408 /* mm that 1 MJ/m2 evaporates */
#define DARK_RATIO 0.7        /* of solar to clear-sky radiation where there is none */

double er_air_pressure(double altitude)
{
    return 101.3 * pow((293.0 - 0.0065 * altitude) / 293.0, 5.26);
}

double er_psychrometric_constant(double air_pressure) { return 0.665e-3 * air_pressure; }

double er_saturation_pressure(double temperature)
{
    return 0.6108 * exp(17.27 * temperature / (temperature + 237.3));
}

double er_day_saturation_pressure(double highest, double lowest)
{
    return 0.5 * (er_saturation_pressure(highest) + er_saturation_pressure(lowest));
}

double er_saturation_slope(double temperature)
{
    double above = temperature + 237.3;
    return 4098.0 * er_saturation_pressure(temperature) / (above * above);
}

double er_vapour_of_extremes(double highest, double lowest, double most_humid, double least_humid)
{
    return 0.5 * (er_saturation_pressure(lowest) * most_humid +
                  er_saturation_pressure(highest) * least_humid);
}

double er_vapour_of_most_humid(double lowest, double most_humid)
{
    return er_saturation_pressure(lowest) * most_humid;
}

double er_vapour_of_mean_humidity(double highest, double lowest, double humidity)
{
    return humidity * er_day_saturation_pressure(highest, lowest);
}

static double year_angle(int day_of_year) { return 2.0 * PI / 365.0 * day_of_year; }

double er_sun_distance(int day_of_year) { return 1.0 + 0.033 * cos(year_angle(day_of_year)); }

double er_sun_declination(int day_of_year) { return 0.409 * sin(year_angle(day_of_year) - 1.39); }

static double radians(double degrees) { return degrees * PI / 180.0; }

double er_sunset_angle(double latitude, int day_of_year)
{
    double cosine = -tan(radians(latitude)) * tan(er_sun_declination(day_of_year));
    return acos(fmax(-1.0, fmin(1.0, cosine)));
}

double er_extraterrestrial_radiation(double latitude, int day_of_year)
{
    double angle = er_sunset_angle(latitude, day_of_year);
    double place = radians(latitude);
    double declination = er_sun_declination(day_of_year);
    return 24.0 * 60.0 / PI * SOLAR_CONSTANT * er_sun_distance(day_of_year) *
           (angle * sin(place) * sin(declination) + cos(place) * cos(declination) * sin(angle));
}

double er_daylight_hours(double latitude, int day_of_year)
{
    return 24.0 / PI * er_sunset_angle(latitude, day_of_year);
}

double er_radiation_of_sunshine(double sunshine, double daylight, double extraterrestrial)
{
    double share = daylight > 0.0 ? fmin(1.0, sunshine / daylight) : 0.0;
    return (0.25 + 0.50 * share) * extraterrestrial;
}

double er_clear_sky_radiation(double altitude, double extraterrestrial)
{
    return (0.75 + 2e-5 * altitude) * extraterrestrial;
}

double er_net_shortwave(double radiation) { return (1.0 - ALBEDO) * radiation; }

double er_net_longwave(double highest, double lowest, double vapour_pressure, double radiation,
                       double clear_sky)
{
    double emitted =
        STEFAN_BOLTZMANN * 0.5 * (pow(highest + FREEZING, 4.0) + pow(lowest + FREEZING, 4.0));
    double ratio = clear_sky > 0.0 ? fmin(1.0, radiation / clear_sky) : DARK_RATIO;
    return emitted * (0.34 - 0.14 * sqrt(vapour_pressure)) * (1.35 * ratio - 0.35);
}

double er_wind_at_two_metres(double wind, double height)
{
    return wind * 4.87 / log(67.8 * height - 5.42);
}

double er_radiation_of_temperatures(double adjustment, double highest, double lowest,
                                    double extraterrestrial)
{
    return adjustment * sqrt(highest - lowest) * extraterrestrial;
}

double er_penman_monteith(const struct er_air *air)
{
    double by_radiation = MM_OF_RADIATION * air->slope * (air->net_radiation - air->soil_heat);
    double by_wind = air->psychrometric * 900.0 / (air->temperature + 273.0) * air->wind *
                     (air->saturation_pressure - air->vapour_pressure);
    return (by_radiation + by_wind) / (air->slope + air->psychrometric * (1.0 + 0.34 * air->wind));
}

double er_hargreaves(double highest, double lowest, double extraterrestrial)
{
    double mean = 0.5 * (highest + lowest);
    return 0.0023 * (mean + 17.8) * sqrt(highest - lowest) * MM_OF_RADIATION * extraterrestrial;
}
