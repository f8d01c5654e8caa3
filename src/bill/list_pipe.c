/* Mainline, leads and headers by the length of pipe, and what joins and ends them. */
#include <math.h>
#include <string.h>

#include "bill/count.h"
#include "bill/list.h"
#include "hydraulics/network.h"

/* Two places closer than that are one. */
#define NO_LENGTH 1e-9 /* m */

static bool same_figure(double a, double b) { return (isnan(a) && isnan(b)) || (a <= b && a >= b); }

/* Whether two pipes are bought as one: a file may give the same pipe in several places. */
static bool same_pipe(const struct er_pipe *a, const struct er_pipe *b)
{
    const bool same_name =
        a->name == NULL || b->name == NULL ? a->name == b->name : strcmp(a->name, b->name) == 0;
    return same_name && same_figure(a->inside_diameter, b->inside_diameter) &&
           same_figure(a->c, b->c) && same_figure(a->max_pressure, b->max_pressure) &&
           same_figure(a->price, b->price);
}

struct run {
    const struct er_pipe *pipe;
    double length;
    enum er_stretch stretch;
};

struct runs {
    struct run *runs; /* NULL: they are only counted */
    size_t count;
};

static void add_run(void *context, const struct er_pipe *pipe, double length,
                    enum er_stretch stretch)
{
    struct runs *runs = context;
    if (runs->runs != NULL) {
        runs->runs[runs->count] = (struct run){pipe, length, stretch};
    }
    runs->count++;
}

/* Plans the runs of one pipe onto its lengths, and puts them into a line. Returns the joints. */
static double list_pipe(struct er_list *list, const struct runs *runs, const struct er_pipe *pipe)
{
    static const enum er_reason_kind reasons[] = {[ER_STRETCH_MAINLINE] = ER_REASON_MAINLINE,
                                                  [ER_STRETCH_LEAD] = ER_REASON_LEADS,
                                                  [ER_STRETCH_HEADER] = ER_REASON_HEADERS};
    struct er_material *line = er_list_add(list, ER_MATERIAL_PIPE, "pipe", pipe->name, 5);
    double *lengths = er_list_array(list, runs->count, sizeof *lengths);
    double sums[3] = {0.0}, takes = 0.0;
    size_t count = 0;
    for (size_t i = 0; i < runs->count && lengths != NULL; i++) {
        if (same_pipe(runs->runs[i].pipe, pipe)) {
            sums[runs->runs[i].stretch] += runs->runs[i].length;
            takes += runs->runs[i].length;
            lengths[count++] = er_list_with_waste(list, runs->runs[i].length);
        }
    }
    for (size_t i = 0; i < 3; i++) {
        er_list_reason(line, reasons[i], sums[i] > 0.0, sums[i], ER_NONE);
    }
    er_list_reason(line, ER_REASON_BORE, 1.0, pipe->inside_diameter, ER_NONE);
    er_list_reason(line, ER_REASON_RATING, er_given(pipe->max_pressure), pipe->max_pressure,
                   ER_NONE);
    const struct er_price piece = er_pipe_piece(&list->prices, pipe);
    const struct er_price price = er_pipe_price(&list->prices, pipe);
    struct er_roll_plan plan = {.rolls = 0.0};
    if (lengths != NULL &&
        er_rolls_plan(&list->materials->arena, lengths, count, piece.amount, &plan) != ER_OK) {
        list->out_of_memory = true;
    }
    line->key = "pipes";
    line->unit = "length";
    er_list_set_length(
        list, line, takes, piece,
        (struct er_price){price.amount * piece.amount, price.placeholder || piece.placeholder},
        plan.rolls);
    return plan.joints;
}

static bool is_first(const struct runs *runs, size_t at)
{
    for (size_t i = 0; i < at; i++) {
        if (same_pipe(runs->runs[i].pipe, runs->runs[at].pipe)) {
            return false;
        }
    }
    return true;
}

/* Lists each pipe, in the order of the field. Returns the joints of all. */
static double list_pipes(struct er_list *list)
{
    struct runs runs = {NULL, 0};
    const struct er_counter counter = {.pipe = add_run, .context = &runs};
    er_count_field(list->field, &counter);
    struct run *array = er_list_array(list, runs.count, sizeof *array);
    double joints = 0.0;
    if (array == NULL) {
        return 0.0;
    }
    runs.runs = array;
    runs.count = 0;
    er_count_field(list->field, &counter);
    for (size_t i = 0; i < runs.count; i++) {
        if (is_first(&runs, i)) {
            joints += list_pipe(list, &runs, runs.runs[i].pipe);
        }
    }
    return joints;
}

/* What joins pipes to each other, and ends them. */
struct joining {
    size_t branches, feeds, header_ends, mainline_ends, changes;
};

/* The pipe that a line has come to, and how often it has changed. */
struct stretches {
    const struct er_pipe *pipe; /* NULL: at its start */
    size_t changes;
};

static void count_stretch(void *context, const struct er_pipe *pipe, double from, double to)
{
    (void)from;
    (void)to;
    struct stretches *stretches = context;
    stretches->changes += stretches->pipe != NULL && !same_pipe(stretches->pipe, pipe);
    stretches->pipe = pipe;
}

/* The header's ends, its tee, and the places where it goes on in another pipe. */
static void join_header(struct joining *joining, const struct er_zone *zone)
{
    const double feed = er_feed_distance(zone);
    const double arms[] = {feed, er_header_span(zone) - feed};
    size_t ends = 0;
    for (size_t i = 0; i < 2; i++) {
        struct stretches stretches = {NULL, 0};
        er_header_pieces(&zone->header, 0.0, arms[i], count_stretch, &stretches);
        ends += arms[i] > NO_LENGTH;
        joining->changes += stretches.changes;
    }
    joining->header_ends += ends;
    joining->feeds += ends == 2;
}

/* The end of section `at`, or the headworks' outlet. */
static void join_mainline(struct joining *joining, const struct er_field *field, size_t at)
{
    size_t sections = 0, zones = 0, unlike = 0;
    for (size_t s = 0; s < field->section_count; s++) {
        sections += field->mainline[s].from == at;
        unlike += at != ER_HEADWORKS && field->mainline[s].from == at &&
                  !same_pipe(field->mainline[s].pipe, field->mainline[at].pipe);
    }
    for (size_t z = 0; z < field->zone_count; z++) {
        zones += field->zones[z].on == at;
    }
    const bool ends = at != ER_HEADWORKS && sections == 0;
    const size_t ways = sections + zones + ends; /* a mainline that ends can be flushed there */
    joining->branches += ways > 1 ? ways - 1 : 0;
    joining->mainline_ends += ends;
    joining->changes += sections == 1 && zones == 0 ? unlike : 0;
}

static struct joining find_joining(const struct er_field *field)
{
    struct joining joining = {0};
    join_mainline(&joining, field, ER_HEADWORKS);
    for (size_t s = 0; s < field->section_count; s++) {
        join_mainline(&joining, field, s);
    }
    for (size_t z = 0; z < field->zone_count; z++) {
        join_header(&joining, &field->zones[z]);
    }
    return joining;
}

/* A line of goods that are there for two reasons; none of neither is no line. */
static void list_for_two(struct er_list *list, enum er_good good, enum er_reason_kind kind,
                         double count, enum er_reason_kind other_kind, double other_count)
{
    if (count + other_count > 0.0) {
        struct er_material *line =
            er_list_add_goods(list, ER_MATERIAL_PIPE, good, NULL, count + other_count, 2);
        er_list_count_reason(line, kind, count);
        er_list_count_reason(line, other_kind, other_count);
    }
}

void er_list_pipe(struct er_list *list)
{
    const double joints = list_pipes(list);
    const struct joining joining = find_joining(list->field);
    list_for_two(list, ER_PIPE_COUPLING, ER_REASON_PIPE_JOINTS, joints, ER_REASON_PIPE_CHANGES,
                 (double)joining.changes);
    list_for_two(list, ER_TEE, ER_REASON_BRANCHES, (double)joining.branches, ER_REASON_HEADER_FEEDS,
                 (double)joining.feeds);
    /* A valve to flush the line closes its end as well. Caps are for files that price them alone.
     */
    const double *each = list->prices.each;
    const bool caps = er_given(each[ER_PIPE_END]) && !er_given(each[ER_FLUSH_VALVE]);
    list_for_two(list, caps ? ER_PIPE_END : ER_FLUSH_VALVE, ER_REASON_HEADER_ENDS,
                 (double)joining.header_ends, ER_REASON_MAINLINE_ENDS,
                 (double)joining.mainline_ends);
}
