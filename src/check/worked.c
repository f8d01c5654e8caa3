/* A zone of a check solved again and kept with its lowest row; which zone is least even. */
#include "check/worked.h"

#include <math.h>
#include <string.h>

static void take_ends(void *context, size_t emitter, double pressure, double flow)
{
    struct er_worked_row *row = context;
    row->emitter_flow.min = fmin(row->emitter_flow.min, flow);
    row->emitter_flow.max = fmax(row->emitter_flow.max, flow);
    if (emitter + 1 == row->run.emitters) {
        row->last_pressure = pressure;
        row->last_flow = flow;
    }
    if (emitter == 0) {
        row->first_pressure = pressure;
        row->first_flow = flow;
    }
}

struct er_worked_row er_worked_row_make(const struct er_run *run, const struct er_run_state *state)
{
    struct er_worked_row row = {.run = *run,
                                .inlet_pressure = state->inlet_pressure,
                                .flow = state->inlet_flow,
                                .emitter_flow = {ER_ENDLESS, -ER_ENDLESS}};
    er_run_visit(run, state, take_ends, &row);
    return row;
}

size_t er_least_even_zone(const struct er_result *result)
{
    size_t least = 0;
    for (size_t z = 1; z < result->field->zone_count; z++) {
        if (result->zones[z].emission_uniformity < result->zones[least].emission_uniformity) {
            least = z;
        }
    }
    return least;
}

/* Finds the bed whose far end the check told of, and its place on the header. */
static void find_row(struct er_worked_zone *worked)
{
    const struct er_zone_network *zone = worked->zone;
    for (size_t a = 0; a < 2; a++) {
        const struct er_arm *arm = &zone->arms[a];
        for (size_t n = 0; n < arm->node_count; n++) {
            for (size_t o = 0; o < arm->nodes[n].outlet_count; o++) {
                const struct er_outlet *outlet = &zone->outlets[arm->nodes[n].first_outlet + o];
                if (outlet->bed == worked->result->lowest_bed &&
                    outlet->second_side == worked->result->lowest_second_side) {
                    worked->outlet = outlet;
                    worked->arm = arm;
                    worked->node = n;
                }
            }
        }
    }
    const struct er_response *response = &worked->network.pool->responses[worked->outlet->response];
    worked->row = er_worked_row_make(&response->run, &worked->outlet->state);
}

enum er_status er_worked_zone_open(const struct er_result *result, size_t zone,
                                   struct er_worked_zone *worked)
{
    memset(worked, 0, sizeof *worked);
    worked->result = &result->zones[zone];
    const struct er_set *set = &result->field->sets[worked->result->set];
    enum er_status status = er_network_open(result->field, set, NULL, &worked->network);
    if (status == ER_OK) {
        status = er_network_solve(&worked->network, false);
    }
    for (size_t z = 0; status == ER_OK && z < set->zone_count; z++) {
        if (set->zones[z] != zone) {
            continue;
        }
        worked->zone = &worked->network.zones[z];
        status = er_evenness_measure(&worked->network, &worked->network.zones[z], &worked->even);
    }
    if (status == ER_OK) {
        find_row(worked);
    }
    return status;
}

void er_worked_zone_release(struct er_worked_zone *worked)
{
    er_network_release(&worked->network);
    memset(worked, 0, sizeof *worked);
}
