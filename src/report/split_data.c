/* A splitting for programs and spreadsheets. */
#include "report/csv_text.h"
#include "report/json_build.h"
#include "report/split_report.h"

struct builder {
    const struct er_split_ask *ask;
    const struct er_split *split;
    bool failed; /* memory ran out */
};

static void add_quantity(struct builder *b, cJSON *object, const char *key,
                         enum er_quantity quantity, double value)
{
    er_build_number(object, key, er_from_si(quantity, b->ask->speaks, value), &b->failed);
}

static cJSON *add_array(struct builder *b, cJSON *parent, const char *key)
{
    return er_build_add(parent, key, cJSON_CreateArray(), &b->failed);
}

static cJSON *add_object(struct builder *b, cJSON *parent, const char *key)
{
    return er_build_add(parent, key, cJSON_CreateObject(), &b->failed);
}

static void add_units(struct builder *b, cJSON *root)
{
    static const struct {
        const char *key;
        enum er_quantity quantity;
    } units[] = {{"length", ER_LENGTH},
                 {"small_length", ER_SMALL_LENGTH},
                 {"pressure", ER_PRESSURE},
                 {"flow", ER_FLOW},
                 {"volume", ER_VOLUME}};
    cJSON *object = add_object(b, root, "units");
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        er_build_string(object, units[i].key, er_unit_name(units[i].quantity, b->ask->speaks),
                        &b->failed);
    }
}

static void add_tries(struct builder *b, cJSON *root)
{
    cJSON *array = add_array(b, root, "tried");
    for (size_t t = 0; t < b->split->try_count; t++) {
        const struct er_split_try *try = &b->split->tries[t];
        cJSON *object = add_object(b, array, NULL);
        er_build_number(object, "zones", (double)try->zones, &b->failed);
        cJSON *flow = add_object(b, object, "flow");
        add_quantity(b, flow, "min", ER_FLOW, try->flow.min);
        add_quantity(b, flow, "max", ER_FLOW, try->flow.max);
        er_build_add(object, "passes", cJSON_CreateBool(try->passes), &b->failed);
        bool told = !try->passes && try->code != ER_FINDING_COUNT;
        er_build_string(object, "code", told ? er_finding_kind(try->code)->code : NULL, &b->failed);
        er_build_string(object, "text", try->text, &b->failed);
    }
}

static void add_zones(struct builder *b, cJSON *root)
{
    const struct er_split *split = b->split;
    cJSON *array = add_array(b, root, "zones");
    for (size_t z = 0; z < split->zone_count; z++) {
        const struct er_zone_result *zone = &split->result.zones[z];
        const struct er_piece *piece = &split->pieces[z];
        cJSON *object = add_object(b, array, NULL);
        er_build_string(object, "name", split->field.zones[z].name, &b->failed);
        er_build_string(object, "of", b->ask->field->zones[piece->zone].name, &b->failed);
        cJSON *beds = add_object(b, object, "beds");
        er_build_number(beds, "first", (double)piece->first_bed + 1.0, &b->failed);
        er_build_number(beds, "last", (double)(piece->first_bed + piece->bed_count), &b->failed);
        er_build_number(object, "set", (double)zone->set + 1.0, &b->failed);
        add_quantity(b, object, "flow", ER_FLOW, zone->flow);
        er_build_number(object, "emission_uniformity", 100.0 * zone->emission_uniformity,
                        &b->failed);
        add_quantity(b, object, "lowest_pressure", ER_PRESSURE, zone->emitter_pressure.min);
        add_quantity(b, object, "run_time", ER_TIME, zone->run_time);
    }
}

static void add_sections(struct builder *b, cJSON *root)
{
    const struct er_field *field = &b->split->field;
    cJSON *array = add_array(b, root, "new_mainline");
    for (size_t s = b->ask->field->section_count; s < field->section_count; s++) {
        const struct er_section *section = &field->mainline[s];
        bool headworks = section->from == ER_HEADWORKS;
        cJSON *object = add_object(b, array, NULL);
        er_build_string(object, "name", section->name, &b->failed);
        er_build_string(object, "from",
                        headworks ? "headworks" : field->mainline[section->from].name, &b->failed);
        er_build_string(object, "pipe", section->pipe->name, &b->failed);
        add_quantity(b, object, "inside_diameter", ER_SMALL_LENGTH, section->pipe->inside_diameter);
        add_quantity(b, object, "length", ER_LENGTH, section->length);
        add_quantity(b, object, "rise", ER_LENGTH, section->rise);
    }
}

/* null where there is a plan. */
static void add_obstacle(struct builder *b, cJSON *root)
{
    static const char *const kinds[] = {[ER_OBSTACLE_BED] = "bed",
                                        [ER_OBSTACLE_FIT] = "fit",
                                        [ER_OBSTACLE_HOURS] = "hours",
                                        [ER_OBSTACLE_STORAGE] = "storage",
                                        [ER_OBSTACLE_DAY] = "hours and storage"};
    const struct er_obstacle *obstacle = &b->split->obstacle;
    if (b->split->answer != ER_SPLIT_NONE) {
        er_build_string(root, "obstacle", NULL, &b->failed);
        return;
    }
    bool bed = obstacle->kind == ER_OBSTACLE_BED;
    bool told = bed && obstacle->code != ER_FINDING_COUNT;
    struct er_text text;
    er_text_init(&text);
    er_say_obstacle(b->ask, b->split, &text);
    cJSON *object = add_object(b, root, "obstacle");
    er_build_string(object, "kind", kinds[obstacle->kind], &b->failed);
    er_build_string(object, "zone", bed ? b->ask->field->zones[obstacle->bed.zone].name : NULL,
                    &b->failed);
    er_build_number(object, "bed", bed ? (double)obstacle->bed.first_bed + 1.0 : ER_NONE,
                    &b->failed);
    er_build_string(object, "code", told ? er_finding_kind(obstacle->code)->code : NULL,
                    &b->failed);
    er_build_string(object, "text", er_text_string(&text), &b->failed);
    b->failed = b->failed || text.out_of_memory;
    er_text_release(&text);
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
    cJSON *array = add_array(b, root, "remedies");
    for (size_t r = 0; r < b->split->remedy_count; r++) {
        const struct er_remedy *remedy = &b->split->remedies[r];
        enum er_quantity quantity = kinds[remedy->kind].quantity;
        double amount = remedy->pipe != NULL ? remedy->pipe->inside_diameter : remedy->amount;
        cJSON *object = add_object(b, array, NULL);
        er_build_string(object, "change", kinds[remedy->kind].change, &b->failed);
        if (quantity == ER_QUANTITY_COUNT) {
            er_build_number(object, "amount", amount, &b->failed);
        } else {
            add_quantity(b, object, "amount", quantity, amount);
        }
        er_build_string(object, "unit",
                        quantity == ER_QUANTITY_COUNT ? NULL
                                                      : er_unit_name(quantity, b->ask->speaks),
                        &b->failed);
        er_build_string(object, "pipe", remedy->pipe != NULL ? remedy->pipe->name : NULL,
                        &b->failed);
        er_build_number(object, "zones", (double)remedy->zones, &b->failed);
    }
}

enum er_status er_report_split_json(const struct er_split_ask *ask, const struct er_split *split,
                                    struct er_text *out)
{
    static const char *const answers[] = {[ER_SPLIT_PASSES] = "passes",
                                          [ER_SPLIT_FOUND] = "zones",
                                          [ER_SPLIT_SETS] = "sets",
                                          [ER_SPLIT_NONE] = "none"};
    struct builder b = {ask, split, false};
    bool plan = split->answer != ER_SPLIT_NONE;
    cJSON *root = cJSON_CreateObject();
    if (root == NULL) {
        return ER_NO_MEMORY;
    }
    er_build_string(root, "evenrow", EVENROW_VERSION, &b.failed);
    er_build_string(root, "title", ask->field->title, &b.failed);
    er_build_string(root, "answer", answers[split->answer], &b.failed);
    add_units(&b, root);
    add_tries(&b, root);
    add_zones(&b, root);
    add_sections(&b, root);
    cJSON *day = add_object(&b, root, "day");
    add_quantity(&b, day, "hours_needed", ER_TIME, plan ? split->result.day.hours_needed : ER_NONE);
    add_quantity(&b, day, "hours_available", ER_TIME, ask->field->hours);
    add_obstacle(&b, root);
    add_remedies(&b, root);
    if (!b.failed) {
        er_build_write(root, out);
    }
    cJSON_Delete(root);
    return b.failed || out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}

enum er_status er_report_split_csv(const struct er_split_ask *ask, const struct er_split *split,
                                   struct er_text *out)
{
    er_text_append(out, "zone,of_zone,first_bed,last_bed,set,emission_uniformity_percent,"
                        "run_time_h,flow_");
    er_csv_unit(out, er_unit_name(ER_FLOW, ask->speaks));
    er_text_append(out, ",lowest_pressure_");
    er_csv_unit(out, er_unit_name(ER_PRESSURE, ask->speaks));
    er_text_append(out, "\n");
    for (size_t z = 0; z < split->zone_count; z++) {
        const struct er_zone_result *zone = &split->result.zones[z];
        const struct er_piece *piece = &split->pieces[z];
        er_csv_text(out, true, split->field.zones[z].name);
        er_csv_text(out, false, ask->field->zones[piece->zone].name);
        er_csv_number(out, false, (double)piece->first_bed + 1.0);
        er_csv_number(out, false, (double)(piece->first_bed + piece->bed_count));
        er_csv_number(out, false, (double)zone->set + 1.0);
        er_csv_number(out, false, 100.0 * zone->emission_uniformity);
        er_csv_number(out, false, er_from_si(ER_TIME, ask->speaks, zone->run_time));
        er_csv_number(out, false, er_from_si(ER_FLOW, ask->speaks, zone->flow));
        er_csv_number(out, false, er_from_si(ER_PRESSURE, ask->speaks, zone->emitter_pressure.min));
        er_text_append(out, "\n");
    }
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
