/* An emitter made ready for walks of a million steps: its law with the constants worked out. */
#ifndef ER_HYDRAULICS_EMITTER_H
#define ER_HYDRAULICS_EMITTER_H

#include "evenrow/field.h"

#include <math.h>

struct er_emitter {
    double scale; /* q = scale p^exponent */
    double exponent;
    bool square_root;                       /* exponent 0.5, the common case, without a power */
    double holds_from, holds_to, held_flow; /* holds_from is INFINITY for an ordinary emitter */
    double scale_above;                     /* past holds_to: q = scale_above sqrt(p) */
};

struct er_emitter er_emitter_make(const struct er_tape *tape);

/* Flow at `pressure` and its derivative. Inline because it is half the cost of every walk. */
static inline double er_emitter_law(const struct er_emitter *emitter, double pressure,
                                    double *slope)
{
    *slope = 0.0;
    if (!(pressure > 0.0)) {
        return 0.0;
    }
    if (pressure >= emitter->holds_from) {
        if (pressure <= emitter->holds_to) {
            return emitter->held_flow;
        }
        double flow = emitter->scale_above * sqrt(pressure);
        *slope = 0.5 * flow / pressure;
        return flow;
    }
    double flow =
        emitter->scale * (emitter->square_root ? sqrt(pressure) : pow(pressure, emitter->exponent));
    *slope = emitter->exponent * flow / pressure;
    return flow;
}

#endif
