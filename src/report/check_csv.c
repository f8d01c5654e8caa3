#include "report/figures.h"
#include "report/report.h"
#include "say/csv.h"

/* A column's name: the figure's key and part, then its unit. */
static void append_head(struct er_text *out, const struct er_figure *figure, enum er_system system)
{
    er_text_appendf(out, ",%s", figure->key);
    if (figure->part != NULL) {
        er_text_appendf(out, "_%s", figure->part);
    }
    switch (figure->kind) {
    case ER_FIGURE_PERCENT:
        er_text_append(out, "_percent");
        break;
    case ER_FIGURE_QUANTITY:
        er_text_append(out, "_");
        er_csv_unit(out, er_unit_name(figure->quantity, system));
        break;
    case ER_FIGURE_TIME_PER_DEPTH:
        er_text_append(out, system == ER_US ? "_h_per_1in" : "_h_per_10mm");
        break;
    case ER_FIGURE_COUNT:
    case ER_FIGURE_NUMBER:
        break;
    }
}

/* The codes of the zone's own findings, parted by blanks. */
static enum er_status append_codes(const struct er_result *result, size_t zone, struct er_text *out)
{
    struct er_text codes;
    er_text_init(&codes);
    for (size_t i = 0; i < result->finding_count; i++) {
        const struct er_finding *finding = &result->findings[i];
        if (finding->place == ER_PLACE_ZONE && finding->index == zone) {
            er_text_append(&codes, codes.length > 0 ? " " : "");
            er_text_append(&codes, er_finding_kind(finding->code)->code);
        }
    }
    er_csv_text(out, false, er_text_string(&codes));
    enum er_status status = codes.out_of_memory ? ER_NO_MEMORY : ER_OK;
    er_text_release(&codes);
    return status;
}

enum er_status er_report_check_csv(const struct er_result *result, enum er_system system,
                                   struct er_text *out)
{
    size_t count;
    const struct er_figure *figures = er_figures(&count);
    enum er_status status = ER_OK;

    er_text_append(out, "name,set");
    for (size_t i = 0; i < count; i++) {
        append_head(out, &figures[i], system);
    }
    er_text_append(out, ",findings\n");
    for (size_t z = 0; status == ER_OK && z < result->field->zone_count; z++) {
        const struct er_zone_result *zone = &result->zones[z];
        er_csv_text(out, true, result->field->zones[z].name);
        er_csv_number(out, false, (double)zone->set + 1.0);
        for (size_t i = 0; i < count; i++) {
            er_csv_number(out, false, er_figure_value(&figures[i], zone, system));
        }
        status = append_codes(result, z, out);
        er_text_append(out, "\n");
    }
    return out->out_of_memory ? ER_NO_MEMORY : status;
}
