/* The supply's picture: the source's curve, and on it the point where each set runs. */
#include <math.h>

#include "draw/draw.h"
#include "draw/sheet.h"
#include "evenrow/hydraulics.h"

#define HEIGHT 640.0
#define LIST_X 690.0
#define LIST_STEP 19.0
#define SETS_TOLD 9
#define POINTS 120 /* of the curve */

struct supply {
    struct er_sheet sheet;
    const struct er_result *result;
    const struct er_source *source;
    struct er_chart chart;
};

static double told(const struct supply *supply, enum er_quantity quantity, double value)
{
    return er_from_si(quantity, supply->sheet.system, value);
}

static const char *unit(const struct supply *supply, enum er_quantity quantity)
{
    return er_unit_name(quantity, supply->sheet.system);
}

static double pressure_at(const struct supply *supply, double flow)
{
    double slope;
    return er_source_pressure(supply->source, flow, &slope);
}

static double x_of(const struct supply *supply, double flow)
{
    return er_chart_x(&supply->chart, told(supply, ER_FLOW, flow));
}

static double y_of(const struct supply *supply, double pressure)
{
    return er_chart_y(&supply->chart, fmax(0.0, told(supply, ER_PRESSURE, pressure)));
}

/* Axes that hold every set, the limit, and the source as far as it was measured. */
static void measure(struct supply *supply)
{
    const struct er_result *result = supply->result;
    double flow = 0.0, pressure = pressure_at(supply, 0.0);
    double last = er_source_last_flow(supply->source);
    for (size_t s = 0; s < result->field->set_count; s++) {
        flow = fmax(flow, result->sets[s].flow);
        pressure = fmax(pressure, result->sets[s].source_pressure);
    }
    flow = isfinite(last) ? fmax(flow, last) : flow;
    flow = er_given(supply->source->flow_limit) ? fmax(flow, supply->source->flow_limit) : flow;
    supply->chart = (struct er_chart){
        .frame = {ER_SHEET_MARGIN + 50.0, ER_SHEET_TOP + 28.0, LIST_X - 30.0, HEIGHT - 90.0},
        .x_last = told(supply, ER_FLOW, 1.05 * flow),
        .y_last = told(supply, ER_PRESSURE, 1.05 * pressure)};
    er_chart_fit(&supply->chart);
}

/* The curve from one flow to another, as far as it has pressure. */
static void draw_curve(struct supply *supply, double from, double to, const char *class_name)
{
    struct er_svg *svg = &supply->sheet.svg;
    if (!(to > from)) {
        return;
    }
    er_svg_path_begin(svg, class_name);
    for (int i = 0; i <= POINTS; i++) {
        double flow = from + (to - from) * i / POINTS;
        double pressure = pressure_at(supply, flow);
        er_svg_path_to(svg, i == 0, x_of(supply, flow), y_of(supply, pressure));
        if (!(pressure > 0.0)) {
            break;
        }
    }
    er_svg_path_end(svg, false);
}

static void draw_source(struct supply *supply)
{
    double end = er_to_si(ER_FLOW, supply->sheet.system, supply->chart.x_last);
    double last = fmin(er_source_last_flow(supply->source), end);
    double limit = supply->source->flow_limit;
    double first = fmin(er_source_first_flow(supply->source), last);
    draw_curve(supply, 0.0, first, "limit");
    draw_curve(supply, first, last, "curve");
    draw_curve(supply, last, end, "limit");
    if (er_given(limit)) {
        er_svg_line(&supply->sheet.svg, x_of(supply, limit), supply->chart.frame.top,
                    x_of(supply, limit), supply->chart.frame.bottom, "high");
    }
}

/* A point for each set; its number at the first free place about it. */
static void draw_sets(struct supply *supply)
{
    static const double places[][2] = {{0.0, -11.0},  {14.0, -9.0}, {-14.0, -9.0}, {14.0, 14.0},
                                       {-14.0, 14.0}, {0.0, 20.0},  {26.0, 4.0},   {-26.0, 4.0},
                                       {0.0, -27.0},  {0.0, 36.0}};
    for (size_t s = 0; s < supply->result->field->set_count; s++) {
        const struct er_set_result *set = &supply->result->sets[s];
        double x = x_of(supply, set->flow), y = y_of(supply, set->source_pressure);
        er_svg_circle(&supply->sheet.svg, x, y, 5.0, "dot");
        for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
            if (er_sheet_labelf(&supply->sheet, x + places[i][0], y + places[i][1], 40.0,
                                &er_small_letters_middle, "%zu", s + 1)) {
                break;
            }
        }
    }
}

static void append_zones(const struct er_field *field, const struct er_set *set,
                         struct er_text *names)
{
    for (size_t z = 0; z < set->zone_count; z++) {
        er_text_append(names, z > 0 ? ", " : "");
        er_text_append(names, field->zones[set->zones[z]].name);
    }
}

static void list_set(struct supply *supply, size_t s, double y)
{
    struct er_sheet *sheet = &supply->sheet;
    const struct er_field *field = supply->result->field;
    const struct er_set_result *set = &supply->result->sets[s];
    struct er_text names;
    er_text_init(&names);
    append_zones(field, &field->sets[s], &names);
    er_sheet_labelf(sheet, LIST_X, y, ER_SHEET_WIDTH - LIST_X - ER_SHEET_MARGIN, &er_small_letters,
                    "%zu: %s", s + 1, er_text_string(&names));
    er_sheet_labelf(sheet, LIST_X + 16.0, y + LIST_STEP, 250.0, &er_small_letters,
                    "%.3g %s at %.3g %s", told(supply, ER_FLOW, set->flow), unit(supply, ER_FLOW),
                    told(supply, ER_PRESSURE, set->source_pressure), unit(supply, ER_PRESSURE));
    sheet->svg.out->out_of_memory = sheet->svg.out->out_of_memory || names.out_of_memory;
    er_text_release(&names);
}

static double draw_key(struct supply *supply, double y, const char *class_name, const char *words)
{
    er_svg_line(&supply->sheet.svg, LIST_X, y - 4.0, LIST_X + 34.0, y - 4.0, class_name);
    er_svg_label_fitted(&supply->sheet.svg, LIST_X + 42.0, y, words,
                        ER_SHEET_WIDTH - LIST_X - 42.0 - ER_SHEET_MARGIN, &er_small_letters);
    return y + LIST_STEP;
}

static void draw_list(struct supply *supply)
{
    const size_t sets = supply->result->field->set_count;
    struct er_sheet *sheet = &supply->sheet;
    double y = draw_key(supply, supply->chart.frame.top + 6.0, "curve", "pressure at the source");
    if (isfinite(er_source_last_flow(supply->source))) {
        y = draw_key(supply, y, "limit", "not measured");
    }
    if (er_given(supply->source->flow_limit)) {
        er_svg_line(&sheet->svg, LIST_X, y - 4.0, LIST_X + 34.0, y - 4.0, "high");
        er_sheet_labelf(sheet, LIST_X + 42.0, y, 240.0, &er_small_letters, "it may give %.3g %s",
                        told(supply, ER_FLOW, supply->source->flow_limit), unit(supply, ER_FLOW));
        y += LIST_STEP;
    }
    er_svg_circle(&sheet->svg, LIST_X + 17.0, y - 4.0, 5.0, "dot");
    er_svg_label(&sheet->svg, LIST_X + 42.0, y, "a set at work, filters clean", &er_small_letters);
    y += 1.5 * LIST_STEP;
    er_svg_label(&sheet->svg, LIST_X, y, "Sets", &er_bold_letters);
    for (size_t s = 0; s < sets && s < SETS_TOLD; s++) {
        list_set(supply, s, y + LIST_STEP * (double)(2 * s + 1));
    }
    if (sets > SETS_TOLD) {
        er_sheet_labelf(sheet, LIST_X, y + LIST_STEP * (double)(2 * SETS_TOLD + 1), 240.0,
                        &er_small_letters, "and %zu more", sets - SETS_TOLD);
    }
}

static void draw_axes(struct supply *supply)
{
    struct er_text x_name, y_name;
    er_text_init(&x_name);
    er_text_init(&y_name);
    er_text_appendf(&x_name, "flow, %s", unit(supply, ER_FLOW));
    er_text_appendf(&y_name, "pressure at the source's outlet, %s", unit(supply, ER_PRESSURE));
    er_chart_axes(&supply->sheet, &supply->chart, er_text_string(&x_name), er_text_string(&y_name));
    struct er_text *out = supply->sheet.svg.out;
    out->out_of_memory = out->out_of_memory || x_name.out_of_memory || y_name.out_of_memory;
    er_text_release(&x_name);
    er_text_release(&y_name);
}

enum er_status er_draw_supply(const struct er_result *result, enum er_system system,
                              struct er_text *out)
{
    struct supply supply = {.result = result, .source = &result->field->source};
    er_sheet_begin(&supply.sheet, result, system, HEIGHT,
                   "Supply: what the source gives, and where each set of zones works on it", out);
    er_sheet_verdict(&supply.sheet, result);
    measure(&supply);
    draw_axes(&supply);
    draw_source(&supply);
    draw_sets(&supply);
    draw_list(&supply);
    return er_sheet_end(&supply.sheet);
}
