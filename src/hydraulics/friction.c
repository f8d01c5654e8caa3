/* The friction of water in pipes, by Hazen and Williams. */
#include "evenrow/hydraulics.h"

#include <math.h>

/* Of Hazen-Williams in SI, with its third number, ER_FRICTION_EXPONENT (evenrow/hydraulics.h tells
 * the source). */
#define FRICTION_CONSTANT 10.67
#define DIAMETER_EXPONENT 4.8704

double er_friction_gradient(double c, double diameter)
{
    return FRICTION_CONSTANT / (pow(c, ER_FRICTION_EXPONENT) * pow(diameter, DIAMETER_EXPONENT));
}

double er_friction_head(double flow, double length, double c, double diameter)
{
    return length * er_friction_gradient(c, diameter) * pow(flow, ER_FRICTION_EXPONENT);
}
