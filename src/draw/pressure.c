/* The pressures' picture: for each zone a chart of its lowest and its highest row. */
#include <math.h>

#include "draw/draw.h"
#include "draw/sheet.h"

#define CELL_WIDTH 488.0
#define CELL_HEIGHT 316.0
#define NOTES_HEIGHT 60.0

struct pressures {
    struct er_sheet sheet;
    const struct er_result *result;
    const struct er_rows *rows;
    double highest; /* in the unit told, of all zones: their charts have one scale */
};

static double told(const struct pressures *pressures, enum er_quantity quantity, double value)
{
    return er_from_si(quantity, pressures->sheet.system, value);
}

static const char *unit(const struct pressures *pressures, enum er_quantity quantity)
{
    return er_unit_name(quantity, pressures->sheet.system);
}

static void find_highest(struct pressures *pressures)
{
    double highest = 0.0;
    for (size_t z = 0; z < pressures->result->field->zone_count; z++) {
        const struct er_zone_rows *zone = &pressures->rows->zones[z];
        highest = fmax(highest, zone->highest.row->pressure.max);
        highest = fmax(highest, zone->highest.points[0].value);
        highest = fmax(highest, zone->lowest.points[0].value);
        /* So that a field without water still shows what is wanted. */
        highest = fmax(highest, zone->lowest.row->group->tape->min_pressure);
    }
    pressures->highest = told(pressures, ER_PRESSURE, highest);
}

static void draw_profile(struct pressures *pressures, const struct er_chart *chart,
                         const struct er_row_profile *profile, const char *class_name)
{
    struct er_svg *svg = &pressures->sheet.svg;
    er_svg_path_begin(svg, class_name);
    for (size_t i = 0; i < profile->count; i++) {
        const struct er_point *point = &profile->points[i];
        er_svg_path_to(svg, i == 0, er_chart_x(chart, told(pressures, ER_LENGTH, point->at)),
                       er_chart_y(chart, fmax(0.0, told(pressures, ER_PRESSURE, point->value))));
    }
    er_svg_path_end(svg, false);
}

/* The line's look, then which row it is and what it has. */
static void draw_key(struct pressures *pressures, double x, double y, const char *what,
                     const struct er_row_profile *profile, const char *class_name)
{
    const struct er_row *row = profile->row;
    er_svg_line(&pressures->sheet.svg, x, y - 4.0, x + 36.0, y - 4.0, class_name);
    er_sheet_labelf(&pressures->sheet, x + 44.0, y, CELL_WIDTH - 60.0, &er_small_letters,
                    "%s: bed %zu%s, %.3g %s at its inlet, %.3g to %.3g", what, row->bed + 1,
                    row->second_side ? ", second side" : "",
                    told(pressures, ER_PRESSURE, row->inlet_pressure), unit(pressures, ER_PRESSURE),
                    told(pressures, ER_PRESSURE, row->pressure.min),
                    told(pressures, ER_PRESSURE, row->pressure.max));
}

/* What the lowest row's tape is rated for, as a band, as far as the chart reaches. */
static void draw_rating(struct pressures *pressures, const struct er_chart *chart,
                        const struct er_tape *tape, double key_x, double key_y)
{
    struct er_svg *svg = &pressures->sheet.svg;
    double low = told(pressures, ER_PRESSURE, tape->min_pressure);
    double high = told(pressures, ER_PRESSURE, tape->max_pressure);
    double top = er_chart_y(chart, fmin(high, chart->y_last));
    double bottom = er_chart_y(chart, fmin(low, chart->y_last));
    er_svg_rect(svg, chart->frame.left, top, chart->frame.right - chart->frame.left, bottom - top,
                "band");
    er_svg_rect(svg, key_x, key_y - 10.0, 36.0, 12.0, "band");
    er_sheet_labelf(&pressures->sheet, key_x + 44.0, key_y, CELL_WIDTH - 60.0, &er_small_letters,
                    "grey: its tape is made for %.3g to %.3g %s", low, high,
                    unit(pressures, ER_PRESSURE));
}

static void name_axes(const struct pressures *pressures, struct er_text *x_name,
                      struct er_text *y_name)
{
    er_text_init(x_name);
    er_text_init(y_name);
    er_text_appendf(x_name, "%s from the header", unit(pressures, ER_LENGTH));
    er_text_appendf(y_name, "pressure, %s", unit(pressures, ER_PRESSURE));
}

static void draw_zone(struct pressures *pressures, size_t zone, double x, double y)
{
    const struct er_zone_rows *rows = &pressures->rows->zones[zone];
    const struct er_tape *tape = rows->lowest.row->group->tape;
    struct er_sheet *sheet = &pressures->sheet;
    double longest = fmax(rows->lowest.row->length, rows->highest.row->length);
    struct er_chart chart = {
        .frame = {x + 46.0, y + 100.0, x + CELL_WIDTH - 36.0, y + CELL_HEIGHT - 56.0},
        .x_last = told(pressures, ER_LENGTH, longest),
        .y_last = pressures->highest};
    struct er_text x_name, y_name;
    name_axes(pressures, &x_name, &y_name);
    er_svg_label_fitted(&sheet->svg, x, y + 14.0, pressures->result->field->zones[zone].name,
                        CELL_WIDTH - 24.0, &er_bold_letters);
    er_chart_fit(&chart);
    draw_rating(pressures, &chart, tape, x, y + 71.0);
    er_chart_axes(sheet, &chart, er_text_string(&x_name), er_text_string(&y_name));
    draw_key(pressures, x, y + 33.0, "highest", &rows->highest, "high");
    draw_key(pressures, x, y + 52.0, "lowest", &rows->lowest, "low");
    /* The dashes on top: where both are one row, both can be seen. */
    draw_profile(pressures, &chart, &rows->lowest, "low");
    draw_profile(pressures, &chart, &rows->highest, "high");
    sheet->svg.out->out_of_memory =
        sheet->svg.out->out_of_memory || x_name.out_of_memory || y_name.out_of_memory;
    er_text_release(&x_name);
    er_text_release(&y_name);
}

enum er_status er_draw_pressure(const struct er_result *result, const struct er_rows *rows,
                                enum er_system system, struct er_text *out)
{
    struct pressures pressures = {.result = result, .rows = rows};
    size_t zones = result->field->zone_count;
    size_t lines = (zones + 1) / 2;
    double height = ER_SHEET_TOP + CELL_HEIGHT * (double)lines + NOTES_HEIGHT;
    er_sheet_begin(&pressures.sheet, result, system, height,
                   "Pressure along two rows of each zone: the one with the lowest emitter and the "
                   "one with the highest",
                   out);
    er_sheet_verdict(&pressures.sheet, result);
    find_highest(&pressures);
    for (size_t z = 0; z < zones; z++) {
        size_t line = z / 2;
        draw_zone(&pressures, z, ER_SHEET_MARGIN + CELL_WIDTH * (double)(z % 2),
                  ER_SHEET_TOP + CELL_HEIGHT * (double)line);
    }
    er_svg_paragraph(&pressures.sheet.svg, ER_SHEET_MARGIN, height - NOTES_HEIGHT + 18.0,
                     "Worked out emitter by emitter, filters clean. All charts have the same scale "
                     "of pressure; what is below zero is drawn at zero. Beds are counted from the "
                     "header's first bed, from 1.",
                     ER_SHEET_WIDTH - 2.0 * ER_SHEET_MARGIN, 2, &er_small_letters);
    return er_sheet_end(&pressures.sheet);
}
