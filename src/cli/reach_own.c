/* 'evenrow reach FIELD': the field's own rows, pressures and ground. */
#include <math.h>

#include "cli/message.h"
#include "cli/reach.h"

/* The pressure (m) that a regulator holds for a zone: its own, else the headworks'; NAN: none. */
static double held_inlet(const struct er_field *field, const struct er_zone *zone)
{
    if (zone->regulator != NULL) {
        return zone->regulator->holds;
    }
    for (size_t p = field->headworks_count; p-- > 0;) {
        if (er_given(field->headworks[p].holds)) {
            return field->headworks[p].holds;
        }
    }
    return ER_NONE;
}

/* The pressure at the inlets of a zone's rows: held; as the plan has it; else, where that has none,
 * the one that the tape's flow is told at. */
static double own_inlet(const struct er_reach_ask *ask, size_t zone, const struct er_tape *tape,
                        enum er_inlet_origin *from)
{
    const double held = held_inlet(&ask->work->field, &ask->work->field.zones[zone]);
    const double planned =
        ask->is_solved ? ask->work->result.zones[zone].tape_inlet_pressure.min : ER_NONE;
    if (er_given(held)) {
        *from = ER_INLET_REGULATED;
        return held;
    }
    *from = planned > 0.0 ? ER_INLET_PLANNED : ER_INLET_GIVEN;
    if (planned > 0.0) {
        return planned;
    }
    return er_given(tape->at_pressure) ? tape->at_pressure : tape->holds_from;
}

int er_reach_ask_solve(struct er_reach_ask *ask)
{
    struct er_failure failure;
    bool held = true;
    for (size_t z = 0; z < ask->work->field.zone_count; z++) {
        held = held && er_given(held_inlet(&ask->work->field, &ask->work->field.zones[z]));
    }
    if (held) {
        return 0;
    }
    enum er_status status =
        er_check(&ask->work->field, ask->answer.system, &ask->work->result, &failure);
    ask->is_solved = status == ER_OK;
    return status == ER_NO_MEMORY ? er_message_no_memory() : 0;
}

/* Of the inlets that flags give, the nearest to the field's own. */
static double nearest(const struct er_reach_table *table, double inlet)
{
    double best = table->inlets[0];
    for (size_t i = 1; i < table->inlet_count; i++) {
        best = fabs(table->inlets[i] - inlet) < fabs(best - inlet) ? table->inlets[i] : best;
    }
    return best;
}

static bool same(double a, double b) { return !(a < b) && !(a > b); }

/* Whether rows with such pressure and ground are listed already, for a zone or, where flags give
 * the ground, for any. */
static bool is_listed(const struct er_reach_own *list, size_t count, const struct er_reach_own *own)
{
    for (size_t i = 0; i < count; i++) {
        if (!own->own_ground && same(list[i].inlet, own->inlet)) {
            return true;
        }
    }
    return false;
}

/* What is listed of one zone. */
struct listing {
    const struct er_reach_ask *ask;
    const struct er_reach_table *table;
    bool given_inlets, given_slopes;
    struct er_reach_own *list;
    size_t count;
};

static void list_side(struct listing *listing, size_t z, const struct er_bed_group *group,
                      size_t first_bed, bool second_side)
{
    const struct er_reach_answer *answer = &listing->ask->answer;
    struct er_reach_own own = {.zone = listing->ask->work->field.zones[z].name,
                               .first_bed = first_bed,
                               .last_bed = first_bed + group->count - 1,
                               .second_side = second_side,
                               .own_ground = !listing->given_slopes,
                               .ground = second_side ? group->other_ground : group->ground};
    own.inlet = own_inlet(listing->ask, z, listing->table->tape, &own.from);
    own.row_length = fmax(er_bed_length(group, 0, second_side),
                          er_bed_length(group, group->count - 1, second_side));
    if (listing->given_inlets) {
        const double given = nearest(listing->table, own.inlet);
        own.from = same(given, own.inlet) ? own.from : ER_INLET_GIVEN;
        own.inlet = given;
    }
    if (listing->given_slopes) {
        own.ground = (struct er_ground){.slope = answer->slopes[er_reach_levelest(answer)]};
    }
    if (!is_listed(listing->list, listing->count, &own)) {
        listing->list[listing->count++] = own;
    }
}

static void list_rows(struct listing *listing, bool any_tape)
{
    const struct er_field *field = &listing->ask->work->field;
    for (size_t z = 0; z < field->zone_count; z++) {
        size_t bed = 1;
        for (size_t g = 0; g < field->zones[z].group_count; g++) {
            const struct er_bed_group *group = &field->zones[z].groups[g];
            for (int side = 0; side < (group->both_sides ? 2 : 1); side++) {
                if (any_tape || group->tape == listing->table->tape) {
                    list_side(listing, z, group, bed, side == 1);
                }
            }
            bed += group->count;
        }
    }
}

void er_reach_ask_own(const struct er_flags *flags, struct er_reach_ask *ask,
                      struct er_reach_table *table)
{
    size_t most = 0;
    for (size_t z = 0; z < ask->work->field.zone_count; z++) {
        most += 2 * ask->work->field.zones[z].group_count;
    }
    struct listing listing = {.ask = ask, .table = table};
    listing.given_inlets = er_option_given(flags->line, ER_OPTION_INLETS);
    listing.given_slopes = er_option_given(flags->line, ER_OPTION_SLOPES);
    listing.list = er_arena_array(&ask->arena, most, sizeof *listing.list);
    if (listing.list == NULL) {
        ask->out_of_memory = true;
        return;
    }
    if (table->inlet_count > 0 && ask->answer.slope_count > 0) {
        list_rows(&listing, false);
        if (listing.count == 0) {
            list_rows(&listing, true);
        }
    }
    table->own = listing.list;
    table->own_count = listing.count;
}
