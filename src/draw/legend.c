/* What stands on the right of the plan. */
#include <math.h>

#include "draw/plan.h"

#define LEGEND_X (ER_PLAN_RIGHT + 28.0)
#define LEGEND_STEP 19.0
#define LEGEND_ROOM (ER_SHEET_WIDTH - LEGEND_X - ER_SHEET_MARGIN)
#define SECTIONS_TOLD 12

static double draw_shades(struct er_plan_drawing *drawing, double y)
{
    struct er_svg *svg = &drawing->sheet.svg;
    er_svg_label(svg, LEGEND_X, y, "Emitters' flow over", &er_bold_letters);
    y += LEGEND_STEP;
    er_svg_label(svg, LEGEND_X, y, "the zone's mean", &er_bold_letters);
    for (size_t c = 0; c <= ER_PLAN_DRY; c++) {
        y += LEGEND_STEP;
        er_svg_open(svg, "swatch");
        er_svg_rect(svg, LEGEND_X, y - 11.0, 30.0, 14.0, er_plan_class_names[c]);
        er_svg_close(svg);
        if (c == ER_PLAN_DRY) {
            er_svg_label(svg, LEGEND_X + 38.0, y, "some get none", &er_small_letters);
        } else if (c == 0) {
            er_sheet_labelf(&drawing->sheet, LEGEND_X + 38.0, y, LEGEND_ROOM, &er_small_letters,
                            "under %.0f %%", 100.0 * er_plan_class_ends[0]);
        } else if (c == ER_PLAN_DRY - 1) {
            er_sheet_labelf(&drawing->sheet, LEGEND_X + 38.0, y, LEGEND_ROOM, &er_small_letters,
                            "%.0f %% or more", 100.0 * er_plan_class_ends[c - 1]);
        } else {
            er_sheet_labelf(&drawing->sheet, LEGEND_X + 38.0, y, LEGEND_ROOM, &er_small_letters,
                            "%.0f to %.0f %%", 100.0 * er_plan_class_ends[c - 1],
                            100.0 * er_plan_class_ends[c]);
        }
    }
    return y + LEGEND_STEP;
}

static double draw_signs(struct er_plan_drawing *drawing, double y)
{
    struct er_svg *svg = &drawing->sheet.svg;
    static const char *const words[] = {"source",    "mainline",   "way to a zone",
                                        "header",    "feed point", "downhill, with slope",
                                        "bed number"};
    y += 6.0;
    er_svg_label(svg, LEGEND_X, y, "Signs", &er_bold_letters);
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        y += LEGEND_STEP;
        er_svg_label(svg, LEGEND_X + 38.0, y, words[i], &er_small_letters);
        double middle = y - 4.0;
        switch (i) {
        case 0:
            er_svg_rect(svg, LEGEND_X + 8.0, middle - 7.0, 14.0, 14.0, "mark");
            er_svg_circle(svg, LEGEND_X + 15.0, middle, 3.0, "dot");
            break;
        case 1:
            er_svg_line(svg, LEGEND_X, middle, LEGEND_X + 30.0, middle, "main");
            break;
        case 2:
            er_svg_line(svg, LEGEND_X, middle, LEGEND_X + 30.0, middle, "way");
            break;
        case 3:
            er_svg_line(svg, LEGEND_X, middle, LEGEND_X + 30.0, middle, "header");
            break;
        case 4:
            er_svg_circle(svg, LEGEND_X + 15.0, middle, 4.5, "mark");
            break;
        case 5:
            er_svg_arrow(svg, LEGEND_X, middle, LEGEND_X + 30.0, middle);
            break;
        default:
            er_svg_label(svg, LEGEND_X + 11.0, y, "7", &er_small_letters);
            break;
        }
    }
    return y + LEGEND_STEP;
}

static double draw_sections(struct er_plan_drawing *drawing, double y)
{
    const struct er_field *field = drawing->result->field;
    struct er_sheet *sheet = &drawing->sheet;
    if (field->section_count == 0) {
        return y;
    }
    y += 6.0;
    er_svg_label(&sheet->svg, LEGEND_X, y, "Mainline", &er_bold_letters);
    for (size_t s = 0; s < field->section_count; s++) {
        const struct er_section *section = &field->mainline[s];
        y += LEGEND_STEP;
        if (s == SECTIONS_TOLD) {
            er_sheet_labelf(sheet, LEGEND_X, y, LEGEND_ROOM, &er_small_letters, "and %zu more",
                            field->section_count - s);
            break;
        }
        er_svg_label_fitted(&sheet->svg, LEGEND_X, y, section->name, LEGEND_ROOM,
                            &er_small_letters);
        y += LEGEND_STEP;
        er_sheet_labelf(sheet, LEGEND_X + 10.0, y, LEGEND_ROOM - 10.0, &er_small_letters,
                        section->rise < 0.0   ? "%.4g %s, down %.3g %s"
                        : section->rise > 0.0 ? "%.4g %s, up %.3g %s"
                                              : "%.4g %s, level",
                        er_from_si(ER_LENGTH, sheet->system, section->length),
                        er_unit_name(ER_LENGTH, sheet->system),
                        fabs(er_from_si(ER_HEAD, sheet->system, section->rise)),
                        er_unit_name(ER_HEAD, sheet->system));
    }
    return y + LEGEND_STEP;
}

double er_plan_legend(struct er_plan_drawing *drawing)
{
    double y = ER_SHEET_TOP + 10.0;
    y = draw_shades(drawing, y);
    y = draw_signs(drawing, y);
    return draw_sections(drawing, y);
}

double er_plan_legend_bottom(const struct er_field *field)
{
    size_t told = field->section_count < SECTIONS_TOLD ? field->section_count : SECTIONS_TOLD;
    size_t lines = 2 + 9 + 1 + 8 + 2 + 2 * told + 1;
    return ER_SHEET_TOP + 22.0 + LEGEND_STEP * (double)lines;
}
