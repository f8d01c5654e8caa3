/* A splitting for programs and spreadsheets. */
#include "report/report.h"
#include "report/split_report.h"
#include "say/record.h"

struct builder {
    const struct er_split_ask *ask;
    const struct er_split *split;
    struct er_json json;
    struct er_pen pen;
};

static const struct er_json_unit units[] = {{"length", ER_LENGTH},
                                            {"small_length", ER_SMALL_LENGTH},
                                            {"pressure", ER_PRESSURE},
                                            {"flow", ER_FLOW},
                                            {"volume", ER_VOLUME}};

static void add_units(struct builder *b, cJSON *root)
{
    er_json_units(&b->json, er_json_object(&b->json, root, "units"), units,
                  sizeof units / sizeof units[0]);
}

static void add_tries(struct builder *b, cJSON *root)
{
    cJSON *array = er_json_array(&b->json, root, "tried");
    for (size_t t = 0; t < b->split->try_count; t++) {
        const struct er_split_try *try = &b->split->tries[t];
        cJSON *object = er_json_object(&b->json, array, NULL);
        er_json_number(&b->json, object, "zones", (double)try->zones);
        cJSON *flow = er_json_object(&b->json, object, "flow");
        er_json_quantity(&b->json, flow, "min", ER_FLOW, try->flow.min);
        er_json_quantity(&b->json, flow, "max", ER_FLOW, try->flow.max);
        er_json_bool(&b->json, object, "passes", try->passes);
        bool told = !try->passes && try->code != ER_FINDING_COUNT;
        er_json_text(&b->json, object, "code", told ? er_finding_kind(try->code)->code : NULL);
        er_json_text(&b->json, object, "text", try->text);
    }
}

static void add_zones(struct builder *b, cJSON *root)
{
    const struct er_split *split = b->split;
    cJSON *array = er_json_array(&b->json, root, "zones");
    for (size_t z = 0; z < split->zone_count; z++) {
        const struct er_zone_result *zone = &split->result.zones[z];
        const struct er_piece *piece = &split->pieces[z];
        cJSON *object = er_json_object(&b->json, array, NULL);
        er_json_text(&b->json, object, "name", split->field.zones[z].name);
        er_json_text(&b->json, object, "of", b->ask->field->zones[piece->zone].name);
        cJSON *beds = er_json_object(&b->json, object, "beds");
        er_json_number(&b->json, beds, "first", (double)piece->first_bed + 1.0);
        er_json_number(&b->json, beds, "last", (double)(piece->first_bed + piece->bed_count));
        er_json_number(&b->json, object, "set", (double)zone->set + 1.0);
        er_json_quantity(&b->json, object, "flow", ER_FLOW, zone->flow);
        er_json_number(&b->json, object, "emission_uniformity", 100.0 * zone->emission_uniformity);
        er_json_quantity(&b->json, object, "lowest_pressure", ER_PRESSURE,
                         zone->emitter_pressure.min);
        er_json_quantity(&b->json, object, "run_time", ER_TIME, zone->run_time);
    }
}

static void add_pair_names(struct builder *b, cJSON *object, const struct er_split_pair *pair)
{
    cJSON *names = er_json_array(&b->json, object, "zones");
    for (size_t i = 0; i < 2; i++) {
        er_json_text(&b->json, names, NULL, b->split->field.zones[pair->zones[i]].name);
    }
}

/* Zones that may run together; where none may, the two that come nearest. */
static void add_together(struct builder *b, cJSON *root)
{
    const struct er_split *split = b->split;
    const struct er_split_pair *nearest = &split->nearest;
    cJSON *object = er_json_object(&b->json, root, "together");
    er_json_bool(&b->json, object, "tried", split->pairs_tried);
    cJSON *pairs = er_json_array(&b->json, object, "pairs");
    for (size_t p = 0; p < split->pair_count; p++) {
        cJSON *pair = er_json_object(&b->json, pairs, NULL);
        add_pair_names(b, pair, &split->pairs[p]);
        er_json_quantity(&b->json, pair, "flow", ER_FLOW, split->pairs[p].flow);
        er_json_quantity(&b->json, pair, "hours_saved", ER_TIME, split->pairs[p].hours_saved);
    }
    if (!split->pairs_tried || split->pair_count > 0 || !er_given(nearest->flow)) {
        er_json_null(&b->json, object, "nearest");
        return;
    }
    cJSON *pair = er_json_object(&b->json, object, "nearest");
    add_pair_names(b, pair, nearest);
    er_json_text(&b->json, pair, "code",
                 nearest->code != ER_FINDING_COUNT ? er_finding_kind(nearest->code)->code : NULL);
}

static void add_sections(struct builder *b, cJSON *root)
{
    const struct er_field *field = &b->split->field;
    cJSON *array = er_json_array(&b->json, root, "new_mainline");
    for (size_t s = b->ask->field->section_count; s < field->section_count; s++) {
        const struct er_section *section = &field->mainline[s];
        bool headworks = section->from == ER_HEADWORKS;
        cJSON *object = er_json_object(&b->json, array, NULL);
        er_json_text(&b->json, object, "name", section->name);
        er_json_text(&b->json, object, "from",
                     headworks ? "headworks" : field->mainline[section->from].name);
        er_json_text(&b->json, object, "pipe", section->pipe->name);
        er_json_quantity(&b->json, object, "inside_diameter", ER_SMALL_LENGTH,
                         section->pipe->inside_diameter);
        er_json_quantity(&b->json, object, "length", ER_LENGTH, section->length);
        er_json_quantity(&b->json, object, "rise", ER_LENGTH, section->rise);
    }
}

/* null where there is a plan. */
static void add_obstacle(struct builder *b, cJSON *root)
{
    static const char *const kinds[] = {[ER_OBSTACLE_BED] = "bed",
                                        [ER_OBSTACLE_FIT] = "fit",
                                        [ER_OBSTACLE_HOURS] = "hours",
                                        [ER_OBSTACLE_STORAGE] = "storage",
                                        [ER_OBSTACLE_DAY] = "hours and storage",
                                        [ER_OBSTACLE_RUNS] = "runs"};
    const struct er_split_obstacle *obstacle = &b->split->obstacle;
    if (b->split->answer != ER_SPLIT_NONE) {
        er_json_text(&b->json, root, "obstacle", NULL);
        return;
    }
    bool bed = obstacle->kind == ER_OBSTACLE_BED;
    bool told = bed && obstacle->code != ER_FINDING_COUNT;
    cJSON *object = er_json_object(&b->json, root, "obstacle");
    er_json_text(&b->json, object, "kind", kinds[obstacle->kind]);
    er_json_text(&b->json, object, "zone",
                 bed ? b->ask->field->zones[obstacle->bed.zone].name : NULL);
    er_json_number(&b->json, object, "bed", bed ? (double)obstacle->bed.first_bed + 1.0 : ER_NONE);
    er_json_text(&b->json, object, "code", told ? er_finding_kind(obstacle->code)->code : NULL);
    er_json_text(&b->json, object, "text", er_split_obstacle(&b->pen, b->ask, b->split));
}

static void add_remedies(struct builder *b, cJSON *root)
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
    cJSON *array = er_json_array(&b->json, root, "remedies");
    for (size_t r = 0; r < b->split->remedy_count; r++) {
        const struct er_remedy *remedy = &b->split->remedies[r];
        enum er_quantity quantity = kinds[remedy->kind].quantity;
        double amount = remedy->pipe != NULL ? remedy->pipe->inside_diameter : remedy->amount;
        cJSON *object = er_json_object(&b->json, array, NULL);
        er_json_text(&b->json, object, "change", kinds[remedy->kind].change);
        if (quantity == ER_QUANTITY_COUNT) {
            er_json_number(&b->json, object, "amount", amount);
        } else {
            er_json_quantity(&b->json, object, "amount", quantity, amount);
        }
        er_json_text(&b->json, object, "unit",
                     quantity == ER_QUANTITY_COUNT ? NULL : er_unit_name(quantity, b->ask->speaks));
        er_json_text(&b->json, object, "pipe", remedy->pipe != NULL ? remedy->pipe->name : NULL);
        er_json_number(&b->json, object, "zones", (double)remedy->zones);
    }
}

static enum er_status write_json(const void *result, enum er_system system, struct er_text *out)
{
    const struct er_split_ask *ask = ((const struct er_splitting *)result)->ask;
    const struct er_split *split = ((const struct er_splitting *)result)->split;
    static const char *const answers[] = {[ER_SPLIT_PASSES] = "passes",
                                          [ER_SPLIT_FOUND] = "zones",
                                          [ER_SPLIT_SETS] = "sets",
                                          [ER_SPLIT_NONE] = "none"};
    struct builder b = {
        .ask = ask, .split = split, .json = {.system = system}, .pen = {.system = system}};
    bool plan = split->answer != ER_SPLIT_NONE;
    cJSON *root = er_json_root(&b.json, ask->field->title);
    er_json_text(&b.json, root, "answer", answers[split->answer]);
    er_json_text(&b.json, root, "check_verdict",
                 split->is_checked ? er_verdict_name(split->check_verdict) : NULL);
    add_units(&b, root);
    add_tries(&b, root);
    add_zones(&b, root);
    add_sections(&b, root);
    add_together(&b, root);
    cJSON *day = er_json_object(&b.json, root, "day");
    er_json_quantity(&b.json, day, "hours_needed", ER_TIME,
                     plan ? split->result.day.hours_needed : ER_NONE);
    er_json_quantity(&b.json, day, "hours_available", ER_TIME, ask->field->hours);
    add_obstacle(&b, root);
    add_remedies(&b, root);
    er_json_findings(&b.json, root, &split->result); /* of the answer; none without one */
    b.json.failed = b.json.failed || b.pen.out_of_memory;
    er_pen_release(&b.pen);
    return er_json_end(&b.json, root, out);
}

/* A zone of the plan, and where it comes from. */
struct line {
    const char *name, *of;
    size_t first_bed, last_bed; /* from 1 */
    struct er_zone_result zone;
};

#define LINE(name, is, member) ER_MEMBER(name, is, struct line, member)
static const struct er_member line_members[] = {
    LINE("zone", ER_IS_TEXT, name),
    LINE("of_zone", ER_IS_TEXT, of),
    LINE("first_bed", ER_IS_COUNT, first_bed),
    LINE("last_bed", ER_IS_COUNT, last_bed),
    LINE("set", ER_IS_PLACE, zone.set),
    LINE("emission_uniformity", ER_IS_PERCENT, zone.emission_uniformity),
    ER_QUANTITY_MEMBER("run_time", ER_TIME, struct line, zone.run_time),
    ER_QUANTITY_MEMBER("flow", ER_FLOW, struct line, zone.flow),
    ER_QUANTITY_MEMBER("lowest_pressure", ER_PRESSURE, struct line, zone.emitter_pressure.min),
    ER_END_OF_MEMBERS};

/* The zones of the plan, one line each; none where no division passes. */
static enum er_status write_csv(const void *result, enum er_system system, struct er_text *out)
{
    const struct er_splitting *of = result;
    const struct er_split *split = of->split;
    struct er_teller t = {{.system = system}, {.system = system}, of};
    struct line *lines = er_arena_array(&t.pen.arena, split->zone_count, sizeof *lines);
    for (size_t z = 0; lines != NULL && z < split->zone_count; z++) {
        const struct er_piece *piece = &split->pieces[z];
        lines[z] = (struct line){split->field.zones[z].name,
                                 of->ask->field->zones[piece->zone].name, piece->first_bed + 1,
                                 piece->first_bed + piece->bed_count, split->result.zones[z]};
    }
    t.pen.out_of_memory = lines == NULL;
    er_tell_csv(&t, line_members, lines, lines != NULL ? split->zone_count : 0, sizeof *lines, out);
    return er_teller_end_csv(&t, out);
}

const struct er_report er_split_report = {
    .page = er_split_page, .json = write_json, .csv = write_csv};
