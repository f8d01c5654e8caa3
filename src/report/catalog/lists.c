/* What is told of the catalogue's entries, kind by kind. */
#include "report/catalog/report.h"

/* Entries with what is told of them beside. */
struct told_pipe {
    struct er_catalogue_pipe of;
    const char *kind;
};
struct told_tape {
    struct er_catalogue_tape of;
    double flow; /* m3/s per m */
};

/* Columns: key, unit, what it is, head; for one that people are not shown, NULL. */
#define TOLD(name, is, type, member, over)                                                         \
    {                                                                                              \
        .key = (name), .kind = (is), .offset = offsetof(struct type, member), .head = (over)       \
    }
#define TEXT(name, type, member, over) TOLD(name, ER_IS_TEXT, type, member, over)
#define NUMBER(name, type, member, over) TOLD(name, ER_IS_NUMBER, type, member, over)
#define UNIT(name, unit, type, member, over)                                                       \
    {                                                                                              \
        .key = (name), .kind = ER_IS_QUANTITY, .quantity = (unit),                                 \
        .offset = offsetof(struct type, member), .head = (over)                                    \
    }

static const struct er_member pipe_members[] = {
    TEXT("name", told_pipe, of.pipe.name, "name"),
    TEXT("kind", told_pipe, kind, "kind"),
    UNIT("inside_diameter", ER_SMALL_LENGTH, told_pipe, of.pipe.inside_diameter, "inside"),
    NUMBER("c", told_pipe, of.pipe.c, "C"),
    UNIT("max_pressure", ER_PRESSURE, told_pipe, of.pipe.max_pressure, "rated\nto"),
    TEXT("about", told_pipe, of.about, "what it is"),
    TEXT("source", told_pipe, of.source, "from"),
    ER_END_OF_MEMBERS,
};

static const struct er_member tape_members[] = {
    TEXT("name", told_tape, of.tape.name, "name"),
    UNIT("flow", ER_TAPE_FLOW, told_tape, flow, "flow"),
    UNIT("emitter_flow", ER_EMITTER_FLOW, told_tape, of.tape.emitter_flow, NULL),
    UNIT("at_pressure", ER_PRESSURE, told_tape, of.tape.at_pressure, "at"),
    NUMBER("exponent", told_tape, of.tape.exponent, NULL),
    UNIT("holds_from", ER_PRESSURE, told_tape, of.tape.holds_from, NULL),
    UNIT("holds_to", ER_PRESSURE, told_tape, of.tape.holds_to, NULL),
    UNIT("emitter_spacing", ER_SMALL_LENGTH, told_tape, of.tape.emitter_spacing, "emitters\nevery"),
    UNIT("inside_diameter", ER_SMALL_LENGTH, told_tape, of.tape.inside_diameter, "inside"),
    NUMBER("c", told_tape, of.tape.c, NULL),
    NUMBER("cv", told_tape, of.tape.cv, NULL),
    UNIT("min_pressure", ER_PRESSURE, told_tape, of.tape.min_pressure, "rated\nfrom"),
    UNIT("max_pressure", ER_PRESSURE, told_tape, of.tape.max_pressure, "rated\nto"),
    TEXT("about", told_tape, of.about, NULL),
    TEXT("source", told_tape, of.source, "from"),
    ER_END_OF_MEMBERS,
};

static const struct er_member soil_members[] = {
    TEXT("name", er_soil, name, "name"),
    UNIT("available_water", ER_WATER_PER_DEPTH, er_soil, available_water, "available\nwater"),
    UNIT("spread", ER_SMALL_LENGTH, er_soil, spread, "one tape\nwets"),
    TEXT("source", er_soil, source, "from"),
    ER_END_OF_MEMBERS,
};

static const struct er_member crop_members[] = {
    TEXT("name", er_crop, name, "name"),
    NUMBER("kc_initial", er_crop, kc_initial, "kc\nini"),
    NUMBER("kc_mid", er_crop, kc_mid, "kc\nmid"),
    NUMBER("kc_end", er_crop, kc_end, "kc\nend"),
    UNIT("root_depth_min", ER_SMALL_LENGTH, er_crop, root_depth_min, "roots\nfrom"),
    UNIT("root_depth_max", ER_SMALL_LENGTH, er_crop, root_depth_max, "roots\nto"),
    TOLD("depletion", ER_IS_PERCENT, er_crop, depletion, "may\nuse\n%"),
    UNIT("height", ER_LENGTH, er_crop, height, NULL),
    NUMBER("days_initial", er_crop, stage_days[0], "days\nini"),
    NUMBER("days_development", er_crop, stage_days[1], "\ndev"),
    NUMBER("days_mid", er_crop, stage_days[2], "\nmid"),
    NUMBER("days_late", er_crop, stage_days[3], "\nlate"),
    TEXT("source", er_crop, source, "from"),
    ER_END_OF_MEMBERS,
};

static const struct er_member price_members[] = {
    TEXT("name", er_placeholder, name, "name"),
    TEXT("about", er_placeholder, about, "what it is"),
    NUMBER("price", er_placeholder, each, "one\ncosts"),
    UNIT("price_per", ER_MONEY_PER_LENGTH, er_placeholder, per_length, "per"),
    UNIT("length", ER_LENGTH, er_placeholder, length, "one\nhas"),
    TEXT("source", er_placeholder, source, "from"),
    ER_END_OF_MEMBERS,
};

static const struct er_list lists[ER_CATALOGUE_KINDS] = {
    [ER_CATALOGUE_PIPES] = {"pipes", "Pipes; inside diameter of PVC at the mean wall", pipe_members,
                            sizeof(struct told_pipe), 0, NULL},
    [ER_CATALOGUE_TAPES] = {"tapes", "Tapes", tape_members, sizeof(struct told_tape), 0, NULL},
    [ER_CATALOGUE_SOILS] = {"soils", "Soils", soil_members, sizeof(struct er_soil), 0, NULL},
    [ER_CATALOGUE_CROPS] = {"crops", "Crops", crop_members, sizeof(struct er_crop), 0, NULL},
    [ER_CATALOGUE_PRICES] = {"prices", "Prices: placeholders, ask your dealer", price_members,
                             sizeof(struct er_placeholder), 0, NULL},
};

const char *er_catalogue_kind_name(enum er_catalogue_kind kind) { return lists[kind].name; }

static const struct told_pipe *tell_pipes(struct er_pen *pen, const struct er_catalogue *catalogue)
{
    struct told_pipe *told = er_pen_room(pen, catalogue->pipe_count, sizeof *told);
    for (size_t i = 0; told != NULL && i < catalogue->pipe_count; i++) {
        const struct er_catalogue_pipe *pipe = &catalogue->pipes[i];
        told[i] = (struct told_pipe){*pipe, er_pipe_kind_name((enum er_pipe_kind)pipe->pipe.kind)};
    }
    return told;
}

static const struct told_tape *tell_tapes(struct er_pen *pen, const struct er_catalogue *catalogue)
{
    struct told_tape *told = er_pen_room(pen, catalogue->tape_count, sizeof *told);
    for (size_t i = 0; told != NULL && i < catalogue->tape_count; i++) {
        const struct er_catalogue_tape *tape = &catalogue->tapes[i];
        told[i] = (struct told_tape){*tape, tape->tape.emitter_flow / tape->tape.emitter_spacing};
    }
    return told;
}

struct er_list er_catalogue_list(struct er_pen *pen, const struct er_catalogue *catalogue,
                                 enum er_catalogue_kind kind)
{
    const size_t counts[] = {catalogue->pipe_count, catalogue->tape_count, catalogue->soil_count,
                             catalogue->crop_count, catalogue->placeholder_count};
    const void *const entries[] = {kind == ER_CATALOGUE_PIPES ? tell_pipes(pen, catalogue) : NULL,
                                   kind == ER_CATALOGUE_TAPES ? tell_tapes(pen, catalogue) : NULL,
                                   catalogue->soils, catalogue->crops, catalogue->placeholders};
    struct er_list list = lists[kind];
    list.entries = entries[kind];
    list.entry_count = list.entries != NULL ? counts[kind] : 0;
    return list;
}
