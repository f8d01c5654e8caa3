/* The search through all ways to divide the beds, one zone more at a time. */
#include "plan/division.h"

#include <math.h>
#include <stdlib.h>

#define SLACK 1e-7           /* relative: what segments are judged within */
#define LIMIT_TOLERANCE 1e-9 /* relative, as findings have it */
/* Ways to one boundary; the least of each cost is always among them. Chosen: the tests' fields have
 * two at most. Where more would be kept, one that takes a middling amount of both may be lost. */
#define WAYS_KEPT 64

/* One way to a boundary. */
struct way {
    double cost[2];
    size_t before; /* place in the list of ways of the one it goes on from */
    size_t from;   /* the boundary there */
};

struct span {
    size_t first, count; /* in the list of ways */
};

/* What is summed up along the zones. */
enum costs { HOURS_AND_VOLUME, SQUARES_AND_HOURS };

struct search {
    struct er_segments *segments;
    const struct er_division_limits *limits;
    enum costs costs;
    double most_cost[2];
    size_t way_count, way_room;
    struct way *ways;           /* owned */
    size_t layer_count;         /* the first is that of no zone */
    size_t layer_room;          /* layers */
    struct span *layers;        /* beds + 1 to a layer; owned */
    struct way best[WAYS_KEPT]; /* to the boundary at hand */
    size_t best_count;
};

static void cost_of(const struct search *search, const struct er_segment *segment, double cost[2])
{
    double hours = isfinite(search->limits->hours) ? segment->hours : 0.0;
    double volume = isfinite(search->limits->volume) ? segment->volume : 0.0;
    bool squares = search->costs == SQUARES_AND_HOURS;
    cost[0] = squares ? segment->flow * segment->flow : hours;
    cost[1] = squares ? hours : volume;
}

static bool no_worse(const struct way *a, const struct way *b)
{
    return a->cost[0] <= b->cost[0] * (1.0 + SLACK) && a->cost[1] <= b->cost[1] * (1.0 + SLACK);
}

/* Keeps a way, unless another is no worse; forgets those that it is no worse than. */
static void offer(struct search *search, const struct way *way)
{
    if (!(way->cost[0] <= search->most_cost[0] && way->cost[1] <= search->most_cost[1])) {
        return;
    }
    for (size_t w = 0; w < search->best_count; w++) {
        if (no_worse(&search->best[w], way)) {
            return;
        }
    }
    size_t kept = 0;
    for (size_t w = 0; w < search->best_count; w++) {
        if (!no_worse(way, &search->best[w])) {
            search->best[kept++] = search->best[w];
        }
    }
    search->best_count = kept;
    if (kept < WAYS_KEPT) {
        search->best[search->best_count++] = *way;
        return;
    }
    size_t least[2] = {0, 0};
    for (size_t w = 1; w < kept; w++) {
        least[0] = search->best[w].cost[0] < search->best[least[0]].cost[0] ? w : least[0];
        least[1] = search->best[w].cost[1] < search->best[least[1]].cost[1] ? w : least[1];
    }
    size_t out = 0;
    while (out == least[0] || out == least[1]) {
        out++;
    }
    search->best[out] = *way;
}

static struct span *layer_at(const struct search *search, size_t layer)
{
    return &search->layers[layer * (search->segments->beds + 1)];
}

static bool may_use(const struct search *search, const struct er_segment *segment)
{
    return segment->flow >= search->limits->least_flow &&
           segment->flow <= search->limits->largest_flow &&
           er_segment_passes(search->segments, segment);
}

/* Offers every way to `to` whose last zone begins at `from`. */
static void offer_from(struct search *search, size_t layer, size_t from, size_t to)
{
    const struct span *span = &layer_at(search, layer - 1)[from];
    const struct er_segment_row *row = &search->segments->rows[from];
    if (span->count == 0 || row->count < to - from ||
        !may_use(search, &row->segments[to - from - 1])) {
        return;
    }
    double cost[2];
    cost_of(search, &row->segments[to - from - 1], cost);
    for (size_t w = span->first; w < span->first + span->count; w++) {
        struct way way = {
            {search->ways[w].cost[0] + cost[0], search->ways[w].cost[1] + cost[1]}, w, from};
        offer(search, &way);
    }
}

/* Moves the best ways to the boundary `to` into the list. */
static enum er_status keep(struct search *search, size_t layer, size_t to)
{
    size_t needed = search->way_count + search->best_count;
    if (needed > search->way_room) {
        size_t room = 2 * needed + 64;
        struct way *grown = realloc(search->ways, room * sizeof *grown);
        if (grown == NULL) {
            return ER_NO_MEMORY;
        }
        search->ways = grown;
        search->way_room = room;
    }
    layer_at(search, layer)[to] = (struct span){search->way_count, search->best_count};
    for (size_t w = 0; w < search->best_count; w++) {
        search->ways[search->way_count++] = search->best[w];
    }
    search->best_count = 0;
    return ER_OK;
}

static enum er_status add_layer(struct search *search)
{
    size_t width = search->segments->beds + 1;
    if (search->layer_count == search->layer_room) {
        size_t room = 2 * search->layer_room + 4;
        struct span *grown = realloc(search->layers, room * width * sizeof *grown);
        if (grown == NULL) {
            return ER_NO_MEMORY;
        }
        search->layers = grown;
        search->layer_room = room;
    }
    for (size_t b = 0; b < width; b++) {
        layer_at(search, search->layer_count)[b] = (struct span){0, 0};
    }
    search->layer_count++;
    return ER_OK;
}

/* Judges the segments that begin where the layer before can end. */
static enum er_status fill_rows(struct search *search, size_t layer, bool *any)
{
    enum er_status status = ER_OK;
    *any = false;
    for (size_t b = 0; status == ER_OK && b < search->segments->beds; b++) {
        if (layer_at(search, layer - 1)[b].count > 0) {
            status = er_segments_fill(search->segments, b);
            *any = true;
        }
    }
    return status;
}

/* One zone more. *any: there was a boundary to go on from. */
static enum er_status next_layer(struct search *search, bool *any)
{
    struct er_segments *segments = search->segments;
    size_t layer = search->layer_count;
    enum er_status status = add_layer(search);
    if (status == ER_OK) {
        status = fill_rows(search, layer, any);
    }
    for (size_t to = 1; status == ER_OK && *any && to <= segments->beds; to++) {
        size_t start = segments->zone_starts[segments->zones[to - 1]];
        for (size_t from = start; from < to; from++) {
            offer_from(search, layer, from, to);
        }
        status = keep(search, layer, to);
    }
    return status;
}

/* The way with the least first cost among those to the end, and back along it. */
static void trace(const struct search *search, struct er_piece *pieces, size_t count)
{
    size_t to = search->segments->beds;
    const struct span *span = &layer_at(search, count)[to];
    size_t way = span->first;
    for (size_t w = span->first; w < span->first + span->count; w++) {
        way = search->ways[w].cost[0] < search->ways[way].cost[0] ? w : way;
    }
    for (size_t p = count; p-- > 0;) {
        size_t from = search->ways[way].from;
        pieces[p] = er_segment_piece(search->segments, from, to - from);
        to = from;
        way = search->ways[way].before;
    }
}

static enum er_status run(struct search *search, size_t fewest, size_t most,
                          struct er_piece *pieces, size_t *count)
{
    bool any = true;
    enum er_status status = add_layer(search);
    search->best[0] = (struct way){{0.0, 0.0}, 0, 0};
    search->best_count = 1;
    if (status == ER_OK) {
        status = keep(search, 0, 0);
    }
    *count = 0;
    for (size_t k = 1; status == ER_OK && any && k <= most; k++) {
        status = next_layer(search, &any);
        if (status == ER_OK && k >= fewest && layer_at(search, k)[search->segments->beds].count) {
            trace(search, pieces, k);
            *count = k;
            break;
        }
    }
    free(search->ways);
    free(search->layers);
    return status;
}

static enum er_status find(struct er_segments *segments, const struct er_division_limits *limits,
                           enum costs costs, size_t fewest, size_t most, struct er_piece *pieces,
                           size_t *count)
{
    double hours = limits->hours * (1.0 + LIMIT_TOLERANCE);
    double volume = limits->volume * (1.0 + LIMIT_TOLERANCE);
    struct search search = {.segments = segments, .limits = limits, .costs = costs};
    search.most_cost[0] = costs == HOURS_AND_VOLUME ? hours : (double)INFINITY;
    search.most_cost[1] = costs == HOURS_AND_VOLUME ? volume : hours;
    return run(&search, fewest, most, pieces, count);
}

enum er_status er_division_find(struct er_segments *segments,
                                const struct er_division_limits *limits, size_t fewest, size_t most,
                                struct er_piece *pieces, size_t *count)
{
    return find(segments, limits, HOURS_AND_VOLUME, fewest, most, pieces, count);
}

struct flows {
    size_t count;
    double *list; /* m3/s, rising; owned */
};

static int compare(const void *a, const void *b)
{
    double left = *(const double *)a, right = *(const double *)b;
    return (left > right) - (left < right);
}

static enum er_status list_flows(const struct er_segments *segments, struct flows *flows)
{
    size_t room = 0;
    for (size_t b = 0; b < segments->beds; b++) {
        room += segments->rows[b].count;
    }
    flows->count = 0;
    flows->list = calloc(room + 1, sizeof *flows->list);
    if (flows->list == NULL) {
        return ER_NO_MEMORY;
    }
    for (size_t b = 0; b < segments->beds; b++) {
        for (size_t s = 0; s < segments->rows[b].count; s++) {
            const struct er_segment *segment = &segments->rows[b].segments[s];
            if (er_segment_passes(segments, segment)) {
                flows->list[flows->count++] = segment->flow;
            }
        }
    }
    qsort(flows->list, flows->count, sizeof *flows->list, compare);
    return ER_OK;
}

/* Draws one bound in, by halves over the flows that there are, as far as a division is left. */
static enum er_status draw_in(struct er_segments *segments, struct er_division_limits *limits,
                              const struct flows *flows, double *bound, bool largest, size_t zones,
                              struct er_piece *pieces)
{
    size_t low = 0, high = flows->count; /* the largest: in [low, high); the least: before high */
    enum er_status status = ER_OK;
    double good = *bound;
    while (status == ER_OK && low < high) {
        size_t middle = low + (high - low) / 2, count;
        *bound = flows->list[middle] * (largest ? 1.0 + SLACK : 1.0 - SLACK);
        status = er_division_find(segments, limits, zones, zones, pieces, &count);
        good = count > 0 ? *bound : good;
        if ((count > 0) == largest) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    *bound = good;
    return status;
}

/* The least sum of squares, unless that takes more water than there is. */
static enum er_status settle(struct er_segments *segments, const struct er_division_limits *limits,
                             size_t zones, struct er_piece *pieces)
{
    size_t count;
    if (!isfinite(limits->volume)) {
        return find(segments, limits, SQUARES_AND_HOURS, zones, zones, pieces, &count);
    }
    return er_division_find(segments, limits, zones, zones, pieces, &count);
}

enum er_status er_division_even(struct er_segments *segments,
                                const struct er_division_limits *limits, size_t count,
                                struct er_piece *pieces)
{
    struct er_division_limits even = *limits;
    struct flows flows;
    enum er_status status = list_flows(segments, &flows);
    if (status == ER_OK) {
        status = draw_in(segments, &even, &flows, &even.largest_flow, true, count, pieces);
    }
    if (status == ER_OK) {
        status = draw_in(segments, &even, &flows, &even.least_flow, false, count, pieces);
    }
    if (status == ER_OK) {
        status = settle(segments, &even, count, pieces);
    }
    free(flows.list);
    return status;
}
