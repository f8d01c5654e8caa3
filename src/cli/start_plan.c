/* The second step of 'start': pressures, zones that the source can feed, a header pipe. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/figure.h"
#include "cli/message.h"
#include "cli/start.h"
#include "evenrow/hydraulics.h"

/* Losses that a first plan allows for, until the makers' sheets are at hand. Common practice,
 * no source. */
#define REGULATOR_LOSS_PSI 2.0
#define FILTER_LOSS_PSI 2.0
#define DIRTY_LOSS_PSI 3.0

/* A regulator is set above the tape's nominal pressure, for what header and slope take. Common
 * practice, no source: 10 psi before tape that is rated at 8 psi. */
#define HOLDS_SHARE 1.25
#define HOLDS_MOST_PSI 14.0 /* just under the 15 psi that a tape is taken to be rated to */

#define HEADER_LOSS_SHARE 0.1 /* of the regulator's pressure, lost along the header */
#define HEADER_VELOCITY 1.5   /* m/s, as the field file's default limit */

static double psi(double value) { return er_to_si(ER_PRESSURE, ER_US, value); }

const char *er_start_say(char said[ER_SAID], enum er_quantity quantity, enum er_system system,
                         double value)
{
    struct er_text number;
    er_text_init(&number);
    er_text_append_figure(&number, er_from_si(quantity, system, value));
    snprintf(said, ER_SAID, "%s %s", er_text_string(&number), er_unit_name(quantity, system));
    er_text_release(&number);
    return said;
}

/* `head` as a round figure of the plan's own units: whole psi, or 5 kPa. */
static double round_pressure(double head, enum er_system system)
{
    double step = system == ER_US ? 1.0 : 5.0;
    double value = er_from_si(ER_PRESSURE, system, head);
    return er_to_si(ER_PRESSURE, system, step * floor(value / step + 0.5));
}

static void plan_pressures(struct er_start *start)
{
    double holds = HOLDS_SHARE * start->tape_pressure;
    if (holds > psi(HOLDS_MOST_PSI) && start->tape_pressure < psi(HOLDS_MOST_PSI)) {
        holds = psi(HOLDS_MOST_PSI);
    }
    start->holds = fmax(round_pressure(holds, start->system), start->tape_pressure);
    start->regulator_loss = round_pressure(psi(REGULATOR_LOSS_PSI), start->system);
    start->filter_loss = round_pressure(psi(FILTER_LOSS_PSI), start->system);
    start->dirty_loss = round_pressure(psi(DIRTY_LOSS_PSI), start->system);
    start->pressure_needed =
        start->holds + start->regulator_loss + start->filter_loss + start->dirty_loss;
}

/* What the source gives while it still has the pressure that the plan needs. A test wide open
 * leaves p(Q) = static (1 - (Q / Q test)^2). */
static int plan_flow(struct er_start *start)
{
    enum er_system system = start->system;
    if (start->source_pressure <= start->pressure_needed) {
        char has[ER_SAID], needs[ER_SAID];
        return er_message(ER_EXIT_BAD_INPUT,
                          "the source has %s, and filter, regulator and tape need more than %s; "
                          "lower --tape-pressure, or raise --source-pressure by a pump",
                          er_start_say(has, ER_PRESSURE, system, start->source_pressure),
                          er_start_say(needs, ER_PRESSURE, system, start->pressure_needed));
    }
    start->usable_flow = start->source_flow;
    if (start->by_bucket) {
        double share = 1.0 - start->pressure_needed / start->source_pressure;
        start->usable_flow = start->bucket_volume / start->bucket_time * sqrt(share);
    }
    return 0;
}

size_t er_start_zone_beds(const struct er_start *start, size_t zone)
{
    return start->beds / start->zones + (zone < start->beds % start->zones ? 1 : 0);
}

static int plan_zones(struct er_start *start)
{
    double most = ER_START_SHARE * start->usable_flow;
    start->bed_flow = start->tape_flow * start->length * (double)start->tapes *
                      sqrt(start->holds / start->tape_pressure);
    double beds_at_once = floor(most / start->bed_flow);
    if (beds_at_once < 1.0) {
        char takes[ER_SAID], gives[ER_SAID];
        double length =
            er_from_si(ER_LENGTH, start->system, start->length * (most / start->bed_flow));
        enum er_system system = start->system;
        return er_message(
            ER_EXIT_BAD_INPUT,
            "one bed takes %s, more than 80 percent of the %s that the source gives "
            "at the pressure needed; it has enough for a bed of %.0f %s ('evenrow reach' tells how "
            "long a row may be)",
            er_start_say(takes, ER_FLOW, system, start->bed_flow),
            er_start_say(gives, ER_FLOW, system, start->usable_flow), floor(length),
            er_unit_name(ER_LENGTH, system));
    }
    start->zones = (size_t)ceil((double)start->beds / beds_at_once);
    return 0;
}

/* Head lost from the first bed to the last of a header of `beds` beds, fed at the first. */
static double header_loss(const struct er_start *start, const struct er_pipe *pipe, size_t beds)
{
    double loss = 0.0;
    for (size_t behind = 1; behind < beds; behind++) {
        loss += er_friction_head((double)behind * start->bed_flow, start->spacing, pipe->c,
                                 pipe->inside_diameter);
    }
    return loss;
}

static bool header_will_do(const struct er_start *start, const struct er_pipe *pipe)
{
    size_t beds = er_start_zone_beds(start, 0);
    double flow = (double)beds * start->bed_flow;
    return flow / er_pipe_area(pipe->inside_diameter) <= HEADER_VELOCITY &&
           header_loss(start, pipe, beds) <= HEADER_LOSS_SHARE * start->holds &&
           !(pipe->max_pressure < start->holds);
}

/* The narrowest pipe of a kind that will do, or NULL. */
static const struct er_pipe *narrowest(const struct er_start *start,
                                       const struct er_catalogue *catalogue, int kind)
{
    const struct er_pipe *best = NULL;
    for (size_t i = 0; i < catalogue->pipe_count; i++) {
        const struct er_pipe *pipe = &catalogue->pipes[i].pipe;
        if (pipe->kind == kind && header_will_do(start, pipe) &&
            (best == NULL || pipe->inside_diameter < best->inside_diameter)) {
            best = pipe;
        }
    }
    return best;
}

/* Poly tube while there is one wide enough, else hose that lies flat, else PVC. */
static int plan_header(struct er_start *start, const struct er_catalogue *catalogue)
{
    static const int kinds[] = {ER_PIPE_POLY, ER_PIPE_OVAL, ER_PIPE_LAYFLAT, ER_PIPE_PVC};
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        const struct er_pipe *pipe = narrowest(start, catalogue, kinds[i]);
        if (pipe != NULL) {
            start->header_pipe = pipe->name;
            return 0;
        }
    }
    return er_message(ER_EXIT_BAD_INPUT,
                      "no pipe of the catalog is wide enough for a header of %zu beds; split them "
                      "by a smaller --beds",
                      er_start_zone_beds(start, 0));
}

int er_start_plan(struct er_start *start, const struct er_catalogue *catalogue)
{
    plan_pressures(start);
    int status = plan_flow(start);
    if (status == 0) {
        status = plan_zones(start);
    }
    return status == 0 ? plan_header(start, catalogue) : status;
}
