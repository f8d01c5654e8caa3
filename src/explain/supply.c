/* From the source to the feed point, and on to the row: what each thing on the way takes. */
#include <math.h>

#include "explain/explain.h"

/* How far the water has come. Pressures are in the reader's unit, as they were shown last. */
struct way {
    struct er_board *board;
    const struct er_worked_zone *worked;
    double pressure;
    int decimals;
};

static double own(const struct way *way, double pressure)
{
    return er_from_si(ER_PRESSURE, way->board->system, pressure);
}

static double own_flow(const struct way *way, double flow)
{
    return er_from_si(ER_FLOW, way->board->system, flow);
}

static const char *pressure_unit(const struct way *way)
{
    return er_unit_name(ER_PRESSURE, way->board->system);
}

/* Writes the sum that was put together: what the pressure is behind something. */
static void arrive(struct way *way, double pressure, const char *before, const char *name,
                   const char *after)
{
    way->pressure = er_board_sum(way->board, "p", pressure, way->decimals, pressure_unit(way),
                                 er_pen_text(way->board->pen, "%s%s%s", before, name, after));
}

static void pass_part(struct way *way, const struct er_part *part, double flow, const char *what)
{
    bool holds = er_given(part->holds);
    struct er_board *board = way->board;
    double slope;
    double left = way->pressure - own(way, er_part_loss(part, flow, false, &slope));
    if (!holds && !(part->loss > 0.0)) {
        return;
    }
    er_board_sign(board, holds ? "min(" : "");
    er_board_put_shown(board, way->pressure, way->decimals);
    if (part->loss > 0.0) {
        er_board_add(board, -own(way, part->loss));
    }
    if (part->loss > 0.0 && er_given(part->at_flow)) {
        er_board_sign(board, " * (");
        er_board_put(board, own_flow(way, flow));
        er_board_sign(board, " / ");
        er_board_put(board, own_flow(way, part->at_flow));
        er_board_sign(board, ")^2");
    }
    if (holds) {
        er_board_sign(board, ", ");
        er_board_put(board, own(way, part->holds));
        er_board_sign(board, ")");
        left = fmin(left, own(way, part->holds));
    }
    arrive(way, left, "behind ", part->name != NULL ? part->name : what,
           holds ? ", which holds what it is set to" : "");
}

/* Friction in a pipe, and its rise. */
static void pass_pipe(struct way *way, const struct er_stretch *stretch, double rise,
                      const char *before, const char *name)
{
    double friction = stretch->length > 0.0 && stretch->flow > 0.0
                          ? er_explain_friction(way->board, stretch)
                          : 0.0;
    double height = er_explain_rise(way->board, rise);
    if (!(friction > 0.0) && !(fabs(height) > 0.0)) {
        return;
    }
    er_board_put_shown(way->board, way->pressure, way->decimals);
    if (friction > 0.0) {
        er_board_add(way->board, -friction);
    }
    if (fabs(height) > 0.0) {
        er_board_add(way->board, -height);
    }
    arrive(way, way->pressure - friction - height, before, name, "");
}

static void pass_section(struct way *way, const struct er_section *section, double flow)
{
    const struct er_stretch stretch = {
        .length = section->length * (1.0 + section->fittings),
        .flow = flow,
        .c = section->pipe->c,
        .diameter = section->pipe->inside_diameter,
        .measure = ER_LENGTH,
        .length_words = section->fittings > 0.0 ? "with what its fittings add" : "",
        .flow_words = "of the zones beyond"};
    pass_pipe(way, &stretch, section->rise, "at the end of mainline ", section->name);
}

/* From the join to the feed point. */
static void pass_lead(struct way *way)
{
    const struct er_zone *zone = way->worked->zone->zone;
    const struct er_pipe *pipe = zone->header.pieces[0].pipe;
    const struct er_stretch stretch = {.length = zone->header.lead,
                                       .flow = way->worked->zone->flow,
                                       .c = pipe->c,
                                       .diameter = pipe->inside_diameter,
                                       .measure = ER_LENGTH,
                                       .length_words = "from the join to the feed point",
                                       .flow_words = "of the zone"};
    pass_pipe(way, &stretch, zone->rise, "at the header's height", "");
}

/* Whether the zone's water passes section `s`. */
static bool is_on_the_way(const struct er_field *field, const struct er_zone *zone, size_t s)
{
    size_t at = zone->on;
    while (at != ER_HEADWORKS && at != s) {
        at = field->mainline[at].from;
    }
    return at == s;
}

/* The source's pressure where it was tested at one flow. */
static void explain_test(struct way *way, const struct er_source *source, double flow)
{
    struct er_board *board = way->board;
    er_page_note(board->page, "The source between its two readings: the loss grows with the flow's "
                              "square (common practice, no source).");
    er_board_formula(board, "p", "ps - (ps - pt) * (Q / Qt)^2");
    er_board_quantity(board, "ps", ER_PRESSURE, source->static_pressure, "with no flow");
    er_board_quantity(board, "pt", ER_PRESSURE, source->test_pressure, "in the test");
    er_board_quantity(board, "Qt", ER_FLOW, source->test_flow, "in the test");
    er_board_quantity(board, "Q", ER_FLOW, flow, "now");
}

/* The source's curve: from its shutoff, or level, before its first point; straight on past its
 * last. A pump's heads are H, another source's pressures p. */
static void explain_curve(struct way *way, const struct er_source *source, double flow)
{
    struct er_board *board = way->board;
    bool pump = source->kind == ER_SOURCE_PUMP;
    enum er_quantity quantity = pump ? ER_HEAD : ER_PRESSURE;
    size_t end = 1;
    while (end + 1 < source->curve_count && source->curve[end].at < flow) {
        end++;
    }
    const struct er_point *from = &source->curve[end - 1];
    const struct er_point *to = &source->curve[end];
    const struct er_point no_flow = {0.0, source->shutoff};
    if (flow < from->at && er_source_first_flow(source) > 0.0) {
        er_page_note(board->page, "The source's curve is taken as level before its first point.");
        er_board_quantity(board, pump ? "H" : "p", quantity, from->value, "its first point's");
        return;
    }
    if (flow < from->at) {
        to = from;
        from = &no_flow;
    }
    er_page_note(board->page, flow > to->at
                                  ? "The flow lies past the last point of the source's curve, "
                                    "which is drawn straight on."
                                  : "The source's curve is straight between two of its "
                                    "points.");
    er_board_formula(board, pump ? "H" : "p",
                     pump ? "H1 + (H2 - H1) * (Q - Q1) / (Q2 - Q1)"
                          : "p1 + (p2 - p1) * (Q - Q1) / (Q2 - Q1)");
    er_board_quantity(board, "Q1", ER_FLOW, from->at, "");
    er_board_quantity(board, pump ? "H1" : "p1", quantity, from->value, "");
    er_board_quantity(board, "Q2", ER_FLOW, to->at, "");
    er_board_quantity(board, pump ? "H2" : "p2", quantity, to->value, "");
    er_board_quantity(board, "Q", ER_FLOW, flow, "now");
    if (pump) {
        double head =
            from->value + (to->value - from->value) * (flow - from->at) / (to->at - from->at);
        (void)er_board_result(board, "H", er_from_si(ER_HEAD, board->system, head),
                              er_from_si(ER_HEAD, board->system, from->value),
                              er_unit_name(ER_HEAD, board->system), "head of the pump");
    }
}

/* A pump's head less lift and suction, as a pressure. */
static void explain_pump(struct way *way, const struct er_source *source, double flow)
{
    struct er_board *board = way->board;
    double slope;
    double friction = er_suction_friction(&source->suction, flow, &slope);
    double left = er_source_pressure(source, flow, &slope);
    if (friction > 0.0) {
        const struct er_stretch suction = {.length = source->suction.length,
                                           .flow = flow,
                                           .c = source->suction.pipe->c,
                                           .diameter = source->suction.pipe->inside_diameter,
                                           .measure = ER_LENGTH,
                                           .length_words = "of suction pipe",
                                           .flow_words = "the pump's"};
        (void)er_explain_friction(board, &suction);
    }
    er_board_formula(board, "p", "(H - z - h) * k");
    er_board_quantity(board, "H", ER_HEAD, left + source->lift + friction, "head of the pump");
    er_board_quantity(board, "z", ER_HEAD, source->lift, "the outlet above the water");
    er_board_quantity(board, "h", ER_HEAD, friction, "friction in the suction pipe");
    er_board_number(board, "k", own(way, er_to_si(ER_HEAD, board->system, 1.0)), pressure_unit(way),
                    board->system == ER_US ? "for 1 ft of water" : "for 1 m of water");
}

/* What the source has left at the set's flow. */
static void explain_source(struct way *way)
{
    const struct er_network *network = &way->worked->network;
    const struct er_source *source = &network->field->source;
    double pressure = own(way, network->source_pressure);
    if (source->kind == ER_SOURCE_TEST) {
        explain_test(way, source, network->flow);
    } else if (source->kind != ER_SOURCE_PRESSURE) {
        explain_curve(way, source, network->flow);
    }
    if (source->kind == ER_SOURCE_PUMP) {
        explain_pump(way, source, network->flow);
    }
    double scale = source->kind == ER_SOURCE_TEST ? own(way, source->static_pressure) : pressure;
    way->pressure =
        er_board_result(way->board, "p", pressure, scale, pressure_unit(way), "at the source");
    way->decimals = er_board_decimals(scale, ER_BOARD_OUT);
}

/* The flow of the zones that run together. */
static void explain_flow(struct way *way)
{
    const struct er_network *network = &way->worked->network;
    struct er_board *board = way->board;
    if (network->zone_count < 2) {
        return;
    }
    double *flows = er_pen_room(&board->page->pen, network->zone_count, sizeof *flows);
    for (size_t z = 0; flows != NULL && z < network->zone_count; z++) {
        flows[z] = own_flow(way, network->zones[z].flow);
    }
    if (flows != NULL) {
        double total = own_flow(way, network->flow);
        er_page_note(board->page, "The zones of this set run together.");
        (void)er_board_total(board, "Q", flows, network->zone_count,
                             er_board_decimals(total, ER_BOARD_OUT),
                             er_unit_name(ER_FLOW, board->system), "flow of the set");
    }
}

void er_explain_supply(struct er_board *board, const struct er_worked_zone *worked)
{
    const struct er_network *network = &worked->network;
    const struct er_field *field = network->field;
    const struct er_zone *zone = worked->zone->zone;
    struct way way = {.board = board, .worked = worked};
    double flow = worked->zone->flow;
    er_page_heading(board->page, "From the source to the header of zone %s", zone->name);
    explain_flow(&way);
    explain_source(&way);
    for (size_t p = 0; p < field->headworks_count; p++) {
        pass_part(&way, &field->headworks[p], network->flow, "a part of the headworks");
    }
    for (size_t s = 0; s < field->section_count; s++) {
        const struct er_section *section = &field->mainline[s];
        if (is_on_the_way(field, zone, s)) {
            pass_section(&way, section, network->sections[s].flow);
        }
    }
    if (zone->valve != NULL) {
        pass_part(&way, zone->valve, flow, "the valve");
    }
    if (zone->regulator != NULL && !zone->regulator_at_header) {
        pass_part(&way, zone->regulator, flow, "the regulator");
    }
    pass_lead(&way);
    if (zone->regulator != NULL && zone->regulator_at_header) {
        pass_part(&way, zone->regulator, flow, "the regulator");
    }
    er_board_quantity(board, "pf", ER_PRESSURE, worked->zone->inlet_pressure,
                      "what the header asks for at its feed point when it takes that flow: the "
                      "two agree");
}

/* The first stretch of a reach. */
static void take_first(void *context, const struct er_pipe *pipe, double from, double to)
{
    struct er_stretch *stretch = context;
    if (!(stretch->diameter > 0.0)) {
        stretch->c = pipe->c;
        stretch->diameter = pipe->inside_diameter;
        stretch->length = to - from;
    }
}

/* The first stretch of header pipe on the way to the row. */
static void explain_header_reach(struct way *way)
{
    const struct er_arm *arm = way->worked->arm;
    struct er_stretch stretch = {.measure = ER_LENGTH,
                                 .length_words = "of one pipe, from the feed point on",
                                 .flow_words = "all that this side of the feed point takes"};
    double from = 0.0;
    for (size_t n = 0; n < arm->node_count && !(stretch.diameter > 0.0); n++) {
        stretch.flow = arm->nodes[n].reach_flow;
        er_header_pieces(&way->worked->zone->zone->header, from, arm->nodes[n].distance, take_first,
                         &stretch);
        if (n > 0) {
            stretch.length_words = "of one pipe, the first stretch of header";
            stretch.flow_words = "all that goes on along it";
        }
        from = arm->nodes[n].distance;
    }
    if (stretch.diameter > 0.0 && stretch.flow > 0.0) {
        er_page_note(way->board->page, "Friction in one stretch of the header.");
        (void)er_explain_friction(way->board, &stretch);
    }
}

void er_explain_header(struct er_board *board, const struct er_worked_zone *worked)
{
    const struct er_node *node = &worked->arm->nodes[worked->node];
    const struct er_part *connector = worked->outlet->connector;
    struct way way = {.board = board, .worked = worked};
    double feed = own(&way, worked->zone->inlet_pressure);
    double friction = own(&way, worked->zone->inlet_pressure - node->pressure - node->rise);
    er_page_heading(board->page, "Along the header to its weakest row");
    explain_header_reach(&way);
    er_page_note(board->page,
                 "From the feed point: all its friction on the way to the row's bed, one "
                 "stretch after another.");
    double rise = er_explain_rise(board, node->rise);
    way.decimals = er_board_decimals(feed, ER_BOARD_OUT);
    er_board_put(board, feed);
    if (friction > 1e-9) {
        er_board_add(board, -friction);
    }
    if (fabs(rise) > 0.0) {
        er_board_add(board, -rise);
    }
    arrive(&way, own(&way, node->pressure), "in the header at the bed", "", "");
    if (connector != NULL) {
        pass_part(&way, connector, worked->outlet->flow, "the connector");
    }
}
