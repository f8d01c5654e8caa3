/* The questions that a check answers, each with a table. */
#include "report/check/tables.h"
#include "names/names.h"

#include "evenrow/season.h"
#include "report/report.h"

static const char *zone_name(struct er_pen *pen, const void *of, const void *row, size_t place)
{
    (void)pen, (void)row;
    return ((const struct er_result *)of)->field->zones[place].name;
}

static void write_zones(struct er_page *page, const struct er_result *result,
                        const struct er_filled *columns, size_t count)
{
    er_page_rows(page, columns, count, result->zones, sizeof *result->zones,
                 result->field->zone_count, result);
}

#define ZONE(head, quantity, member) ER_FIGURE_COLUMN(head, quantity, struct er_zone_result, member)
#define ZONE_PERCENT(head, member) ER_PERCENT_COLUMN(head, struct er_zone_result, member)

/* What is judged looks unlike its limit where it is. */
static const char *zone_uniformity(struct er_pen *pen, const void *of, const void *row,
                                   size_t place)
{
    (void)place;
    return er_pen_beside(pen, 100.0 * ((const struct er_zone_result *)row)->emission_uniformity,
                         100.0 * ((const struct er_result *)of)->field->limits.uniformity);
}

static const char *zone_variation(struct er_pen *pen, const void *of, const void *row, size_t place)
{
    (void)place;
    return er_pen_beside(pen, 100.0 * ((const struct er_zone_result *)row)->flow_variation,
                         100.0 * ((const struct er_result *)of)->field->limits.flow_variation);
}

static const char *set_flow(struct er_pen *pen, const void *of, const void *row, size_t place)
{
    (void)of, (void)place;
    const struct er_set_result *set = row;
    return er_pen_beside(pen, er_from_si(ER_FLOW, pen->system, set->flow),
                         er_from_si(ER_FLOW, pen->system, set->source_limit));
}

void er_check_rows(struct er_page *page, const struct er_result *result)
{
    static const struct er_filled columns[] = {
        ER_WORDS_COLUMN("zone", zone_name),
        ER_COUNT_COLUMN("bed\nrows", struct er_zone_result, beds),
        ZONE("flow", ER_FLOW, flow),
        ZONE("header\nfed at", ER_PRESSURE, inlet_pressure),
        ZONE("tape in,\nlowest", ER_PRESSURE, tape_inlet_pressure.min),
        ZONE("tape in,\nhighest", ER_PRESSURE, tape_inlet_pressure.max),
        ZONE("lowest\nfar end", ER_PRESSURE, far_end_pressure),
        ER_NUMBER_COLUMN("EU\n%", ER_NO_UNIT, zone_uniformity),
        ER_NUMBER_COLUMN("flow\nvaries\n%", ER_NO_UNIT, zone_variation),
    };
    const struct er_limits *limits = &result->field->limits;
    er_page_heading(page, "Does every row get its water?");
    write_zones(page, result, ER_ALL(columns));
    er_page_paragraph(page,
                      "Wanted: EU (emission uniformity: the driest plants against the average) of "
                      "%s %% or more, and flow that varies by %s %% or less.",
                      er_pen_number(&page->pen, 100.0 * limits->uniformity),
                      er_pen_number(&page->pen, 100.0 * limits->flow_variation));
}

void er_check_evenness(struct er_page *page, const struct er_result *result)
{
    static const struct er_filled columns[] = {
        ER_WORDS_COLUMN("zone", zone_name),
        {{"emitters", ER_COLUMN_WHOLE, ER_NO_UNIT},
         ER_FILL_FIGURE,
         offsetof(struct er_zone_result, emitters),
         NULL},
        ZONE("emitter\nleast", ER_EMITTER_FLOW, emitter_flow.min),
        ZONE("emitter\nmean", ER_EMITTER_FLOW, mean_emitter_flow),
        ZONE("emitter\nmost", ER_EMITTER_FLOW, emitter_flow.max),
        ZONE_PERCENT("Christ-\niansen\n%", christiansen),
        ZONE_PERCENT("low\nquarter\n%", low_quarter),
        ZONE_PERCENT("stat-\nistical\n%", statistical_uniformity),
    };
    er_page_heading(page, "How even is it, by other measures?");
    write_zones(page, result, ER_ALL(columns));
}

/* ---- the source ---- */

static const char *set_zones(struct er_pen *pen, const void *of, const void *row, size_t place)
{
    (void)row;
    return er_zone_names(pen, ((const struct er_result *)of)->field, place);
}

/* What the pump's suction leaves, where it is judged. */
static void write_suction(struct er_page *page, const struct er_result *result)
{
    const struct er_suction_result *suction = &result->suction;
    double required = result->field->source.suction.npsh_required;
    struct er_pen *pen = &page->pen;
    if (!suction->judged) {
        return;
    }
    const char *against =
        er_given(required)
            ? er_pen_text(pen, "the pump requires %s", er_pen_figure(pen, ER_HEAD, required))
            : er_pen_text(pen, "it lifts %s with friction, where %s is practical",
                          er_pen_figure(pen, ER_HEAD, suction->height + suction->friction),
                          er_pen_figure(pen, ER_HEAD, suction->practical_lift));
    er_page_paragraph(page,
                      "The pump's suction: at %s the inlet has %s of net positive suction head; "
                      "%s.",
                      er_pen_figure(pen, ER_FLOW, suction->flow),
                      er_pen_figure(pen, ER_HEAD, suction->npsh_available), against);
}

void er_check_source(struct er_page *page, const struct er_result *result)
{
#define SET(head, quantity, member) ER_FIGURE_COLUMN(head, quantity, struct er_set_result, member)
    static const struct er_filled columns[] = {
        ER_PLACE_COLUMN("set"),
        ER_WORDS_COLUMN("zones", set_zones),
        ER_NUMBER_COLUMN("flow", ER_FLOW, set_flow),
        SET("source's\nlimit", ER_FLOW, source_limit),
        SET("pressure\nat source", ER_PRESSURE, source_pressure),
        SET("after\nheadworks", ER_PRESSURE, after_headworks),
        ER_CLOCK_COLUMN("runs\nh:min", struct er_set_result, run_time),
    };
    er_page_heading(page, "Does the source keep up?");
    er_page_rows(page, ER_ALL(columns), result->sets, sizeof *result->sets,
                 result->field->set_count, result);
    write_suction(page, result);
}

static const char *section_name(struct er_pen *pen, const void *of, const void *row, size_t place)
{
    (void)pen, (void)row;
    return ((const struct er_result *)of)->field->mainline[place].name;
}

static const char *busiest_set(struct er_pen *pen, const void *of, const void *row, size_t place)
{
    (void)of, (void)place;
    return er_pen_text(pen, "%zu", ((const struct er_section_result *)row)->set + 1);
}

void er_check_mainline(struct er_page *page, const struct er_result *result)
{
    static const struct er_filled columns[] = {
        ER_WORDS_COLUMN("section", section_name),
        ER_RIGHT_COLUMN("busiest\nset", busiest_set),
        ER_FIGURE_COLUMN("flow", ER_FLOW, struct er_section_result, flow),
        ER_FIGURE_COLUMN("velocity", ER_VELOCITY, struct er_section_result, velocity),
        ER_FIGURE_COLUMN("pressure\nat its end", ER_PRESSURE, struct er_section_result,
                         end_pressure),
    };
    if (result->field->section_count > 0) {
        er_page_heading(page, "The mainline");
        er_page_rows(page, ER_ALL(columns), result->sections, sizeof *result->sections,
                     result->field->section_count, result);
    }
}

/* ---- how long to run ---- */

/* Whether one irrigation of any zone is to be split into pulses. */
static bool any_pulses(const struct er_result *result)
{
    for (size_t z = 0; z < result->field->zone_count; z++) {
        if (result->zones[z].pulses > 1) {
            return true;
        }
    }
    return false;
}

/* A zone, and its time per depth as the table's head tells it. */
struct run_row {
    struct er_zone_result zone;
    double over_field, over_bed;
};

static void write_run_times(struct er_page *page, const struct er_result *result)
{
#define RUN(head, quantity, member) ER_FIGURE_COLUMN(head, quantity, struct run_row, member)
    const bool us = page->pen.system == ER_US;
    const struct er_filled columns[] = {
        ER_WORDS_COLUMN("zone", zone_name),
        ER_CLOCK_COLUMN("each run\nh:min", struct run_row, zone.run_time),
        RUN("each run\ngives", ER_DEPTH, zone.gross_depth),
        RUN("that is,\nof bed", ER_VOLUME_PER_LENGTH, zone.gross_per_length),
        RUN("a week,\nfield", ER_DEPTH, zone.weekly_depth_spacing),
        RUN("a week,\nbed", ER_DEPTH, zone.weekly_depth_bed),
        RUN(us ? "h for\n1 in,\nfield" : "h for\n10 mm,\nfield", ER_NO_UNIT, over_field),
        RUN(us ? "h for\n1 in,\nbed" : "h for\n10 mm,\nbed", ER_NO_UNIT, over_bed),
        ER_COUNT_COLUMN("in so\nmany\nruns", struct run_row, zone.pulses),
    };
    const size_t zones = result->field->zone_count;
    struct run_row *rows = er_pen_room(&page->pen, zones, sizeof *rows);
    for (size_t z = 0; rows != NULL && z < zones; z++) {
        const struct er_zone_result *zone = &result->zones[z];
        rows[z].zone = *zone;
        rows[z].over_field =
            er_from_si(ER_TIME_PER_DEPTH, page->pen.system, zone->time_per_depth_spacing);
        rows[z].over_bed =
            er_from_si(ER_TIME_PER_DEPTH, page->pen.system, zone->time_per_depth_bed);
    }
    er_page_rows(page, columns, sizeof columns / sizeof columns[0] - (any_pulses(result) ? 0 : 1),
                 rows, sizeof *rows, zones, result);
}

void er_check_run_time(struct er_page *page, const struct er_result *result)
{
    er_page_heading(page, "How long to run?");
    write_run_times(page, result);
    er_page_paragraph(
        page,
        "%s%s \"Field\" spreads the water over the whole bed spacing, \"bed\" over the bed's "
        "wetted "
        "width alone.",
        result->field->has_water
            ? "Water is counted as it leaves the tape, losses with it."
            : "The field file gives no need (water), so no run time is worked out here.",
        er_season_tells_runs(result->field) ? " For its season 'evenrow season' works them out, "
                                              "week by week, and what they leave in store."
                                            : "");
}

/* "4 days, from 1000 gal refilled at 2 gpm" */
static const char *supply_words(struct er_pen *pen, const struct er_result *result)
{
    const struct er_source *source = &result->field->source;
    const char *lasts =
        er_given(result->day.days_of_supply)
            ? er_pen_text(pen, "%s days", er_pen_number(pen, result->day.days_of_supply))
            : "no end in sight";
    const char *refilled =
        er_given(source->refill) && source->refill > 0.0
            ? er_pen_text(pen, " refilled at %s", er_pen_figure(pen, ER_FLOW, source->refill))
            : "";
    return er_pen_text(pen, "%s, from %s%s", lasts, er_pen_figure(pen, ER_VOLUME, source->storage),
                       refilled);
}

/* On which day of the interval each set runs, where they do not all go into one: "1 and 3 on day
 * 1; 2 on day 2". */
static void write_run_days(struct er_page *page, const struct er_result *result)
{
    struct er_pen *pen = &page->pen;
    const char *all = "";
    size_t days = 0;
    for (size_t s = 0; s < result->field->set_count; s++) {
        days = result->sets[s].run_day > days ? result->sets[s].run_day : days;
    }
    for (size_t day = 1; day <= days; day++) {
        const char *sets = "";
        for (size_t s = 0; s < result->field->set_count; s++) {
            if (result->sets[s].run_day == day) {
                sets = er_pen_joined(pen, sets, " and ", er_pen_text(pen, "%zu", s + 1));
            }
        }
        all = er_pen_joined(pen, all, "; ", er_pen_text(pen, "%s on day %zu", sets, day));
    }
    if (days > 1) {
        er_page_pair(page, "sets", "%s", all);
    }
}

/* How much of the day, or of the days between irrigations, it takes. */
static const char *running_words(struct er_pen *pen, const struct er_day_result *day)
{
    const char *needed = er_pen_clock(pen, day->hours_needed);
    const char *available = er_pen_clock(pen, day->hours_available);
    if (day->every >= 1.0 && day->every <= 1.0) {
        return er_pen_text(pen, "%s (h:min) of the %s in which water may run", needed, available);
    }
    const char *each = er_given(day->irrigation) ? er_pen_text(pen, "%s (h:min) every %s days; ",
                                                               er_pen_clock(pen, day->irrigation),
                                                               er_pen_number(pen, day->every))
                                                 : "";
    return er_pen_text(pen, "%s%s of %s (h:min) a day on average", each, needed, available);
}

void er_check_day(struct er_page *page, const struct er_result *result)
{
    const struct er_day_result *day = &result->day;
    struct er_pen *pen = &page->pen;
    if (!result->field->has_water) {
        return;
    }
    er_page_heading(page, "The day");
    er_page_pair(page, "running", "%s", running_words(pen, day));
    write_run_days(page, result);
    er_page_pair(page, "water", "%s",
                 er_given(day->volume) ? er_pen_figure(pen, ER_VOLUME, day->volume) : "-");
    if (er_given(result->field->source.storage) && er_given(day->volume)) {
        er_page_pair(page, "supply lasts", "%s", supply_words(pen, result));
    }
}

/* ---- what was assumed ---- */

void er_check_assumed(struct er_page *page, const struct er_result *result)
{
    if (result->assumption_count > 0) {
        er_page_heading(page, "%s",
                        result->guess_count == 0
                            ? "Assumed, because the field file does not say"
                            : "Assumed, or a guess by the field file's own account");
        er_assumed_table(page, result->assumptions, result->assumption_count);
    }
}
