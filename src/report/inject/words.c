/* What is found of an injection, in words. */
#include "report/inject/words.h"
#include "names/names.h"

#include <math.h>

const char *er_inject_code_name(enum er_inject_code code)
{
    static const char *const names[] = {
        [ER_INJECT_NOWHERE] = "no-full-row",     [ER_INJECT_SHORT] = "run-short",
        [ER_INJECT_STRONG] = "stock-too-strong", [ER_INJECT_TOO_MUCH] = "injector-too-large",
        [ER_INJECT_HURRIED] = "time-short",      [ER_INJECT_UNEVEN] = "shares-uneven",
        [ER_INJECT_BEHIND] = "behind-filter",    [ER_INJECT_DRY] = "rows-dry",
        [ER_INJECT_PLAN_FAILS] = "plan-fails"};
    return names[code];
}

/* One finding in the making. */
struct saying {
    struct er_pen *pen;
    const struct er_injection *injection;
    const struct er_field *field;
    size_t index;
    const struct er_set_injection *set; /* where the finding is of one */
};

static const char *figure(const struct saying *s, enum er_quantity quantity, double value)
{
    return er_pen_figure(s->pen, quantity, value);
}

static const char *clock(const struct saying *s, double seconds)
{
    return er_pen_clock(s->pen, seconds);
}

static double whole_minutes(double seconds) { return 60.0 * ceil(seconds / 60.0); }

static const char *short_words(const struct saying *s)
{
    const struct er_set_injection *at = s->set;
    double least = ER_INJECT_TRAVELS * at->travel;
    const char *together =
        at->run > 0.0 ? er_pen_text(s->pen, ", or give the water of %.0f irrigations in one",
                                    ceil(at->needed / at->run - 1e-6))
                      : "";
    const char *quicker =
        at->time > least + 60.0
            ? er_pen_text(s->pen, ", or inject for %s, which is twice the travel time and enough",
                          clock(s, whole_minutes(least)))
            : "";
    return er_pen_text(s->pen,
                       "set %zu runs %s (h:min) at a stretch, and injecting takes %s: %s to fill, "
                       "%s to inject, %s to flush. Let it run %s longer on that day%s%s",
                       s->index + 1, clock(s, at->run), clock(s, at->needed), clock(s, at->fill),
                       clock(s, at->time), clock(s, at->flush), clock(s, at->needed - at->run),
                       together, quicker);
}

/* What would bring a stock below its limit. */
static const char *weaker_words(const struct saying *s, double strongest)
{
    const struct er_set_injection *at = s->set;
    double volume = at->product / strongest;
    switch (s->field->inject->stock_kind) {
    case ER_STOCK_FREE:
    case ER_STOCK_STRENGTH:
        return "make it weaker";
    case ER_STOCK_TANK:
        return er_pen_text(s->pen, "make up %s or more, in parts if the tank is small",
                           figure(s, ER_SMALL_VOLUME, volume));
    case ER_STOCK_RATIO:
    case ER_STOCK_FLOW:
        break;
    }
    double ratio = floor(at->flow * at->time / volume - 1.0);
    /* Less is more than half of the set's flow, which no ratio says. */
    const char *told = ratio >= 1.0 ? er_pen_text(s->pen, " (1:%.0f)", ratio) : "";
    const char *longer = s->field->inject->dose.kind != ER_DOSE_CONCENTRATION
                             ? er_pen_text(s->pen, ", or %s (h:min) of injecting",
                                           clock(s, whole_minutes(volume / at->stock.flow)))
                             : "";
    return er_pen_text(s->pen, "an injector is needed that gives %s or more%s%s",
                       figure(s, ER_EMITTER_FLOW, volume / at->time), told, longer);
}

static const char *strong_words(const struct saying *s)
{
    const struct er_product *product = &s->field->inject->product;
    double strongest = er_strongest_stock(product);
    return er_pen_text(s->pen, "the stock for set %zu would hold %s of product, %s is %s: %s",
                       s->index + 1, figure(s, ER_DENSITY, s->set->stock.strength),
                       figure(s, ER_DENSITY, strongest),
                       er_given(product->density) ? "the product itself" : "all that dissolves",
                       weaker_words(s, strongest));
}

static const char *too_much_words(const struct saying *s)
{
    return er_pen_text(s->pen,
                       "the injector would give %s, and set %zu takes %s in all: take a smaller "
                       "injector, inject for longer, or make the stock stronger",
                       figure(s, ER_FLOW, s->set->stock.flow), s->index + 1,
                       figure(s, ER_FLOW, s->set->flow));
}

static const char *hurried_words(const struct saying *s)
{
    return er_pen_text(s->pen,
                       "the file lets set %zu inject for %s, and water takes %s to the last "
                       "emitter: less than twice that, %s, is uneven",
                       s->index + 1, clock(s, s->set->time), clock(s, s->set->travel),
                       clock(s, whole_minutes(ER_INJECT_TRAVELS * s->set->travel)));
}

static const char *uneven_words(const struct saying *s)
{
    const struct er_zone_injection *at = &s->injection->zones[s->index];
    return er_pen_text(s->pen,
                       "zone \"%s\" should get %s and gets %s of %s: what is injected spreads over "
                       "all zones that run together, by their flow. Let it run alone, or live with "
                       "it",
                       s->field->zones[s->index].name,
                       at->wanted > 0.0 ? figure(s, ER_MASS, at->wanted) : "none",
                       figure(s, ER_MASS, at->given), er_nutrient_name(s->field->inject->nutrient));
}

static const char *behind_words(const struct saying *s)
{
    const char *name = s->field->headworks[s->index].name;
    return er_pen_text(
        s->pen,
        s->field->inject->place_given
            ? "the injector stands behind part \"%s\", so what falls out of the solution goes into "
              "the tape. Put it before the filter, behind the backflow protection"
            : "the file does not say where the injector stands, so it is taken to stand behind all "
              "of the headworks, part \"%s\" too. It belongs before the filter and behind the "
              "backflow protection: say so with \"at\" in \"inject\"",
        name != NULL ? name : "");
}

static const char *dry_words(const struct saying *s)
{
    const struct er_travel *travel = &s->injection->zones[s->index].travel;
    return er_pen_text(s->pen,
                       "%.0f of %.0f rows of tape in zone \"%s\" have dry emitters, which get no "
                       "fertilizer either; these rows do not count in the travel time",
                       travel->dry_rows, travel->rows, s->field->zones[s->index].name);
}

const char *er_inject_finding_words(struct er_pen *pen, const struct er_injection *injection,
                                    const struct er_inject_finding *finding)
{
    /* Of a zone or a part it is not asked for its set. */
    const bool of_set = finding->index < injection->field->set_count;
    const struct saying s = {pen, injection, injection->field, finding->index,
                             &injection->sets[of_set ? finding->index : 0]};
    switch (finding->code) {
    case ER_INJECT_PLAN_FAILS:
        return er_pen_text(pen,
                           "'evenrow check' finds that the plan fails, and what is injected goes "
                           "where the water goes: %s",
                           injection->checked.findings[0].text);
    case ER_INJECT_NOWHERE:
        return er_pen_text(pen,
                           "no row of set %zu gets water at every emitter, so there is no travel "
                           "time to go by: 'evenrow check' tells what to change",
                           finding->index + 1);
    case ER_INJECT_SHORT:
        return short_words(&s);
    case ER_INJECT_STRONG:
        return strong_words(&s);
    case ER_INJECT_TOO_MUCH:
        return too_much_words(&s);
    case ER_INJECT_HURRIED:
        return hurried_words(&s);
    case ER_INJECT_UNEVEN:
        return uneven_words(&s);
    case ER_INJECT_BEHIND:
        return behind_words(&s);
    case ER_INJECT_DRY:
        break;
    }
    return dry_words(&s);
}
