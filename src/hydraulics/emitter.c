/* A tape's law made ready for many emitters, and the run of tape that a length makes. */
#include "hydraulics/emitter.h"

#include "evenrow/hydraulics.h"

struct er_emitter er_emitter_make(const struct er_tape *tape)
{
    struct er_emitter emitter = {.held_flow = tape->emitter_flow};
    if (er_given(tape->holds_from)) {
        emitter.exponent = 0.5;
        emitter.scale = tape->emitter_flow / sqrt(tape->holds_from);
        emitter.holds_from = tape->holds_from;
        emitter.holds_to = tape->holds_to;
        emitter.scale_above = tape->emitter_flow / sqrt(tape->holds_to);
    } else {
        emitter.exponent = tape->exponent;
        emitter.scale = tape->emitter_flow / pow(tape->at_pressure, tape->exponent);
        emitter.holds_from = ER_ENDLESS;
        emitter.holds_to = ER_ENDLESS;
    }
    emitter.square_root = emitter.exponent == 0.5;
    return emitter;
}

double er_emitter_flow(const struct er_tape *tape, double pressure, double *slope)
{
    struct er_emitter emitter = er_emitter_make(tape);
    double ignored;
    return er_emitter_law(&emitter, pressure, slope ? slope : &ignored);
}

struct er_run er_run_make(const struct er_tape *tape, double length, const struct er_ground *ground)
{
    return (struct er_run){.tape = tape,
                           .emitters = er_tape_emitters(tape, length),
                           .first_reach = 0.5 * tape->emitter_spacing,
                           .length = length,
                           .ground = *ground};
}
