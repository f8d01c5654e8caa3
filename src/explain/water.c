/* How long to run, and how long that is in a day. */
#include <math.h>

#include "explain/explain.h"
#include "water/need.h"

static double own(const struct er_board *board, enum er_quantity quantity, double value)
{
    return er_from_si(quantity, board->system, value);
}

static void explain_efficiency(struct er_board *board, const struct er_zone_result *zone,
                               const struct er_water *water)
{
    if (er_given(water->efficiency) || !er_given(zone->emission_uniformity)) {
        return;
    }
    er_page_note(board->page, "The efficiency is the smaller of 0.9 and EU.");
    er_board_sign(board, "min(0.9, ");
    er_board_put(board, 100.0 * zone->emission_uniformity);
    er_board_sign(board, " / 100)");
    (void)er_board_sum(board, "E", zone->efficiency, ER_BOARD_OUT, "", "");
}

/* The factors that every irrigation has. */
static void put_factors(struct er_board *board, const struct er_zone_result *zone,
                        const struct er_water *water)
{
    er_board_number(board, "T", water->every, "", "days from one irrigation to the next");
    er_board_number(board, "E", zone->efficiency, "", "efficiency");
    er_board_number(board, "R", water->leaching, "", "share for leaching");
}

/* The need of a day, where it was not given as it is. */
static void explain_need(struct er_board *board, const struct er_water *water)
{
    if (!water->need_from_eto) {
        return;
    }
    er_board_formula(board, "d", "ETo * Kc * M");
    er_board_quantity(board, "ETo", ER_DEPTH_PER_DAY, water->eto, "");
    er_board_number(board, "Kc", water->kc, "", "crop coefficient");
    er_board_number(board, "M", water->mulch.factor, "", "factor of the mulch; 1: none");
    double need = own(board, ER_DEPTH_PER_DAY, water->need);
    (void)er_board_result(board, "d", need, need, er_unit_name(ER_DEPTH_PER_DAY, board->system),
                          "the need");
}

/* The volume of one irrigation, from a depth over an area. */
static void explain_depth(struct er_board *board, const struct er_zone_result *zone,
                          const struct er_water *water)
{
    bool us = board->system == ER_US;
    double area = water->area_is_bed ? zone->bed_area : zone->area;
    double volume_of_one =
        er_to_si(ER_DEPTH, board->system, 1.0) * er_to_si(ER_AREA, board->system, 1.0);
    explain_need(board, water);
    er_board_formula(board, "D", "d * T / (E * (1 - R))");
    er_board_quantity(board, "d", ER_DEPTH_PER_DAY, water->need, "the need");
    put_factors(board, zone, water);
    double depth = own(board, ER_DEPTH, zone->gross_depth);
    (void)er_board_result(board, "D", depth, depth, er_unit_name(ER_DEPTH, board->system),
                          "each irrigation, gross");
    er_board_formula(board, "V", "D * A * k");
    er_board_quantity(board, "D", ER_DEPTH, zone->gross_depth, "");
    er_board_quantity(board, "A", ER_AREA, area,
                      water->area_is_bed ? "length of beds times their width"
                                         : "length of beds times their spacing");
    er_board_number(board, "k", own(board, ER_VOLUME, volume_of_one),
                    er_unit_name(ER_VOLUME, board->system),
                    us ? "for 1 in on 1 acre" : "for 1 mm on 1 ha");
}

/* The same from a volume per length of bed. */
static void explain_per_length(struct er_board *board, const struct er_zone_result *zone,
                               const struct er_water *water)
{
    bool us = board->system == ER_US;
    er_board_formula(board, "V",
                     us ? "w * B / 100 * T / (E * (1 - R))" : "w * B / 1000 * T / (E * (1 - R))");
    er_board_quantity(board, "w", ER_VOLUME_PER_LENGTH, water->need, "a day, the need");
    er_board_quantity(board, "B", ER_LENGTH, zone->bed_length, "of bed");
    put_factors(board, zone, water);
}

void er_explain_run(struct er_board *board, const struct er_zone_result *zone,
                    const struct er_water *water)
{
    bool us = board->system == ER_US;
    explain_efficiency(board, zone, water);
    er_page_note(board->page, "One irrigation.");
    if (water->need_kind == ER_NEED_DEPTH) {
        explain_depth(board, zone, water);
    } else {
        explain_per_length(board, zone, water);
    }
    double volume = own(board, ER_VOLUME, zone->run_time * zone->flow);
    (void)er_board_result(board, "V", volume, volume, er_unit_name(ER_VOLUME, board->system),
                          "each irrigation");
    er_board_formula(board, "t", us ? "V / (60 * Q)" : "V / Q");
    er_board_number(board, "V", volume, er_unit_name(ER_VOLUME, board->system), "");
    er_board_quantity(board, "Q", ER_FLOW, zone->flow, "flow of the zone");
    double hours = own(board, ER_TIME, zone->run_time);
    (void)er_board_result(board, "t", hours, hours, "h", "each irrigation");
}

void er_explain_hours(struct er_board *board, const struct er_field *field, const double *a_day,
                      double total)
{
    double *hours = er_pen_room(board->pen, field->set_count, sizeof *hours);
    if (hours == NULL) {
        return;
    }
    for (size_t s = 0; s < field->set_count; s++) {
        for (size_t i = 0; i < field->sets[s].zone_count; i++) {
            double zone = own(board, ER_TIME, a_day[field->sets[s].zones[i]]);
            hours[s] = fmax(hours[s], zone);
        }
    }
    double sum = own(board, ER_TIME, total);
    er_page_note(board->page, "The day: of each set its longest zone's run over the days between "
                              "its irrigations.");
    (void)er_board_total(board, "H", hours, field->set_count, er_board_decimals(sum, ER_BOARD_OUT),
                         "h", "in a day");
    if (er_given(field->hours)) {
        er_board_quantity(board, "Ha", ER_TIME, field->hours, "in which water may run");
    }
}

static void explain_day(struct er_board *board, const struct er_result *result)
{
    const struct er_field *field = result->field;
    double *a_day = er_pen_room(board->pen, field->zone_count, sizeof *a_day);
    for (size_t z = 0; a_day != NULL && z < field->zone_count; z++) {
        a_day[z] = result->zones[z].run_time / field->zones[z].water.every;
    }
    if (a_day != NULL) {
        er_explain_hours(board, field, a_day, result->day.hours_needed);
    }
}

/* The soil's section under one bed where the tapes' half circles fit into it. */
static void explain_half_circles(struct er_board *board, const struct er_water *water,
                                 const struct er_bed_group *group)
{
    double radius = 0.5 * er_wetted_width(water);
    double shown = own(board, ER_SMALL_LENGTH, radius);
    er_board_formula(board, "R", "w / 2");
    er_board_quantity(board, "w", ER_SMALL_LENGTH, 2.0 * radius, "how wide one tape wets");
    (void)er_board_result(board, "R", shown, shown, er_unit_name(ER_SMALL_LENGTH, board->system),
                          "");
    er_board_formula(board, "A",
                     board->system == ER_US
                         ? "n * (R^2 * asin(c / R) + c * sqrt(R^2 - c^2)) / 144"
                         : "n * (R^2 * asin(c / R) + c * sqrt(R^2 - c^2)) / 1000000");
    er_board_number(board, "n", (double)group->tapes, "", "tapes on a bed");
    er_board_quantity(board, "R", ER_SMALL_LENGTH, radius, "");
    er_board_quantity(board, "c", ER_SMALL_LENGTH, fmin(radius, water->root_depth),
                      "the smaller of R and the depth of the roots");
}

/* Where they would take more than there is. */
static void explain_whole_bed(struct er_board *board, const struct er_water *water,
                              const struct er_bed_group *group)
{
    er_board_formula(board, "A", board->system == ER_US ? "b * z / 144" : "b * z / 1000000");
    er_board_quantity(board, "b", ER_SMALL_LENGTH, group->bed_width,
                      "width of the bed, wet all across");
    er_board_quantity(board, "z", ER_SMALL_LENGTH, water->root_depth, "depth of the roots");
}

/* What the root zone takes under one group of beds. Returns it in the reader's unit. */
static double explain_group_soil(struct er_board *board, const struct er_water *water,
                                 const struct er_bed_group *group, double bed_length)
{
    bool us = board->system == ER_US;
    double section = er_wetted_section(er_wetted_width(water), water->root_depth, group->tapes,
                                       group->bed_width);
    bool whole = section >= group->bed_width * water->root_depth;
    (whole ? explain_whole_bed : explain_half_circles)(board, water, group);
    double feet = us ? section / (ER_FOOT * ER_FOOT) : section;
    (void)er_board_result(board, "A", feet, feet, us ? "ft2" : "m2", "of soil");
    double volume = section * bed_length * water->soil->available_water * water->allowed_depletion;
    er_board_formula(board, "H", us ? "A * B * a * p * 7.480519" : "A * B * a * p");
    er_board_number(board, "A", feet, us ? "ft2" : "m2", "");
    er_board_quantity(board, "B", ER_LENGTH, bed_length, "of bed");
    er_board_number(board, "a", water->soil->available_water, "", "water that the soil holds");
    er_board_number(board, "p", water->allowed_depletion, "", "of it may be used up");
    double gallons = own(board, ER_VOLUME, volume);
    return er_board_result(board, "H", gallons, gallons, er_unit_name(ER_VOLUME, board->system),
                           "the root zone takes in one irrigation");
}

/* What one irrigation may give. */
static void explain_soil(struct er_board *board, const struct er_zone_result *zone,
                         const struct er_zone *plan)
{
    er_page_note(board->page,
                 "The soil under the beds: half circles under the tapes, cut off where "
                 "the roots end.");
    for (size_t g = 0; g < plan->group_count; g++) {
        struct er_zone alone = *plan;
        alone.groups = &plan->groups[g];
        alone.group_count = 1;
        double shown = explain_group_soil(board, &plan->water, alone.groups,
                                          er_zone_ground_measure(&alone).bed_length);
        if (plan->group_count > 1) {
            g == 0 ? er_board_put(board, shown) : er_board_add(board, shown);
        }
    }
    if (plan->group_count > 1) {
        (void)er_board_sum(board, "H", own(board, ER_VOLUME, zone->holding),
                           er_board_decimals(own(board, ER_VOLUME, zone->holding), ER_BOARD_OUT),
                           er_unit_name(ER_VOLUME, board->system), "under all beds");
    }
}

void er_explain_water(struct er_board *board, const struct er_result *result, size_t zone)
{
    const struct er_zone *plan = &result->field->zones[zone];
    if (!(result->zones[zone].run_time > 0.0)) {
        return;
    }
    er_page_heading(board->page, "The run time of zone %s", plan->name);
    er_explain_run(board, &result->zones[zone], &plan->water);
    if (er_given(result->zones[zone].holding)) {
        explain_soil(board, &result->zones[zone], plan);
    }
    if (er_given(result->day.hours_needed)) {
        explain_day(board, result);
    }
}
