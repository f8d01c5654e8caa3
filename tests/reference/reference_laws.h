/* The formulas of the field file, one function each, with their slopes. */
#ifndef REFERENCE_LAWS_H
#define REFERENCE_LAWS_H

#include "evenrow/field.h"

/* A value and how it grows with what it was worked out from. */
struct reference_value {
    double value, slope;
};

/* Hazen-Williams: head lost (m) = resistance x flow^1.852; the resistance of `length` m of
 * pipe of inside diameter `diameter` (m) is 10.67 length / (c^1.852 diameter^4.8704). */
double reference_resistance(double length, double diameter, double c);

/* Head lost at `flow` (m3/s); a backward flow, met on the way to a solution, gains it. */
struct reference_value reference_friction(double resistance, double flow);

/* Pressure that a part loses at `flow`. */
struct reference_value reference_part_loss(const struct er_part *part, double flow);

/* Pressure at the source's outlet at `flow`. */
struct reference_value reference_source(const struct er_source *source, double flow);

/* Where an emitter stands on its curve of pressure and flow.
 *
 * A flow given as a function of pressure has an infinite slope at the point where an
 * emitter runs dry, and pressure as a function of flow is none at all on the flat part of
 * a compensating emitter. So a third number, the position s = pressure / scale + flow /
 * nominal flow, tells both: each is a function of s whose slope lies between 0 and 1, and
 * the curve itself is exact. At s <= 0 the emitter is dry and s is pressure / scale. */
struct reference_emitter {
    struct reference_value pressure; /* m */
    struct reference_value flow;     /* m3/s */
};
struct reference_emitter reference_emitter_at(const struct er_tape *tape, double position);

#endif
