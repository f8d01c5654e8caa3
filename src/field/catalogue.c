/* The built-in catalogue, read by the tables that field files are read by. */
#include "evenrow/catalogue.h"

#include <string.h>

#include "field/entries.h"

/* data/catalogue.json, made part of the program by the build. */
extern const unsigned char er_catalogue_json[];
extern const size_t er_catalogue_json_size;

static const struct er_key pipe_keys[] = {
    {.name = "about",
     .about = "what it is, and which inside diameter is meant",
     .kind = ER_KEY_TEXT,
     .presence = ER_REQUIRED,
     .offset = offsetof(struct er_catalogue_pipe, about)},
    {.name = "source",
     .about = "where the figures come from",
     .kind = ER_KEY_TEXT,
     .presence = ER_REQUIRED,
     .offset = offsetof(struct er_catalogue_pipe, source)},
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
    {.name = "about",
     .about = "what it is",
     .kind = ER_KEY_TEXT,
     .presence = ER_REQUIRED,
     .offset = offsetof(struct tape_entry, about)},
    {.name = "source",
     .about = "where the figures come from",
     .kind = ER_KEY_TEXT,
     .presence = ER_REQUIRED,
     .offset = offsetof(struct tape_entry, source)},
};

static const struct er_object tape_object = {
    .name = "a tape of the catalogue",
    .about = "a kind of tape",
    .base = &er_tape_object,
    ER_KEYS(tape_keys),
    .entry_size = sizeof(struct tape_entry),
    .kept_size = sizeof(struct tape_entry),
};

static const struct er_key catalogue_soil_keys[] = {
    {.name = "available_water",
     .about = "water that plants can take, per depth of soil, as a fraction",
     .kind = ER_KEY_NUMBER,
     .presence = ER_REQUIRED,
     .range = {0.0, 1.0, true, true},
     .offset = offsetof(struct er_soil, available_water)},
    {.name = "spread",
     .about = "how wide one tape wets the soil, and so the widest emitter spacing whose wet "
              "circles still meet",
     .kind = ER_KEY_QUANTITY,
     .presence = ER_REQUIRED,
     .quantity = ER_LENGTH,
     .range = ER_ABOVE_ZERO,
     .offset = offsetof(struct er_soil, spread)},
    {.name = "source",
     .about = "where the figures come from",
     .kind = ER_KEY_TEXT,
     .presence = ER_REQUIRED,
     .offset = offsetof(struct er_soil, source)},
};

static const struct er_object soil_object = {
    .name = "a soil of the catalogue",
    .about = "a texture of soil",
    ER_KEYS(catalogue_soil_keys),
    .entry_size = sizeof(struct er_soil),
    .kept_size = sizeof(struct er_soil),
};

#define CROP_NUMBER(key, what, presence_, member)                                                  \
    {                                                                                              \
        .name = (key), .about = (what), .kind = ER_KEY_NUMBER, .presence = (presence_),            \
        .range = ER_ABOVE_ZERO, .offset = offsetof(struct er_crop, member)                         \
    }
#define CROP_LENGTH(key, what, member)                                                             \
    {                                                                                              \
        .name = (key), .about = (what), .kind = ER_KEY_QUANTITY, .presence = ER_REQUIRED,          \
        .quantity = ER_LENGTH, .range = ER_ABOVE_ZERO, .offset = offsetof(struct er_crop, member)  \
    }

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
    {.name = "source",
     .about = "where the figures come from",
     .kind = ER_KEY_TEXT,
     .presence = ER_REQUIRED,
     .offset = offsetof(struct er_crop, source)},
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
    {.name = "units",
     .about = "the unit system of bare numbers",
     .kind = ER_KEY_CHOICE,
     .presence = ER_REQUIRED,
     .words = systems,
     .offset = offsetof(struct catalogue_entry, units)},
    {.name = "pipes",
     .about = "pipes by name",
     .kind = ER_KEY_MAP,
     .presence = ER_REQUIRED,
     .object = &pipe_object,
     .offset = IN_CATALOGUE(pipes),
     .second_offset = IN_CATALOGUE(pipe_count)},
    {.name = "tapes",
     .about = "tapes by name",
     .kind = ER_KEY_MAP,
     .presence = ER_REQUIRED,
     .object = &tape_object,
     .offset = offsetof(struct catalogue_entry, tapes),
     .second_offset = IN_CATALOGUE(tape_count)},
    {.name = "soils",
     .about = "soils by name",
     .kind = ER_KEY_MAP,
     .presence = ER_REQUIRED,
     .object = &soil_object,
     .offset = IN_CATALOGUE(soils),
     .second_offset = IN_CATALOGUE(soil_count)},
    {.name = "crops",
     .about = "crops by name",
     .kind = ER_KEY_MAP,
     .presence = ER_REQUIRED,
     .object = &crop_object,
     .offset = IN_CATALOGUE(crops),
     .second_offset = IN_CATALOGUE(crop_count)},
    {.name = "prices",
     .about = "placeholders for prices",
     .kind = ER_KEY_OBJECT,
     .presence = ER_REQUIRED,
     .object = &er_placeholders_object,
     .offset = offsetof(struct catalogue_entry, prices)},
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
