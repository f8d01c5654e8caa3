/* What covers the beds. */
#include "field/entries.h"
#include "field/writer.h"

static const char *const kinds[] = {"plastic", "organic", NULL}; /* as enum er_mulch_kind */

#define IN_MULCH(member) offsetof(struct er_mulch_entry, mulch.member)

static const struct er_key mulch_keys[] = {
    ER_CHOICE_KEY("kind", offsetof(struct er_mulch_entry, kind), kinds,
                  "\"plastic\" film, or \"organic\": straw, leaves, chips",
                  .presence = ER_REQUIRED),
    ER_NUMBER_KEY("factor", IN_MULCH(factor), ER_ABOVE_ZERO,
                  "multiplies every need from eto, and the season's: 0.8 is a fifth less"),
    ER_QUANTITY_KEY("bed_top", IN_MULCH(bed_top), ER_SMALL_LENGTH, ER_ABOVE_ZERO,
                    "width of the bed's flat top; without it each bed's bed_width"),
    ER_QUANTITY_KEY("bed_height", IN_MULCH(bed_height), ER_SMALL_LENGTH, ER_FROM_ZERO,
                    "height of the bed above the ground beside it"),
    ER_QUANTITY_KEY("buried", IN_MULCH(buried), ER_SMALL_LENGTH, ER_FROM_ZERO,
                    "how much of the film lies under soil along each edge"),
    ER_OBJECT_KEY("film", IN_MULCH(film), &er_film_object,
                  "the film that is laid; what \"prices\" says of film counts before it"),
};

static const struct er_rule mulch_rules[] = {
    {.kind = ER_ONLY_WITH, .keys = {"film", "kind"}, .word = "plastic"},
    {.kind = ER_ONLY_WITH, .keys = {"buried", "kind"}, .word = "plastic"},
};

static const struct er_stray_key mulch_stray[] = {
    {"width", "the film's width belongs in \"film\": {\"width\": ...}"},
    {"film_width", "write \"film\": {\"width\": ...}"},
    {"thickness", "write \"film\": {\"thickness\": ...}"},
    {NULL, NULL},
};

static void finish_mulch(struct er_reader *reader, const struct er_place *place, void *entry,
                         const void *kept)
{
    (void)reader;
    (void)place;
    (void)kept;
    struct er_mulch_entry *mulch_entry = entry;
    mulch_entry->mulch.kind = mulch_entry->kind == 1 ? ER_MULCH_ORGANIC : ER_MULCH_PLASTIC;
}

static void unfinish_mulch(struct er_writer *writer, void *entry, size_t index)
{
    (void)writer;
    (void)index;
    struct er_mulch_entry *mulch_entry = entry;
    mulch_entry->kind = mulch_entry->mulch.kind == ER_MULCH_ORGANIC;
}

const struct er_object er_mulch_object = {
    .name = "the mulch",
    .about = "what covers the beds: it changes what the crop uses, and the film is bought",
    ER_KEYS(mulch_keys),
    ER_RULES(mulch_rules),
    .stray = mulch_stray,
    .entry_size = sizeof(struct er_mulch_entry),
    .kept_size = sizeof(struct er_mulch),
    .finish = finish_mulch,
    .unfinish = unfinish_mulch,
};
