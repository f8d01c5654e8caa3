/* The pressure at the source that one set asks for.
 *
 * No pressure in a set falls when the source's rises, and none rises by more than it: losses
 * only grow. So a set that is short by some metres at one pressure is short at any less than
 * that many metres above it, and the search climbs in such steps, ever bolder, until nothing is
 * short. What a regulator holds back no climbing will reach. */
#include "plan/demand_search.h"

#include <math.h>
#include <string.h>

#include "hydraulics/closure.h"

#define CLOSED 1e-9 /* m, or of the wanted pressure if that is more than 1 m */

/* An inlet counts as satisfied from that much below what is wanted on: behind a regulator that
 * holds just that pressure the digits must not decide. More than the closing's tolerance. */
#define SLACK (2.0 * CLOSED)

/* The residual of a search that rounding ends, which is still an answer. */
#define ROUNDED 1e-7 /* as CLOSED */

enum er_status er_demand_search_open(struct er_demand_search *search, const struct er_field *field,
                                     const struct er_set *set, double inlet_pressure)
{
    memset(search, 0, sizeof *search);
    search->field = *field;
    search->field.source = (struct er_source){.kind = ER_SOURCE_PRESSURE};
    search->inlet_pressure = inlet_pressure;
    enum er_status status = er_network_open(&search->field, set, NULL, &search->network);
    if (status != ER_OK)
        return status;
    search->blocked =
        er_arena_array(&search->network.arena, set->zone_count, sizeof *search->blocked);
    return search->blocked ? ER_OK : ER_NO_MEMORY;
}

void er_demand_search_close(struct er_demand_search *search)
{
    er_network_release(&search->network);
}

static double scale_of(double wanted) { return fmax(1.0, wanted); }

static double wanted_at(const struct er_demand_search *search, const struct er_margin *inlet)
{
    return er_demand_wanted(inlet->outlet->group->tape, search->inlet_pressure);
}

/* The worst inlet of a zone, with what it is let off. */
static struct er_margin inlet_margin(const struct er_demand_search *search, size_t zone)
{
    struct er_margin margin = er_margin_of_inlets(&search->network, zone, search->inlet_pressure);
    margin.surplus += SLACK * scale_of(wanted_at(search, &margin));
    return margin;
}

static void measure(struct er_demand_search *search)
{
    search->least = er_margin_of_regulators(&search->network);
    for (size_t z = 0; z < search->network.zone_count; z++) {
        if (search->blocked[z])
            continue;
        struct er_margin margin = inlet_margin(search, z);
        if (margin.surplus < search->least.surplus)
            search->least = margin;
    }
}

static enum er_status solve_at(struct er_demand_search *search, double pressure)
{
    search->field.source.pressure = pressure;
    search->status = er_network_solve(&search->network, search->network.dirty);
    if (search->status == ER_OK)
        measure(search);
    return search->status;
}

/* Tells of the zones that are short and held so, or with `all` of every zone. */
static enum er_status block_zones(struct er_demand_search *search, bool all,
                                  er_demand_blocked *tell, void *context)
{
    for (size_t z = 0; z < search->network.zone_count; z++) {
        struct er_margin inlet = inlet_margin(search, z);
        double holds;
        if (search->blocked[z])
            continue;
        if (!all && (inlet.surplus >= 0.0 ||
                     er_margin_holder(&search->network, &inlet, &holds).kind == ER_DEMAND_NOWHERE))
            continue;
        search->blocked[z] = true;
        search->blocked_count++;
        enum er_status status = tell(context, search, &inlet);
        if (status != ER_OK)
            return status;
    }
    measure(search);
    return ER_OK;
}

struct bracket {
    double low, low_surplus, high; /* the high one's surplus is the search's last */
};

/* Climbs until nothing is short that is not blocked. */
static enum er_status climb(struct er_demand_search *search, er_demand_blocked *tell, void *context,
                            struct bracket *bracket)
{
    double stride = 1.25;
    double pressure = 0.0;
    for (;;) {
        enum er_status status = solve_at(search, pressure);
        if (status == ER_OK && search->least.surplus < 0.0)
            status = block_zones(search, pressure >= ER_DEMAND_MOST, tell, context);
        bracket->high = pressure;
        bool enough = search->least.surplus >= 0.0 || pressure >= ER_DEMAND_MOST;
        if (status != ER_OK || enough)
            return status;
        bracket->low = pressure;
        bracket->low_surplus = search->least.surplus;
        pressure = fmin(pressure - stride * search->least.surplus, ER_DEMAND_MOST);
        stride *= 2.0;
    }
}

/* The worst surplus at a pressure; its slope by that of the line from the last one tried. */
static double surplus_at(void *context, double pressure, double *slope)
{
    struct er_demand_search *search = context;
    if (search->status != ER_OK || solve_at(search, pressure) != ER_OK)
        return ER_NONE; /* the search ends without another solution */
    double surplus = search->least.surplus;
    *slope = (surplus - search->last_surplus) / (pressure - search->last_pressure);
    search->last_pressure = pressure;
    search->last_surplus = surplus;
    return surplus;
}

static enum er_status close_on(struct er_demand_search *search, const struct bracket *bracket)
{
    double wanted = search->least.outlet ? wanted_at(search, &search->least) : 0.0;
    double surplus = search->least.surplus;
    search->last_pressure = bracket->high;
    search->last_surplus = surplus;
    double share = bracket->low_surplus / (bracket->low_surplus - surplus);
    struct er_closure closure = {.function = surplus_at,
                                 .context = search,
                                 .low = bracket->low,
                                 .high = bracket->high,
                                 .guess = bracket->low + share * (bracket->high - bracket->low),
                                 .tolerance = CLOSED * scale_of(wanted)};
    double pressure;
    double residual;
    enum er_status status = er_close(&closure, &pressure, &residual);
    if (search->status != ER_OK)
        return search->status;
    return status == ER_OK || fabs(residual) <= ROUNDED * scale_of(wanted) ? ER_OK : ER_NOT_CLOSED;
}

enum er_status er_demand_search_run(struct er_demand_search *search, bool dirty,
                                    er_demand_blocked *blocked, void *context, struct er_duty *duty)
{
    *duty = (struct er_duty){.pressure = ER_NONE, .flow = ER_NONE};
    search->network.dirty = dirty;
    size_t blocked_before = search->blocked_count;
    struct bracket bracket = {0.0, 0.0, 0.0};
    enum er_status status = climb(search, blocked, context, &bracket);
    if (status != ER_OK || search->blocked_count > blocked_before ||
        search->blocked_count == search->network.zone_count)
        return status;
    if (bracket.high > 0.0) {
        status = close_on(search, &bracket);
        duty->set_by = search->least.place;
    }
    duty->pressure = search->field.source.pressure;
    duty->flow = search->network.flow;
    return status;
}
