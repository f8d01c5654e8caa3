/* The season's picture: hours of water week by week, and what is left in the storage. */
#include <math.h>

#include "draw/draw.h"
#include "draw/sheet.h"
#include "evenrow/date.h"
#include "report/season/words.h"

#define PANEL 300.0 /* px, height of a chart with its names */
#define BAR 0.8     /* of a week's width */

struct season {
    struct er_sheet sheet;
    const struct er_season_plan *plan;
    double top; /* px, of the next panel */
};

static double week_hours(const struct er_week *week)
{
    return week->daily_run * (double)week->days / 3600.0;
}

/* Hours in which water may run in a week; NAN where that is not told. */
static double hours_to_have(const struct season *season, const struct er_week *week)
{
    return season->plan->field->hours * (double)week->days / 3600.0;
}

static struct er_chart new_chart(const struct season *season, double y_last)
{
    struct er_chart chart = {.frame = {ER_SHEET_MARGIN + 60.0, season->top + 50.0,
                                       ER_SHEET_WIDTH - 40.0, season->top + PANEL - 50.0},
                             .x_last = (double)season->plan->week_count,
                             .y_last = y_last};
    er_chart_fit(&chart);
    return chart;
}

static void draw_axes(struct season *season, const struct er_chart *chart, const char *y_name)
{
    struct er_calendar_day day = er_date_split(season->plan->first);
    struct er_text x_name;
    er_text_init(&x_name);
    er_text_appendf(&x_name, "weeks from the first planting, %04d-%02d-%02d", day.year, day.month,
                    day.day);
    er_chart_axes(&season->sheet, chart, er_text_string(&x_name), y_name);
    struct er_text *out = season->sheet.svg.out;
    out->out_of_memory = out->out_of_memory || x_name.out_of_memory;
    er_text_release(&x_name);
}

static double most_hours(const struct season *season)
{
    double most = 0.0;
    for (size_t w = 0; w < season->plan->week_count; w++) {
        double hours = week_hours(&season->plan->weeks[w]);
        most = isfinite(hours) ? fmax(most, hours) : most;
    }
    return most;
}

static void draw_bars(struct season *season, const struct er_chart *chart)
{
    struct er_svg *svg = &season->sheet.svg;
    for (size_t w = 0; w < season->plan->week_count; w++) {
        const struct er_week *week = &season->plan->weeks[w];
        double hours = week_hours(week);
        if (hours > 0.0 && isfinite(hours)) {
            double left = er_chart_x(chart, (double)w + 0.5 * (1.0 - BAR));
            double right = er_chart_x(chart, (double)w + 0.5 * (1.0 + BAR));
            double top = er_chart_y(chart, hours);
            er_svg_rect(svg, left, top, right - left, chart->frame.bottom - top,
                        week->fits ? "bar" : "over");
        }
    }
}

/* The hours that may be used, where the chart reaches them. */
static void draw_limit(struct season *season, const struct er_chart *chart)
{
    struct er_svg *svg = &season->sheet.svg;
    double hours = hours_to_have(season, &season->plan->weeks[0]);
    if (!(hours <= chart->y_last)) {
        return;
    }
    er_svg_line(svg, chart->frame.left, er_chart_y(chart, hours), chart->frame.right,
                er_chart_y(chart, hours), "high");
}

static void draw_hours(struct season *season)
{
    struct er_svg *svg = &season->sheet.svg;
    double y = season->top + 16.0;
    double hours = hours_to_have(season, &season->plan->weeks[0]);
    struct er_chart chart = new_chart(season, most_hours(season));
    er_svg_rect(svg, ER_SHEET_MARGIN, y - 11.0, 30.0, 14.0, "bar");
    er_svg_label(svg, ER_SHEET_MARGIN + 38.0, y, "all sets, one after another", &er_small_letters);
    er_svg_rect(svg, 270.0, y - 11.0, 30.0, 14.0, "over");
    er_svg_label(svg, 308.0, y, "more than the days have", &er_small_letters);
    if (isfinite(hours)) {
        er_svg_line(svg, 520.0, y - 4.0, 556.0, y - 4.0, "high");
        er_sheet_labelf(&season->sheet, 564.0, y, 400.0, &er_small_letters,
                        "%.3g h a week in which water may run", hours);
    }
    draw_axes(season, &chart, "hours of watering in the week");
    draw_bars(season, &chart);
    draw_limit(season, &chart);
    season->top += PANEL;
}

static void draw_storage(struct season *season)
{
    struct er_svg *svg = &season->sheet.svg;
    const struct er_season_plan *plan = season->plan;
    enum er_system system = season->sheet.system;
    struct er_chart chart = new_chart(season, er_from_si(ER_VOLUME, system, plan->storage.room));
    struct er_text name;
    er_text_init(&name);
    er_text_appendf(&name, "left in the storage, %s", er_unit_name(ER_VOLUME, system));
    draw_axes(season, &chart, er_text_string(&name));
    if (plan->runs_dry != ER_NO_DATE) {
        struct er_calendar_day dry = er_date_split(plan->runs_dry);
        er_sheet_labelf(&season->sheet, 380.0, chart.frame.top - 10.0, 560.0, &er_bold_letters,
                        "Runs dry on %04d-%02d-%02d; water is missing on %zu day%s", dry.year,
                        dry.month, dry.day, plan->dry_days, plan->dry_days == 1 ? "" : "s");
    }
    er_svg_path_begin(svg, "low");
    for (size_t d = 0; d < plan->day_count; d++) {
        double left = er_from_si(ER_VOLUME, system, plan->days[d].storage.left);
        er_svg_path_to(svg, d == 0, er_chart_x(&chart, (double)(d + 1) / 7.0),
                       er_chart_y(&chart, left));
    }
    er_svg_path_end(svg, false);
    svg->out->out_of_memory = svg->out->out_of_memory || name.out_of_memory;
    er_text_release(&name);
    season->top += PANEL;
}

static void write_verdict(struct season *season)
{
    struct er_pen pen = {.system = season->sheet.system};
    er_sheet_remark(&season->sheet, &pen, er_season_verdict(&pen, season->plan));
}

enum er_status er_draw_season(const struct er_season_plan *plan, enum er_system system,
                              struct er_text *out)
{
    struct season season = {.plan = plan, .top = ER_SHEET_TOP};
    bool storage = plan->has_storage && plan->storage.room > 0.0 && isfinite(plan->lowest);
    double height = ER_SHEET_TOP + PANEL * (storage ? 2.0 : 1.0) + 20.0;
    er_sheet_begin(&season.sheet, plan->result, system, height,
                   "Season: how long to water in each week, and what is left in the storage", out);
    write_verdict(&season);
    draw_hours(&season);
    if (storage) {
        draw_storage(&season);
    }
    return er_sheet_end(&season.sheet);
}
