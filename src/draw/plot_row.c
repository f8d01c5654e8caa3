/* The pressure along one row in plain characters, for a terminal. */
#include <math.h>
#include <string.h>

#include "draw/draw.h"
#include "draw/sheet.h"

#define COLUMNS 64 /* of the plot, right of the figures */
#define LINES 15   /* of the plot at most, above the axis */
#define FIGURES 8  /* columns for the figures of pressure */

struct plot {
    struct er_pen *pen;
    const struct er_row_profile *profile;
    double step; /* from line to line, in the unit told: a round figure */
};

/* The zone whose lowest emitter has the least pressure of all. */
static size_t worst_zone(const struct er_rows *rows)
{
    size_t worst = 0;
    for (size_t z = 1; z < rows->field->zone_count; z++) {
        if (rows->zones[z].lowest.row->pressure.min < rows->zones[worst].lowest.row->pressure.min) {
            worst = z;
        }
    }
    return worst;
}

/* Pressure (m) at a distance, straight between the points. */
static double pressure_at(const struct er_row_profile *profile, double at)
{
    size_t i = 1;
    while (i + 1 < profile->count && profile->points[i].at < at) {
        i++;
    }
    const struct er_point *from = &profile->points[i - 1], *to = &profile->points[i];
    double share = to->at > from->at ? (at - from->at) / (to->at - from->at) : 1.0;
    return from->value + fmax(0.0, fmin(1.0, share)) * (to->value - from->value);
}

/* The line on which a pressure stands; none below it. */
static int line_of(const struct plot *plot, double pressure)
{
    double told = er_from_si(ER_PRESSURE, plot->pen->system, pressure);
    return told > 0.0 ? (int)floor(told / plot->step + 0.5) : 0;
}

static const char *pressure(struct er_pen *pen, double value)
{
    return er_pen_number(pen, er_from_si(ER_PRESSURE, pen->system, value));
}

static void write_caption(struct er_page *page, const struct er_row *row, const char *zone)
{
    struct er_pen *pen = &page->pen;
    const struct er_tape *tape = row->group->tape;
    er_page_paragraph(
        page,
        "The row with the lowest emitter of all: zone %s, bed %zu%s. At its inlet %s, "
        "at its emitters %s to %s; its tape is made for %s to %s. Filters are clean.%s",
        zone, row->bed + 1, row->second_side ? ", second side" : "",
        er_pen_figure(pen, ER_PRESSURE, row->inlet_pressure), pressure(pen, row->pressure.min),
        pressure(pen, row->pressure.max), pressure(pen, tape->min_pressure),
        pressure(pen, tape->max_pressure),
        row->pressure.min < 0.0 ? " What is below zero stands at zero." : "");
}

/* One line: its figure every second line, then a mark wherever the row's pressure stands on it. */
static const char *line_words(const struct plot *plot, int line)
{
    int last = 0;
    char marks[COLUMNS];
    for (int c = 0; c < COLUMNS; c++) {
        double at = plot->profile->row->length * c / (COLUMNS - 1);
        bool here = line_of(plot, pressure_at(plot->profile, at)) == line;
        marks[c] = here ? '*' : ' ';
        last = here ? c + 1 : last;
    }
    const char *figure = line % 2 == 0 ? er_pen_text(plot->pen, "%.8g", plot->step * line) : "";
    return er_pen_text(plot->pen, "%*s |%.*s\n", FIGURES, figure, last, marks);
}

static const char *axis_words(const struct plot *plot)
{
    char rule[COLUMNS];
    memset(rule, '-', sizeof rule);
    return er_pen_text(plot->pen, "%*s +%.*s\n%*s  0%*s\n", FIGURES,
                       er_unit_name(ER_PRESSURE, plot->pen->system), COLUMNS, rule, FIGURES, "",
                       COLUMNS - 1,
                       er_pen_figure(plot->pen, ER_LENGTH, plot->profile->row->length));
}

void er_plot_worst_row(const struct er_rows *rows, struct er_page *page)
{
    const size_t zone = worst_zone(rows);
    struct plot plot = {&page->pen, &rows->zones[zone].lowest, 0.0};
    const struct er_row *row = plot.profile->row;
    const double highest = fmax(row->pressure.max, plot.profile->points[0].value);
    const char *lines = "";
    plot.step =
        er_round_step(fmax(er_from_si(ER_PRESSURE, page->pen.system, highest), 1e-9) / LINES);
    er_page_heading(page, "The pressure along the worst row");
    write_caption(page, row, rows->field->zones[zone].name);
    for (int line = line_of(&plot, highest); line >= 0; line--) {
        lines = er_pen_joined(plot.pen, lines, "", line_words(&plot, line));
    }
    er_page_plain(page, er_pen_joined(plot.pen, lines, "", axis_words(&plot)));
}
