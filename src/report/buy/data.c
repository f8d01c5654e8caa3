/* What has to be bought, for programs and spreadsheets. */
#include <math.h>

#include "report/buy/report.h"
#include "report/report.h"
#include "say/record.h"

static const char *group_name(struct er_teller *teller, const void *at)
{
    static const char *const names[ER_MATERIAL_GROUP_COUNT] = {
        [ER_MATERIAL_TAPE] = "tape",   [ER_MATERIAL_PIPE] = "pipe",
        [ER_MATERIAL_ZONES] = "zones", [ER_MATERIAL_HEADWORKS] = "headworks",
        [ER_MATERIAL_FILM] = "film",
    };
    (void)teller;
    return names[*(const enum er_material_group *)at];
}

/* ---- lines ---- */

/* A line with what it says, in the reader's units. */
struct told {
    struct er_material line;
    double takes, with_waste;
    const char *amount_unit;
    bool placeholder;
    const char *why;
};

static struct told told_line(struct er_pen *pen, const struct er_materials *materials,
                             const struct er_material *line)
{
    const double unit = line->by_length ? er_from_si(ER_LENGTH, pen->system, 1.0) : 1.0;
    return (struct told){
        *line,
        line->takes * unit,
        line->with_waste * unit,
        line->by_length ? er_unit_name(ER_LENGTH, pen->system) : line->unit,
        line->price_placeholder || line->unit_placeholder,
        er_buy_reasons(pen, materials, line),
    };
}

/* NULL if memory ran out. */
static struct told *told_lines(struct er_teller *teller, const struct er_materials *materials)
{
    struct told *told = er_pen_room(&teller->pen, materials->line_count, sizeof *told);
    for (size_t i = 0; told != NULL && i < materials->line_count; i++) {
        told[i] = told_line(&teller->pen, materials, &materials->lines[i]);
    }
    return told;
}

#define LINE(name, is, member) ER_MEMBER(name, is, struct told, member)
#define GROUP ER_WORDS_MEMBER("group", struct told, line.group, group_name)
#define WHAT LINE("what", ER_IS_TEXT, line.about)
#define NAME LINE("name", ER_IS_TEXT, line.name)
#define TAKES LINE("takes", ER_IS_NUMBER, takes), LINE("with_waste", ER_IS_NUMBER, with_waste)
#define UNIT LINE("unit", ER_IS_TEXT, line.unit)
#define UNIT_LENGTH ER_QUANTITY_MEMBER("unit_length", ER_LENGTH, struct told, line.unit_length)
#define COUNT LINE("count", ER_IS_NUMBER, line.count)
#define PRICE LINE("price", ER_IS_NUMBER, line.price)
#define COST LINE("cost", ER_IS_NUMBER, line.cost)
#define WHY LINE("why", ER_IS_TEXT, why)

static const struct er_member short_roll_members[] = {
    ER_QUANTITY_MEMBER("length", ER_LENGTH, struct er_material, short_length),
    ER_MEMBER("count", ER_IS_NUMBER, struct er_material, short_count),
    ER_MEMBER("placeholder_price", ER_IS_NUMBER, struct er_material, short_price),
    ER_END_OF_MEMBERS};

static void add_short_roll(struct er_teller *teller, cJSON *parent, const char *key, const void *at)
{
    const struct told *told = at;
    er_tell_record(teller, parent, key, short_roll_members,
                   er_given(told->line.short_length) ? &told->line : NULL);
}

static const struct er_member line_members[] = {
    GROUP,
    LINE("price_key", ER_IS_TEXT, line.key),
    WHAT,
    NAME,
    LINE("by_length", ER_IS_TRUE, line.by_length),
    TAKES,
    UNIT,
    UNIT_LENGTH,
    LINE("placeholder_length", ER_IS_TRUE, line.unit_placeholder),
    COUNT,
    ER_MADE_MEMBER("shortest_roll", add_short_roll),
    PRICE,
    LINE("placeholder_price", ER_IS_TRUE, line.price_placeholder),
    COST,
    WHY,
    ER_END_OF_MEMBERS};

static const struct er_member csv_members[] = {GROUP,
                                               WHAT,
                                               NAME,
                                               COUNT,
                                               UNIT,
                                               UNIT_LENGTH,
                                               TAKES,
                                               LINE("amount_unit", ER_IS_TEXT, amount_unit),
                                               PRICE,
                                               COST,
                                               LINE("placeholder", ER_IS_TRUE, placeholder),
                                               WHY,
                                               ER_END_OF_MEMBERS};

/* ---- which beds each roll serves ---- */

/* A piece of tape, and where it lies. */
struct laid {
    struct er_roll_piece piece;
    struct er_tape_row row;
    const char *zone;
};

static const struct er_member laid_members[] = {
    ER_MEMBER("roll", ER_IS_PLACE, struct laid, piece.roll),
    ER_MEMBER("zone", ER_IS_TEXT, struct laid, zone),
    ER_MEMBER("bed", ER_IS_PLACE, struct laid, row.bed),
    ER_MEMBER("row", ER_IS_PLACE, struct laid, row.place),
    ER_QUANTITY_MEMBER("length", ER_LENGTH, struct laid, piece.length),
    ER_MEMBER("joined", ER_IS_TRUE, struct laid, piece.joined),
    ER_END_OF_MEMBERS};

static void add_pieces(struct er_teller *teller, cJSON *parent, const char *key, const void *at)
{
    const struct er_tape_plan *plan = at;
    const struct er_materials *materials = teller->result;
    cJSON *pieces = er_json_array(&teller->json, parent, key);
    for (size_t i = 0; i < plan->plan.piece_count; i++) {
        const struct er_roll_piece *piece = &plan->plan.pieces[i];
        const struct er_tape_row *row = &plan->rows[piece->run];
        const struct laid laid = {*piece, *row, materials->result->field->zones[row->zone].name};
        er_tell_record(teller, pieces, NULL, laid_members, &laid);
    }
}

struct cut {
    size_t roll;
    double cut, left; /* m */
};

static const struct er_member cut_members[] = {
    ER_MEMBER("roll", ER_IS_PLACE, struct cut, roll),
    ER_QUANTITY_MEMBER("cut", ER_LENGTH, struct cut, cut),
    ER_QUANTITY_MEMBER("left", ER_LENGTH, struct cut, left), ER_END_OF_MEMBERS};

/* What is cut from each roll, and what is left of it. */
static void add_cuts(struct er_teller *teller, cJSON *parent, const char *key, const void *at)
{
    const struct er_tape_plan *plan = at;
    const struct er_roll_piece *pieces = plan->plan.pieces;
    cJSON *cuts = er_json_array(&teller->json, parent, key);
    for (size_t i = 0; i < plan->plan.piece_count;) {
        struct cut cut = {.roll = pieces[i].roll};
        for (; i < plan->plan.piece_count && pieces[i].roll == cut.roll; i++) {
            cut.cut += pieces[i].length;
        }
        cut.left = fmax(0.0, plan->roll_length - cut.cut);
        er_tell_record(teller, cuts, NULL, cut_members, &cut);
    }
}

static const char *tape_name(struct er_teller *teller, const void *at)
{
    (void)teller;
    return ((const struct er_tape_plan *)at)->tape->name;
}

static const struct er_member rolls_members[] = {
    {"tape", ER_IS_WORDS, .words = tape_name},
    ER_QUANTITY_MEMBER("roll_length", ER_LENGTH, struct er_tape_plan, roll_length),
    ER_MEMBER("rolls", ER_IS_NUMBER, struct er_tape_plan, plan.rolls),
    ER_MEMBER("joints", ER_IS_NUMBER, struct er_tape_plan, plan.joints),
    ER_MADE_MEMBER("pieces", add_pieces),
    ER_MADE_MEMBER("cuts", add_cuts),
    ER_END_OF_MEMBERS};

/* ---- film and totals ---- */

static const char *film_remark(struct er_teller *teller, const void *at)
{
    return er_buy_film_remark(&teller->pen, at);
}

#define FILM(name, member) ER_QUANTITY_MEMBER(name, ER_SMALL_LENGTH, struct er_film_need, member)
static const struct er_member film_members[] = {FILM("bed_top", bed_top),
                                                FILM("bed_height", bed_height),
                                                FILM("buried", buried),
                                                FILM("width", width),
                                                FILM("given_width", given_width),
                                                FILM("given_buried", given_buried),
                                                FILM("given_thickness", given_thickness),
                                                {"remark", ER_IS_WORDS, .words = film_remark},
                                                ER_END_OF_MEMBERS};

static void add_bed_length_per_area(struct er_teller *teller, cJSON *parent, const char *key,
                                    const void *at)
{
    const struct er_materials *materials = at;
    er_json_number(&teller->json, parent, key,
                   er_from_si(ER_LENGTH, teller->json.system, materials->bed_length) /
                       er_from_si(ER_AREA, teller->json.system, materials->area));
}

static void add_cost_per_area(struct er_teller *teller, cJSON *parent, const char *key,
                              const void *at)
{
    er_json_number(&teller->json, parent, key, er_cost_per_area(at, teller->json.system));
}

static void add_cost_per_bed_length(struct er_teller *teller, cJSON *parent, const char *key,
                                    const void *at)
{
    er_json_number(&teller->json, parent, key, er_cost_per_bed_length(at, teller->json.system));
}

static const struct er_member total_members[] = {
    ER_QUANTITY_MEMBER("area", ER_AREA, struct er_materials, area),
    ER_QUANTITY_MEMBER("bed_length", ER_LENGTH, struct er_materials, bed_length),
    ER_MADE_MEMBER("bed_length_per_area", add_bed_length_per_area),
    ER_MEMBER("cost", ER_IS_NUMBER, struct er_materials, cost),
    ER_MADE_MEMBER("cost_per_area", add_cost_per_area),
    ER_MADE_MEMBER("cost_per_100_of_bed", add_cost_per_bed_length),
    ER_MEMBER("unpriced", ER_IS_COUNT, struct er_materials, unpriced),
    ER_MEMBER("placeholder_prices", ER_IS_TRUE, struct er_materials, price_placeholders),
    ER_MEMBER("placeholder_lengths", ER_IS_TRUE, struct er_materials, unit_placeholders),
    ER_END_OF_MEMBERS};

/* ---- the whole ---- */

static void write_json(struct er_teller *t, cJSON *root)
{
    static const struct er_json_unit units[] = {{"length", ER_LENGTH},
                                                {"small_length", ER_SMALL_LENGTH},
                                                {"pressure", ER_PRESSURE},
                                                {"flow", ER_FLOW},
                                                {"area", ER_AREA}};
    const struct er_materials *materials = t->result;
    const struct er_field *field = materials->result->field;
    const char *verdict = er_verdict_name(materials->result->verdict);
    const struct told *lines = told_lines(t, materials);
    er_json_text(&t->json, root, "title", field->title);
    er_json_text(&t->json, root, "verdict", verdict);
    er_json_text(&t->json, root, "check_verdict", verdict);
    er_json_units(&t->json, root, ER_ALL(units));
    er_json_text(&t->json, root, "currency",
                 field->prices == NULL ? NULL : field->prices->currency);
    er_json_number(&t->json, root, "waste", 100.0 * materials->request.waste);
    er_tell_record(t, root, "totals", total_members, materials);
    er_tell_list(t, root, "lines", line_members, lines, materials->line_count, sizeof *lines);
    er_tell_list(t, root, "rolls", rolls_members, materials->tapes, materials->tape_count,
                 sizeof *materials->tapes);
    er_tell_record(t, root, "film", film_members, materials->film.wanted ? &materials->film : NULL);
    er_json_findings(&t->json, root, materials->result);
}

static void write_csv(struct er_teller *t, struct er_text *out)
{
    const struct er_materials *materials = t->result;
    const struct told *lines = told_lines(t, materials);
    er_tell_csv(t, csv_members, lines, materials->line_count, sizeof *lines, out);
}

const struct er_report er_buy_report = {.page = er_buy_page, .json = write_json, .csv = write_csv};
