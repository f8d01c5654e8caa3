/* The beds of one zone on the plan: rows shaded by flow, bed numbers, arrows downhill. */
#include <math.h>

#include "draw/plan.h"

#define THICKNESS 0.8    /* of the spacing: beds are drawn wider than they are, to be seen */
#define NUMBER_ROOM 15.0 /* px between two bed numbers */
#define ARROW 46.0       /* px */
#define LEVEL 0.0005     /* slopes below it are told as level */
#define TALL_ENOUGH 44.0 /* px of a group for an arrow among its rows */
#define OUTLINED 6.0     /* px from bed to bed, below which outlines would grey them */

const double er_plan_class_ends[] = {0.80, 0.90, 0.95, 0.98, 1.02, 1.05, 1.10};
const char *const er_plan_class_names[] = {"f0", "f1", "f2", "f3", "f4", "f5", "f6", "f7", "dry"};

static size_t class_of(const struct er_row *row, size_t part)
{
    if (!(row->driest[part] > 0.0)) {
        return ER_PLAN_DRY;
    }
    size_t place = 0;
    while (place < ER_PLAN_DRY - 1 && row->parts[part] >= er_plan_class_ends[place]) {
        place++;
    }
    return place;
}

/* Where a row begins and which way it goes. */
static double row_start(const struct er_plan_layout *layout, const struct er_row *row)
{
    return row->second_side ? layout->header_x - ER_PLAN_CORRIDOR : layout->header_x;
}

/* Parts side by side of one class as one piece. */
static void draw_row(struct er_plan_drawing *drawing, size_t zone, const struct er_row *row)
{
    const struct er_plan_layout *layout = &drawing->layout;
    double high = THICKNESS * row->group->spacing * layout->scale;
    double top = er_plan_y(layout, zone, row->at) - 0.5 * high;
    double part_px = row->length * layout->scale / (double)row->part_count;
    double start = row_start(layout, row);
    for (size_t p = 0, next; p < row->part_count; p = next) {
        size_t class = class_of(row, p);
        for (next = p + 1; next < row->part_count && class_of(row, next) == class; next++) {
        }
        double width = (double)(next - p) * part_px;
        double left =
            row->second_side ? start - (double)next * part_px : start + (double)p * part_px;
        er_svg_rect(&drawing->sheet.svg, left, top, width, high, er_plan_class_names[class]);
    }
}

/* ---- bed numbers ---- */

/* Every how many beds are told, so that their numbers do not touch. */
static size_t number_step(const struct er_plan_layout *layout, size_t zone, size_t beds)
{
    double apart = beds > 1 ? layout->zones[zone].height / (double)beds : NUMBER_ROOM;
    return (size_t)er_round_step(fmax(1.0, NUMBER_ROOM / apart));
}

static void draw_numbers(struct er_plan_drawing *drawing, size_t zone)
{
    const struct er_zone_rows *rows = &drawing->rows->zones[zone];
    const struct er_plan_layout *layout = &drawing->layout;
    size_t last = rows->rows[rows->row_count - 1].bed;
    size_t step = number_step(layout, zone, last + 1);
    for (size_t i = 0; i < rows->row_count; i++) {
        const struct er_row *row = &rows->rows[i];
        if (!row->second_side && (row->bed == 0 || (row->bed + 1) % step == 0)) {
            double x = layout->header_x + row->length * layout->scale + 5.0;
            double y = er_plan_y(layout, zone, row->at) + 4.0;
            er_sheet_labelf(&drawing->sheet, x, y, 40.0, &er_small_letters, "%zu", row->bed + 1);
        }
    }
}

/* ---- slopes ---- */

/* An arrow downhill about a point, to the right where `slope` falls, and `text` beside it.
 * Nothing where its place is taken. */
static void draw_arrow(struct er_svg *svg, double x, double y, double slope, const char *text)
{
    const bool level = fabs(slope) < LEVEL;
    double width = er_svg_text_width(svg, text, &er_small_letters) + (level ? 0.0 : ARROW + 6.0);
    struct er_box box = {x - 0.5 * width - 3.0, y - 9.0, x + 0.5 * width + 3.0, y + 9.0};
    if (!er_svg_is_free(svg, &box)) {
        return;
    }
    er_svg_rect(svg, box.left, box.top, box.right - box.left, box.bottom - box.top, "halo");
    double tail = x - 0.5 * width, head = tail + ARROW;
    if (!level) {
        er_svg_arrow(svg, slope > 0.0 ? head : tail, y, slope > 0.0 ? tail : head, y);
    }
    er_svg_label(svg, level ? tail : head + 6.0, y + 4.0, text, &er_small_letters);
    er_svg_keep_free(svg, &box);
}

static void draw_slope(struct er_plan_drawing *drawing, double x, double y, double slope,
                       bool is_mean)
{
    struct er_svg *svg = &drawing->sheet.svg;
    struct er_text words;
    er_text_init(&words);
    if (fabs(slope) < LEVEL) {
        er_text_append(&words, "level");
    } else {
        er_text_appendf(&words, is_mean ? "mean %.2g %%" : "%.3g %%", 100.0 * fabs(slope));
    }
    draw_arrow(svg, x, y, slope, er_text_string(&words));
    svg->out->out_of_memory = svg->out->out_of_memory || words.out_of_memory;
    er_text_release(&words);
}

static double mean_slope(const struct er_ground *ground, double length)
{
    return ground->count > 0 ? er_ground_elevation(ground, length) / length : ground->slope;
}

/* The slope of one side of a group: among its rows, or below the zone where they are few. */
static void draw_side_slope(struct er_plan_drawing *drawing, size_t zone,
                            const struct er_bed_group *group, double middle_at, bool second_side)
{
    const struct er_plan_layout *layout = &drawing->layout;
    const struct er_zone_place *place = &layout->zones[zone];
    const struct er_ground *ground = second_side ? &group->other_ground : &group->ground;
    double length = er_bed_length(group, group->count - 1, second_side);
    double slope = mean_slope(ground, length);
    double half = 0.5 * length * layout->scale;
    double x = second_side ? layout->header_x - ER_PLAN_CORRIDOR - half : layout->header_x + half;
    bool tall = (double)group->count * group->spacing * layout->scale >= TALL_ENOUGH;
    double y = tall ? er_plan_y(layout, zone, middle_at)
                    : place->top + place->height + 0.5 * ER_PLAN_STRIP;
    /* On the second side away from the header is to the left. */
    draw_slope(drawing, x, y, second_side ? -slope : slope, ground->count > 0);
}

static void draw_slopes(struct er_plan_drawing *drawing, size_t zone)
{
    const struct er_zone *of = &drawing->result->field->zones[zone];
    double at = 0.0;
    for (size_t g = 0; g < of->group_count; g++) {
        const struct er_bed_group *group = &of->groups[g];
        at += g > 0 ? er_group_step(of, g) : 0.0;
        double middle = at + 0.5 * (double)(group->count - 1) * group->spacing;
        draw_side_slope(drawing, zone, group, middle, false);
        if (group->both_sides) {
            draw_side_slope(drawing, zone, group, middle, true);
        }
    }
}

/* The slope along the header, right of the bed numbers. */
static void draw_header_slope(struct er_plan_drawing *drawing, size_t zone)
{
    const struct er_plan_layout *layout = &drawing->layout;
    const struct er_zone *of = &drawing->result->field->zones[zone];
    double span = er_header_span(of);
    if (!(span > 0.0)) {
        return;
    }
    double slope = mean_slope(&of->header.ground, span);
    double x = layout->header_x + layout->zones[zone].first * layout->scale + 34.0;
    double y = layout->zones[zone].top + 0.5 * layout->zones[zone].height;
    double half = 0.5 * fmin(ARROW, layout->zones[zone].height);
    if (fabs(slope) < LEVEL) {
        er_svg_label(&drawing->sheet.svg, x, y + 4.0, "level", &er_small_letters);
        return;
    }
    half = slope > 0.0 ? -half : half;
    er_svg_arrow(&drawing->sheet.svg, x, y - half, x, y + half);
    const bool is_mean = of->header.ground.count > 0;
    er_sheet_labelf(&drawing->sheet, x + 8.0, y + 4.0, 110.0, &er_small_letters,
                    is_mean ? "mean %.2g %%" : "%.3g %%", 100.0 * fabs(slope));
}

void er_plan_beds(struct er_plan_drawing *drawing, size_t zone)
{
    const struct er_zone_rows *rows = &drawing->rows->zones[zone];
    double apart =
        drawing->layout.zones[zone].height / (double)(rows->rows[rows->row_count - 1].bed + 1);
    er_svg_open(&drawing->sheet.svg, apart < OUTLINED ? "fine" : "beds");
    for (size_t i = 0; i < rows->row_count; i++) {
        draw_row(drawing, zone, &rows->rows[i]);
    }
    er_svg_close(&drawing->sheet.svg);
    draw_numbers(drawing, zone);
    draw_slopes(drawing, zone);
    draw_header_slope(drawing, zone);
}
