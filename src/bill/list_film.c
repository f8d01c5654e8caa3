/* Plastic film: how wide, and how many rolls. */
#include <math.h>

#include "bill/list.h"

/* Common practice, no source: beds of 4 to 8 in, and at least 5 in of each edge under soil. By
 * er_system, in the unit of small lengths. */
static const double usual_height[] = {6.0, 150.0};
static const double least_buried[] = {5.0, 130.0};

static double usual(const struct er_field *field, const double *by_system)
{
    return er_to_si(ER_SMALL_LENGTH, field->system, by_system[field->system]);
}

static double widest_bed(const struct er_field *field)
{
    double widest = 0.0;
    for (size_t z = 0; z < field->zone_count; z++) {
        for (size_t g = 0; g < field->zones[z].group_count; g++) {
            widest = fmax(widest, field->zones[z].groups[g].bed_width);
        }
    }
    return widest;
}

/* The first that is given. */
static double given_first(double one, double other) { return er_given(one) ? one : other; }

static void find_width(struct er_film_need *need, const struct er_list *list)
{
    const struct er_field *field = list->field;
    const struct er_mulch *mulch = field->mulch;
    need->wanted = true;
    need->top_assumed = !er_given(mulch->bed_top);
    need->height_assumed = !er_given(mulch->bed_height);
    need->buried_assumed = !er_given(mulch->buried);
    need->bed_top = given_first(mulch->bed_top, widest_bed(field));
    need->bed_height = given_first(mulch->bed_height, usual(field, usual_height));
    need->buried = given_first(mulch->buried, usual(field, least_buried));
    need->width = need->bed_top + 2.0 * need->bed_height + 2.0 * need->buried;
    need->given_width = given_first(list->prices.film.width, mulch->film.width);
    need->given_thickness = given_first(list->prices.film.thickness, mulch->film.thickness);
    need->given_buried = 0.5 * (need->given_width - need->bed_top - 2.0 * need->bed_height);
}

/* Tells of the beds of a group on one side of the header. Returns their length in m. */
static double add_beds(struct er_material *line, const struct er_bed_group *group, bool second_side)
{
    const double first = er_bed_length(group, 0, second_side);
    const double last = er_bed_length(group, group->count - 1, second_side);
    er_list_reason(line, ER_REASON_BEDS, (double)group->count, first, last);
    return (double)group->count * 0.5 * (first + last);
}

static double add_zone(struct er_material *line, const struct er_zone *zone)
{
    double length = 0.0;
    for (size_t g = 0; g < zone->group_count; g++) {
        length += add_beds(line, &zone->groups[g], false);
        if (zone->groups[g].both_sides) {
            length += add_beds(line, &zone->groups[g], true);
        }
    }
    return length;
}

void er_list_film(struct er_list *list)
{
    const struct er_field *field = list->field;
    if (field->mulch == NULL || field->mulch->kind != ER_MULCH_PLASTIC) {
        return;
    }
    find_width(&list->materials->film, list);
    size_t groups = 0;
    for (size_t z = 0; z < field->zone_count; z++) {
        groups += field->zones[z].group_count;
    }
    struct er_material *line =
        er_list_add(list, ER_MATERIAL_FILM, "plastic film", NULL, 2 * groups + 1);
    double length = 0.0;
    for (size_t z = 0; z < field->zone_count; z++) {
        length += add_zone(line, &field->zones[z]);
    }
    er_list_reason(line, ER_REASON_FILM_WIDTH, 1.0, list->materials->film.width, ER_NONE);
    const struct er_price roll = er_film_roll_length(&list->prices, field->mulch);
    line->key = "film";
    line->unit = "roll";
    er_list_set_length(list, line, length, roll, er_film_roll_price(&list->prices, field->mulch),
                       er_whole_units(er_list_with_waste(list, length), roll.amount));
}
