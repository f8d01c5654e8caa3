/* The built-in catalogue, read by the tables that field files are read by. */
#include "evenrow/catalogue.h"

#include <string.h>

#include "field/entries.h"

/* data/catalogue.json, made part of the program by the build. */
extern const unsigned char er_catalogue_json[];
extern const size_t er_catalogue_json_size;

static const struct er_key pipe_keys[] = {
    ER_TEXT_KEY("about", offsetof(struct er_catalogue_pipe, about),
                "what it is, and which inside diameter is meant", .presence = ER_REQUIRED),
    ER_TEXT_KEY("source", offsetof(struct er_catalogue_pipe, source), "where the figures come from",
                .presence = ER_REQUIRED),
};

static const char *const pipe_requires[] = {"kind", NULL};

static const struct er_object pipe_object = {
    .name = "a pipe of the catalogue",
    .about = "a kind of pipe",
    .base = &er_pipe_object,
    ER_KEYS(pipe_keys),
    .also_required = pipe_requires,
    .entry_size = sizeof(struct er_catalogue_pipe),
    .kept_size = sizeof(struct er_catalogue_pipe),
};

struct tape_entry {
    struct er_tape_entry tape;
    const char *about;
    const char *source;
};

static const struct er_key tape_keys[] = {
    ER_TEXT_KEY("about", offsetof(struct tape_entry, about), "what it is", .presence = ER_REQUIRED),
    ER_TEXT_KEY("source", offsetof(struct tape_entry, source), "where the figures come from",
                .presence = ER_REQUIRED),
};

static const struct er_object tape_object = {
    .name = "a tape of the catalogue",
    .about = "a kind of tape",
    .base = &er_tape_object,
    ER_KEYS(tape_keys),
    .entry_size = sizeof(struct tape_entry),
    .kept_size = sizeof(struct tape_entry),
};

#define IN_SOIL(member) offsetof(struct er_soil, member)

static const struct er_key catalogue_soil_keys[] = {
    ER_NUMBER_KEY("available_water", IN_SOIL(available_water), ER_ABOVE_BELOW(0.0, 1.0),
                  "water that plants can take, per depth of soil, as a fraction",
                  .presence = ER_REQUIRED),
    ER_QUANTITY_KEY("spread", IN_SOIL(spread), ER_LENGTH, ER_ABOVE_ZERO,
                    "how wide one tape wets the soil, and so the widest emitter spacing whose wet "
                    "circles still meet",
                    .presence = ER_REQUIRED),
    ER_TEXT_KEY("source", IN_SOIL(source), "where the figures come from", .presence = ER_REQUIRED),
};

static const struct er_object soil_object = {
    .name = "a soil of the catalogue",
    .about = "a texture of soil",
    ER_KEYS(catalogue_soil_keys),
    .entry_size = sizeof(struct er_soil),
    .kept_size = sizeof(struct er_soil),
};

#define IN_CROP(member) offsetof(struct er_crop, member)
#define CROP_NUMBER(key, what, presence_, member)                                                  \
    ER_NUMBER_KEY(key, IN_CROP(member), ER_ABOVE_ZERO, what, .presence = (presence_))
#define CROP_LENGTH(key, what, member)                                                             \
    ER_QUANTITY_KEY(key, IN_CROP(member), ER_LENGTH, ER_ABOVE_ZERO, what, .presence = ER_REQUIRED)

static const struct er_key crop_keys[] = {
    CROP_NUMBER("kc_initial", "crop coefficient while the stand is young", ER_REQUIRED, kc_initial),
    CROP_NUMBER("kc_mid", "crop coefficient at full cover", ER_REQUIRED, kc_mid),
    CROP_NUMBER("kc_end", "crop coefficient at the end", ER_REQUIRED, kc_end),
    CROP_LENGTH("root_depth_min", "least depth of the grown crop's roots", root_depth_min),
    CROP_LENGTH("root_depth_max", "largest depth of the grown crop's roots", root_depth_max),
    CROP_NUMBER("depletion", "share of the soil's water that may be used up, at 5 mm a day",
                ER_REQUIRED, depletion),
    CROP_LENGTH("height", "height of the grown crop", height),
    CROP_NUMBER("initial_days", "length of the initial stage", ER_OPTIONAL, stage_days[0]),
    CROP_NUMBER("development_days", "length of the development", ER_OPTIONAL, stage_days[1]),
    CROP_NUMBER("mid_days", "length of the mid stage", ER_OPTIONAL, stage_days[2]),
    CROP_NUMBER("late_days", "length of the late stage", ER_OPTIONAL, stage_days[3]),
    ER_TEXT_KEY("source", IN_CROP(source), "where the figures come from", .presence = ER_REQUIRED),
};

static const struct er_object crop_object = {
    .name = "a crop of the catalogue",
    .about = "a crop",
    ER_KEYS(crop_keys),
    .entry_size = sizeof(struct er_crop),
    .kept_size = sizeof(struct er_crop),
};

/* The catalogue while it is read. */
struct catalogue_entry {
    struct er_catalogue catalogue;
    struct er_placeholders_entry prices;
    const struct tape_entry *tapes;
    int units;
};

#define IN_CATALOGUE(member) offsetof(struct catalogue_entry, catalogue.member)

static const char *const systems[] = {"us", "metric", NULL};

static const struct er_key catalogue_keys[] = {
    ER_CHOICE_KEY("units", offsetof(struct catalogue_entry, units), systems,
                  "the unit system of bare numbers", .presence = ER_REQUIRED),
    ER_MAP_KEY("pipes", IN_CATALOGUE(pipes), IN_CATALOGUE(pipe_count), &pipe_object,
               "pipes by name", .presence = ER_REQUIRED),
    ER_MAP_KEY("tapes", offsetof(struct catalogue_entry, tapes), IN_CATALOGUE(tape_count),
               &tape_object, "tapes by name", .presence = ER_REQUIRED),
    ER_MAP_KEY("soils", IN_CATALOGUE(soils), IN_CATALOGUE(soil_count), &soil_object,
               "soils by name", .presence = ER_REQUIRED),
    ER_MAP_KEY("crops", IN_CATALOGUE(crops), IN_CATALOGUE(crop_count), &crop_object,
               "crops by name", .presence = ER_REQUIRED),
    ER_OBJECT_KEY("prices", offsetof(struct catalogue_entry, prices), &er_placeholders_object,
                  "placeholders for prices", .presence = ER_REQUIRED),
};

/* A tape's entry is longer than what is kept of it in the end. */
static void finish_catalogue(struct er_reader *reader, const struct er_place *place, void *entry,
                             const void *kept)
{
    (void)place;
    (void)kept;
    struct catalogue_entry *whole = entry;
    const size_t count = whole->catalogue.tape_count;
    struct er_catalogue_tape *tapes = er_reader_array(reader, count, sizeof *tapes);
    if (tapes == NULL) {
        return;
    }
    for (size_t i = 0; i < count; i++) {
        tapes[i] = (struct er_catalogue_tape){.tape = whole->tapes[i].tape.tape,
                                              .about = whole->tapes[i].about,
                                              .source = whole->tapes[i].source};
    }
    whole->catalogue.tapes = tapes;
    whole->catalogue.prices = whole->prices.prices;
    er_catalogue_list_prices(reader, &whole->catalogue, whole->prices.source);
}

static const struct er_object catalogue_object = {
    .name = "the catalogue",
    .about = "the built-in pipes, tapes, soils, crops and prices",
    ER_KEYS(catalogue_keys),
    .entry_size = sizeof(struct catalogue_entry),
    .kept_size = sizeof(struct er_catalogue),
    .finish = finish_catalogue,
};

static enum er_status read_catalogue(const struct er_document *document,
                                     struct er_catalogue *catalogue, struct er_problems *problems)
{
    struct er_reader reader = {
        .document = document, .is_catalogue = true, .system = ER_US, .system_known = true};
    struct catalogue_entry entry;
    memset(&entry, 0, sizeof entry);
    const struct er_place root = {.node = er_document_root(document)};
    er_read_object(&reader, &root, &catalogue_object, &entry, NULL);
    enum er_status status = ER_OK;
    if (reader.out_of_memory) {
        status = ER_NO_MEMORY;
    } else if (reader.notices.count > 0) {
        er_notices_tell(&reader.notices, document, problems);
        status = ER_BAD_INPUT;
    } else {
        *catalogue = entry.catalogue;
        catalogue->arena = reader.arena;
        reader.arena = (struct er_arena){NULL};
    }
    er_arena_release(&reader.arena);
    er_notices_release(&reader.notices);
    return status;
}

enum er_status er_catalogue_read(struct er_catalogue *catalogue, const char *text, size_t length,
                                 struct er_problems *problems)
{
    memset(catalogue, 0, sizeof *catalogue);
    struct er_document *document = NULL;
    enum er_status status = er_document_open("the catalogue", text, length, &document, problems);
    if (status == ER_OK) {
        status = read_catalogue(document, catalogue, problems);
    }
    er_document_release(document);
    return status;
}

enum er_status er_catalogue_open(struct er_catalogue *catalogue)
{
    /* A test reads the built-in text and wants no problem: here there can be none. */
    struct er_problems problems;
    er_problems_init(&problems);
    const enum er_status status = er_catalogue_read(catalogue, (const char *)er_catalogue_json,
                                                    er_catalogue_json_size, &problems);
    er_problems_release(&problems);
    return status;
}

void er_catalogue_release(struct er_catalogue *catalogue)
{
    er_arena_release(&catalogue->arena);
    memset(catalogue, 0, sizeof *catalogue);
}
