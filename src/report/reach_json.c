#include "report/reach_report.h"
#include "say/json.h"

struct builder {
    const struct er_reach_answer *answer;
    struct er_json json;
};

static const struct er_json_unit units[] = {{"length", ER_LENGTH},
                                            {"small_length", ER_SMALL_LENGTH},
                                            {"pressure", ER_PRESSURE},
                                            {"flow", ER_FLOW},
                                            {"emitter_flow", ER_EMITTER_FLOW}};

static void add_units(struct builder *b, cJSON *root)
{
    er_json_units(&b->json, er_json_object(&b->json, root, "units"), units,
                  sizeof units / sizeof units[0]);
}

static void add_limits(struct builder *b, cJSON *root)
{
    cJSON *object = er_json_object(&b->json, root, "limits");
    er_json_number(&b->json, object, "uniformity", 100.0 * b->answer->uniformity);
    er_json_number(&b->json, object, "flow_variation", 100.0 * b->answer->flow_variation);
    er_json_quantity(&b->json, object, "longest", ER_LENGTH, b->answer->longest);
}

/* The tape's figures, by the keys of the field file. */
static void add_tape(struct builder *b, cJSON *object, const struct er_reach_table *table)
{
    static const char *const origins[] = {[ER_TAPE_OF_FLAGS] = "flags",
                                          [ER_TAPE_OF_FIELD] = "field",
                                          [ER_TAPE_OF_CATALOGUE] = "catalogue"};
    const struct er_tape *tape = table->tape;
    const struct {
        const char *key;
        enum er_quantity quantity; /* ER_QUANTITY_COUNT: a plain number */
        double value;
    } figures[] = {{"emitter_flow", ER_EMITTER_FLOW, tape->emitter_flow},
                   {"at_pressure", ER_PRESSURE, tape->at_pressure},
                   {"exponent", ER_QUANTITY_COUNT, tape->exponent},
                   {"holds_from", ER_PRESSURE, tape->holds_from},
                   {"holds_to", ER_PRESSURE, tape->holds_to},
                   {"emitter_spacing", ER_SMALL_LENGTH, tape->emitter_spacing},
                   {"inside_diameter", ER_SMALL_LENGTH, tape->inside_diameter},
                   {"c", ER_QUANTITY_COUNT, tape->c},
                   {"emitter_loss", ER_SMALL_LENGTH, tape->emitter_loss},
                   {"cv", ER_QUANTITY_COUNT, tape->cv},
                   {"min_pressure", ER_PRESSURE, tape->min_pressure},
                   {"max_pressure", ER_PRESSURE, tape->max_pressure}};
    er_json_text(&b->json, object, "name", tape->name);
    er_json_text(&b->json, object, "from", origins[table->origin]);
    for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++) {
        if (figures[i].quantity == ER_QUANTITY_COUNT) {
            er_json_number(&b->json, object, figures[i].key, figures[i].value);
        } else {
            er_json_quantity(&b->json, object, figures[i].key, figures[i].quantity,
                             figures[i].value);
        }
    }
    er_json_number(&b->json, object, "emitters_per_plant", table->emitters_per_plant);
}

/* What a longest row is like. */
static void add_reach(struct builder *b, cJSON *object, const struct er_reach *reach)
{
    er_json_quantity(&b->json, object, "length", ER_LENGTH, reach->length);
    er_json_number(&b->json, object, "emitters", (double)reach->emitters);
    er_json_text(&b->json, object, "bound", er_reach_bound_name(reach->bound));
    er_json_quantity(&b->json, object, "flow", ER_FLOW, reach->flow);
    er_json_quantity(&b->json, object, "far_end_pressure", ER_PRESSURE, reach->far_end_pressure);
    cJSON *pressure = er_json_object(&b->json, object, "emitter_pressure");
    er_json_quantity(&b->json, pressure, "min", ER_PRESSURE, reach->emitter_pressure.min);
    er_json_quantity(&b->json, pressure, "max", ER_PRESSURE, reach->emitter_pressure.max);
    er_json_number(&b->json, object, "emission_uniformity", 100.0 * reach->emission_uniformity);
    er_json_number(&b->json, object, "flow_variation", 100.0 * reach->flow_variation);
}

static void add_row(struct builder *b, cJSON *array, double inlet, double slope,
                    const struct er_reach *reach)
{
    cJSON *object = er_json_object(&b->json, array, NULL);
    er_json_quantity(&b->json, object, "inlet_pressure", ER_PRESSURE, inlet);
    er_json_number(&b->json, object, "slope", 100.0 * slope);
    add_reach(b, object, reach);
}

static void add_own(struct builder *b, cJSON *array, const struct er_reach_own *own)
{
    static const char *const origins[] = {[ER_INLET_GIVEN] = "given",
                                          [ER_INLET_REGULATED] = "regulator",
                                          [ER_INLET_PLANNED] = "plan"};
    const bool profile = own->ground.count > 0;
    cJSON *object = er_json_object(&b->json, array, NULL);
    er_json_text(&b->json, object, "zone", own->zone);
    er_json_number(&b->json, object, "first_bed", (double)own->first_bed);
    er_json_number(&b->json, object, "last_bed", (double)own->last_bed);
    er_json_bool(&b->json, object, "second_side", own->second_side);
    er_json_quantity(&b->json, object, "inlet_pressure", ER_PRESSURE, own->inlet);
    er_json_text(&b->json, object, "inlet_from", origins[own->from]);
    er_json_number(&b->json, object, "slope", profile ? ER_NONE : 100.0 * own->ground.slope);
    er_json_bool(&b->json, object, "profile", profile);
    er_json_quantity(&b->json, object, "row_length", ER_LENGTH, own->row_length);
    add_reach(b, object, &own->reach);
}

static void add_assumed(struct builder *b, cJSON *parent, const struct er_reach_table *table)
{
    cJSON *array = er_json_array(&b->json, parent, "assumed");
    for (size_t i = 0; i < table->assumption_count; i++) {
        const struct er_assumption *assumption = &table->assumptions[i];
        bool plain = assumption->quantity == ER_QUANTITY_COUNT;
        cJSON *object = er_json_object(&b->json, array, NULL);
        er_json_text(&b->json, object, "where", assumption->pointer);
        er_json_number(
            &b->json, object, "value",
            plain ? assumption->value
                  : er_from_si(assumption->quantity, b->answer->system, assumption->value));
        er_json_text(&b->json, object, "unit",
                     plain ? NULL : er_unit_name(assumption->quantity, b->answer->system));
        er_json_text(&b->json, object, "text", assumption->text);
    }
}

static void add_table(struct builder *b, cJSON *array, const struct er_reach_table *table)
{
    size_t slopes = b->answer->slope_count;
    cJSON *object = er_json_object(&b->json, array, NULL);
    add_tape(b, object, table);
    cJSON *own = er_json_array(&b->json, object, "own_rows");
    for (size_t i = 0; i < table->own_count; i++) {
        add_own(b, own, &table->own[i]);
    }
    cJSON *rows = er_json_array(&b->json, object, "rows");
    for (size_t cell = 0; cell < table->inlet_count * slopes; cell++) {
        add_row(b, rows, table->inlets[cell / slopes], b->answer->slopes[cell % slopes],
                &table->cells[cell]);
    }
    add_assumed(b, object, table);
}

enum er_status er_report_reach_json(const struct er_reach_answer *answer, struct er_text *out)
{
    struct builder b = {.answer = answer, .json = {.system = answer->system}};
    cJSON *root = er_json_root(&b.json, answer->title);
    add_units(&b, root);
    add_limits(&b, root);
    cJSON *tapes = er_json_array(&b.json, root, "tapes");
    for (size_t t = 0; t < answer->table_count; t++) {
        add_table(&b, tapes, &answer->tables[t]);
    }
    return er_json_end(&b.json, root, out);
}
