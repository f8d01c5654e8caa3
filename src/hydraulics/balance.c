/* Closing the zones of a set on their supply.
 *
 * The unknowns are the pressures at the feed points. Raising one raises what its zone takes
 * and lowers what the supply has left, so one zone alone closes by a bracket. Several zones
 * pull on each other: Newton's steps take all of them at once, and where a step gains nothing
 * (a kink: a regulator, a curve's corner) each zone is closed in turn, which always gains. */
#include <math.h>

#include "hydraulics/closure.h"
#include "hydraulics/network.h"

/* Of the pressures: what is left open here must not be seen beside what walks leave open, 1e-11. */
#define BALANCE_TOLERANCE 1e-12
#define ROUNDS_MAX 200  /* chosen; what rounding keeps from closing comes to it in the tests */
#define HALVINGS_MAX 12 /* down to a two-thousandth of the step, which the tests do come to */

struct zone_balance {
    struct er_network *network;
    size_t zone;
};

/* How far a zone's feed pressure stands above what the supply leaves for it. */
static double zone_surplus(void *context, double inlet_pressure, double *slope)
{
    struct zone_balance *at = context;
    struct er_zone_network *zone = &at->network->zones[at->zone];
    er_zone_respond(at->network, zone, inlet_pressure);
    er_supply_update(at->network);
    *slope = 1.0 - er_supply_slope(at->network, at->zone, at->zone) * zone->flow_slope;
    return inlet_pressure - zone->way.left;
}

/* Closes one zone, the others' flows standing as they are. */
static void close_zone(struct er_network *network, size_t z)
{
    struct er_zone_network *zone = &network->zones[z];
    struct zone_balance at = {.network = network, .zone = z};
    double guess = zone->inlet_pressure;
    zone->flow = 0.0;
    er_supply_update(network);
    double most = zone->way.left;
    double least = fmin(zone->arms[0].dry_pressure, zone->arms[1].dry_pressure);
    if (!(most > least)) {
        er_zone_respond(network, zone, most);
        er_supply_update(network);
        return;
    }
    struct er_closure closure = {.function = zone_surplus,
                                 .context = &at,
                                 .low = least,
                                 .high = nextafter(most, ER_ENDLESS),
                                 .guess = guess,
                                 .tolerance = BALANCE_TOLERANCE * fmax(1.0, fabs(most))};
    double inlet_pressure;
    (void)er_close(&closure, &inlet_pressure, NULL);
}

static double worst_surplus(const struct er_network *network)
{
    double worst = 0.0;
    for (size_t z = 0; z < network->zone_count; z++) {
        const struct er_zone_network *zone = &network->zones[z];
        double surplus = fabs(zone->inlet_pressure - zone->way.left);
        worst = fmax(worst, surplus / fmax(1.0, fabs(zone->way.left)));
    }
    return worst;
}

/* Solves the n x n system whose rows are n + 1 long, right side last, in place: Gaussian
 * elimination with row pivots. Returns false where it is singular. */
static bool eliminate(double *rows, size_t n)
{
    size_t width = n + 1;
    for (size_t c = 0; c < n; c++) {
        size_t pivot = c;
        for (size_t r = c + 1; r < n; r++) {
            if (fabs(rows[r * width + c]) > fabs(rows[pivot * width + c])) {
                pivot = r;
            }
        }
        if (!(fabs(rows[pivot * width + c]) > 0.0) || !isfinite(rows[pivot * width + c])) {
            return false;
        }
        for (size_t k = c; k < width; k++) {
            double kept = rows[c * width + k];
            rows[c * width + k] = rows[pivot * width + k];
            rows[pivot * width + k] = kept;
        }
        for (size_t r = 0; r < n; r++) {
            if (r == c) {
                continue;
            }
            double factor = rows[r * width + c] / rows[c * width + c];
            for (size_t k = c; k < width; k++) {
                rows[r * width + k] -= factor * rows[c * width + k];
            }
        }
    }
    for (size_t c = 0; c < n; c++) {
        rows[c * width + n] /= rows[c * width + c];
    }
    return true;
}

static void respond_all(struct er_network *network, const double *from, const double *step,
                        size_t stride, double share)
{
    for (size_t z = 0; z < network->zone_count; z++) {
        er_zone_respond(network, &network->zones[z], from[z] + share * step[z * stride]);
    }
    er_supply_update(network);
}

/* One step for all zones at once, shortened until it gains. Returns whether it did. */
static bool newton_step(struct er_network *network, double surplus)
{
    size_t n = network->zone_count;
    double *rows = network->scratch;
    double *from = rows + n * (n + 1);
    for (size_t a = 0; a < n; a++) {
        const struct er_zone_network *zone = &network->zones[a];
        from[a] = zone->inlet_pressure;
        for (size_t b = 0; b < n; b++) {
            rows[a * (n + 1) + b] = (a == b ? 1.0 : 0.0) -
                                    er_supply_slope(network, a, b) * network->zones[b].flow_slope;
        }
        rows[a * (n + 1) + n] = zone->way.left - zone->inlet_pressure;
    }
    if (!eliminate(rows, n)) {
        return false;
    }
    double share = 1.0;
    for (int halving = 0; halving < HALVINGS_MAX; halving++, share *= 0.5) {
        respond_all(network, from, rows + n, n + 1, share);
        /* A quarter of what a straight line promises is enough: chosen. */
        if (worst_surplus(network) < (1.0 - 0.25 * share) * surplus) {
            return true;
        }
    }
    respond_all(network, from, from, 1, 0.0);
    return false;
}

void er_balance(struct er_network *network)
{
    for (size_t z = 0; z < network->zone_count; z++) {
        close_zone(network, z);
    }
    if (network->zone_count == 1) {
        return;
    }
    for (int round = 0; round < ROUNDS_MAX; round++) {
        double surplus = worst_surplus(network);
        if (surplus <= BALANCE_TOLERANCE) {
            return;
        }
        if (newton_step(network, surplus)) {
            continue;
        }
        if (surplus <= 100.0 * BALANCE_TOLERANCE) {
            return; /* as near as rounding lets it come */
        }
        for (size_t z = 0; z < network->zone_count; z++) {
            close_zone(network, z);
        }
    }
}
