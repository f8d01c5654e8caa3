#include "report/demand_words.h"

#include <math.h>

#include "say/say.h"

const char *er_demand_kind_name(enum er_demand_kind kind)
{
    switch (kind) {
    case ER_DEMAND_INLET:
        return "tape inlet";
    case ER_DEMAND_HEADWORKS:
        return "headworks";
    case ER_DEMAND_VALVE:
        return "valve";
    case ER_DEMAND_REGULATOR:
        return "regulator";
    case ER_DEMAND_CONNECTOR:
        return "connector";
    case ER_DEMAND_NOWHERE:
        break;
    }
    return "nothing";
}

static bool is_on_a_bed(const struct er_demand_place *place)
{
    return place->kind == ER_DEMAND_INLET || place->kind == ER_DEMAND_CONNECTOR;
}

void er_append_place_short(struct er_text *out, const struct er_field *field,
                           const struct er_demand_place *place)
{
    er_text_append(out, er_demand_kind_name(place->kind));
    if (place->kind == ER_DEMAND_NOWHERE) {
        return;
    }
    er_text_append(out, ", ");
    er_text_append(out, place->kind == ER_DEMAND_HEADWORKS ? field->headworks[place->part].name
                                                           : field->zones[place->zone].name);
    if (is_on_a_bed(place)) {
        er_text_appendf(out, " bed %zu", place->bed + 1);
    }
}

/* In a sentence: "the tape inlet on bed 28 of zone "hill"", "the part "filter" in the headworks".
 */
static void append_place(struct er_text *out, const struct er_field *field,
                         const struct er_demand_place *place)
{
    bool headworks = place->kind == ER_DEMAND_HEADWORKS;
    er_text_appendf(out, "the %s", headworks ? "part" : er_demand_kind_name(place->kind));
    if (is_on_a_bed(place)) {
        er_text_appendf(out, " on bed %zu", place->bed + 1);
    }
    er_text_append(out, headworks ? " \"" : " of zone \"");
    er_text_append_visible(out, headworks ? field->headworks[place->part].name
                                          : field->zones[place->zone].name);
    er_text_append(out, headworks ? "\" in the headworks" : "\"");
}

static void append_pressure(struct er_text *out, enum er_system system, double pressure)
{
    er_append_quantity(out, system, ER_PRESSURE, pressure);
}

/* Where the pressure goes between a regulator and the place that it keeps short. */
static void append_losses(struct er_text *out, enum er_system system,
                          const struct er_obstacle *obstacle)
{
    const double nothing = 1e-6; /* m */
    if (obstacle->friction > nothing) {
        er_text_append(out, "; friction and parts on the way take ");
        append_pressure(out, system, obstacle->friction);
    }
    if (obstacle->rise > nothing) {
        er_text_append(out, obstacle->friction > nothing ? ", the rise " : "; the rise takes ");
        append_pressure(out, system, obstacle->rise);
    } else if (obstacle->rise < -nothing) {
        er_text_append(out,
                       obstacle->friction > nothing ? ", the fall gives " : "; the fall gives ");
        append_pressure(out, system, -obstacle->rise);
        er_text_append(out, " back");
    }
}

/* The least that a tape of the zone is rated for, in m. */
static double lowest_rating(const struct er_zone *zone)
{
    double lowest = ER_ENDLESS;
    for (size_t g = 0; g < zone->group_count; g++) {
        lowest = fmin(lowest, zone->groups[g].tape->max_pressure);
    }
    return lowest;
}

/* A regulator set that high may burst the tapes next to it. */
static void append_rating(struct er_text *out, const struct er_demand *demand,
                          enum er_system system, const struct er_obstacle *obstacle)
{
    bool inlet = obstacle->at.kind == ER_DEMAND_INLET;
    double rating = inlet ? lowest_rating(&demand->field->zones[obstacle->at.zone]) : ER_ENDLESS;
    if (obstacle->needed_hold > rating) {
        er_text_append(out, ", since more flow costs more pressure on the way; but its tape is "
                            "rated for ");
        append_pressure(out, system, rating);
        er_text_append(out, ". Take a wider header or a smaller zone instead");
    }
}

/* What keeps the place short, and what it would have to hold. */
static void append_keeper(struct er_text *out, const struct er_demand *demand,
                          enum er_system system, const struct er_obstacle *obstacle)
{
    er_text_append(out, ", since ");
    append_place(out, demand->field, &obstacle->by);
    er_text_append(out, " holds ");
    append_pressure(out, system, obstacle->holds);
    append_losses(out, system, obstacle);
    er_text_append(out, ". ");
    if (er_given(obstacle->needed_hold)) {
        er_text_append(out, "It would have to hold at least ");
        append_pressure(out, system, er_rounded_up(ER_PRESSURE, system, obstacle->needed_hold));
        append_rating(out, demand, system, obstacle);
        er_text_append(out, ".");
    } else {
        er_text_append(out, "To let it hold more would not be enough.");
    }
}

void er_append_obstacle(struct er_text *out, const struct er_demand *demand, enum er_system system,
                        const struct er_obstacle *obstacle)
{
    bool inlet = obstacle->at.kind == ER_DEMAND_INLET;
    append_place(out, demand->field, &obstacle->at);
    er_text_append(out, inlet ? " should have " : " should hold ");
    append_pressure(out, system, obstacle->wanted);
    er_text_append(out, " and gets ");
    append_pressure(out, system, obstacle->pressure);
    if (obstacle->by.kind == ER_DEMAND_NOWHERE) {
        er_text_append(out, " even with ");
        append_pressure(out, system, ER_DEMAND_MOST);
        er_text_append(out, " at the source. Take wider pipes, a smaller set, or less pressure.");
        return;
    }
    er_text_append(out, inlet ? " at most" : " at most to hold it with");
    er_text_append(out, obstacle->dirty ? " with filters due for cleaning" : "");
    append_keeper(out, demand, system, obstacle);
}
