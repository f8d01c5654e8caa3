/* Why there is so much of everything, in a few words. */
#include <math.h>

#include "report/buy/report.h"

/* What of a reason is told. */
enum shape {
    SHAPE_WORDS,   /* nothing but the words */
    SHAPE_COUNT,   /* how many */
    SHAPE_FIGURE,  /* one figure */
    SHAPE_FROM_TO, /* a range of figures */
    SHAPE_LENGTHS  /* so many of a length: "28 rows x 300 ft" */
};

/* Each says one "%s", but for those of words alone. */
struct phrase {
    enum shape shape;
    enum er_quantity quantity;
    const char *words;
    const char *of_one; /* where the count is 1; NULL: the same */
};

static const struct phrase phrases[ER_REASON_KIND_COUNT] = {
    [ER_REASON_ROWS] = {SHAPE_LENGTHS, ER_LENGTH, "rows", "row"},
    [ER_REASON_EACH_ROW] = {SHAPE_COUNT, ER_LENGTH, "%s rows, one each", "%s row"},
    [ER_REASON_TAPE_JOINTS] = {SHAPE_COUNT, ER_LENGTH, "%s joints, where a roll ends in a row",
                               "%s joint, where a roll ends in a row"},
    [ER_REASON_MAINLINE] = {SHAPE_FIGURE, ER_LENGTH, "%s of mainline", NULL},
    [ER_REASON_LEADS] = {SHAPE_FIGURE, ER_LENGTH, "%s of lead", NULL},
    [ER_REASON_HEADERS] = {SHAPE_FIGURE, ER_LENGTH, "%s of header", NULL},
    [ER_REASON_BORE] = {SHAPE_FIGURE, ER_SMALL_LENGTH, "%s inside", NULL},
    [ER_REASON_RATING] = {SHAPE_FIGURE, ER_PRESSURE, "rated %s", NULL},
    [ER_REASON_PIPE_JOINTS] = {SHAPE_COUNT, ER_LENGTH,
                               "%s joints of lengths; ends with bells need none",
                               "%s joint of lengths; ends with bells need none"},
    [ER_REASON_PIPE_CHANGES] = {SHAPE_COUNT, ER_LENGTH, "%s changes of pipe, as reducers",
                                "%s change of pipe, as a reducer"},
    [ER_REASON_BRANCHES] = {SHAPE_COUNT, ER_LENGTH, "%s branches off the mainline",
                            "%s branch off the mainline"},
    [ER_REASON_HEADER_FEEDS] = {SHAPE_COUNT, ER_LENGTH, "%s headers fed between their ends",
                                "%s header fed between its ends"},
    [ER_REASON_HEADER_ENDS] = {SHAPE_COUNT, ER_LENGTH, "%s ends of headers", "%s end of a header"},
    [ER_REASON_MAINLINE_ENDS] = {SHAPE_COUNT, ER_LENGTH, "%s ends of the mainline",
                                 "%s end of the mainline"},
    [ER_REASON_ZONES] = {SHAPE_COUNT, ER_LENGTH, "%s zones, one each", "%s zone"},
    [ER_REASON_HOLDS] = {SHAPE_FIGURE, ER_PRESSURE, "holds %s", NULL},
    [ER_REASON_PASSES] = {SHAPE_FROM_TO, ER_FLOW, "passes %s", NULL},
    [ER_REASON_RANGE] = {SHAPE_FROM_TO, ER_FLOW, "made for %s", NULL},
    [ER_REASON_MESH] = {SHAPE_WORDS, ER_LENGTH, "150 mesh for tape, 200 for some", NULL},
    [ER_REASON_IN_FILE] = {SHAPE_WORDS, ER_LENGTH, "as the file has it", NULL},
    [ER_REASON_NOT_IN_FILE] = {SHAPE_WORDS, ER_LENGTH, "the file has none", NULL},
    [ER_REASON_GAUGE_SOURCE] = {SHAPE_COUNT, ER_LENGTH, "%s at the source's outlet", NULL},
    [ER_REASON_GAUGE_FILTER] = {SHAPE_COUNT, ER_LENGTH, "%s before and behind the filter",
                                "%s behind the filter"},
    [ER_REASON_GAUGE_HAND] = {SHAPE_COUNT, ER_LENGTH, "%s to carry to the test points", NULL},
    [ER_REASON_TEST_BEDS] = {SHAPE_WORDS, ER_LENGTH, "at the first and last bed of each zone",
                             NULL},
    [ER_REASON_BEHIND_VALVES] = {SHAPE_COUNT, ER_LENGTH, "%s behind the zones' valves",
                                 "%s behind the zone's valve"},
    [ER_REASON_HIGH_HEADERS] = {SHAPE_COUNT, ER_LENGTH,
                                "%s at the top of headers that rise above their valve",
                                "%s at the top of a header that rises above its valve"},
    [ER_REASON_HIGH_MAINLINE] = {SHAPE_COUNT, ER_LENGTH, "%s at high points of the mainline",
                                 "%s at a high point of the mainline"},
    [ER_REASON_KEEPS_PUMP_FULL] = {SHAPE_WORDS, ER_LENGTH,
                                   "keeps water from running back through the pump", NULL},
    [ER_REASON_DRINKING_WATER] =
        {SHAPE_WORDS, ER_LENGTH,
         "of the kind that local code asks for; none where it asks for none", NULL},
    [ER_REASON_INJECTION] = {SHAPE_WORDS, ER_LENGTH, "because the file injects", NULL},
    [ER_REASON_BEDS] = {SHAPE_LENGTHS, ER_LENGTH, "beds", "bed"},
    [ER_REASON_FILM_WIDTH] = {SHAPE_FIGURE, ER_SMALL_LENGTH, "%s wide or wider", NULL},
};

/* From here on to the whole foot or meter, for it is measured off and paid for. */
#define WHOLE_FROM 100.0

const char *er_buy_length(struct er_pen *pen, double length)
{
    const double told = er_from_si(ER_LENGTH, pen->system, length);
    return er_pen_text(pen, "%s %s",
                       told < WHOLE_FROM ? er_pen_number(pen, told) : er_pen_whole(pen, told),
                       er_unit_name(ER_LENGTH, pen->system));
}

/* Whether two figures look the same when they are told. */
static bool looks_same(double a, double b) { return fabs(a - b) <= 1e-9 * fabs(a); }

static const char *lengths(struct er_pen *pen, const struct phrase *phrase,
                           const struct er_reason *reason)
{
    const bool one = !(reason->count > 1.0);
    const char *last = er_pen_figure(pen, phrase->quantity, reason->last);
    const char *what = er_pen_text(pen, "%s %s", er_pen_whole(pen, reason->count),
                                   one ? phrase->of_one : phrase->words);
    if (looks_same(reason->first, reason->last)) {
        return er_pen_text(pen, "%s %s %s", what, one ? "of" : "x", last);
    }
    return er_pen_text(pen, "%s of %s to %s", what,
                       er_pen_bare(pen, phrase->quantity, reason->first), last);
}

static const char *from_to(struct er_pen *pen, enum er_quantity quantity,
                           const struct er_reason *reason)
{
    if (!er_given(reason->last)) {
        return er_pen_text(pen, "%s and more", er_pen_figure(pen, quantity, reason->first));
    }
    const char *last = er_pen_figure(pen, quantity, reason->last);
    if (!er_given(reason->first)) {
        return er_pen_text(pen, "up to %s", last);
    }
    return looks_same(reason->first, reason->last)
               ? last
               : er_pen_text(pen, "%s to %s", er_pen_bare(pen, quantity, reason->first), last);
}

static const char *figure_of(struct er_pen *pen, const struct phrase *phrase,
                             const struct er_reason *reason)
{
    return phrase->shape == SHAPE_COUNT    ? er_pen_whole(pen, reason->count)
           : phrase->shape == SHAPE_FIGURE ? er_pen_figure(pen, phrase->quantity, reason->first)
                                           : from_to(pen, phrase->quantity, reason);
}

static const char *reason_words(struct er_pen *pen, const struct er_reason *reason)
{
    const struct phrase *phrase = &phrases[reason->kind];
    const bool one = phrase->of_one != NULL && !(reason->count > 1.0);
    if (phrase->shape == SHAPE_WORDS) {
        return phrase->words;
    }
    return phrase->shape == SHAPE_LENGTHS ? lengths(pen, phrase, reason)
                                          : er_pen_filled(pen, one ? phrase->of_one : phrase->words,
                                                          figure_of(pen, phrase, reason));
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

/* The reasons that are lengths, or those that are not, one after the other. */
static const char *joined(struct er_pen *pen, const struct er_material *line, bool of_lengths,
                          const char *between)
{
    const char *words = "";
    for (size_t i = 0; i < line->reason_count; i++) {
        if (is_length(line->reasons[i].kind) == of_lengths) {
            words = er_pen_joined(pen, words, between, reason_words(pen, &line->reasons[i]));
        }
    }
    return words;
}

/* What the plan takes, as a sum, and what it is with the waste. */
static const char *length_sum(struct er_pen *pen, const struct er_materials *materials,
                              const struct er_material *line)
{
    size_t parts = 0;
    for (size_t i = 0; i < line->reason_count; i++) {
        parts += is_length(line->reasons[i].kind);
    }
    const struct er_reason all = all_lengths(line);
    const bool as_one = parts > MOST_LENGTHS && all.kind != ER_REASON_KIND_COUNT;
    const char *sum = "", *waste = "";
    if (parts > 1 || all.count > 1.0) {
        sum = er_pen_text(pen, " = %s", er_buy_length(pen, line->takes));
    }
    if (materials->request.waste > 0.0) {
        waste = er_pen_text(pen, ", with %s %% more %s",
                            er_pen_number(pen, 100.0 * materials->request.waste),
                            er_buy_length(pen, line->with_waste));
    }
    return er_pen_text(pen, "%s%s%s",
                       as_one ? reason_words(pen, &all) : joined(pen, line, true, " + "), sum,
                       waste);
}

const char *er_buy_reasons(struct er_pen *pen, const struct er_materials *materials,
                           const struct er_material *line)
{
    const char *others = joined(pen, line, false, "; ");
    if (!line->by_length) {
        return others;
    }
    return er_pen_text(pen, "%s%s%s", length_sum(pen, materials, line),
                       others[0] != '\0' ? "; " : "", others);
}

const char *er_buy_film_width(struct er_pen *pen, const struct er_film_need *film)
{
    return er_pen_text(
        pen,
        "%s: %s across the bed's top%s, 2 x %s for the bed's height%s, and 2 x %s under soil%s",
        er_pen_figure(pen, ER_SMALL_LENGTH, film->width),
        er_pen_bare(pen, ER_SMALL_LENGTH, film->bed_top),
        film->top_assumed ? " (bed_width is taken for it)" : "",
        er_pen_bare(pen, ER_SMALL_LENGTH, film->bed_height),
        film->height_assumed ? " (assumed)" : "", er_pen_bare(pen, ER_SMALL_LENGTH, film->buried),
        film->buried_assumed ? " (the least, by common practice)" : "");
}

const char *er_buy_film_remark(struct er_pen *pen, const struct er_film_need *film)
{
    if (!(film->given_width < film->width * (1.0 - 1e-9))) {
        return NULL;
    }
    const char *given = er_pen_figure(pen, ER_SMALL_LENGTH, film->given_width);
    return film->given_buried > 0.0
               ? er_pen_text(pen,
                             "The film of %s leaves %s of each edge to bury, where %s are wanted: "
                             "make the bed narrower or lower, or take wider film.",
                             given, er_pen_figure(pen, ER_SMALL_LENGTH, film->given_buried),
                             er_pen_figure(pen, ER_SMALL_LENGTH, film->buried))
               : er_pen_text(pen,
                             "The film of %s does not reach the ground on both sides of the bed: "
                             "take wider film.",
                             given);
}

double er_cost_per_area(const struct er_materials *materials, enum er_system system)
{
    return materials->cost / er_from_si(ER_AREA, system, materials->area);
}

double er_cost_per_bed_length(const struct er_materials *materials, enum er_system system)
{
    return 100.0 * materials->cost / er_from_si(ER_LENGTH, system, materials->bed_length);
}
