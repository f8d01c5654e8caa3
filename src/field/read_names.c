/* What is named in one place and defined in another: the file's own first, then the catalogue's. */
#include <stdint.h>
#include <string.h>

#include "base/nearest.h"
#include "field/entries.h"
#include "field/reader.h"

/* Opens the catalogue when it is first wanted. False if memory ran out. */
static bool open_catalogue(struct er_reader *reader)
{
    if (reader->catalogue_open) {
        return !reader->out_of_memory;
    }
    if (er_catalogue_open(&reader->catalogue) != ER_OK) {
        reader->out_of_memory = true;
        return false;
    }
    reader->catalogue_open = true;
    const struct er_catalogue *catalogue = &reader->catalogue;
    reader->catalogue_pipes =
        er_reader_array(reader, catalogue->pipe_count, sizeof *reader->catalogue_pipes);
    reader->catalogue_tapes =
        er_reader_array(reader, catalogue->tape_count, sizeof *reader->catalogue_tapes);
    reader->catalogue_soils =
        er_reader_array(reader, catalogue->soil_count, sizeof *reader->catalogue_soils);
    return !reader->out_of_memory;
}

const struct er_catalogue *er_reader_catalogue(struct er_reader *reader)
{
    return open_catalogue(reader) ? &reader->catalogue : NULL;
}

/* A kind of thing that the file may name: how the catalogue calls the `index`-th of them
 * (NULL after the last), and the words for messages. */
struct named_kind {
    const char *noun;    /* "pipe" */
    const char *command; /* what lists the built-in ones */
    const char *(*name)(const struct er_catalogue *catalogue, size_t index);
};

static const char *pipe_name(const struct er_catalogue *catalogue, size_t index)
{
    return index < catalogue->pipe_count ? catalogue->pipes[index].pipe.name : NULL;
}

static const char *tape_name(const struct er_catalogue *catalogue, size_t index)
{
    return index < catalogue->tape_count ? catalogue->tapes[index].tape.name : NULL;
}

static const char *soil_name(const struct er_catalogue *catalogue, size_t index)
{
    return index < catalogue->soil_count ? catalogue->soils[index].name : NULL;
}

static const char *crop_name(const struct er_catalogue *catalogue, size_t index)
{
    return index < catalogue->crop_count ? catalogue->crops[index].name : NULL;
}

static const struct named_kind pipe_kind = {"pipe", "evenrow catalog pipes", pipe_name};
static const struct named_kind tape_kind = {"tape", "evenrow catalog tapes", tape_name};
static const struct named_kind soil_kind = {"soil", "evenrow catalog soils", soil_name};
static const struct named_kind crop_kind = {"crop", "evenrow catalog crops", crop_name};

static void tell_unknown_name(struct er_reader *reader, const struct er_place *place,
                              const struct named_kind *kind, const struct er_names *own,
                              const char *name)
{
    if (!er_notices_room(&reader->notices)) {
        reader->notices.count++;
        return;
    }
    struct er_nearest nearest;
    er_nearest_begin(&nearest, name);
    for (size_t i = 0; own != NULL && i < own->count; i++) {
        er_nearest_offer(&nearest, own->sorted[i].name);
    }
    for (size_t i = 0; kind->name(&reader->catalogue, i) != NULL; i++) {
        er_nearest_offer(&nearest, kind->name(&reader->catalogue, i));
    }
    const char *quoted = er_reader_quote(reader, name);
    /* What is no name itself has it for its key. */
    const enum er_spot spot = cJSON_IsString(place->node) ? ER_AT_VALUE : ER_AT_KEY;
    if (nearest.best != NULL) {
        er_reader_problem(reader, place, spot, "no %s is called %s; did you mean %s?", kind->noun,
                          quoted, er_reader_quote(reader, nearest.best));
    } else {
        er_reader_problem(reader, place, spot,
                          "no %s is called %s; \"%s\" lists the built-in ones%s%s%s", kind->noun,
                          quoted, kind->command,
                          own == NULL ? "" : ", and the file's own stand in \"",
                          own == NULL ? "" : kind->noun, own == NULL ? "" : "s\"");
    }
}

/* The place of a name in the catalogue; false, with a problem taken down, if it is not there. */
static bool find_in_catalogue(struct er_reader *reader, const struct er_place *place,
                              const struct named_kind *kind, const struct er_names *own,
                              const char *name, size_t *index)
{
    if (!open_catalogue(reader)) {
        return false;
    }
    for (size_t i = 0; kind->name(&reader->catalogue, i) != NULL; i++) {
        if (strcmp(kind->name(&reader->catalogue, i), name) == 0) {
            *index = i;
            return true;
        }
    }
    tell_unknown_name(reader, place, kind, own, name);
    return false;
}

/* The field's copy of the catalogue's pipe, made when it is first used. */
static const struct er_pipe *catalogue_pipe(struct er_reader *reader, size_t index)
{
    if (reader->catalogue_pipes[index] == NULL) {
        struct er_pipe *pipe = er_reader_array(reader, 1, sizeof *pipe);
        if (pipe != NULL) {
            *pipe = reader->catalogue.pipes[index].pipe;
            pipe->name = er_reader_text(reader, pipe->name);
        }
        reader->catalogue_pipes[index] = pipe;
    }
    return reader->catalogue_pipes[index];
}

static const struct er_tape *catalogue_tape(struct er_reader *reader, size_t index)
{
    if (reader->catalogue_tapes[index] == NULL) {
        struct er_tape *tape = er_reader_array(reader, 1, sizeof *tape);
        if (tape != NULL) {
            *tape = reader->catalogue.tapes[index].tape;
            tape->name = er_reader_text(reader, tape->name);
        }
        reader->catalogue_tapes[index] = tape;
    }
    return reader->catalogue_tapes[index];
}

const struct er_pipe *er_reader_pipe(struct er_reader *reader, const struct er_place *place,
                                     const char *name)
{
    size_t index = 0;
    if (er_names_find(&reader->pipe_names, name, &index)) {
        return index < reader->field->pipe_count ? &reader->field->pipes[index] : NULL;
    }
    return find_in_catalogue(reader, place, &pipe_kind, &reader->pipe_names, name, &index)
               ? catalogue_pipe(reader, index)
               : NULL;
}

const struct er_tape *er_reader_tape(struct er_reader *reader, const struct er_place *place,
                                     const char *name)
{
    size_t index = 0;
    if (er_names_find(&reader->tape_names, name, &index)) {
        return index < reader->field->tape_count ? &reader->field->tapes[index] : NULL;
    }
    return find_in_catalogue(reader, place, &tape_kind, &reader->tape_names, name, &index)
               ? catalogue_tape(reader, index)
               : NULL;
}

static const struct er_pipe *pipe_in_place(struct er_reader *reader, const struct er_place *place)
{
    struct er_pipe *pipe = er_reader_array(reader, 1, sizeof *pipe);
    if (pipe != NULL) {
        er_read_object(reader, place, &er_pipe_object, pipe, pipe);
    }
    return pipe;
}

void er_read_pipe(struct er_reader *reader, const struct er_place *place, const struct er_key *key,
                  void *entry)
{
    const struct er_pipe *pipe = NULL;
    if (cJSON_IsString(place->node)) {
        pipe = er_reader_pipe(reader, place, place->node->valuestring);
    } else if (cJSON_IsObject(place->node)) {
        pipe = pipe_in_place(reader, place);
    } else {
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "expected a pipe's name in quotes, or a pipe in place such as "
                          "{\"inside_diameter\": \"2 in\"}, found %s",
                          er_found(reader, place->node));
    }
    memcpy((char *)entry + key->offset, &pipe, sizeof pipe);
}

void er_read_tape(struct er_reader *reader, const struct er_place *place, const struct er_key *key,
                  void *entry)
{
    if (!cJSON_IsString(place->node)) {
        er_reader_problem(reader, place, ER_AT_VALUE, "expected a tape's name in quotes, found %s",
                          er_found(reader, place->node));
        return;
    }
    const struct er_tape *tape = er_reader_tape(reader, place, place->node->valuestring);
    memcpy((char *)entry + key->offset, &tape, sizeof tape);
}

const struct er_soil *er_reader_soil(struct er_reader *reader, const struct er_place *place,
                                     const char *name)
{
    size_t index = 0;
    if (!find_in_catalogue(reader, place, &soil_kind, NULL, name, &index)) {
        return NULL;
    }
    if (reader->catalogue_soils[index] == NULL) {
        struct er_soil *soil = er_reader_array(reader, 1, sizeof *soil);
        if (soil != NULL) {
            *soil = reader->catalogue.soils[index];
            soil->name = er_reader_text(reader, soil->name);
            soil->source = er_reader_text(reader, soil->source);
        }
        reader->catalogue_soils[index] = soil;
    }
    return reader->catalogue_soils[index];
}

void er_read_soil(struct er_reader *reader, const struct er_place *place, const struct er_key *key,
                  void *entry)
{
    const struct er_soil *soil = NULL;
    if (cJSON_IsString(place->node)) {
        soil = er_reader_soil(reader, place, place->node->valuestring);
    } else if (cJSON_IsObject(place->node)) {
        struct er_soil *own = er_reader_array(reader, 1, sizeof *own);
        if (own != NULL) {
            er_read_object(reader, place, key->object, own, own);
        }
        soil = own;
    } else {
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "expected a soil's name in quotes, or a soil such as {\"name\": \"silt "
                          "loam\", \"available_water\": 0.17}, found %s",
                          er_found(reader, place->node));
    }
    memcpy((char *)entry + key->offset, &soil, sizeof soil);
}

const struct er_crop *er_reader_crop(struct er_reader *reader, const struct er_place *place,
                                     const char *name)
{
    size_t index = 0;
    return find_in_catalogue(reader, place, &crop_kind, NULL, name, &index)
               ? &reader->catalogue.crops[index]
               : NULL;
}

static void tell_unknown_section(struct er_reader *reader, const struct er_place *place,
                                 const char *name)
{
    if (!er_notices_room(&reader->notices)) {
        reader->notices.count++;
        return;
    }
    const struct er_names *names = &reader->section_names;
    struct er_nearest nearest;
    er_nearest_begin(&nearest, name);
    for (size_t i = 0; i < names->count; i++) {
        er_nearest_offer(&nearest, names->sorted[i].name);
    }
    er_nearest_offer(&nearest, "headworks");
    const char *quoted = er_reader_quote(reader, name);
    if (nearest.best != NULL) {
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "no mainline section is called %s; did you mean %s?", quoted,
                          er_reader_quote(reader, nearest.best));
    } else {
        er_reader_problem(reader, place, ER_AT_VALUE,
                          "no mainline section is called %s; name one of \"mainline\", or "
                          "\"headworks\"",
                          quoted);
    }
}

void er_read_section(struct er_reader *reader, const struct er_place *place,
                     const struct er_key *key, void *entry)
{
    size_t section = ER_SECTION_LEFT_OUT;
    if (!cJSON_IsString(place->node)) {
        er_reader_problem(
            reader, place, ER_AT_VALUE,
            "expected a mainline section's name in quotes, or \"headworks\", found %s",
            er_found(reader, place->node));
    } else if (strcmp(place->node->valuestring, "headworks") == 0) {
        section = ER_HEADWORKS;
    } else if (!er_names_find(&reader->section_names, place->node->valuestring, &section)) {
        tell_unknown_section(reader, place, place->node->valuestring);
    }
    memcpy((char *)entry + key->offset, &section, sizeof section);
}

/* Takes the second and later ones of alike names out of a sorted list, and marks their places. */
static void drop_repeats(struct er_names *names, bool *repeated)
{
    size_t kept = 0;
    for (size_t i = 0; i < names->count; i++) {
        const struct er_name *name = &names->sorted[i];
        if (kept > 0 && strcmp(names->sorted[kept - 1].name, name->name) == 0) {
            repeated[name->index] = true;
        } else {
            names->sorted[kept++] = *name;
        }
    }
    names->count = kept;
}

static void tell_repeats(struct er_reader *reader, const struct er_place *place, const char *what,
                         const bool *repeated)
{
    struct er_place at = {.parent = place};
    cJSON_ArrayForEach(at.node, place->node)
    {
        if (repeated[at.index]) {
            const struct er_place name = er_place_key(&at, "name");
            er_reader_problem(reader, &name, ER_AT_VALUE,
                              "another %s before it is called %s: each needs a name of its own",
                              what, er_found(reader, name.node));
        }
        at.index++;
    }
}

void er_reader_collect(struct er_reader *reader, const struct er_place *place, const char *what,
                       struct er_names *names)
{
    if (!cJSON_IsArray(place->node)) {
        return;
    }
    const size_t count = (size_t)cJSON_GetArraySize(place->node);
    bool *repeated = er_reader_array(reader, count, sizeof *repeated);
    if (repeated == NULL || !er_names_init(names, &reader->arena, count)) {
        reader->out_of_memory = true;
        return;
    }
    size_t index = 0;
    const cJSON *item = NULL;
    cJSON_ArrayForEach(item, place->node)
    {
        const cJSON *name = cJSON_GetObjectItemCaseSensitive(item, "name");
        if (cJSON_IsString(name)) {
            er_names_add(names, name->valuestring, index);
        }
        index++;
    }
    er_names_sort(names);
    drop_repeats(names, repeated);
    tell_repeats(reader, place, what, repeated);
}
