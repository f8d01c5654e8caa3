/* The check of a plan for a program: JSON, and a line for each zone as CSV. */
#include "explain/explain.h"
#include "report/check/report.h"
#include "report/check/tables.h"
#include "report/report.h"
#include "say/record.h"

static const struct er_json_unit units[] = {{"length", ER_LENGTH},
                                            {"pressure", ER_PRESSURE},
                                            {"flow", ER_FLOW},
                                            {"emitter_flow", ER_EMITTER_FLOW},
                                            {"depth", ER_DEPTH},
                                            {"volume", ER_VOLUME},
                                            {"volume_per_length", ER_VOLUME_PER_LENGTH},
                                            {"velocity", ER_VELOCITY},
                                            {"area", ER_AREA}};

/* ---- zones ---- */

static size_t zone_place(const struct er_teller *teller, const void *at)
{
    const struct er_result *result = teller->result;
    return (size_t)((const struct er_zone_result *)at - result->zones);
}

static const char *zone_name(struct er_teller *teller, const void *at)
{
    const struct er_result *result = teller->result;
    return result->field->zones[zone_place(teller, at)].name;
}

/* The codes of the zone's own findings, parted by blanks. */
static const char *zone_codes(struct er_teller *teller, const void *at)
{
    const struct er_result *result = teller->result;
    const char *codes = "";
    for (size_t i = 0; i < result->finding_count; i++) {
        const struct er_finding *finding = &result->findings[i];
        if (finding->place == ER_PLACE_ZONE && finding->index == zone_place(teller, at)) {
            codes = er_pen_joined(&teller->pen, codes, " ", er_finding_kind(finding->code)->code);
        }
    }
    return codes;
}

#define ZONE(name, unit, member) ER_QUANTITY_MEMBER(name, unit, struct er_zone_result, member)
#define ZONE_PERCENT(name, member) ER_MEMBER(name, ER_IS_PERCENT, struct er_zone_result, member)

static const struct er_member tape_inlet_members[] = {
    ZONE("min", ER_PRESSURE, tape_inlet_pressure.min),
    ZONE("max", ER_PRESSURE, tape_inlet_pressure.max), ER_END_OF_MEMBERS};
static const struct er_member emitter_pressure_members[] = {
    ZONE("min", ER_PRESSURE, emitter_pressure.min), ZONE("max", ER_PRESSURE, emitter_pressure.max),
    ER_END_OF_MEMBERS};
static const struct er_member emitter_flow_members[] = {
    ZONE("min", ER_EMITTER_FLOW, emitter_flow.min),
    ZONE("mean", ER_EMITTER_FLOW, mean_emitter_flow),
    ZONE("max", ER_EMITTER_FLOW, emitter_flow.max), ER_END_OF_MEMBERS};
static const struct er_member time_members[] = {
    ZONE("spacing", ER_TIME_PER_DEPTH, time_per_depth_spacing),
    ZONE("bed", ER_TIME_PER_DEPTH, time_per_depth_bed), ER_END_OF_MEMBERS};
static const struct er_member weekly_members[] = {ZONE("spacing", ER_DEPTH, weekly_depth_spacing),
                                                  ZONE("bed", ER_DEPTH, weekly_depth_bed),
                                                  ER_END_OF_MEMBERS};

const struct er_member er_zone_members[] = {
    {"name", ER_IS_WORDS, .words = zone_name},
    ER_MEMBER("set", ER_IS_PLACE, struct er_zone_result, set),
    ER_MEMBER("beds", ER_IS_COUNT, struct er_zone_result, beds),
    ZONE("tape_length", ER_LENGTH, tape_length),
    ER_MEMBER("emitters", ER_IS_NUMBER, struct er_zone_result, emitters),
    ZONE("area", ER_AREA, area),
    ZONE("bed_area", ER_AREA, bed_area),
    ZONE("flow", ER_FLOW, flow),
    ZONE("join_pressure", ER_PRESSURE, join_pressure),
    ZONE("inlet_pressure", ER_PRESSURE, inlet_pressure),
    ER_RECORD_MEMBER("tape_inlet_pressure", tape_inlet_members),
    ZONE("far_end_pressure", ER_PRESSURE, far_end_pressure),
    ER_RECORD_MEMBER("emitter_pressure", emitter_pressure_members),
    ER_RECORD_MEMBER("emitter_flow", emitter_flow_members),
    ZONE_PERCENT("emission_uniformity", emission_uniformity),
    ZONE_PERCENT("flow_variation", flow_variation),
    ZONE_PERCENT("christiansen", christiansen),
    ZONE_PERCENT("low_quarter", low_quarter),
    ZONE_PERCENT("statistical_uniformity", statistical_uniformity),
    ZONE("header_velocity", ER_VELOCITY, header_velocity),
    ZONE("gross_depth", ER_DEPTH, gross_depth),
    ZONE("run_time", ER_TIME, run_time),
    ZONE("gross_per_length", ER_VOLUME_PER_LENGTH, gross_per_length),
    ER_RECORD_MEMBER("time_per_depth", time_members),
    ER_RECORD_MEMBER("weekly_depth", weekly_members),
    ER_MEMBER("pulses", ER_IS_COUNT, struct er_zone_result, pulses),
    ER_END_OF_MEMBERS};

/* ---- the rest of JSON ---- */

static void add_set_zones(struct er_teller *teller, cJSON *parent, const char *key, const void *at)
{
    const struct er_result *result = teller->result;
    er_json_zone_names(&teller->json, parent, key, result->field,
                       (size_t)((const struct er_set_result *)at - result->sets));
}

#define SET(name, unit, member) ER_QUANTITY_MEMBER(name, unit, struct er_set_result, member)
static const struct er_member set_members[] = {
    ER_MADE_MEMBER("zones", add_set_zones),
    SET("flow", ER_FLOW, flow),
    SET("source_pressure", ER_PRESSURE, source_pressure),
    SET("headworks_pressure", ER_PRESSURE, after_headworks),
    SET("source_limit", ER_FLOW, source_limit),
    SET("hours", ER_TIME, run_time),
    ER_END_OF_MEMBERS};

static const char *section_name(struct er_teller *teller, const void *at)
{
    const struct er_result *result = teller->result;
    return result->field->mainline[(const struct er_section_result *)at - result->sections].name;
}

#define SECTION(name, unit, member) ER_QUANTITY_MEMBER(name, unit, struct er_section_result, member)
static const struct er_member section_members[] = {
    {"name", ER_IS_WORDS, .words = section_name},
    SECTION("flow", ER_FLOW, flow),
    SECTION("velocity", ER_VELOCITY, velocity),
    SECTION("end_pressure", ER_PRESSURE, end_pressure),
    ER_END_OF_MEMBERS};

#define SUCTION(name, member) ER_QUANTITY_MEMBER(name, ER_HEAD, struct er_suction_result, member)
static const struct er_member suction_members[] = {
    SUCTION("lift", height), SUCTION("friction", friction),
    SUCTION("npsh_available", npsh_available), ER_END_OF_MEMBERS};

#define DAY(name, unit, member) ER_QUANTITY_MEMBER(name, unit, struct er_day_result, member)
static const struct er_member day_members[] = {
    DAY("hours_needed", ER_TIME, hours_needed), DAY("hours_available", ER_TIME, hours_available),
    DAY("volume", ER_VOLUME, volume),
    ER_MEMBER("days_of_supply", ER_IS_NUMBER, struct er_day_result, days_of_supply),
    ER_END_OF_MEMBERS};

static void add_assumed_value(struct er_teller *teller, cJSON *parent, const char *key,
                              const void *at)
{
    const struct er_assumption *assumption = at;
    bool plain = assumption->quantity == ER_QUANTITY_COUNT;
    er_json_number(&teller->json, parent, key,
                   plain
                       ? assumption->value
                       : er_from_si(assumption->quantity, teller->json.system, assumption->value));
}

static const char *assumed_unit(struct er_teller *teller, const void *at)
{
    const struct er_assumption *assumption = at;
    bool plain = assumption->quantity == ER_QUANTITY_COUNT;
    const char *unit = plain || assumption->unit != NULL
                           ? assumption->unit
                           : er_unit_name(assumption->quantity, teller->json.system);
    return unit != NULL && unit[0] != '\0' ? unit : NULL;
}

static const struct er_member assumed_members[] = {
    ER_MEMBER("path", ER_IS_TEXT, struct er_assumption, pointer),
    ER_MADE_MEMBER("value", add_assumed_value),
    {"unit", ER_IS_WORDS, .words = assumed_unit},
    ER_MEMBER("text", ER_IS_TEXT, struct er_assumption, text),
    ER_END_OF_MEMBERS};

static void add_suction(struct er_teller *t, cJSON *root, const struct er_result *result)
{
    const struct er_suction_result *suction = result->suction.judged ? &result->suction : NULL;
    cJSON *object = er_tell_record(t, root, "suction", suction_members, suction);
    if (object != NULL) {
        er_json_quantity(&t->json, object, "npsh_required", ER_HEAD,
                         result->field->source.suction.npsh_required);
    }
}

static void write_json(struct er_teller *t, cJSON *root)
{
    const struct er_result *result = t->result;
    const struct er_field *field = result->field;
    er_json_text(&t->json, root, "title", field->title);
    er_json_text(&t->json, root, "verdict", er_verdict_name(result->verdict));
    er_json_units(&t->json, root, ER_ALL(units));
    er_tell_list(t, root, "sets", set_members, result->sets, field->set_count,
                 sizeof *result->sets);
    er_tell_list(t, root, "zones", er_zone_members, result->zones, field->zone_count,
                 sizeof *result->zones);
    er_tell_list(t, root, "mainline", section_members, result->sections, field->section_count,
                 sizeof *result->sections);
    add_suction(t, root, result);
    er_tell_record(t, root, "day", day_members, &result->day);
    er_tell_list(t, root, "assumed", assumed_members, result->assumptions, result->assumption_count,
                 sizeof *result->assumptions);
    er_json_findings(&t->json, root, result);
}

static const struct er_member line_members[] = {ER_RECORD_MEMBER("", er_zone_members),
                                                {"findings", ER_IS_WORDS, .words = zone_codes},
                                                ER_END_OF_MEMBERS};

static void write_csv(struct er_teller *t, struct er_text *out)
{
    const struct er_result *result = t->result;
    er_tell_csv(t, line_members, result->zones, result->field->zone_count, sizeof *result->zones,
                out);
}

const struct er_report er_check_report = {
    .page = er_check_page, .json = write_json, .csv = write_csv, .explain = er_explain_check};
