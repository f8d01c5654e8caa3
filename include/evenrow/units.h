/* Quantities and their units.
 *
 * Inside evenrow everything is SI: metres, seconds, cubic metres. A pressure is
 * kept as head, in metres of water of 998.2 kg/m3 (20 C); depths per day and
 * volumes per day keep the day: m/day, m3/day. Units are met only at the edges,
 * where files are read and reports are written.
 *
 * Sources: exact definitions of NIST Special Publication 811 (2008), appendix B
 * (inch, gallon of 231 cubic inches, pound, pound-force, acre of 43,560 square feet, horsepower of
 * 550 foot pound-force per second);
 * standard gravity 9.80665 m/s2; density of water at 20 C; a langley is a thermochemical calorie
 * of 4.184 J on 1 cm2. */
#ifndef EVENROW_UNITS_H
#define EVENROW_UNITS_H

#include <math.h>
#include <stddef.h>

#include "evenrow/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define ER_NONE ((double)NAN)         /* a number that does not exist or was not given */
#define ER_ENDLESS ((double)INFINITY) /* without an end */

#define ER_GRAVITY 9.80665       /* m/s2, standard */
#define ER_WATER_DENSITY 998.2   /* kg/m3, water at 20 C */
#define ER_INCH 0.0254           /* m */
#define ER_FOOT 0.3048           /* m */
#define ER_GALLON 3.785411784e-3 /* m3: 231 cubic inches */
#define ER_POUND 0.45359237      /* kg, avoirdupois */
#define ER_ACRE 4046.8564224     /* m2: 43,560 square feet */
#define ER_DAY 86400.0           /* s */

enum er_system { ER_US, ER_METRIC };

enum er_quantity {
    /* SI unit inside            us            metric */
    ER_LENGTH,            /* m              ft            m */
    ER_SMALL_LENGTH,      /* m              in            mm */
    ER_PRESSURE,          /* m of head      psi           kPa */
    ER_HEAD,              /* m of head      ft            m */
    ER_FLOW,              /* m3/s           gpm           m3/h */
    ER_TAPE_FLOW,         /* m3/s per m     gpm/100ft     L/h/m */
    ER_EMITTER_FLOW,      /* m3/s           gph           L/h */
    ER_DEPTH_PER_DAY,     /* m/day          in/day        mm/day */
    ER_DEPTH,             /* m              in            mm */
    ER_TIME_PER_DEPTH,    /* s/m            h/1in         h/10mm */
    ER_WATER_PER_DEPTH,   /* m of water/m   in/ft         mm/m */
    ER_VOLUME_PER_LENGTH, /* m3/m (a day)   gal/100ft     L/m */
    ER_VOLUME,            /* m3             gal           m3 */
    ER_AREA,              /* m2             acre          ha */
    ER_VELOCITY,          /* m/s            ft/s          m/s */
    ER_TEMPERATURE,       /* C              F             C */
    ER_TIME,              /* s              h             h */
    ER_POWER,             /* W              hp            kW */
    ER_MASS,              /* kg             lb            kg */
    ER_MASS_PER_AREA,     /* kg/m2          lb/acre       kg/ha */
    ER_MASS_PER_LENGTH,   /* kg/m           lb/100ft      g/m */
    ER_MONEY_PER_LENGTH,  /* money/m        100 ft        100 m; what the money is for */
    ER_DENSITY,           /* kg/m3          lb/gal        kg/L */
    ER_CONCENTRATION,     /* kg/m3          ppm           mg/L; 1 ppm is taken for 1 mg/L */
    ER_CONDUCTIVITY,      /* S/m            dS/m          dS/m */
    ER_SMALL_VOLUME,      /* m3             gal           L */
    ER_WIND,              /* m/s            mph           m/s */
    ER_RADIATION,         /* MJ/m2 a day    Ly/day        MJ/m2/day */
    ER_QUANTITY_COUNT
};

/* "length", "pressure" and so on, for messages. Never NULL. */
const char *er_quantity_name(enum er_quantity quantity);

/* The unit in which `system` gives a bare number of `quantity`. Never NULL. */
const char *er_unit_name(enum er_quantity quantity, enum er_system system);

/* Every unit that a string of this quantity may name, as one text:
 * "psi, kPa, bar, m, ft". Never NULL. */
const char *er_unit_names(enum er_quantity quantity);

/* From a number in the unit of `system` to SI, and back. */
double er_to_si(enum er_quantity quantity, enum er_system system, double value);
double er_from_si(enum er_quantity quantity, enum er_system system, double value);

/* What is wrong with a text that should have been a quantity. */
enum er_quantity_fault {
    ER_QUANTITY_GOOD,
    ER_QUANTITY_NO_NUMBER,   /* does not start with a JSON number or a fraction */
    ER_QUANTITY_NO_UNIT,     /* a number and nothing after it */
    ER_QUANTITY_BAD_UNIT,    /* a unit that this quantity does not have, or text after the unit */
    ER_QUANTITY_OUT_OF_RANGE /* a number too large for a double */
};

/* Reads "5/8 in", "1 1/2in", "1.2 bar" and the like into SI (*value).
 * Exactly: a JSON number or a fraction, optional blanks, a unit in any letter case. */
enum er_quantity_fault er_quantity_parse(const char *text, enum er_quantity quantity,
                                         double *value);

#ifdef __cplusplus
}
#endif

#endif
