/* The head, the notes and the axes of a picture, and round steps for the axes. */
#include "draw/sheet.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "report/report.h"
#include "say/table.h"

const struct er_lettering er_small_letters = {11.0, false, ER_START};
const struct er_lettering er_small_letters_middle = {11.0, false, ER_MIDDLE};
const struct er_lettering er_small_letters_end = {11.0, false, ER_END};
const struct er_lettering er_bold_letters = {12.0, true, ER_START};

static const struct er_lettering title_letters = {17.0, true, ER_START};
static const struct er_lettering heading_letters = {13.0, false, ER_START};

void er_sheet_begin(struct er_sheet *sheet, const struct er_result *result, enum er_system system,
                    double height, const char *heading, struct er_text *out)
{
    const char *title = result->field->title;
    const double room = ER_SHEET_WIDTH - 2.0 * ER_SHEET_MARGIN;
    title = title != NULL && title[0] != '\0' ? title : "A field without a title";
    sheet->system = system;
    er_svg_begin(&sheet->svg, out, ER_SHEET_WIDTH, height, title);
    er_svg_label_fitted(&sheet->svg, ER_SHEET_MARGIN, 32.0, title, room, &title_letters);
    er_svg_label_fitted(&sheet->svg, ER_SHEET_MARGIN, 55.0, heading, room, &heading_letters);
}

void er_sheet_remark(struct er_sheet *sheet, struct er_pen *pen, const char *remark)
{
    struct er_text *out = sheet->svg.out;
    er_svg_paragraph(&sheet->svg, ER_SHEET_MARGIN, 76.0, remark,
                     ER_SHEET_WIDTH - 2.0 * ER_SHEET_MARGIN, 2, &er_small_letters);
    out->out_of_memory = out->out_of_memory || pen->out_of_memory;
    er_pen_release(pen);
}

void er_sheet_verdict(struct er_sheet *sheet, const struct er_result *result)
{
    struct er_pen pen = {.system = result->speaks};
    er_sheet_remark(sheet, &pen, er_verdict_words(&pen, result));
}

enum er_status er_sheet_end(struct er_sheet *sheet)
{
    er_svg_end(&sheet->svg);
    return sheet->svg.out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}

bool er_sheet_labelf(struct er_sheet *sheet, double x, double y, double room,
                     const struct er_lettering *how, const char *format, ...)
{
    struct er_text text;
    va_list arguments;
    er_text_init(&text);
    va_start(arguments, format);
    er_text_vappendf(&text, format, arguments);
    va_end(arguments);
    bool drawn = er_svg_label_fitted(&sheet->svg, x, y, er_text_string(&text), room, how);
    sheet->svg.out->out_of_memory = sheet->svg.out->out_of_memory || text.out_of_memory;
    er_text_release(&text);
    return drawn;
}

double er_round_step(double least)
{
    double power = pow(10.0, floor(log10(least)));
    double share = least / power;
    const double slack = 1.0 + 1e-9; /* for what rounding does to a step that is one already */
    if (share <= slack) {
        return power;
    }
    if (share <= 2.0 * slack) {
        return 2.0 * power;
    }
    return share <= 5.0 * slack ? 5.0 * power : 10.0 * power;
}

double er_chart_x(const struct er_chart *chart, double value)
{
    return chart->frame.left + (chart->frame.right - chart->frame.left) * value / chart->x_last;
}

double er_chart_y(const struct er_chart *chart, double value)
{
    return chart->frame.bottom - (chart->frame.bottom - chart->frame.top) * value / chart->y_last;
}

/* px that a figure wants along an axis */
#define ACROSS_ROOM 60.0
#define DOWN_ROOM 26.0

static double axis_step(double length, double room, double last)
{
    return er_round_step(last / fmax(2.0, floor(length / room)));
}

static double x_step(const struct er_chart *chart)
{
    return axis_step(chart->frame.right - chart->frame.left, ACROSS_ROOM, chart->x_last);
}

static double y_step(const struct er_chart *chart)
{
    return axis_step(chart->frame.bottom - chart->frame.top, DOWN_ROOM, chart->y_last);
}

void er_chart_fit(struct er_chart *chart)
{
    chart->x_last = chart->x_last > 0.0 ? chart->x_last : 1.0;
    chart->y_last = chart->y_last > 0.0 ? chart->y_last : 1.0;
    double across = x_step(chart), down = y_step(chart);
    chart->x_last = across * ceil(chart->x_last / across * (1.0 - 1e-9));
    chart->y_last = down * ceil(chart->y_last / down * (1.0 - 1e-9));
}

static void draw_x_axis(struct er_sheet *sheet, const struct er_chart *chart, double step)
{
    for (int i = 0; step * i <= chart->x_last * (1.0 + 1e-9); i++) {
        double value = step * i;
        double x = er_chart_x(chart, value);
        er_svg_line(&sheet->svg, x, chart->frame.top, x, chart->frame.bottom, "grid");
        er_sheet_labelf(sheet, x, chart->frame.bottom + 15.0, 80.0, &er_small_letters_middle,
                        "%.8g", value);
    }
}

static void draw_y_axis(struct er_sheet *sheet, const struct er_chart *chart, double step)
{
    for (int i = 0; step * i <= chart->y_last * (1.0 + 1e-9); i++) {
        double value = step * i;
        double y = er_chart_y(chart, value);
        er_svg_line(&sheet->svg, chart->frame.left, y, chart->frame.right, y, "grid");
        er_sheet_labelf(sheet, chart->frame.left - 6.0, y + 4.0, 60.0, &er_small_letters_end,
                        "%.8g", value);
    }
}

void er_chart_axes(struct er_sheet *sheet, const struct er_chart *chart, const char *x_name,
                   const char *y_name)
{
    const struct er_box *frame = &chart->frame;
    draw_x_axis(sheet, chart, x_step(chart));
    draw_y_axis(sheet, chart, y_step(chart));
    er_svg_rect(&sheet->svg, frame->left, frame->top, frame->right - frame->left,
                frame->bottom - frame->top, "frame");
    er_svg_label(&sheet->svg, 0.5 * (frame->left + frame->right), frame->bottom + 33.0, x_name,
                 &er_small_letters_middle);
    er_svg_label(&sheet->svg, frame->left, frame->top - 10.0, y_name, &er_small_letters);
}
