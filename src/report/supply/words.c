/* Places and obstacles of a demand, in words. */
#include "report/supply/words.h"

#include <math.h>

#define NOTHING 1e-6 /* m */

const char *er_demand_kind_name(enum er_demand_kind kind)
{
    static const char *const names[] = {
        [ER_DEMAND_NOWHERE] = "nothing",     [ER_DEMAND_INLET] = "tape inlet",
        [ER_DEMAND_HEADWORKS] = "headworks", [ER_DEMAND_VALVE] = "valve",
        [ER_DEMAND_REGULATOR] = "regulator", [ER_DEMAND_CONNECTOR] = "connector"};
    return names[kind];
}

bool er_demand_on_a_bed(const struct er_demand_place *place)
{
    return place->kind == ER_DEMAND_INLET || place->kind == ER_DEMAND_CONNECTOR;
}

/* The name of the part or the zone that the place is in. */
static const char *holder(const struct er_field *field, const struct er_demand_place *place)
{
    return place->kind == ER_DEMAND_HEADWORKS ? field->headworks[place->part].name
                                              : field->zones[place->zone].name;
}

const char *er_place_short(struct er_pen *pen, const struct er_field *field,
                           const struct er_demand_place *place)
{
    const char *kind = er_demand_kind_name(place->kind);
    if (place->kind == ER_DEMAND_NOWHERE) {
        return kind;
    }
    return er_demand_on_a_bed(place)
               ? er_pen_text(pen, "%s, %s bed %zu", kind, holder(field, place), place->bed + 1)
               : er_pen_text(pen, "%s, %s", kind, holder(field, place));
}

/* In a sentence: "the tape inlet on bed 28 of zone "hill"". */
static const char *place_words(struct er_pen *pen, const struct er_field *field,
                               const struct er_demand_place *place)
{
    const char *name = er_pen_visible(pen, holder(field, place));
    const char *kind = er_demand_kind_name(place->kind);
    if (place->kind == ER_DEMAND_HEADWORKS) {
        return er_pen_text(pen, "the part \"%s\" in the headworks", name);
    }
    return er_demand_on_a_bed(place)
               ? er_pen_text(pen, "the %s on bed %zu of zone \"%s\"", kind, place->bed + 1, name)
               : er_pen_text(pen, "the %s of zone \"%s\"", kind, name);
}

static const char *pressure(struct er_pen *pen, double value)
{
    return er_pen_figure(pen, ER_PRESSURE, value);
}

/* Where the pressure goes between a regulator and the place that it keeps short. */
static const char *loss_words(struct er_pen *pen, const struct er_demand_obstacle *o)
{
    bool rubs = o->friction > NOTHING;
    const char *friction = rubs ? er_pen_text(pen, "; friction and parts on the way take %s",
                                              pressure(pen, o->friction))
                                : "";
    const char *joint = rubs ? "," : ";";
    if (o->rise > NOTHING) {
        return er_pen_text(pen, "%s%s the rise %s%s", friction, joint, rubs ? "" : "takes ",
                           pressure(pen, o->rise));
    }
    return o->rise < -NOTHING ? er_pen_text(pen, "%s%s the fall gives %s back", friction, joint,
                                            pressure(pen, -o->rise))
                              : friction;
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

/* What it would have to hold; set that high, a regulator may burst the tapes next to it. */
static const char *remedy_words(struct er_pen *pen, const struct er_demand *demand,
                                const struct er_demand_obstacle *o)
{
    if (!er_given(o->needed_hold)) {
        return "To let it hold more would not be enough.";
    }
    double rating = o->at.kind == ER_DEMAND_INLET ? lowest_rating(&demand->field->zones[o->at.zone])
                                                  : ER_ENDLESS;
    const char *hold = pressure(pen, er_rounded_up(ER_PRESSURE, pen->system, o->needed_hold));
    return o->needed_hold > rating
               ? er_pen_text(pen,
                             "It would have to hold at least %s, since more flow costs more "
                             "pressure on the "
                             "way; but its tape is rated for %s. Take a wider header or a smaller "
                             "zone instead.",
                             hold, pressure(pen, rating))
               : er_pen_text(pen, "It would have to hold at least %s.", hold);
}

const char *er_demand_obstacle_words(struct er_pen *pen, const struct er_demand *demand,
                                     const struct er_demand_obstacle *o)
{
    bool inlet = o->at.kind == ER_DEMAND_INLET;
    const char *gets =
        er_pen_text(pen, "%s should %s %s and gets %s", place_words(pen, demand->field, &o->at),
                    inlet ? "have" : "hold", pressure(pen, o->wanted), pressure(pen, o->pressure));
    if (o->by.kind == ER_DEMAND_NOWHERE) {
        return er_pen_text(pen,
                           "%s even with %s at the source. Take wider pipes, a smaller set, or "
                           "less pressure.",
                           gets, pressure(pen, ER_DEMAND_MOST));
    }
    return er_pen_text(
        pen, "%s at most%s%s, since %s holds %s%s. %s", gets, inlet ? "" : " to hold it with",
        o->dirty ? " with filters due for cleaning" : "", place_words(pen, demand->field, &o->by),
        pressure(pen, o->holds), loss_words(pen, o), remedy_words(pen, demand, o));
}
