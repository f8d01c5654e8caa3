#include "report/inject_words.h"

#include <math.h>

#include "say/say.h"

/* One finding in the making. */
struct saying {
    struct er_text *out;
    const struct er_injection *injection;
    const struct er_field *field;
    enum er_system system;
    size_t index;
};

const char *er_nutrient_name(enum er_nutrient nutrient)
{
    static const char *const names[] = {[ER_NITROGEN] = "nitrogen",
                                        [ER_PHOSPHATE] = "phosphate",
                                        [ER_POTASH] = "potash",
                                        [ER_PHOSPHORUS] = "phosphorus",
                                        [ER_POTASSIUM] = "potassium"};
    return names[nutrient];
}

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

const char *er_product_name(const struct er_product *product)
{
    return product->name != NULL && product->name[0] != '\0' ? product->name : "the product";
}

void er_append_set_zones(struct er_text *out, const struct er_field *field, size_t set)
{
    for (size_t z = 0; z < field->sets[set].zone_count; z++) {
        er_text_append(out, z > 0 ? " + " : "");
        er_text_append(out, field->zones[field->sets[set].zones[z]].name);
    }
}

static void say(const struct saying *s, enum er_quantity quantity, double value)
{
    er_append_quantity(s->out, s->system, quantity, value);
}

static void words(const struct saying *s, const char *text) { er_text_append(s->out, text); }

static void clock(const struct saying *s, double seconds) { er_append_clock(s->out, seconds); }

static void say_set(const struct saying *s) { er_text_appendf(s->out, "set %zu", s->index + 1); }

/* A zone's or a part's name in the quotes that findings have. */
static void say_name(const struct saying *s, const char *name)
{
    er_text_appendf(s->out, "\"%s\"", name != NULL ? name : "");
}

static void say_short(const struct saying *s)
{
    const struct er_set_injection *at = &s->injection->sets[s->index];
    double least = ER_INJECT_TRAVELS * at->travel;
    say_set(s);
    words(s, " runs ");
    clock(s, at->run);
    words(s, " (h:min) at a stretch, and injecting takes ");
    clock(s, at->needed);
    words(s, ": ");
    clock(s, at->fill);
    words(s, " to fill, ");
    clock(s, at->time);
    words(s, " to inject, ");
    clock(s, at->flush);
    words(s, " to flush. Let it run ");
    clock(s, at->needed - at->run);
    words(s, " longer on that day");
    if (at->run > 0.0) {
        er_text_appendf(s->out, ", or give the water of %.0f irrigations in one",
                        ceil(at->needed / at->run - 1e-6));
    }
    if (at->time > least + 60.0) {
        words(s, ", or inject for ");
        clock(s, 60.0 * ceil(least / 60.0));
        words(s, ", which is twice the travel time and enough");
    }
}

/* What would bring a stock below its limit. */
static void say_weaker(const struct saying *s, double strongest)
{
    const struct er_set_injection *at = &s->injection->sets[s->index];
    double volume = at->product / strongest;
    switch (s->field->inject->stock_kind) {
    case ER_STOCK_FREE:
    case ER_STOCK_STRENGTH:
        words(s, "make it weaker");
        return;
    case ER_STOCK_TANK:
        words(s, "make up ");
        say(s, ER_SMALL_VOLUME, volume);
        words(s, " or more, in parts if the tank is small");
        return;
    case ER_STOCK_RATIO:
    case ER_STOCK_FLOW:
        break;
    }
    words(s, "an injector is needed that gives ");
    say(s, ER_EMITTER_FLOW, volume / at->time);
    double ratio = floor(at->flow * at->time / volume - 1.0);
    words(s, " or more");
    if (ratio >= 1.0) { /* else it is more than half of the set's flow, which no ratio says */
        er_text_appendf(s->out, " (1:%.0f)", ratio);
    }
    if (s->field->inject->dose.kind != ER_DOSE_CONCENTRATION) {
        words(s, ", or ");
        clock(s, 60.0 * ceil(volume / at->stock.flow / 60.0));
        words(s, " (h:min) of injecting");
    }
}

static void say_strong(const struct saying *s)
{
    const struct er_set_injection *at = &s->injection->sets[s->index];
    const struct er_product *product = &s->field->inject->product;
    double strongest = er_strongest_stock(product);
    bool liquid = er_given(product->density);
    words(s, "the stock for ");
    say_set(s);
    words(s, " would hold ");
    say(s, ER_DENSITY, at->stock.strength);
    words(s, " of product, ");
    say(s, ER_DENSITY, strongest);
    words(s, liquid ? " is the product itself: " : " is all that dissolves: ");
    say_weaker(s, strongest);
}

static void say_too_much(const struct saying *s)
{
    const struct er_set_injection *at = &s->injection->sets[s->index];
    words(s, "the injector would give ");
    say(s, ER_FLOW, at->stock.flow);
    words(s, ", and ");
    say_set(s);
    words(s, " takes ");
    say(s, ER_FLOW, at->flow);
    words(s, " in all: take a smaller injector, inject for longer, or make the stock stronger");
}

static void say_hurried(const struct saying *s)
{
    const struct er_set_injection *at = &s->injection->sets[s->index];
    words(s, "the file lets ");
    say_set(s);
    words(s, " inject for ");
    clock(s, at->time);
    words(s, ", and water takes ");
    clock(s, at->travel);
    words(s, " to the last emitter: less than twice that, ");
    clock(s, 60.0 * ceil(ER_INJECT_TRAVELS * at->travel / 60.0));
    words(s, ", is uneven");
}

static void say_uneven(const struct saying *s)
{
    const struct er_zone_injection *at = &s->injection->zones[s->index];
    words(s, "zone ");
    say_name(s, s->field->zones[s->index].name);
    if (at->wanted > 0.0) {
        words(s, " should get ");
        say(s, ER_MASS, at->wanted);
        words(s, " and gets ");
    } else {
        words(s, " should get none and gets ");
    }
    say(s, ER_MASS, at->given);
    er_text_appendf(s->out,
                    " of %s: what is injected spreads over all zones that run together, by their "
                    "flow. Let it run alone, or live with it",
                    er_nutrient_name(s->field->inject->nutrient));
}

static void say_behind(const struct saying *s)
{
    if (!s->field->inject->place_given) {
        words(s, "the file does not say where the injector stands, so it is taken to stand behind "
                 "all of the headworks, part ");
        say_name(s, s->field->headworks[s->index].name);
        words(s, " too. It belongs before the filter and behind the backflow protection: say so "
                 "with \"at\" in \"inject\"");
        return;
    }
    words(s, "the injector stands behind part ");
    say_name(s, s->field->headworks[s->index].name);
    words(s, ", so what falls out of the solution goes into the tape. Put it before the filter, "
             "behind the backflow protection");
}

static void say_dry(const struct saying *s)
{
    const struct er_travel *travel = &s->injection->zones[s->index].travel;
    er_text_appendf(s->out, "%.0f of %.0f rows of tape in zone ", travel->dry_rows, travel->rows);
    say_name(s, s->field->zones[s->index].name);
    words(s, " have dry emitters, which get no fertilizer either; these rows do not count in the "
             "travel time");
}

static void say_plan_fails(const struct saying *s)
{
    words(s, "'evenrow check' finds that the plan fails, and what is injected goes where the water "
             "goes: ");
    words(s, s->injection->checked.findings[0].text);
}

void er_append_inject_finding(struct er_text *out, const struct er_injection *injection,
                              enum er_system system, const struct er_inject_finding *finding)
{
    static void (*const sayings[])(const struct saying *) = {
        [ER_INJECT_SHORT] = say_short,       [ER_INJECT_STRONG] = say_strong,
        [ER_INJECT_TOO_MUCH] = say_too_much, [ER_INJECT_HURRIED] = say_hurried,
        [ER_INJECT_UNEVEN] = say_uneven,     [ER_INJECT_BEHIND] = say_behind,
        [ER_INJECT_DRY] = say_dry,           [ER_INJECT_PLAN_FAILS] = say_plan_fails,
    };
    const struct saying s = {out, injection, injection->field, system, finding->index};
    if (finding->code == ER_INJECT_NOWHERE) {
        er_text_appendf(out,
                        "no row of set %zu gets water at every emitter, so there is no travel time "
                        "to go by: 'evenrow check' tells what to change",
                        finding->index + 1);
        return;
    }
    sayings[finding->code](&s);
}
