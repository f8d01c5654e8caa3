/* Tapes. */
#include "base/number.h"
#include "field/entries.h"
#include "field/writer.h"

#define IN_TAPE(member) offsetof(struct er_tape_entry, tape.member)

static const struct er_key tape_keys[] = {
    ER_QUANTITY_KEY("flow", offsetof(struct er_tape_entry, flow), ER_TAPE_FLOW, ER_ABOVE_ZERO,
                    "nominal flow of the tape, per length"),
    ER_QUANTITY_KEY("emitter_flow", IN_TAPE(emitter_flow), ER_EMITTER_FLOW, ER_ABOVE_ZERO,
                    "nominal flow of one emitter"),
    ER_QUANTITY_KEY("at_pressure", IN_TAPE(at_pressure), ER_PRESSURE, ER_ABOVE_ZERO,
                    "pressure at which the nominal flow holds",
                    .smallest = 0.1 /* m: far below what any tape works at */),
    ER_NUMBER_KEY("exponent", IN_TAPE(exponent), ER_ABOVE_TO(0.0, 1.0),
                  "how the flow follows the pressure: "
                  "q = nominal flow x (p / at_pressure)^exponent",
                  ER_DEFAULT(0.5, 0.5),
                  .assumed = "emitter exponent of turbulent flow; the tape's data sheet gives its "
                             "own"),
    ER_QUANTITY_KEY("holds_from", IN_TAPE(holds_from), ER_PRESSURE, ER_ABOVE_ZERO,
                    "a pressure-compensating emitter: from this pressure it gives its nominal "
                    "flow"),
    ER_QUANTITY_KEY("holds_to", IN_TAPE(holds_to), ER_PRESSURE, ER_ABOVE_ZERO,
                    "up to this pressure it gives its nominal flow; without it at any above "
                    "holds_from"),
    ER_QUANTITY_KEY("emitter_spacing", IN_TAPE(emitter_spacing), ER_SMALL_LENGTH, ER_ABOVE_ZERO,
                    "from one emitter to the next", .presence = ER_REQUIRED,
                    .smallest = 1e-3 /* m: no emitter is so short */),
    ER_QUANTITY_KEY("inside_diameter", IN_TAPE(inside_diameter), ER_SMALL_LENGTH, ER_ABOVE_ZERO,
                    "inside diameter of the tape", .presence = ER_REQUIRED),
    ER_NUMBER_KEY("c", IN_TAPE(c), ER_FROM_TO(1.0, 1000.0), "Hazen-Williams coefficient",
                  ER_DEFAULT(140.0, 140.0),
                  .assumed = "Hazen-Williams coefficient of tape; the maker's run-length tables "
                             "rest on its own"),
    ER_QUANTITY_KEY("emitter_loss", IN_TAPE(emitter_loss), ER_SMALL_LENGTH, ER_FROM_ZERO,
                    "length of tape whose friction equals the extra loss at one emitter",
                    ER_DEFAULT(0.0, 0.0),
                    .assumed = "extra loss at each emitter; the tape's data sheet may give one"),
    ER_NUMBER_KEY("cv", IN_TAPE(cv), ER_FROM_BELOW(0.0, 1.0),
                  "coefficient of manufacturing variation, as a fraction: 0.03 is 3 percent",
                  ER_DEFAULT(0.03, 0.03),
                  .assumed = "manufacturing variation of good tape; the tape's data sheet gives "
                             "its own"),
    ER_QUANTITY_KEY("min_pressure", IN_TAPE(min_pressure), ER_PRESSURE, ER_FROM_ZERO,
                    "the lowest pressure that the maker rates the tape for", ER_DEFAULT(4.0, 28.0),
                    .assumed = "lowest pressure that thin-walled tape is usually rated for; the "
                               "tape's data sheet gives its own"),
    ER_QUANTITY_KEY("max_pressure", IN_TAPE(max_pressure), ER_PRESSURE, ER_ABOVE_ZERO,
                    "the highest pressure that the maker rates the tape for",
                    ER_DEFAULT(15.0, 100.0),
                    .assumed = "highest pressure that thin-walled tape is usually rated for; the "
                               "tape's data sheet gives its own"),
    ER_QUANTITY_KEY("wall", IN_TAPE(wall), ER_SMALL_LENGTH, ER_ABOVE_ZERO, "wall thickness"),
    ER_NEW_OBJECT_KEY("connector", IN_TAPE(connector), &er_part_object,
                      "the fitting between header and tape; its flow is one tape's"),
    ER_QUANTITY_KEY("roll_length", IN_TAPE(roll_length), ER_LENGTH, ER_ABOVE_ZERO,
                    "length of tape on one roll"),
    ER_NUMBER_KEY("roll_price", IN_TAPE(roll_price), ER_FROM_ZERO, "money for one roll"),
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
                          er_reader_figure(reader, ER_PRESSURE, tape->holds_to),
                          er_reader_figure(reader, ER_PRESSURE, tape->holds_from));
    } else if (tape->at_pressure < tape->holds_from || tape->at_pressure > tape->holds_to) {
        const struct er_place at = er_place_key(place, "at_pressure");
        er_reader_problem(
            reader, &at, ER_AT_VALUE,
            "\"at_pressure\" (%s) must lie between \"holds_from\" and \"holds_to\": "
            "from %s%s%s",
            er_reader_figure(reader, ER_PRESSURE, tape->at_pressure),
            er_reader_figure(reader, ER_PRESSURE, tape->holds_from),
            isinf(tape->holds_to) ? " up" : " to ",
            isinf(tape->holds_to) ? "" : er_reader_figure(reader, ER_PRESSURE, tape->holds_to));
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
                          er_reader_figure(reader, ER_PRESSURE, tape->min_pressure),
                          er_reader_figure(reader, ER_PRESSURE, tape->max_pressure));
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
