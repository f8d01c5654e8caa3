/* An injection for a program: JSON, and a line for each zone as CSV. */
#include "explain/explain.h"
#include "names/names.h"
#include "report/inject/report.h"
#include "report/inject/words.h"
#include "report/report.h"
#include "say/record.h"

static const struct er_json_unit units[] = {{"flow", ER_FLOW},
                                            {"rate", ER_EMITTER_FLOW},
                                            {"mass", ER_MASS},
                                            {"volume", ER_SMALL_VOLUME},
                                            {"strength", ER_DENSITY},
                                            {"concentration", ER_CONCENTRATION},
                                            {"conductivity", ER_CONDUCTIVITY},
                                            {"per_area", ER_MASS_PER_AREA},
                                            {"per_length", ER_MASS_PER_LENGTH},
                                            {"area", ER_AREA},
                                            {"length", ER_LENGTH},
                                            {"time", ER_TIME}};

/* A zone with its set, and what it gets over its area and its beds. */
struct told_zone {
    const char *name;
    struct er_zone_injection of;
    struct er_set_injection set;
    double bed_length, area, per_area, per_length;
    double length_per_area; /* in the reader's units */
    double last_bed;        /* from 1; NAN: none gets water everywhere */
};

/* NULL: memory ran out. */
static struct told_zone *list_zones(struct er_teller *teller, const struct er_injection *injection)
{
    const size_t count = injection->field->zone_count;
    const enum er_system system = teller->json.system;
    struct told_zone *zones = er_pen_room(&teller->pen, count, sizeof *zones);
    for (size_t z = 0; zones != NULL && z < count; z++) {
        const struct er_zone_injection *of = &injection->zones[z];
        const struct er_zone_result *at = &injection->checked.zones[z];
        zones[z] = (struct told_zone){
            .name = injection->field->zones[z].name,
            .of = *of,
            .set = injection->sets[of->set],
            .bed_length = at->bed_length,
            .area = at->area,
            .per_area = of->given / at->area,
            .per_length = of->given / at->bed_length,
            .length_per_area = er_from_si(ER_LENGTH, system, at->bed_length) /
                               er_from_si(ER_AREA, system, at->area),
            .last_bed = er_given(of->travel.latest) ? (double)of->travel.bed + 1.0 : ER_NONE};
    }
    return zones;
}

#define ZONE(name, unit, member) ER_QUANTITY_MEMBER(name, unit, struct told_zone, member)
#define ZONE_NUMBER(name, member) ER_MEMBER(name, ER_IS_NUMBER, struct told_zone, member)

static const struct er_member travel_members[] = {
    ZONE("first_emitter", ER_TIME, of.travel.earliest),
    ZONE("last_emitter", ER_TIME, of.travel.latest),
    ZONE("mainline", ER_TIME, of.travel.mainline),
    ZONE("header", ER_TIME, of.travel.header),
    ZONE("tape", ER_TIME, of.travel.tape),
    ZONE_NUMBER("last_bed", last_bed),
    ZONE_NUMBER("rows", of.travel.rows),
    ZONE_NUMBER("dry_rows", of.travel.dry_rows),
    ER_END_OF_MEMBERS};

static const struct er_member zone_members[] = {
    ER_MEMBER("name", ER_IS_TEXT, struct told_zone, name),
    ER_MEMBER("set", ER_IS_PLACE, struct told_zone, of.set),
    ZONE("bed_length", ER_LENGTH, bed_length),
    ZONE("area", ER_AREA, area),
    ZONE("wanted", ER_MASS, of.wanted),
    ZONE("gets", ER_MASS, of.given),
    ZONE("gets_per_area", ER_MASS_PER_AREA, per_area),
    ZONE("gets_per_length", ER_MASS_PER_LENGTH, per_length),
    ZONE("product", ER_MASS, of.product),
    ZONE_NUMBER("bed_length_per_area", length_per_area),
    ER_RECORD_MEMBER("travel", travel_members),
    ER_END_OF_MEMBERS};

static const struct er_member line_members[] = {
    ER_MEMBER("zone", ER_IS_TEXT, struct told_zone, name),
    ER_MEMBER("set", ER_IS_PLACE, struct told_zone, of.set),
    ZONE("wanted", ER_MASS, of.wanted),
    ZONE("gets", ER_MASS, of.given),
    ZONE("product", ER_MASS, of.product),
    ZONE("first_emitter", ER_TIME, of.travel.earliest),
    ZONE("last_emitter", ER_TIME, of.travel.latest),
    ZONE("set_flow", ER_FLOW, set.flow),
    ZONE("set_product", ER_MASS, set.product),
    ZONE("set_product", ER_SMALL_VOLUME, set.product_volume),
    ZONE("stock", ER_SMALL_VOLUME, set.stock.volume),
    ZONE("strength", ER_DENSITY, set.stock.strength),
    ZONE("injection_rate", ER_EMITTER_FLOW, set.stock.flow),
    ZONE("concentration", ER_CONCENTRATION, set.concentration),
    ZONE("conductivity", ER_CONDUCTIVITY, set.conductivity),
    ZONE("filled", ER_TIME, set.fill),
    ZONE("start", ER_TIME, set.start),
    ZONE("stop", ER_TIME, set.stop),
    ZONE("end", ER_TIME, set.end),
    ZONE("run", ER_TIME, set.run),
    ZONE("needed", ER_TIME, set.needed),
    ZONE_NUMBER("ratio", set.stock.ratio),
    ER_END_OF_MEMBERS};

/* ---- sets ---- */

static void add_set_zones(struct er_teller *teller, cJSON *parent, const char *key, const void *at)
{
    const struct er_injection *result = teller->result;
    er_json_zone_names(&teller->json, parent, key, result->field,
                       (size_t)((const struct er_set_injection *)at - result->sets));
}

#define SET(name, unit, member) ER_QUANTITY_MEMBER(name, unit, struct er_set_injection, member)

static const struct er_member stock_members[] = {
    SET("volume", ER_SMALL_VOLUME, stock.volume), SET("strength", ER_DENSITY, stock.strength),
    SET("rate", ER_EMITTER_FLOW, stock.flow),
    ER_MEMBER("ratio", ER_IS_NUMBER, struct er_set_injection, stock.ratio), ER_END_OF_MEMBERS};

static const struct er_member time_members[] = {
    SET("travel", ER_TIME, travel), SET("fill", ER_TIME, fill),
    SET("inject", ER_TIME, time),   SET("flush", ER_TIME, flush),
    SET("run", ER_TIME, run),       SET("needed", ER_TIME, needed),
    SET("start", ER_TIME, start),   SET("stop", ER_TIME, stop),
    SET("end", ER_TIME, end),       ER_END_OF_MEMBERS};

static const struct er_member set_members[] = {
    ER_MADE_MEMBER("zones", add_set_zones),
    SET("flow", ER_FLOW, flow),
    SET("nutrient", ER_MASS, nutrient),
    SET("product", ER_MASS, product),
    SET("product_volume", ER_SMALL_VOLUME, product_volume),
    SET("concentration", ER_CONCENTRATION, concentration),
    SET("conductivity", ER_CONDUCTIVITY, conductivity),
    ER_RECORD_MEMBER("stock", stock_members),
    ER_RECORD_MEMBER("time", time_members),
    ER_END_OF_MEMBERS};

/* ---- the rest ---- */

static const char *finding_code(struct er_teller *teller, const void *at)
{
    (void)teller;
    return er_inject_code_name(((const struct er_inject_finding *)at)->code);
}

static const char *finding_level(struct er_teller *teller, const void *at)
{
    (void)teller;
    return er_inject_fails(((const struct er_inject_finding *)at)->code) ? "fail" : "caution";
}

static const char *finding_text(struct er_teller *teller, const void *at)
{
    return er_inject_finding_words(&teller->pen, teller->result, at);
}

static const struct er_member finding_members[] = {{"code", ER_IS_WORDS, .words = finding_code},
                                                   {"level", ER_IS_WORDS, .words = finding_level},
                                                   {"text", ER_IS_WORDS, .words = finding_text},
                                                   ER_END_OF_MEMBERS};

static void add_product(struct er_json *json, cJSON *root, const struct er_injection *injection)
{
    const struct er_product *product = &injection->field->inject->product;
    cJSON *object = er_json_object(json, root, "product");
    er_json_text(json, object, "name", product->name);
    er_json_number(json, object, "percent_of_nutrient", 100.0 * injection->share);
    er_json_quantity(json, object, "density", ER_DENSITY, product->density);
    er_json_quantity(json, object, "solubility", ER_DENSITY, product->solubility);
    er_json_quantity(json, object, "nutrient_in_volume", ER_DENSITY,
                     product->density * injection->share);
}

/* What goes into all sets together. */
static void add_total(struct er_json *json, cJSON *root, const struct er_injection *injection)
{
    double nutrient = 0.0, product = 0.0;
    for (size_t s = 0; s < injection->field->set_count; s++) {
        const struct er_set_injection *set = &injection->sets[s];
        nutrient += set->nutrient > 0.0 ? set->nutrient : 0.0;
        product += set->nutrient > 0.0 ? set->product : 0.0;
    }
    cJSON *object = er_json_object(json, root, "total");
    er_json_quantity(json, object, "nutrient", ER_MASS, nutrient);
    er_json_quantity(json, object, "product", ER_MASS, product);
    er_json_quantity(json, object, "product_volume", ER_SMALL_VOLUME,
                     product / injection->field->inject->product.density);
}

static void write_json(struct er_teller *t, cJSON *root)
{
    const struct er_injection *injection = t->result;
    const struct er_field *field = injection->field;
    er_json_text(&t->json, root, "title", field->title);
    er_json_bool(&t->json, root, "goes", !injection->fails);
    er_json_text(&t->json, root, "check_verdict", er_verdict_name(injection->checked.verdict));
    er_json_units(&t->json, root, ER_ALL(units));
    er_json_text(&t->json, root, "nutrient", er_nutrient_name(field->inject->nutrient));
    add_product(&t->json, root, injection);
    er_tell_list(t, root, "sets", set_members, injection->sets, field->set_count,
                 sizeof *injection->sets);
    add_total(&t->json, root, injection);
    const struct told_zone *zones = list_zones(t, injection);
    er_tell_list(t, root, "zones", zone_members, zones, field->zone_count, sizeof *zones);
    er_tell_list(t, root, "findings", finding_members, injection->findings,
                 injection->finding_count, sizeof *injection->findings);
}

static void write_csv(struct er_teller *t, struct er_text *out)
{
    const struct er_injection *injection = t->result;
    const struct told_zone *zones = list_zones(t, injection);
    er_tell_csv(t, line_members, zones, injection->field->zone_count, sizeof *zones, out);
}

const struct er_report er_inject_report = {
    .page = er_inject_page, .json = write_json, .csv = write_csv, .explain = er_explain_injection};
