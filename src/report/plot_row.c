/* The pressure along one row in plain characters, for a terminal. */
#include <math.h>

#include "report/draw.h"
#include "report/draw_sheet.h"
#include "say/table.h"
#include "say/wrap.h"

#define COLUMNS 64 /* of the plot, right of the figures */
#define LINES 15   /* of the plot at most, above the axis */
#define FIGURES 8  /* columns for the figures of pressure */

struct plot {
    const struct er_rows *rows;
    enum er_system system;
    size_t zone;
    const struct er_row_profile *profile;
    double step; /* from line to line, in the unit told: a round figure */
    int top;     /* the topmost line, counted from 0 at the axis */
    struct er_text *out;
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
    double told = er_from_si(ER_PRESSURE, plot->system, pressure);
    return told > 0.0 ? (int)floor(told / plot->step + 0.5) : 0;
}

static void append_caption(const struct plot *plot)
{
    const struct er_row *row = plot->profile->row;
    const struct er_zone *zone = &plot->rows->field->zones[plot->zone];
    struct er_text text;
    er_text_init(&text);
    er_text_appendf(&text,
                    "The row with the lowest emitter of all: zone %s, bed %zu%s. At its "
                    "inlet ",
                    zone->name, row->bed + 1, row->second_side ? ", second side" : "");
    er_append_number(&text, er_from_si(ER_PRESSURE, plot->system, row->inlet_pressure));
    er_text_appendf(&text, " %s, at its emitters ", er_unit_name(ER_PRESSURE, plot->system));
    er_append_number(&text, er_from_si(ER_PRESSURE, plot->system, row->pressure.min));
    er_text_append(&text, " to ");
    er_append_number(&text, er_from_si(ER_PRESSURE, plot->system, row->pressure.max));
    er_text_append(&text, "; its tape is made for ");
    er_append_number(&text, er_from_si(ER_PRESSURE, plot->system, row->group->tape->min_pressure));
    er_text_append(&text, " to ");
    er_append_number(&text, er_from_si(ER_PRESSURE, plot->system, row->group->tape->max_pressure));
    er_text_append(&text, row->pressure.min < 0.0
                              ? ". Filters are clean. What is below zero stands at zero."
                              : ". Filters are clean.");
    er_paragraph(plot->out, "", "", er_text_string(&text));
    plot->out->out_of_memory = plot->out->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

/* One line: its figure every second line, then a mark wherever the row's pressure stands on it. */
static void append_line(const struct plot *plot, int line)
{
    size_t last = 0;
    char marks[COLUMNS];
    for (size_t c = 0; c < COLUMNS; c++) {
        double at = plot->profile->row->length * (double)c / (COLUMNS - 1);
        bool here = line_of(plot, pressure_at(plot->profile, at)) == line;
        marks[c] = here ? '*' : ' ';
        last = here ? c + 1 : last;
    }
    if (line % 2 == 0) {
        er_text_appendf(plot->out, "%*.8g |", FIGURES, plot->step * line);
    } else {
        er_text_appendf(plot->out, "%*s |", FIGURES, "");
    }
    er_text_append_bytes(plot->out, marks, last);
    er_text_append(plot->out, "\n");
}

static void append_axis(const struct plot *plot)
{
    struct er_text end;
    er_text_init(&end);
    er_append_number(&end, er_from_si(ER_LENGTH, plot->system, plot->profile->row->length));
    er_text_appendf(&end, " %s", er_unit_name(ER_LENGTH, plot->system));
    er_text_appendf(plot->out, "%*s +", FIGURES, er_unit_name(ER_PRESSURE, plot->system));
    for (size_t c = 0; c < COLUMNS; c++) {
        er_text_append(plot->out, "-");
    }
    er_text_appendf(plot->out, "\n%*s  0%*s\n", FIGURES, "", COLUMNS - 1, er_text_string(&end));
    plot->out->out_of_memory = plot->out->out_of_memory || end.out_of_memory;
    er_text_release(&end);
}

enum er_status er_plot_worst_row(const struct er_rows *rows, enum er_system system,
                                 struct er_text *out)
{
    struct plot plot = {.rows = rows, .system = system, .zone = worst_zone(rows), .out = out};
    plot.profile = &rows->zones[plot.zone].lowest;
    double highest = fmax(plot.profile->row->pressure.max, plot.profile->points[0].value);
    plot.step = er_round_step(fmax(er_from_si(ER_PRESSURE, system, highest), 1e-9) / LINES);
    plot.top = line_of(&plot, highest);
    er_text_append(out, "\nThe pressure along the worst row\n\n");
    append_caption(&plot);
    er_text_append(out, "\n");
    for (int line = plot.top; line >= 0; line--) {
        append_line(&plot, line);
    }
    append_axis(&plot);
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
