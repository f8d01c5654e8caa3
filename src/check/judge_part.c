/* Findings about one part: its range of flow, its rating, a sudden stop. */
#include "check/judge_part.h"

#include <math.h>

/* "in the headworks" or "of zone "1"". */
static const char *say_place(struct er_judge *judge, enum er_place_kind place, size_t index)
{
    if (place == ER_PLACE_HEADWORKS) {
        return "in the headworks";
    }
    const char *name = er_say_name(judge, judge->field->zones[index].name);
    return er_say_text(judge, "of zone %s", name);
}

static const char *say_part(struct er_judge *judge, const struct er_part *part)
{
    return part->name ? er_say_name(judge, part->name) : "the part";
}

static void judge_range(struct er_judge *judge, enum er_place_kind place, size_t index,
                        const struct er_part *part, double flow)
{
    if (er_given(part->min_flow) && er_under(judge, flow, part->min_flow)) {
        er_judge_add(judge, ER_REGULATOR_RANGE, place, index, part->min_flow / fmax(flow, 1e-30),
                     "%s %s passes %s, it is made for %s or more. Take a smaller one",
                     say_part(judge, part), say_place(judge, place, index),
                     er_say_beside(judge, ER_FLOW, flow, part->min_flow),
                     er_say(judge, ER_FLOW, part->min_flow));
    }
    if (er_given(part->max_flow) && er_over(judge, flow, part->max_flow)) {
        er_judge_add(judge, ER_REGULATOR_RANGE, place, index, flow / fmax(part->max_flow, 1e-30),
                     "%s %s passes %s, it is made for %s at most. Take a larger one, or two "
                     "side by side",
                     say_part(judge, part), say_place(judge, place, index),
                     er_say_beside(judge, ER_FLOW, flow, part->max_flow),
                     er_say(judge, ER_FLOW, part->max_flow));
    }
}

void er_judge_part(struct er_judge *judge, enum er_place_kind place, size_t index,
                   const struct er_part *part, double inlet_pressure, double flow, bool dirty)
{
    double slope;
    double behind = inlet_pressure - er_part_loss(part, flow, dirty, &slope);
    if (er_given(part->max_pressure) && er_over(judge, inlet_pressure, part->max_pressure)) {
        er_judge_add(judge, ER_PRESSURE_HIGH, place, index, inlet_pressure - part->max_pressure,
                     "%s %s gets %s, it is rated for %s. Take one that is rated higher, or a "
                     "regulator before it",
                     say_part(judge, part), say_place(judge, place, index),
                     er_say_beside(judge, ER_PRESSURE, inlet_pressure, part->max_pressure),
                     er_say(judge, ER_PRESSURE, part->max_pressure));
    }
    if (er_given(part->holds) && er_under(judge, behind, part->holds)) {
        er_judge_add(judge, ER_REGULATOR_STARVED, place, index, part->holds - behind,
                     "%s %s should hold %s but has only %s to hold it with, so it regulates "
                     "nothing. Bring more pressure to it, or take one that holds less",
                     say_part(judge, part), say_place(judge, place, index),
                     er_say(judge, ER_PRESSURE, part->holds),
                     er_say_beside(judge, ER_PRESSURE, behind, part->holds));
    }
    judge_range(judge, place, index, part, flow);
}

/* How slow water must be for its sudden stop to be borne. */
static const char *say_stop(struct er_judge *judge, double velocity)
{
    if (!(velocity > 0.0)) {
        return "any sudden stop of its water";
    }
    return er_say_text(judge, "a sudden stop of water above about %s",
                       er_say(judge, ER_VELOCITY, velocity));
}

void er_judge_surge(struct er_judge *judge, enum er_place_kind place, size_t index,
                    const struct er_pipe *pipe, double pressure, const char *what)
{
    double rating = pipe->max_pressure;
    if (pipe->kind != ER_PIPE_PVC || !er_given(rating) ||
        !er_over(judge, pressure, ER_SURGE_SHARE * rating)) {
        return;
    }
    /* Derating of PVC with warmth: from memory. */
    er_judge_add(judge, ER_PRESSURE_SURGE, place, index, pressure / rating,
                 "%s at %s, its PVC is rated for %s and should stay at %.0f percent of that, %s: "
                 "the rest is for surges. Close and open valves slowly: %s may burst it. Take a "
                 "pipe of a higher class, or a regulator before it. Warm PVC holds less: 88 "
                 "percent of its rating at %s, 62 at %s. Surge protection is work for licensed "
                 "people",
                 what, er_say_beside(judge, ER_PRESSURE, pressure, ER_SURGE_SHARE * rating),
                 er_say(judge, ER_PRESSURE, rating), 100.0 * ER_SURGE_SHARE,
                 er_say(judge, ER_PRESSURE, ER_SURGE_SHARE * rating),
                 say_stop(judge, er_pvc_stop_velocity(rating, pressure)),
                 judge->speaks == ER_US ? "80 F" : "27 C",
                 judge->speaks == ER_US ? "100 F" : "38 C");
}
