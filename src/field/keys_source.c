/* The source: where the water and the pressure come from. */
#include "field/entries.h"
#include "field/writer.h"

#define IN_SUCTION(member) offsetof(struct er_suction, member)

/* 68 F is 20 C but for rounding; both are written as they would be in the file. */
static const struct er_key suction_keys[] = {
    ER_PIPE_KEY("pipe", IN_SUCTION(pipe), "the suction pipe"),
    ER_QUANTITY_KEY("length", IN_SUCTION(length), ER_LENGTH, ER_ABOVE_ZERO,
                    "length of the suction pipe"),
    ER_QUANTITY_KEY("height", IN_SUCTION(height), ER_LENGTH, ER_ANY_NUMBER,
                    "the pump's inlet above the water; without it the pump's lift"),
    ER_QUANTITY_KEY("altitude", IN_SUCTION(altitude), ER_LENGTH, ER_FROM_TO(-1000.0, 9000.0),
                    "height of the pump above the sea", ER_DEFAULT(0.0, 0.0)),
    ER_QUANTITY_KEY("temperature", IN_SUCTION(temperature), ER_TEMPERATURE, ER_FROM_TO(0.0, 100.0),
                    "temperature of the water", ER_DEFAULT(68.0, 20.0)),
    ER_QUANTITY_KEY("npsh_required", IN_SUCTION(npsh_required), ER_HEAD, ER_FROM_ZERO,
                    "net positive suction head that the pump's maker asks for"),
};

static const struct er_rule suction_rules[] = {
    {.kind = ER_NEEDS, .keys = {"pipe", "length"}, .why = "the two go together"},
    {.kind = ER_NEEDS, .keys = {"length", "pipe"}, .why = "the two go together"},
};

static void finish_suction(struct er_reader *reader, const struct er_place *place, void *entry,
                           const void *kept)
{
    (void)reader;
    (void)place;
    (void)kept;
    struct er_suction *suction = entry;
    suction->given = true;
    if (suction->pipe == NULL) {
        suction->length = 0.0;
    }
}

static void unfinish_suction(struct er_writer *writer, void *entry, size_t index)
{
    (void)writer;
    (void)index;
    struct er_suction *suction = entry;
    if (suction->pipe == NULL) {
        suction->length = ER_NONE;
    }
}

static const struct er_object suction_object = {
    .name = "the suction",
    .about = "the pipe before the pump, for the pressure at the pump's inlet",
    ER_KEYS(suction_keys),
    ER_RULES(suction_rules),
    .entry_size = sizeof(struct er_suction),
    .kept_size = sizeof(struct er_suction),
    .finish = finish_suction,
    .unfinish = unfinish_suction,
};

#define IN_SOURCE(member) offsetof(struct er_source_entry, member)

static const struct er_key test_keys[] = {
    ER_QUANTITY_KEY("static", IN_SOURCE(source.static_pressure), ER_PRESSURE, ER_ABOVE_ZERO,
                    "pressure at no flow", .presence = ER_REQUIRED),
    ER_QUANTITY_KEY("flow", IN_SOURCE(source.test_flow), ER_FLOW, ER_ABOVE_ZERO,
                    "flow that was measured"),
    ER_QUANTITY_KEY("volume", IN_SOURCE(volume), ER_VOLUME, ER_ABOVE_ZERO,
                    "volume that ran in the time"),
    ER_QUANTITY_KEY("time", IN_SOURCE(time), ER_TIME, ER_ABOVE_ZERO, "time that the volume took"),
    ER_QUANTITY_KEY("pressure", IN_SOURCE(source.test_pressure), ER_PRESSURE, ER_FROM_ZERO,
                    "pressure at that flow; 0: wide open", ER_DEFAULT(0.0, 0.0)),
};

static const struct er_rule test_rules[] = {
    {.kind = ER_EXACTLY_ONE,
     .keys = {"flow", "volume"},
     .why = "the measured flow, or a volume and the time it took"},
    {.kind = ER_NEEDS, .keys = {"volume", "time"}, .why = "the time that the volume took"},
    {.kind = ER_NEEDS, .keys = {"time", "volume"}, .why = "the volume that ran in that time"},
};

static void finish_test(struct er_reader *reader, const struct er_place *place, void *entry,
                        const void *kept)
{
    (void)kept;
    struct er_source_entry *test = entry;
    if (er_given(test->volume)) {
        test->source.test_flow = test->volume / test->time;
    }
    if (test->source.test_pressure >= test->source.static_pressure) {
        const bool given = er_place_has(place, "pressure");
        const struct er_place at = er_place_key(place, given ? "pressure" : "static");
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "the pressure at the measured flow (%s) must be under the static "
                          "pressure (%s)",
                          er_reader_figure(reader, ER_PRESSURE, test->source.test_pressure),
                          er_reader_figure(reader, ER_PRESSURE, test->source.static_pressure));
    }
}

/* The objects inside the source are read into the source's own entry. */
static const struct er_object test_object = {
    .name = "a test",
    .about = "a bucket or hydrant test",
    ER_KEYS(test_keys),
    ER_RULES(test_rules),
    .entry_size = sizeof(struct er_source_entry),
    .kept_size = sizeof(struct er_source_entry),
    .finish = finish_test,
};

static const struct er_key pump_keys[] = {
    ER_POINTS_KEY("curve", IN_SOURCE(pump_curve), IN_SOURCE(pump_curve_count), ER_FLOW, ER_HEAD,
                  "head that the pump adds, [[flow, head], ...]", .presence = ER_REQUIRED),
    ER_QUANTITY_KEY("shutoff", IN_SOURCE(pump_shutoff), ER_HEAD, ER_ABOVE_ZERO,
                    "head at no flow, with every valve shut; straight from there to the first "
                    "point"),
    ER_QUANTITY_KEY("lift", IN_SOURCE(source.lift), ER_LENGTH, ER_ANY_NUMBER,
                    "the pump's outlet above the water that it draws from; negative: flooded "
                    "suction",
                    ER_DEFAULT(0.0, 0.0)),
};

static const struct er_object pump_object = {
    .name = "a pump",
    .about = "a pump by its curve",
    ER_KEYS(pump_keys),
    .entry_size = sizeof(struct er_source_entry),
    .kept_size = sizeof(struct er_source_entry),
};

static const struct er_key source_keys[] = {
    ER_QUANTITY_KEY("pressure", IN_SOURCE(source.pressure), ER_PRESSURE, ER_FROM_ZERO,
                    "pressure at the source's outlet, held at any flow"),
    ER_POINTS_KEY("curve", IN_SOURCE(source.curve), IN_SOURCE(source.curve_count), ER_FLOW,
                  ER_PRESSURE, "pressures measured at the outlet, [[flow, pressure], ...]"),
    ER_QUANTITY_KEY("shutoff", IN_SOURCE(source.shutoff), ER_PRESSURE, ER_ABOVE_ZERO,
                    "of a curve: pressure at no flow; straight from there to the first point"),
    ER_OBJECT_KEY("test", 0, &test_object, "a bucket or hydrant test"),
    ER_OBJECT_KEY("pump", 0, &pump_object, "a pump by its curve"),
    ER_QUANTITY_KEY("flow_limit", IN_SOURCE(source.flow_limit), ER_FLOW, ER_ABOVE_ZERO,
                    "the most that the source may give: a well's yield, a meter, a permit"),
    ER_QUANTITY_KEY("storage", IN_SOURCE(source.storage), ER_VOLUME, ER_FROM_ZERO,
                    "usable volume in the pond or tank"),
    ER_QUANTITY_KEY("refill", IN_SOURCE(source.refill), ER_FLOW, ER_FROM_ZERO,
                    "flow that refills the storage, day and night"),
    ER_OBJECT_KEY("suction", IN_SOURCE(source.suction), &suction_object,
                  "the pipe before the pump"),
};

static const struct er_rule source_rules[] = {
    {.kind = ER_EXACTLY_ONE,
     .keys = {"pressure", "curve", "test", "pump"},
     .why = "they say what pressure the source holds at what flow"},
    {.kind = ER_NEEDS, .keys = {"suction", "pump"}, .why = NULL},
    {.kind = ER_NEEDS, .keys = {"shutoff", "curve"}, .why = "a pump's belongs in \"pump\""},
};

/* Pressures and heads of a curve must not rise with the flow. */
static void check_curve(struct er_reader *reader, const struct er_place *object,
                        const struct er_point *points, enum er_quantity quantity)
{
    const struct er_place curve = er_place_key(object, "curve");
    struct er_place at = {.parent = &curve};
    cJSON_ArrayForEach(at.node, curve.node)
    {
        const size_t i = at.index++;
        if (i == 0 || !(points[i].value > points[i - 1].value)) {
            continue;
        }
        const struct er_place here = {.parent = &curve, .index = i, .node = at.node};
        er_reader_problem(reader, &here, ER_AT_VALUE,
                          "a curve must not rise with the flow: %s comes after %s",
                          er_reader_figure(reader, quantity, points[i].value),
                          er_reader_figure(reader, quantity, points[i - 1].value));
    }
}

/* What a curve has at no flow is what it starts from. */
static void check_shutoff(struct er_reader *reader, const struct er_place *object,
                          const struct er_source *source, enum er_quantity quantity)
{
    const struct er_place at = er_place_key(object, "shutoff");
    if (!er_given(source->shutoff) || source->curve_count == 0) {
        return;
    }
    if (source->shutoff < source->curve[0].value) {
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "\"shutoff\" (%s) must not be under the curve's first point (%s)",
                          er_reader_figure(reader, quantity, source->shutoff),
                          er_reader_figure(reader, quantity, source->curve[0].value));
    } else if (!(source->curve[0].at > 0.0) && source->shutoff > source->curve[0].value) {
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "the curve's first point is at no flow already, with %s",
                          er_reader_figure(reader, quantity, source->curve[0].value));
    }
}

static void finish_source(struct er_reader *reader, const struct er_place *place, void *entry,
                          const void *kept)
{
    (void)kept;
    struct er_source_entry *source_entry = entry;
    struct er_source *source = &source_entry->source;
    if (source->curve_count > 0) {
        check_curve(reader, place, source->curve, ER_PRESSURE);
        check_shutoff(reader, place, source, ER_PRESSURE);
    }
    if (source_entry->pump_curve_count > 0) {
        const struct er_place pump = er_place_key(place, "pump");
        check_curve(reader, &pump, source_entry->pump_curve, ER_HEAD);
        source->curve = source_entry->pump_curve;
        source->curve_count = source_entry->pump_curve_count;
        source->shutoff = source_entry->pump_shutoff;
        check_shutoff(reader, &pump, source, ER_HEAD);
    }
    if (er_place_has(place, "pump")) {
        source->kind = ER_SOURCE_PUMP;
    } else if (er_place_has(place, "test")) {
        source->kind = ER_SOURCE_TEST;
    } else {
        source->kind = er_place_has(place, "curve") ? ER_SOURCE_CURVE : ER_SOURCE_PRESSURE;
    }
    if (!er_given(source->suction.height)) {
        source->suction.height = source->lift;
    }
}

/* Each kind of source has keys of its own, which the others leave out. */
static void unfinish_source(struct er_writer *writer, void *entry, size_t index)
{
    (void)index;
    struct er_source_entry *source_entry = entry;
    struct er_source *source = &source_entry->source;
    if (source->kind != ER_SOURCE_PRESSURE) {
        source->pressure = ER_NONE;
    }
    if (source->kind != ER_SOURCE_TEST) {
        er_object_defaults(writer->system, &test_object, entry);
    }
    if (source->kind == ER_SOURCE_PUMP) {
        source_entry->pump_curve = source->curve;
        source_entry->pump_curve_count = source->curve_count;
        source_entry->pump_shutoff = source->shutoff;
    } else {
        er_object_defaults(writer->system, &pump_object, entry);
    }
    if (source->kind != ER_SOURCE_CURVE) {
        source->curve_count = 0;
        source->shutoff = ER_NONE;
    }
    if (!source->suction.given) {
        er_object_defaults(writer->system, &suction_object, &source->suction);
    }
}

const struct er_object er_source_object = {
    .name = "the source",
    .about = "where the water and the pressure come from",
    ER_KEYS(source_keys),
    ER_RULES(source_rules),
    .entry_size = sizeof(struct er_source_entry),
    .kept_size = sizeof(struct er_source),
    .finish = finish_source,
    .unfinish = unfinish_source,
};
