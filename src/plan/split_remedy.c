/* What would make a division pass, if that alone were changed.
 *
 * Each is found by asking the whole question again of the field so changed: first more and more
 * until some division passes, then by halves down to the least. Most even divisions are asked
 * first, which is quick; what they leave open, all divisions. */
#include <math.h>
#include <string.h>

#include "evenrow/hydraulics.h"
#include "plan/splitter.h"

#define NEAR_ENOUGH 0.005        /* relative: how closely the least change is found */
#define FLOWS_MOST 16.0          /* times what the source gives now */
#define FIRST_PRESSURE 0.5       /* m */
#define PRESSURE_MOST 64.0       /* m */
#define WIDER_MOST 4             /* sizes */
#define EVEN_DIVISIONS_TRIED 200 /* numbers of zones */

/* A field with one thing changed. */
struct variant {
    struct er_splitter *splitter;
    enum er_remedy_kind kind;
    struct er_field field; /* shares with the splitter's; its own arena */
    struct er_zone_layout layout;
};

static enum er_status change_curve(struct er_field *field, double flows, double pressure)
{
    struct er_source *source = &field->source;
    struct er_point *curve = er_arena_array(&field->arena, source->curve_count, sizeof *curve);
    if (curve == NULL) {
        return ER_NO_MEMORY;
    }
    for (size_t p = 0; p < source->curve_count; p++) {
        curve[p].at = source->curve[p].at * flows;
        curve[p].value = source->curve[p].value + pressure;
    }
    source->curve = curve;
    source->test_flow *= flows;
    source->pressure += pressure;
    source->static_pressure += pressure;
    source->test_pressure += pressure;
    return ER_OK;
}

static double resting_pressure(const struct er_field *field)
{
    double slope;
    return er_source_pressure(&field->source, 0.0, &slope);
}

/* A regulator as the last part of the headworks. */
static enum er_status add_regulator(struct er_field *field, double holds)
{
    size_t count = field->headworks_count;
    struct er_part *parts = er_arena_array(&field->arena, count + 1, sizeof *parts);
    if (parts == NULL) {
        return ER_NO_MEMORY;
    }
    for (size_t p = 0; p < count; p++) {
        parts[p] = field->headworks[p];
    }
    parts[count] = (struct er_part){.name = "regulator",
                                    .at_flow = (double)NAN,
                                    .holds = holds,
                                    .min_flow = (double)NAN,
                                    .max_flow = (double)NAN,
                                    .max_pressure = (double)NAN};
    field->headworks = parts;
    field->headworks_count = count + 1;
    return ER_OK;
}

/* The family of a pipe: its name up to the last '-'. */
static size_t family_length(const char *name)
{
    const char *dash = name != NULL ? strrchr(name, '-') : NULL;
    return dash != NULL ? (size_t)(dash - name) : 0;
}

static bool same_family(const struct er_pipe *a, const struct er_pipe *b)
{
    size_t length = family_length(a->name);
    return length > 0 && family_length(b->name) == length && strncmp(a->name, b->name, length) == 0;
}

/* The next wider pipe on offer, of the same family if that has one; NULL: there is none. */
static const struct er_pipe *next_wider(const struct er_split_ask *ask, const struct er_pipe *pipe)
{
    const struct er_pipe *next[2] = {NULL, NULL};
    for (size_t p = 0; p < ask->pipe_count; p++) {
        const struct er_pipe *offer = ask->pipes[p];
        const struct er_pipe **best = &next[same_family(pipe, offer)];
        if (offer->inside_diameter > pipe->inside_diameter * 1.01 &&
            (*best == NULL || offer->inside_diameter < (*best)->inside_diameter)) {
            *best = offer;
        }
    }
    return next[1] != NULL ? next[1] : next[0];
}

/* `steps` sizes wider; NULL: there is none. */
static const struct er_pipe *wider(const struct er_split_ask *ask, const struct er_pipe *pipe,
                                   size_t steps)
{
    for (size_t s = 0; pipe != NULL && s < steps; s++) {
        pipe = next_wider(ask, pipe);
    }
    return pipe;
}

static enum er_status widen_headers(struct variant *variant, size_t steps)
{
    const struct er_split_ask *ask = variant->splitter->ask;
    struct er_field *field = &variant->field;
    struct er_zone *zones = er_arena_array(&field->arena, field->zone_count, sizeof *zones);
    for (size_t z = 0; zones != NULL && z < field->zone_count; z++) {
        zones[z] = field->zones[z];
        struct er_header *header = &zones[z].header;
        struct er_header_piece *pieces =
            er_arena_array(&field->arena, header->piece_count, sizeof *pieces);
        for (size_t p = 0; pieces != NULL && p < header->piece_count; p++) {
            pieces[p] = header->pieces[p];
            const struct er_pipe *pipe = wider(ask, pieces[p].pipe, steps);
            pieces[p].pipe = pipe != NULL ? pipe : pieces[p].pipe;
        }
        header->pieces = pieces;
        if (pieces == NULL) {
            return ER_NO_MEMORY;
        }
    }
    field->zones = zones;
    return zones != NULL ? ER_OK : ER_NO_MEMORY;
}

static enum er_status widen_mainline(struct variant *variant, size_t steps)
{
    const struct er_split_ask *ask = variant->splitter->ask;
    struct er_field *field = &variant->field;
    struct er_section *sections =
        er_arena_array(&field->arena, field->section_count, sizeof *sections);
    if (sections == NULL) {
        return ER_NO_MEMORY;
    }
    for (size_t s = 0; s < field->section_count; s++) {
        sections[s] = field->mainline[s];
        const struct er_pipe *pipe = wider(ask, sections[s].pipe, steps);
        sections[s].pipe = pipe != NULL ? pipe : sections[s].pipe;
    }
    field->mainline = sections;
    if (variant->layout.pipe != NULL) {
        const struct er_pipe *pipe = wider(ask, variant->layout.pipe, steps);
        variant->layout.pipe = pipe != NULL ? pipe : variant->layout.pipe;
    }
    return ER_OK;
}

static enum er_status change(struct variant *variant, double amount)
{
    variant->field = *variant->splitter->ask->field;
    variant->field.arena = (struct er_arena){0};
    variant->layout = variant->splitter->ask->layout;
    enum er_status status = ER_OK;
    switch (variant->kind) {
    case ER_REMEDY_FLOW:
        variant->field.source.flow_limit = amount;
        break;
    case ER_REMEDY_SUPPLY:
        status = change_curve(&variant->field, amount, 0.0);
        break;
    case ER_REMEDY_BOTH:
        variant->field.source.flow_limit *= amount;
        status = change_curve(&variant->field, amount, 0.0);
        break;
    case ER_REMEDY_HOURS:
        variant->field.hours = amount;
        break;
    case ER_REMEDY_PRESSURE:
        status = change_curve(&variant->field, 1.0, amount);
        break;
    case ER_REMEDY_REGULATOR:
        status = add_regulator(&variant->field, resting_pressure(&variant->field) - amount);
        break;
    case ER_REMEDY_HEADER:
        status = widen_headers(variant, (size_t)amount);
        break;
    case ER_REMEDY_MAINLINE:
        status = widen_mainline(variant, (size_t)amount);
        break;
    }
    if (status != ER_OK) {
        er_field_release(&variant->field);
    }
    return status;
}

/* Whether the pieces, as zones of the changed field, pass: emitter by emitter, or estimated. */
static enum er_status judge(struct variant *variant, size_t count, bool exactly, bool *passes)
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
    *passes = status == ER_OK && result.verdict != ER_FAILS;
    if (status == ER_OK) {
        er_result_release(&result);
    }
    er_field_release(&divided);
    return status == ER_NOT_CLOSED ? ER_OK : status;
}

/* Whether one of the most even divisions passes. */
static enum er_status ask_evenly(struct variant *variant, size_t *zones)
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
static enum er_status ask_all(struct variant *variant, size_t *zones)
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
static enum er_status helps(struct variant *variant, double amount, enum depth depth, size_t *zones)
{
    *zones = 0;
    enum er_status status = change(variant, amount);
    if (status != ER_OK) {
        return status;
    }
    status = depth == EVENLY ? ask_evenly(variant, zones) : ask_all(variant, zones);
    if (status == ER_OK && depth == ALL_EXACTLY && *zones > 0) {
        bool passes;
        status = judge(variant, *zones, true, &passes);
        *zones = passes ? *zones : 0;
    }
    er_field_release(&variant->field);
    return status;
}

/* Draws *good, which helps, in toward `low`, which does not, by halves. */
static enum er_status draw_in(struct variant *variant, double low, double *good, enum depth depth)
{
    enum er_status status = ER_OK;
    while (status == ER_OK && *good - low > NEAR_ENOUGH * *good) {
        size_t zones;
        double tried = 0.5 * (low + *good);
        status = helps(variant, tried, depth, &zones);
        *(zones > 0 ? good : &low) = tried;
    }
    return status;
}

/* An amount that helps, the next of a doubling row from `first` to `most` above `low`; it is drawn
 * in. *good: 0 if there is none. */
static enum er_status search_amount(struct variant *variant, double low, double first, double most,
                                    enum depth depth, double *good)
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
static double round_regulator(const struct variant *variant, double amount)
{
    enum er_system system = variant->splitter->ask->speaks;
    double resting = resting_pressure(variant->splitter->ask->field);
    double holds = er_from_si(ER_PRESSURE, system, resting - amount);
    return resting - er_to_si(ER_PRESSURE, system, round_figures(holds, -1.0));
}

/* `amount` rounded up to three figures in the unit that it is told in. */
static double round_up(const struct variant *variant, double amount)
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
static enum er_status confirm(struct variant *variant, double amount, double now, double most)
{
    struct er_split *split = variant->splitter->split;
    size_t zones = 0;
    enum er_status status = ER_OK;
    for (size_t tries = 0; status == ER_OK && zones == 0 && tries < 3; tries++) {
        amount = fmin(round_up(variant, amount * (1.0 + 0.003 * (double)tries)), most);
        status = helps(variant, amount, ALL_EXACTLY, &zones);
    }
    if (status == ER_OK && zones > 0) {
        split->remedies[split->remedy_count++] =
            (struct er_remedy){.kind = variant->kind, .amount = amount, .now = now, .zones = zones};
        if (variant->kind == ER_REMEDY_REGULATOR) { /* it is told by what it holds */
            split->remedies[split->remedy_count - 1].amount =
                resting_pressure(variant->splitter->ask->field) - amount;
        }
    }
    return status;
}

/* An amount between `now` and `most`: first by even divisions, then by all. */
static enum er_status find_amount(struct er_splitter *splitter, enum er_remedy_kind kind,
                                  double now, double first, double most)
{
    struct variant variant = {.splitter = splitter, .kind = kind};
    double evenly = 0.0, good = 0.0;
    bool limit_alone = kind == ER_REMEDY_FLOW || kind == ER_REMEDY_HOURS;
    enum er_status status = ER_OK;
    if (!limit_alone) {
        status = search_amount(&variant, now, first, most, EVENLY, &evenly);
    }
    if (status == ER_OK && evenly > 0.0) {
        size_t zones;
        good = evenly;
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
    struct variant variant = {.splitter = splitter, .kind = kind};
    struct er_split *split = splitter->split;
    enum er_status status = ER_OK;
    size_t zones = 0;
    for (size_t steps = 1; status == ER_OK && zones == 0 && steps <= WIDER_MOST; steps++) {
        const struct er_pipe *pipe = wider(splitter->ask, widest, steps);
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
    double most = 0.9 * resting_pressure(splitter->ask->field);
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
