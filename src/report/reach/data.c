/* How long rows may be, for a program: JSON, and a line for each longest row as CSV. */
#include "explain/explain.h"
#include "report/reach/report.h"
#include "say/record.h"

static const struct er_json_unit units[] = {{"length", ER_LENGTH},
                                            {"small_length", ER_SMALL_LENGTH},
                                            {"pressure", ER_PRESSURE},
                                            {"flow", ER_FLOW},
                                            {"emitter_flow", ER_EMITTER_FLOW}};

/* A longest row, of the table or one of the field's own. */
struct told_row {
    const char *tape, *zone;
    double inlet, slope; /* NAN: on a profile */
    struct er_reach reach;
    const struct er_reach_own *own; /* NULL: of the table */
    double first_bed, row_length;   /* NAN: of the table */
};

static const char *bound_of(struct er_teller *teller, const void *at)
{
    (void)teller;
    return er_reach_bound_name(*(const enum er_reach_bound *)at);
}

#define ROW(name, unit, member) ER_QUANTITY_MEMBER(name, unit, struct told_row, member)
#define ROW_PERCENT(name, member) ER_MEMBER(name, ER_IS_PERCENT, struct told_row, member)

static const struct er_member pressure_members[] = {
    ROW("min", ER_PRESSURE, reach.emitter_pressure.min),
    ROW("max", ER_PRESSURE, reach.emitter_pressure.max), ER_END_OF_MEMBERS};

/* What a longest row is like. */
#define REACH_MEMBERS                                                                              \
    ROW("length", ER_LENGTH, reach.length),                                                        \
        ER_MEMBER("emitters", ER_IS_COUNT, struct told_row, reach.emitters),                       \
        ER_WORDS_MEMBER("bound", struct told_row, reach.bound, bound_of),                          \
        ROW("flow", ER_FLOW, reach.flow),                                                          \
        ROW("far_end_pressure", ER_PRESSURE, reach.far_end_pressure),                              \
        ER_RECORD_MEMBER("emitter_pressure", pressure_members),                                    \
        ROW_PERCENT("emission_uniformity", reach.emission_uniformity),                             \
        ROW_PERCENT("flow_variation", reach.flow_variation)

static const struct er_member row_members[] = {ROW("inlet_pressure", ER_PRESSURE, inlet),
                                               ROW_PERCENT("slope", slope), REACH_MEMBERS,
                                               ER_END_OF_MEMBERS};

static void add_own(struct er_teller *teller, cJSON *parent, const char *key, const void *at)
{
    const struct er_reach_own *own = ((const struct told_row *)at)->own;
    (void)key;
    er_json_number(&teller->json, parent, "first_bed", (double)own->first_bed);
    er_json_number(&teller->json, parent, "last_bed", (double)own->last_bed);
    er_json_bool(&teller->json, parent, "second_side", own->second_side);
}

static const char *inlet_from(struct er_teller *teller, const void *at)
{
    static const char *const origins[] = {[ER_INLET_GIVEN] = "given",
                                          [ER_INLET_REGULATED] = "regulator",
                                          [ER_INLET_PLANNED] = "plan"};
    (void)teller;
    return origins[((const struct told_row *)at)->own->from];
}

static void add_profile(struct er_teller *teller, cJSON *parent, const char *key, const void *at)
{
    er_json_bool(&teller->json, parent, key, ((const struct told_row *)at)->own->ground.count > 0);
}

static const struct er_member own_members[] = {ER_MEMBER("zone", ER_IS_TEXT, struct told_row, zone),
                                               ER_MADE_MEMBER("beds", add_own),
                                               ROW("inlet_pressure", ER_PRESSURE, inlet),
                                               {"inlet_from", ER_IS_WORDS, .words = inlet_from},
                                               ROW_PERCENT("slope", slope),
                                               ER_MADE_MEMBER("profile", add_profile),
                                               ROW("row_length", ER_LENGTH, row_length),
                                               REACH_MEMBERS,
                                               ER_END_OF_MEMBERS};

static const struct er_member line_members[] = {
    ER_MEMBER("tape", ER_IS_TEXT, struct told_row, tape),
    ROW("inlet_pressure", ER_PRESSURE, inlet),
    ROW_PERCENT("slope", slope),
    REACH_MEMBERS,
    ER_MEMBER("zone", ER_IS_TEXT, struct told_row, zone),
    ER_MEMBER("first_bed", ER_IS_NUMBER, struct told_row, first_bed),
    ROW("row_length", ER_LENGTH, row_length),
    ER_END_OF_MEMBERS};

static size_t cells_of(const struct er_reach_answer *answer, const struct er_reach_table *table)
{
    return table->inlet_count * answer->slope_count;
}

/* The field's own rows first, then the table's; NULL: memory ran out. */
static struct told_row *list_rows(struct er_teller *teller, const struct er_reach_table *table)
{
    const struct er_reach_answer *answer = teller->result;
    const size_t cells = cells_of(answer, table);
    struct told_row *rows = er_pen_room(&teller->pen, table->own_count + cells, sizeof *rows);
    for (size_t i = 0; rows != NULL && i < table->own_count; i++) {
        const struct er_reach_own *own = &table->own[i];
        rows[i] = (struct told_row){.tape = table->tape->name,
                                    .zone = own->zone,
                                    .inlet = own->inlet,
                                    .slope = own->ground.count > 0 ? ER_NONE : own->ground.slope,
                                    .reach = own->reach,
                                    .own = own,
                                    .first_bed = (double)own->first_bed,
                                    .row_length = own->row_length};
    }
    for (size_t cell = 0; rows != NULL && cell < cells; cell++) {
        rows[table->own_count + cell] =
            (struct told_row){.tape = table->tape->name,
                              .inlet = table->inlets[cell / answer->slope_count],
                              .slope = answer->slopes[cell % answer->slope_count],
                              .reach = table->cells[cell],
                              .first_bed = ER_NONE,
                              .row_length = ER_NONE};
    }
    return rows;
}

/* ---- JSON ---- */

#define TAPE(name, unit, member) ER_QUANTITY_MEMBER(name, unit, struct er_tape, member)
#define TAPE_NUMBER(name, member) ER_MEMBER(name, ER_IS_NUMBER, struct er_tape, member)

/* The tape's figures, by the keys of the field file. */
static const struct er_member tape_members[] = {
    TAPE("emitter_flow", ER_EMITTER_FLOW, emitter_flow),
    TAPE("at_pressure", ER_PRESSURE, at_pressure),
    TAPE_NUMBER("exponent", exponent),
    TAPE("holds_from", ER_PRESSURE, holds_from),
    TAPE("holds_to", ER_PRESSURE, holds_to),
    TAPE("emitter_spacing", ER_SMALL_LENGTH, emitter_spacing),
    TAPE("inside_diameter", ER_SMALL_LENGTH, inside_diameter),
    TAPE_NUMBER("c", c),
    TAPE("emitter_loss", ER_SMALL_LENGTH, emitter_loss),
    TAPE_NUMBER("cv", cv),
    TAPE("min_pressure", ER_PRESSURE, min_pressure),
    TAPE("max_pressure", ER_PRESSURE, max_pressure),
    ER_END_OF_MEMBERS};

static void add_assumed(struct er_json *json, cJSON *parent, const struct er_reach_table *table)
{
    cJSON *array = er_json_array(json, parent, "assumed");
    for (size_t i = 0; i < table->assumption_count; i++) {
        const struct er_assumption *assumption = &table->assumptions[i];
        bool plain = assumption->quantity == ER_QUANTITY_COUNT;
        cJSON *object = er_json_object(json, array, NULL);
        er_json_text(json, object, "where", assumption->pointer);
        er_json_number(json, object, "value",
                       plain ? assumption->value
                             : er_from_si(assumption->quantity, json->system, assumption->value));
        er_json_text(json, object, "unit",
                     plain ? NULL : er_unit_name(assumption->quantity, json->system));
        er_json_text(json, object, "text", assumption->text);
    }
}

static void add_table(struct er_teller *t, cJSON *array, const struct er_reach_table *table)
{
    static const char *const origins[] = {[ER_TAPE_OF_FLAGS] = "flags",
                                          [ER_TAPE_OF_FIELD] = "field",
                                          [ER_TAPE_OF_CATALOGUE] = "catalogue"};
    const struct told_row *rows = list_rows(t, table);
    cJSON *object = er_json_object(&t->json, array, NULL);
    er_json_text(&t->json, object, "name", table->tape->name);
    er_json_text(&t->json, object, "from", origins[table->origin]);
    er_tell_members(t, object, tape_members, table->tape);
    er_json_number(&t->json, object, "emitters_per_plant", table->emitters_per_plant);
    if (rows != NULL) {
        er_tell_list(t, object, "own_rows", own_members, rows, table->own_count, sizeof *rows);
        er_tell_list(t, object, "rows", row_members, rows + table->own_count,
                     cells_of(t->result, table), sizeof *rows);
    }
    add_assumed(&t->json, object, table);
}

static void write_json(struct er_teller *t, cJSON *root)
{
    const struct er_reach_answer *answer = t->result;
    er_json_text(&t->json, root, "title", answer->title);
    er_json_units(&t->json, root, ER_ALL(units));
    cJSON *limits = er_json_object(&t->json, root, "limits");
    er_json_number(&t->json, limits, "uniformity", 100.0 * answer->uniformity);
    er_json_number(&t->json, limits, "flow_variation", 100.0 * answer->flow_variation);
    er_json_quantity(&t->json, limits, "longest", ER_LENGTH, answer->longest);
    cJSON *tapes = er_json_array(&t->json, root, "tapes");
    for (size_t i = 0; i < answer->table_count; i++) {
        add_table(t, tapes, &answer->tables[i]);
    }
}

/* ---- CSV ---- */

static void write_csv(struct er_teller *t, struct er_text *out)
{
    const struct er_reach_answer *answer = t->result;
    size_t count = 0, at = 0;
    for (size_t i = 0; i < answer->table_count; i++) {
        count += answer->tables[i].own_count + cells_of(answer, &answer->tables[i]);
    }
    struct told_row *all = er_pen_room(&t->pen, count, sizeof *all);
    for (size_t i = 0; all != NULL && i < answer->table_count; i++) {
        const struct er_reach_table *table = &answer->tables[i];
        const struct told_row *rows = list_rows(t, table);
        const size_t own = table->own_count + cells_of(answer, table);
        for (size_t r = 0; rows != NULL && r < own; r++) {
            all[at++] = rows[r];
        }
    }
    er_tell_csv(t, line_members, all, at, sizeof *all, out);
}

const struct er_report er_reach_report = {
    .page = er_reach_page, .json = write_json, .csv = write_csv, .explain = er_explain_reach};
