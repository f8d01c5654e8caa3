/* What to inject, when and how fast, for a person. */
#include "names/names.h"
#include "report/inject/tables.h"
#include "report/inject/words.h"
#include "report/report.h"

/* "12.4 gal of UAN-32", or for a solid "40 lb of it". */
static const char *product_words(struct er_pen *pen, const struct er_product *product, double mass)
{
    const char *amount = er_given(product->density)
                             ? er_pen_figure(pen, ER_SMALL_VOLUME, mass / product->density)
                             : er_pen_figure(pen, ER_MASS, mass);
    return er_pen_text(pen, "%s of %s", amount, er_product_name(product));
}

static const struct er_inject_finding *first_fail(const struct er_injection *injection)
{
    for (size_t f = 0; f < injection->finding_count; f++) {
        if (er_inject_fails(injection->findings[f].code)) {
            return &injection->findings[f];
        }
    }
    return NULL;
}

/* ---- the answer ---- */

/* What to do, where only one set is injected into. */
static const char *one_set(struct er_pen *pen, const struct er_injection *injection, size_t set)
{
    const struct er_set_injection *at = &injection->sets[set];
    return er_pen_text(
        pen,
        "INJECT %s%s, from %s to %s (h:min) after the water is turned on, then flush until %s. The "
        "stock goes in at %s, 1:%s.",
        product_words(pen, &injection->field->inject->product, at->product),
        injection->field->set_count > 1 ? er_pen_text(pen, " into set %zu", set + 1) : "",
        er_pen_clock(pen, at->start), er_pen_clock(pen, at->stop), er_pen_clock(pen, at->end),
        er_pen_figure(pen, ER_EMITTER_FLOW, at->stock.flow), er_pen_whole(pen, at->stock.ratio));
}

static const char *all_sets(struct er_pen *pen, const struct er_injection *injection, double mass,
                            size_t count)
{
    bool told = true;
    for (size_t s = 0; s < injection->field->set_count; s++) {
        told = told && er_given(injection->sets[s].run);
    }
    return er_pen_text(pen, "INJECT %s in all, into %zu sets, one after the other%s",
                       product_words(pen, &injection->field->inject->product, mass), count,
                       told ? ": every run is long enough to fill, inject and flush." : ".");
}

/* What goes in where nothing fails. */
static const char *goes(struct er_pen *pen, const struct er_injection *injection)
{
    double mass = 0.0;
    size_t count = 0;
    size_t last = 0;
    for (size_t s = 0; s < injection->field->set_count; s++) {
        bool wanted = injection->sets[s].nutrient > 0.0;
        mass += wanted ? injection->sets[s].product : 0.0;
        count += wanted;
        last = wanted ? s : last;
    }
    if (count == 0) {
        return "NOTHING TO INJECT: every zone's amount is 0.";
    }
    return er_pen_text(pen, "%s%s",
                       count == 1 ? one_set(pen, injection, last)
                                  : all_sets(pen, injection, mass, count),
                       injection->finding_count > 0 ? " Mind what there is to watch, below." : "");
}

static const char *answer(struct er_pen *pen, const struct er_injection *injection)
{
    const struct er_inject_finding *fail = first_fail(injection);
    if (injection->checked.verdict == ER_FAILS) {
        return er_pen_text(pen, "%s What is injected goes where the water goes.",
                           er_plan_fails(pen, &injection->checked, "inject"));
    }
    return fail == NULL ? goes(pen, injection)
                        : er_pen_text(pen, "DOES NOT GO: %s.",
                                      er_inject_finding_words(pen, injection, fail));
}

/* ---- what is wanted ---- */

/* "7 lb/acre of nitrogen" */
static const char *dose_words(struct er_pen *pen, const struct er_inject *inject)
{
    static const enum er_quantity quantities[] = {
        [ER_DOSE_NONE] = ER_MASS_PER_AREA,
        [ER_DOSE_PER_AREA] = ER_MASS_PER_AREA,
        [ER_DOSE_PER_LENGTH] = ER_MASS_PER_LENGTH,
        [ER_DOSE_CONCENTRATION] = ER_CONCENTRATION,
    };
    return er_pen_text(pen, "%s of %s",
                       er_pen_figure(pen, quantities[inject->dose.kind], inject->dose.amount),
                       er_nutrient_name(inject->nutrient));
}

/* What is wanted, and what the product holds of it. */
static void write_wanted(struct er_page *page, const struct er_injection *injection)
{
    struct er_pen *pen = &page->pen;
    const struct er_inject *inject = injection->field->inject;
    const struct er_product *product = &inject->product;
    const char *nutrient = er_nutrient_name(inject->nutrient);
    const char *element = inject->nutrient == ER_PHOSPHORUS  ? " (the element in its phosphate)"
                          : inject->nutrient == ER_POTASSIUM ? " (the element in its potash)"
                                                             : "";
    const char *weight = "";
    if (er_given(product->density)) {
        weight = er_pen_text(
            pen, "; at %s %s that is %s of %s",
            er_pen_given(pen, er_from_si(ER_DENSITY, pen->system, product->density)),
            er_unit_name(ER_DENSITY, pen->system),
            er_pen_figure(pen, ER_DENSITY, product->density * injection->share), nutrient);
    }
    er_page_paragraph(
        page,
        "Wanted with one injection: %s, where a zone does not say otherwise. %s holds "
        "%s percent of %s by weight%s%s.",
        dose_words(pen, inject), product->name != NULL ? er_product_name(product) : "The product",
        er_pen_number(pen, 100.0 * injection->share), nutrient, element, weight);
}

/* The findings of one kind under a heading, but for the fail that the answer tells; nothing if
 * there are none. */
static void write_findings(struct er_page *page, const struct er_injection *injection, bool fails,
                           const char *heading)
{
    const struct er_inject_finding *told = first_fail(injection);
    bool first = true;
    for (size_t f = 0; f < injection->finding_count; f++) {
        const struct er_inject_finding *finding = &injection->findings[f];
        if (finding == told || er_inject_fails(finding->code) != fails) {
            continue;
        }
        if (first) {
            er_page_heading(page, "%s", heading);
        }
        first = false;
        er_page_named(page, er_inject_code_name(finding->code), "%s.",
                      er_inject_finding_words(&page->pen, injection, finding));
    }
}

/* What goes with the work, whatever the figures say. */
static void write_cautions(struct er_page *page)
{
    static const char *const cautions[] = {
        "The product's label is the law, and local codes come first: nothing here overrules them.",
        "Backflow: what is injected must not get back into the well, the pond or the main. Many "
        "states require, upstream of the injector, a check valve that closes by itself and tight, "
        "a vacuum relief, an inspection port and a drain that opens at low pressure; a check valve "
        "that opens at 10 psi (70 kPa) or more in the injection line; and an interlock that stops "
        "the injector when the pump stops. Ask yours.",
        "On a drinking-water supply the law asks for an approved backflow assembly, tested as the "
        "code says, or an air gap.",
        "Inject before the filter, and behind the backflow protection.",
        "Never mix what reacts: acid and chlorine give off deadly gas, calcium with phosphate or "
        "sulfate makes stone. Try a new mix with your water in a jar, and give it a day. Water "
        "first, then the product; acid into water, never water into acid.",
        "Wear what the label asks for: goggles, gloves, an apron. Have clean water to rinse with "
        "beside the tank.",
        "Dye, or a conductivity meter at the last emitters, shows the true travel time. It is "
        "worked out here as if the water moved as one plug.",
        "How much a crop should get, a soil or leaf test and your state's guide tell.",
    };
    er_page_heading(page, "Before you inject");
    for (size_t i = 0; i < sizeof cautions / sizeof cautions[0]; i++) {
        er_page_item(page, "%s", cautions[i]);
    }
}

void er_inject_page(const void *result, struct er_page *page)
{
    const struct er_injection *injection = result;
    er_page_paragraph(page, "%s", answer(&page->pen, injection));
    er_page_title(page, injection->field->title);
    write_wanted(page, injection);
    er_inject_schedule(page, injection);
    er_inject_stock(page, injection);
    er_inject_zones(page, injection);
    er_inject_travel(page, injection);
    write_findings(page, injection, true, "What else fails, and what to change");
    write_findings(page, injection, false, "What to watch");
    write_cautions(page);
}
