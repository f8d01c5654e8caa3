/* Travel times held against sums made apart from the program: from the emitters' flows and the
 * beds' places alone, point by point along the header. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#include "hydraulics/travel.h"
#include "laws.h"
#include "places.h"

static const double LEAST_TIME = 1e-3; /* s */

static double bore(double diameter) { return 3.14159265358979323846 * diameter * diameter / 4; }

/* The emitters of one tape, by their place from the header. */
struct tape_flows {
    double *flow;
    size_t count;
    bool dry;
};

static void note_flow(void *context, size_t emitter, double pressure, double flow)
{
    struct tape_flows *tape = context;
    (void)pressure;
    tape->flow[emitter] = flow;
    tape->dry = tape->dry || !(flow > 0);
}

static struct tape_flows list_flows(const struct er_network *network,
                                    const struct er_outlet *outlet, double length)
{
    struct tape_flows tape = {.count = er_tape_emitters(outlet->group->tape, length)};
    tape.flow = calloc(tape.count + 1, sizeof(double));
    assert_non_null(tape.flow);
    law_visit_tape(network, outlet, note_flow, &tape);
    return tape;
}

static double outlet_length(const struct er_zone *zone, const struct er_outlet *outlet)
{
    struct bed_place place = place_of_bed(zone, outlet->bed);
    return er_bed_length(place.group, place.index, outlet->second_side);
}

/* Seconds from the tape's inlet to its `emitters`-th emitter. Flows are summed from the far end:
 * what is left of a sum after all but the last trickle was taken away would be rounding. */
static double tape_time(const struct er_tape *of, const struct tape_flows *tape, size_t emitters)
{
    double passing = 0;
    double time = 0;
    for (size_t e = tape->count; e-- > 0;) {
        double length = of->emitter_spacing * (e == 0 ? 0.5 : 1.0);
        passing += tape->flow[e];
        time += e < emitters ? bore(of->inside_diameter) * length / passing : 0;
    }
    return time;
}

/* What a zone takes beyond `distance` from its feed point, on one side. */
static double flow_beyond(const struct er_network *network, const struct er_zone_network *zone,
                          double side, double distance)
{
    double flow = 0;
    for (size_t o = 0; o < zone->outlet_count; o++) {
        const struct er_outlet *outlet = &zone->outlets[o];
        double at = place_of_bed(zone->zone, outlet->bed).at - feed_place(zone->zone);
        if (side * at < distance) {
            continue;
        }
        struct tape_flows tape = list_flows(network, outlet, outlet_length(zone->zone, outlet));
        for (size_t e = 0; e < tape.count; e++) {
            flow += tape.flow[e] * outlet->tapes;
        }
        free(tape.flow);
    }
    return flow;
}

static double diameter_at(const struct er_header *header, double distance)
{
    size_t piece = 0;
    for (; piece + 1 < header->piece_count && distance > header->pieces[piece].length; piece++) {
        distance -= header->pieces[piece].length;
    }
    return header->pieces[piece].pipe->inside_diameter;
}

/* The next place after `from` where the header's pipe or its flow changes; `to` at the latest. */
static double next_change(const struct er_zone *zone, double side, double from, double to)
{
    double next = to;
    double piece_end = 0;
    for (size_t p = 0; p + 1 < zone->header.piece_count; p++) {
        piece_end += zone->header.pieces[p].length;
        next = piece_end > from ? fmin(next, piece_end) : next;
    }
    for (size_t bed = 0; bed < bed_count(zone); bed++) {
        double at = side * (place_of_bed(zone, bed).at - feed_place(zone));
        next = at > from ? fmin(next, at) : next;
    }
    return next;
}

/* Seconds from the feed point to a bed. */
static double header_time(const struct er_network *network, const struct er_zone_network *zone,
                          size_t bed)
{
    double at = place_of_bed(zone->zone, bed).at - feed_place(zone->zone);
    double side = at < 0 ? -1 : 1;
    double time = 0;
    for (double from = 0; from < fabs(at) - 1e-9;) {
        double to = next_change(zone->zone, side, from, fabs(at));
        if (to - from > 1e-9) {
            double middle = (from + to) / 2;
            time += bore(diameter_at(&zone->zone->header, middle)) * (to - from) /
                    flow_beyond(network, zone, side, middle);
        }
        from = to;
    }
    return time;
}

static double zone_flow(const struct er_network *network, const struct er_zone_network *zone)
{
    return flow_beyond(network, zone, 1, -1e-9) + flow_beyond(network, zone, -1, 1e-9);
}

/* Whether a zone's water goes through a section. */
static bool passes(const struct er_field *field, const struct er_zone *zone, size_t section)
{
    size_t at = zone->on;
    while (at != ER_HEADWORKS && at != section) {
        at = field->mainline[at].from;
    }
    return at == section;
}

static double mainline_time(const struct er_network *network, const struct er_zone *zone)
{
    const struct er_field *field = network->field;
    double time = 0;
    for (size_t s = 0; s < field->section_count; s++) {
        double flow = 0;
        for (size_t z = 0; passes(field, zone, s) && z < network->zone_count; z++) {
            const struct er_zone_network *other = &network->zones[z];
            flow += passes(field, other->zone, s) ? zone_flow(network, other) : 0;
        }
        if (passes(field, zone, s)) {
            time +=
                bore(field->mainline[s].pipe->inside_diameter) * field->mainline[s].length / flow;
        }
    }
    return time;
}

/* What lead and header hold. */
static double header_volume(const struct er_zone *zone)
{
    double volume = bore(zone->header.pieces[0].pipe->inside_diameter) * zone->header.lead;
    for (int side = -1; side <= 1; side += 2) {
        double reaches = side < 0 ? feed_place(zone) : header_span(zone) - feed_place(zone);
        for (double from = 0; from < reaches - 1e-9;) {
            double to = next_change(zone, side, from, reaches);
            volume += bore(diameter_at(&zone->header, (from + to) / 2)) * (to - from);
            from = to;
        }
    }
    return volume;
}

/* The travel as it ought to be; no times where every row has a dry emitter. */
static struct er_travel sum_travel(const struct er_network *network,
                                   const struct er_zone_network *zone)
{
    const struct er_header *header = &zone->zone->header;
    struct er_travel travel = {
        .earliest = ER_ENDLESS, .latest = -1, .volume = header_volume(zone->zone)};
    double to_feed = ER_NONE;
    for (size_t o = 0; o < zone->outlet_count; o++) {
        const struct er_outlet *outlet = &zone->outlets[o];
        const struct er_tape *of = outlet->group->tape;
        double length = outlet_length(zone->zone, outlet);
        struct tape_flows tape = list_flows(network, outlet, length);
        travel.rows += outlet->tapes;
        travel.dry_rows += tape.dry ? outlet->tapes : 0;
        travel.volume += outlet->tapes * bore(of->inside_diameter) * length;
        if (!tape.dry) {
            if (isnan(to_feed)) {
                to_feed = mainline_time(network, zone->zone) +
                          bore(header->pieces[0].pipe->inside_diameter) * header->lead /
                              zone_flow(network, zone);
            }
            double here = to_feed + header_time(network, zone, outlet->bed);
            travel.earliest = fmin(travel.earliest, here + tape_time(of, &tape, 1));
            travel.latest = fmax(travel.latest, here + tape_time(of, &tape, tape.count));
        }
        free(tape.flow);
    }
    return travel;
}

static void compare(struct law *law, const struct er_network *network,
                    const struct er_zone_network *zone)
{
    struct er_travel travel;
    er_travel_measure(network, zone, &travel);
    struct er_travel wanted = sum_travel(network, zone);
    law_same(law, "rows of tape", travel.rows, wanted.rows, 1);
    law_same(law, "rows with a dry emitter", travel.dry_rows, wanted.dry_rows, 1);
    law_same(law, "volume of header and tapes", travel.volume, wanted.volume, 1e-6);
    if (wanted.latest < 0) {
        law_true(law, "no time where no row is full", isnan(travel.latest));
        return;
    }
    law_same(law, "first emitter reached", travel.earliest, wanted.earliest, LEAST_TIME);
    law_same(law, "last emitter reached", travel.latest, wanted.latest, LEAST_TIME);
    law_same(law, "the parts of the way", travel.mainline + travel.header + travel.tape,
             travel.latest, LEAST_TIME);
    law_true(law, "first before last", travel.earliest <= travel.latest);
}

static enum law_outcome holds_for_every_zone(struct law *law, const struct er_field *field,
                                             struct dice *dice)
{
    (void)dice;
    for (size_t s = 0; s < field->set_count; s++) {
        struct er_network network;
        bool solved = law_solve_set(law, field, s, &network);
        for (size_t z = 0; solved && z < network.zone_count; z++) {
            compare(law, &network, &network.zones[z]);
        }
        er_network_release(&network);
        if (!solved) {
            return LAW_REFUSED;
        }
    }
    return LAW_HELD_ON;
}

static void travel_times_are_the_sums_of_their_pieces(void **state)
{
    (void)state;
    struct law law = {.name = "travel time, the sum of volumes over flows",
                      .allowed = 1e-10,
                      .first_seed = 910000,
                      .wanted = 400};
    law_sweep(&law, holds_for_every_zone);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(travel_times_are_the_sums_of_their_pieces)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
