/* The mainline's sections. */
#include <string.h>

#include "field/entries.h"
#include "field/writer.h"

#define IN_SECTION(member) offsetof(struct er_section, member)

static const struct er_key section_keys[] = {
    ER_TEXT_KEY("name", IN_SECTION(name), "the section's name", .presence = ER_REQUIRED),
    ER_PIPE_KEY("pipe", IN_SECTION(pipe), "the section's pipe", .presence = ER_REQUIRED),
    ER_QUANTITY_KEY("length", IN_SECTION(length), ER_LENGTH, ER_ABOVE_ZERO, "length of the section",
                    .presence = ER_REQUIRED),
    ER_QUANTITY_KEY("rise", IN_SECTION(rise), ER_LENGTH, ER_ANY_NUMBER,
                    "elevation of the section's end above its start", ER_DEFAULT(0.0, 0.0)),
    ER_PERCENT_KEY("fittings", IN_SECTION(fittings), ER_FROM_ZERO,
                   "percent added to the length for fittings", ER_DEFAULT(0.0, 0.0)),
    ER_SECTION_KEY("from", IN_SECTION(from),
                   "section, listed earlier, at whose end this one starts, or \"headworks\"; "
                   "without it the section before it"),
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
