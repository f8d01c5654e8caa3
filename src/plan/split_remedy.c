/* What would make a division pass, if that alone were changed.
 *
 * Each is found by asking the whole question again of the field so changed: first more and more
 * until some division passes, then by halves down to the least. Most even divisions are asked
 * first, which is quick; what they leave open, all divisions. */
#include <math.h>

#include "plan/variant.h"

/* Relative: how closely the least change is found. It is told in three figures, rounded up, which
 * is by 0.1 to 1 percent: what is found more closely is rounded away, and with ten times as much
 * here other figures are told. */
#define NEAR_ENOUGH 0.005
/* How far is asked, each try twice the one before and each the whole question. All chosen: a
 * sixty-fourth of the flow, a quarter of the pressure, two sizes and 20 numbers of zones change
 * nothing in the tests of split. */
#define FLOWS_MOST 4096.0        /* times what the source gives now */
#define FIRST_PRESSURE 0.5       /* m */
#define PRESSURE_MOST 64.0       /* m */
#define WIDER_MOST 4             /* sizes */
#define EVEN_DIVISIONS_TRIED 200 /* numbers of zones */

/* A regulator for all that starves the zones' own would only throttle the field. */
static bool throttles(const struct er_variant *variant, const struct er_result *result)
{
    bool starved = false;
    for (size_t f = 0; f < result->finding_count; f++) {
        starved = starved || result->findings[f].code == ER_REGULATOR_STARVED;
    }
    return starved && variant->kind == ER_REMEDY_REGULATOR;
}

/* Whether the pieces, as zones of the changed field, pass: emitter by emitter, or estimated. */
static enum er_status judge(struct er_variant *variant, size_t count, bool exactly, bool *passes)
{
    struct er_splitter *splitter = variant->splitter;
    struct er_field divided;
    struct er_result result;
    struct er_failure failure;
    bool close_call;
    enum er_status status = er_field_divide(&variant->field, splitter->pieces, count,
                                            &variant->layout, &divided, splitter->origins);
    if (status != ER_OK) {
        return status;
    }
    enum er_system speaks = splitter->ask->speaks;
    status = exactly ? er_check(&divided, speaks, &result, &failure)
                     : er_screen_check(&splitter->screen, &divided, speaks, &result, &close_call);
    *passes = status == ER_OK && result.verdict != ER_FAILS && !throttles(variant, &result);
    if (status == ER_OK) {
        er_result_release(&result);
    }
    er_field_release(&divided);
    return status == ER_NOT_CLOSED ? ER_OK : status;
}

/* Whether one of the most even divisions passes. */
static enum er_status ask_evenly(struct er_variant *variant, size_t *zones)
{
    struct er_splitter *splitter = variant->splitter;
    enum er_status status = ER_OK;
    bool passes = false;
    size_t end = splitter->fewest + EVEN_DIVISIONS_TRIED;
    for (size_t k = splitter->fewest; status == ER_OK && !passes && k <= splitter->most && k < end;
         k++) {
        status = er_field_part_evenly(splitter->ask->field, k, splitter->pieces);
        if (status == ER_OK) {
            status = judge(variant, k, false, &passes);
        }
        *zones = passes ? k : 0;
    }
    return status;
}

/* Whether any division passes. What a limit alone decides is asked of the segments at hand. */
static enum er_status ask_all(struct er_variant *variant, size_t *zones)
{
    struct er_splitter *splitter = variant->splitter;
    struct er_division_limits limits = er_day_limits(&variant->field);
    bool limit_alone = variant->kind == ER_REMEDY_FLOW || variant->kind == ER_REMEDY_HOURS;
    struct er_segments fresh = {0}, *segments = limit_alone ? &splitter->segments : &fresh;
    enum er_status status = ER_OK;
    if (!limit_alone) {
        status = er_segments_open(&fresh, &variant->field, &variant->layout, &splitter->screen);
    }
    double kept = segments->flow_limit;
    if (variant->kind == ER_REMEDY_FLOW) {
        segments->flow_limit = variant->field.source.flow_limit;
    }
    if (status == ER_OK) {
        status = er_division_find(segments, &limits, splitter->fewest, splitter->most,
                                  splitter->pieces, zones);
    }
    segments->flow_limit = kept;
    er_segments_release(&fresh);
    return status;
}

enum depth { EVENLY, ALL, ALL_EXACTLY };

/* Whether `amount` helps: *zones gets their number, or 0. */
static enum er_status helps(struct er_variant *variant, double amount, enum depth depth,
                            size_t *zones)
{
    *zones = 0;
    enum er_status status = er_variant_make(variant, amount);
    if (status != ER_OK) {
        return status;
    }
    status = depth == EVENLY ? ask_evenly(variant, zones) : ask_all(variant, zones);
    if (status == ER_OK && depth == ALL_EXACTLY && *zones > 0) {
        bool passes = false;
        status = judge(variant, *zones, true, &passes);
        *zones = passes ? *zones : 0;
    }
    er_field_release(&variant->field);
    return status;
}

/* Draws *good, which helps, in toward `low`, which does not, by halves. */
static enum er_status draw_in(struct er_variant *variant, double low, double *good,
                              enum depth depth)
{
    enum er_status status = ER_OK;
    while (status == ER_OK && *good - low > NEAR_ENOUGH * *good) {
        size_t zones = 0;
        double tried = 0.5 * (low + *good);
        status = helps(variant, tried, depth, &zones);
        *(zones > 0 ? good : &low) = tried;
    }
    return status;
}

/* An amount that helps, the next of a doubling row from `first` to `most` above `low`; it is drawn
 * in. *good: 0 if there is none. */
static enum er_status search_amount(struct er_variant *variant, double low, double first,
                                    double most, enum depth depth, double *good)
{
    enum er_status status = ER_OK;
    size_t zones = 0;
    *good = 0.0;
    for (double tried = first; status == ER_OK && zones == 0 && tried <= most * 1.001;
         tried *= 2.0) {
        status = helps(variant, tried, depth, &zones);
        *good = zones > 0 ? tried : 0.0;
        low = zones > 0 ? low : tried;
    }
    return status == ER_OK && zones > 0 ? draw_in(variant, low, good, depth) : status;
}

/* To three figures, up, or down with -1.0 for `up`. */
static double round_figures(double value, double up)
{
    double step = pow(10.0, floor(log10(value)) - 2.0);
    return up * ceil(up * value / step - 1e-9) * step;
}

/* A pressure that a regulator takes off, so that what it holds has three figures, rounded down. */
static double round_regulator(const struct er_variant *variant, double amount)
{
    enum er_system system = variant->splitter->ask->speaks;
    double resting = er_resting_pressure(variant->splitter->ask->field);
    double holds = er_from_si(ER_PRESSURE, system, resting - amount);
    return resting - er_to_si(ER_PRESSURE, system, round_figures(holds, -1.0));
}

/* `amount` rounded up to three figures in the unit that it is told in. */
static double round_up(const struct er_variant *variant, double amount)
{
    static const enum er_quantity quantities[] = {[ER_REMEDY_FLOW] = ER_FLOW,
                                                  [ER_REMEDY_SUPPLY] = ER_QUANTITY_COUNT,
                                                  [ER_REMEDY_BOTH] = ER_QUANTITY_COUNT,
                                                  [ER_REMEDY_HOURS] = ER_TIME,
                                                  [ER_REMEDY_PRESSURE] = ER_PRESSURE,
                                                  [ER_REMEDY_REGULATOR] = ER_PRESSURE,
                                                  [ER_REMEDY_HEADER] = ER_QUANTITY_COUNT,
                                                  [ER_REMEDY_MAINLINE] = ER_QUANTITY_COUNT};
    enum er_quantity quantity = quantities[variant->kind];
    enum er_system system = variant->splitter->ask->speaks;
    bool unit = quantity != ER_QUANTITY_COUNT;
    double told = unit ? er_from_si(quantity, system, amount) : amount;
    if (variant->kind == ER_REMEDY_REGULATOR) {
        return round_regulator(variant, amount);
    }
    told = round_figures(told, 1.0);
    return unit ? er_to_si(quantity, system, told) : told;
}

/* Adds the remedy if it holds when every emitter is worked out. */
static enum er_status confirm(struct er_variant *variant, double amount, double now, double most)
{
    struct er_split *split = variant->splitter->split;
    size_t zones = 0;
    enum er_status status = ER_OK;
    /* What estimates passed by a hair may fail: then 0.3 percent more, twice at most. The tests
     * need only the first try. */
    for (size_t tries = 0; status == ER_OK && zones == 0 && tries < 3; tries++) {
        amount = fmin(round_up(variant, amount * (1.0 + 0.003 * (double)tries)), most);
        status = helps(variant, amount, ALL_EXACTLY, &zones);
    }
    if (status == ER_OK && zones > 0) {
        split->remedies[split->remedy_count++] =
            (struct er_remedy){.kind = variant->kind, .amount = amount, .now = now, .zones = zones};
        if (variant->kind == ER_REMEDY_REGULATOR) { /* it is told by what it holds */
            split->remedies[split->remedy_count - 1].amount =
                er_resting_pressure(variant->splitter->ask->field) - amount;
        }
    }
    return status;
}

/* An amount between `now` and `most`: first by even divisions, then by all. */
static enum er_status find_amount(struct er_splitter *splitter, enum er_remedy_kind kind,
                                  double now, double first, double most)
{
    struct er_variant variant = {.splitter = splitter, .kind = kind};
    double evenly = 0.0, good = 0.0;
    bool limit_alone = kind == ER_REMEDY_FLOW || kind == ER_REMEDY_HOURS;
    enum er_status status = ER_OK;
    if (!limit_alone) {
        status = search_amount(&variant, now, first, most, EVENLY, &evenly);
    }
    if (status == ER_OK && evenly > 0.0) {
        size_t zones = 0;
        good = evenly;
        /* A step down, to see whether others need less than even ones: how far is chosen. */
        double less = evenly - fmax(0.03 * evenly, 0.1 * (evenly - now));
        status = less > now ? helps(&variant, less, ALL, &zones) : ER_OK;
        if (status == ER_OK && less > now && zones > 0) {
            good = less;
            status = draw_in(&variant, now, &good, ALL);
        } else if (status == ER_OK) {
            status = draw_in(&variant, fmax(less, now), &good, ALL);
        }
    } else if (status == ER_OK) {
        status = search_amount(&variant, now, first, most, ALL, &good);
    }
    return status == ER_OK && good > 0.0 ? confirm(&variant, good, now, most) : status;
}

static enum er_status find_wider(struct er_splitter *splitter, enum er_remedy_kind kind,
                                 const struct er_pipe *widest)
{
    struct er_variant variant = {.splitter = splitter, .kind = kind};
    struct er_split *split = splitter->split;
    enum er_status status = ER_OK;
    size_t zones = 0;
    for (size_t steps = 1; status == ER_OK && zones == 0 && steps <= WIDER_MOST; steps++) {
        const struct er_pipe *pipe = er_wider_pipe(splitter->ask, widest, steps);
        if (pipe == NULL) {
            break;
        }
        status = helps(&variant, (double)steps, ALL_EXACTLY, &zones);
        if (status == ER_OK && zones > 0) {
            split->remedies[split->remedy_count++] = (struct er_remedy){.kind = kind,
                                                                        .amount = (double)steps,
                                                                        .pipe = pipe,
                                                                        .pipe_now = widest,
                                                                        .zones = zones};
        }
    }
    return status;
}

static const struct er_pipe *wider_of(const struct er_pipe *a, const struct er_pipe *b)
{
    return a == NULL || b->inside_diameter > a->inside_diameter ? b : a;
}

static enum er_status find_wider_pipes(struct er_splitter *splitter)
{
    const struct er_field *field = splitter->ask->field;
    const struct er_pipe *header = NULL, *mainline = splitter->ask->layout.pipe;
    for (size_t z = 0; z < field->zone_count; z++) {
        for (size_t p = 0; p < field->zones[z].header.piece_count; p++) {
            header = wider_of(header, field->zones[z].header.pieces[p].pipe);
        }
    }
    for (size_t s = 0; s < field->section_count; s++) {
        mainline = wider_of(mainline, field->mainline[s].pipe);
    }
    enum er_status status = find_wider(splitter, ER_REMEDY_HEADER, header);
    return status == ER_OK && mainline != NULL ? find_wider(splitter, ER_REMEDY_MAINLINE, mainline)
                                               : status;
}

/* More pressure at the source; where that does not help, less, by a regulator. */
static enum er_status find_pressure(struct er_splitter *splitter)
{
    size_t before = splitter->split->remedy_count;
    /* A regulator that takes all of it would leave nothing; a tenth is chosen. */
    double most = 0.9 * er_resting_pressure(splitter->ask->field);
    enum er_status status =
        find_amount(splitter, ER_REMEDY_PRESSURE, 0.0, FIRST_PRESSURE, PRESSURE_MOST);
    if (status == ER_OK && splitter->split->remedy_count == before) {
        status = find_amount(splitter, ER_REMEDY_REGULATOR, 0.0, FIRST_PRESSURE, most);
    }
    return status;
}

/* More flow: a higher limit, a stronger source, or where neither helps by itself, both. */
static enum er_status find_flow(struct er_splitter *splitter)
{
    const struct er_source *source = &splitter->ask->field->source;
    double limit = source->flow_limit;
    bool measured = source->kind != ER_SOURCE_PRESSURE;
    enum er_status status = ER_OK;
    if (er_given(limit)) {
        status = find_amount(splitter, ER_REMEDY_FLOW, limit, 2.0 * limit, FLOWS_MOST * limit);
    }
    if (status == ER_OK && measured) {
        status = find_amount(splitter, ER_REMEDY_SUPPLY, 1.0, 2.0, FLOWS_MOST);
    }
    if (status == ER_OK && measured && er_given(limit) && splitter->split->remedy_count == 0) {
        status = find_amount(splitter, ER_REMEDY_BOTH, 1.0, 2.0, FLOWS_MOST);
    }
    return status;
}

enum er_status er_splitter_find_remedies(struct er_splitter *splitter)
{
    double hours = splitter->limits.hours;
    enum er_status status = find_flow(splitter);
    if (status == ER_OK && hours < ER_DAY) {
        status = find_amount(splitter, ER_REMEDY_HOURS, hours, ER_DAY, ER_DAY);
    }
    if (status == ER_OK) {
        status = find_pressure(splitter);
    }
    return status == ER_OK ? find_wider_pipes(splitter) : status;
}
