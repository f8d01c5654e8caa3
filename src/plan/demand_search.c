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

/* m, or of the wanted pressure if that is more than 1 m: as closely as a set is solved, whose
 * residual may be as much; a finer search would follow that. */
#define CLOSED 1e-9

/* A place counts as satisfied from that much below what it needs on: behind a regulator that
 * holds just that pressure the digits must not decide. More than the closing's tolerance. */
#define SLACK (2.0 * CLOSED)

/* The residual of a search that rounding ends, which is still an answer: chosen, and far less than
 * the figures of a pressure that are told. As CLOSED. */
#define ROUNDED 1e-7

enum er_status er_demand_search_open(struct er_demand_search *search, const struct er_field *field,
                                     const struct er_set *set, double inlet_pressure)
{
    memset(search, 0, sizeof *search);
    search->field = *field;
    search->field.source = (struct er_source){.kind = ER_SOURCE_PRESSURE, .shutoff = ER_NONE};
    search->set = set;
    search->inlet_pressure = inlet_pressure;
    enum er_status status = er_network_open(&search->field, set, NULL, &search->network);
    if (status != ER_OK) {
        return status;
    }
    search->left_out =
        er_arena_array(&search->arena, er_place_count(field), sizeof *search->left_out);
    return search->left_out ? ER_OK : ER_NO_MEMORY;
}

void er_demand_search_close(struct er_demand_search *search)
{
    er_network_release(&search->network);
    er_arena_release(&search->arena);
}

static double scale_of(const struct er_margin *margin) { return fmax(1.0, margin->wanted); }

static void measure(struct er_demand_search *search)
{
    search->least = er_margin_least(&search->network, search->inlet_pressure, search->left_out);
    search->least.surplus += SLACK * scale_of(&search->least);
}

/* What was learnt at other pressures may be too coarse where next to nothing flows: then all is
 * begun anew. */
static enum er_status solve_afresh(struct er_demand_search *search)
{
    bool dirty = search->network.dirty;
    er_network_release(&search->network);
    enum er_status status = er_network_open(&search->field, search->set, NULL, &search->network);
    return status == ER_OK ? er_network_solve(&search->network, dirty) : status;
}

static enum er_status solve_at(struct er_demand_search *search, double pressure)
{
    search->field.source.pressure = pressure;
    search->status = er_network_solve(&search->network, search->network.dirty);
    if (search->status == ER_NOT_CLOSED) {
        search->status = solve_afresh(search);
    }
    if (search->status == ER_OK) {
        measure(search);
    }
    return search->status;
}

/* Tells of places that are short and held so, or with `all` of every one that is short, while
 * the worst is such a place. *any is set if there was one. */
static enum er_status leave_out(struct er_demand_search *search, bool all, er_demand_blocked *tell,
                                void *context, bool *any)
{
    double holds;
    while (search->least.surplus < 0.0 &&
           (all ||
            er_margin_holder(&search->network, &search->least, &holds).kind != ER_DEMAND_NOWHERE)) {
        enum er_status status = tell(context, search, &search->least);
        if (status != ER_OK) {
            return status;
        }
        search->left_out[er_place_index(&search->field, &search->least.place)] = true;
        *any = true;
        measure(search);
    }
    return ER_OK;
}

struct bracket {
    double low, low_surplus, high, high_surplus;
    bool left_out; /* some place was */
};

/* Climbs until no place is short but those that are left out. A trickle that could not be
 * closed on counts as short: the answer lies above it, or what is found there will tell. */
static enum er_status climb(struct er_demand_search *search, er_demand_blocked *tell, void *context,
                            struct bracket *bracket)
{
    /* Times what is missing, which alone would only just not be enough; twice as bold at each step.
     * How bold decides nothing but how wide the bracket gets. */
    double stride = 1.25;
    double pressure = 0.0;
    *bracket = (struct bracket){.low_surplus = -1.0};
    for (;;) {
        enum er_status status = solve_at(search, pressure);
        if (status == ER_OK) {
            status =
                leave_out(search, pressure >= ER_DEMAND_MOST, tell, context, &bracket->left_out);
        }
        bracket->high = pressure;
        bracket->high_surplus = search->least.surplus;
        bool trickles = status == ER_NOT_CLOSED && pressure < ER_DEMAND_MOST;
        if (!trickles && (status != ER_OK || bracket->high_surplus >= 0.0)) {
            return status;
        }
        if (!trickles) {
            bracket->low = pressure;
            bracket->low_surplus = bracket->high_surplus;
        }
        pressure = fmin(pressure - stride * bracket->low_surplus, ER_DEMAND_MOST);
        stride *= 2.0;
    }
}

/* From a pressure of 0 that is more than enough, down to one that is not. */
static enum er_status descend(struct er_demand_search *search, struct bracket *bracket)
{
    for (double stride = 1.25;; stride *= 2.0) {
        double pressure = bracket->high - stride * bracket->high_surplus;
        enum er_status status = solve_at(search, pressure);
        if (status != ER_OK || search->least.surplus < 0.0) {
            bracket->low = pressure;
            bracket->low_surplus = search->least.surplus;
            return status;
        }
        bracket->high = pressure;
        bracket->high_surplus = search->least.surplus;
    }
}

/* The worst surplus at a pressure; its slope by that of the line from the last one tried. */
static double surplus_at(void *context, double pressure, double *slope)
{
    struct er_demand_search *search = context;
    if (search->status != ER_OK || solve_at(search, pressure) != ER_OK) {
        return ER_NONE; /* the search ends without another solution */
    }
    double surplus = search->least.surplus;
    *slope = (surplus - search->last_surplus) / (pressure - search->last_pressure);
    search->last_pressure = pressure;
    search->last_surplus = surplus;
    return surplus;
}

static enum er_status close_on(struct er_demand_search *search, const struct bracket *bracket)
{
    double scale = scale_of(&search->least);
    search->last_pressure = bracket->high;
    search->last_surplus = bracket->high_surplus;
    double share = bracket->low_surplus / (bracket->low_surplus - bracket->high_surplus);
    struct er_closure closure = {.function = surplus_at,
                                 .context = search,
                                 .low = bracket->low,
                                 .high = bracket->high,
                                 .guess = bracket->low + share * (bracket->high - bracket->low),
                                 .tolerance = CLOSED * scale};
    double pressure;
    double residual;
    enum er_status status = er_close(&closure, &pressure, &residual);
    if (search->status != ER_OK) {
        return search->status;
    }
    return status == ER_OK || fabs(residual) <= ROUNDED * scale ? ER_OK : ER_NOT_CLOSED;
}

static enum er_status run(struct er_demand_search *search, bool dirty, er_demand_blocked *blocked,
                          void *context, bool below_zero, struct er_duty *duty)
{
    *duty = (struct er_duty){.pressure = ER_NONE, .flow = ER_NONE};
    search->network.dirty = dirty;
    struct bracket bracket;
    enum er_status status = climb(search, blocked, context, &bracket);
    if (status != ER_OK || bracket.left_out) {
        return status;
    }
    if (below_zero && !(bracket.high > 0.0)) {
        status = descend(search, &bracket);
    }
    if (status == ER_OK && bracket.high > bracket.low) {
        status = close_on(search, &bracket);
        duty->set_by = search->least.place;
    }
    duty->pressure = search->field.source.pressure;
    duty->flow = search->network.flow;
    return status;
}

enum er_status er_demand_search_run(struct er_demand_search *search, bool dirty,
                                    er_demand_blocked *blocked, void *context, struct er_duty *duty)
{
    return run(search, dirty, blocked, context, false, duty);
}

/* Nobody needs to hear of what else is in the way. */
static enum er_status tell_nobody(void *context, const struct er_demand_search *search,
                                  const struct er_margin *margin)
{
    (void)context;
    (void)search;
    (void)margin;
    return ER_OK;
}

enum er_status er_demand_search_place(struct er_demand_search *search, bool dirty,
                                      const struct er_demand_place *place, bool *found)
{
    struct er_duty duty;
    size_t only = er_place_index(&search->field, place);
    for (size_t other = 0; other < er_place_count(&search->field); other++) {
        search->left_out[other] = other != only;
    }
    enum er_status status = run(search, dirty, tell_nobody, NULL, true, &duty);
    *found = status == ER_OK && er_given(duty.pressure);
    return status;
}
