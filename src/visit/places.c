/* From a bed's number, or a share of a row, to the tape and the emitter that stand there. */
#include "visit/places.h"

#include <math.h>

#include "evenrow/divide.h"

const char *const er_tape_place_names[ER_TAPE_PLACES + 1] = {
    [ER_AT_INLET] = "inlet",     [ER_AT_THIRD] = "third", [ER_AT_TWO_THIRDS] = "two-thirds",
    [ER_AT_FAR_END] = "far-end", [ER_TAPE_PLACES] = NULL,
};

const struct er_tape *er_bed_tape(const struct er_zone *zone, size_t bed)
{
    const struct er_bed_group *group = zone->groups;
    while (bed >= group->count) {
        bed -= group->count;
        group++;
    }
    return group->tape;
}

bool er_bed_run(const struct er_zone *zone, size_t bed, bool second_side, struct er_run *run)
{
    if (bed >= er_zone_beds(zone)) {
        return false;
    }
    const struct er_bed_group *group = zone->groups;
    while (bed >= group->count) {
        bed -= group->count;
        group++;
    }
    if (second_side && !group->both_sides) {
        return false;
    }
    *run = er_run_make(group->tape, er_bed_length(group, bed, second_side),
                       second_side ? &group->other_ground : &group->ground);
    return true;
}

double er_emitter_at_share(const struct er_run *run, double share)
{
    double steps = round(share * (double)(run->emitters - 1));
    return run->first_reach + steps * run->tape->emitter_spacing;
}

double er_tape_place_share(enum er_tape_place place)
{
    return (double)place / (double)(ER_TAPE_PLACES - 1);
}

bool er_same_reading(const struct er_visit_reading *a, const struct er_visit_reading *b)
{
    if (a->kind != b->kind) {
        return false;
    }
    bool in_bed = a->kind == ER_READ_BED_INLET || a->kind == ER_READ_BED_FAR_END ||
                  a->kind == ER_READ_EMITTER;
    if (in_bed && (a->bed != b->bed || a->second_side != b->second_side)) {
        return false;
    }
    return a->kind != ER_READ_EMITTER || fabs(a->at - b->at) < 1e-6;
}
