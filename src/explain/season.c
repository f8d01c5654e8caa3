/* The arithmetic of a season: from the sky over one day to the hours of the longest week. */
#include <math.h>
#include <stdint.h>

#include "explain/explain.h"
#include "names/names.h"

#define MILLIMETRE 1e-3

/* What is shown. */
struct shown {
    struct er_board *board;
    const struct er_season_plan *plan;
    size_t week, zone;
    long date;
};

static const char *depth_unit(const struct shown *shown)
{
    return er_unit_name(ER_DEPTH_PER_DAY, shown->board->system);
}

static double own(const struct shown *shown, double depth_per_day)
{
    return er_from_si(ER_DEPTH_PER_DAY, shown->board->system, depth_per_day);
}

/* Millimetres a day, and in the reader's unit. */
static void finish_reference(const struct shown *shown, double millimetres)
{
    struct er_board *board = shown->board;
    millimetres = er_board_result(board, "ET", millimetres, millimetres, "mm/day", "reference");
    if (board->system == ER_US) {
        double factor = own(shown, MILLIMETRE);
        er_board_put(board, millimetres);
        er_board_sign(board, " * ");
        er_board_put(board, factor);
        (void)er_board_sum(board, "ET", millimetres * factor,
                           er_board_decimals(millimetres * factor, ER_BOARD_OUT - 1),
                           depth_unit(shown), "the same");
    }
}

static void explain_penman_monteith(const struct shown *shown, const struct er_air *air)
{
    struct er_board *board = shown->board;
    er_page_note(board->page,
                 "Reference evapotranspiration of its weather by Penman-Monteith, in the "
                 "units of FAO-56, equation 6.");
    er_board_formula(board, "A", "0.408 * s * (Rn - G)");
    er_board_number(board, "s", air->slope, "kPa/C", "slope of the vapour pressure, equation 13");
    er_board_number(board, "Rn", air->net_radiation, "MJ/m2", "net radiation, equations 38 to 40");
    er_board_number(board, "G", air->soil_heat, "MJ/m2", "into the soil, equation 42");
    double by_radiation = 0.408 * air->slope * (air->net_radiation - air->soil_heat);
    (void)er_board_result(board, "A", by_radiation, by_radiation, "", "by the sun");
    er_board_formula(board, "B", "g * 900 / (T + 273) * u * (es - ea)");
    er_board_number(board, "g", air->psychrometric, "kPa/C", "psychrometric constant, equation 8");
    er_board_number(board, "T", air->temperature, "C", "mean of highest and lowest");
    er_board_number(board, "u", air->wind, "m/s", "wind at 2 m, equation 47");
    er_board_number(board, "es", air->saturation_pressure, "kPa", "saturated, equation 12");
    er_board_number(board, "ea", air->vapour_pressure, "kPa", "as it is, equations 14 to 19");
    double by_wind = air->psychrometric * 900.0 / (air->temperature + 273.0) * air->wind *
                     (air->saturation_pressure - air->vapour_pressure);
    (void)er_board_result(board, "B", by_wind, fmax(fabs(by_wind), 0.1), "", "by the wind");
    er_board_formula(board, "ET", "max(0, (A + B) / (s + g * (1 + 0.34 * u)))");
    er_board_number(board, "A", by_radiation, "", "");
    er_board_number(board, "B", by_wind, "", "");
    er_board_number(board, "s", air->slope, "kPa/C", "");
    er_board_number(board, "g", air->psychrometric, "kPa/C", "");
    er_board_number(board, "u", air->wind, "m/s", "");
    finish_reference(shown, fmax(0.0, er_penman_monteith(air)));
}

static void explain_hargreaves(const struct shown *shown, const struct er_weather_record *record)
{
    struct er_board *board = shown->board;
    double sun = er_weather_extraterrestrial(shown->plan->field->weather, record);
    er_page_note(board->page,
                 "Reference evapotranspiration from temperatures alone, by Hargreaves: "
                 "FAO-56, equation 52.");
    er_board_formula(board, "ET", "0.0023 * ((Th + Tl) / 2 + 17.8) * sqrt(Th - Tl) * 0.408 * Ra");
    er_board_number(board, "Th", record->t_max, "C", "the highest");
    er_board_number(board, "Tl", record->t_min, "C", "the lowest");
    er_board_number(board, "Ra", sun, "MJ/m2", "above the air, equation 21");
    finish_reference(shown, fmax(0.0, er_hargreaves(record->t_max, record->t_min, sun)));
}

static void explain_monthly(const struct shown *shown, const struct er_season *season)
{
    struct er_board *board = shown->board;
    struct er_month_place place = er_month_place_of(shown->date);
    double eto = own(shown, er_monthly_mean(season->eto, shown->date));
    er_page_note(board->page,
                 "Reference evapotranspiration: straight between the means of two months, "
                 "which stand at their middles.");
    er_board_formula(board, "ET", "E1 + (E2 - E1) * d / n");
    er_board_quantity(board, "E1", ER_DEPTH_PER_DAY, season->eto[place.before], "the month before");
    er_board_quantity(board, "E2", ER_DEPTH_PER_DAY, season->eto[place.after], "the month after");
    er_board_number(board, "d", place.past, "", "days from the middle of the one");
    er_board_number(board, "n", place.between, "", "days to the middle of the other");
    (void)er_board_result(board, "ET", eto, eto, depth_unit(shown), "reference");
}

/* Returns the day's reference evapotranspiration, m. */
static double explain_reference(const struct shown *shown, const struct er_season *season)
{
    const struct er_weather *weather = shown->plan->field->weather;
    const struct er_weather_record *record = er_weather_on(weather, shown->date);
    if (record == NULL) {
        explain_monthly(shown, season);
        return er_monthly_mean(season->eto, shown->date);
    }
    struct er_reference reference = er_weather_reference(weather, record);
    if (reference.method == ER_ETO_HARGREAVES) {
        explain_hargreaves(shown, record);
    } else {
        struct er_air air = er_weather_air(weather, record);
        explain_penman_monteith(shown, &air);
    }
    return reference.eto;
}

/* A straight line over a stage. */
static void explain_changing(const struct shown *shown, const double *kc, double done, double stage,
                             double result)
{
    struct er_board *board = shown->board;
    er_board_formula(board, "Kc", "K1 + (K2 - K1) * d / n");
    er_board_number(board, "K1", kc[0], "", "before the stage");
    er_board_number(board, "K2", kc[1], "", "at its end");
    er_board_number(board, "d", fmin(done, stage), "", "days into the stage");
    er_board_number(board, "n", stage, "", "days of the stage");
    (void)er_board_result(board, "Kc", result, 1.0, "", "");
}

static void explain_coefficient(const struct shown *shown, const struct er_season *season,
                                double coefficient)
{
    struct er_board *board = shown->board;
    const double *days = season->stage_days;
    double done = (double)(shown->date - season->planting + 1);
    er_page_note(board->page, "The crop's coefficient (FAO-56, equation 66).");
    if (done > days[0] && done <= days[0] + days[1]) {
        explain_changing(shown, season->kc, done - days[0], days[1], coefficient);
    } else if (done > days[0] + days[1] + days[2] && days[3] > 0.0) {
        explain_changing(shown, season->kc + 1, done - days[0] - days[1] - days[2], days[3],
                         coefficient);
    } else {
        er_board_number(board, "Kc", coefficient, "", "level in this stage");
    }
}

/* What the crop uses on one day. */
static void explain_day(const struct shown *shown)
{
    struct er_board *board = shown->board;
    const struct er_season_zone *zone = &shown->plan->zones[shown->zone];
    double eto = explain_reference(shown, zone->season);
    double coefficient =
        er_crop_coefficient(zone->season, shown->date - zone->season->planting + 1);
    explain_coefficient(shown, zone->season, coefficient);
    er_page_note(board->page, "What the crop uses on that day.");
    er_board_formula(board, "U", "ET * Kc * M");
    er_board_quantity(board, "ET", ER_DEPTH_PER_DAY, eto, "");
    er_board_number(board, "Kc", coefficient, "", "");
    er_board_number(board, "M", zone->mulch.factor, "", "factor of the mulch; 1: none");
    double use = own(shown, eto * coefficient * zone->mulch.factor);
    (void)er_board_result(board, "U", use, use, depth_unit(shown), "");
}

/* The week's need and the run time for it. */
static void explain_week(const struct shown *shown, const struct er_zone_week *week)
{
    struct er_board *board = shown->board;
    const struct er_result *result = shown->plan->result;
    double days = (double)week->days;
    struct er_zone_result zone = result->zones[shown->zone];
    struct er_water water = result->field->zones[shown->zone].water;
    zone.gross_depth = week->gross_depth;
    zone.run_time = week->run_time;
    zone.efficiency = shown->plan->zones[shown->zone].efficiency;
    water.need_kind = ER_NEED_DEPTH;
    water.need = week->net / days;
    water.need_from_eto = false;
    er_page_heading(shown->board->page, "The week from %s, zone %s",
                    er_date_words(shown->board->pen, shown->plan->weeks[shown->week].first),
                    shown->plan->field->zones[shown->zone].name);
    er_page_note(board->page, "All its days' uses, less the rain that counts, a day.");
    er_board_formula(board, "d", "(U - R) / n");
    er_board_quantity(board, "U", ER_DEPTH, week->use, "in the week");
    er_board_quantity(board, "R", ER_DEPTH, week->rain, "rain that counts");
    er_board_number(board, "n", days, "", "days");
    (void)er_board_result(board, "d", own(shown, water.need), own(shown, week->use / days),
                          depth_unit(shown), "the need");
    er_explain_run(board, &zone, &water);
}

static void explain_hours(const struct shown *shown)
{
    const struct er_season_plan *plan = shown->plan;
    double *a_day = er_pen_room(shown->board->pen, plan->field->zone_count, sizeof *a_day);
    for (size_t z = 0; a_day != NULL && z < plan->field->zone_count; z++) {
        a_day[z] = er_season_zone_week(plan, shown->week, z)->daily_run;
    }
    if (a_day != NULL) {
        er_explain_hours(shown->board, plan->field, a_day, plan->weeks[shown->week].daily_run);
    }
}

/* The zone that runs longest in the week; SIZE_MAX where none does. */
static size_t longest_zone(const struct er_season_plan *plan, size_t week)
{
    size_t longest = SIZE_MAX;
    double most = 0.0;
    for (size_t z = 0; z < plan->field->zone_count; z++) {
        double run = er_season_zone_week(plan, week, z)->daily_run;
        if (run > most) {
            longest = z;
            most = run;
        }
    }
    return longest;
}

/* The middle one of the week's days on which the zone is in season. */
static long middle_day(const struct er_season_plan *plan, size_t week, size_t zone)
{
    long first = plan->weeks[week].first;
    long last = first + (long)plan->weeks[week].days - 1;
    first = plan->zones[zone].first > first ? plan->zones[zone].first : first;
    last = plan->zones[zone].last < last ? plan->zones[zone].last : last;
    return first + (last - first) / 2;
}

static void explain_season(struct shown *shown)
{
    const struct er_season_plan *plan = shown->plan;
    er_explain_opening(shown->board);
    shown->week = plan->peak;
    shown->zone = longest_zone(plan, shown->week);
    if (shown->zone == SIZE_MAX) {
        er_page_heading(shown->board->page, "The longest week");
        er_page_note(shown->board->page, "No zone needs to run in any week.");
        return;
    }
    shown->date = middle_day(plan, shown->week, shown->zone);
    er_page_heading(shown->board->page, "On %s, in the week that runs longest, zone %s",
                    er_date_words(shown->board->pen, shown->date),
                    plan->field->zones[shown->zone].name);
    explain_day(shown);
    explain_week(shown, er_season_zone_week(plan, shown->week, shown->zone));
    explain_hours(shown);
}

enum er_status er_explain_season(const void *result, struct er_page *page)
{
    struct er_board board = er_board_on(page);
    struct shown shown = {.board = &board, .plan = result};
    explain_season(&shown);
    return ER_OK;
}
