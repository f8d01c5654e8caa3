/* A visit to every emitter of a zone that adds up its rows, part by part. */
#include "check/rows.h"

#include <math.h>
#include <stdio.h>

#include "hydraulics/network.h"

static const struct er_run *run_of(const struct er_network *network, const struct er_outlet *outlet)
{
    return &network->pool->responses[outlet->response].run;
}

/* ---- flow in each part of a row ---- */

struct part_sums {
    struct er_row *row;
    double nominal;
    double counts[ER_ROW_PARTS];
};

static void add_emitter(void *context, size_t emitter, double pressure, double flow)
{
    struct part_sums *sums = context;
    struct er_row *row = sums->row;
    size_t part = emitter * row->part_count / row->emitters;
    double r = flow / sums->nominal;
    sums->counts[part] += 1.0;
    row->parts[part] += r;
    row->driest[part] = fmin(row->driest[part], r);
    row->pressure.min = fmin(row->pressure.min, pressure);
    row->pressure.max = fmax(row->pressure.max, pressure);
}

/* Leaves in row->parts the mean r, and returns the sum over all its emitters. */
static double measure_row(const struct er_run *run, const struct er_outlet *outlet,
                          struct er_row *row)
{
    struct part_sums sums = {.row = row, .nominal = run->tape->emitter_flow};
    double sum = 0.0;
    row->emitters = run->emitters;
    row->inlet_pressure = outlet->inlet_pressure;
    row->pressure = (struct er_range){ER_ENDLESS, -ER_ENDLESS};
    row->part_count = run->emitters < ER_ROW_PARTS ? run->emitters : ER_ROW_PARTS;
    for (size_t p = 0; p < row->part_count; p++) {
        row->driest[p] = ER_ENDLESS;
    }
    er_run_visit(run, &outlet->state, add_emitter, &sums);
    for (size_t p = 0; p < row->part_count; p++) {
        sum += row->parts[p];
        row->parts[p] /= sums.counts[p];
    }
    return sum;
}

/* ---- pressure along one row ---- */

struct profiling {
    struct er_row_profile *profile;
    const struct er_run *run;
    size_t stride;
};

static void take_point(void *context, size_t emitter, double pressure, double flow)
{
    struct profiling *profiling = context;
    size_t last = profiling->run->emitters - 1;
    (void)flow;
    if (emitter % profiling->stride != 0 && emitter != last) {
        return;
    }
    size_t place =
        emitter == last ? profiling->profile->count - 1 : 1 + emitter / profiling->stride;
    double at =
        profiling->run->first_reach + (double)emitter * profiling->run->tape->emitter_spacing;
    profiling->profile->points[place] = (struct er_point){at, pressure};
}

static enum er_status fill_profile(struct er_arena *arena, const struct er_run *run,
                                   const struct er_outlet *outlet, const struct er_row *row,
                                   struct er_row_profile *profile)
{
    size_t stride = (run->emitters + ER_PROFILE_POINTS - 1) / ER_PROFILE_POINTS;
    struct profiling profiling = {profile, run, stride};
    size_t strided = (run->emitters - 1 + stride - 1) / stride; /* those before the last */
    profile->row = row;
    profile->count = 1 + strided + 1; /* the inlet, those, the last */
    profile->points = er_arena_array(arena, profile->count, sizeof *profile->points);
    if (!profile->points) {
        return ER_NO_MEMORY;
    }
    profile->points[0] = (struct er_point){0.0, outlet->inlet_pressure};
    er_run_visit(run, &outlet->state, take_point, &profiling);
    return ER_OK;
}

/* ---- a zone ---- */

/* Where a group's rows begin among the zone's, and its beds along the header. */
struct group_start {
    size_t row, bed;
    double at;
};

static struct group_start find_start(const struct er_zone *zone, const struct er_bed_group *group)
{
    struct group_start start = {0, 0, 0.0};
    for (size_t g = 0; &zone->groups[g] != group; g++) {
        const struct er_bed_group *before = &zone->groups[g];
        start.row += before->count * (before->both_sides ? 2 : 1);
        start.bed += before->count;
        start.at += er_group_step(zone, g + 1);
    }
    return start;
}

static struct er_row *place_row(const struct er_zone *zone, const struct er_outlet *outlet,
                                struct er_row *rows)
{
    struct group_start start = find_start(zone, outlet->group);
    size_t index = outlet->bed - start.bed;
    size_t sides = outlet->group->both_sides ? 2 : 1;
    struct er_row *row = &rows[start.row + index * sides + (outlet->second_side ? 1 : 0)];
    *row = (struct er_row){
        .group = outlet->group,
        .bed = outlet->bed,
        .second_side = outlet->second_side,
        .at = start.at + (double)index * outlet->group->spacing,
        .length = er_bed_length(outlet->group, index, outlet->second_side),
    };
    return row;
}

/* Parts and driest, over the zone's mean. */
static void divide_by_mean(struct er_zone_rows *zone, double mean)
{
    for (size_t i = 0; i < zone->row_count; i++) {
        struct er_row *row = &zone->rows[i];
        for (size_t p = 0; p < row->part_count; p++) {
            row->parts[p] = mean > 0.0 ? row->parts[p] / mean : ER_NONE;
            row->driest[p] = mean > 0.0 ? row->driest[p] / mean : 0.0;
        }
    }
}

/* A row and the outlet that it was measured at. */
struct extreme {
    const struct er_outlet *outlet;
    const struct er_row *row;
};

/* Measures the rows, finds the lowest and the highest, and returns their mean r. */
static double measure_rows(const struct er_network *network, const struct er_zone_network *solved,
                           struct er_row *rows, struct extreme *lowest, struct extreme *highest)
{
    double sum = 0.0, emitters = 0.0;
    for (size_t o = 0; o < solved->outlet_count; o++) {
        const struct er_outlet *outlet = &solved->outlets[o];
        struct er_row *row = place_row(solved->zone, outlet, rows);
        sum += outlet->tapes * measure_row(run_of(network, outlet), outlet, row);
        emitters += outlet->tapes * (double)row->emitters;
        if (o == 0 || row->pressure.min < lowest->row->pressure.min) {
            *lowest = (struct extreme){outlet, row};
        }
        if (o == 0 || row->pressure.max > highest->row->pressure.max) {
            *highest = (struct extreme){outlet, row};
        }
    }
    return sum / emitters;
}

static enum er_status measure_zone(struct er_arena *arena, const struct er_network *network,
                                   const struct er_zone_network *solved, struct er_zone_rows *zone)
{
    zone->row_count = solved->outlet_count;
    zone->rows = er_arena_array(arena, zone->row_count, sizeof *zone->rows);
    if (!zone->rows) {
        return ER_NO_MEMORY;
    }
    struct extreme low = {&solved->outlets[0], &zone->rows[0]};
    struct extreme high = low;
    divide_by_mean(zone, measure_rows(network, solved, zone->rows, &low, &high));
    enum er_status status =
        fill_profile(arena, run_of(network, low.outlet), low.outlet, low.row, &zone->lowest);
    if (status == ER_OK) {
        status = fill_profile(arena, run_of(network, high.outlet), high.outlet, high.row,
                              &zone->highest);
    }
    return status;
}

static enum er_status measure_set(struct er_rows *rows, size_t set, struct er_failure *failure)
{
    struct er_network network;
    const struct er_set *of = &rows->field->sets[set];
    enum er_status status = er_network_open(rows->field, of, NULL, &network);
    if (status == ER_OK) {
        status = er_network_solve(&network, false);
    }
    if (status == ER_NOT_CLOSED) {
        *failure = network.failure;
        snprintf(failure->what, sizeof failure->what, "set %zu", set + 1);
    }
    for (size_t z = 0; status == ER_OK && z < network.zone_count; z++) {
        status =
            measure_zone(&rows->arena, &network, &network.zones[z], &rows->zones[of->zones[z]]);
    }
    er_network_release(&network);
    return status;
}

enum er_status er_rows_measure(const struct er_field *field, struct er_rows *rows,
                               struct er_failure *failure)
{
    *rows = (struct er_rows){.field = field};
    rows->zones = er_arena_array(&rows->arena, field->zone_count, sizeof *rows->zones);
    if (!rows->zones) {
        return ER_NO_MEMORY;
    }
    enum er_status status = ER_OK;
    for (size_t s = 0; status == ER_OK && s < field->set_count; s++) {
        status = measure_set(rows, s, failure);
    }
    return status;
}

void er_rows_release(struct er_rows *rows)
{
    er_arena_release(&rows->arena);
    rows->zones = NULL;
}
