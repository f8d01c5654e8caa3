/* Tapes. */
#include "base/number.h"
#include "field/entries.h"
#include "field/writer.h"

static const struct er_key tape_keys[] = {
    {.name = "flow",
     .about = "nominal flow of the tape, per length",
     .kind = ER_KEY_QUANTITY,
     .quantity = ER_TAPE_FLOW,
     .range = ER_ABOVE_ZERO,
     .offset = offsetof(struct er_tape_entry, flow)},
    {.name = "emitter_flow",
     .about = "nominal flow of one emitter",
     .kind = ER_KEY_QUANTITY,
     .quantity = ER_EMITTER_FLOW,
     .range = ER_ABOVE_ZERO,
     .offset = offsetof(struct er_tape_entry, tape.emitter_flow)},
    {.name = "at_pressure",
     .about = "pressure at which the nominal flow holds",
     .kind = ER_KEY_QUANTITY,
     .quantity = ER_PRESSURE,
     .range = ER_ABOVE_ZERO,
     .smallest = 0.1, /* m: far below what any tape works at */
     .offset = offsetof(struct er_tape_entry, tape.at_pressure)},
    {.name = "exponent",
     .about = "how the flow follows the pressure: q = nominal flow x (p / at_pressure)^exponent",
     .kind = ER_KEY_NUMBER,
     .presence = ER_DEFAULTED,
     .range = {0.0, 1.0, true, false},
     .fallback = {0.5, 0.5},
     .offset = offsetof(struct er_tape_entry, tape.exponent),
     .assumed = "emitter exponent of turbulent flow; the tape's data sheet gives its own"},
    {.name = "holds_from",
     .about = "a pressure-compensating emitter: from this pressure it gives its nominal flow",
     .kind = ER_KEY_QUANTITY,
     .quantity = ER_PRESSURE,
     .range = ER_ABOVE_ZERO,
     .offset = offsetof(struct er_tape_entry, tape.holds_from)},
    {.name = "holds_to",
     .about = "up to this pressure it gives its nominal flow; without it at any above holds_from",
     .kind = ER_KEY_QUANTITY,
     .quantity = ER_PRESSURE,
     .range = ER_ABOVE_ZERO,
     .offset = offsetof(struct er_tape_entry, tape.holds_to)},
    {.name = "emitter_spacing",
     .about = "from one emitter to the next",
     .kind = ER_KEY_QUANTITY,
     .presence = ER_REQUIRED,
     .quantity = ER_SMALL_LENGTH,
     .range = ER_ABOVE_ZERO,
     .smallest = 1e-3, /* m: no emitter is so short */
     .offset = offsetof(struct er_tape_entry, tape.emitter_spacing)},
    {.name = "inside_diameter",
     .about = "inside diameter of the tape",
     .kind = ER_KEY_QUANTITY,
     .presence = ER_REQUIRED,
     .quantity = ER_SMALL_LENGTH,
     .range = ER_ABOVE_ZERO,
     .offset = offsetof(struct er_tape_entry, tape.inside_diameter)},
    {.name = "c",
     .about = "Hazen-Williams coefficient",
     .kind = ER_KEY_NUMBER,
     .presence = ER_DEFAULTED,
     .range = {1.0, 1000.0, false, false},
     .fallback = {140.0, 140.0},
     .offset = offsetof(struct er_tape_entry, tape.c),
     .assumed =
         "Hazen-Williams coefficient of tape; the maker's run-length tables rest on its own"},
    {.name = "emitter_loss",
     .about = "length of tape whose friction equals the extra loss at one emitter",
     .kind = ER_KEY_QUANTITY,
     .presence = ER_DEFAULTED,
     .quantity = ER_SMALL_LENGTH,
     .range = ER_FROM_ZERO,
     .fallback = {0.0, 0.0},
     .offset = offsetof(struct er_tape_entry, tape.emitter_loss),
     .assumed = "extra loss at each emitter; the tape's data sheet may give one"},
    {.name = "cv",
     .about = "coefficient of manufacturing variation, as a fraction: 0.03 is 3 percent",
     .kind = ER_KEY_NUMBER,
     .presence = ER_DEFAULTED,
     .range = {0.0, 1.0, false, true},
     .fallback = {0.03, 0.03},
     .offset = offsetof(struct er_tape_entry, tape.cv),
     .assumed = "manufacturing variation of good tape; the tape's data sheet gives its own"},
    {.name = "min_pressure",
     .about = "the lowest pressure that the maker rates the tape for",
     .kind = ER_KEY_QUANTITY,
     .presence = ER_DEFAULTED,
     .quantity = ER_PRESSURE,
     .range = ER_FROM_ZERO,
     .fallback = {4.0, 28.0},
     .offset = offsetof(struct er_tape_entry, tape.min_pressure),
     .assumed = "lowest pressure that thin-walled tape is usually rated for; the tape's data sheet "
                "gives its own"},
    {.name = "max_pressure",
     .about = "the highest pressure that the maker rates the tape for",
     .kind = ER_KEY_QUANTITY,
     .presence = ER_DEFAULTED,
     .quantity = ER_PRESSURE,
     .range = ER_ABOVE_ZERO,
     .fallback = {15.0, 100.0},
     .offset = offsetof(struct er_tape_entry, tape.max_pressure),
     .assumed =
         "highest pressure that thin-walled tape is usually rated for; the tape's data sheet "
         "gives its own"},
    {.name = "wall",
     .about = "wall thickness",
     .kind = ER_KEY_QUANTITY,
     .quantity = ER_SMALL_LENGTH,
     .range = ER_ABOVE_ZERO,
     .offset = offsetof(struct er_tape_entry, tape.wall)},
    {.name = "connector",
     .about = "the fitting between header and tape; its flow is one tape's",
     .kind = ER_KEY_NEW_OBJECT,
     .object = &er_part_object,
     .offset = offsetof(struct er_tape_entry, tape.connector)},
    {.name = "roll_length",
     .about = "length of tape on one roll",
     .kind = ER_KEY_QUANTITY,
     .quantity = ER_LENGTH,
     .range = ER_ABOVE_ZERO,
     .offset = offsetof(struct er_tape_entry, tape.roll_length)},
    {.name = "roll_price",
     .about = "money for one roll",
     .kind = ER_KEY_NUMBER,
     .range = ER_FROM_ZERO,
     .offset = offsetof(struct er_tape_entry, tape.roll_price)},
};

static const struct er_rule tape_rules[] = {
    {.kind = ER_EXACTLY_ONE,
     .keys = {"flow", "emitter_flow"},
     .why = "the flow of the tape per length, or of one emitter"},
    {.kind = ER_AT_LEAST_ONE,
     .keys = {"at_pressure", "holds_from"},
     .why = "the pressure at which it gives its nominal flow"},
    {.kind = ER_AT_MOST_ONE,
     .keys = {"exponent", "holds_from"},
     .why = "a pressure-compensating emitter has no exponent"},
    {.kind = ER_NEEDS, .keys = {"holds_to", "holds_from"}, .why = NULL},
};

static void check_holding(struct er_reader *reader, const struct er_place *place,
                          const struct er_tape *tape)
{
    if (tape->holds_to < tape->holds_from) {
        const struct er_place at = er_place_key(place, "holds_to");
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "\"holds_to\" (%s) must not be under \"holds_from\" (%s)",
                          er_figure(reader, ER_PRESSURE, tape->holds_to),
                          er_figure(reader, ER_PRESSURE, tape->holds_from));
    } else if (tape->at_pressure < tape->holds_from || tape->at_pressure > tape->holds_to) {
        const struct er_place at = er_place_key(place, "at_pressure");
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "\"at_pressure\" (%s) must lie between \"holds_from\" and \"holds_to\": "
                          "from %s%s%s",
                          er_figure(reader, ER_PRESSURE, tape->at_pressure),
                          er_figure(reader, ER_PRESSURE, tape->holds_from),
                          isinf(tape->holds_to) ? " up" : " to ",
                          isinf(tape->holds_to) ? ""
                                                : er_figure(reader, ER_PRESSURE, tape->holds_to));
    }
}

static void check_rating(struct er_reader *reader, const struct er_place *place,
                         const struct er_tape *tape)
{
    if (er_place_has(place, "min_pressure") && er_place_has(place, "max_pressure") &&
        tape->min_pressure > tape->max_pressure) {
        const struct er_place at = er_place_key(place, "min_pressure");
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "\"min_pressure\" (%s) must not be above \"max_pressure\" (%s)",
                          er_figure(reader, ER_PRESSURE, tape->min_pressure),
                          er_figure(reader, ER_PRESSURE, tape->max_pressure));
    }
}

static void finish_tape(struct er_reader *reader, const struct er_place *place, void *entry,
                        const void *kept)
{
    struct er_tape_entry *tape_entry = entry;
    struct er_tape *tape = &tape_entry->tape;
    if (er_given(tape_entry->flow)) {
        tape->emitter_flow = tape_entry->flow * tape->emitter_spacing;
    }
    if (er_place_has(place, "holds_from")) {
        tape->exponent = (double)NAN;
        if (!er_place_has(place, "holds_to")) {
            tape->holds_to = (double)INFINITY;
        }
        check_holding(reader, place, tape);
    } else {
        er_reader_assume(reader, place, &er_tape_object, "exponent", kept);
    }
    check_rating(reader, place, tape);
    er_reader_assume(reader, place, &er_tape_object, "c", kept);
    er_reader_assume(reader, place, &er_tape_object, "emitter_loss", kept);
    er_reader_assume(reader, place, &er_tape_object, "cv", kept);
    er_reader_assume(reader, place, &er_tape_object, "min_pressure", kept);
    er_reader_assume(reader, place, &er_tape_object, "max_pressure", kept);
}

/* How a tape's flow is read: into that of one emitter. */
struct flow_reading {
    enum er_system system;
    double emitter_spacing;
};

static double read_flow(double number, const void *context)
{
    const struct flow_reading *reading = context;
    return er_to_si(ER_TAPE_FLOW, reading->system, number) * reading->emitter_spacing;
}

/* No data sheet gives a flow with more digits: it has come out of a conversion. */
#define MOST_FLOW_DIGITS 12

/* The flow is written in the form that takes fewer digits, which is most likely the given one. */
static void unfinish_tape(struct er_writer *writer, void *entry, size_t index)
{
    (void)index;
    static const struct er_key_range above_zero = ER_ABOVE_ZERO;
    struct er_tape_entry *tape_entry = entry;
    struct er_tape *tape = &tape_entry->tape;
    const double spacing =
        er_writer_quantity(writer, ER_SMALL_LENGTH, &above_zero, tape->emitter_spacing);
    const struct flow_reading reading = {writer->system,
                                         er_to_si(ER_SMALL_LENGTH, writer->system, spacing)};
    const double guess =
        er_from_si(ER_TAPE_FLOW, writer->system, tape->emitter_flow / reading.emitter_spacing);
    const double flow =
        er_number_for(tape->emitter_flow, er_writer_slack(writer), guess, read_flow, &reading);
    const double emitter_flow =
        er_writer_quantity(writer, ER_EMITTER_FLOW, &above_zero, tape->emitter_flow);
    const int digits = er_number_digits(flow);
    if (digits <= MOST_FLOW_DIGITS && digits <= er_number_digits(emitter_flow)) {
        tape_entry->flow = er_to_si(ER_TAPE_FLOW, writer->system, flow);
        tape->emitter_flow = ER_NONE;
    }
}

static const struct er_stray_key tape_stray[] = {
    {"spacing", "write \"emitter_spacing\""},
    {"diameter", "write \"inside_diameter\""},
    {"pressure", "write \"at_pressure\": the pressure at which the tape gives its nominal flow"},
    {NULL, NULL},
};

const struct er_object er_tape_object = {
    .name = "a tape",
    .about = "a kind of drip tape or dripline",
    ER_KEYS(tape_keys),
    ER_RULES(tape_rules),
    .stray = tape_stray,
    .entry_size = sizeof(struct er_tape_entry),
    .kept_size = sizeof(struct er_tape),
    .finish = finish_tape,
    .unfinish = unfinish_tape,
};
