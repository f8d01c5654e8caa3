/* What has to be bought, for programs and spreadsheets. */
#include <math.h>

#include "report/buy_report.h"
#include "report/report.h"
#include "say/csv.h"
#include "say/json.h"

struct builder {
    const struct er_materials *materials;
    const struct er_field *field;
    struct er_json json;
};

static const struct er_json_unit units[] = {{"length", ER_LENGTH},
                                            {"small_length", ER_SMALL_LENGTH},
                                            {"pressure", ER_PRESSURE},
                                            {"flow", ER_FLOW},
                                            {"area", ER_AREA}};

static void add_totals(struct builder *b, cJSON *root)
{
    const struct er_materials *materials = b->materials;
    cJSON *object = er_json_object(&b->json, root, "totals");
    er_json_quantity(&b->json, object, "area", ER_AREA, materials->area);
    er_json_quantity(&b->json, object, "bed_length", ER_LENGTH, materials->bed_length);
    er_json_number(&b->json, object, "bed_length_per_area",
                   er_from_si(ER_LENGTH, b->json.system, materials->bed_length) /
                       er_from_si(ER_AREA, b->json.system, materials->area));
    er_json_number(&b->json, object, "cost", materials->cost);
    er_json_number(&b->json, object, "cost_per_area", er_cost_per_area(materials, b->json.system));
    er_json_number(&b->json, object, "cost_per_100_of_bed",
                   er_cost_per_bed_length(materials, b->json.system));
    er_json_number(&b->json, object, "unpriced", (double)materials->unpriced);
    er_json_bool(&b->json, object, "placeholder_prices", materials->price_placeholders);
    er_json_bool(&b->json, object, "placeholder_lengths", materials->unit_placeholders);
}

/* An amount of what a line counts: a length, or pieces. */
static double told_amount(const struct er_material *line, enum er_system system, double amount)
{
    return line->by_length ? er_from_si(ER_LENGTH, system, amount) : amount;
}

static void add_line(struct builder *b, cJSON *array, const struct er_material *line)
{
    struct er_text why;
    er_text_init(&why);
    er_append_reasons(&why, b->materials, line, b->json.system);
    cJSON *object = er_json_object(&b->json, array, NULL);
    er_json_text(&b->json, object, "group", er_material_group_name(line->group));
    er_json_text(&b->json, object, "price_key", line->key);
    er_json_text(&b->json, object, "what", line->about);
    er_json_text(&b->json, object, "name", line->name);
    er_json_bool(&b->json, object, "by_length", line->by_length);
    er_json_number(&b->json, object, "takes", told_amount(line, b->json.system, line->takes));
    er_json_number(&b->json, object, "with_waste",
                   told_amount(line, b->json.system, line->with_waste));
    er_json_text(&b->json, object, "unit", line->unit);
    er_json_quantity(&b->json, object, "unit_length", ER_LENGTH, line->unit_length);
    er_json_bool(&b->json, object, "placeholder_length", line->unit_placeholder);
    er_json_number(&b->json, object, "count", line->count);
    if (er_given(line->short_length)) {
        cJSON *roll = er_json_object(&b->json, object, "shortest_roll");
        er_json_quantity(&b->json, roll, "length", ER_LENGTH, line->short_length);
        er_json_number(&b->json, roll, "count", line->short_count);
        er_json_number(&b->json, roll, "placeholder_price", line->short_price);
    } else {
        er_json_null(&b->json, object, "shortest_roll");
    }
    er_json_number(&b->json, object, "price", line->price);
    er_json_bool(&b->json, object, "placeholder_price", line->price_placeholder);
    er_json_number(&b->json, object, "cost", line->cost);
    er_json_text(&b->json, object, "why", er_text_string(&why));
    b->json.failed = b->json.failed || why.out_of_memory;
    er_text_release(&why);
}

static void add_piece(struct builder *b, cJSON *array, const struct er_tape_plan *plan,
                      const struct er_roll_piece *piece)
{
    const struct er_tape_row *row = &plan->rows[piece->run];
    cJSON *object = er_json_object(&b->json, array, NULL);
    er_json_number(&b->json, object, "roll", (double)piece->roll + 1.0);
    er_json_text(&b->json, object, "zone", b->field->zones[row->zone].name);
    er_json_number(&b->json, object, "bed", (double)row->bed + 1.0);
    er_json_number(&b->json, object, "row", (double)row->place + 1.0);
    er_json_quantity(&b->json, object, "length", ER_LENGTH, piece->length);
    er_json_bool(&b->json, object, "joined", piece->joined);
}

/* What is cut from each roll, and what is left of it. */
static void add_cuts(struct builder *b, cJSON *object, const struct er_tape_plan *plan)
{
    cJSON *cuts = er_json_array(&b->json, object, "cuts");
    for (size_t i = 0; i < plan->plan.piece_count;) {
        const size_t roll = plan->plan.pieces[i].roll;
        double used = 0.0;
        for (; i < plan->plan.piece_count && plan->plan.pieces[i].roll == roll; i++) {
            used += plan->plan.pieces[i].length;
        }
        cJSON *cut = er_json_object(&b->json, cuts, NULL);
        er_json_number(&b->json, cut, "roll", (double)roll + 1.0);
        er_json_quantity(&b->json, cut, "cut", ER_LENGTH, used);
        er_json_quantity(&b->json, cut, "left", ER_LENGTH, fmax(0.0, plan->roll_length - used));
    }
}

static void add_rolls(struct builder *b, cJSON *root)
{
    cJSON *tapes = er_json_array(&b->json, root, "rolls");
    for (size_t t = 0; t < b->materials->tape_count; t++) {
        const struct er_tape_plan *plan = &b->materials->tapes[t];
        cJSON *object = er_json_object(&b->json, tapes, NULL);
        er_json_text(&b->json, object, "tape", plan->tape->name);
        er_json_quantity(&b->json, object, "roll_length", ER_LENGTH, plan->roll_length);
        er_json_number(&b->json, object, "rolls", plan->plan.rolls);
        er_json_number(&b->json, object, "joints", plan->plan.joints);
        cJSON *pieces = er_json_array(&b->json, object, "pieces");
        for (size_t i = 0; i < plan->plan.piece_count; i++) {
            add_piece(b, pieces, plan, &plan->plan.pieces[i]);
        }
        add_cuts(b, object, plan);
    }
}

static void add_film(struct builder *b, cJSON *root)
{
    const struct er_film_need *film = &b->materials->film;
    if (!film->wanted) {
        er_json_null(&b->json, root, "film");
        return;
    }
    struct er_text remark;
    er_text_init(&remark);
    er_append_film_remark(&remark, film, b->json.system);
    cJSON *object = er_json_object(&b->json, root, "film");
    er_json_quantity(&b->json, object, "bed_top", ER_SMALL_LENGTH, film->bed_top);
    er_json_quantity(&b->json, object, "bed_height", ER_SMALL_LENGTH, film->bed_height);
    er_json_quantity(&b->json, object, "buried", ER_SMALL_LENGTH, film->buried);
    er_json_quantity(&b->json, object, "width", ER_SMALL_LENGTH, film->width);
    er_json_quantity(&b->json, object, "given_width", ER_SMALL_LENGTH, film->given_width);
    er_json_quantity(&b->json, object, "given_buried", ER_SMALL_LENGTH, film->given_buried);
    er_json_quantity(&b->json, object, "given_thickness", ER_SMALL_LENGTH, film->given_thickness);
    er_json_text(&b->json, object, "remark", remark.length > 0 ? er_text_string(&remark) : NULL);
    b->json.failed = b->json.failed || remark.out_of_memory;
    er_text_release(&remark);
}

enum er_status er_report_buy_json(const struct er_materials *materials, enum er_system system,
                                  struct er_text *out)
{
    const struct er_field *field = materials->result->field;
    struct builder b = {.materials = materials, .field = field, .json = {.system = system}};
    cJSON *root = er_json_root(&b.json, field->title);
    er_json_text(&b.json, root, "verdict", er_verdict_name(materials->result->verdict));
    er_json_text(&b.json, root, "check_verdict", er_verdict_name(materials->result->verdict));
    er_json_units(&b.json, er_json_object(&b.json, root, "units"), units,
                  sizeof units / sizeof units[0]);
    er_json_text(&b.json, root, "currency", field->prices == NULL ? NULL : field->prices->currency);
    er_json_number(&b.json, root, "waste", 100.0 * materials->request.waste);
    add_totals(&b, root);
    cJSON *lines = er_json_array(&b.json, root, "lines");
    for (size_t i = 0; i < materials->line_count; i++) {
        add_line(&b, lines, &materials->lines[i]);
    }
    add_rolls(&b, root);
    add_film(&b, root);
    er_json_findings(&b.json, root, materials->result);
    return er_json_end(&b.json, root, out);
}

static void append_csv_line(struct er_text *out, const struct er_materials *materials,
                            const struct er_material *line, enum er_system system)
{
    struct er_text why;
    er_text_init(&why);
    er_append_reasons(&why, materials, line, system);
    er_csv_text(out, true, er_material_group_name(line->group));
    er_csv_text(out, false, line->about);
    er_csv_text(out, false, line->name == NULL ? "" : line->name);
    er_csv_number(out, false, line->count);
    er_csv_text(out, false, line->unit);
    er_csv_number(out, false, er_from_si(ER_LENGTH, system, line->unit_length));
    er_csv_number(out, false, told_amount(line, system, line->takes));
    er_csv_number(out, false, told_amount(line, system, line->with_waste));
    er_csv_text(out, false, line->by_length ? er_unit_name(ER_LENGTH, system) : line->unit);
    er_csv_number(out, false, line->price);
    er_csv_number(out, false, line->cost);
    er_csv_text(out, false, line->price_placeholder || line->unit_placeholder ? "yes" : "no");
    er_csv_text(out, false, er_text_string(&why));
    er_text_append(out, "\n");
    out->out_of_memory = out->out_of_memory || why.out_of_memory;
    er_text_release(&why);
}

enum er_status er_report_buy_csv(const struct er_materials *materials, enum er_system system,
                                 struct er_text *out)
{
    er_text_append(out, "group,what,name,count,unit,unit_length_");
    er_csv_unit(out, er_unit_name(ER_LENGTH, system));
    er_text_append(out, ",takes,with_waste,amount_unit,price,cost,placeholder,why\n");
    for (size_t i = 0; i < materials->line_count; i++) {
        append_csv_line(out, materials, &materials->lines[i], system);
    }
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
