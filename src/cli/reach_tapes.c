/* The tapes of 'reach': told by flags, of the field's beds, or of the catalogue. */
#include <math.h>
#include <string.h>

#include "base/nearest.h"
#include "cli/message.h"
#include "cli/reach.h"
#include "field/keys.h"

/* The flags that tell of a tape, and the keys of a field file that tell the same: of what is not
 * told the words, and behind flags the defaults, are the key's. */
static const struct {
    enum er_option_id id;
    const char *key;
} tape_flags[] = {
    {ER_OPTION_TAPE_FLOW, "flow"},
    {ER_OPTION_TAPE_PRESSURE, "at_pressure"},
    {ER_OPTION_EXPONENT, "exponent"},
    {ER_OPTION_TAPE_DIAMETER, "inside_diameter"},
    {ER_OPTION_EMITTER_SPACING, "emitter_spacing"},
    {ER_OPTION_CV, "cv"},
};

#define TAPE_FLAGS (sizeof tape_flags / sizeof tape_flags[0])
#define UNFLAGGED 3 /* C and the rating */

static const struct er_key *tape_key(const char *name)
{
    return er_object_key(&er_tape_object, name);
}

/* A tape flag that was given, or NULL. */
static const char *given_tape_flag(const struct er_command_line *line)
{
    for (size_t i = 0; i < TAPE_FLAGS; i++) {
        if (er_option_given(line, tape_flags[i].id)) {
            return er_option_of(line, tape_flags[i].id)->name;
        }
    }
    return NULL;
}

static double read_tape_flag(struct er_flags *flags, size_t i)
{
    const struct er_key *key = tape_key(tape_flags[i].key);
    return key->kind == ER_KEY_QUANTITY
               ? er_flag_quantity(flags, tape_flags[i].id, key->quantity)
               : er_flag_number(flags, tape_flags[i].id,
                                tape_flags[i].id == ER_OPTION_CV ? "variation" : "exponent", 0.0,
                                1.0);
}

/* One more assumption of the table; `where`: what would tell it. */
static void assume(struct er_reach_ask *ask, struct er_reach_table *table,
                   struct er_assumption *list, const struct er_key *key, double value,
                   const char *where)
{
    ask->out_of_memory = ask->out_of_memory || where == NULL;
    list[table->assumption_count++] = (struct er_assumption){
        .pointer = where,
        .value = value,
        .quantity = key->kind == ER_KEY_QUANTITY ? key->quantity : ER_QUANTITY_COUNT,
        .text = key->assumed != NULL ? key->assumed : key->about,
        .of = table->tape};
}

/* What no flag tells: as in a field file that does not tell it either. */
static double assume_default(const struct er_flags *flags, struct er_reach_ask *ask,
                             struct er_reach_table *table, struct er_assumption *assumed,
                             const char *name)
{
    const struct er_key *key = tape_key(name);
    const double value = er_key_default(key, flags->system);
    assume(ask, table, assumed, key, value,
           er_arena_format(&ask->arena, "/tapes/NAME/%s in a field file", name));
    return value;
}

/* Reads the tape that the flags tell, and what they leave to be assumed. */
static void read_told(struct er_flags *flags, struct er_reach_ask *ask,
                      struct er_reach_table *table, struct er_assumption *assumed)
{
    double values[TAPE_FLAGS];
    for (size_t i = 0; i < TAPE_FLAGS; i++) {
        values[i] = read_tape_flag(flags, i);
        if (!er_option_given(flags->line, tape_flags[i].id)) {
            assume(ask, table, assumed, tape_key(tape_flags[i].key), values[i],
                   er_arena_format(&ask->arena, "--%s",
                                   er_option_of(flags->line, tape_flags[i].id)->name));
        }
    }
    if (!(values[2] > 0.0) && !isnan(values[2])) {
        er_message_append(&flags->faults, "--exponent: '%s' must be above zero",
                          er_flag_text(flags, ER_OPTION_EXPONENT));
    }
    ask->told = (struct er_tape){
        .emitter_flow = values[0] * values[4],
        .at_pressure = values[1],
        .exponent = values[2],
        .holds_from = ER_NONE,
        .holds_to = ER_NONE,
        .emitter_spacing = values[4],
        .inside_diameter = values[3],
        .cv = values[5],
        .c = assume_default(flags, ask, table, assumed, "c"),
        .wall = ER_NONE,
        .roll_length = ER_NONE,
        .roll_price = ER_NONE,
    };
    ask->told.min_pressure = assume_default(flags, ask, table, assumed, "min_pressure");
    ask->told.max_pressure = assume_default(flags, ask, table, assumed, "max_pressure");
}

static struct er_reach_table *make_tables(struct er_reach_ask *ask, size_t count)
{
    struct er_reach_table *tables = er_arena_array(&ask->arena, count, sizeof *tables);
    ask->out_of_memory = ask->out_of_memory || tables == NULL;
    ask->answer.tables = tables;
    ask->answer.table_count = tables != NULL ? count : 0;
    return tables;
}

static struct er_reach_table *table_of_flags(struct er_flags *flags, struct er_reach_ask *ask)
{
    struct er_reach_table *table = make_tables(ask, 1);
    struct er_assumption *assumed =
        er_arena_array(&ask->arena, TAPE_FLAGS + UNFLAGGED, sizeof *assumed);
    if (table == NULL || assumed == NULL) {
        ask->out_of_memory = true;
        ask->answer.table_count = 0;
        return NULL;
    }
    table->tape = &ask->told;
    table->origin = ER_TAPE_OF_FLAGS;
    table->assumptions = assumed;
    read_told(flags, ask, table, assumed);
    return table;
}

/* The bed groups of the field, one after the other; NULL behind the last. */
static const struct er_bed_group *group_at(const struct er_field *field, size_t index)
{
    for (size_t z = 0; z < field->zone_count; z++) {
        if (index < field->zones[z].group_count) {
            return &field->zones[z].groups[index];
        }
        index -= field->zones[z].group_count;
    }
    return NULL;
}

/* Whether a group before the `index`-th has the same tape. */
static bool is_repeated(const struct er_field *field, size_t index)
{
    for (size_t i = 0; i < index; i++) {
        if (group_at(field, i)->tape == group_at(field, index)->tape) {
            return true;
        }
    }
    return false;
}

static bool is_own(const struct er_field *field, const struct er_tape *tape)
{
    for (size_t i = 0; i < field->own_tape_count; i++) {
        if (tape == &field->own_tapes[i]) {
            return true;
        }
    }
    return false;
}

/* Emitters to a plant: as --plant-spacing has it for one tape along one row of plants, else the
 * fewest in the field's beds with that tape, else 1. */
static double emitters_per_plant(const struct er_reach_ask *ask, const struct er_tape *tape,
                                 double plant_spacing)
{
    double fewest = ER_ENDLESS;
    const struct er_bed_group *group;
    if (er_given(plant_spacing)) {
        return fmax(1.0, plant_spacing / tape->emitter_spacing);
    }
    for (size_t i = 0; (group = group_at(&ask->work->field, i)) != NULL; i++) {
        if (group->tape == tape) {
            fewest = fmin(fewest, er_emitters_per_plant(group));
        }
    }
    return isfinite(fewest) ? fewest : 1.0;
}

static const char *catalogue_source(const struct er_catalogue *catalogue, const char *name)
{
    for (size_t i = 0; i < catalogue->tape_count; i++) {
        if (strcmp(catalogue->tapes[i].tape.name, name) == 0) {
            return catalogue->tapes[i].source;
        }
    }
    return NULL;
}

/* A table for a tape of the field or of the catalogue. */
static void fill_table(struct er_reach_ask *ask, struct er_reach_table *table,
                       const struct er_tape *tape)
{
    bool own = is_own(&ask->work->field, tape);
    table->tape = tape;
    table->origin = own ? ER_TAPE_OF_FIELD : ER_TAPE_OF_CATALOGUE;
    table->source = own ? NULL : catalogue_source(&ask->catalogue, tape->name);
    size_t count = ask->work->field.assumption_count;
    struct er_assumption *assumed = er_arena_array(&ask->arena, count, sizeof *assumed);
    ask->out_of_memory = ask->out_of_memory || assumed == NULL;
    table->assumptions = assumed;
    for (size_t i = 0; assumed != NULL && i < count; i++) {
        if (ask->work->field.assumptions[i].of == tape) {
            assumed[table->assumption_count++] = ask->work->field.assumptions[i];
        }
    }
}

/* The tape of that name: the field's, else the catalogue's; NULL after a fault. */
static const struct er_tape *find_tape(struct er_flags *flags, const struct er_reach_ask *ask,
                                       const char *name)
{
    const struct er_field *field = &ask->work->field;
    const struct er_bed_group *group;
    struct er_nearest nearest;
    er_nearest_begin(&nearest, name);
    for (size_t i = 0; i < field->own_tape_count; i++) {
        if (strcmp(field->own_tapes[i].name, name) == 0) {
            return &field->own_tapes[i];
        }
        er_nearest_offer(&nearest, field->own_tapes[i].name);
    }
    for (size_t i = 0; (group = group_at(field, i)) != NULL; i++) {
        if (strcmp(group->tape->name, name) == 0) {
            return group->tape;
        }
    }
    for (size_t i = 0; i < ask->catalogue.tape_count; i++) {
        const struct er_tape *tape = &ask->catalogue.tapes[i].tape;
        if (strcmp(tape->name, name) == 0) {
            return tape;
        }
        er_nearest_offer(&nearest, tape->name);
    }
    if (nearest.best != NULL) {
        er_message_append(&flags->faults, "--tape: there is no tape '%s'; did you mean '%s'?", name,
                          nearest.best);
    } else {
        er_message_append(&flags->faults,
                          "--tape: there is no tape '%s'; 'evenrow catalog tapes' lists those of "
                          "the catalogue",
                          name);
    }
    return NULL;
}

static struct er_reach_table *table_of_name(struct er_flags *flags, struct er_reach_ask *ask,
                                            const char *name)
{
    const struct er_tape *tape = find_tape(flags, ask, name);
    struct er_reach_table *table = tape != NULL ? make_tables(ask, 1) : NULL;
    if (table != NULL) {
        fill_table(ask, table, tape);
    }
    return table;
}

/* A table for each tape that the field's beds have. */
static struct er_reach_table *tables_of_field(struct er_reach_ask *ask)
{
    const struct er_field *field = &ask->work->field;
    size_t count = 0, t = 0;
    for (size_t i = 0; group_at(field, i) != NULL; i++) {
        count += !is_repeated(field, i);
    }
    struct er_reach_table *tables = make_tables(ask, count);
    for (size_t i = 0; tables != NULL && t < count; i++) {
        if (!is_repeated(field, i)) {
            fill_table(ask, &tables[t++], group_at(field, i)->tape);
        }
    }
    return tables;
}

struct er_reach_table *er_reach_ask_tapes(struct er_flags *flags, struct er_reach_ask *ask)
{
    const char *name = er_option_value(flags->line, ER_OPTION_TAPE);
    const char *told = given_tape_flag(flags->line);
    double plant_spacing = er_flag_quantity(flags, ER_OPTION_PLANT_SPACING, ER_SMALL_LENGTH);
    struct er_reach_table *tables;
    if (name != NULL && told != NULL) {
        er_message_append(&flags->faults, "--tape names a tape and --%s tells of one; give one",
                          told);
    }
    if (name != NULL) {
        tables = table_of_name(flags, ask, name);
    } else if (told == NULL && flags->line->operand_count > 0) {
        tables = tables_of_field(ask);
    } else {
        tables = table_of_flags(flags, ask);
    }
    for (size_t t = 0; t < ask->answer.table_count; t++) {
        tables[t].emitters_per_plant = emitters_per_plant(ask, tables[t].tape, plant_spacing);
    }
    return tables;
}
