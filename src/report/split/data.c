/* A splitting for programs and spreadsheets. */
#include "report/report.h"
#include "report/split/report.h"
#include "say/record.h"

static const struct er_json_unit units[] = {{"length", ER_LENGTH},
                                            {"small_length", ER_SMALL_LENGTH},
                                            {"pressure", ER_PRESSURE},
                                            {"flow", ER_FLOW},
                                            {"volume", ER_VOLUME}};

/* NULL where something has no code. */
static const char *code_of(enum er_finding_code code)
{
    return code != ER_FINDING_COUNT ? er_finding_kind(code)->code : NULL;
}

/* ---- what was tried ---- */

static const char *try_code(struct er_teller *t, const void *at)
{
    const struct er_split_try *try = at;
    (void)t;
    return try->passes ? NULL : code_of(try->code);
}

#define TRY(name, is, member) ER_MEMBER(name, is, struct er_split_try, member)
static const struct er_member flow_members[] = {
    ER_QUANTITY_MEMBER("min", ER_FLOW, struct er_split_try, flow.min),
    ER_QUANTITY_MEMBER("max", ER_FLOW, struct er_split_try, flow.max), ER_END_OF_MEMBERS};
static const struct er_member try_members[] = {
    TRY("zones", ER_IS_COUNT, zones),  ER_RECORD_MEMBER("flow", flow_members),
    TRY("passes", ER_IS_TRUE, passes), {"code", ER_IS_WORDS, .words = try_code},
    TRY("text", ER_IS_TEXT, text),     ER_END_OF_MEMBERS};

/* ---- the zones ---- */

/* A zone of the plan, and where it comes from. */
struct told_zone {
    const char *name, *of;
    size_t first_bed, last_bed; /* from 1 */
    struct er_zone_result zone;
};

/* Those of the plan, none where no division passes; NULL: memory ran out. */
static const struct told_zone *list_zones(struct er_teller *t)
{
    const struct er_splitting *of = t->result;
    const struct er_split *split = of->split;
    struct told_zone *zones = er_pen_room(&t->pen, split->zone_count, sizeof *zones);
    for (size_t z = 0; zones != NULL && z < split->zone_count; z++) {
        const struct er_piece *piece = &split->pieces[z];
        zones[z] = (struct told_zone){split->field.zones[z].name,
                                      of->ask->field->zones[piece->zone].name, piece->first_bed + 1,
                                      piece->first_bed + piece->bed_count, split->result.zones[z]};
    }
    return zones;
}

#define ZONE(name, is, member) ER_MEMBER(name, is, struct told_zone, member)
#define SET ZONE("set", ER_IS_PLACE, zone.set)
#define UNIFORMITY ZONE("emission_uniformity", ER_IS_PERCENT, zone.emission_uniformity)
#define FLOW ER_QUANTITY_MEMBER("flow", ER_FLOW, struct told_zone, zone.flow)
#define RUN_TIME ER_QUANTITY_MEMBER("run_time", ER_TIME, struct told_zone, zone.run_time)
#define LOWEST                                                                                     \
    ER_QUANTITY_MEMBER("lowest_pressure", ER_PRESSURE, struct told_zone, zone.emitter_pressure.min)

static const struct er_member bed_members[] = {
    ZONE("first", ER_IS_COUNT, first_bed), ZONE("last", ER_IS_COUNT, last_bed), ER_END_OF_MEMBERS};

static const struct er_member zone_members[] = {ZONE("name", ER_IS_TEXT, name),
                                                ZONE("of", ER_IS_TEXT, of),
                                                ER_RECORD_MEMBER("beds", bed_members),
                                                SET,
                                                FLOW,
                                                UNIFORMITY,
                                                LOWEST,
                                                RUN_TIME,
                                                ER_END_OF_MEMBERS};

static const struct er_member line_members[] = {ZONE("zone", ER_IS_TEXT, name),
                                                ZONE("of_zone", ER_IS_TEXT, of),
                                                ZONE("first_bed", ER_IS_COUNT, first_bed),
                                                ZONE("last_bed", ER_IS_COUNT, last_bed),
                                                SET,
                                                UNIFORMITY,
                                                RUN_TIME,
                                                FLOW,
                                                LOWEST,
                                                ER_END_OF_MEMBERS};

/* ---- zones that may run together ---- */

static void add_pair_names(struct er_teller *t, cJSON *parent, const char *key, const void *at)
{
    const struct er_splitting *of = t->result;
    const struct er_split_pair *pair = at;
    cJSON *names = er_json_array(&t->json, parent, key);
    for (size_t i = 0; i < 2; i++) {
        er_json_text(&t->json, names, NULL, of->split->field.zones[pair->zones[i]].name);
    }
}

static const char *pair_code(struct er_teller *t, const void *at)
{
    (void)t;
    return code_of(((const struct er_split_pair *)at)->code);
}

static const struct er_member pair_members[] = {
    ER_MADE_MEMBER("zones", add_pair_names),
    ER_QUANTITY_MEMBER("flow", ER_FLOW, struct er_split_pair, flow),
    ER_QUANTITY_MEMBER("hours_saved", ER_TIME, struct er_split_pair, hours_saved),
    ER_END_OF_MEMBERS};

static const struct er_member nearest_members[] = {ER_MADE_MEMBER("zones", add_pair_names),
                                                   {"code", ER_IS_WORDS, .words = pair_code},
                                                   ER_END_OF_MEMBERS};

/* Zones that may run together; where none may, the two that come nearest. */
static void add_together(struct er_teller *t, cJSON *root, const struct er_split *split)
{
    const bool none = split->pairs_tried && split->pair_count == 0 && er_given(split->nearest.flow);
    cJSON *object = er_json_object(&t->json, root, "together");
    er_json_bool(&t->json, object, "tried", split->pairs_tried);
    er_tell_list(t, object, "pairs", pair_members, split->pairs, split->pair_count,
                 sizeof *split->pairs);
    er_tell_record(t, object, "nearest", nearest_members, none ? &split->nearest : NULL);
}

/* ---- the mainline's new sections ---- */

static const char *section_from(struct er_teller *t, const void *at)
{
    const struct er_field *field = &((const struct er_splitting *)t->result)->split->field;
    const struct er_section *section = at;
    return section->from == ER_HEADWORKS ? "headworks" : field->mainline[section->from].name;
}

static void add_pipe(struct er_teller *t, cJSON *parent, const char *key, const void *at)
{
    const struct er_pipe *pipe = ((const struct er_section *)at)->pipe;
    er_json_text(&t->json, parent, key, pipe->name);
    er_json_quantity(&t->json, parent, "inside_diameter", ER_SMALL_LENGTH, pipe->inside_diameter);
}

static const struct er_member section_members[] = {
    ER_MEMBER("name", ER_IS_TEXT, struct er_section, name),
    {"from", ER_IS_WORDS, .words = section_from},
    ER_MADE_MEMBER("pipe", add_pipe),
    ER_QUANTITY_MEMBER("length", ER_LENGTH, struct er_section, length),
    ER_QUANTITY_MEMBER("rise", ER_LENGTH, struct er_section, rise),
    ER_END_OF_MEMBERS};

/* ---- where no division passes ---- */

/* null where there is a plan. */
static void add_obstacle(struct er_teller *t, cJSON *root)
{
    static const char *const kinds[] = {[ER_OBSTACLE_BED] = "bed",
                                        [ER_OBSTACLE_FIT] = "fit",
                                        [ER_OBSTACLE_HOURS] = "hours",
                                        [ER_OBSTACLE_STORAGE] = "storage",
                                        [ER_OBSTACLE_DAY] = "hours and storage",
                                        [ER_OBSTACLE_RUNS] = "runs"};
    const struct er_splitting *of = t->result;
    const struct er_split_obstacle *obstacle = &of->split->obstacle;
    if (of->split->answer != ER_SPLIT_NONE) {
        er_json_text(&t->json, root, "obstacle", NULL);
        return;
    }
    bool bed = obstacle->kind == ER_OBSTACLE_BED;
    cJSON *object = er_json_object(&t->json, root, "obstacle");
    er_json_text(&t->json, object, "kind", kinds[obstacle->kind]);
    er_json_text(&t->json, object, "zone",
                 bed ? of->ask->field->zones[obstacle->bed.zone].name : NULL);
    er_json_number(&t->json, object, "bed", bed ? (double)obstacle->bed.first_bed + 1.0 : ER_NONE);
    er_json_text(&t->json, object, "code", bed ? code_of(obstacle->code) : NULL);
    er_json_text(&t->json, object, "text", er_split_obstacle(&t->pen, of->ask, of->split));
}

static void add_remedies(struct er_teller *t, cJSON *root)
{
    static const struct {
        const char *change;
        enum er_quantity quantity; /* ER_QUANTITY_COUNT: a plain number */
    } kinds[] = {[ER_REMEDY_FLOW] = {"flow", ER_FLOW},
                 [ER_REMEDY_SUPPLY] = {"flow times", ER_QUANTITY_COUNT},
                 [ER_REMEDY_BOTH] = {"flow and limit times", ER_QUANTITY_COUNT},
                 [ER_REMEDY_HOURS] = {"hours", ER_TIME},
                 [ER_REMEDY_PRESSURE] = {"pressure more", ER_PRESSURE},
                 [ER_REMEDY_REGULATOR] = {"regulator", ER_PRESSURE},
                 [ER_REMEDY_HEADER] = {"header", ER_SMALL_LENGTH},
                 [ER_REMEDY_MAINLINE] = {"mainline", ER_SMALL_LENGTH}};
    const struct er_split *split = ((const struct er_splitting *)t->result)->split;
    cJSON *array = er_json_array(&t->json, root, "remedies");
    for (size_t r = 0; r < split->remedy_count; r++) {
        const struct er_remedy *remedy = &split->remedies[r];
        enum er_quantity quantity = kinds[remedy->kind].quantity;
        double amount = remedy->pipe != NULL ? remedy->pipe->inside_diameter : remedy->amount;
        cJSON *object = er_json_object(&t->json, array, NULL);
        er_json_text(&t->json, object, "change", kinds[remedy->kind].change);
        if (quantity == ER_QUANTITY_COUNT) {
            er_json_number(&t->json, object, "amount", amount);
        } else {
            er_json_quantity(&t->json, object, "amount", quantity, amount);
        }
        er_json_text(&t->json, object, "unit",
                     quantity == ER_QUANTITY_COUNT ? NULL : er_unit_name(quantity, t->json.system));
        er_json_text(&t->json, object, "pipe", remedy->pipe != NULL ? remedy->pipe->name : NULL);
        er_json_number(&t->json, object, "zones", (double)remedy->zones);
    }
}

static void write_json(struct er_teller *t, cJSON *root)
{
    static const char *const answers[] = {[ER_SPLIT_PASSES] = "passes",
                                          [ER_SPLIT_FOUND] = "zones",
                                          [ER_SPLIT_SETS] = "sets",
                                          [ER_SPLIT_NONE] = "none"};
    const struct er_field *field = ((const struct er_splitting *)t->result)->ask->field;
    const struct er_split *split = ((const struct er_splitting *)t->result)->split;
    const size_t old = field->section_count, sections = split->field.section_count;
    bool plan = split->answer != ER_SPLIT_NONE;
    er_json_text(&t->json, root, "title", field->title);
    er_json_text(&t->json, root, "answer", answers[split->answer]);
    er_json_text(&t->json, root, "check_verdict",
                 split->is_checked ? er_verdict_name(split->check_verdict) : NULL);
    er_json_units(&t->json, root, ER_ALL(units));
    er_tell_list(t, root, "tried", try_members, split->tries, split->try_count,
                 sizeof *split->tries);
    er_tell_list(t, root, "zones", zone_members, list_zones(t), split->zone_count,
                 sizeof(struct told_zone));
    er_tell_list(t, root, "new_mainline", section_members,
                 sections > old ? &split->field.mainline[old] : NULL, sections - old,
                 sizeof *split->field.mainline);
    add_together(t, root, split);
    cJSON *day = er_json_object(&t->json, root, "day");
    er_json_quantity(&t->json, day, "hours_needed", ER_TIME,
                     plan ? split->result.day.hours_needed : ER_NONE);
    er_json_quantity(&t->json, day, "hours_available", ER_TIME, field->hours);
    add_obstacle(t, root);
    add_remedies(t, root);
    er_json_findings(&t->json, root, &split->result); /* of the answer; none without one */
}

static void write_csv(struct er_teller *t, struct er_text *out)
{
    const struct er_split *split = ((const struct er_splitting *)t->result)->split;
    er_tell_csv(t, line_members, list_zones(t), split->zone_count, sizeof(struct told_zone), out);
}

const struct er_report er_split_report = {
    .page = er_split_page, .json = write_json, .csv = write_csv};
