/* The list of findings, and how they say figures. */
#include "check/judge.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/figure.h"

#define LIMIT_TOLERANCE 1e-9 /* relative: a limit is passed only where it is exceeded by more */
#define CLOSE_CALL 1e-6      /* relative; of a limit of 0, m: nearer, an estimate may mislead */
#define VACUUM 1e-9          /* m below zero that count as such */

static const struct er_finding_kind kinds[ER_FINDING_COUNT] = {
    [ER_SOURCE_FLOW] = {"source-flow", ER_FAIL, "a set needs more than the source may give"},
    [ER_CURVE_END] = {"curve-end", ER_FAIL, "a set draws more than the source was measured for"},
    [ER_ROW_DRY] = {"row-dry", ER_FAIL, "an emitter gets no water"},
    [ER_PRESSURE_LOW] = {"pressure-low", ER_FAIL, "an emitter is below its tape's rating"},
    [ER_PRESSURE_HIGH] = {"pressure-high", ER_FAIL,
                          "a tape, a running pipe or a part is above its rating"},
    [ER_STATIC_HIGH] = {"static-high", ER_FAIL,
                        "with every valve shut, a pipe or part is above its rating"},
    [ER_UNIFORMITY_LOW] = {"uniformity-low", ER_FAIL, "emission uniformity is below the limit"},
    [ER_FLOW_UNEVEN] = {"flow-uneven", ER_FAIL, "flow variation is above the limit"},
    [ER_HOURS_SHORT] = {"hours-short", ER_FAIL, "a day has too few hours for all sets"},
    [ER_IRRIGATION_LONG] = {"irrigation-long", ER_FAIL,
                            "the sets' runs do not go whole into the days of the interval"},
    [ER_STORAGE_SHORT] = {"storage-short", ER_FAIL,
                          "a day's water is more than storage and refill give"},
    [ER_SOURCE_ASSUMED] = {"source-assumed", ER_CAUTION,
                           "nobody has measured what flow the pressure holds"},
    [ER_CURVE_START] = {"curve-start", ER_CAUTION,
                        "a set draws less than the source's curve starts from"},
    [ER_SOURCE_TIGHT] = {"source-tight", ER_CAUTION,
                         "a set takes more than 90 percent of the source's flow"},
    [ER_HOURS_TIGHT] = {"hours-tight", ER_CAUTION, "more than 90 percent of the hours are needed"},
    [ER_STORAGE_LOW] = {"storage-low", ER_CAUTION, "less than 14 days of supply are stored"},
    [ER_REGULATOR_STARVED] = {"regulator-starved", ER_CAUTION,
                              "a regulator gets less than what it should hold"},
    [ER_REGULATOR_RANGE] = {"regulator-range", ER_CAUTION,
                            "a part's flow is outside the range it is made for"},
    [ER_PRESSURE_SURGE] = {"pressure-surge", ER_CAUTION,
                           "PVC pipe is above 72 percent of its rating: surges may burst it"},
    [ER_FILTER_DIRTY] = {"filter-dirty", ER_CAUTION,
                         "with filters due for cleaning the plan fails where it held clean"},
    [ER_MAIN_VACUUM] = {"main-vacuum", ER_CAUTION,
                        "pressure is below zero at the source, in the mainline or at a feed point"},
    [ER_VELOCITY_HIGH] = {"velocity-high", ER_CAUTION, "water runs too fast in a pipe"},
    [ER_FLUSH_WEAK] = {"flush-weak", ER_CAUTION, "an opened tape end does not flush"},
    [ER_SOIL_OVER] = {"soil-over", ER_CAUTION,
                      "one irrigation gives more than the root zone holds"},
    [ER_SPACING_WIDE] = {"spacing-wide", ER_CAUTION,
                         "emitters are further apart than the soil spreads the water"},
    [ER_SUCTION_HIGH] = {"suction-high", ER_CAUTION, "the pump's suction asks too much"},
    [ER_ODD_FIGURE] = {"odd-figure", ER_CAUTION,
                       "a figure is possible but looks like a slip of units or of the key"},
};

const struct er_finding_kind *er_finding_kind(enum er_finding_code code) { return &kinds[code]; }

void er_judge_watch(struct er_judge *judge, double value, double limit)
{
    double near = limit < 0.0 || limit > 0.0 ? CLOSE_CALL * fabs(limit) : CLOSE_CALL;
    judge->close_call = judge->close_call || (isfinite(limit) && fabs(value - limit) <= near);
}

bool er_over(struct er_judge *judge, double value, double limit)
{
    er_judge_watch(judge, value, limit);
    return value > limit + LIMIT_TOLERANCE * fabs(limit);
}

bool er_under(struct er_judge *judge, double value, double limit)
{
    er_judge_watch(judge, value, limit);
    return value < limit - LIMIT_TOLERANCE * fabs(limit);
}

bool er_below_zero(double pressure) { return pressure < -VACUUM; }

void er_judge_release(struct er_judge *judge)
{
    free(judge->judged);
    judge->judged = NULL;
    judge->count = judge->room = 0;
}

static struct er_judged *find(const struct er_judge *judge, enum er_finding_code code,
                              enum er_place_kind place, size_t index)
{
    for (size_t f = 0; f < judge->count; f++) {
        const struct er_finding *there = &judge->judged[f].finding;
        if (there->code == code && there->place == place && there->index == index) {
            return &judge->judged[f];
        }
    }
    return NULL;
}

bool er_judge_has(const struct er_judge *judge, const struct er_finding *finding)
{
    return find(judge, finding->code, finding->place, finding->index) != NULL;
}

/* The entry to write a finding into, NULL if a worse one is there or memory ran out. */
static struct er_judged *entry_for(struct er_judge *judge, enum er_finding_code code,
                                   enum er_place_kind place, size_t index, double badness)
{
    struct er_judged *there = find(judge, code, place, index);
    if (there) {
        return badness > there->badness ? there : NULL;
    }
    if (judge->count == judge->room) {
        size_t room = judge->room ? 2 * judge->room : 16;
        struct er_judged *more = realloc(judge->judged, room * sizeof *more);
        if (!more) {
            judge->out_of_memory = true;
            return NULL;
        }
        judge->judged = more;
        judge->room = room;
    }
    there = &judge->judged[judge->count++];
    *there = (struct er_judged){.finding = {.code = code, .place = place, .index = index}};
    return there;
}

void er_judge_add(struct er_judge *judge, enum er_finding_code code, enum er_place_kind place,
                  size_t index, double badness, const char *format, ...)
{
    struct er_judged *entry = entry_for(judge, code, place, index, badness);
    if (!entry) {
        return;
    }
    struct er_text text;
    va_list arguments;
    er_text_init(&text);
    va_start(arguments, format);
    er_text_vappendf(&text, format, arguments);
    va_end(arguments);
    entry->badness = badness;
    entry->finding.text = er_arena_text(judge->arena, er_text_string(&text));
    judge->out_of_memory =
        judge->out_of_memory || text.out_of_memory || entry->finding.text == NULL;
    er_text_release(&text);
}

static int by_order(const void *a, const void *b)
{
    const struct er_finding *one = &((const struct er_judged *)a)->finding;
    const struct er_finding *two = &((const struct er_judged *)b)->finding;
    if (one->code != two->code) {
        return one->code < two->code ? -1 : 1;
    }
    if (one->place != two->place) {
        return one->place < two->place ? -1 : 1;
    }
    return one->index < two->index ? -1 : one->index > two->index;
}

void er_judge_sort(struct er_judge *judge)
{
    /* The table has the fails before the cautions, so the order of codes is enough. */
    if (judge->count > 1) {
        qsort(judge->judged, judge->count, sizeof *judge->judged, by_order);
    }
}

static const char *kept(struct er_judge *judge, struct er_text *text)
{
    const char *copy = er_arena_text(judge->arena, er_text_string(text));
    judge->out_of_memory = judge->out_of_memory || text->out_of_memory || copy == NULL;
    er_text_release(text);
    return copy ? copy : "";
}

const char *er_say_text(struct er_judge *judge, const char *format, ...)
{
    struct er_text text;
    va_list arguments;
    er_text_init(&text);
    va_start(arguments, format);
    er_text_vappendf(&text, format, arguments);
    va_end(arguments);
    return kept(judge, &text);
}

const char *er_say_number(struct er_judge *judge, double number, double limit)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append_beside(&text, number, limit);
    return kept(judge, &text);
}

const char *er_say_beside(struct er_judge *judge, enum er_quantity quantity, double value,
                          double limit)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append_beside(&text, er_from_si(quantity, judge->speaks, value),
                          er_from_si(quantity, judge->speaks, limit));
    er_text_appendf(&text, " %s", er_unit_name(quantity, judge->speaks));
    return kept(judge, &text);
}

const char *er_say(struct er_judge *judge, enum er_quantity quantity, double value)
{
    return er_say_beside(judge, quantity, value, ER_NONE);
}

const char *er_say_name(struct er_judge *judge, const char *name)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, "\"");
    er_text_append_visible(&text, name ? name : "unnamed");
    er_text_append(&text, "\"");
    return kept(judge, &text);
}
