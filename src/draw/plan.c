/* The plan's picture but for beds and legend: source, mainline, ways, captions, scale. */
#include "draw/plan.h"

#include <math.h>

#include "draw/draw.h"

#define NOTES_HEIGHT 112.0 /* px below everything: scale and notes */
#define CAPTION_ROOM 360.0 /* px wanted for what is said of a zone */
#define NAME_ROOM 140.0    /* px left of the mainline */

/* ---- source and mainline ---- */

static void draw_source(struct er_plan_drawing *drawing)
{
    const struct er_plan_layout *layout = &drawing->layout;
    struct er_svg *svg = &drawing->sheet.svg;
    double x = layout->trunk_x, y = layout->source_y;
    er_svg_rect(svg, x - 9.0, y - 9.0, 18.0, 18.0, "mark");
    er_svg_circle(svg, x, y, 3.0, "dot");
    const struct er_lettering end = {er_bold_letters.size, true, ER_END};
    er_svg_label(svg, x - 14.0, y + 1.0, "source", &end);
}

/* A section of mainline that is cut: two strokes across it, with the paper between. */
static void draw_cut(struct er_svg *svg, double x, double y)
{
    er_svg_line(svg, x - 8.0, y + 3.0, x + 8.0, y - 3.0, "gap");
    er_svg_line(svg, x - 8.0, y + 6.0, x + 8.0, y, "way");
    er_svg_line(svg, x - 8.0, y, x + 8.0, y - 6.0, "way");
}

/* Whether a section's two lines fit at y: left of the trunk nothing is in the way but labels. */
static bool is_room(const struct er_plan_drawing *drawing, double x, double y, bool in_trunk)
{
    double high = 2.0 * er_svg_line_height(er_small_letters.size);
    struct er_box box = {x, y - high, x + NAME_ROOM, y + high};
    return in_trunk || er_plan_is_blank(&drawing->layout, &box);
}

/* Its name and length, at the first of some places along it that is free: left of the trunk, right
 * of a branch. The legend has them all. */
static void name_section(struct er_plan_drawing *drawing, const struct er_section *section,
                         const struct er_section_place *place)
{
    static const double shares[] = {0.5, 0.3, 0.7, 0.15, 0.85, 0.0, 1.0};
    struct er_sheet *sheet = &drawing->sheet;
    bool in_trunk = !(place->x > drawing->layout.trunk_x);
    const struct er_lettering *how = in_trunk ? &er_small_letters_end : &er_small_letters;
    double x = place->x + (in_trunk ? -12.0 : 12.0);
    for (size_t i = 0; i < sizeof shares / sizeof shares[0]; i++) {
        double y = place->start + shares[i] * (place->end - place->start) + 4.0;
        if (is_room(drawing, x, y, in_trunk) &&
            er_svg_label_fitted(&sheet->svg, x, y, section->name, NAME_ROOM, how)) {
            er_sheet_labelf(sheet, x, y + er_svg_line_height(how->size), NAME_ROOM, how, "%.4g %s",
                            er_from_si(ER_LENGTH, sheet->system, section->length),
                            er_unit_name(ER_LENGTH, sheet->system));
            return;
        }
    }
}

static void draw_mainline(struct er_plan_drawing *drawing)
{
    const struct er_plan_layout *layout = &drawing->layout;
    struct er_svg *svg = &drawing->sheet.svg;
    for (size_t s = 0; s < layout->field->section_count; s++) {
        const struct er_section_place *place = &layout->sections[s];
        size_t from = layout->field->mainline[s].from;
        double from_x = from == ER_HEADWORKS ? layout->trunk_x : layout->sections[from].x;
        er_svg_path_begin(svg, "main");
        er_svg_path_to(svg, true, from_x, place->start);
        if (place->branches) {
            er_svg_path_to(svg, false, place->x, place->start);
        }
        er_svg_path_to(svg, false, place->x, place->end);
        er_svg_path_end(svg, false);
        if (place->cut) {
            draw_cut(svg, place->x, 0.5 * (place->start + place->end));
        }
    }
}

static void name_sections(struct er_plan_drawing *drawing)
{
    const struct er_plan_layout *layout = &drawing->layout;
    for (size_t s = 0; s < layout->field->section_count; s++) {
        name_section(drawing, &layout->field->mainline[s], &layout->sections[s]);
    }
}

/* ---- a zone ---- */

/* From the mainline to the feed point: past the beds of the second side, if there are any. */
static void trace_way(struct er_plan_drawing *drawing, size_t zone)
{
    const struct er_plan_layout *layout = &drawing->layout;
    const struct er_zone_place *place = &layout->zones[zone];
    struct er_svg *svg = &drawing->sheet.svg;
    double feed_y = er_plan_y(layout, zone, er_feed_distance(&layout->field->zones[zone]));
    double join_y = er_plan_join_y(layout, zone);
    bool around = place->second > 0.0;
    double across_y = around ? place->top - 7.0 : feed_y;
    er_svg_path_begin(svg, "way");
    er_svg_path_to(svg, true, er_plan_join_x(layout, zone), join_y);
    er_svg_path_to(svg, false, place->channel, join_y);
    er_svg_path_to(svg, false, place->channel, across_y);
    if (around) {
        er_svg_path_to(svg, false, layout->header_x - 10.0, across_y);
        er_svg_path_to(svg, false, layout->header_x - 10.0, feed_y);
    }
    er_svg_path_to(svg, false, layout->header_x - 2.0, feed_y);
    er_svg_path_end(svg, false);
}

static void draw_header(struct er_plan_drawing *drawing, size_t zone)
{
    const struct er_plan_layout *layout = &drawing->layout;
    const struct er_zone *of = &layout->field->zones[zone];
    struct er_svg *svg = &drawing->sheet.svg;
    double x = layout->header_x - 2.0;
    er_svg_line(svg, x, er_plan_y(layout, zone, 0.0) - 1.0, x,
                er_plan_y(layout, zone, er_header_span(of)) + 1.0, "header");
    er_svg_circle(svg, x, er_plan_y(layout, zone, er_feed_distance(of)), 4.5, "mark");
}

/* Two lines above the zone. */
static void draw_caption(struct er_plan_drawing *drawing, size_t zone)
{
    const struct er_plan_layout *layout = &drawing->layout;
    const struct er_zone_place *place = &layout->zones[zone];
    const struct er_zone_result *found = &drawing->result->zones[zone];
    struct er_sheet *sheet = &drawing->sheet;
    double left = layout->header_x;
    left -= place->second > 0.0 ? place->second * layout->scale + ER_PLAN_CORRIDOR : 0.0;
    left = fmax(layout->left, fmin(left, ER_PLAN_RIGHT - CAPTION_ROOM));
    double room = ER_PLAN_RIGHT - left - 4.0;
    er_svg_label_fitted(&sheet->svg, left, place->top - 31.0, layout->field->zones[zone].name, room,
                        &er_bold_letters);
    er_sheet_labelf(sheet, left, place->top - 14.0, room, &er_small_letters,
                    found->flow > 0.0 ? "set %zu: %.3g %s, header fed at %.3g %s, EU %.3g %%"
                                      : "set %zu: %.3g %s, header fed at %.3g %s: no water",
                    found->set + 1, er_from_si(ER_FLOW, sheet->system, found->flow),
                    er_unit_name(ER_FLOW, sheet->system),
                    er_from_si(ER_PRESSURE, sheet->system, found->inlet_pressure),
                    er_unit_name(ER_PRESSURE, sheet->system), 100.0 * found->emission_uniformity);
}

static void draw_ways(struct er_plan_drawing *drawing)
{
    const struct er_plan_layout *layout = &drawing->layout;
    draw_mainline(drawing);
    /* Where a way passes a branch of the mainline, it bridges it. */
    for (size_t z = 0; z < layout->field->zone_count; z++) {
        double y = er_plan_join_y(layout, z);
        er_svg_line(&drawing->sheet.svg, er_plan_join_x(layout, z) + 5.0, y,
                    layout->zones[z].channel, y, "gap");
    }
    for (size_t z = 0; z < layout->field->zone_count; z++) {
        trace_way(drawing, z);
    }
    for (size_t z = 0; z < layout->field->zone_count; z++) {
        er_svg_circle(&drawing->sheet.svg, er_plan_join_x(layout, z), er_plan_join_y(layout, z),
                      4.0, "dot");
    }
}

/* ---- scale and notes ---- */

static void draw_scale(struct er_plan_drawing *drawing, double y)
{
    struct er_sheet *sheet = &drawing->sheet;
    double unit = er_to_si(ER_LENGTH, sheet->system, 1.0) * drawing->layout.scale; /* px */
    double length = er_round_step(60.0 / unit);
    double x = ER_SHEET_MARGIN, end = x + length * unit;
    er_svg_line(&sheet->svg, x, y, end, y, "header");
    er_svg_line(&sheet->svg, x, y - 5.0, x, y + 5.0, "axis");
    er_svg_line(&sheet->svg, end, y - 5.0, end, y + 5.0, "axis");
    er_sheet_labelf(sheet, end + 8.0, y + 4.0, 120.0, &er_small_letters, "%g %s", length,
                    er_unit_name(ER_LENGTH, sheet->system));
}

static void draw_notes(struct er_plan_drawing *drawing, double y)
{
    struct er_text notes;
    er_text_init(&notes);
    er_text_append(&notes, "Beds, headers and mainline are to one scale; beds are drawn wider than "
                           "they are. ");
    if (drawing->layout.any_cut) {
        er_text_append(&notes, "Mainline with two strokes across it is drawn shorter. ");
    }
    if (drawing->layout.any_stretched) {
        er_text_append(&notes, "Sections too short to be seen are drawn longer. ");
    }
    er_text_append(&notes,
                   "The field file tells lengths and no directions: which way the mainline turns, "
                   "how the zones lie to one another and the thin ways to their headers are only a "
                   "scheme. Shades tell the mean of each stretch of a row, filters clean, each "
                   "emitter by its own tape's nominal flow.");
    er_svg_paragraph(&drawing->sheet.svg, ER_SHEET_MARGIN, y, er_text_string(&notes),
                     ER_SHEET_WIDTH - 2.0 * ER_SHEET_MARGIN, 5, &er_small_letters);
    struct er_text *out = drawing->sheet.svg.out;
    out->out_of_memory = out->out_of_memory || notes.out_of_memory;
    er_text_release(&notes);
}

static enum er_status draw(struct er_plan_drawing *drawing, enum er_system system,
                           struct er_text *out)
{
    const struct er_field *field = drawing->result->field;
    double bottom = fmax(drawing->layout.bottom, er_plan_legend_bottom(field));
    er_sheet_begin(&drawing->sheet, drawing->result, system, bottom + NOTES_HEIGHT,
                   "Plan: where the water comes from, and how evenly each bed gets it", out);
    er_sheet_verdict(&drawing->sheet, drawing->result);
    draw_scale(drawing, bottom + 14.0);
    draw_notes(drawing, bottom + 36.0);
    draw_ways(drawing);
    draw_source(drawing);
    name_sections(drawing);
    for (size_t z = 0; z < field->zone_count; z++) {
        draw_caption(drawing, z);
        er_plan_beds(drawing, z);
        draw_header(drawing, z);
    }
    er_plan_legend(drawing);
    return er_sheet_end(&drawing->sheet);
}

enum er_status er_draw_plan(const struct er_result *result, const struct er_rows *rows,
                            enum er_system system, struct er_text *out)
{
    struct er_plan_drawing drawing = {.result = result, .rows = rows};
    enum er_status status = er_plan_layout_make(result->field, &drawing.layout);
    if (status == ER_OK) {
        status = draw(&drawing, system, out);
    }
    er_arena_release(&drawing.layout.arena);
    return status;
}
