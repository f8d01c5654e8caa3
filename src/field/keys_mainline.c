/* The mainline's sections. */
#include <string.h>

#include "field/entries.h"
#include "field/writer.h"

static const struct er_key section_keys[] = {
    {.name = "name",
     .about = "the section's name",
     .kind = ER_KEY_TEXT,
     .presence = ER_REQUIRED,
     .offset = offsetof(struct er_section, name)},
    {.name = "pipe",
     .about = "the section's pipe",
     .kind = ER_KEY_PIPE,
     .presence = ER_REQUIRED,
     .offset = offsetof(struct er_section, pipe)},
    {.name = "length",
     .about = "length of the section",
     .kind = ER_KEY_QUANTITY,
     .presence = ER_REQUIRED,
     .quantity = ER_LENGTH,
     .range = ER_ABOVE_ZERO,
     .offset = offsetof(struct er_section, length)},
    {.name = "rise",
     .about = "elevation of the section's end above its start",
     .kind = ER_KEY_QUANTITY,
     .presence = ER_DEFAULTED,
     .quantity = ER_LENGTH,
     .range = ER_ANY_NUMBER,
     .fallback = {0.0, 0.0},
     .offset = offsetof(struct er_section, rise)},
    {.name = "fittings",
     .about = "percent added to the length for fittings",
     .kind = ER_KEY_PERCENT,
     .presence = ER_DEFAULTED,
     .range = ER_FROM_ZERO,
     .fallback = {0.0, 0.0},
     .offset = offsetof(struct er_section, fittings)},
    {.name = "from",
     .about = "section, listed earlier, at whose end this one starts, or \"headworks\"; without it "
              "the section before it",
     .kind = ER_KEY_SECTION,
     .offset = offsetof(struct er_section, from)},
};

static void finish_section(struct er_reader *reader, const struct er_place *place, void *entry,
                           const void *kept)
{
    (void)kept;
    struct er_section *section = entry;
    if (section->name != NULL && strcmp(section->name, "headworks") == 0) {
        const struct er_place at = er_place_key(place, "name");
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "a section cannot be called \"headworks\": that is the mainline's start");
    }
    if (section->from == ER_SECTION_LEFT_OUT) {
        section->from = place->index > 0 ? place->index - 1 : ER_HEADWORKS;
    } else if (section->from != ER_HEADWORKS && section->from >= place->index) {
        const struct er_place at = er_place_key(place, "from");
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "section %s is not listed before this one: a section starts at the end "
                          "of an earlier one, or at \"headworks\"",
                          er_found(reader, at.node));
    }
}

static void unfinish_section(struct er_writer *writer, void *entry, size_t index)
{
    (void)writer;
    struct er_section *section = entry;
    if (section->from == (index > 0 ? index - 1 : ER_HEADWORKS)) {
        section->from = ER_SECTION_LEFT_OUT;
    }
}

const struct er_object er_section_object = {
    .name = "a mainline section",
    .about = "a length of mainline pipe",
    ER_KEYS(section_keys),
    .entry_size = sizeof(struct er_section),
    .kept_size = sizeof(struct er_section),
    .finish = finish_section,
    .unfinish = unfinish_section,
};
