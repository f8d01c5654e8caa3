#include "report/json_build.h"
#include "report/reach_report.h"

struct builder {
    const struct er_reach_answer *answer;
    bool failed; /* memory ran out */
};

static void add_number(struct builder *b, cJSON *object, const char *key, double number)
{
    er_build_number(object, key, number, &b->failed);
}

static void add_quantity(struct builder *b, cJSON *object, const char *key,
                         enum er_quantity quantity, double value)
{
    add_number(b, object, key, er_from_si(quantity, b->answer->system, value));
}

static cJSON *add_array(struct builder *b, cJSON *parent, const char *key)
{
    return er_build_add(parent, key, cJSON_CreateArray(), &b->failed);
}

static cJSON *add_object(struct builder *b, cJSON *parent, const char *key)
{
    return er_build_add(parent, key, cJSON_CreateObject(), &b->failed);
}

static void add_units(struct builder *b, cJSON *root)
{
    static const struct {
        const char *key;
        enum er_quantity quantity;
    } units[] = {{"length", ER_LENGTH},
                 {"small_length", ER_SMALL_LENGTH},
                 {"pressure", ER_PRESSURE},
                 {"flow", ER_FLOW},
                 {"emitter_flow", ER_EMITTER_FLOW}};
    cJSON *object = add_object(b, root, "units");
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        er_build_string(object, units[i].key, er_unit_name(units[i].quantity, b->answer->system),
                        &b->failed);
    }
}

static void add_limits(struct builder *b, cJSON *root)
{
    cJSON *object = add_object(b, root, "limits");
    add_number(b, object, "uniformity", 100.0 * b->answer->uniformity);
    add_number(b, object, "flow_variation", 100.0 * b->answer->flow_variation);
    add_quantity(b, object, "longest", ER_LENGTH, b->answer->longest);
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
    er_build_string(object, "name", tape->name, &b->failed);
    er_build_string(object, "from", origins[table->origin], &b->failed);
    for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++) {
        if (figures[i].quantity == ER_QUANTITY_COUNT) {
            add_number(b, object, figures[i].key, figures[i].value);
        } else {
            add_quantity(b, object, figures[i].key, figures[i].quantity, figures[i].value);
        }
    }
    add_number(b, object, "emitters_per_plant", table->emitters_per_plant);
}

static void add_row(struct builder *b, cJSON *array, double inlet, double slope,
                    const struct er_reach *reach)
{
    cJSON *object = add_object(b, array, NULL);
    add_quantity(b, object, "inlet_pressure", ER_PRESSURE, inlet);
    add_number(b, object, "slope", 100.0 * slope);
    add_quantity(b, object, "length", ER_LENGTH, reach->length);
    add_number(b, object, "emitters", (double)reach->emitters);
    er_build_string(object, "bound", er_reach_bound_name(reach->bound), &b->failed);
    add_quantity(b, object, "flow", ER_FLOW, reach->flow);
    add_quantity(b, object, "far_end_pressure", ER_PRESSURE, reach->far_end_pressure);
    cJSON *pressure = add_object(b, object, "emitter_pressure");
    add_quantity(b, pressure, "min", ER_PRESSURE, reach->emitter_pressure.min);
    add_quantity(b, pressure, "max", ER_PRESSURE, reach->emitter_pressure.max);
    add_number(b, object, "emission_uniformity", 100.0 * reach->emission_uniformity);
    add_number(b, object, "flow_variation", 100.0 * reach->flow_variation);
}

static void add_assumed(struct builder *b, cJSON *parent, const struct er_reach_table *table)
{
    cJSON *array = add_array(b, parent, "assumed");
    for (size_t i = 0; i < table->assumption_count; i++) {
        const struct er_assumption *assumption = &table->assumptions[i];
        bool plain = assumption->quantity == ER_QUANTITY_COUNT;
        cJSON *object = add_object(b, array, NULL);
        er_build_string(object, "where", assumption->pointer, &b->failed);
        add_number(b, object, "value",
                   plain ? assumption->value
                         : er_from_si(assumption->quantity, b->answer->system, assumption->value));
        er_build_string(object, "unit",
                        plain ? NULL : er_unit_name(assumption->quantity, b->answer->system),
                        &b->failed);
        er_build_string(object, "text", assumption->text, &b->failed);
    }
}

static void add_table(struct builder *b, cJSON *array, const struct er_reach_table *table)
{
    size_t slopes = b->answer->slope_count;
    cJSON *object = add_object(b, array, NULL);
    add_tape(b, object, table);
    cJSON *rows = add_array(b, object, "rows");
    for (size_t cell = 0; cell < table->inlet_count * slopes; cell++) {
        add_row(b, rows, table->inlets[cell / slopes], b->answer->slopes[cell % slopes],
                &table->cells[cell]);
    }
    add_assumed(b, object, table);
}

enum er_status er_report_reach_json(const struct er_reach_answer *answer, struct er_text *out)
{
    struct builder b = {answer, false};
    cJSON *root = cJSON_CreateObject();
    if (root == NULL) {
        return ER_NO_MEMORY;
    }
    er_build_string(root, "evenrow", EVENROW_VERSION, &b.failed);
    er_build_string(root, "title", answer->title, &b.failed);
    add_units(&b, root);
    add_limits(&b, root);
    cJSON *tapes = add_array(&b, root, "tapes");
    for (size_t t = 0; t < answer->table_count; t++) {
        add_table(&b, tapes, &answer->tables[t]);
    }
    if (!b.failed) {
        er_build_write(root, out);
    }
    cJSON_Delete(root);
    return b.failed || out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
