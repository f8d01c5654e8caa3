#include "report/buy_report.h"

#include <math.h>

#include "say/say.h"

const char *er_material_group_name(enum er_material_group group)
{
    static const char *const names[ER_MATERIAL_GROUP_COUNT] = {
        [ER_MATERIAL_TAPE] = "tape",   [ER_MATERIAL_PIPE] = "pipe",
        [ER_MATERIAL_ZONES] = "zones", [ER_MATERIAL_HEADWORKS] = "headworks",
        [ER_MATERIAL_FILM] = "film",
    };
    return names[group];
}

/* What of a reason is told. */
enum shape {
    SHAPE_WORDS,   /* nothing but the words */
    SHAPE_COUNT,   /* how many */
    SHAPE_FIGURE,  /* one figure */
    SHAPE_FROM_TO, /* a range of figures */
    SHAPE_LENGTHS  /* so many of a length: "28 rows x 300 ft" */
};

struct phrase {
    enum shape shape;
    enum er_quantity quantity;
    const char *before, *after; /* of what is told */
    const char *after_one;      /* where the count is 1; NULL: the same */
};

static const struct phrase phrases[ER_REASON_KIND_COUNT] = {
    [ER_REASON_ROWS] = {SHAPE_LENGTHS, ER_LENGTH, "", "rows", "row"},
    [ER_REASON_EACH_ROW] = {SHAPE_COUNT, ER_LENGTH, "", " rows, one each", " row"},
    [ER_REASON_TAPE_JOINTS] = {SHAPE_COUNT, ER_LENGTH, "", " joints, where a roll ends in a row",
                               " joint, where a roll ends in a row"},
    [ER_REASON_MAINLINE] = {SHAPE_FIGURE, ER_LENGTH, "", " of mainline", NULL},
    [ER_REASON_LEADS] = {SHAPE_FIGURE, ER_LENGTH, "", " of lead", NULL},
    [ER_REASON_HEADERS] = {SHAPE_FIGURE, ER_LENGTH, "", " of header", NULL},
    [ER_REASON_BORE] = {SHAPE_FIGURE, ER_SMALL_LENGTH, "", " inside", NULL},
    [ER_REASON_RATING] = {SHAPE_FIGURE, ER_PRESSURE, "rated ", "", NULL},
    [ER_REASON_PIPE_JOINTS] = {SHAPE_COUNT, ER_LENGTH, "",
                               " joints of lengths; ends with bells "
                               "need none",
                               " joint of lengths; ends with bells need none"},
    [ER_REASON_PIPE_CHANGES] = {SHAPE_COUNT, ER_LENGTH, "", " changes of pipe, as reducers",
                                " change of pipe, as a reducer"},
    [ER_REASON_BRANCHES] = {SHAPE_COUNT, ER_LENGTH, "", " branches off the mainline",
                            " branch off the mainline"},
    [ER_REASON_HEADER_FEEDS] = {SHAPE_COUNT, ER_LENGTH, "", " headers fed between their ends",
                                " header fed between its ends"},
    [ER_REASON_HEADER_ENDS] = {SHAPE_COUNT, ER_LENGTH, "", " ends of headers", " end of a header"},
    [ER_REASON_MAINLINE_ENDS] = {SHAPE_COUNT, ER_LENGTH, "", " ends of the mainline",
                                 " end of the mainline"},
    [ER_REASON_ZONES] = {SHAPE_COUNT, ER_LENGTH, "", " zones, one each", " zone"},
    [ER_REASON_HOLDS] = {SHAPE_FIGURE, ER_PRESSURE, "holds ", "", NULL},
    [ER_REASON_PASSES] = {SHAPE_FROM_TO, ER_FLOW, "passes ", "", NULL},
    [ER_REASON_RANGE] = {SHAPE_FROM_TO, ER_FLOW, "made for ", "", NULL},
    [ER_REASON_MESH] = {SHAPE_WORDS, ER_LENGTH, "150 mesh for tape, 200 for some", "", NULL},
    [ER_REASON_IN_FILE] = {SHAPE_WORDS, ER_LENGTH, "as the file has it", "", NULL},
    [ER_REASON_NOT_IN_FILE] = {SHAPE_WORDS, ER_LENGTH, "the file has none", "", NULL},
    [ER_REASON_GAUGE_SOURCE] = {SHAPE_COUNT, ER_LENGTH, "", " at the source's outlet", NULL},
    [ER_REASON_GAUGE_FILTER] = {SHAPE_COUNT, ER_LENGTH, "", " before and behind the filter",
                                " behind the filter"},
    [ER_REASON_GAUGE_HAND] = {SHAPE_COUNT, ER_LENGTH, "", " to carry to the test points", NULL},
    [ER_REASON_TEST_BEDS] = {SHAPE_WORDS, ER_LENGTH, "at the first and last bed of each zone", "",
                             NULL},
    [ER_REASON_BEHIND_VALVES] = {SHAPE_COUNT, ER_LENGTH, "", " behind the zones' valves",
                                 " behind the zone's valve"},
    [ER_REASON_HIGH_HEADERS] = {SHAPE_COUNT, ER_LENGTH, "",
                                " at the top of headers that rise above their valve",
                                " at the top of a header that rises above its valve"},
    [ER_REASON_HIGH_MAINLINE] = {SHAPE_COUNT, ER_LENGTH, "", " at high points of the mainline",
                                 " at a high point of the mainline"},
    [ER_REASON_KEEPS_PUMP_FULL] = {SHAPE_WORDS, ER_LENGTH,
                                   "keeps water from running back through "
                                   "the pump",
                                   "", NULL},
    [ER_REASON_DRINKING_WATER] = {SHAPE_WORDS, ER_LENGTH,
                                  "of the kind that local code asks for; "
                                  "none where it asks for none",
                                  "", NULL},
    [ER_REASON_INJECTION] = {SHAPE_WORDS, ER_LENGTH, "because the file injects", "", NULL},
    [ER_REASON_BEDS] = {SHAPE_LENGTHS, ER_LENGTH, "", "beds", "bed"},
    [ER_REASON_FILM_WIDTH] = {SHAPE_FIGURE, ER_SMALL_LENGTH, "", " wide or wider", NULL},
};

static void append_told(struct er_text *out, enum er_system system, enum er_quantity quantity,
                        double value)
{
    er_append_number(out, er_from_si(quantity, system, value));
}

/* Whether two figures look the same when they are told. */
static bool looks_same(double a, double b) { return fabs(a - b) <= 1e-9 * fabs(a); }

static void append_lengths(struct er_text *out, enum er_system system, const struct phrase *phrase,
                           const struct er_reason *reason)
{
    const bool one = !(reason->count > 1.0);
    const bool alike = looks_same(reason->first, reason->last);
    er_text_appendf(out, "%.0f %s %s ", reason->count, one ? phrase->after_one : phrase->after,
                    alike && !one ? "x" : "of");
    if (!alike) {
        append_told(out, system, phrase->quantity, reason->first);
        er_text_append(out, " to ");
    }
    er_append_quantity(out, system, phrase->quantity, reason->last);
}

static void append_from_to(struct er_text *out, enum er_system system, enum er_quantity quantity,
                           const struct er_reason *reason)
{
    if (!er_given(reason->last)) {
        er_append_quantity(out, system, quantity, reason->first);
        er_text_append(out, " and more");
        return;
    }
    if (!er_given(reason->first)) {
        er_text_append(out, "up to ");
    } else if (!looks_same(reason->first, reason->last)) {
        append_told(out, system, quantity, reason->first);
        er_text_append(out, " to ");
    }
    er_append_quantity(out, system, quantity, reason->last);
}

static void append_reason(struct er_text *out, enum er_system system,
                          const struct er_reason *reason)
{
    const struct phrase *phrase = &phrases[reason->kind];
    const bool one = phrase->after_one != NULL && !(reason->count > 1.0);
    er_text_append(out, phrase->before);
    switch (phrase->shape) {
    case SHAPE_LENGTHS:
        append_lengths(out, system, phrase, reason);
        return;
    case SHAPE_COUNT:
        er_text_appendf(out, "%.0f", reason->count);
        break;
    case SHAPE_FIGURE:
        er_append_quantity(out, system, phrase->quantity, reason->first);
        break;
    case SHAPE_FROM_TO:
        append_from_to(out, system, phrase->quantity, reason);
        break;
    case SHAPE_WORDS:
        break;
    }
    er_text_append(out, one ? phrase->after_one : phrase->after);
}

/* Whether the reason is a part of the length that the line takes. */
static bool is_length(enum er_reason_kind kind)
{
    return phrases[kind].shape == SHAPE_LENGTHS || kind == ER_REASON_MAINLINE ||
           kind == ER_REASON_LEADS || kind == ER_REASON_HEADERS;
}

/* More kinds of rows than that are told as one. */
#define MOST_LENGTHS 4

/* All lengths as one reason, from the shortest to the longest. */
static struct er_reason all_lengths(const struct er_material *line)
{
    struct er_reason all = {ER_REASON_KIND_COUNT, 0.0, ER_ENDLESS, 0.0};
    for (size_t i = 0; i < line->reason_count; i++) {
        const struct er_reason *reason = &line->reasons[i];
        if (phrases[reason->kind].shape == SHAPE_LENGTHS) {
            all.kind = reason->kind;
            all.count += reason->count;
            all.first = fmin(all.first, fmin(reason->first, reason->last));
            all.last = fmax(all.last, fmax(reason->first, reason->last));
        }
    }
    return all;
}

/* What the plan takes, as a sum, and what it is with the waste. */
static void append_length_sum(struct er_text *out, const struct er_materials *materials,
                              const struct er_material *line, enum er_system system)
{
    size_t parts = 0;
    for (size_t i = 0; i < line->reason_count; i++) {
        parts += is_length(line->reasons[i].kind);
    }
    const struct er_reason all = all_lengths(line);
    if (parts > MOST_LENGTHS && all.kind != ER_REASON_KIND_COUNT) {
        append_reason(out, system, &all);
    } else {
        bool first = true;
        for (size_t i = 0; i < line->reason_count; i++) {
            if (is_length(line->reasons[i].kind)) {
                er_text_append(out, first ? "" : " + ");
                append_reason(out, system, &line->reasons[i]);
                first = false;
            }
        }
    }
    const bool sum = parts > 1 || all.count > 1.0;
    if (sum) {
        er_text_append(out, " = ");
        er_append_quantity(out, system, ER_LENGTH, line->takes);
    }
    if (materials->request.waste > 0.0) {
        er_text_append(out, ", with ");
        er_append_number(out, 100.0 * materials->request.waste);
        er_text_append(out, " % more ");
        er_append_quantity(out, system, ER_LENGTH, line->with_waste);
    }
}

void er_append_reasons(struct er_text *out, const struct er_materials *materials,
                       const struct er_material *line, enum er_system system)
{
    bool first = true;
    if (line->by_length) {
        append_length_sum(out, materials, line, system);
        first = false;
    }
    for (size_t i = 0; i < line->reason_count; i++) {
        if (!is_length(line->reasons[i].kind)) {
            er_text_append(out, first ? "" : "; ");
            append_reason(out, system, &line->reasons[i]);
            first = false;
        }
    }
}

void er_append_film_width(struct er_text *out, const struct er_film_need *film,
                          enum er_system system)
{
    er_append_quantity(out, system, ER_SMALL_LENGTH, film->width);
    er_text_append(out, ": ");
    append_told(out, system, ER_SMALL_LENGTH, film->bed_top);
    er_text_append(out, film->top_assumed
                            ? " across the bed's top (bed_width is taken for it), 2 x "
                            : " across the bed's top, 2 x ");
    append_told(out, system, ER_SMALL_LENGTH, film->bed_height);
    er_text_append(out, film->height_assumed ? " for the bed's height (assumed), and 2 x "
                                             : " for the bed's height, and 2 x ");
    append_told(out, system, ER_SMALL_LENGTH, film->buried);
    er_text_append(out, film->buried_assumed ? " under soil (the least, by common practice)"
                                             : " under soil");
}

void er_append_film_remark(struct er_text *out, const struct er_film_need *film,
                           enum er_system system)
{
    if (!(film->given_width < film->width * (1.0 - 1e-9))) {
        return;
    }
    er_text_append(out, "The film of ");
    er_append_quantity(out, system, ER_SMALL_LENGTH, film->given_width);
    if (film->given_buried > 0.0) {
        er_text_append(out, " leaves ");
        er_append_quantity(out, system, ER_SMALL_LENGTH, film->given_buried);
        er_text_append(out, " of each edge to bury, where ");
        er_append_quantity(out, system, ER_SMALL_LENGTH, film->buried);
        er_text_append(out, " are wanted: make the bed narrower or lower, or take wider film.");
    } else {
        er_text_append(out, " does not reach the ground on both sides of the bed: take wider "
                            "film.");
    }
}

double er_cost_per_area(const struct er_materials *materials, enum er_system system)
{
    return materials->cost / er_from_si(ER_AREA, system, materials->area);
}

double er_cost_per_bed_length(const struct er_materials *materials, enum er_system system)
{
    return 100.0 * materials->cost / er_from_si(ER_LENGTH, system, materials->bed_length);
}
