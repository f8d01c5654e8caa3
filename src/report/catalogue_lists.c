#include "report/catalogue_lists.h"

#include <string.h>

#define PIPE(member) offsetof(struct er_catalogue_pipe, member)
#define TAPE(member) offsetof(struct er_catalogue_tape, member)
#define SOIL(member) offsetof(struct er_soil, member)
#define CROP(member) offsetof(struct er_crop, member)
#define PRICE(member) offsetof(struct er_placeholder, member)
#define PLAIN ER_QUANTITY_COUNT

static const struct er_listed pipe_columns[] = {
    {"name", "name", ER_LISTED_WORDS, PLAIN, PIPE(pipe.name)},
    {"kind", "kind", ER_LISTED_PIPE_KIND, PLAIN, PIPE(pipe.kind)},
    {"inside_diameter", "inside", ER_LISTED_QUANTITY, ER_SMALL_LENGTH, PIPE(pipe.inside_diameter)},
    {"c", "C", ER_LISTED_NUMBER, PLAIN, PIPE(pipe.c)},
    {"max_pressure", "rated\nto", ER_LISTED_QUANTITY, ER_PRESSURE, PIPE(pipe.max_pressure)},
    {"about", "what it is", ER_LISTED_ABOUT, PLAIN, PIPE(about)},
    {"source", "from", ER_LISTED_SOURCE, PLAIN, PIPE(source)},
};

static const struct er_listed tape_columns[] = {
    {"name", "name", ER_LISTED_WORDS, PLAIN, TAPE(tape.name)},
    {"flow", "flow", ER_LISTED_TAPE_FLOW, ER_TAPE_FLOW, 0},
    {"emitter_flow", NULL, ER_LISTED_QUANTITY, ER_EMITTER_FLOW, TAPE(tape.emitter_flow)},
    {"at_pressure", "at", ER_LISTED_QUANTITY, ER_PRESSURE, TAPE(tape.at_pressure)},
    {"exponent", NULL, ER_LISTED_NUMBER, PLAIN, TAPE(tape.exponent)},
    {"holds_from", NULL, ER_LISTED_QUANTITY, ER_PRESSURE, TAPE(tape.holds_from)},
    {"holds_to", NULL, ER_LISTED_QUANTITY, ER_PRESSURE, TAPE(tape.holds_to)},
    {"emitter_spacing", "emitters\nevery", ER_LISTED_QUANTITY, ER_SMALL_LENGTH,
     TAPE(tape.emitter_spacing)},
    {"inside_diameter", "inside", ER_LISTED_QUANTITY, ER_SMALL_LENGTH, TAPE(tape.inside_diameter)},
    {"c", NULL, ER_LISTED_NUMBER, PLAIN, TAPE(tape.c)},
    {"cv", NULL, ER_LISTED_NUMBER, PLAIN, TAPE(tape.cv)},
    {"min_pressure", "rated\nfrom", ER_LISTED_QUANTITY, ER_PRESSURE, TAPE(tape.min_pressure)},
    {"max_pressure", "rated\nto", ER_LISTED_QUANTITY, ER_PRESSURE, TAPE(tape.max_pressure)},
    {"about", NULL, ER_LISTED_ABOUT, PLAIN, TAPE(about)},
    {"source", "from", ER_LISTED_SOURCE, PLAIN, TAPE(source)},
};

static const struct er_listed soil_columns[] = {
    {"name", "name", ER_LISTED_WORDS, PLAIN, SOIL(name)},
    {"available_water", "available\nwater", ER_LISTED_PER_DEPTH, PLAIN, SOIL(available_water)},
    {"spread", "one tape\nwets", ER_LISTED_QUANTITY, ER_SMALL_LENGTH, SOIL(spread)},
    {"source", "from", ER_LISTED_SOURCE, PLAIN, SOIL(source)},
};

static const struct er_listed crop_columns[] = {
    {"name", "name", ER_LISTED_WORDS, PLAIN, CROP(name)},
    {"kc_initial", "kc\nini", ER_LISTED_NUMBER, PLAIN, CROP(kc_initial)},
    {"kc_mid", "kc\nmid", ER_LISTED_NUMBER, PLAIN, CROP(kc_mid)},
    {"kc_end", "kc\nend", ER_LISTED_NUMBER, PLAIN, CROP(kc_end)},
    {"root_depth_min", "roots\nfrom", ER_LISTED_QUANTITY, ER_SMALL_LENGTH, CROP(root_depth_min)},
    {"root_depth_max", "roots\nto", ER_LISTED_QUANTITY, ER_SMALL_LENGTH, CROP(root_depth_max)},
    {"depletion", "may\nuse", ER_LISTED_PERCENT, PLAIN, CROP(depletion)},
    {"height", NULL, ER_LISTED_QUANTITY, ER_LENGTH, CROP(height)},
    {"days_initial", "days\nini", ER_LISTED_NUMBER, PLAIN, CROP(stage_days[0])},
    {"days_development", "\ndev", ER_LISTED_NUMBER, PLAIN, CROP(stage_days[1])},
    {"days_mid", "\nmid", ER_LISTED_NUMBER, PLAIN, CROP(stage_days[2])},
    {"days_late", "\nlate", ER_LISTED_NUMBER, PLAIN, CROP(stage_days[3])},
    {"source", "from", ER_LISTED_SOURCE, PLAIN, CROP(source)},
};

static const struct er_listed price_columns[] = {
    {"name", "name", ER_LISTED_WORDS, PLAIN, PRICE(name)},
    {"about", "what it is", ER_LISTED_WORDS, PLAIN, PRICE(about)},
    {"price", "one\ncosts", ER_LISTED_NUMBER, PLAIN, PRICE(each)},
    {"price_per", "per", ER_LISTED_PER_LENGTH, PLAIN, PRICE(per_length)},
    {"length", "one\nhas", ER_LISTED_QUANTITY, ER_LENGTH, PRICE(length)},
    {"source", "from", ER_LISTED_SOURCE, PLAIN, PRICE(source)},
};

#define COUNT(columns) (sizeof(columns) / sizeof((columns)[0]))

struct er_list er_catalogue_list(const struct er_catalogue *catalogue, enum er_catalogue_kind kind)
{
    switch (kind) {
    case ER_CATALOGUE_PIPES:
        return (struct er_list){"pipes",
                                "Pipes; inside diameter of PVC at the mean wall",
                                COUNT(pipe_columns),
                                pipe_columns,
                                catalogue->pipe_count,
                                catalogue->pipes,
                                sizeof *catalogue->pipes};
    case ER_CATALOGUE_TAPES:
        return (struct er_list){"tapes",
                                "Tapes",
                                COUNT(tape_columns),
                                tape_columns,
                                catalogue->tape_count,
                                catalogue->tapes,
                                sizeof *catalogue->tapes};
    case ER_CATALOGUE_SOILS:
        return (struct er_list){"soils",
                                "Soils",
                                COUNT(soil_columns),
                                soil_columns,
                                catalogue->soil_count,
                                catalogue->soils,
                                sizeof *catalogue->soils};
    case ER_CATALOGUE_PRICES:
        return (struct er_list){"prices",
                                "Prices: placeholders, ask your dealer",
                                COUNT(price_columns),
                                price_columns,
                                catalogue->placeholder_count,
                                catalogue->placeholders,
                                sizeof *catalogue->placeholders};
    case ER_CATALOGUE_CROPS:
    case ER_CATALOGUE_KINDS:
        break;
    }
    return (struct er_list){"crops",
                            "Crops",
                            COUNT(crop_columns),
                            crop_columns,
                            catalogue->crop_count,
                            catalogue->crops,
                            sizeof *catalogue->crops};
}

const char *er_catalogue_kind_name(enum er_catalogue_kind kind)
{
    const struct er_catalogue none = {0};
    return er_catalogue_list(&none, kind).name;
}

static const char *entry_at(const struct er_list *list, size_t entry)
{
    return (const char *)list->entries + entry * list->entry_size;
}

bool er_list_is_words(const struct er_listed *column)
{
    return column->kind == ER_LISTED_WORDS || column->kind == ER_LISTED_ABOUT ||
           column->kind == ER_LISTED_SOURCE || column->kind == ER_LISTED_PIPE_KIND;
}

const char *er_list_words(const struct er_list *list, size_t entry, size_t column)
{
    if (list->columns[column].kind == ER_LISTED_PIPE_KIND) {
        int kind;
        memcpy(&kind, entry_at(list, entry) + list->columns[column].offset, sizeof kind);
        return er_pipe_kind_name((enum er_pipe_kind)kind);
    }
    const char *text;
    memcpy(&text, entry_at(list, entry) + list->columns[column].offset, sizeof text);
    return text != NULL ? text : "";
}

double er_list_number(const struct er_list *list, size_t entry, size_t column,
                      enum er_system system)
{
    const struct er_listed *about = &list->columns[column];
    if (about->kind == ER_LISTED_TAPE_FLOW) {
        const struct er_tape *tape = &((const struct er_catalogue_tape *)list->entries)[entry].tape;
        return er_from_si(ER_TAPE_FLOW, system, tape->emitter_flow / tape->emitter_spacing);
    }
    double value;
    memcpy(&value, entry_at(list, entry) + about->offset, sizeof value);
    if (!isfinite(value)) {
        return (double)NAN;
    }
    switch (about->kind) {
    case ER_LISTED_PERCENT:
        return 100.0 * value;
    case ER_LISTED_QUANTITY:
        return er_from_si(about->quantity, system, value);
    case ER_LISTED_PER_DEPTH:
        return value * (system == ER_US ? 12.0 : 1000.0);
    case ER_LISTED_PER_LENGTH:
        return value * er_to_si(ER_LENGTH, system, 100.0);
    default:
        return value;
    }
}

const char *er_list_unit(const struct er_listed *column, enum er_system system)
{
    switch (column->kind) {
    case ER_LISTED_PERCENT:
        return "percent";
    case ER_LISTED_QUANTITY:
    case ER_LISTED_TAPE_FLOW:
        return er_unit_name(column->quantity, system);
    case ER_LISTED_PER_DEPTH:
        return system == ER_US ? "in/ft" : "mm/m";
    case ER_LISTED_PER_LENGTH:
        return system == ER_US ? "100 ft" : "100 m";
    default:
        return NULL;
    }
}
