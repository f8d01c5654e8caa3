/* A field with one thing changed, to ask whether that would help. */
#include <math.h>
#include <string.h>

#include "evenrow/hydraulics.h"
#include "plan/variant.h"

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
    source->shutoff += pressure;
    source->pressure += pressure;
    source->static_pressure += pressure;
    source->test_pressure += pressure;
    return ER_OK;
}

double er_resting_pressure(const struct er_field *field)
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
        /* By a hundredth at least, lest digits of the same size count as wider; chosen. */
        if (offer->inside_diameter > pipe->inside_diameter * 1.01 &&
            (*best == NULL || offer->inside_diameter < (*best)->inside_diameter)) {
            *best = offer;
        }
    }
    return next[1] != NULL ? next[1] : next[0];
}

const struct er_pipe *er_wider_pipe(const struct er_split_ask *ask, const struct er_pipe *pipe,
                                    size_t steps)
{
    for (size_t s = 0; pipe != NULL && s < steps; s++) {
        pipe = next_wider(ask, pipe);
    }
    return pipe;
}

static enum er_status widen_headers(struct er_variant *variant, size_t steps)
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
            const struct er_pipe *pipe = er_wider_pipe(ask, pieces[p].pipe, steps);
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

static enum er_status widen_mainline(struct er_variant *variant, size_t steps)
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
        const struct er_pipe *pipe = er_wider_pipe(ask, sections[s].pipe, steps);
        sections[s].pipe = pipe != NULL ? pipe : sections[s].pipe;
    }
    field->mainline = sections;
    if (variant->layout.pipe != NULL) {
        const struct er_pipe *pipe = er_wider_pipe(ask, variant->layout.pipe, steps);
        variant->layout.pipe = pipe != NULL ? pipe : variant->layout.pipe;
    }
    return ER_OK;
}

enum er_status er_variant_make(struct er_variant *variant, double amount)
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
        status = add_regulator(&variant->field, er_resting_pressure(&variant->field) - amount);
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
