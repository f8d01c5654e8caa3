/* Readings above what something is rated for. */
#include "visit/danger.h"

#include <math.h>

#include "evenrow/divide.h"
#include "evenrow/hydraulics.h"
#include "visit/places.h"

/* Above a rating by less than that, a pressure is at it: rounding. */
#define ROUNDING 1e-9

/* A reading while the ratings at its place are gone through. */
struct at_gauge {
    const struct er_fault_site *site;
    const struct er_zone *zone;
    size_t reading;
    double pressure; /* m */
    double planned;  /* m, there */
    bool behind;
    struct er_danger *worst;
};

/* Keeps what is over its rating by the largest share. */
static void rate(struct at_gauge *at, enum er_rated what, const char *name, double rating,
                 double pressure)
{
    struct er_danger *worst = at->worst;
    if (!er_given(rating) || !(pressure > rating * (1.0 + ROUNDING)) ||
        (worst->found && !(pressure / rating > worst->times))) {
        return;
    }
    *worst = (struct er_danger){.found = true,
                                .reading = at->reading,
                                .behind = at->behind,
                                .what = what,
                                .name = name,
                                .rating = rating,
                                .times = pressure / rating};
}

static void rate_part(struct at_gauge *at, const struct er_part *part)
{
    if (part != NULL) {
        rate(at, ER_RATED_PART, part->name, part->max_pressure, at->pressure);
    }
}

static void rate_header(struct at_gauge *at, const struct er_zone *zone)
{
    const struct er_pipe *pipe = zone->header.pieces[0].pipe;
    rate(at, ER_RATED_HEADER, pipe->name, pipe->max_pressure, at->pressure);
}

/* What comes behind a zone's valve. */
static void rate_behind_valve(struct at_gauge *at, const struct er_zone *zone)
{
    if (zone->regulator != NULL && !zone->regulator_at_header) {
        rate_part(at, zone->regulator);
    } else {
        rate_header(at, zone);
    }
}

/* Every section and every valve that begins where the headworks end. */
static void rate_behind_headworks(struct at_gauge *at)
{
    const struct er_field *field = at->site->field;
    for (size_t s = 0; s < field->section_count; s++) {
        const struct er_section *section = &field->mainline[s];
        if (section->from == ER_HEADWORKS) {
            rate(at, ER_RATED_SECTION, section->name, section->pipe->max_pressure, at->pressure);
        }
    }
    for (size_t z = 0; z < field->zone_count; z++) {
        const struct er_zone *zone = &field->zones[z];
        if (zone->on == ER_HEADWORKS && zone->valve != NULL) {
            rate_part(at, zone->valve);
        } else if (zone->on == ER_HEADWORKS) {
            rate_behind_valve(at, zone);
        }
    }
}

/* No part gives pressure: each in the headworks has at least what is read behind them. */
static void rate_after_headworks(struct at_gauge *at)
{
    const struct er_field *field = at->site->field;
    for (size_t p = 0; p < field->headworks_count; p++) {
        rate_part(at, &field->headworks[p]);
    }
    rate_behind_headworks(at);
}

static double times_planned(const struct at_gauge *at)
{
    return fmax(1.0, at->pressure / fmax(at->planned, ROUNDING));
}

/* What follows from the source's gauge: each part has what the parts before it leave. */
static void rate_behind_source(struct at_gauge *at)
{
    const struct er_field *field = at->site->field;
    double flow = at->site->set_flow * times_planned(at);
    double slope;
    for (size_t p = 0; p < field->headworks_count; p++) {
        const struct er_part *part = &field->headworks[p];
        rate_part(at, part);
        at->pressure -= er_part_loss(part, flow, false, &slope);
        at->pressure = er_given(part->holds) ? fmin(at->pressure, part->holds) : at->pressure;
    }
    rate_behind_headworks(at);
}

static void rate_tape(struct at_gauge *at, const struct er_tape *tape, double pressure)
{
    rate(at, ER_RATED_TAPE, tape->name, tape->max_pressure, pressure);
}

/* The beds' tapes, by a gauge at the header: they have what it reads, less what the plan loses on
 * the way, and where more than planned runs less yet. */
static void rate_beds(struct at_gauge *at)
{
    double more = times_planned(at);
    for (size_t bed = 0; bed < er_zone_beds(at->zone); bed++) {
        const struct er_tape *tape = er_bed_tape(at->zone, bed);
        double lost = at->planned - at->site->bed_pressures[bed];
        if (tape->connector == NULL || !er_given(tape->connector->holds)) {
            rate_tape(at, tape, at->pressure - lost * (lost > 0.0 ? more : 1.0));
        }
    }
}

static void rate_zone_inlet(struct at_gauge *at)
{
    if (at->zone->regulator_at_header) {
        rate_part(at, at->zone->regulator);
    }
    rate_header(at, at->zone);
}

static void rate_after_valve(struct at_gauge *at)
{
    const struct er_field *field = at->site->field;
    rate_part(at, at->zone->valve);
    rate_behind_valve(at, at->zone);
    if (at->zone->on != ER_HEADWORKS) {
        const struct er_section *section = &field->mainline[at->zone->on];
        rate(at, ER_RATED_SECTION, section->name, section->pipe->max_pressure, at->pressure);
    }
}

/* What a gauge is at. */
static void rate_place(struct at_gauge *at, const struct er_visit_reading *reading)
{
    const struct er_tape *tape;
    switch (reading->kind) {
    case ER_READ_SOURCE:
        if (at->site->field->headworks_count > 0) {
            rate_part(at, &at->site->field->headworks[0]);
        } else {
            rate_behind_headworks(at);
        }
        break;
    case ER_READ_AFTER_PARTS:
        rate_after_headworks(at);
        break;
    case ER_READ_AFTER_VALVE:
        rate_after_valve(at);
        break;
    case ER_READ_HEADER:
        rate_zone_inlet(at);
        break;
    case ER_READ_BED_INLET:
    case ER_READ_BED_FAR_END:
        tape = er_bed_tape(at->zone, reading->bed);
        rate_tape(at, tape, at->pressure);
        if (reading->kind == ER_READ_BED_INLET) {
            rate_part(at, tape->connector);
        }
        break;
    case ER_READ_METER:
    case ER_READ_EMITTER:
    case ER_READ_KINDS:
        break;
    }
}

/* What stands behind a gauge, and was not read itself. */
static void rate_behind(struct at_gauge *at, const struct er_visit_reading *reading)
{
    if (reading->kind == ER_READ_SOURCE) {
        rate_behind_source(at);
    } else if (reading->kind == ER_READ_HEADER) {
        rate_beds(at);
    }
}

struct er_danger er_danger_find(const struct er_fault_site *site,
                                const struct er_measured *measured, const double *planned)
{
    struct er_danger worst = {.found = false};
    struct at_gauge at = {.site = site, .zone = &site->field->zones[site->zone], .worst = &worst};
    /* What was read at a place itself says more than what follows from a gauge before it. */
    for (int pass = 0; pass < 2 && !worst.found; pass++) {
        at.behind = pass == 1;
        for (size_t i = 0; i < measured->reading_count; i++) {
            at.reading = i;
            at.pressure = measured->readings[i].value;
            at.planned = planned[i];
            (at.behind ? rate_behind : rate_place)(&at, &measured->readings[i]);
        }
    }
    return worst;
}
