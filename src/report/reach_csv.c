#include "report/csv_text.h"
#include "report/reach_report.h"

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

static void append_cell(const struct er_reach_answer *answer, const struct er_reach_table *table,
                        size_t cell, size_t column, struct er_text *out)
{
    const struct er_reach *reach = &table->cells[cell];
    switch (columns[column].kind) {
    case CELL_INLET:
        er_csv_number(
            out, false,
            er_from_si(ER_PRESSURE, answer->system, table->inlets[cell / answer->slope_count]));
        break;
    case CELL_SLOPE:
        er_csv_number(out, false, 100.0 * answer->slopes[cell % answer->slope_count]);
        break;
    case CELL_EMITTERS:
        er_csv_number(out, false, (double)reach->emitters);
        break;
    case CELL_BOUND:
        er_csv_text(out, false, er_reach_bound_name(reach->bound));
        break;
    case CELL_QUANTITY:
        er_csv_number(out, false,
                      er_from_si(columns[column].quantity, answer->system,
                                 er_csv_figure(reach, columns[column].offset)));
        break;
    case CELL_PERCENT:
        er_csv_number(out, false, 100.0 * er_csv_figure(reach, columns[column].offset));
        break;
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
    er_text_append(out, "\n");
    for (size_t t = 0; t < answer->table_count; t++) {
        const struct er_reach_table *table = &answer->tables[t];
        for (size_t cell = 0; cell < table->inlet_count * answer->slope_count; cell++) {
            er_csv_text(out, true, table->tape->name != NULL ? table->tape->name : "");
            for (size_t c = 0; c < COLUMN_COUNT; c++) {
                append_cell(answer, table, cell, c, out);
            }
            er_text_append(out, "\n");
        }
    }
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
