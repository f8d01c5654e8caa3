/* A file of what was read in the field on a visit: its keys, and how it is held against the field.
 */
#include <math.h>
#include <string.h>

#include "evenrow/divide.h"
#include "evenrow/visit.h"
#include "field/reader.h"
#include "visit/places.h"

#define MILLILITRE 1e-6 /* m3 */

static const char *const systems[] = {"us", "metric", NULL};
static const char *const sides[] = {"first", "second", NULL};

struct bed_entry {
    size_t bed; /* from 1 */
    int side;   /* 1: the second; -1: left out */
    double inlet, far_end;
};

struct emitter_entry {
    size_t bed;
    int side;
    int place;       /* of er_tape_place_names, or their number: a distance */
    double distance; /* m */
    double seconds, millilitres;
};

struct accuracy_entry {
    double pressure;      /* m */
    double meter, caught; /* fractions */
};

struct measured_entry {
    int units;
    long date;
    const char *zone;
    double source, after_headworks, after_valve, header; /* m */
    double meter;                                        /* m3/s */
    size_t bed_count;
    const struct bed_entry *beds;
    double container_millilitres, catch_seconds;
    size_t emitter_count;
    const struct emitter_entry *emitters;
    struct accuracy_entry accuracy;
};

#define IN_BED(member) offsetof(struct bed_entry, member)

static const struct er_key bed_keys[] = {
    ER_COUNT_KEY("bed", IN_BED(bed), ER_FROM_ONE,
                 "the bed's number, counted from 1 along the header", .presence = ER_REQUIRED),
    ER_CHOICE_KEY("side", IN_BED(side), sides,
                  "which side of the header, where beds lie on both: \"first\" or \"second\""),
    ER_QUANTITY_KEY("inlet", IN_BED(inlet), ER_PRESSURE, ER_FROM_ZERO,
                    "pressure at the tape's inlet"),
    ER_QUANTITY_KEY("far_end", IN_BED(far_end), ER_PRESSURE, ER_FROM_ZERO,
                    "pressure at the tape's far end"),
};

static const struct er_rule bed_rules[] = {
    {.kind = ER_AT_LEAST_ONE, .keys = {"inlet", "far_end"}},
};

static const struct er_object bed_object = {
    .name = "a bed's readings",
    .about = "pressures read at one bed",
    ER_KEYS(bed_keys),
    ER_RULES(bed_rules),
    .entry_size = sizeof(struct bed_entry),
    .kept_size = sizeof(struct bed_entry),
};

#define IN_EMITTER(member) offsetof(struct emitter_entry, member)

static const struct er_key emitter_keys[] = {
    ER_COUNT_KEY("bed", IN_EMITTER(bed), ER_FROM_ONE,
                 "the bed's number, counted from 1 along the header", .presence = ER_REQUIRED),
    ER_CHOICE_KEY("side", IN_EMITTER(side), sides,
                  "which side of the header, where beds lie on both: \"first\" or \"second\""),
    ER_CHOICE_OR_QUANTITY_KEY("at", IN_EMITTER(place), IN_EMITTER(distance), er_tape_place_names,
                              ER_LENGTH, ER_FROM_ZERO,
                              "where on the tape: \"inlet\", \"third\", \"two-thirds\", "
                              "\"far-end\", or the distance from its inlet",
                              .presence = ER_REQUIRED),
    ER_NUMBER_KEY("seconds", IN_EMITTER(seconds), ER_ABOVE_ZERO,
                  "time in which the emitter filled the container"),
    ER_NUMBER_KEY("ml", IN_EMITTER(millilitres), ER_FROM_ZERO,
                  "volume caught in catch_seconds, in millilitres; 0 where nothing came"),
};

static const struct er_rule emitter_rules[] = {
    {.kind = ER_EXACTLY_ONE, .keys = {"seconds", "ml"}},
};

static const struct er_object emitter_object = {
    .name = "an emitter's reading",
    .about = "what one emitter gave",
    ER_KEYS(emitter_keys),
    ER_RULES(emitter_rules),
    .entry_size = sizeof(struct emitter_entry),
    .kept_size = sizeof(struct emitter_entry),
};

#define IN_ACCURACY(member) offsetof(struct accuracy_entry, member)

/* How far off a reading usually is: common practice, no source. */
static const struct er_key accuracy_keys[] = {
    ER_QUANTITY_KEY("pressure", IN_ACCURACY(pressure), ER_PRESSURE, ER_ABOVE_ZERO,
                    "of the gauge, on average off by so much", ER_DEFAULT(0.2, 1.4)),
    ER_PERCENT_KEY("flow", IN_ACCURACY(meter), ER_ABOVE_TO(0.0, 50.0), "of the meter, percent",
                   ER_DEFAULT(3.0, 3.0)),
    ER_PERCENT_KEY("emitters", IN_ACCURACY(caught), ER_ABOVE_TO(0.0, 50.0),
                   "of the cup and the watch, percent", ER_DEFAULT(3.0, 3.0)),
};

static const struct er_object accuracy_object = {
    .name = "the accuracy",
    .about = "how far off readings are, on average",
    ER_KEYS(accuracy_keys),
    .entry_size = sizeof(struct accuracy_entry),
    .kept_size = sizeof(struct accuracy_entry),
};

#define IN_MEASURED(member) offsetof(struct measured_entry, member)

static const struct er_key measured_keys[] = {
    ER_CHOICE_KEY("units", IN_MEASURED(units), systems,
                  "the unit system of bare numbers: \"us\" or \"metric\"", .presence = ER_REQUIRED),
    ER_DATE_KEY("date", IN_MEASURED(date), "the day of the visit, as \"2026-06-14\""),
    ER_TEXT_KEY("zone", IN_MEASURED(zone),
                "the zone that was read, while its set ran; needed where the field has more than "
                "one"),
    ER_QUANTITY_KEY("source", IN_MEASURED(source), ER_PRESSURE, ER_FROM_ZERO,
                    "pressure at the source's outlet: the pump's gauge"),
    ER_QUANTITY_KEY("after_headworks", IN_MEASURED(after_headworks), ER_PRESSURE, ER_FROM_ZERO,
                    "pressure after the filter and all else that stands at the source"),
    ER_QUANTITY_KEY("after_valve", IN_MEASURED(after_valve), ER_PRESSURE, ER_FROM_ZERO,
                    "pressure between the zone's valve and its regulator"),
    ER_QUANTITY_KEY("header", IN_MEASURED(header), ER_PRESSURE, ER_FROM_ZERO,
                    "pressure where the zone's header is fed"),
    ER_QUANTITY_KEY("flow", IN_MEASURED(meter), ER_FLOW, ER_FROM_ZERO,
                    "what the meter at the source shows, all zones of the set together"),
    ER_LIST_KEY("beds", IN_MEASURED(beds), IN_MEASURED(bed_count), &bed_object,
                "pressures read at beds", .least = 1),
    ER_NUMBER_KEY("container_ml", IN_MEASURED(container_millilitres), ER_ABOVE_ZERO,
                  "the container that emitters filled in \"seconds\", in millilitres"),
    ER_NUMBER_KEY("catch_seconds", IN_MEASURED(catch_seconds), ER_ABOVE_ZERO,
                  "the time in which the emitters' \"ml\" were caught"),
    ER_LIST_KEY("emitters", IN_MEASURED(emitters), IN_MEASURED(emitter_count), &emitter_object,
                "what single emitters gave", .least = 1),
    ER_OBJECT_KEY("accuracy", IN_MEASURED(accuracy), &accuracy_object,
                  "how far off readings are, on average; used to weigh them"),
};

static const struct er_rule measured_rules[] = {
    {.kind = ER_AT_LEAST_ONE,
     .keys = {"source", "after_headworks", "after_valve", "header", "flow", "beds", "emitters"},
     .why = "nothing was read"},
};

const struct er_object er_measured_object = {
    .name = "a file of readings",
    .about = "what was read in one zone while its set ran",
    ER_KEYS(measured_keys),
    ER_RULES(measured_rules),
    .entry_size = sizeof(struct measured_entry),
    .kept_size = sizeof(struct measured_entry),
};

/* What is needed to hold the readings against the field. */
struct matching {
    struct er_reader *reader;
    const struct er_place *root;
    const struct er_field *field;
    const struct measured_entry *entry;
    struct er_measured *measured;
};

static void find_zone(struct matching *m)
{
    const char *name = m->entry->zone;
    const struct er_place at = er_place_key(m->root, "zone");
    if (at.node == NULL && m->field->zone_count > 1) {
        er_reader_problem(m->reader, &at, ER_AT_VALUE,
                          "the field has %zu zones: \"zone\" must say which was read",
                          m->field->zone_count);
    }
    if (name == NULL) {
        return;
    }
    for (size_t z = 0; z < m->field->zone_count; z++) {
        if (strcmp(m->field->zones[z].name, name) == 0) {
            m->measured->zone = z;
            return;
        }
    }
    er_reader_problem(m->reader, &at, ER_AT_VALUE, "the field has no zone %s",
                      er_reader_quote(m->reader, name));
}

/* The tape that an item of the list `list` is about; false after a problem. */
static bool find_run(const struct matching *m, const struct er_place *item, size_t bed, bool second,
                     struct er_run *run)
{
    const struct er_zone *zone = &m->field->zones[m->measured->zone];
    if (bed >= 1 && er_bed_run(zone, bed - 1, second, run)) {
        return true;
    }
    const size_t beds = er_zone_beds(zone);
    if (bed >= 1 && bed <= beds) {
        const struct er_place at = er_place_key(item, "side");
        er_reader_problem(m->reader, &at, ER_AT_VALUE, "bed %zu has no second side in the field",
                          bed);
    } else if (bed >= 1) {
        const struct er_place at = er_place_key(item, "bed");
        er_reader_problem(m->reader, &at, ER_AT_VALUE, "zone %s has %zu bed%s",
                          er_reader_quote(m->reader, zone->name), beds, beds == 1 ? "" : "s");
    }
    return false;
}

/* Adds a reading, if it was taken. */
static void add(struct er_measured *measured, enum er_reading_kind kind, size_t bed, bool second,
                double value)
{
    if (er_given(value)) {
        measured->readings[measured->reading_count++] =
            (struct er_visit_reading){.kind = kind,
                                      .bed = bed,
                                      .second_side = second,
                                      .at = ER_NONE,
                                      .value = value,
                                      .time = ER_NONE};
    }
}

static struct er_place first_item(const struct er_place *list)
{
    return (struct er_place){.parent = list, .node = cJSON_GetArrayItem(list->node, 0)};
}

static void move_on(struct er_place *item)
{
    item->index++;
    item->node = item->node->next;
}

static void add_beds(struct matching *m)
{
    const struct er_place list = er_place_key(m->root, "beds");
    struct er_place item = first_item(&list);
    for (size_t i = 0; i < m->entry->bed_count; i++, move_on(&item)) {
        const struct bed_entry *bed = &m->entry->beds[i];
        struct er_run run;
        bool second = bed->side == 1;
        if (find_run(m, &item, bed->bed, second, &run)) {
            add(m->measured, ER_READ_BED_INLET, bed->bed - 1, second, bed->inlet);
            add(m->measured, ER_READ_BED_FAR_END, bed->bed - 1, second, bed->far_end);
        }
    }
}

/* m3/s; NAN after a problem. */
static double flow_of(const struct matching *m, const struct er_place *item,
                      const struct emitter_entry *emitter)
{
    const struct measured_entry *entry = m->entry;
    bool timed = er_given(emitter->seconds);
    const struct er_place at = er_place_key(item, timed ? "seconds" : "ml");
    if (timed && !er_given(entry->container_millilitres)) {
        er_reader_problem(m->reader, &at, ER_AT_KEY,
                          "\"seconds\" needs the file's \"container_ml\": what was filled");
        return ER_NONE;
    }
    if (!timed && er_given(emitter->millilitres) && !er_given(entry->catch_seconds)) {
        er_reader_problem(m->reader, &at, ER_AT_KEY,
                          "\"ml\" needs the file's \"catch_seconds\": how long it was caught");
        return ER_NONE;
    }
    return timed ? MILLILITRE * entry->container_millilitres / emitter->seconds
                 : MILLILITRE * emitter->millilitres / entry->catch_seconds;
}

static void add_emitter(struct matching *m, const struct er_place *item,
                        const struct emitter_entry *emitter)
{
    struct er_run run;
    bool second = emitter->side == 1;
    double flow = flow_of(m, item, emitter);
    if (!find_run(m, item, emitter->bed, second, &run) || !er_given(flow)) {
        return;
    }
    bool by_word = emitter->place >= 0 && emitter->place < ER_TAPE_PLACES;
    double at =
        by_word ? er_emitter_at_share(&run, er_tape_place_share((enum er_tape_place)emitter->place))
                : emitter->distance;
    if (at > run.length * (1.0 + 1e-9)) {
        const struct er_place place = er_place_key(item, "at");
        er_reader_problem(m->reader, &place, ER_AT_VALUE, "the tape ends at %s",
                          er_reader_figure(m->reader, ER_LENGTH, run.length));
    }
    add(m->measured, ER_READ_EMITTER, emitter->bed - 1, second, flow);
    struct er_visit_reading *added = &m->measured->readings[m->measured->reading_count - 1];
    added->at = at;
    added->time = emitter->seconds;
}

static void take_over(struct matching *m)
{
    const struct measured_entry *entry = m->entry;
    struct er_measured *measured = m->measured;
    size_t most = 5 + 2 * entry->bed_count + entry->emitter_count;
    measured->readings = er_reader_array(m->reader, most, sizeof *measured->readings);
    find_zone(m);
    if (measured->readings == NULL || m->reader->notices.count > 0) {
        return;
    }
    measured->system = m->reader->system;
    measured->pressure_accuracy = entry->accuracy.pressure;
    measured->meter_accuracy = entry->accuracy.meter;
    measured->catch_accuracy = entry->accuracy.caught;
    add(measured, ER_READ_SOURCE, 0, false, entry->source);
    add(measured, ER_READ_AFTER_PARTS, 0, false, entry->after_headworks);
    add(measured, ER_READ_AFTER_VALVE, 0, false, entry->after_valve);
    add(measured, ER_READ_HEADER, 0, false, entry->header);
    add(measured, ER_READ_METER, 0, false, entry->meter);
    add_beds(m);
    const struct er_place list = er_place_key(m->root, "emitters");
    struct er_place item = first_item(&list);
    for (size_t i = 0; i < entry->emitter_count; i++, move_on(&item)) {
        add_emitter(m, &item, &entry->emitters[i]);
    }
    if (entry->date != ER_NO_DATE) {
        struct er_calendar_day day = er_date_split(entry->date);
        measured->date =
            er_arena_format(&m->reader->arena, "%04d-%02d-%02d", day.year, day.month, day.day);
        m->reader->out_of_memory = m->reader->out_of_memory || measured->date == NULL;
    }
}

/* Ends the reading; the measured takes the reader's arena over if all is well. */
static enum er_status finish(struct er_reader *reader, struct er_measured *measured,
                             struct er_problems *problems)
{
    enum er_status status = ER_OK;
    if (reader->out_of_memory) {
        status = ER_NO_MEMORY;
    } else if (reader->notices.count > 0) {
        er_notices_tell(&reader->notices, reader->document, problems);
        status = problems->out_of_memory ? ER_NO_MEMORY : ER_BAD_INPUT;
    }
    if (status == ER_OK) {
        measured->arena = reader->arena;
        reader->arena = (struct er_arena){NULL};
    } else {
        *measured = (struct er_measured){.reading_count = 0};
    }
    er_arena_release(&reader->arena);
    er_notices_release(&reader->notices);
    return status;
}

enum er_status er_measured_read(const struct er_document *document, const struct er_field *field,
                                struct er_measured *measured, struct er_problems *problems)
{
    *measured = (struct er_measured){.reading_count = 0};
    struct measured_entry entry = {.units = 0};
    struct er_reader reader = {.document = document, .is_catalogue = true};
    const struct er_place root = {.node = er_document_root(document)};
    const cJSON *units = cJSON_GetObjectItemCaseSensitive(root.node, "units");
    bool metric = cJSON_IsString(units) && strcmp(units->valuestring, "metric") == 0;
    reader.system = metric ? ER_METRIC : ER_US;
    reader.system_known =
        metric || (cJSON_IsString(units) && strcmp(units->valuestring, "us") == 0);
    er_read_object(&reader, &root, &er_measured_object, &entry, NULL);
    struct matching matching = {&reader, &root, field, &entry, measured};
    if (!reader.out_of_memory && reader.notices.count == 0) {
        take_over(&matching);
    }
    return finish(&reader, measured, problems);
}

void er_measured_release(struct er_measured *measured)
{
    er_arena_release(&measured->arena);
    *measured = (struct er_measured){.reading_count = 0};
}
