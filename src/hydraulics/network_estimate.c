/* A set solved by what its responses are known to give: no walk for each outlet. */
#include <math.h>

#include "hydraulics/network.h"

#define PASSES_MAX 40 /* chosen; in the tests six are enough */
#define BALANCED 1e-9 /* of the feed pressure: as er_network_solve closes */

/* Studies the responses at the outlets' inlet pressures. *learnt is set if one has changed. */
static enum er_status study_outlets(struct er_network *network, bool *learnt)
{
    enum er_status status = ER_OK;
    for (size_t z = 0; status == ER_OK && z < network->zone_count; z++) {
        const struct er_zone_network *zone = &network->zones[z];
        for (size_t o = 0; status == ER_OK && o < zone->outlet_count; o++) {
            const struct er_outlet *outlet = &zone->outlets[o];
            if (outlet->tapes > 0.0) {
                status = er_response_study(&network->pool->responses[outlet->response],
                                           outlet->inlet_pressure, learnt);
            }
        }
    }
    return status;
}

static void read_emitter_pressures(struct er_network *network)
{
    for (size_t z = 0; z < network->zone_count; z++) {
        struct er_zone_network *zone = &network->zones[z];
        for (size_t o = 0; o < zone->outlet_count; o++) {
            struct er_outlet *outlet = &zone->outlets[o];
            outlet->emitter_pressure = er_response_emitter_pressure(
                &network->pool->responses[outlet->response], outlet->inlet_pressure);
        }
    }
}

/* Whether the balance has closed: a source that falls off a cliff leaves a gap. */
static bool is_balanced(const struct er_network *network)
{
    for (size_t z = 0; z < network->zone_count; z++) {
        const struct er_zone_network *zone = &network->zones[z];
        double scale = fmax(1.0, fabs(zone->inlet_pressure));
        if (!(fabs(zone->inlet_pressure - zone->way.left) <= BALANCED * scale)) {
            return false;
        }
    }
    return true;
}

enum er_status er_network_estimate(struct er_network *network, bool dirty)
{
    network->dirty = dirty;
    bool learnt = true;
    for (size_t pass = 0; learnt && pass < PASSES_MAX; pass++) {
        learnt = false;
        er_balance(network);
        enum er_status status = study_outlets(network, &learnt);
        if (status != ER_OK) {
            return status;
        }
    }
    read_emitter_pressures(network);
    return learnt || !is_balanced(network) ? ER_NOT_CLOSED : ER_OK;
}
