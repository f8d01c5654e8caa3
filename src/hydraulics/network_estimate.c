/* A set solved by what its responses are known to give: no walk for each outlet. */
#include "hydraulics/network.h"

#define PASSES_MAX 40

/* Studies the responses at the outlets' inlet pressures. *learnt is set if one has changed. */
static enum er_status study_outlets(struct er_network *network, bool *learnt)
{
    enum er_status status = ER_OK;
    for (size_t z = 0; status == ER_OK && z < network->zone_count; z++) {
        const struct er_zone_network *zone = &network->zones[z];
        for (size_t o = 0; status == ER_OK && o < zone->outlet_count; o++) {
            const struct er_outlet *outlet = &zone->outlets[o];
            status = er_response_study(&network->pool->responses[outlet->response],
                                       outlet->inlet_pressure, learnt);
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

enum er_status er_network_estimate(struct er_network *network, bool dirty)
{
    network->dirty = dirty;
    bool learnt = true;
    for (size_t pass = 0; learnt && pass < PASSES_MAX; pass++) {
        learnt = false;
        er_balance(network);
        enum er_status status = study_outlets(network, &learnt);
        if (status != ER_OK)
            return status;
    }
    read_emitter_pressures(network);
    return learnt ? ER_NOT_CLOSED : ER_OK;
}
