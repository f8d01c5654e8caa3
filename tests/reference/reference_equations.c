/* The residuals of a network's equations, and their derivatives. */
#include "reference_equations.h"

#include <math.h>

#include "reference_laws.h"

static const double PRESSURE_SCALE = 10;  /* m */
static const double NOMINAL_POSITION = 2; /* of an emitter: pressure and flow both nominal */

static size_t flow_place(size_t node) { return 2 * node; }
static size_t pressure_place(size_t node) { return 2 * node + 1; }

/* The flow that counts as 1 in a link; a dead branch of the mainline goes by the source's. */
static double flow_scale(const struct reference_network *network, size_t node)
{
    double nominal = network->nodes[node].nominal_flow;
    nominal = nominal > 0 ? nominal : network->nodes[0].nominal_flow;
    /* Where every emitter is plugged nothing flows, and any scale serves. */
    return nominal > 0 ? nominal : 1;
}

size_t reference_unknowns(const struct reference_network *network)
{
    return 2 * network->node_count;
}

void reference_start(const struct reference_network *network, double *unknowns)
{
    for (size_t node = 0; node < network->node_count; node++) {
        const struct reference_node *here = &network->nodes[node];
        unknowns[flow_place(node)] = here->nominal_flow > 0 ? 1 : 0;
        unknowns[pressure_place(node)] = here->tape ? NOMINAL_POSITION : 1;
    }
}

double reference_flow(const struct reference_network *network, size_t node, const double *unknowns)
{
    return unknowns[flow_place(node)] * flow_scale(network, node);
}

/* Pressure of a junction, and how it grows with the junction's unknown. */
static struct reference_value pressure_of(const struct reference_network *network, size_t node,
                                          const double *unknowns)
{
    const struct er_tape *tape = network->nodes[node].tape;
    double unknown = unknowns[pressure_place(node)];
    if (tape) {
        return reference_emitter_at(tape, unknown).pressure;
    }
    return (struct reference_value){PRESSURE_SCALE * unknown, PRESSURE_SCALE};
}

double reference_pressure(const struct reference_network *network, size_t node,
                          const double *unknowns)
{
    return pressure_of(network, node, unknowns).value;
}

/* The pressure that a link leaves at its end, and how it grows with the pressure at its start
 * and with its flow. */
struct link_end {
    double pressure, by_parent, by_flow;
};

static struct link_end pipe_end(const struct reference_node *node, double share, double parent,
                                double flow)
{
    struct reference_value friction = reference_friction(share * node->resistance, flow);
    return (struct link_end){parent - share * node->rise - friction.value, 1, -friction.slope};
}

static struct link_end part_end(const struct er_part *part, double parent, double flow)
{
    struct reference_value loss = reference_part_loss(part, flow);
    if (er_given(part->holds) && parent - loss.value > part->holds) {
        return (struct link_end){part->holds, 0, 0};
    }
    return (struct link_end){parent - loss.value, 1, -loss.slope};
}

static struct link_end link_end(const struct reference_system *system, size_t place, double parent,
                                double flow)
{
    const struct reference_node *node = &system->network->nodes[place];
    switch (node->link) {
    case REFERENCE_PIPE:
        return pipe_end(node, system->share, parent, flow);
    case REFERENCE_PART:
        return part_end(node->part, parent, flow);
    case REFERENCE_SOURCE:
        break;
    }
    struct reference_value outlet = reference_source(&system->network->field->source, flow);
    return (struct link_end){outlet.value, 0, outlet.slope};
}

struct writer {
    const struct reference_system *system;
    const double *unknowns;
    double *residuals;
    reference_entry *entry;
    void *matrix;
};

static void put_entry(const struct writer *writer, size_t row, size_t column, double value)
{
    if (writer->entry) {
        writer->entry(writer->matrix, row, column, value);
    }
}

static void put_link(const struct writer *writer, size_t place)
{
    const struct reference_network *network = writer->system->network;
    size_t parent = network->nodes[place].parent, row = flow_place(place);
    struct reference_value here = pressure_of(network, place, writer->unknowns);
    struct reference_value above = pressure_of(network, parent, writer->unknowns);
    double flow = reference_flow(network, place, writer->unknowns);
    struct link_end end = link_end(writer->system, place, above.value, flow);
    if (writer->residuals) {
        writer->residuals[row] = (here.value - end.pressure) / PRESSURE_SCALE;
    }
    put_entry(writer, row, pressure_place(place), here.slope / PRESSURE_SCALE);
    put_entry(writer, row, flow_place(place),
              -end.by_flow * flow_scale(network, place) / PRESSURE_SCALE);
    if (place > 0) {
        put_entry(writer, row, pressure_place(parent),
                  -end.by_parent * above.slope / PRESSURE_SCALE);
    }
}

/* A junction's own part of its balance, and what its link takes from its parent's. */
static void put_balance(const struct writer *writer, size_t place)
{
    const struct reference_network *network = writer->system->network;
    const struct reference_node *node = &network->nodes[place];
    size_t row = pressure_place(place);
    double scale = flow_scale(network, place);
    double relative_flow = writer->unknowns[flow_place(place)];
    struct reference_value emitter = {0, 0};
    if (node->tape) {
        emitter = reference_emitter_at(node->tape, writer->unknowns[row]).flow;
    }
    if (writer->residuals) {
        writer->residuals[row] += relative_flow - emitter.value / scale;
    }
    put_entry(writer, row, flow_place(place), 1);
    put_entry(writer, row, row, -emitter.slope / scale);
    if (place > 0) {
        size_t parent_row = pressure_place(node->parent);
        double weight = node->times * scale / flow_scale(network, node->parent);
        if (writer->residuals) {
            writer->residuals[parent_row] -= weight * relative_flow;
        }
        put_entry(writer, parent_row, flow_place(place), -weight);
    }
}

void reference_equations(const struct reference_system *system, const double *unknowns,
                         double *residuals, reference_entry *entry, void *matrix)
{
    const struct writer writer = {system, unknowns, residuals, entry, matrix};
    size_t nodes = system->network->node_count;
    for (size_t i = 0; residuals && i < 2 * nodes; i++) {
        residuals[i] = 0;
    }
    for (size_t place = 0; place < nodes; place++) {
        put_link(&writer, place);
        put_balance(&writer, place);
    }
}

double reference_largest_residual(const struct reference_system *system, const double *unknowns,
                                  const double *residuals)
{
    double largest = 0;
    for (size_t place = 0; place < system->network->node_count; place++) {
        double pressure = fabs(reference_pressure(system->network, place, unknowns));
        double flow = fabs(unknowns[flow_place(place)]);
        double of_pressure = fabs(residuals[flow_place(place)]) * PRESSURE_SCALE;
        double of_flow = fabs(residuals[pressure_place(place)]);
        double worse = fmax(of_pressure / fmax(1, pressure), of_flow / fmax(1, flow));
        if (!isfinite(of_pressure + of_flow)) {
            return ER_ENDLESS;
        }
        largest = fmax(largest, worse);
    }
    return largest;
}
