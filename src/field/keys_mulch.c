/* What covers the beds. */
#include "field/entries.h"
#include "field/writer.h"

static const char *const kinds[] = {"plastic", "organic", NULL}; /* as enum er_mulch_kind */

#define IN_MULCH(member) offsetof(struct er_mulch_entry, mulch.member)

static const struct er_key mulch_keys[] = {
    {.name = "kind",
     .about = "\"plastic\" film, or \"organic\": straw, leaves, chips",
     .kind = ER_KEY_CHOICE,
     .presence = ER_REQUIRED,
     .words = kinds,
     .offset = offsetof(struct er_mulch_entry, kind)},
    {.name = "factor",
     .about = "multiplies every need from eto, and the season's: 0.8 is a fifth less",
     .kind = ER_KEY_NUMBER,
     .range = ER_ABOVE_ZERO,
     .offset = IN_MULCH(factor)},
    {.name = "bed_top",
     .about = "width of the bed's flat top; without it each bed's bed_width",
     .kind = ER_KEY_QUANTITY,
     .quantity = ER_SMALL_LENGTH,
     .range = ER_ABOVE_ZERO,
     .offset = IN_MULCH(bed_top)},
    {.name = "bed_height",
     .about = "height of the bed above the ground beside it",
     .kind = ER_KEY_QUANTITY,
     .quantity = ER_SMALL_LENGTH,
     .range = ER_FROM_ZERO,
     .offset = IN_MULCH(bed_height)},
    {.name = "buried",
     .about = "how much of the film lies under soil along each edge",
     .kind = ER_KEY_QUANTITY,
     .quantity = ER_SMALL_LENGTH,
     .range = ER_FROM_ZERO,
     .offset = IN_MULCH(buried)},
    {.name = "film",
     .about = "the film that is laid; what \"prices\" says of film counts before it",
     .kind = ER_KEY_OBJECT,
     .object = &er_film_object,
     .offset = IN_MULCH(film)},
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
