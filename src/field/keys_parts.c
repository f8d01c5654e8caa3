/* Parts (filters, valves, regulators, fittings) and pipes. */
#include "base/number.h"
#include "field/entries.h"
#include "field/writer.h"
#include "layout/pipe_kinds.h"

#define IN_PART(member) offsetof(struct er_part, member)

static const struct er_key part_keys[] = {
    ER_TEXT_KEY("part", IN_PART(name), "what it is, such as \"screen filter\""),
    ER_QUANTITY_KEY("loss", IN_PART(loss), ER_PRESSURE, ER_FROM_ZERO,
                    "pressure loss; with at_flow it grows with the square of the flow",
                    ER_DEFAULT(0.0, 0.0)),
    ER_QUANTITY_KEY("at_flow", IN_PART(at_flow), ER_FLOW, ER_ABOVE_ZERO,
                    "flow at which the loss is given; without it the loss is the same at any flow"),
    ER_QUANTITY_KEY("holds", IN_PART(holds), ER_PRESSURE, ER_ABOVE_ZERO,
                    "a pressure regulator: the outlet pressure that it holds"),
    ER_QUANTITY_KEY("min_flow", IN_PART(min_flow), ER_FLOW, ER_FROM_ZERO,
                    "the least flow that it is made for"),
    ER_QUANTITY_KEY("max_flow", IN_PART(max_flow), ER_FLOW, ER_ABOVE_ZERO,
                    "the largest flow that it is made for"),
    ER_QUANTITY_KEY("max_pressure", IN_PART(max_pressure), ER_PRESSURE, ER_ABOVE_ZERO,
                    "the highest pressure that it is rated for"),
    ER_QUANTITY_KEY("dirty_loss", IN_PART(dirty_loss), ER_PRESSURE, ER_FROM_ZERO,
                    "a filter: further loss at at_flow when it is due for cleaning",
                    ER_DEFAULT(0.0, 0.0)),
};

static const struct er_rule part_rules[] = {
    {.kind = ER_NEEDS,
     .keys = {"dirty_loss", "at_flow"},
     .why = "the flow at which the filter's loss was measured"},
};

static void finish_part(struct er_reader *reader, const struct er_place *place, void *entry,
                        const void *kept)
{
    (void)kept;
    const struct er_part *part = entry;
    if (part->min_flow > part->max_flow) {
        const struct er_place at = er_place_key(place, "min_flow");
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "\"min_flow\" (%s) must not be above \"max_flow\" (%s)",
                          er_reader_figure(reader, ER_FLOW, part->min_flow),
                          er_reader_figure(reader, ER_FLOW, part->max_flow));
    }
}

const struct er_object er_part_object = {
    .name = "a part",
    .about = "a filter, valve, regulator or fitting",
    ER_KEYS(part_keys),
    ER_RULES(part_rules),
    .entry_size = sizeof(struct er_part),
    .kept_size = sizeof(struct er_part),
    .finish = finish_part,
};

static const char *const headworks_requires[] = {"part", NULL};

const struct er_object er_headworks_object = {
    .name = "a part of the headworks",
    .about = "a filter, valve, regulator or fitting between the source and the mainline",
    .base = &er_part_object,
    .also_required = headworks_requires,
    .entry_size = sizeof(struct er_part),
    .kept_size = sizeof(struct er_part),
};

static const char *const regulator_places[] = {"header", NULL};

static const struct er_key regulator_keys[] = {
    ER_CHOICE_KEY("place", offsetof(struct er_regulator_entry, place), regulator_places,
                  "\"header\": it stands at the header's feed point; else at the zone's join"),
};

static const char *const regulator_requires[] = {"holds", NULL};

const struct er_object er_regulator_object = {
    .name = "a regulator",
    .about = "a part that holds a zone's pressure",
    .base = &er_part_object,
    ER_KEYS(regulator_keys),
    .also_required = regulator_requires,
    .entry_size = sizeof(struct er_regulator_entry),
    .kept_size = sizeof(struct er_regulator_entry),
};

#define IN_PIPE(member) offsetof(struct er_pipe, member)

static const struct er_key pipe_keys[] = {
    ER_QUANTITY_KEY("inside_diameter", IN_PIPE(inside_diameter), ER_SMALL_LENGTH, ER_ABOVE_ZERO,
                    "inside diameter at the mean wall, not the nominal size",
                    .presence = ER_REQUIRED),
    ER_NUMBER_KEY("c", IN_PIPE(c), ER_FROM_TO(1.0, 1000.0),
                  "Hazen-Williams coefficient: the smoother the pipe, the higher",
                  ER_DEFAULT(150.0, 150.0),
                  .assumed = "Hazen-Williams coefficient of smooth plastic pipe; the maker's "
                             "friction chart shows the pipe's own"),
    ER_QUANTITY_KEY("max_pressure", IN_PIPE(max_pressure), ER_PRESSURE, ER_ABOVE_ZERO,
                    "the highest pressure that it is rated for"),
    ER_CHOICE_KEY("kind", IN_PIPE(kind), er_pipe_kinds,
                  "what it is made of: PVC is judged by surges too"),
    ER_NUMBER_KEY("price", IN_PIPE(price), ER_FROM_ZERO, "money per ft (us) or per m (metric)"),
};

double er_length_price(enum er_system system, double price)
{
    return price / er_to_si(ER_LENGTH, system, 1.0);
}

static double read_price(double number, const void *context)
{
    const enum er_system *system = context;
    return er_length_price(*system, number);
}

double er_writer_length_price(const struct er_writer *writer, double price)
{
    return er_given(price) ? er_number_for(price, er_writer_slack(writer),
                                           price * er_to_si(ER_LENGTH, writer->system, 1.0),
                                           read_price, &writer->system)
                           : price;
}

static void finish_pipe(struct er_reader *reader, const struct er_place *place, void *entry,
                        const void *kept)
{
    struct er_pipe *pipe = entry;
    pipe->price = er_length_price(reader->system, pipe->price);
    pipe->kind++; /* -1, left out, becomes ER_PIPE_KIND_UNKNOWN */
    er_reader_assume(reader, place, &er_pipe_object, "c", kept);
}

static void unfinish_pipe(struct er_writer *writer, void *entry, size_t index)
{
    (void)index;
    struct er_pipe *pipe = entry;
    pipe->price = er_writer_length_price(writer, pipe->price);
    pipe->kind--;
}

static const struct er_stray_key pipe_stray[] = {
    {"diameter", "write \"inside_diameter\": what counts is the inside"},
    {"length", "a length belongs beside the pipe, in the section or header that it makes"},
    {NULL, NULL},
};

const struct er_object er_pipe_object = {
    .name = "a pipe",
    .about = "a kind of pipe",
    ER_KEYS(pipe_keys),
    .stray = pipe_stray,
    .entry_size = sizeof(struct er_pipe),
    .kept_size = sizeof(struct er_pipe),
    .finish = finish_pipe,
    .unfinish = unfinish_pipe,
};
