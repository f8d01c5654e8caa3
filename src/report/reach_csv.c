#include "report/reach_report.h"
#include "say/csv.h"

/* The columns behind the tape's name; `key` and the unit make the head. */
enum cell_kind { CELL_INLET, CELL_SLOPE, CELL_EMITTERS, CELL_BOUND, CELL_QUANTITY, CELL_PERCENT };

static const struct {
    const char *key;
    enum cell_kind kind;
    enum er_quantity quantity; /* used with CELL_QUANTITY */
    size_t offset;             /* in struct er_reach; used with the last two kinds */
} columns[] = {
    {"inlet_pressure", CELL_INLET, ER_PRESSURE, 0},
    {"slope_percent", CELL_SLOPE, ER_QUANTITY_COUNT, 0},
    {"length", CELL_QUANTITY, ER_LENGTH, offsetof(struct er_reach, length)},
    {"emitters", CELL_EMITTERS, ER_QUANTITY_COUNT, 0},
    {"bound", CELL_BOUND, ER_QUANTITY_COUNT, 0},
    {"flow", CELL_QUANTITY, ER_FLOW, offsetof(struct er_reach, flow)},
    {"far_end_pressure", CELL_QUANTITY, ER_PRESSURE, offsetof(struct er_reach, far_end_pressure)},
    {"emitter_pressure_min", CELL_QUANTITY, ER_PRESSURE,
     offsetof(struct er_reach, emitter_pressure.min)},
    {"emitter_pressure_max", CELL_QUANTITY, ER_PRESSURE,
     offsetof(struct er_reach, emitter_pressure.max)},
    {"emission_uniformity_percent", CELL_PERCENT, ER_QUANTITY_COUNT,
     offsetof(struct er_reach, emission_uniformity)},
    {"flow_variation_percent", CELL_PERCENT, ER_QUANTITY_COUNT,
     offsetof(struct er_reach, flow_variation)},
};

#define COLUMN_COUNT (sizeof columns / sizeof columns[0])

/* The figures of one longest row; `own`: NULL for one of the table. */
static void append_row(enum er_system system, const char *tape, double inlet, double slope,
                       const struct er_reach *reach, const struct er_reach_own *own,
                       struct er_text *out)
{
    er_csv_text(out, true, tape != NULL ? tape : "");
    for (size_t c = 0; c < COLUMN_COUNT; c++) {
        switch (columns[c].kind) {
        case CELL_INLET:
            er_csv_number(out, false, er_from_si(ER_PRESSURE, system, inlet));
            break;
        case CELL_SLOPE:
            er_csv_number(out, false, 100.0 * slope);
            break;
        case CELL_EMITTERS:
            er_csv_number(out, false, (double)reach->emitters);
            break;
        case CELL_BOUND:
            er_csv_text(out, false, er_reach_bound_name(reach->bound));
            break;
        case CELL_QUANTITY:
            er_csv_number(
                out, false,
                er_from_si(columns[c].quantity, system, er_csv_figure(reach, columns[c].offset)));
            break;
        case CELL_PERCENT:
            er_csv_number(out, false, 100.0 * er_csv_figure(reach, columns[c].offset));
            break;
        }
    }
    er_csv_text(out, false, own != NULL ? own->zone : "");
    er_csv_number(out, false, own != NULL ? (double)own->first_bed : ER_NONE);
    er_csv_number(out, false,
                  own != NULL ? er_from_si(ER_LENGTH, system, own->row_length) : ER_NONE);
    er_text_append(out, "\n");
}

/* The field's own rows first; the slope of a profile is left empty. */
static void append_table(const struct er_reach_answer *answer, const struct er_reach_table *table,
                         struct er_text *out)
{
    for (size_t i = 0; i < table->own_count; i++) {
        const struct er_reach_own *own = &table->own[i];
        append_row(answer->system, table->tape->name, own->inlet,
                   own->ground.count > 0 ? ER_NONE : own->ground.slope, &own->reach, own, out);
    }
    for (size_t cell = 0; cell < table->inlet_count * answer->slope_count; cell++) {
        append_row(answer->system, table->tape->name, table->inlets[cell / answer->slope_count],
                   answer->slopes[cell % answer->slope_count], &table->cells[cell], NULL, out);
    }
}

enum er_status er_report_reach_csv(const struct er_reach_answer *answer, struct er_text *out)
{
    er_text_append(out, "tape");
    for (size_t c = 0; c < COLUMN_COUNT; c++) {
        er_text_appendf(out, ",%s", columns[c].key);
        if (columns[c].quantity != ER_QUANTITY_COUNT) {
            er_text_append(out, "_");
            er_csv_unit(out, er_unit_name(columns[c].quantity, answer->system));
        }
    }
    er_text_append(out, ",zone,first_bed,row_length_");
    er_csv_unit(out, er_unit_name(ER_LENGTH, answer->system));
    er_text_append(out, "\n");
    for (size_t t = 0; t < answer->table_count; t++) {
        append_table(answer, &answer->tables[t], out);
    }
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
