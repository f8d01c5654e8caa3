/* What a sudden stop does to PVC pipe. */
#include <math.h>

#include "evenrow/hydraulics.h"

#define BULK_MODULUS 2.2e9 /* Pa, of water at 20 C (from memory) */
#define PVC_MODULUS 2.76e9 /* Pa, 400,000 psi, of PVC at 73 F (from memory) */
#define PVC_DESIGN_STRESS                                                                          \
    13.8e6 /* Pa, 2,000 psi at 73 F, of ASTM D1785 and D2241 (from memory)                         \
            */

double er_pvc_wave_speed(double max_pressure)
{
    double rating = max_pressure * ER_WATER_DENSITY * ER_GRAVITY;
    /* The class says how thick the wall is: rating = 2 stress / (outside diameter / wall - 1). */
    double diameter_over_wall = fmax(2.0 * PVC_DESIGN_STRESS / rating - 1.0, 0.0);
    return sqrt(BULK_MODULUS / ER_WATER_DENSITY) /
           sqrt(1.0 + BULK_MODULUS / PVC_MODULUS * diameter_over_wall);
}

double er_pvc_stop_velocity(double max_pressure, double pressure)
{
    return fmax(max_pressure - pressure, 0.0) * ER_GRAVITY / er_pvc_wave_speed(max_pressure);
}
