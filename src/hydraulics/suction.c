/* Air pressure and vapor pressure as heads of water, and the lift that pumps bear in practice. */
#include "evenrow/hydraulics.h"

#include <math.h>

#define PASCAL_PER_METRE (ER_WATER_DENSITY * ER_GRAVITY)

double er_barometric_head(double altitude)
{
    return 101325.0 * pow(1.0 - 2.25577e-5 * altitude, 5.25588) / PASCAL_PER_METRE;
}

double er_vapour_head(double temperature)
{
    return 610.8 * exp(17.27 * temperature / (temperature + 237.3)) / PASCAL_PER_METRE;
}

double er_practical_suction_lift(double altitude)
{
    static const double rows[][2] = {{0.0, 22.0},    {1320.0, 21.0}, {2640.0, 20.0},
                                     {3960.0, 18.0}, {5280.0, 17.0}, {6600.0, 16.0},
                                     {7920.0, 15.0}, {10560.0, 14.0}};
    size_t last = sizeof rows / sizeof rows[0] - 1;
    double feet = altitude / ER_FOOT;
    if (feet <= rows[0][0]) {
        return rows[0][1] * ER_FOOT;
    }
    for (size_t row = 1; row <= last; row++) {
        if (feet > rows[row][0]) {
            continue;
        }
        double share = (feet - rows[row - 1][0]) / (rows[row][0] - rows[row - 1][0]);
        return (rows[row - 1][1] + share * (rows[row][1] - rows[row - 1][1])) * ER_FOOT;
    }
    return rows[last][1] * ER_FOOT;
}
