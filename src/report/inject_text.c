#include <math.h>

#include "report/inject_report.h"
#include "report/inject_tables.h"
#include "report/inject_words.h"
#include "report/report.h"
#include "say/say.h"
#include "say/wrap.h"

static void say(const struct er_inject_page *page, struct er_text *text, enum er_quantity quantity,
                double value)
{
    er_append_quantity(text, page->system, quantity, value);
}

/* "12.4 gal of UAN-32", or for a solid "40 lb of it". */
static void append_product(const struct er_inject_page *page, struct er_text *text, double mass)
{
    const struct er_product *product = &page->field->inject->product;
    if (er_given(product->density)) {
        say(page, text, ER_SMALL_VOLUME, mass / product->density);
    } else {
        say(page, text, ER_MASS, mass);
    }
    er_text_append(text, " of ");
    er_text_append(text, er_product_name(product));
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

/* What to do, where only one set is injected into. */
static void append_one_set(const struct er_inject_page *page, struct er_text *text, size_t set)
{
    const struct er_set_injection *at = &page->injection->sets[set];
    er_text_append(text, "INJECT ");
    append_product(page, text, at->product);
    if (page->field->set_count > 1) {
        er_text_appendf(text, " into set %zu", set + 1);
    }
    er_text_append(text, ", from ");
    er_append_clock(text, at->start);
    er_text_append(text, " to ");
    er_append_clock(text, at->stop);
    er_text_append(text, " (h:min) after the water is turned on, then flush until ");
    er_append_clock(text, at->end);
    er_text_append(text, ". The stock goes in at ");
    say(page, text, ER_EMITTER_FLOW, at->stock.flow);
    er_text_appendf(text, ", 1:%.0f.", at->stock.ratio);
}

static void append_all_sets(const struct er_inject_page *page, struct er_text *text, double mass,
                            size_t count)
{
    bool told = true;
    for (size_t s = 0; s < page->field->set_count; s++) {
        told = told && er_given(page->injection->sets[s].run);
    }
    er_text_append(text, "INJECT ");
    append_product(page, text, mass);
    er_text_appendf(text, " in all, into %zu sets, one after the other%s", count,
                    told ? ": every run is long enough to fill, inject and flush." : ".");
}

static void append_answer(const struct er_inject_page *page)
{
    const struct er_inject_finding *fail = first_fail(page->injection);
    struct er_text text;
    er_text_init(&text);
    double mass = 0.0;
    size_t count = 0;
    size_t last = 0;
    for (size_t s = 0; s < page->field->set_count; s++) {
        bool wanted = page->injection->sets[s].nutrient > 0.0;
        mass += wanted ? page->injection->sets[s].product : 0.0;
        count += wanted;
        last = wanted ? s : last;
    }
    er_append_plan_fails(&text, &page->injection->checked, "inject");
    if (text.length > 0) {
        er_text_append(&text, " What is injected goes where the water goes.");
    } else if (fail != NULL) {
        er_text_append(&text, "DOES NOT GO: ");
        er_append_inject_finding(&text, page->injection, page->system, fail);
        er_text_append(&text, ".");
    } else if (count == 0) {
        er_text_append(&text, "NOTHING TO INJECT: every zone's amount is 0.");
    } else if (count == 1) {
        append_one_set(page, &text, last);
    } else {
        append_all_sets(page, &text, mass, count);
    }
    bool watch = fail == NULL && count > 0 && page->injection->finding_count > 0;
    er_text_append(&text, watch ? " Mind what there is to watch, below." : "");
    er_finish_paragraph(page->out, &text);
}

static void append_title(const struct er_inject_page *page)
{
    if (page->field->title != NULL && page->field->title[0] != '\0') {
        er_text_append(page->out, "\n");
        er_paragraph(page->out, "", "", page->field->title);
    }
}

/* "7 lb/acre of nitrogen" */
static void append_dose(const struct er_inject_page *page, struct er_text *text)
{
    static const enum er_quantity quantities[] = {
        [ER_DOSE_NONE] = ER_MASS_PER_AREA,
        [ER_DOSE_PER_AREA] = ER_MASS_PER_AREA,
        [ER_DOSE_PER_LENGTH] = ER_MASS_PER_LENGTH,
        [ER_DOSE_CONCENTRATION] = ER_CONCENTRATION,
    };
    const struct er_inject *inject = page->field->inject;
    say(page, text, quantities[inject->dose.kind], inject->dose.amount);
    er_text_appendf(text, " of %s", er_nutrient_name(inject->nutrient));
}

/* What is wanted, and what the product holds of it. */
static void append_wanted(const struct er_inject_page *page)
{
    const struct er_inject *inject = page->field->inject;
    const struct er_product *product = &inject->product;
    const char *nutrient = er_nutrient_name(inject->nutrient);
    struct er_text text;
    er_text_init(&text);
    er_text_append(&text, "Wanted with one injection: ");
    append_dose(page, &text);
    er_text_append(&text, ", where a zone does not say otherwise. ");
    er_text_append(&text, product->name != NULL ? er_product_name(product) : "The product");
    er_text_append(&text, " holds ");
    er_append_number(&text, 100.0 * page->injection->share);
    er_text_appendf(&text, " percent of %s by weight", nutrient);
    if (inject->nutrient == ER_PHOSPHORUS || inject->nutrient == ER_POTASSIUM) {
        er_text_appendf(&text, " (the element in its %s)",
                        inject->nutrient == ER_PHOSPHORUS ? "phosphate" : "potash");
    }
    if (er_given(product->density)) {
        er_text_appendf(&text, "; at %.4g %s",
                        er_from_si(ER_DENSITY, page->system, product->density),
                        er_unit_name(ER_DENSITY, page->system));
        er_text_append(&text, " that is ");
        say(page, &text, ER_DENSITY, product->density * page->injection->share);
        er_text_appendf(&text, " of %s", nutrient);
    }
    er_text_append(&text, ".");
    er_text_append(page->out, "\n");
    er_finish_paragraph(page->out, &text);
}

static void append_finding(const struct er_inject_page *page,
                           const struct er_inject_finding *finding)
{
    struct er_text text;
    er_text_init(&text);
    er_append_inject_finding(&text, page->injection, page->system, finding);
    er_text_append(&text, ".");
    er_text_appendf(page->out, "  %s\n", er_inject_code_name(finding->code));
    er_paragraph(page->out, "    ", "    ", er_text_string(&text));
    page->out->out_of_memory = page->out->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

/* The findings of one kind under a heading, but for the fail that the answer tells; nothing if
 * there are none. */
static void append_findings(const struct er_inject_page *page, bool fails, const char *heading)
{
    const struct er_inject_finding *told = first_fail(page->injection);
    size_t count = 0;
    for (size_t f = 0; f < page->injection->finding_count; f++) {
        const struct er_inject_finding *finding = &page->injection->findings[f];
        if (finding != told && er_inject_fails(finding->code) == fails) {
            er_text_appendf(page->out, count == 0 ? "\n%s\n\n" : "%s", count == 0 ? heading : "\n");
            append_finding(page, finding);
            count++;
        }
    }
}

/* What goes with the work, whatever the figures say. */
static void append_cautions(const struct er_inject_page *page)
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
    er_text_append(page->out, "\nBefore you inject\n\n");
    for (size_t i = 0; i < sizeof cautions / sizeof cautions[0]; i++) {
        er_paragraph(page->out, "  - ", "    ", cautions[i]);
    }
}

enum er_status er_report_inject_text(const struct er_injection *injection, enum er_system system,
                                     struct er_text *out)
{
    const struct er_inject_page page = {injection, injection->field, system, out};
    append_answer(&page);
    append_title(&page);
    append_wanted(&page);
    er_inject_page_schedule(&page);
    er_inject_page_stock(&page);
    er_inject_page_zones(&page);
    er_inject_page_travel(&page);
    append_findings(&page, true, "What else fails, and what to change");
    append_findings(&page, false, "What to watch");
    append_cautions(&page);
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
