/* Tape by the roll, and what goes with every row. */
#include "bill/count.h"
#include "bill/list.h"

/* The rows of one tape, while they are gathered. */
struct rows {
    struct er_tape_row *rows;
    double *lengths; /* m to cut, waste and all */
    size_t count;
};

static size_t sides_of(const struct er_bed_group *group) { return group->both_sides ? 2 : 1; }

static double count_rows(const struct er_field *field, const struct er_tape *tape)
{
    double count = 0.0;
    for (size_t z = 0; z < field->zone_count; z++) {
        for (size_t g = 0; g < field->zones[z].group_count; g++) {
            const struct er_bed_group *group = &field->zones[z].groups[g];
            if (group->tape == tape) {
                count += (double)group->count * (double)group->tapes * (double)sides_of(group);
            }
        }
    }
    return count;
}

static void gather_bed(const struct er_list *list, struct rows *rows,
                       const struct er_bed_group *group, size_t index, struct er_tape_row row)
{
    row.places = group->tapes * sides_of(group);
    for (row.place = 0; row.place < row.places; row.place++) {
        const double length = er_bed_length(group, index, row.place >= group->tapes);
        rows->rows[rows->count] = row;
        rows->lengths[rows->count] = er_list_with_waste(list, length);
        rows->count++;
    }
}

/* In the order of the field, bed by bed. */
static void gather_rows(const struct er_list *list, const struct er_tape *tape, struct rows *rows)
{
    for (size_t z = 0; z < list->field->zone_count; z++) {
        const struct er_zone *zone = &list->field->zones[z];
        struct er_tape_row row = {.zone = z};
        for (size_t g = 0; g < zone->group_count; g++) {
            for (size_t i = 0; i < zone->groups[g].count; i++, row.bed++) {
                if (zone->groups[g].tape == tape) {
                    gather_bed(list, rows, &zone->groups[g], i, row);
                }
            }
        }
    }
}

/* Plans which rows are cut from which roll. */
static void plan_rolls(struct er_list *list, struct er_tape_plan *plan, double takes, double count)
{
    if (count > ER_MOST_PIECES) {
        plan->plan.rolls = er_whole_units(er_list_with_waste(list, takes), plan->roll_length);
        plan->plan.joints = plan->plan.rolls - 1.0;
        return;
    }
    struct rows rows = {.count = 0};
    rows.rows = er_list_array(list, (size_t)count, sizeof *rows.rows);
    rows.lengths = er_list_array(list, (size_t)count, sizeof *rows.lengths);
    if (rows.rows == NULL || rows.lengths == NULL) {
        return;
    }
    gather_rows(list, plan->tape, &rows);
    plan->rows = rows.rows;
    plan->row_count = rows.count;
    if (er_rolls_plan(&list->materials->arena, rows.lengths, rows.count, plan->roll_length,
                      &plan->plan) != ER_OK) {
        list->out_of_memory = true;
    }
}

/* Adds up the rows of one tape, and tells of them. */
struct tape_sum {
    const struct er_tape *tape;
    struct er_material *line;
    double length;
};

static void add_rows(void *context, const struct er_bed_group *group, bool second_side,
                     double count)
{
    struct tape_sum *sum = context;
    if (group->tape == sum->tape) {
        sum->length += er_rows_length(group, second_side);
        er_list_reason(sum->line, ER_REASON_ROWS, count, er_bed_length(group, 0, second_side),
                       er_bed_length(group, group->count - 1, second_side));
    }
}

static size_t count_groups(const struct er_field *field)
{
    size_t count = 0;
    for (size_t z = 0; z < field->zone_count; z++) {
        count += field->zones[z].group_count;
    }
    return count;
}

/* Most of a long roll would be left over: is there a shorter one? */
static void offer_short_roll(const struct er_list *list, struct er_material *line,
                             const struct er_tape *tape)
{
    const double length = er_tape_short_roll_length(&list->prices, tape).amount;
    const double count = er_whole_units(line->with_waste, length);
    if (!(line->count > 1.0) && 2.0 * line->with_waste < line->unit_length &&
        count * length < line->unit_length) {
        line->short_length = length;
        line->short_count = count;
        line->short_price = er_tape_short_roll_price(&list->prices, tape).amount;
    }
}

static void list_tape(struct er_list *list, struct er_tape_plan *plan)
{
    struct er_material *line = er_list_add(list, ER_MATERIAL_TAPE, "drip tape", plan->tape->name,
                                           2 * count_groups(list->field));
    struct tape_sum sum = {.tape = plan->tape, .line = line};
    const struct er_counter counter = {.rows = add_rows, .context = &sum};
    er_count_field(list->field, &counter);
    const struct er_price roll = er_tape_roll_length(&list->prices, plan->tape);
    plan->roll_length = roll.amount;
    plan_rolls(list, plan, sum.length, count_rows(list->field, plan->tape));
    line->key = "tapes";
    line->unit = "roll";
    er_list_set_length(list, line, sum.length, roll, er_tape_roll_price(&list->prices, plan->tape),
                       plan->plan.rolls);
    offer_short_roll(list, line, plan->tape);
}

static struct er_tape_plan *find_plan(struct er_tape_plan *plans, size_t count,
                                      const struct er_tape *tape)
{
    for (size_t i = 0; i < count; i++) {
        if (plans[i].tape == tape) {
            return &plans[i];
        }
    }
    return NULL;
}

/* One plan for each kind of tape, in the order of the field. */
static void list_tapes(struct er_list *list)
{
    const struct er_field *field = list->field;
    struct er_tape_plan *plans = er_list_array(list, count_groups(field), sizeof *plans);
    size_t count = 0;
    for (size_t z = 0; z < field->zone_count && plans != NULL; z++) {
        for (size_t g = 0; g < field->zones[z].group_count; g++) {
            const struct er_tape *tape = field->zones[z].groups[g].tape;
            if (find_plan(plans, count, tape) == NULL) {
                plans[count].tape = tape;
                list_tape(list, &plans[count++]);
            }
        }
    }
    list->materials->tapes = plans;
    list->materials->tape_count = count;
}

static void add_goods(void *context, enum er_good good, double count)
{
    double *counts = context;
    counts[good] += count;
}

void er_list_tape(struct er_list *list)
{
    double counts[ER_GOOD_COUNT] = {0.0};
    const struct er_counter counter = {.goods = add_goods, .context = counts};
    er_count_field(list->field, &counter);
    list_tapes(list);
    double joints = 0.0;
    for (size_t i = 0; i < list->materials->tape_count; i++) {
        joints += list->materials->tapes[i].plan.joints;
    }
    static const enum er_good goods[] = {ER_TAPE_FITTING, ER_TAPE_END};
    for (size_t i = 0; i < sizeof goods / sizeof goods[0]; i++) {
        struct er_material *line =
            er_list_add_goods(list, ER_MATERIAL_TAPE, goods[i], NULL, counts[goods[i]], 1);
        er_list_count_reason(line, ER_REASON_EACH_ROW, counts[goods[i]]);
    }
    if (joints > 0.0) {
        struct er_material *line =
            er_list_add_goods(list, ER_MATERIAL_TAPE, ER_TAPE_COUPLING, NULL, joints, 1);
        er_list_count_reason(line, ER_REASON_TAPE_JOINTS, joints);
    }
}
