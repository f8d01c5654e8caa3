/* The table of quantities and units, and the reading of numbers as people write them. */
#include "evenrow/units.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "base/c_locale.h"
#include "base/text.h"

#define POUND_FORCE 4.4482216152605 /* N */
#define HEAD_OF_PASCAL (1.0 / (ER_WATER_DENSITY * ER_GRAVITY))
#define MINUTE 60.0
#define HOUR 3600.0
#define LITRE 1e-3
#define GRAM 1e-3 /* kg */
#define MEGA 1e6
#define LANGLEY 0.04184 /* MJ/m2: a calorie of 4.184 J on 1 cm2 */
#define HUNDRED_FEET (100.0 * ER_FOOT)
#define SQUARE_FOOT (ER_FOOT * ER_FOOT)
#define ACRE_INCH (ER_ACRE * ER_INCH)
#define ACRE_FOOT (ER_ACRE * ER_FOOT)
#define HORSEPOWER (550.0 * ER_FOOT * POUND_FORCE)

/* The units of each kind of quantity: unit(name, factor, offset) where
 * SI = (number + offset) x factor, with `and` between two of them. From these lists come
 * both the table that converts and the texts that name the units. */
#define LENGTHS(unit, and)                                                                         \
    unit("mil", ER_INCH / 1000.0, 0.0) and unit("in", ER_INCH, 0.0) and                            \
        unit("ft", ER_FOOT, 0.0) and unit("yd", 3.0 * ER_FOOT, 0.0) and unit("mm", 0.001, 0.0) and \
        unit("cm", 0.01, 0.0) and unit("m", 1.0, 0.0)
#define PRESSURES(unit, and)                                                                       \
    unit("psi", POUND_FORCE / (ER_INCH * ER_INCH) * HEAD_OF_PASCAL, 0.0) and                       \
        unit("kPa", 1e3 * HEAD_OF_PASCAL, 0.0) and unit("bar", 1e5 * HEAD_OF_PASCAL, 0.0) and      \
        unit("m", 1.0, 0.0) and unit("ft", ER_FOOT, 0.0)
#define FLOWS(unit, and)                                                                           \
    unit("gpm", ER_GALLON / MINUTE, 0.0) and unit("gph", ER_GALLON / HOUR, 0.0) and                \
        unit("L/s", LITRE, 0.0) and unit("L/min", LITRE / MINUTE, 0.0) and                         \
        unit("L/h", LITRE / HOUR, 0.0) and unit("m3/h", 1.0 / HOUR, 0.0)
#define TAPE_FLOWS(unit, and)                                                                      \
    unit("gpm/100ft", ER_GALLON / MINUTE / HUNDRED_FEET, 0.0) and                                  \
        unit("gph/100ft", ER_GALLON / HOUR / HUNDRED_FEET, 0.0) and                                \
        unit("L/h/m", LITRE / HOUR, 0.0)
#define DEPTHS_PER_DAY(unit, and)                                                                  \
    unit("in/day", ER_INCH, 0.0) and unit("mm/day", 0.001, 0.0) and                                \
        unit("in/week", ER_INCH / 7.0, 0.0) and unit("mm/week", 0.001 / 7.0, 0.0) and              \
        unit("in", ER_INCH, 0.0) and unit("mm", 0.001, 0.0)
#define DEPTHS(unit, and) unit("in", ER_INCH, 0.0) and unit("mm", 0.001, 0.0)
#define TIMES_PER_DEPTH(unit, and)                                                                 \
    unit("h/1in", HOUR / ER_INCH, 0.0) and unit("h/10mm", HOUR / 0.010, 0.0)
#define WATERS_PER_DEPTH(unit, and)                                                                \
    unit("in/ft", ER_INCH / ER_FOOT, 0.0) and unit("mm/m", 0.001, 0.0)
#define VOLUMES_PER_LENGTH(unit, and)                                                              \
    unit("gal/100ft", ER_GALLON / HUNDRED_FEET, 0.0) and unit("L/m", LITRE, 0.0)
#define VOLUMES(unit, and)                                                                         \
    unit("gal", ER_GALLON, 0.0) and unit("L", LITRE, 0.0) and unit("m3", 1.0, 0.0) and             \
        unit("acre-in", ACRE_INCH, 0.0) and unit("acre-ft", ACRE_FOOT, 0.0)
#define AREAS(unit, and)                                                                           \
    unit("acre", ER_ACRE, 0.0) and unit("ha", 1e4, 0.0) and unit("ft2", SQUARE_FOOT, 0.0) and      \
        unit("m2", 1.0, 0.0)
#define VELOCITIES(unit, and) unit("ft/s", ER_FOOT, 0.0) and unit("m/s", 1.0, 0.0)
#define TEMPERATURES(unit, and) unit("F", 5.0 / 9.0, -32.0) and unit("C", 1.0, 0.0)
#define TIMES(unit, and) unit("s", 1.0, 0.0) and unit("min", MINUTE, 0.0) and unit("h", HOUR, 0.0)
#define POWERS(unit, and)                                                                          \
    unit("hp", HORSEPOWER, 0.0) and unit("kW", 1e3, 0.0) and unit("W", 1.0, 0.0)
#define MASSES(unit, and)                                                                          \
    unit("lb", ER_POUND, 0.0) and unit("oz", ER_POUND / 16.0, 0.0) and unit("kg", 1.0, 0.0) and    \
        unit("g", GRAM, 0.0)
#define MASSES_PER_AREA(unit, and)                                                                 \
    unit("lb/acre", ER_POUND / ER_ACRE, 0.0) and unit("kg/ha", 1e-4, 0.0) and                      \
        unit("g/m2", GRAM, 0.0)
#define MASSES_PER_LENGTH(unit, and)                                                               \
    unit("lb/100ft", ER_POUND / HUNDRED_FEET, 0.0) and                                             \
        unit("oz/100ft", ER_POUND / 16.0 / HUNDRED_FEET, 0.0) and unit("g/m", GRAM, 0.0)
#define MONEY_PER_LENGTH(unit, and)                                                                \
    unit("100 ft", 1.0 / HUNDRED_FEET, 0.0) and unit("100 m", 0.01, 0.0)
#define DENSITIES(unit, and)                                                                       \
    unit("lb/gal", ER_POUND / ER_GALLON, 0.0) and                                                  \
        unit("oz/gal", ER_POUND / 16.0 / ER_GALLON, 0.0) and unit("kg/L", 1e3, 0.0) and            \
        unit("g/L", 1.0, 0.0)
#define CONCENTRATIONS(unit, and)                                                                  \
    unit("ppm", 1e-3, 0.0) and unit("mg/L", 1e-3, 0.0) and unit("g/L", 1.0, 0.0)
#define CONDUCTIVITIES(unit, and)                                                                  \
    unit("dS/m", 0.1, 0.0) and unit("mS/cm", 0.1, 0.0) and unit("uS/cm", 1e-4, 0.0) and            \
        unit("S/m", 1.0, 0.0)
#define WINDS(unit, and)                                                                           \
    unit("mph", 5280.0 * ER_FOOT / HOUR, 0.0) and unit("m/s", 1.0, 0.0) and                        \
        unit("km/h", 1e3 / HOUR, 0.0) and unit("ft/s", ER_FOOT, 0.0)
#define RADIATIONS(unit, and)                                                                      \
    unit("Ly/day", LANGLEY, 0.0) and unit("MJ/m2/day", 1.0, 0.0) and                               \
        unit("W/m2", ER_DAY / MEGA, 0.0)

struct unit {
    const char *name;
    double factor, offset;
};

#define MOST_UNITS 8

struct quantity {
    const char *name;
    const char *own[2];            /* by er_system: the unit of a bare number */
    const char *unit_names;        /* all of them as one text */
    struct unit units[MOST_UNITS]; /* the last is followed by one without name */
};

#define ROW(name, factor, offset) {name, factor, offset},
#define NAME(name, factor, offset) name
#define QUANTITY(name, us, metric, list)                                                           \
    {                                                                                              \
        name, {us, metric}, list(NAME, ", "), { list(ROW, ) }                                      \
    }

static const struct quantity quantities[ER_QUANTITY_COUNT] = {
    [ER_LENGTH] = QUANTITY("length", "ft", "m", LENGTHS),
    [ER_SMALL_LENGTH] = QUANTITY("small length", "in", "mm", LENGTHS),
    [ER_PRESSURE] = QUANTITY("pressure", "psi", "kPa", PRESSURES),
    [ER_HEAD] = QUANTITY("head", "ft", "m", PRESSURES),
    [ER_FLOW] = QUANTITY("flow", "gpm", "m3/h", FLOWS),
    [ER_TAPE_FLOW] = QUANTITY("tape flow", "gpm/100ft", "L/h/m", TAPE_FLOWS),
    [ER_EMITTER_FLOW] = QUANTITY("emitter flow", "gph", "L/h", FLOWS),
    [ER_DEPTH_PER_DAY] = QUANTITY("depth per day", "in/day", "mm/day", DEPTHS_PER_DAY),
    [ER_DEPTH] = QUANTITY("depth", "in", "mm", DEPTHS),
    [ER_TIME_PER_DEPTH] = QUANTITY("time per depth", "h/1in", "h/10mm", TIMES_PER_DEPTH),
    [ER_WATER_PER_DEPTH] = QUANTITY("water per depth of soil", "in/ft", "mm/m", WATERS_PER_DEPTH),
    [ER_VOLUME_PER_LENGTH] =
        QUANTITY("volume per length of bed", "gal/100ft", "L/m", VOLUMES_PER_LENGTH),
    [ER_VOLUME] = QUANTITY("volume", "gal", "m3", VOLUMES),
    [ER_AREA] = QUANTITY("area", "acre", "ha", AREAS),
    [ER_VELOCITY] = QUANTITY("velocity", "ft/s", "m/s", VELOCITIES),
    [ER_TEMPERATURE] = QUANTITY("temperature", "F", "C", TEMPERATURES),
    [ER_TIME] = QUANTITY("time", "h", "h", TIMES),
    [ER_POWER] = QUANTITY("power", "hp", "kW", POWERS),
    [ER_MASS] = QUANTITY("mass", "lb", "kg", MASSES),
    [ER_MASS_PER_AREA] = QUANTITY("mass per area", "lb/acre", "kg/ha", MASSES_PER_AREA),
    [ER_MASS_PER_LENGTH] = QUANTITY("mass per length of bed", "lb/100ft", "g/m", MASSES_PER_LENGTH),
    [ER_MONEY_PER_LENGTH] = QUANTITY("money per length", "100 ft", "100 m", MONEY_PER_LENGTH),
    [ER_DENSITY] = QUANTITY("mass per volume", "lb/gal", "kg/L", DENSITIES),
    [ER_CONCENTRATION] = QUANTITY("concentration", "ppm", "mg/L", CONCENTRATIONS),
    [ER_CONDUCTIVITY] = QUANTITY("electrical conductivity", "dS/m", "dS/m", CONDUCTIVITIES),
    [ER_SMALL_VOLUME] = QUANTITY("volume of solution", "gal", "L", VOLUMES),
    [ER_WIND] = QUANTITY("wind", "mph", "m/s", WINDS),
    [ER_RADIATION] = QUANTITY("solar radiation", "Ly/day", "MJ/m2/day", RADIATIONS),
};

const char *er_quantity_name(enum er_quantity quantity) { return quantities[quantity].name; }

const char *er_unit_name(enum er_quantity quantity, enum er_system system)
{
    return quantities[quantity].own[system];
}

const char *er_unit_names(enum er_quantity quantity) { return quantities[quantity].unit_names; }

static bool same_name(const char *a, const char *b)
{
    while (*a != '\0' && er_lower(*a) == er_lower(*b)) {
        a++;
        b++;
    }
    return er_lower(*a) == er_lower(*b);
}

/* The unit of that name, in any letter case; NULL if the quantity has none such. */
static const struct unit *find_unit(enum er_quantity quantity, const char *name)
{
    for (const struct unit *unit = quantities[quantity].units; unit->name != NULL; unit++) {
        if (same_name(unit->name, name)) {
            return unit;
        }
    }
    return NULL;
}

double er_to_si(enum er_quantity quantity, enum er_system system, double value)
{
    const struct unit *unit = find_unit(quantity, er_unit_name(quantity, system));
    return (value + unit->offset) * unit->factor;
}

double er_from_si(enum er_quantity quantity, enum er_system system, double value)
{
    const struct unit *unit = find_unit(quantity, er_unit_name(quantity, system));
    return value / unit->factor - unit->offset;
}

static const char *skip_blanks(const char *text)
{
    while (*text == ' ' || *text == '\t') {
        text++;
    }
    return text;
}

/* The end of a whole number without sign, written as JSON writes it; NULL if there is none. */
static const char *whole_number_end(const char *text)
{
    const char *end = text;
    while (*end >= '0' && *end <= '9') {
        end++;
    }
    return end == text || (*text == '0' && end != text + 1) ? NULL : end;
}

/* Reads a fraction without sign, "5/8". Returns its end; NULL if there is none. */
static const char *read_fraction(const char *text, double *value)
{
    const char *slash = whole_number_end(text);
    if (slash == NULL || *slash != '/') {
        return NULL;
    }
    const char *end = whole_number_end(slash + 1);
    double divisor = end == NULL ? 0.0 : er_c_number(slash + 1);
    if (divisor < 1.0) {
        return NULL;
    }
    *value = er_c_number(text) / divisor;
    return end;
}

/* Reads "1 1/2" or "5/8", with or without a minus before it. Returns its end, or NULL. */
static const char *read_mixed(const char *text, double *value)
{
    bool negative = *text == '-';
    const char *start = negative ? text + 1 : text;
    double whole = 0.0;
    const char *end = read_fraction(start, value);
    if (end == NULL) {
        const char *blank = whole_number_end(start);
        if (blank == NULL || skip_blanks(blank) == blank) {
            return NULL;
        }
        whole = er_c_number(start);
        end = read_fraction(skip_blanks(blank), value);
    }
    if (end != NULL) {
        *value = negative ? -(whole + *value) : whole + *value;
    }
    return end;
}

enum er_quantity_fault er_quantity_parse(const char *text, enum er_quantity quantity, double *value)
{
    double number = 0.0;
    const char *end = read_mixed(text, &number);
    if (end == NULL) {
        end = er_number_end(text);
        /* A slash here means a fraction that is none: "1/0", "1.5/2". */
        if (end == NULL || *end == '/') {
            return ER_QUANTITY_NO_NUMBER;
        }
        number = er_c_number(text);
    }
    const char *name = skip_blanks(end);
    if (*name == '\0') {
        return ER_QUANTITY_NO_UNIT;
    }
    const struct unit *unit = find_unit(quantity, name);
    if (unit == NULL) {
        return ER_QUANTITY_BAD_UNIT;
    }
    double si = (number + unit->offset) * unit->factor;
    if (!isfinite(si)) {
        return ER_QUANTITY_OUT_OF_RANGE;
    }
    *value = si;
    return ER_QUANTITY_GOOD;
}
