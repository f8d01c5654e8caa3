/* From a combination to a field. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "evenrow/divide.h"
#include "plan/choose.h"

/* Than the field has, that are tried. Chosen, and told in the help of the command. */
#define MORE_ZONES 4
/* Relative: emitters as far apart as the field's. A spacing told in another unit may differ in its
 * last digits; those of two tapes that differ at all do so by far more. */
#define SAME_SPACING 1e-6

bool er_choose_tries_tape(const struct er_field *field, const struct er_tape *tape)
{
    for (size_t z = 0; z < field->zone_count; z++) {
        for (size_t g = 0; g < field->zones[z].group_count; g++) {
            double used = field->zones[z].groups[g].tape->emitter_spacing;
            if (fabs(tape->emitter_spacing - used) < used * SAME_SPACING) {
                return true;
            }
        }
    }
    return false;
}

size_t er_choose_tries_zones(const struct er_field *field)
{
    size_t beds = 0;
    for (size_t z = 0; z < field->zone_count; z++) {
        beds += er_zone_beds(&field->zones[z]);
    }
    return field->zone_count + MORE_ZONES < beds ? field->zone_count + MORE_ZONES : beds;
}

static enum er_status change_groups(struct er_field *field, struct er_zone *zone,
                                    const struct er_tape *tape)
{
    struct er_bed_group *groups = er_arena_array(&field->arena, zone->group_count, sizeof *groups);
    if (!groups) {
        return ER_NO_MEMORY;
    }
    memcpy(groups, zone->groups, zone->group_count * sizeof *groups);
    for (size_t g = 0; g < zone->group_count; g++) {
        groups[g].tape = tape;
    }
    zone->groups = groups;
    return ER_OK;
}

/* The ask's field with the design's tape and header pipe. */
static enum er_status change_field(const struct er_choose_ask *ask, const struct er_design *design,
                                   struct er_field *changed)
{
    const struct er_field *field = ask->field;
    *changed = *field;
    changed->arena = (struct er_arena){0};
    struct er_zone *zones = er_arena_array(&changed->arena, field->zone_count, sizeof *zones);
    struct er_header_piece *piece = er_arena_array(&changed->arena, 1, sizeof *piece);
    if (!zones || !piece) {
        return ER_NO_MEMORY;
    }
    *piece = (struct er_header_piece){.pipe = ask->pipes[design->pipe], .length = ER_ENDLESS};
    memcpy(zones, field->zones, field->zone_count * sizeof *zones);
    changed->zones = zones;
    enum er_status status = ER_OK;
    for (size_t z = 0; status == ER_OK && z < field->zone_count; z++) {
        zones[z].header.piece_count = 1;
        zones[z].header.pieces = piece;
        status = change_groups(changed, &zones[z], ask->tapes[design->tape]);
    }
    return status;
}

enum er_status er_design_lay_out(const struct er_choose_ask *ask, const struct er_design *design,
                                 const struct er_piece *pieces, struct er_designed *designed)
{
    size_t zones = ask->divisions[design->division];
    const struct er_zone_layout layout = {.feed = (int)ask->feeds[design->feed],
                                          .whole_zones = true};
    memset(designed, 0, sizeof *designed);
    enum er_status status = change_field(ask, design, &designed->changed);
    if (status != ER_OK) {
        return status;
    }
    designed->origins = er_arena_array(&designed->changed.arena, zones, sizeof(size_t));
    if (!designed->origins) {
        return ER_NO_MEMORY;
    }
    return er_field_divide(&designed->changed, pieces, zones, &layout, &designed->field,
                           designed->origins);
}

enum er_status er_design_part(const struct er_choose_ask *ask, size_t tape, size_t division,
                              struct er_piece *pieces)
{
    const struct er_design design = {.tape = tape};
    struct er_field changed;
    enum er_status status = change_field(ask, &design, &changed);
    if (status == ER_OK) {
        status = er_field_part_evenly(&changed, ask->divisions[division], pieces);
    }
    er_field_release(&changed);
    return status;
}

enum er_status er_design_make(const struct er_choose_ask *ask, const struct er_design *design,
                              struct er_designed *designed)
{
    struct er_piece *pieces = malloc(ask->divisions[design->division] * sizeof *pieces);
    memset(designed, 0, sizeof *designed);
    enum er_status status = pieces ? ER_OK : ER_NO_MEMORY;
    if (status == ER_OK) {
        status = er_design_part(ask, design->tape, design->division, pieces);
    }
    if (status == ER_OK) {
        status = er_design_lay_out(ask, design, pieces, designed);
    }
    free(pieces);
    return status;
}

void er_designed_release(struct er_designed *designed)
{
    er_field_release(&designed->field);
    er_field_release(&designed->changed);
    memset(designed, 0, sizeof *designed);
}
