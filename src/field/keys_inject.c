/* What is injected into the water, and how much of it. */
#include <string.h>

#include "base/nearest.h"
#include "field/entries.h"
#include "field/writer.h"

static const char *const nutrients[] = {"nitrogen",   "phosphate", "potash",
                                        "phosphorus", "potassium", NULL}; /* as er_nutrient */

#define IN_PRODUCT(member) offsetof(struct er_product, member)
#define ANALYSIS(nutrient, key, what)                                                              \
    ER_PERCENT_KEY(key, IN_PRODUCT(analysis[nutrient]), ER_FROM_TO(0.0, 100.0), what,              \
                   ER_DEFAULT(0.0, 0.0))

static const struct er_key product_keys[] = {
    ER_TEXT_KEY("name", IN_PRODUCT(name), "what it is called"),
    ANALYSIS(ER_NITROGEN, "nitrogen",
             "percent of nitrogen (N) by weight, the label's first number"),
    ANALYSIS(ER_PHOSPHATE, "phosphate",
             "percent of phosphate (P2O5) by weight, the label's second number"),
    ANALYSIS(ER_POTASH, "potash", "percent of potash (K2O) by weight, the label's third number"),
    ER_QUANTITY_KEY("density", IN_PRODUCT(density), ER_DENSITY, ER_ABOVE_ZERO,
                    "a liquid's weight by volume"),
    ER_QUANTITY_KEY("solubility", IN_PRODUCT(solubility), ER_DENSITY, ER_ABOVE_ZERO,
                    "the most of a solid that a volume of stock solution holds, as cold as it "
                    "gets"),
    ER_QUANTITY_KEY("conductivity", IN_PRODUCT(conductivity), ER_CONDUCTIVITY, ER_FROM_ZERO,
                    "electrical conductivity that 1 g/L (0.1 percent, 1000 ppm) of the product "
                    "adds to water"),
};

static const struct er_rule product_rules[] = {
    {.kind = ER_AT_LEAST_ONE, .keys = {"nitrogen", "phosphate", "potash"}},
    {.kind = ER_EXACTLY_ONE,
     .keys = {"density", "solubility"},
     .why = "a liquid has a density, a solid a solubility"},
};

static const struct er_stray_key product_stray[] = {
    {"n", "write \"nitrogen\""},
    {"p", "write \"phosphate\": the label's second number is P2O5"},
    {"k", "write \"potash\": the label's third number is K2O"},
    {"phosphorus", "write \"phosphate\": the label's second number is P2O5"},
    {"potassium", "write \"potash\": the label's third number is K2O"},
    {NULL, NULL},
};

static void finish_product(struct er_reader *reader, const struct er_place *place, void *entry,
                           const void *kept)
{
    (void)kept;
    const struct er_product *product = entry;
    const double sum = product->analysis[0] + product->analysis[1] + product->analysis[2];
    if (sum > 1.0) {
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "a product can't hold %.6g percent of nutrients", 100.0 * sum);
    }
}

static const struct er_object product_object = {
    .name = "a product",
    .about = "a fertilizer, by its label",
    ER_KEYS(product_keys),
    ER_RULES(product_rules),
    .stray = product_stray,
    .entry_size = sizeof(struct er_product),
    .kept_size = sizeof(struct er_product),
    .finish = finish_product,
};

/* The keys of a dose, in an object that holds an er_dose_entry at `start`. */
#define DOSE(start, key, what, unit)                                                               \
    ER_QUANTITY_KEY(#key, (start) + offsetof(struct er_dose_entry, key), unit, ER_FROM_ZERO, what)
#define DOSE_PER_AREA(start)                                                                       \
    DOSE(start, rate,                                                                              \
         "nutrient per area; an acre or hectare counts as its length of bed: bed length x "        \
         "spacing",                                                                                \
         ER_MASS_PER_AREA)
#define DOSE_PER_LENGTH(start)                                                                     \
    DOSE(start, rate_per_length, "nutrient per length of bed", ER_MASS_PER_LENGTH)
#define DOSE_CONCENTRATION(start)                                                                  \
    DOSE(start, concentration, "nutrient in the water at the emitters while it is injected",       \
         ER_CONCENTRATION)

static const struct er_rule dose_rules[] = {
    {.kind = ER_EXACTLY_ONE,
     .keys = {"rate", "rate_per_length", "concentration"},
     .why = "how much of the nutrient is given in one form"},
};

static const struct er_key zone_inject_keys[] = {
    DOSE_PER_AREA(0),
    DOSE_PER_LENGTH(0),
    DOSE_CONCENTRATION(0),
};

static const struct er_stray_key zone_inject_stray[] = {
    {"product", "the product is the whole farm's: it belongs in the top level's \"inject\""},
    {"nutrient", "the nutrient is the whole farm's: it belongs in the top level's \"inject\""},
    {"time", "how long to inject is the whole farm's: it belongs in the top level's \"inject\""},
    {NULL, NULL},
};

const struct er_object er_zone_inject_object = {
    .name = "a zone's injection",
    .about = "how much of the nutrient this zone should get",
    ER_KEYS(zone_inject_keys),
    ER_RULES(dose_rules),
    .stray = zone_inject_stray,
    .entry_size = sizeof(struct er_dose_entry),
    .kept_size = sizeof(struct er_dose_entry),
};

struct er_dose er_dose_complete(const struct er_dose_entry *entry, struct er_dose otherwise)
{
    if (er_given(entry->rate)) {
        return (struct er_dose){ER_DOSE_PER_AREA, entry->rate};
    }
    if (er_given(entry->rate_per_length)) {
        return (struct er_dose){ER_DOSE_PER_LENGTH, entry->rate_per_length};
    }
    if (er_given(entry->concentration)) {
        return (struct er_dose){ER_DOSE_CONCENTRATION, entry->concentration};
    }
    return otherwise;
}

struct er_dose_entry er_dose_given(struct er_dose dose, struct er_dose otherwise)
{
    struct er_dose_entry entry = {ER_NONE, ER_NONE, ER_NONE};
    if (dose.kind == otherwise.kind && !(dose.amount < otherwise.amount) &&
        !(dose.amount > otherwise.amount)) {
        return entry;
    }
    entry.rate = dose.kind == ER_DOSE_PER_AREA ? dose.amount : ER_NONE;
    entry.rate_per_length = dose.kind == ER_DOSE_PER_LENGTH ? dose.amount : ER_NONE;
    entry.concentration = dose.kind == ER_DOSE_CONCENTRATION ? dose.amount : ER_NONE;
    return entry;
}

#define IN_INJECT(member) offsetof(struct er_inject_entry, member)

static const struct er_key inject_keys[] = {
    ER_OBJECT_KEY("product", IN_INJECT(inject.product), &product_object, "the fertilizer",
                  .presence = ER_REQUIRED),
    ER_CHOICE_KEY("nutrient", IN_INJECT(nutrient), nutrients,
                  "what the amount is of; needed where the product holds more than one. phosphorus "
                  "and potassium are the elements in its phosphate and potash"),
    DOSE_PER_AREA(IN_INJECT(dose)),
    DOSE_PER_LENGTH(IN_INJECT(dose)),
    DOSE_CONCENTRATION(IN_INJECT(dose)),
    ER_TEXT_KEY("at", IN_INJECT(at),
                "the part of the headworks that the injector stands behind, or \"source\": before "
                "all of them; without it behind the last"),
    ER_QUANTITY_KEY("time", IN_INJECT(inject.time), ER_TIME, ER_ABOVE_ZERO,
                    "how long to inject; without it twice the travel time"),
    ER_QUANTITY_KEY("stock", IN_INJECT(stock), ER_DENSITY, ER_ABOVE_ZERO,
                    "product in a volume of stock solution"),
    ER_QUANTITY_KEY("tank", IN_INJECT(tank), ER_SMALL_VOLUME, ER_ABOVE_ZERO,
                    "volume of stock solution that is made up for one injection"),
    ER_NUMBER_KEY("ratio", IN_INJECT(ratio), ER_FROM_ONE,
                  "the injector's ratio: parts of water to one of stock, 100 for 1:100"),
    ER_QUANTITY_KEY("flow", IN_INJECT(flow), ER_EMITTER_FLOW, ER_ABOVE_ZERO,
                    "the injector's rate: stock in a time"),
};

static const struct er_rule inject_rules[] = {
    {.kind = ER_EXACTLY_ONE,
     .keys = {"rate", "rate_per_length", "concentration"},
     .why = "how much of the nutrient is given in one form"},
    {.kind = ER_AT_MOST_ONE,
     .keys = {"stock", "tank", "ratio", "flow"},
     .why = "each settles the others"},
};

static const struct er_stray_key inject_stray[] = {
    {"density", "it belongs in \"product\""},
    {"solubility", "it belongs in \"product\""},
    {"conductivity", "it belongs in \"product\""},
    {"nitrogen", "it belongs in \"product\""},
    {"phosphate", "it belongs in \"product\""},
    {"potash", "it belongs in \"product\""},
    {NULL, NULL},
};

/* What of the label a nutrient is worked out from. */
static size_t label_place(int nutrient)
{
    static const size_t places[] = {0, 1, 2, 1, 2};
    return places[nutrient];
}

#define SEVERAL (-1)
#define NO_NUTRIENT (-2)

/* The only nutrient that the label tells, as enum er_nutrient; SEVERAL or NO_NUTRIENT. */
static int only_nutrient(const struct er_product *product)
{
    int only = NO_NUTRIENT;
    for (int i = 0; i < 3; i++) {
        if (product->analysis[i] > 0.0) {
            only = only == NO_NUTRIENT ? i : SEVERAL;
        }
    }
    return only;
}

/* The nutrient that was named, or the only one there is. */
static void find_nutrient(struct er_reader *reader, const struct er_place *place,
                          struct er_inject_entry *entry)
{
    const struct er_product *product = &entry->inject.product;
    const int only = only_nutrient(product);
    const struct er_place at = er_place_key(place, "nutrient");
    const struct er_place product_at = er_place_key(place, "product");
    const bool given = er_place_has(&product_at, "nitrogen") ||
                       er_place_has(&product_at, "phosphate") ||
                       er_place_has(&product_at, "potash");
    if (only == NO_NUTRIENT && given) {
        er_reader_problem(reader, &product_at, ER_AT_VALUE, "the product holds no nutrient");
    } else if (entry->nutrient < 0 && only == SEVERAL) {
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "the product holds more than one nutrient: say with \"nutrient\" which "
                          "one the amount is of");
    } else if (entry->nutrient >= 0 && only != NO_NUTRIENT &&
               !(product->analysis[label_place(entry->nutrient)] > 0.0)) {
        er_reader_problem(reader, &at, ER_AT_VALUE, "the product holds no %s",
                          nutrients[entry->nutrient]);
    }
    const int told = entry->nutrient >= 0 ? entry->nutrient : only;
    entry->inject.nutrient = told >= 0 ? (enum er_nutrient)told : ER_NITROGEN;
}

static void tell_unknown_part(struct er_reader *reader, const struct er_place *place,
                              const char *name)
{
    const struct er_field *field = &reader->field->field;
    struct er_nearest nearest;
    er_nearest_begin(&nearest, name);
    er_nearest_offer(&nearest, "source");
    for (size_t p = 0; p < field->headworks_count; p++) {
        if (field->headworks[p].name != NULL) {
            er_nearest_offer(&nearest, field->headworks[p].name);
        }
    }
    const struct er_place at = er_place_key(place, "at");
    if (nearest.best != NULL) {
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "no part of the headworks is called %s; did you mean %s?",
                          er_reader_quote(reader, name), er_reader_quote(reader, nearest.best));
        return;
    }
    er_reader_problem(reader, &at, ER_AT_VALUE,
                      "no part of the headworks is called %s; \"source\" is before all of them",
                      er_reader_quote(reader, name));
}

/* How many parts of the headworks are upstream of the injector. */
static void find_place(struct er_reader *reader, const struct er_place *place,
                       struct er_inject_entry *entry)
{
    const struct er_field *field = &reader->field->field;
    struct er_inject *inject = &entry->inject;
    inject->parts_before = field->headworks_count;
    inject->place_given = entry->at != NULL;
    if (entry->at == NULL) {
        return;
    }
    while (inject->parts_before > 0) {
        const char *name = field->headworks[inject->parts_before - 1].name;
        if (name != NULL && strcmp(name, entry->at) == 0) {
            return;
        }
        inject->parts_before--;
    }
    if (strcmp(entry->at, "source") != 0) {
        tell_unknown_part(reader, place, entry->at);
    }
}

static void find_stock(struct er_inject_entry *entry)
{
    const struct {
        enum er_stock_kind kind;
        double value;
    } given[] = {{ER_STOCK_STRENGTH, entry->stock},
                 {ER_STOCK_TANK, entry->tank},
                 {ER_STOCK_RATIO, entry->ratio},
                 {ER_STOCK_FLOW, entry->flow}};
    entry->inject.stock_kind = ER_STOCK_FREE;
    entry->inject.stock = ER_NONE;
    for (size_t i = 0; i < sizeof given / sizeof *given; i++) {
        if (er_given(given[i].value)) {
            entry->inject.stock_kind = given[i].kind;
            entry->inject.stock = given[i].value;
        }
    }
}

static void finish_inject(struct er_reader *reader, const struct er_place *place, void *entry,
                          const void *kept)
{
    (void)kept;
    struct er_inject_entry *inject_entry = entry;
    find_nutrient(reader, place, inject_entry);
    find_place(reader, place, inject_entry);
    find_stock(inject_entry);
    inject_entry->inject.dose =
        er_dose_complete(&inject_entry->dose, (struct er_dose){ER_DOSE_NONE, 0.0});
}

static const char *place_name(const struct er_writer *writer, const struct er_inject *inject)
{
    const struct er_field *field = writer->field;
    const size_t before = inject->parts_before;
    if (!inject->place_given) {
        return NULL;
    }
    return before == 0 ? "source" : field->headworks[before - 1].name;
}

static void unfinish_inject(struct er_writer *writer, void *entry, size_t index)
{
    (void)index;
    struct er_inject_entry *inject_entry = entry;
    const struct er_inject *inject = &inject_entry->inject;
    inject_entry->dose = er_dose_given(inject->dose, (struct er_dose){ER_DOSE_NONE, 0.0});
    inject_entry->nutrient = (int)inject->nutrient;
    if (only_nutrient(&inject->product) == inject_entry->nutrient) {
        inject_entry->nutrient = -1;
    }
    inject_entry->at = place_name(writer, inject);
    inject_entry->stock = inject->stock_kind == ER_STOCK_STRENGTH ? inject->stock : ER_NONE;
    inject_entry->tank = inject->stock_kind == ER_STOCK_TANK ? inject->stock : ER_NONE;
    inject_entry->ratio = inject->stock_kind == ER_STOCK_RATIO ? inject->stock : ER_NONE;
    inject_entry->flow = inject->stock_kind == ER_STOCK_FLOW ? inject->stock : ER_NONE;
}

const struct er_object er_inject_object = {
    .name = "the injection",
    .about = "a fertilizer that is injected into the water, how much of it, and by what",
    ER_KEYS(inject_keys),
    ER_RULES(inject_rules),
    .stray = inject_stray,
    .entry_size = sizeof(struct er_inject_entry),
    .kept_size = sizeof(struct er_inject),
    .finish = finish_inject,
    .unfinish = unfinish_inject,
};
